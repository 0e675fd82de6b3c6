package httpapi_test

import (
	"compress/gzip"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"corymb/internal/access"
	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/division"
	"corymb/internal/drift"
	"corymb/internal/farm"
	"corymb/internal/selling"
	"corymb/internal/yield"
	"corymb/server/httpapi"
	"corymb/server/joining"
)

// ground is a farm in memory.
type ground struct {
	state  *changelog.State
	newest atomic.Int64
	fails  atomic.Bool
}

func newGround() *ground { return groundNamed("Larkfield") }

func groundNamed(name string) *ground {
	g := &ground{state: changelog.NewState()}
	r := changelog.Recorder{Incarnation: "00000000-0000-4000-8000-000000000000"}
	for _, c := range r.Operation(1, farm.FarmFacts(crop.Farm{ID: "f1", Name: name, Unit: crop.Inches, MadeUp: true})...) {
		g.state.Merge(c, c.Stamp)
	}
	return g
}

var errDisk = errors.New("the disk is gone")

func (g *ground) Farm() string  { return "f1" }
func (g *ground) Epoch() string { return "e1" }
func (g *ground) Newest() int64 { return g.newest.Load() }

func (g *ground) State(context.Context) (*changelog.State, int64, error) {
	if g.fails.Load() {
		return nil, 0, errDisk
	}
	return g.state, g.newest.Load(), nil
}

func (g *ground) Entity(ctx context.Context, _, _ string) (*changelog.State, error) {
	state, _, err := g.State(ctx)
	return state, err
}

var built = fstest.MapFS{
	"index.html":           {Data: []byte("<!doctype html><title>app</title>" + strings.Repeat(" ", 200))},
	"sw.js":                {Data: []byte("self.oninstall = null;" + strings.Repeat(" ", 200))},
	"manifest.webmanifest": {Data: []byte(`{"name":"Corymb"}`)},
	"assets/main-1a2b.js":  {Data: []byte("export {};" + strings.Repeat(" ", 200))},
	"assets/face-3c.woff2": {Data: []byte(strings.Repeat("w", 500))},
	".gitkeep":             {Data: []byte("")},
}

// handler makes a handler on some ground; change (nil for none) adjusts it.
func handler(t *testing.T, g *ground, change func(*httpapi.Config)) http.Handler {
	t.Helper()
	config := httpapi.Config{
		Farm: g, Desk: openDesk{}, Came: func(*http.Request) httpapi.Came { return httpapi.Came{} }, App: built, Version: "v0", Logger: slog.New(slog.NewTextHandler(io.Discard, nil)),
		Sync:  http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusTeapot) }),
		Hosts: func(host string) bool { return host == "shed.example" || host == "::1" },
		Now:   func() time.Time { return time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC) },
		Ages: func(f crop.Farm, asOf crop.Date, _ []httpapi.SpeciesAges) ([]httpapi.SpeciesAges, error) {
			return []httpapi.SpeciesAges{{Species: "s", Report: yield.Report{Level: 0.9, Notes: []yield.Note{{Code: f.Name, Text: string(asOf)}}}, Plan: json.RawMessage(`"of the counting"`)}}, nil
		},
		Packing: selling.PlanDay,
		Divide:  division.Of,
		Colours: func(f crop.Farm, _ []httpapi.SpeciesColour) ([]httpapi.SpeciesColour, error) {
			return []httpapi.SpeciesColour{{Species: f.Name, Report: drift.Report{Level: 0.9}, LeftOut: 2, Rests: "kept here"}}, nil
		},
		Forecast: func(f crop.Farm, asOf crop.Date, _ *httpapi.Forecast) (httpapi.Forecast, error) {
			return forecastSaid(asOf, f.Name), nil
		},
	}
	if change != nil {
		change(&config)
	}
	h, err := httpapi.New(config)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// openDesk takes everybody for an owner.
type openDesk struct{ *joining.Desk }

func (openDesk) Who(context.Context, string) (access.Device, access.Grant, error) {
	return access.Device{ID: "d1", Person: "p1"}, access.Grant{Role: access.Owner, Person: "p1"}, nil
}

// call asks for an address; header is a list of names and values.
func call(h http.Handler, method, path string, header ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, nil)
	r.Host = "shed.example:8420"
	for i := 0; i < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func TestTheAPIAnswersInJSON(t *testing.T) {
	tests := []struct {
		method, path string
		status       int
		body         string
	}{
		{"GET", "/api/farm", 200, `{"epoch":"e1","farm":"f1","made_up":true,"name":"Larkfield","version":"v0"}`},
		{"GET", "/api/ages", 200, `{"arrival":0,"asof":"2026-06-01","species":[{"species":"s","report":{"level":0.9,"prior":"","ages":null,"notes":[{"code":"Larkfield","args":null,"text":"2026-06-01"}]},"plan":"of the counting"}]}`},
		{"GET", "/api/none", 404, `{"error":{"code":"not_found","text":"There is nothing at this address."}}`},
		{"GET", "/api", 404, `{"error":{"code":"not_found","text":"There is nothing at this address."}}`},
		{"POST", "/api/farm", 405, `{"error":{"code":"method","text":"This address does not take POST."}}`},
		{"DELETE", "/", 405, `{"error":{"code":"method","text":"This address does not take DELETE."}}`},
		{"GET", "/missing.js", 404, `{"error":{"code":"not_found","text":"There is nothing at this address."}}`},
		{"GET", "/sync", http.StatusTeapot, ``},
	}
	h := handler(t, newGround(), nil)
	for _, tt := range tests {
		t.Run(tt.method+" "+tt.path, func(t *testing.T) {
			w := call(h, tt.method, tt.path)
			if w.Code != tt.status || w.Body.String() != tt.body {
				t.Errorf("%d %s, want %d %s", w.Code, w.Body, tt.status, tt.body)
			}
			if tt.body != "" && !strings.HasPrefix(w.Header().Get("Content-Type"), "application/json") {
				t.Errorf("content type %q", w.Header().Get("Content-Type"))
			}
		})
	}
}

func TestAFailureIsToldWithoutItsCause(t *testing.T) {
	g := newGround()
	g.fails.Store(true)
	h := handler(t, g, nil)
	for _, path := range []string{"/api/farm", "/api/ages", "/api/colour", "/api/forecast"} {
		w := call(h, "GET", path)
		if w.Code != 500 || strings.Contains(w.Body.String(), errDisk.Error()) || !strings.Contains(w.Body.String(), "is safe") {
			t.Errorf("%s: %d %s", path, w.Code, w.Body)
		}
	}
	g.fails.Store(false)
	if w := call(h, "GET", "/api/ages"); w.Code != 200 {
		t.Errorf("a failed fit was kept: %d %s", w.Code, w.Body)
	}
}

func TestAFitThatFailedIsTriedAgain(t *testing.T) {
	fails := true
	h := handler(t, newGround(), func(c *httpapi.Config) {
		c.Ages = func(crop.Farm, crop.Date, []httpapi.SpeciesAges) ([]httpapi.SpeciesAges, error) {
			if fails {
				return nil, errDisk
			}
			return nil, nil
		}
	})
	for _, status := range []int{500, 200} {
		if w := call(h, "GET", "/api/ages"); w.Code != status {
			t.Errorf("answered %d %s, want %d", w.Code, w.Body, status)
		}
		fails = false
	}
}

func TestAFaultOfTheModelEndsOneRequestOnly(t *testing.T) {
	h := handler(t, newGround(), func(c *httpapi.Config) {
		c.Ages = func(crop.Farm, crop.Date, []httpapi.SpeciesAges) ([]httpapi.SpeciesAges, error) { panic("a matrix") }
	})
	for range 2 {
		if w := call(h, "GET", "/api/ages"); w.Code != 500 {
			t.Errorf("answered %d %s", w.Code, w.Body)
		}
	}
}

func TestAgesAreFittedOnceForEachChangeAndDay(t *testing.T) {
	g := newGround()
	day := atomic.Int64{}
	fits := atomic.Int64{}
	entered, release := make(chan struct{}, 10), make(chan struct{})
	h := handler(t, g, func(c *httpapi.Config) {
		c.Now = func() time.Time { return time.Date(2026, 6, 1+int(day.Load()), 12, 0, 0, 0, time.UTC) }
		c.Ages = func(crop.Farm, crop.Date, []httpapi.SpeciesAges) ([]httpapi.SpeciesAges, error) {
			fits.Add(1)
			entered <- struct{}{}
			<-release
			return nil, nil
		}
	})
	var asking sync.WaitGroup
	for range 8 {
		asking.Go(func() {
			if w := call(h, "GET", "/api/ages"); w.Body.String() != `{"arrival":0,"asof":"2026-06-01","species":[]}` {
				t.Errorf("answered %d %s", w.Code, w.Body)
			}
		})
	}
	<-entered
	gone, cancel := context.WithCancel(context.Background())
	cancel()
	r := httptest.NewRequest("GET", "/api/ages", nil).WithContext(gone)
	r.Host = "shed.example"
	h.ServeHTTP(httptest.NewRecorder(), r) // returns although the fit goes on
	close(release)
	asking.Wait()
	steps := []struct {
		name string
		move func()
		fits int64
	}{
		{"nothing new", func() {}, 1},
		{"a change", func() { g.newest.Store(7) }, 2},
		{"the same again", func() {}, 2},
		{"another day", func() { day.Store(1) }, 3},
	}
	for _, step := range steps {
		step.move()
		w := call(h, "GET", "/api/ages")
		var got struct{ Arrival int64 }
		if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil || got.Arrival != g.Newest() || fits.Load() != step.fits {
			t.Errorf("%s: %s after %d fits (%v), want %d", step.name, w.Body, fits.Load(), err, step.fits)
		}
	}
}

func TestTheAppIsServedToBeKeptOffline(t *testing.T) {
	const immutable = "public, max-age=31536000, immutable"
	tests := []struct {
		path, accept string
		status       int
		contentType  string
		cache        string
		body         string // the file that comes
	}{
		{"/", "text/html", 200, "text/html; charset=utf-8", "no-cache", "index.html"},
		{"/", "", 200, "text/html; charset=utf-8", "no-cache", "index.html"},
		{"/index.html", "", 200, "text/html; charset=utf-8", "no-cache", "index.html"},
		{"/beds/ages", "text/html,*/*", 200, "text/html; charset=utf-8", "no-cache", "index.html"},
		{"/beds/ages", "*/*", 404, "application/json; charset=utf-8", "no-store", ""},
		{"/assets/old-9f.js", "text/html", 404, "application/json; charset=utf-8", "no-store", ""},
		{"/.gitkeep", "text/html", 404, "application/json; charset=utf-8", "no-store", ""},
		{"/sw.js", "", 200, "text/javascript; charset=utf-8", "no-cache", "sw.js"},
		{"/manifest.webmanifest", "", 200, "application/manifest+json", "no-cache", "manifest.webmanifest"},
		{"/assets/main-1a2b.js", "", 200, "text/javascript; charset=utf-8", immutable, "assets/main-1a2b.js"},
		{"/assets/face-3c.woff2", "", 200, "font/woff2", immutable, "assets/face-3c.woff2"},
	}
	h := handler(t, newGround(), nil)
	for _, tt := range tests {
		for _, method := range []string{"GET", "HEAD"} {
			t.Run(fmt.Sprintf("%s %s as %q", method, tt.path, tt.accept), func(t *testing.T) {
				w := call(h, method, tt.path, "Accept", tt.accept)
				got := w.Header()
				if w.Code != tt.status || got.Get("Content-Type") != tt.contentType || got.Get("Cache-Control") != tt.cache {
					t.Errorf("%d %v", w.Code, got)
				}
				if tt.body == "" {
					return
				}
				want := string(built[tt.body].Data)
				if method == "HEAD" {
					want = ""
				}
				if w.Body.String() != want {
					t.Errorf("the body is %q", w.Body)
				}
			})
		}
	}
}

func TestTextIsSentPackedToWhoeverTakesIt(t *testing.T) {
	tests := []struct {
		path, accept string
		packed       bool
	}{
		{"/sw.js", "gzip, deflate, br", true},
		{"/sw.js", "br;q=1.0, *;q=0.5", true},
		{"/sw.js", "gzip;q=0", false},
		{"/sw.js", "identity", false},
		{"/sw.js", "", false},
		{"/assets/face-3c.woff2", "gzip", false},
	}
	h := handler(t, newGround(), nil)
	for _, tt := range tests {
		t.Run(tt.path+" "+tt.accept, func(t *testing.T) {
			w := call(h, "GET", tt.path, "Accept-Encoding", tt.accept)
			body := io.Reader(w.Body)
			if packed := w.Header().Get("Content-Encoding") == "gzip"; packed != tt.packed {
				t.Fatalf("packed = %v, want %v", packed, tt.packed)
			}
			if tt.packed {
				var err error
				if body, err = gzip.NewReader(body); err != nil {
					t.Fatal(err)
				}
			}
			data, err := io.ReadAll(body)
			if err != nil || string(data) != string(built[strings.TrimPrefix(tt.path, "/")].Data) {
				t.Errorf("the body is %q (%v)", data, err)
			}
			again := call(h, "GET", tt.path, "Accept-Encoding", tt.accept, "If-None-Match", w.Header().Get("ETag"))
			if again.Code != http.StatusNotModified || again.Body.Len() != 0 {
				t.Errorf("asked again: %d with %d bytes", again.Code, again.Body.Len())
			}
		})
	}
}

func TestOnlyItsOwnNamesAreAnsweredTo(t *testing.T) {
	h := handler(t, newGround(), nil)
	for host, status := range map[string]int{"shed.example": 200, "shed.example:1": 200, "[::1]:8420": 200, "evil.example": 421, "": 421} {
		r := httptest.NewRequest("GET", "/api/farm", nil)
		r.Host = host
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != status {
			t.Errorf("host %q: %d, want %d", host, w.Code, status)
		}
	}
}

func TestAnAppWithoutItsFirstPageIsRefused(t *testing.T) {
	_, err := httpapi.New(httpapi.Config{App: fstest.MapFS{"sw.js": {Data: []byte("x")}}})
	if err == nil || !strings.Contains(err.Error(), "index.html") {
		t.Errorf("the error is %v", err)
	}
}
