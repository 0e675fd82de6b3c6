package main

import (
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"io"
	"log"
	"math/big"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/letsencrypt/pebble/v2/ca"
	"github.com/letsencrypt/pebble/v2/db"
	"github.com/letsencrypt/pebble/v2/va"
	"github.com/letsencrypt/pebble/v2/wfe"
	"github.com/miekg/dns"

	"corymb/server/certs"
)

const publicName = "farm.example"

// authority is Let's Encrypt's own test authority (Pebble), which validates as the real one does, but takes
// every name for this machine's.
type authority struct {
	certs.Authority
	*httptest.Server
	roots   *x509.CertPool
	handler atomic.Value // of http.Handler
}

func newAuthority(t *testing.T) *authority {
	t.Helper()
	a := &authority{roots: x509.NewCertPool()}
	a.Server = httptest.NewTLSServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		a.handler.Load().(http.Handler).ServeHTTP(w, r)
	}))
	t.Cleanup(a.Close)
	a.Authority = certs.Authority{Directory: a.URL + wfe.DirectoryPath, Transport: a.Client().Transport}
	return a
}

// comesTo lets the authority validate at a port, as the real one does at 443.
func (a *authority) comesTo(t *testing.T, port string) {
	t.Helper()
	for name, value := range map[string]string{"PEBBLE_VA_NOSLEEP": "1", "PEBBLE_WFE_NONCEREJECT": "20", "PEBBLE_AUTHZREUSE": "0"} {
		t.Setenv(name, value)
	}
	at, err := strconv.Atoi(port)
	must(t, err)
	quiet, memory := log.New(io.Discard, "", 0), db.NewMemoryStore()
	issuer := ca.New(quiet, memory, "", "ecdsa", 0, 1, map[string]ca.Profile{"default": {}})
	validator := va.New(quiet, 0, at, true, names(t), memory)
	front := wfe.New(quiet, memory, validator, issuer, []string{"ca.example"}, true, false, 1, 1)
	a.roots.AppendCertsFromPEM(issuer.GetRootCert(0).PEM())
	a.handler.Store(front.Handler())
}

// names is a name server for which every name is this machine's.
func names(t *testing.T) (address string) {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	must(t, err)
	server := &dns.Server{Listener: listener, Handler: dns.HandlerFunc(func(w dns.ResponseWriter, asked *dns.Msg) {
		answer := new(dns.Msg).SetReply(asked)
		if q := asked.Question[0]; q.Qtype == dns.TypeA {
			header := dns.RR_Header{Name: q.Name, Rrtype: dns.TypeA, Class: dns.ClassINET}
			answer.Answer = []dns.RR{&dns.A{Hdr: header, A: net.IPv4(127, 0, 0, 1)}}
		}
		_ = w.WriteMsg(answer) // whoever asked has gone
	})}
	go func() { _ = server.ActivateAndServe() }() // it ends with the test
	t.Cleanup(func() { _ = listener.Close() })
	return listener.Addr().String()
}

// served is the certificate that a phone gets which trusts some roots.
func served(address string, roots *x509.CertPool) (*x509.Certificate, error) {
	conn, err := tls.Dial("tcp", address, &tls.Config{ServerName: publicName, RootCAs: roots})
	if err != nil {
		return nil, err
	}
	defer conn.Close()
	return conn.ConnectionState().PeerCertificates[0], nil
}

// servedInTheEnd comes again, as a phone does that came while the authority was still being asked: it sends one
// request in five back, and the waits between may add up to more than a connection may take.
func servedInTheEnd(address string, roots *x509.CertPool) (cert *x509.Certificate, err error) {
	for range 10 {
		if cert, err = served(address, roots); err == nil {
			return cert, nil
		}
	}
	return nil, err
}

func portOf(t *testing.T, address net.Addr) string {
	t.Helper()
	_, port, err := net.SplitHostPort(address.String())
	must(t, err)
	return port
}

func TestAPublicCertificateIsGotFromAnAuthorityBehindAForwardedPort(t *testing.T) {
	a, data := newAuthority(t), t.TempDir()
	where := place{listen: "127.0.0.1:0", tls: tlsACME, host: publicName, authority: a.Authority}
	o, err := openAt(t, data, where)
	if err != nil {
		t.Fatal(err)
	}
	if o.origin != "https://"+publicName {
		t.Errorf("it listens on %s, to which a router leads from 443, and calls itself %s", o.listener.Addr(), o.origin)
	}
	a.comesTo(t, portOf(t, o.listener.Addr()))
	o.runs(t)
	address := o.listener.Addr().String()
	first, err := servedInTheEnd(address, a.roots)
	if err != nil {
		t.Fatal(err)
	}
	again, err := served(address, a.roots)
	if err != nil || !again.Equal(first) || first.VerifyHostname(publicName) != nil {
		t.Errorf("it serves %v and then %v (%v)", first.DNSNames, again, err)
	}
	phone := &http.Client{Transport: &http.Transport{
		TLSClientConfig: &tls.Config{RootCAs: a.roots},
		DialContext: func(ctx context.Context, network, _ string) (net.Conn, error) {
			return (&net.Dialer{}).DialContext(ctx, network, address)
		},
	}}
	response, err := phone.Get("https://" + publicName + "/")
	must(t, err)
	defer response.Body.Close()
	body, err := io.ReadAll(response.Body)
	if err != nil || string(body) != "the app" || response.Header.Get("Strict-Transport-Security") == "" {
		t.Errorf("a phone is answered %q %v, %v", body, response.Header, err)
	}
	if _, err := served(address, x509.NewCertPool()); err == nil {
		t.Error("a phone that does not know the authority reached it")
	}
	if _, err := tls.Dial("tcp", address, &tls.Config{ServerName: "other.example", RootCAs: a.roots}); err == nil {
		t.Error("a certificate was got for a stranger's name")
	}
	kept, err := os.Stat(filepath.Join(data, certsFolder, acmeFolder, publicName))
	if err != nil || kept.Mode().Perm() != 0o600 {
		t.Errorf("it is kept as %v (%v)", kept, err)
	}
}

// What an earlier start kept has ten of ninety days left: it is served, and renewed behind it.
func TestAPublicCertificateIsRenewedWhileTheOneBeforeIsServed(t *testing.T) {
	a, data := newAuthority(t), t.TempDir()
	before := keepOld(t, filepath.Join(data, certsFolder, acmeFolder), time.Now().Add(-80*24*time.Hour), time.Now().Add(10*24*time.Hour))
	o, err := openAt(t, data, place{listen: "127.0.0.1:0", tls: tlsACME, host: publicName, authority: a.Authority})
	if err != nil {
		t.Fatal(err)
	}
	a.comesTo(t, portOf(t, o.listener.Addr()))
	a.roots.AddCert(before)
	o.runs(t) // which looks after the renewing, also where no phone comes
	for now := before; now.Equal(before); time.Sleep(10 * time.Millisecond) {
		if now, err = served(o.listener.Addr().String(), a.roots); err != nil {
			t.Fatal(err)
		}
		if !now.Equal(before) && !now.NotAfter.After(before.NotAfter) {
			t.Errorf("after the one that ends on %s comes one that ends on %s", before.NotAfter, now.NotAfter)
		}
	}
}

// keepOld puts a certificate where an earlier start would have kept it, as autocert writes it.
func keepOld(t *testing.T, dir string, from, until time.Time) *x509.Certificate {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	must(t, err)
	template := &x509.Certificate{
		SerialNumber: big.NewInt(1), NotBefore: from, NotAfter: until, DNSNames: []string{publicName},
		IsCA: true, BasicConstraintsValid: true, KeyUsage: x509.KeyUsageDigitalSignature | x509.KeyUsageCertSign,
	}
	der, err := x509.CreateCertificate(rand.Reader, template, template, &key.PublicKey, key)
	must(t, err)
	kept, err := x509.MarshalECPrivateKey(key)
	must(t, err)
	must(t, os.MkdirAll(dir, 0o700))
	text := append(pem.EncodeToMemory(&pem.Block{Type: "EC PRIVATE KEY", Bytes: kept}), pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der})...)
	must(t, os.WriteFile(filepath.Join(dir, publicName), text, 0o600))
	cert, err := x509.ParseCertificate(der)
	must(t, err)
	return cert
}

// The name leads elsewhere, where nobody answers. It is told before any phone comes.
func TestAChallengeThatFailsIsToldInTheWordsOfTheAuthority(t *testing.T) {
	a := newAuthority(t)
	var said lines
	o, err := openTo(t, t.TempDir(), place{listen: "127.0.0.1:0", tls: tlsACME, host: publicName, authority: a.Authority}, &said)
	if err != nil {
		t.Fatal(err)
	}
	elsewhere, err := net.Listen("tcp", "127.0.0.1:0")
	must(t, err)
	port := portOf(t, elsewhere.Addr())
	must(t, elsewhere.Close())
	a.comesTo(t, port)
	o.runs(t)
	said.waitFor(t, "Failed to connect to 127.0.0.1:"+port+" for the tls-alpn-01 challenge; see that the name leads here and that port 443 is open")
}

func TestAnAuthorityThatCannotBeReachedIsTold(t *testing.T) {
	a := newAuthority(t)
	a.Close()
	var said lines
	o, err := openTo(t, t.TempDir(), place{listen: "127.0.0.1:0", tls: tlsACME, host: publicName, authority: a.Authority}, &said)
	if err != nil {
		t.Fatal(err)
	}
	o.runs(t)
	if _, err := served(o.listener.Addr().String(), a.roots); err == nil {
		t.Error("it has a certificate")
	}
	said.waitFor(t, strings.TrimPrefix(a.URL, "https://")+" cannot be reached")
}
