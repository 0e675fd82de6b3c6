package certs

import (
	"crypto/tls"
	"crypto/x509"
	"fmt"
	"strings"
	"sync"
	"time"
)

// GetCertificate is that of a tls.Config.
type GetCertificate func(*tls.ClientHelloInfo) (*tls.Certificate, error)

const (
	// toldAgainAfter is how often is told that there is no certificate, and endsAgainAfter that it ends soon.
	toldAgainAfter = time.Minute
	endsAgainAfter = 24 * time.Hour
)

// Watch tells why there is no certificate for a host, once a minute: whoever only sees that phones are
// refused would not find out. Strangers ask for other names, which is nothing to tell. It also tells, once
// a day, of a certificate that should have been renewed and was not, while it still does: from a quarter of
// its time before its end, as it is renewed from a third before. remedy says what may help.
func Watch(host string, get GetCertificate, remedy func() string, now func() time.Time, tell func(error)) GetCertificate {
	var none, ends seldom
	return func(hello *tls.ClientHelloInfo) (*tls.Certificate, error) {
		cert, err := get(hello)
		at := now()
		switch {
		case err != nil && strings.EqualFold(hello.ServerName, host) && none.due(at, toldAgainAfter):
			tell(fmt.Errorf("getting a certificate for %s: %w; %s", host, err, remedy()))
		case err == nil && cert.Leaf != nil && isLate(cert.Leaf, at) && ends.due(at, endsAgainAfter):
			tell(fmt.Errorf("the certificate for %s ends on %s and was not renewed: from then on no phone reaches the farm; %s", host, cert.Leaf.NotAfter.Format(time.DateOnly), remedy()))
		}
		return cert, err
	}
}

// isLate tells whether a certificate is in the last quarter of its time.
func isLate(cert *x509.Certificate, now time.Time) bool {
	return now.After(cert.NotAfter.Add(-cert.NotAfter.Sub(cert.NotBefore) / 4))
}

// seldom lets something be told now and then.
type seldom struct {
	mu   sync.Mutex
	told time.Time // zero for never
}

// due tells whether it may be told, and takes it for told then. After a clock was set back it may at once.
func (s *seldom) due(now time.Time, every time.Duration) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	if since := now.Sub(s.told); !s.told.IsZero() && since >= 0 && since < every {
		return false
	}
	s.told = now
	return true
}
