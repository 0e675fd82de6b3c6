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
	"corymb/server/backup"
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
	backups := set.String("backups", "", "the `folder` in which a backup is made every night, on another disk if there is one; off for none. It is remembered")
	if err := parse(set, args); err != nil {
		return err
	}
	return serve(ctx, *listen, *data, out, func(context.Context, *store.Store) error {
		return chooseBackups(*data, *backups, out)
	})
}

// serve opens the farm in a folder, lets fill (nil for nothing) append to it through the same door
// as a phone, and serves it until the context ends.
func serve(ctx context.Context, listen, data string, out io.Writer, fill func(context.Context, *store.Store) error) error {
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
		err = serveFarm(ctx, listen, farm, app, out)
	}
	return errors.Join(err, farm.Close())
}

// serveFarm listens, says where, and returns once every conversation is over.
func serveFarm(ctx context.Context, listen string, farm *store.Store, app appDir, out io.Writer) error {
	logger := slog.New(slog.NewTextHandler(os.Stderr, nil))
	farm.OnLag(func(err error) {
		logger.Error("the merge state lags behind the log; phones are served from the log all the same", "error", err)
	})
	phones := live.New(live.Config{Log: farm, Scopes: scopesOf, Now: time.Now, Logger: logger})
	backups, err := openBackups(ctx, farm, phones, logger)
	if err != nil {
		return err
	}
	handler, err := httpapi.New(httpapi.Config{
		Farm: farm, Sync: phones, Ages: fitAges, App: app, Version: version(),
		Intake:  changelog.Intake{Standing: farm.Standing, Append: phones.Take, Scopes: syncproto.Scopes},
		Backups: shedBackups{backups}, Hosts: isLoopback, Now: time.Now, Logger: logger,
	})
	if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", listen)
	if err != nil {
		return fmt.Errorf("listening on %s: %w; choose another address with -listen, host:0 for any free port", listen, err)
	}
	fmt.Fprintf(out, "Corymb is at http://%s\n", listener.Addr())
	return serveUntil(ctx, listener, handler, farm, phones, backups, logger)
}

func serveUntil(ctx context.Context, listener net.Listener, handler http.Handler, farm *store.Store, phones *live.Server, backups *backup.Nightly, logger *slog.Logger) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	var running sync.WaitGroup
	running.Go(func() { phones.Run(ctx) })
	running.Go(func() { backups.Run(ctx) })
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
