package certs

import (
	"crypto/tls"
	"crypto/x509"
	"errors"
	"net"
	"net/netip"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

var (
	noon    = time.Date(2026, 6, 10, 12, 0, 0, 0, time.UTC)
	ofFarm  = Names{Hosts: []string{"shed.local"}, Addresses: []netip.Addr{netip.MustParseAddr("192.168.7.20")}}
	network = []netip.Prefix{netip.MustParsePrefix("192.168.7.20/24")}
)

// clock is a time that a test moves.
type clock struct{ at time.Time }

func (c *clock) now() time.Time { return c.at }

func openLocal(t *testing.T, dir string, names Names, c *clock) *Local {
	t.Helper()
	return openTelling(t, dir, names, c, func(err error) { t.Errorf("it tells %v", err) })
}

func openTelling(t *testing.T, dir string, names Names, c *clock, tell func(error)) *Local {
	t.Helper()
	l, err := OpenLocal(dir, names, network, c.now, tell)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func served(t *testing.T, l *Local) *x509.Certificate {
	t.Helper()
	cert, err := l.GetCertificate(nil)
	if err != nil {
		t.Fatal(err)
	}
	return cert.Leaf
}

// trusting are the roots of a phone that trusts the farm's authority.
func trusting(t *testing.T, l *Local) *x509.CertPool {
	t.Helper()
	authority, err := x509.ParseCertificate(l.Authority())
	if err != nil {
		t.Fatal(err)
	}
	roots := x509.NewCertPool()
	roots.AddCert(authority)
	return roots
}

func TestAPhoneThatTrustsTheAuthorityReachesTheServer(t *testing.T) {
	l := openLocal(t, t.TempDir(), Names{Addresses: []netip.Addr{netip.MustParseAddr("192.168.7.20")}, Hosts: []string{"shed.local"}}, &clock{time.Now()})
	listener, err := tls.Listen("tcp", "127.0.0.1:0", &tls.Config{GetCertificate: l.GetCertificate})
	if err != nil {
		t.Fatal(err)
	}
	defer listener.Close()
	go shakeHands(listener)
	dial := func(name string, roots *x509.CertPool) error {
		conn, err := tls.Dial("tcp", listener.Addr().String(), &tls.Config{ServerName: name, RootCAs: roots})
		if err == nil {
			err = conn.Close()
		}
		return err
	}
	for _, name := range []string{"shed.local", "192.168.7.20"} {
		if err := dial(name, trusting(t, l)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := dial("shed.local", x509.NewCertPool()); err == nil {
		t.Error("a phone that trusts nobody reached it")
	}
	if err := dial("other.local", trusting(t, l)); err == nil {
		t.Error("it was taken for another name")
	}
}

// shakeHands takes connections until the listener is closed.
func shakeHands(listener net.Listener) {
	for {
		conn, err := listener.Accept()
		if err != nil {
			return
		}
		_ = conn.(*tls.Conn).Handshake() // what fails is seen at the other end
		_ = conn.Close()
	}
}

// Whoever steals the key of the authority gains the farm's names and no others (RFC 5280, section
// 4.2.1.10, as crypto/x509 checks it).
func TestTheAuthorityCanSignForNothingButTheFarm(t *testing.T) {
	tests := []struct {
		name  string
		names Names
		holds bool
	}{
		{"the farm's host", Names{Hosts: []string{"shed.local"}}, true},
		{"a host under it", Names{Hosts: []string{"phone.shed.local"}}, true},
		{"an address of its network", Names{Addresses: []netip.Addr{netip.MustParseAddr("192.168.7.99")}}, true},
		{"another host", Names{Hosts: []string{"bank.example"}}, false},
		{"the domain above", Names{Hosts: []string{"local"}}, false},
		{"a host whose name ends alike", Names{Hosts: []string{"othershed.local"}}, false},
		{"the farm's host and another", Names{Hosts: []string{"shed.local", "bank.example"}}, false},
		{"an address of another network", Names{Addresses: []netip.Addr{netip.MustParseAddr("192.168.8.1")}}, false},
		{"an address of the newer kind", Names{Addresses: []netip.Addr{netip.MustParseAddr("2001:db8::1")}}, false},
	}
	l := openLocal(t, t.TempDir(), ofFarm, &clock{noon})
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			forged, err := l.authority.sign(tt.names, noon)
			if err != nil {
				t.Fatal(err)
			}
			_, err = forged.cert.Verify(x509.VerifyOptions{Roots: trusting(t, l), CurrentTime: noon})
			if (err == nil) != tt.holds {
				t.Errorf("verifying says %v", err)
			}
		})
	}
}

func TestAnAuthorityWithoutHostsSignsForNone(t *testing.T) {
	authority, err := newAuthority(nil, network, noon)
	if err != nil {
		t.Fatal(err)
	}
	forged, err := authority.sign(Names{Hosts: []string{"bank.example"}}, noon)
	if err != nil {
		t.Fatal(err)
	}
	roots := x509.NewCertPool()
	roots.AddCert(authority.cert)
	if _, err := forged.cert.Verify(x509.VerifyOptions{Roots: roots, CurrentTime: noon}); err == nil {
		t.Error("a certificate for a host holds")
	}
}

func TestAnAuthoritySignsNoFurtherAuthority(t *testing.T) {
	l := openLocal(t, t.TempDir(), ofFarm, &clock{noon})
	if !l.authority.cert.IsCA || l.authority.cert.MaxPathLen != 0 || !l.authority.cert.MaxPathLenZero || served(t, l).IsCA {
		t.Errorf("the authority's path is %d, the server's certificate is one: %v", l.authority.cert.MaxPathLen, served(t, l).IsCA)
	}
}

func TestTheCertificateIsRenewedByItself(t *testing.T) {
	dir, c := t.TempDir(), &clock{noon}
	l := openLocal(t, dir, ofFarm, c)
	first, authority := served(t, l), l.Authority()
	c.at = noon.Add(200 * 24 * time.Hour)
	if again := served(t, l); !again.Equal(first) {
		t.Error("it was renewed too early")
	}
	c.at = noon.Add(300 * 24 * time.Hour)
	renewed := served(t, l)
	if renewed.Equal(first) || !renewed.NotAfter.After(first.NotAfter) {
		t.Errorf("it ends on %s, as before", renewed.NotAfter)
	}
	if again := openLocal(t, dir, ofFarm, c); !served(t, again).Equal(renewed) || string(again.Authority()) != string(authority) {
		t.Error("another start made another certificate, or another authority")
	}
	if life := renewed.NotAfter.Sub(renewed.NotBefore); life > 825*24*time.Hour {
		t.Errorf("it lasts %s, longer than phones take", life)
	}
}

// Renewing begins 132 days before the end. That it fails is told then, and not when no phone comes any more.
func TestARenewalThatFailsIsToldWhileTheCertificateStillDoes(t *testing.T) {
	dir, c := filepath.Join(t.TempDir(), "tls"), &clock{noon}
	var told []string
	l := openTelling(t, dir, ofFarm, c, func(err error) { told = append(told, err.Error()) })
	first := served(t, l)
	if err := os.RemoveAll(dir); err != nil {
		t.Fatal(err)
	}
	for _, step := range []struct {
		at   time.Duration
		told int
	}{{200 * 24 * time.Hour, 0}, {300 * 24 * time.Hour, 1}, {300*24*time.Hour + time.Minute, 1}, {300*24*time.Hour + time.Hour, 2}} {
		c.at = noon.Add(step.at)
		if again := served(t, l); !again.Equal(first) || len(told) != step.told {
			t.Errorf("after %s it told %q, and serves another: %v", step.at, told, !again.Equal(first))
		}
	}
	if !strings.Contains(told[0], "phones reach the farm until "+first.NotAfter.Format(time.DateOnly)) {
		t.Errorf("it told %q", told[0])
	}
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	c.at = c.at.Add(time.Hour)
	if again := served(t, l); again.Equal(first) || len(told) != 2 {
		t.Errorf("with a folder again it is not renewed, or it told %q", told)
	}
}

func TestAStartThatCannotRenewServesTheCertificateThatStillDoes(t *testing.T) {
	dir, c := t.TempDir(), &clock{noon}
	first := served(t, openLocal(t, dir, ofFarm, c))
	c.at = noon.Add(300 * 24 * time.Hour)
	var told []string
	full := func(pair, string, string) error { return errors.New("no space left on device") }
	l := &Local{dir: dir, now: c.now, tell: func(err error) { told = append(told, err.Error()) }, write: full}
	if err := l.open(ofFarm, network); err != nil {
		t.Fatal(err)
	}
	if !served(t, l).Equal(first) || len(told) != 1 || !strings.Contains(told[0], "no space left") {
		t.Errorf("it serves another, or told %q", told)
	}
}

func TestTheEndOfTheAuthorityIsToldAYearBefore(t *testing.T) {
	dir, c := t.TempDir(), &clock{noon}
	openLocal(t, dir, ofFarm, c)
	var told []string
	for _, years := range []int{1, 8, 9} {
		c.at = noon.AddDate(years, 1, 0)
		openTelling(t, dir, ofFarm, c, func(err error) { told = append(told, err.Error()) })
	}
	if len(told) != 1 || !strings.Contains(told[0], "ends on 2036-06-") {
		t.Errorf("it told %q", told)
	}
}

func TestAClockThatIsWrongMakesNoAuthority(t *testing.T) {
	for name, at := range map[string]time.Time{"of an empty battery": time.Unix(0, 0), "of the machine's first day": time.Date(2019, 4, 1, 0, 0, 0, 0, time.UTC)} {
		dir, c := t.TempDir(), &clock{at}
		if _, err := OpenLocal(dir, ofFarm, network, c.now, nil); err == nil || !strings.Contains(err.Error(), "clock says "+at.UTC().Format(time.DateOnly)) {
			t.Errorf("%s: %v", name, err)
		}
		if contents(t, dir) != "" {
			t.Errorf("%s: something was written", name)
		}
		c.at = noon
		openLocal(t, dir, ofFarm, c)
	}
}

func TestAnAuthorityOfATimeToComeIsNotUsed(t *testing.T) {
	dir, c := t.TempDir(), &clock{noon.AddDate(3, 0, 0)}
	openLocal(t, dir, ofFarm, c)
	c.at = noon
	if _, err := OpenLocal(dir, ofFarm, network, c.now, nil); err == nil || !strings.Contains(err.Error(), "begins on 2029-06-08") || !strings.Contains(err.Error(), "clock") {
		t.Errorf("it says %v", err)
	}
}

func TestACertificateOfATimeToComeIsMadeAnewOnceTheClockIsRight(t *testing.T) {
	dir, c := t.TempDir(), &clock{noon}
	openLocal(t, dir, ofFarm, c)
	c.at = noon.AddDate(3, 0, 0)
	l := openLocal(t, dir, ofFarm, c)
	served(t, l)
	c.at = noon.AddDate(0, 1, 0)
	if cert := served(t, l); cert.NotBefore.After(c.at) {
		t.Errorf("it is served one that begins on %s", cert.NotBefore)
	}
}

func TestAnAddressThatIsNewGetsANewCertificateOfTheSameAuthority(t *testing.T) {
	dir, c := t.TempDir(), &clock{noon}
	authority := openLocal(t, dir, ofFarm, c).Authority()
	moved := Names{Hosts: ofFarm.Hosts, Addresses: []netip.Addr{netip.MustParseAddr("192.168.7.30"), netip.MustParseAddr("10.0.0.4")}}
	l := openLocal(t, dir, moved, c)
	if string(l.Authority()) != string(authority) {
		t.Error("it has another authority, which no phone trusts")
	}
	cert := served(t, l)
	if err := cert.VerifyHostname("192.168.7.30"); err != nil {
		t.Error(err)
	}
	if err := cert.VerifyHostname("10.0.0.4"); err == nil {
		t.Error("it names an address that the authority may not sign for: no phone would take it")
	}
}

func TestKeysCanBeReadByTheirOwnerAlone(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "tls")
	openLocal(t, dir, ofFarm, &clock{noon})
	for name, want := range map[string]os.FileMode{".": 0o700 | os.ModeDir, authorityKeyFile: 0o600, serverKeyFile: 0o600} {
		info, err := os.Stat(filepath.Join(dir, name))
		if err != nil || info.Mode() != want {
			t.Errorf("%s has mode %v (%v), want %v", name, info.Mode(), err, want)
		}
	}
}

// Phones trust the authority that they were shown: it is never replaced by itself.
func TestAnAuthorityThatCannotBeUsedIsNotReplaced(t *testing.T) {
	tests := []struct {
		name  string
		spoil func(t *testing.T, dir string, c *clock)
		says  string
	}{
		{"its key is gone", func(t *testing.T, dir string, _ *clock) { remove(t, dir, authorityKeyFile) }, "is gone"},
		{"it is damaged", func(t *testing.T, dir string, _ *clock) { overwrite(t, dir, AuthorityFile) }, "backup"},
		{"its key is damaged", func(t *testing.T, dir string, _ *clock) { overwrite(t, dir, authorityKeyFile) }, "backup"},
		{"its time is over", func(_ *testing.T, _ string, c *clock) { c.at = noon.Add(11 * 365 * 24 * time.Hour) }, "ended on"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir, c := t.TempDir(), &clock{noon}
			openLocal(t, dir, ofFarm, c)
			tt.spoil(t, dir, c)
			before := contents(t, dir)
			_, err := OpenLocal(dir, ofFarm, network, c.now, nil)
			if err == nil || !strings.Contains(err.Error(), tt.says) || !strings.Contains(err.Error(), "every phone trust") {
				t.Errorf("it says %v", err)
			}
			if contents(t, dir) != before {
				t.Error("something was written")
			}
		})
	}
}

func TestNamesThatTheAuthorityMayNotSignForAreNotServed(t *testing.T) {
	dir, c := t.TempDir(), &clock{noon}
	openLocal(t, dir, ofFarm, c)
	_, err := OpenLocal(dir, Names{Hosts: []string{"barn.local"}}, network, c.now, nil)
	if err == nil || !strings.Contains(err.Error(), "barn.local") {
		t.Errorf("it says %v", err)
	}
}

func TestADamagedServerCertificateIsMadeAnew(t *testing.T) {
	for _, name := range []string{serverFile, serverKeyFile} {
		dir, c := t.TempDir(), &clock{noon}
		openLocal(t, dir, ofFarm, c)
		overwrite(t, dir, name)
		if err := served(t, openLocal(t, dir, ofFarm, c)).VerifyHostname("shed.local"); err != nil {
			t.Errorf("%s damaged: %v", name, err)
		}
	}
}

func remove(t *testing.T, dir, name string) {
	t.Helper()
	if err := os.Remove(filepath.Join(dir, name)); err != nil {
		t.Fatal(err)
	}
}

func overwrite(t *testing.T, dir, name string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), []byte("-----BEGIN"), 0o600); err != nil {
		t.Fatal(err)
	}
}

func contents(t *testing.T, dir string) string {
	t.Helper()
	var all strings.Builder
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		all.WriteString(e.Name() + "\n" + string(data))
	}
	return all.String()
}
