package certs

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"crypto/x509/pkix"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"net"
	"net/netip"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

const (
	// A phone is told once to trust the authority, which is meant to outlast it.
	authorityFor = 10 * 365 * 24 * time.Hour
	// iOS takes certificates of at most 825 days from an authority that a person added
	// (https://support.apple.com/en-us/103769, from memory); shorter is safer.
	serverFor = 397 * 24 * time.Hour
	// backdated is how far a phone's clock may be behind.
	backdated = 48 * time.Hour
)

// leastNow is about when this was written: a clock that shows less is wrong. Machines whose battery is empty begin in
// 1970, or in the year they were built.
var leastNow = time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)

// renewFrom is when two thirds of a certificate's time are over.
func renewFrom(cert *x509.Certificate) time.Time {
	return cert.NotBefore.Add(cert.NotAfter.Sub(cert.NotBefore) * 2 / 3)
}

// openAuthority reads the authority, or makes it where there is none. One that cannot be read is not
// replaced: phones trust it.
func openAuthority(dir string, hosts []string, networks []netip.Prefix, now time.Time) (pair, error) {
	certPath, keyPath := filepath.Join(dir, AuthorityFile), filepath.Join(dir, authorityKeyFile)
	held, err := readPair(certPath, keyPath)
	switch {
	case now.Before(leastNow):
		return pair{}, fmt.Errorf("this machine's clock says %s, which cannot be: set it, and start again; what is made and recorded now would have a wrong date", now.Format(time.DateOnly))
	case err == nil && now.Before(held.cert.NotBefore):
		return pair{}, fmt.Errorf("the farm's authority in %s begins on %s, and this machine's clock says %s: set the clock if it is wrong; if it is right it was wrong when the authority was made, so move the folder away, and let every phone trust a new one", dir, held.cert.NotBefore.Format(time.DateOnly), now.Format(time.DateOnly))
	case err == nil && now.After(held.cert.NotAfter):
		return pair{}, fmt.Errorf("the farm's authority in %s ended on %s: move the folder away, and let every phone trust the new one", dir, held.cert.NotAfter.Format(time.DateOnly))
	case err == nil:
		return held, nil
	case !errors.Is(err, fs.ErrNotExist):
		return pair{}, fmt.Errorf("reading the farm's authority: %w; put back its two files from a backup, or move the folder away and let every phone trust a new one", err)
	}
	if _, err := os.Stat(certPath); err == nil {
		return pair{}, fmt.Errorf("the key of the farm's authority, %s, is gone: put it back from a backup, or move the folder away and let every phone trust a new one", keyPath)
	}
	made, err := newAuthority(hosts, networks, now)
	if err == nil {
		err = made.write(certPath, keyPath)
	}
	if err != nil {
		return pair{}, fmt.Errorf("making the farm's authority: %w", err)
	}
	return made, nil
}

// newAuthority makes an authority that may sign for some names alone, by the name constraints of RFC
// 5280, section 4.2.1.10: whoever trusts it does not trust it for any other place.
func newAuthority(hosts []string, networks []netip.Prefix, now time.Time) (pair, error) {
	template := &x509.Certificate{
		Subject:   pkix.Name{CommonName: "Corymb, the farm's own authority", Organization: []string{strings.Join(hosts, " ")}},
		NotBefore: now.Add(-backdated), NotAfter: now.Add(authorityFor),
		IsCA: true, BasicConstraintsValid: true, MaxPathLenZero: true,
		KeyUsage:                    x509.KeyUsageCertSign | x509.KeyUsageCRLSign,
		PermittedDNSDomainsCritical: true, PermittedDNSDomains: hosts,
		PermittedIPRanges: rangesOf(networks),
	}
	if len(hosts) == 0 { // no constraint would mean any name
		template.ExcludedDNSDomains = []string{""}
	}
	if len(networks) == 0 {
		template.ExcludedIPRanges = rangesOf([]netip.Prefix{netip.MustParsePrefix("0.0.0.0/0"), netip.MustParsePrefix("::/0")})
	}
	// Nor for people's mail or for web addresses by themselves.
	template.ExcludedEmailAddresses, template.ExcludedURIDomains = []string{""}, []string{""}
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return pair{}, err
	}
	return issue(template, template, key, key)
}

func rangesOf(networks []netip.Prefix) []*net.IPNet {
	var ranges []*net.IPNet
	for _, n := range networks {
		n = n.Masked()
		ranges = append(ranges, &net.IPNet{IP: n.Addr().AsSlice(), Mask: net.CIDRMask(n.Bits(), n.Addr().BitLen())})
	}
	return ranges
}

// sign gives a server a new key and a certificate.
func (authority pair) sign(names Names, now time.Time) (pair, error) {
	until := now.Add(serverFor)
	if until.After(authority.cert.NotAfter) {
		until = authority.cert.NotAfter
	}
	template := &x509.Certificate{
		Subject:   pkix.Name{CommonName: "Corymb"},
		NotBefore: now.Add(-backdated), NotAfter: until,
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		DNSNames: names.Hosts,
	}
	for _, a := range names.Addresses {
		template.IPAddresses = append(template.IPAddresses, a.AsSlice())
	}
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return pair{}, err
	}
	return issue(template, authority.cert, key, authority.key)
}

// mayName is what of some names the authority may sign for.
func (authority pair) mayName(names Names) Names {
	var may Names
	for _, host := range names.Hosts {
		if slices.ContainsFunc(authority.cert.PermittedDNSDomains, func(d string) bool { return within(host, d) }) {
			may.Hosts = append(may.Hosts, host)
		}
	}
	for _, a := range names.Addresses {
		if slices.ContainsFunc(authority.cert.PermittedIPRanges, func(n *net.IPNet) bool { return n.Contains(a.AsSlice()) }) {
			may.Addresses = append(may.Addresses, a)
		}
	}
	return may
}

// within tells whether a host is a domain or lies under it.
func within(host, domain string) bool {
	return strings.EqualFold(host, domain) || strings.HasSuffix(strings.ToLower(host), "."+strings.ToLower(domain))
}

// issue signs a certificate for a key.
func issue(template, by *x509.Certificate, key, byKey *ecdsa.PrivateKey) (pair, error) {
	serial, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 127))
	if err != nil {
		return pair{}, err
	}
	template.SerialNumber = serial
	der, err := x509.CreateCertificate(rand.Reader, template, by, &key.PublicKey, byKey)
	if err != nil {
		return pair{}, err
	}
	cert, err := x509.ParseCertificate(der)
	return pair{cert, key}, err
}
