package certs

import (
	"crypto/tls"
	"fmt"
	"os"
	"sync"
	"time"
)

// lookAgainAfter is how long files are not looked at again.
const lookAgainAfter = 10 * time.Second

// Files is a certificate that somebody else renews in two files, which are read again when they change.
// It is safe for concurrent use.
type Files struct {
	certPath, keyPath string
	now               func() time.Time
	tell              func(error)

	mu     sync.Mutex
	served *tls.Certificate
	state  [2]fileState // of what was last read, whether it could be or not
	looked time.Time
}

// fileState tells whether a file is another than before.
type fileState struct {
	at   time.Time
	size int64
}

// OpenFiles reads a certificate with its chain, and its key, as PEM. Where they cannot be read again
// later, tell is called once for each change, and the last that could be read stays.
func OpenFiles(certPath, keyPath string, now func() time.Time, tell func(error)) (*Files, error) {
	f := &Files{certPath: certPath, keyPath: keyPath, now: now, tell: tell}
	f.looked, f.state = now(), f.look()
	served, err := f.read()
	if err != nil {
		return nil, fmt.Errorf("reading the certificate: %w; name its file and that of its key with -tls cert.pem,key.pem", err)
	}
	f.served = served
	return f, nil
}

// GetCertificate is for tls.Config.
func (f *Files) GetCertificate(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if now := f.now(); now.Sub(f.looked) >= lookAgainAfter {
		f.looked = now
		f.readIfChanged()
	}
	return f.served, nil
}

// VerifyHostname tells whether the certificate is for a host; the error says for which it is.
func (f *Files) VerifyHostname(host string) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.served.Leaf.VerifyHostname(host)
}

func (f *Files) readIfChanged() {
	state := f.look()
	if state == f.state {
		return
	}
	f.state = state
	served, err := f.read()
	if err != nil {
		f.tell(fmt.Errorf("reading the changed certificate: %w; the one before it is served on", err))
		return
	}
	f.served = served
}

func (f *Files) look() (state [2]fileState) {
	for i, path := range []string{f.certPath, f.keyPath} {
		if info, err := os.Stat(path); err == nil { // what is missing is told when it is read
			state[i] = fileState{info.ModTime(), info.Size()}
		}
	}
	return state
}

func (f *Files) read() (*tls.Certificate, error) {
	cert, err := tls.LoadX509KeyPair(f.certPath, f.keyPath)
	return &cert, err
}
