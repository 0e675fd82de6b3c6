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
	"corymb/server/about"
	"corymb/server/httpapi"
	"corymb/server/live"
	"corymb/server/store"
	"corymb/syncproto"
)

// serveCommand serves a farm until it is told to stop.
func serveCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("serve")
	listen := listenFlag(set)
	data := dataFlag(set)
	if err := parse(set, args); err != nil {
		return err
	}
	return serve(ctx, *listen, *data, out, nil, nil)
}

// serve opens the farm in a folder, lets fill (nil for nothing) append to it through the same door
// as a phone, and serves it until the context ends. onListen (nil for nothing) hears at which address.
func serve(ctx context.Context, listen, data string, out io.Writer, fill func(context.Context, *store.Store) error, onListen func(url string)) error {
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
	if fill != nil {
		err = fill(ctx, farm)
	}
	if err == nil {
		err = serveFarm(ctx, listen, farm, app, out, func(url string) {
			noteAddress(data, url, farm.Farm(), out)
			if onListen != nil {
				onListen(url)
			}
		})
		forgetAddress(data)
	}
	return errors.Join(err, farm.Close())
}

// serveFarm listens, says where, and returns once every conversation is over.
func serveFarm(ctx context.Context, listen string, farm *store.Store, app appDir, out io.Writer, onListen func(url string)) error {
	logger := slog.New(slog.NewTextHandler(os.Stderr, nil))
	farm.OnLag(func(err error) {
		logger.Error("the merge state lags behind the log; phones are served from the log all the same", "error", err)
	})
	phones := live.New(live.Config{Log: farm, Scopes: scopesOf, Now: time.Now, Logger: logger})
	handler, err := httpapi.New(httpapi.Config{
		Farm: farm, Sync: phones, Ages: fitAges, App: app, Version: about.Version(), About: aboutThis,
		Intake: changelog.Intake{Standing: farm.Standing, Append: phones.Take, Scopes: syncproto.Scopes},
		Hosts:  isLoopback, Now: time.Now, Logger: logger,
	})
	if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", listen)
	if err != nil {
		return fmt.Errorf("listening on %s: %w; choose another address with -listen, host:0 for any free port", listen, err)
	}
	url := "http://" + listener.Addr().String()
	fmt.Fprintf(out, "Corymb is at %s\n", url)
	onListen(url)
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

// scopesOf says what a person may read and write: everything, until people have roles.
func scopesOf(string) []syncproto.Scope { return syncproto.Scopes }
