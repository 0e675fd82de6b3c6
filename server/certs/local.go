// Package certs gets and keeps the certificates under which a farm serves https: of an authority of
// the farm's own, or of files that somebody else keeps.
package certs

import (
	"crypto/tls"
	"crypto/x509"
	"fmt"
	"net/netip"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

// Files of a Local, inside its folder. Keys can be read by their owner alone.
const (
	AuthorityFile    = "authority.pem"
	authorityKeyFile = "authority-key.pem"
	serverFile       = "server.pem"
	serverKeyFile    = "server-key.pem"
)

// Names are what a server may be called: host names, and addresses.
type Names struct {
	Hosts     []string
	Addresses []netip.Addr
}

// Local is an authority of the farm's own, which phones are told to trust, and the certificate that it
// has given the server. It is safe for concurrent use.
type Local struct {
	dir       string
	now       func() time.Time
	tell      func(error)
	write     func(p pair, certPath, keyPath string) error
	authority pair

	mu     sync.Mutex
	names  Names
	served tls.Certificate
	until  time.Time // the certificate is renewed from then on
	tried  seldom    // to renew it
	ending seldom    // that the authority ends was told
}

// tryAgainAfter is how long renewing is not tried again.
const tryAgainAfter = time.Hour

// OpenLocal opens the authority in a folder, and makes it where there is none: it may then sign for
// nothing but the host names given and addresses of the networks given. The server's certificate is for
// the names that the authority may sign for; it is renewed by itself, and at once where it lacks one. tell
// hears, once an hour, that it could not be renewed, while the one before it still does; and that the
// authority itself ends within a year.
func OpenLocal(dir string, names Names, networks []netip.Prefix, now func() time.Time, tell func(error)) (*Local, error) {
	l := &Local{dir: dir, now: now, tell: tell, write: pair.write}
	if err := l.open(names, networks); err != nil {
		return nil, err
	}
	return l, nil
}

func (l *Local) open(names Names, networks []netip.Prefix) (err error) {
	if err := os.MkdirAll(l.dir, 0o700); err != nil {
		return fmt.Errorf("making the folder of certificates %s: %w; check who owns the data folder", l.dir, err)
	}
	if l.authority, err = openAuthority(l.dir, names.Hosts, networks, l.now()); err != nil {
		return err
	}
	l.names = l.authority.mayName(names)
	if len(l.names.Hosts)+len(l.names.Addresses) == 0 {
		return fmt.Errorf("the farm's authority in %s may sign for none of %v: it was made for other names, and phones trust it for those alone; start with such a name, or move the folder away and let every phone trust a new one", l.dir, names.Hosts)
	}
	l.tellEnd()
	if held, err := readPair(l.path(serverFile), l.path(serverKeyFile)); err == nil && l.holds(held) {
		l.serve(held)
		l.renewInTime()
		return nil
	}
	return l.renew()
}

// tellEnd tells early that the authority ends: then every phone has to trust another.
func (l *Local) tellEnd() {
	if ends := l.authority.cert.NotAfter; l.now().After(ends.AddDate(-1, 0, 0)) && l.ending.due(l.now(), endsAgainAfter) {
		l.tell(fmt.Errorf("the farm's authority in %s ends on %s, and no phone reaches the farm from then on: outside the season, move the folder away, start again, and let every phone trust the new one", l.dir, ends.Format(time.DateOnly)))
	}
}

// GetCertificate is for tls.Config. It renews the certificate when it is time.
func (l *Local) GetCertificate(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.renewInTime()
	served := l.served // also where its time is over: phones say so, and the log says why
	return &served, nil
}

// renewInTime renews the certificate where it is time, or where the clock was set right since: a phone
// takes none that begins in a time to come. Where that fails, the one before does for the third of its time
// that is left.
func (l *Local) renewInTime() {
	now := l.now()
	if now.Before(l.until) && !now.Before(l.served.Leaf.NotBefore) || !l.tried.due(now, tryAgainAfter) {
		return
	}
	if err := l.renew(); err != nil {
		l.tell(fmt.Errorf("%w; phones reach the farm until %s and not after it: see that the disk has room and that %s may be written", err, l.served.Leaf.NotAfter.Format(time.DateOnly), l.dir))
		return
	}
	l.tellEnd()
}

// Authority is the certificate that phones are to trust, as DER.
func (l *Local) Authority() []byte { return l.authority.cert.Raw }

// Hosts are the names that the authority may sign for.
func (l *Local) Hosts() []string { return l.authority.cert.PermittedDNSDomains }

// Networks are those for whose addresses it may sign.
func (l *Local) Networks() []netip.Prefix {
	var networks []netip.Prefix
	for _, r := range l.authority.cert.PermittedIPRanges {
		if p, err := netip.ParsePrefix(r.String()); err == nil { // it was made of one
			networks = append(networks, p)
		}
	}
	return networks
}

// Names are those that the certificate is for.
func (l *Local) Names() Names { return l.names }

func (l *Local) path(name string) string { return filepath.Join(l.dir, name) }

// holds tells whether a certificate can be used: it is the authority's, for all names, and its time is not
// over.
func (l *Local) holds(held pair) bool {
	roots := x509.NewCertPool()
	roots.AddCert(l.authority.cert)
	_, err := held.cert.Verify(x509.VerifyOptions{Roots: roots, CurrentTime: l.now()})
	return err == nil && namesOf(held.cert).cover(l.names)
}

func (l *Local) renew() error {
	fresh, err := l.authority.sign(l.names, l.now())
	if err == nil {
		err = l.write(fresh, l.path(serverFile), l.path(serverKeyFile))
	}
	if err != nil {
		return fmt.Errorf("renewing the certificate of the server: %w", err)
	}
	l.serve(fresh)
	return nil
}

func (l *Local) serve(p pair) {
	l.served = tls.Certificate{Certificate: [][]byte{p.cert.Raw, l.authority.cert.Raw}, PrivateKey: p.key, Leaf: p.cert}
	l.until = renewFrom(p.cert)
}

// Includes tells whether a host name or an address is among them.
func (n Names) Includes(host string) bool {
	if address, err := netip.ParseAddr(host); err == nil {
		return slices.Contains(n.Addresses, address)
	}
	return slices.ContainsFunc(n.Hosts, func(h string) bool { return strings.EqualFold(h, host) })
}

// cover tells whether these names include others.
func (n Names) cover(others Names) bool {
	missingHost := slices.ContainsFunc(others.Hosts, func(h string) bool { return !slices.Contains(n.Hosts, h) })
	missingAddress := slices.ContainsFunc(others.Addresses, func(a netip.Addr) bool { return !slices.Contains(n.Addresses, a) })
	return !missingHost && !missingAddress
}

func namesOf(cert *x509.Certificate) Names {
	names := Names{Hosts: cert.DNSNames}
	for _, ip := range cert.IPAddresses {
		if a, ok := netip.AddrFromSlice(ip); ok {
			names.Addresses = append(names.Addresses, a.Unmap())
		}
	}
	return names
}
