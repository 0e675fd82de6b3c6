package certs

import (
	"crypto/tls"

	"golang.org/x/crypto/acme"
	"golang.org/x/crypto/acme/autocert"
)

// ACME gets and renews a certificate for a public host from an authority that speaks ACME (RFC 8555),
// which must reach the server at that name on port 443, and keeps it in a folder. An empty directory is
// that of Let's Encrypt, whose terms are taken for accepted.
func ACME(dir, host, directory string) *tls.Config {
	manager := &autocert.Manager{
		Prompt: autocert.AcceptTOS, Cache: autocert.DirCache(dir), HostPolicy: autocert.HostWhitelist(host),
	}
	if directory != "" {
		manager.Client = &acme.Client{DirectoryURL: directory}
	}
	return manager.TLSConfig()
}
