package main

import (
	"context"
	"crypto/tls"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"sync"
	"time"

	"corymb/internal/changelog"
	"corymb/internal/division"
	"corymb/internal/selling"
	"corymb/server/about"
	"corymb/server/answers"
	"corymb/server/backup"
	"corymb/server/billing"
	"corymb/server/door"
	"corymb/server/httpapi"
	"corymb/server/joining"
	"corymb/server/live"
	"corymb/server/photos"
	"corymb/server/store"
)

// Connections that may be open at once. A phone opens some six; a farm has tens of phones.
const (
	mostConnections     = 2_000
	mostConnectionsEach = 64
)

// serveCommand serves a farm until it is told to stop.
func serveCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("serve")
	var where place
	where.flags(set)
	data := dataFlag(set)
	backups := backupsFlag(set)
	limits := photoLimits(set)
	if err := parse(set, args); err != nil {
		return err
	}
	return serve(ctx, where, *data, *limits, out, choosing(*data, *backups, out), nil)
}

// fill brings something into a farm before it is served.
type fill func(context.Context, *store.Store, *joining.Desk) error

// choosing remembers where backups are to be made.
func choosing(data, backups string, out io.Writer) fill {
	return func(context.Context, *store.Store, *joining.Desk) error { return chooseBackups(data, backups, out) }
}

func backupsFlag(set *flag.FlagSet) *string {
	return set.String("backups", "", "the `folder` in which a backup is made every night, on another disk if there is one; off for none. It is remembered")
}

// serve opens the farm in a folder, lets fill (nil for nothing) append to it, through the same door as a
// phone, and serves it until the context ends. onListen (nil for nothing) hears where a browser on this
// machine begins.
func serve(ctx context.Context, where place, data string, limits photos.Limits, out io.Writer, fill fill, onListen func(url string)) error {
	app, err := appFiles(out)
	if err != nil {
		return err
	}
	farm, err := store.Open(data, time.Now)
	if err != nil {
		return err
	}
	if farm.Restored() {
		fmt.Fprintln(out, "The database is an older copy than it was. Phones will read it anew and send again what it lacks. Devices that joined since join again; devices that were withdrawn since may come again: look at the list of phones.")
	}
	kept, err := photos.Open(data, limits, time.Now)
	if err != nil {
		return errors.Join(err, farm.Close())
	}
	s := &server{
		farm: farm, desk: joining.New(farm, time.Now), photos: kept, app: app, out: out,
		logger: slog.New(slog.NewTextHandler(os.Stderr, nil)),
	}
	if fill != nil {
		err = fill(ctx, farm, s.desk)
	}
	if err == nil {
		err = s.open(ctx, where, data)
	}
	if err == nil {
		noteAddress(data, s.here(), farm.Farm(), out)
		if onListen != nil {
			onListen(firstOf(s.ownerLink, s.here()))
		}
		err = s.run(ctx)
		forgetAddress(data)
	}
	return errors.Join(err, farm.Close())
}

// server serves one farm at one site.
type server struct {
	farm   *store.Store
	desk   *joining.Desk
	photos *photos.Photos
	app    appDir
	out    io.Writer
	logger *slog.Logger

	site      site
	listener  net.Listener
	origin    string
	ownerLink string // by which an owner joins; empty where none was made, or one for each of several
	phones    *live.Server
	backups   *backup.Nightly
	handler   http.Handler
	early     func(ctx context.Context) // what is worked out before anybody asks
}

// open listens, settles the farm's address and says where the farm is.
func (s *server) open(ctx context.Context, where place, data string) error {
	before, err := s.farm.Origin(ctx)
	if err != nil {
		return err
	}
	s.site, err = where.open(data, before, func(err error) { s.logger.Error("the certificate", "error", err) })
	if err != nil {
		return err
	}
	s.listener, err = net.Listen("tcp", s.site.listen)
	if err != nil {
		return fmt.Errorf("listening on %s: %w; choose another address with -listen, host:0 for any free port", s.site.listen, err)
	}
	s.origin = s.site.origin(s.listener.Addr())
	if err = s.makeHandler(ctx); err == nil {
		err = s.settleOrigin(ctx, before, where.moves)
	}
	if err == nil {
		err = s.inviteOwner(ctx, where.ownerLink)
	}
	if err != nil {
		return errors.Join(err, s.listener.Close())
	}
	s.sayWhere()
	return nil
}

func (s *server) makeHandler(ctx context.Context) (err error) {
	s.farm.OnLag(func(err error) {
		s.logger.Error("the merge state lags behind the log; phones are served from the log all the same", "error", err)
	})
	s.phones = live.New(live.Config{Log: s.farm, Admit: s.admit, Secure: s.cameSecure, Now: time.Now, Logger: s.logger})
	if s.backups, err = openBackups(ctx, s.farm, s.phones, s.logger); err != nil {
		return err
	}
	app, err := httpapi.New(httpapi.Config{
		Farm: s.farm, Desk: s.desk, Roster: s.farm, Came: s.came,
		Sync: s.phones, Connected: s.phones.Connected, HangUp: s.hangUp,
		Origin: func() string { return s.origin }, QR: rowsOfQR, Trust: s.trust,
		Photos: s.photos, Backups: shedBackups{s.backups}, Bills: billing.New(s.farm, s.phones.Take, time.Now),
		Ages: fitAges, Colours: judgeColours, Forecast: forecastAhead, Packing: selling.PlanDay, Divide: division.Of, Worth: worthOfPlants, Kept: answers.In(s.farm.Dir(), about.Build()), App: s.app, Version: about.Version(), About: aboutThis,
		Export: s.export,
		Intake: changelog.Intake{Standing: s.farm.Standing, Append: s.phones.Take},
		Early:  func(work func(context.Context)) { s.early = work },
		Hosts:  s.isCalled, Now: time.Now, Logger: s.logger,
	})
	if err != nil {
		return err
	}
	if app, err = s.beforeApp(app); err != nil {
		return err
	}
	s.handler = s.saySecure(app)
	return nil
}

// run serves until the context ends, and returns once every conversation is over.
func (s *server) run(ctx context.Context) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	var running sync.WaitGroup
	running.Go(func() { s.phones.Run(ctx) })
	running.Go(func() { s.backups.Run(ctx) })
	running.Go(func() { letGoOfPhotos(ctx, s.farm, s.photos, s.logger) })
	running.Go(func() {
		giveBackMemory(ctx, s.logger, func() bool { return s.phones.Waiting() > 0 }, s.farm.Rest)
	})
	running.Go(func() { s.answerName(ctx) })
	running.Go(func() { s.early(ctx) })
	if s.site.public {
		go s.getPublicCertificate() // no context ends it
	}
	web := &http.Server{
		Handler: s.handler, TLSConfig: s.site.tls,
		// Whoever is slower than these holds up a connection and nothing else. What takes longer, as a large
		// file by weak wifi, is given more where it is read.
		ReadHeaderTimeout: 10 * time.Second, ReadTimeout: time.Minute, WriteTimeout: 5 * time.Minute,
		IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 64 << 10,
		ErrorLog: faultsTo(s.logger),
	}
	running.Go(func() {
		<-ctx.Done()
		soon, cancel := context.WithTimeout(context.WithoutCancel(ctx), 5*time.Second)
		defer cancel()
		if err := web.Shutdown(soon); err != nil {
			_ = web.Close() // whoever is still being answered is cut off
		}
	})
	err := s.listen(web)
	stop()
	running.Wait()
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return fmt.Errorf("serving on %s: %w", s.listener.Addr(), err)
}

// getPublicCertificate gets a public certificate, or looks after the renewing of the one that is kept, before
// the first phone comes: what is in the way of it is told to whoever is still at the laptop.
func (s *server) getPublicCertificate() {
	phone := &tls.ClientHelloInfo{ServerName: s.site.host, CipherSuites: []uint16{tls.TLS_ECDHE_ECDSA_WITH_AES_128_GCM_SHA256}}
	_, _ = s.site.tls.GetCertificate(phone) // why there is none is told where it is got
}

func (s *server) listen(web *http.Server) error {
	listener := door.Limit(s.listener, door.Limits{
		All: mostConnections, Each: mostConnectionsEach, Many: s.manyComeBy, Now: time.Now,
		Tell: func(err error) { s.logger.Warn("too many connections", "error", err) },
	})
	if web.TLSConfig == nil {
		return web.Serve(listener)
	}
	return door.Serve(web, listener)
}
