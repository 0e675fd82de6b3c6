package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"sync"
	"time"

	"corymb/internal/changelog"
	"corymb/server/httpapi"
	"corymb/server/joining"
	"corymb/server/live"
	"corymb/server/store"
)

// serveCommand serves a farm until it is told to stop.
func serveCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("serve")
	listen := listenFlag(set)
	data := dataFlag(set)
	if err := parse(set, args); err != nil {
		return err
	}
	return serve(ctx, *listen, *data, out, nil)
}

// serve opens the farm in a folder, lets fill (nil for nothing) append to it, through the same door
// as a phone, and serves it until the context ends.
func serve(ctx context.Context, listen, data string, out io.Writer, fill func(context.Context, *store.Store, *joining.Desk) error) error {
	if err := loopbackOnly(listen); err != nil {
		return err
	}
	app, err := appFiles(out)
	if err != nil {
		return err
	}
	farm, err := store.Open(data, time.Now)
	if err != nil {
		return err
	}
	if farm.Restored() {
		fmt.Fprintln(out, "The database is an older copy than it was. Phones will read it anew and send again what it lacks.")
	}
	desk := joining.New(farm, time.Now)
	if fill != nil {
		err = fill(ctx, farm, desk)
	}
	if err == nil {
		err = serveFarm(ctx, listen, farm, desk, app, out)
	}
	return errors.Join(err, farm.Close())
}

// serveFarm listens, says where, and returns once every conversation is over.
func serveFarm(ctx context.Context, listen string, farm *store.Store, desk *joining.Desk, app appDir, out io.Writer) error {
	logger := slog.New(slog.NewTextHandler(os.Stderr, nil))
	farm.OnLag(func(err error) {
		logger.Error("the merge state lags behind the log; phones are served from the log all the same", "error", err)
	})
	listener, err := net.Listen("tcp", listen)
	if err != nil {
		return fmt.Errorf("listening on %s: %w; choose another address with -listen, host:0 for any free port", listen, err)
	}
	origin := "http://" + listener.Addr().String()
	phones := live.New(live.Config{Log: farm, Admit: admission(farm.Farm(), desk), Now: time.Now, Logger: logger})
	handler, err := httpapi.New(httpapi.Config{
		Farm: farm, Desk: desk, Roster: farm, Came: came,
		Sync: phones, Connected: phones.Connected, HangUp: hangUp(phones),
		Origin: func() string { return origin }, QR: nil,
		Ages: fitAges, App: app, Version: version(),
		Intake: changelog.Intake{Standing: farm.Standing, Append: phones.Take},
		Hosts:  isLoopback, Now: time.Now, Logger: logger,
	})
	if err == nil {
		err = inviteOwner(ctx, desk, origin, out)
	}
	if err != nil {
		return errors.Join(err, listener.Close())
	}
	fmt.Fprintf(out, "Corymb is at %s\n", origin)
	return serveUntil(ctx, listener, handler, farm, phones, logger)
}

func serveUntil(ctx context.Context, listener net.Listener, handler http.Handler, farm *store.Store, phones *live.Server, logger *slog.Logger) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	var running sync.WaitGroup
	running.Go(func() { phones.Run(ctx) })
	running.Go(func() {
		giveBackMemory(ctx, logger, func() bool { return phones.Waiting() > 0 }, farm.Rest)
	})
	server := &http.Server{
		Handler: handler, ReadHeaderTimeout: 10 * time.Second, IdleTimeout: 2 * time.Minute,
		MaxHeaderBytes: 64 << 10, ErrorLog: slog.NewLogLogger(logger.Handler(), slog.LevelWarn),
	}
	running.Go(func() {
		<-ctx.Done()
		soon, cancel := context.WithTimeout(context.WithoutCancel(ctx), 5*time.Second)
		defer cancel()
		if err := server.Shutdown(soon); err != nil {
			_ = server.Close() // whoever is still being answered is cut off
		}
	})
	err := server.Serve(listener)
	stop()
	running.Wait()
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return fmt.Errorf("serving on %s: %w", listener.Addr(), err)
}
