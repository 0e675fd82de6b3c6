package certs

import (
	"os"
	"path/filepath"
	"testing"
	"time"
)

// written writes a certificate for a host, as another program would.
func written(t *testing.T, certPath, keyPath, host string, at time.Time) {
	t.Helper()
	authority, err := newAuthority([]string{host}, nil, at)
	if err != nil {
		t.Fatal(err)
	}
	p, err := authority.sign(Names{Hosts: []string{host}}, at)
	if err == nil {
		err = p.write(certPath, keyPath)
	}
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(certPath, at, at); err != nil {
		t.Fatal(err)
	}
}

func TestFilesAreReadAgainWhenTheyChange(t *testing.T) {
	dir, c := t.TempDir(), &clock{noon}
	certPath, keyPath := filepath.Join(dir, "cert.pem"), filepath.Join(dir, "key.pem")
	written(t, certPath, keyPath, "one.example", c.at)
	var told []error
	f, err := OpenFiles(certPath, keyPath, c.now, func(err error) { told = append(told, err) })
	if err != nil {
		t.Fatal(err)
	}
	serves := func(host string) {
		t.Helper()
		c.at = c.at.Add(time.Minute)
		cert, err := f.GetCertificate(nil)
		if err != nil || cert.Leaf.VerifyHostname(host) != nil {
			t.Errorf("it does not serve %s (%v)", host, err)
		}
	}
	serves("one.example")
	written(t, certPath, keyPath, "two.example", c.at)
	serves("two.example")
	if err := os.WriteFile(keyPath, []byte("half"), 0o600); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		serves("two.example")
	}
	if len(told) != 1 {
		t.Errorf("of a file that cannot be read it told %d times: %v", len(told), told)
	}
	written(t, certPath, keyPath, "three.example", c.at)
	serves("three.example")
}

func TestFilesThatCannotBeReadAtTheStartAreSaid(t *testing.T) {
	if _, err := OpenFiles("none.pem", "none-key.pem", time.Now, nil); err == nil {
		t.Error("it starts without a certificate")
	}
}
