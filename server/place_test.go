package main

import (
	"bytes"
	"context"
	"crypto/tls"
	"io"
	"log/slog"
	"net"
	"net/http/httptest"
	"net/netip"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"corymb/internal/access"
	"corymb/internal/changelog"
	"corymb/server/found"
	"corymb/server/joining"
	"corymb/server/store"
)

// opened is a server on a data folder that does not serve yet, and what it said.
type opened struct {
	*server
	said bytes.Buffer
}

func openAt(t *testing.T, data string, where place) (*opened, error) {
	t.Helper()
	return openTo(t, data, where, io.Discard)
}

// openTo is one whose log is written somewhere, all of it.
func openTo(t *testing.T, data string, where place, log io.Writer) (*opened, error) {
	t.Helper()
	farm, err := store.Open(data, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	o := &opened{}
	o.server = &server{
		farm: farm, desk: joining.New(farm, time.Now), out: &o.said, logger: slog.New(slog.NewTextHandler(log, &slog.HandlerOptions{Level: slog.LevelDebug})),
		app: fstest.MapFS{"index.html": {Data: []byte("the app")}},
	}
	err = o.open(context.Background(), where, data)
	t.Cleanup(func() {
		if o.listener != nil {
			_ = o.listener.Close()
		}
		must(t, farm.Close())
	})
	return o, err
}

// asks is what a request is answered: "app", a page of those for phones without it, or an error's code.
func (o *opened) asks(secure bool, remote, host, path string, header ...string) string {
	r := httptest.NewRequest("GET", path, nil)
	r.Host, r.RemoteAddr = host, remote
	r.Header.Set("Accept", "text/html")
	for i := 0; i < len(header); i += 2 {
		r.Header.Add(header[i], header[i+1])
	}
	if secure {
		r.TLS = &tls.ConnectionState{}
	}
	w := httptest.NewRecorder()
	o.handler.ServeHTTP(w, r)
	body := w.Body.String()
	for _, known := range []string{"the app", `"code":"host"`, `"code":"join"`} {
		if strings.Contains(body, known) {
			return known
		}
	}
	switch {
	case strings.Contains(body, "BEGIN CERTIFICATE") || w.Header().Get("Content-Type") == "application/x-x509-ca-cert":
		return "authority"
	case strings.Contains(body, "<html") && w.Code == 421:
		return "elsewhere"
	case strings.Contains(body, "<html"):
		return "page"
	}
	return body
}

func TestWhoReachesTheApp(t *testing.T) {
	o, err := openAt(t, t.TempDir(), place{listen: "127.0.0.1:0", tls: tlsLocal})
	if err != nil {
		t.Fatal(err)
	}
	_, port, _ := strings.Cut(o.listener.Addr().String(), ":")
	named := usualHost + ":" + port
	const phone, desk = "192.168.7.31:50000", "127.0.0.1:50000"
	tests := []struct {
		name               string
		secure             bool
		remote, host, path string
		header             []string
		want               string
	}{
		{"a phone by https", true, phone, named, "/", nil, "the app"},
		{"a phone by https, in other letters", true, phone, strings.ToUpper(named), "/", nil, "the app"},
		{"a phone by https asks for records", true, phone, named, "/api/me", nil, `"code":"join"`},
		{"a phone by https under an address", true, phone, "192.168.7.20:" + port, "/", nil, "elsewhere"},
		{"a phone by https under another port", true, phone, usualHost + ":1", "/", nil, "elsewhere"},
		{"a phone by https under a foreign name", true, phone, "evil.example", "/", nil, "elsewhere"},
		{"a phone by plain http", false, phone, named, "/", nil, "page"},
		{"a phone by plain http asks for records", false, phone, named, "/api/me", nil, "page"},
		{"a phone by plain http that says it came by https", false, phone, named, "/", []string{"X-Forwarded-Proto", "https"}, "page"},
		{"a phone by plain http that says it is this machine", false, phone, "127.0.0.1:" + port, "/", []string{"X-Forwarded-For", "127.0.0.1"}, "page"},
		{"a phone learns to trust", false, phone, named, "/trust", nil, "page"},
		{"a phone fetches the authority", false, phone, named, "/authority.crt", nil, "authority"},
		{"this machine by plain http", false, desk, "127.0.0.1:" + port, "/", nil, "the app"},
		{"this machine by another of its names", false, desk, "localhost:" + port, "/", nil, "the app"},
		{"a name that was made to lead to this machine", false, desk, "evil.example:" + port, "/", nil, "page"},
		{"records under a name that was made to lead to this machine", false, desk, "evil.example:" + port, "/api/me", nil, "page"},
		{"this machine by plain http under the farm's name", false, desk, named, "/", nil, "page"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := o.asks(tt.secure, tt.remote, tt.host, tt.path, tt.header...); got != tt.want {
				t.Errorf("it is answered %.200s, want %s", got, tt.want)
			}
		})
	}
}

func TestBehindAProxy(t *testing.T) {
	o, err := openAt(t, t.TempDir(), place{listen: "127.0.0.1:0", host: "farm.example", proxies: "127.0.0.1, 10.0.0.0/24"})
	if err != nil {
		t.Fatal(err)
	}
	if o.origin != "https://farm.example" {
		t.Errorf("the origin is %s", o.origin)
	}
	tests := []struct{ name, remote, host, want string }{
		{"the proxy", "10.0.0.2:1", "farm.example", "the app"},
		{"a proxy on this machine", "127.0.0.1:1", "farm.example", "the app"},
		{"the proxy under another name", "10.0.0.2:1", "evil.example", `"code":"host"`},
		{"the proxy for this machine's name", "127.0.0.1:1", "localhost", `"code":"host"`},
		{"whoever comes past the proxy", "10.0.1.2:1", "farm.example", "page"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := o.asks(false, tt.remote, tt.host, "/"); got != tt.want {
				t.Errorf("it is answered %.200s, want %s", got, tt.want)
			}
		})
	}
	came := func(remote string, forwarded ...string) (string, bool, bool) {
		r := httptest.NewRequest("GET", "/", nil)
		r.RemoteAddr = remote
		r.Header["X-Forwarded-For"] = forwarded
		c := o.came(r)
		return c.From.String(), c.AtDesk, c.Secure
	}
	for _, tt := range []struct {
		name, remote string
		forwarded    []string
		from         string
		secure       bool
	}{
		{"the proxy names the phone", "10.0.0.2:1", []string{"198.51.100.7"}, "198.51.100.7", true},
		{"the phone wrote a header before it", "10.0.0.2:1", []string{"127.0.0.1, 198.51.100.7"}, "198.51.100.7", true},
		{"in one of its own", "10.0.0.2:1", []string{"127.0.0.1", "198.51.100.7"}, "198.51.100.7", true},
		{"whoever comes past the proxy is who it is", "198.51.100.7:1", []string{"127.0.0.1"}, "198.51.100.7", false},
		{"a proxy that names nobody", "127.0.0.1:1", nil, "invalid IP", true},
	} {
		if from, atDesk, secure := came(tt.remote, tt.forwarded...); from != tt.from || atDesk || secure != tt.secure {
			t.Errorf("%s: from %s, at the desk %v, secure %v", tt.name, from, atDesk, secure)
		}
	}
}

func TestACommandLineThatServesNobodyOrTooMany(t *testing.T) {
	dir := t.TempDir()
	half := filepath.Join(dir, "half.pem")
	must(t, os.WriteFile(half, []byte("half"), 0o600))
	tests := []struct {
		name  string
		where place
		says  string
	}{
		{"plain http for the network", place{listen: ":0"}, "needs https"},
		{"plain http for one address of it", place{listen: "192.168.7.20:8420"}, "needs https"},
		{"no address", place{listen: "here"}, "is not an address"},
		{"a name without https", place{host: "shed.local"}, "add -tls local"},
		{"a name with a port", place{tls: tlsLocal, host: "corymb.local:8420"}, "is no name"},
		{"an address of the web", place{tls: tlsLocal, host: "https://shed.local"}, "is no name"},
		{"an address in brackets", place{tls: tlsLocal, host: "[fd00::1]"}, "is no name"},
		{"a name for all of a country", place{tls: tlsLocal, host: "com"}, "is no name"},
		{"a proxy without the name", place{proxies: "10.0.0.2"}, "-proxy needs -host"},
		{"a proxy that is none", place{proxies: "proxy", host: "farm.example"}, "is no address"},
		{"a proxy and https", place{proxies: "10.0.0.2", host: "farm.example", tls: tlsLocal}, "cannot both be"},
		{"a public certificate without the name", place{tls: tlsACME}, "needs -host"},
		{"a public certificate for an address", place{tls: tlsACME, host: "198.51.100.7"}, "needs a public name"},
		{"a public certificate for a name of the network", place{tls: tlsACME, host: "corymb.local"}, "needs a public name"},
		{"what is no way", place{tls: "yes"}, "cannot be understood"},
		{"a certificate that cannot be read", place{tls: half + "," + half}, "reading the certificate"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := openAt(t, t.TempDir(), tt.where); err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("it says %v, want %q", err, tt.says)
			}
		})
	}
}

func TestAnAddressThatIsNotThisMachinesIsSaid(t *testing.T) {
	links := []found.Link{
		{Interface: net.Interface{Name: "lo", Flags: net.FlagUp | net.FlagRunning | net.FlagLoopback}, Addresses: []netip.Prefix{netip.MustParsePrefix("127.0.0.1/8")}},
		{Interface: net.Interface{Name: "wlan0", Flags: net.FlagUp | net.FlagRunning}, Addresses: []netip.Prefix{netip.MustParsePrefix("192.168.7.20/24"), netip.MustParsePrefix("fd00::20/64")}},
	}
	for _, tt := range []struct {
		name  string
		of    site
		links []found.Link
		says  string // empty for nothing
	}{
		{"its own", site{host: "192.168.7.20"}, links, ""},
		{"its own of IPv6", site{host: "fd00::20"}, links, ""},
		{"a name", site{host: usualHost}, links, ""},
		{"this machine to itself", site{host: "127.0.0.1"}, links, ""},
		{"a proxy's", site{host: "192.168.7.2", proxies: []netip.Prefix{netip.MustParsePrefix("192.168.7.2/32")}}, links, ""},
		{"another of its network", site{host: "192.168.7.21"}, links, "it has 192.168.7.20, fd00::20"},
		{"any, without a network", site{host: "192.168.7.20"}, links[:1], "it has none that phones could reach"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if said := notHere(tt.of, tt.links); (said == "") != (tt.says == "") || !strings.Contains(said, tt.says) {
				t.Errorf("it says %q, want %q", said, tt.says)
			}
		})
	}
	o, err := openAt(t, t.TempDir(), place{listen: "127.0.0.1:0", tls: tlsLocal, host: "198.51.100.7"})
	if err != nil || !strings.Contains(o.said.String(), "198.51.100.7, which is not an address of this machine") {
		t.Errorf("%v, said %s", err, o.said.String())
	}
}

func TestTheFarmsAddressStaysTheSame(t *testing.T) {
	data := t.TempDir()
	serveOnce := func(where place, change func(*store.Store)) (said string, err error) {
		t.Run("", func(t *testing.T) { // whose end lets go of the folder
			var o *opened
			o, err = openAt(t, data, where)
			said = o.said.String()
			if change != nil {
				change(o.farm)
			}
		})
		return said, err
	}
	behind := func(host string) place { return place{listen: "127.0.0.1:0", host: host, proxies: "10.0.0.2"} }
	if said, err := serveOnce(behind("farm.example"), nil); err != nil || !strings.Contains(said, "From now on this farm's address is https://farm.example.") {
		t.Fatalf("%v, said %s", err, said)
	}
	device := access.Device{ID: "d1", Label: "Ana's phone", Joined: time.Now()}
	said, err := serveOnce(behind("farm.example"), func(s *store.Store) {
		_, err := s.Admit(context.Background(), access.Member{Person: "ana", Role: access.Owner}, device, access.DigestOf("t"), access.Digest{})
		must(t, err)
		s.Seen(changelog.Sighting{Incarnation: "6f1c9d0e-52a5-4a55-9b43-7f4f5a1d2c3b", Device: "d1", Unsent: 12})
	})
	if err != nil || strings.Contains(said, "From now on") {
		t.Errorf("%v, said %s", err, said)
	}
	if _, err := serveOnce(behind("other.example"), nil); err == nil || !strings.Contains(err.Error(), "address is https://farm.example") || !strings.Contains(err.Error(), "Ana's phone (12, told on ") {
		t.Errorf("another address: %v", err)
	}
	if _, err := serveOnce(place{listen: "127.0.0.1:0"}, nil); err != nil {
		t.Errorf("this machine alone: %v", err)
	}
	moved := behind("other.example")
	moved.moves = true
	if said, err := serveOnce(moved, nil); err != nil || !strings.Contains(said, "was https://farm.example and is now https://other.example") || !strings.Contains(said, "Ana's phone (12") {
		t.Errorf("%v, said %s", err, said)
	}
	if _, err := serveOnce(behind("other.example"), nil); err != nil {
		t.Errorf("the new address: %v", err)
	}
}

func TestAnOwnerWhoLostEveryDeviceIsLetInAgain(t *testing.T) {
	data := t.TempDir()
	o, err := openAt(t, data, place{listen: "127.0.0.1:0"})
	if err != nil || !strings.Contains(o.said.String(), "/#join/") {
		t.Fatalf("the first start: %v, %s", err, o.said.String())
	}
	device := access.Device{ID: "d1", Joined: time.Now()}
	_, err = o.farm.Admit(context.Background(), access.Member{Person: "ana", Role: access.Owner}, device, access.DigestOf("t"), access.Digest{})
	must(t, err)
	for _, wanted := range []bool{false, true} {
		o.said.Reset()
		must(t, o.inviteOwner(context.Background(), wanted))
		if strings.Contains(o.said.String(), "/#join/") != wanted {
			t.Errorf("asked for a link %v, it says %q", wanted, o.said.String())
		}
	}
}

func TestOfSeveralOwnersEachHasALinkUnderTheirName(t *testing.T) {
	o, err := openAt(t, t.TempDir(), place{listen: "127.0.0.1:0"})
	if err != nil {
		t.Fatal(err)
	}
	for person, name := range map[string]string{"ana": "Ana", "olga": "", "ben": "Ben"} {
		role := access.Owner
		if name == "Ben" {
			role = access.Crew
		}
		_, err := o.farm.Admit(context.Background(), access.Member{Person: person, Name: name, Role: role},
			access.Device{ID: person, Joined: time.Now()}, access.DigestOf(person), access.Digest{})
		must(t, err)
	}
	o.said.Reset()
	o.ownerLink = ""
	must(t, o.inviteOwner(context.Background(), true))
	said := o.said.String()
	if strings.Count(said, "/#join/") != 2 || !strings.Contains(said, "  Ana: http://") || !strings.Contains(said, "  an owner without a name (olga): http://") || o.ownerLink != "" {
		t.Errorf("it says %s, and shows %q", said, o.ownerLink)
	}
}
