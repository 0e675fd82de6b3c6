package main

import (
	"crypto/tls"
	"errors"
	"flag"
	"fmt"
	"net"
	"net/netip"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"corymb/server/certs"
	"corymb/server/found"
)

// place is where a farm is to be served, as the command line says it.
type place struct {
	listen    string // empty for the usual address of what the rest asks for
	tls       string // empty, "local", "acme", or two files
	host      string // name that phones call the farm by; empty for the usual one
	proxies   string // addresses, parted by commas
	moves     bool   // the farm's address may change
	ownerLink bool   // an owner is to join though there is one
	// authority gives the certificate of "acme". No flag names one: what phones know is a handful, of which
	// one asks for nothing but the name. Tests have their own.
	authority certs.Authority
}

const (
	deskAddress  = "127.0.0.1:8420"
	farmAddress  = ":8420"
	acmeAddress  = ":443"
	usualHost    = "corymb.local"
	tlsLocal     = "local"
	tlsACME      = "acme"
	certsFolder  = "certs"
	acmeFolder   = "acme"
	oneCertUsage = "-tls takes local, acme, or a certificate and its key as cert.pem,key.pem"
)

// flags adds those of a place to a command.
func (p *place) flags(set *flag.FlagSet) {
	set.StringVar(&p.listen, "listen", "", "the `address` to serve on; port 0 takes any free port (usually "+deskAddress+" without -tls, "+farmAddress+" with it, "+acmeAddress+" with -tls acme)")
	set.StringVar(&p.tls, "tls", p.tls, "serve phones by https: `how` is local, for an authority of the farm's own; cert.pem,key.pem, for a certificate that you keep; or acme, for one from a public authority, whose terms you accept with it")
	set.StringVar(&p.host, "host", "", "the `name` by which phones call the farm (usually "+usualHost+"); an address of this machine where phones cannot find names; with -tls acme and -proxy a public name")
	set.StringVar(&p.proxies, "proxy", "", "`addresses` of reverse proxies before this server, parted by commas: they alone reach it, by plain http, and phones come by https to -host")
	set.BoolVar(&p.moves, "move", false, "let the farm's address change; every phone must have sent what it holds, and joins again")
	set.BoolVar(&p.ownerLink, "owner-link", false, "print a link by which an owner joins, for one who lost every device; where there are several, one for each")
}

// site is a place once it was read and its certificate is there.
type site struct {
	listen  string
	host    string // empty where only this machine is served
	proxies []netip.Prefix
	certs   *certs.Local // nil for none
	tls     *tls.Config  // nil where it serves plain http alone
	named   bool         // the host is one that mDNS can answer to
	public  bool         // phones come by port 443, from which a router may lead to another here
}

// open reads what the command line says, and opens the certificate in a data folder.
func (p place) open(data, before string, tell func(error)) (site, error) {
	s := site{listen: p.listen, host: strings.ToLower(p.host)}
	if err := checkHost(s.host); err != nil {
		return s, err
	}
	var err error
	if s.proxies, err = readProxies(p.proxies); err != nil {
		return s, err
	}
	switch {
	case p.tls == "" && len(s.proxies) > 0:
		return s, s.openProxied()
	case p.tls == "":
		return s, s.openDesk(p.host)
	case len(s.proxies) > 0:
		return s, errors.New("-tls and -proxy cannot both be: a proxy serves https itself")
	case p.tls == tlsACME:
		return s, s.openACME(p, data, tell)
	}
	s.host = firstOf(s.host, hostOf(before), usualHost)
	s.listen = firstOf(p.listen, addressOf(before), farmAddress)
	s.named = strings.HasSuffix(s.host, ".local")
	if p.tls == tlsLocal {
		return s, s.openLocal(data, tell)
	}
	return s, s.openFiles(p.tls, tell)
}

// checkHost refuses what phones cannot call the farm, before anything is made for it.
func checkHost(host string) error {
	if _, err := netip.ParseAddr(host); err == nil || host == "" {
		return nil
	}
	labels := strings.Split(host, ".")
	wrong := slices.ContainsFunc(labels, func(l string) bool {
		return l == "" || len(l) > 63 || strings.Trim(l, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" || l[0] == '-' || l[len(l)-1] == '-'
	})
	if wrong || len(labels) < 2 {
		return fmt.Errorf("-host %s is no name that phones can call the farm: write it like %s or 192.168.7.20, without https:// and port", host, usualHost)
	}
	return nil
}

// addressOf is where a farm listens that phones know by an origin; empty for none.
func addressOf(origin string) string {
	_, port, err := net.SplitHostPort(strings.TrimPrefix(origin, "https://"))
	if err != nil {
		return ""
	}
	return ":" + port
}

// openDesk serves this machine alone: without https anyone on the network could read and write the farm,
// and phones would not install the app.
func (s *site) openDesk(host string) error {
	s.listen = firstOf(s.listen, deskAddress)
	if host != "" {
		return errors.New("-host is for phones, which come by https: add -tls local")
	}
	name, _, err := net.SplitHostPort(s.listen)
	if err != nil {
		return fmt.Errorf("-listen %s is not an address: write it like %s", s.listen, deskAddress)
	}
	if !isLoopback(name) {
		return fmt.Errorf("-listen %s would be open to the network, which needs https: add -tls local, or use 127.0.0.1", s.listen)
	}
	return nil
}

func (s *site) openProxied() error {
	s.listen = firstOf(s.listen, deskAddress)
	if s.host == "" {
		return errors.New("-proxy needs -host, the name by which phones come to the proxy")
	}
	return nil
}

func (s *site) openACME(p place, data string, tell func(error)) error {
	s.listen = firstOf(s.listen, acmeAddress)
	if s.host == "" {
		return errors.New("-tls acme needs -host, the public name for which it gets a certificate")
	}
	if _, err := netip.ParseAddr(s.host); err == nil || strings.HasSuffix(s.host, ".local") {
		return fmt.Errorf("-tls acme needs a public name, and -host %s is none: a public authority vouches for no other; for this network use -tls local", s.host)
	}
	s.public = true
	s.tls = certs.ACME(filepath.Join(data, certsFolder, acmeFolder), s.host, p.authority, time.Now, tell)
	return nil
}

func (s *site) openLocal(data string, tell func(error)) error {
	links, err := found.Links()
	if err != nil {
		return err
	}
	reach := found.ReachOf(links)
	names := certs.Names{Addresses: reach.Addresses()}
	networks := reach.Networks()
	if address, err := netip.ParseAddr(s.host); err == nil {
		names.Addresses = append(names.Addresses, address)
		networks = append(networks, netip.PrefixFrom(address, address.BitLen()))
	} else {
		names.Hosts = []string{s.host}
	}
	if s.certs, err = certs.OpenLocal(filepath.Join(data, certsFolder), names, networks, time.Now, tell); err != nil {
		return err
	}
	if !s.certs.Names().Includes(s.host) {
		return fmt.Errorf("the farm's authority in %s may not sign for %s: it was made for other names, and phones trust it for those alone; start with such a name, or move the folder away and let every phone trust a new one", filepath.Join(data, certsFolder), s.host)
	}
	s.tls = &tls.Config{GetCertificate: s.certs.GetCertificate}
	return nil
}

func (s *site) openFiles(names string, tell func(error)) error {
	cert, key, ok := strings.Cut(names, ",")
	if !ok {
		return fmt.Errorf("-tls %s cannot be understood: %s", names, oneCertUsage)
	}
	files, err := certs.OpenFiles(cert, key, time.Now, tell)
	if err != nil {
		return err
	}
	if err := files.VerifyHostname(s.host); err != nil {
		return fmt.Errorf("the certificate in %s is not for %s: name its own with -host (%w)", cert, s.host, err)
	}
	remedy := func() string { return "put a new one with its key into " + cert + " and " + key }
	s.tls = &tls.Config{GetCertificate: certs.Watch(s.host, files.GetCertificate, remedy, time.Now, tell)}
	return nil
}

// origin is what phones know the farm by, once it is known on which port it listens.
func (s site) origin(listener net.Addr) string {
	_, port, _ := net.SplitHostPort(listener.String()) // a listener's address has a port
	switch {
	case s.host == "":
		return "http://" + listener.String()
	case len(s.proxies) > 0 || s.public || port == "443":
		return "https://" + bracketed(s.host)
	}
	return "https://" + net.JoinHostPort(s.host, port)
}

// desk is where the app is on this machine itself; empty where that is not served.
func (s site) desk(listener net.Addr) string {
	if len(s.proxies) > 0 {
		return ""
	}
	host, port, _ := net.SplitHostPort(listener.String()) // as above
	ip := net.ParseIP(host)
	switch {
	case ip != nil && ip.IsLoopback():
		return "http://" + listener.String()
	case ip == nil || ip.IsUnspecified():
		return "http://" + net.JoinHostPort("127.0.0.1", port)
	}
	return ""
}

// readProxies reads addresses and networks.
func readProxies(list string) ([]netip.Prefix, error) {
	var proxies []netip.Prefix
	for text := range strings.SplitSeq(list, ",") {
		if text = strings.TrimSpace(text); text == "" {
			continue
		}
		if address, err := netip.ParseAddr(text); err == nil {
			proxies = append(proxies, netip.PrefixFrom(address.Unmap(), address.Unmap().BitLen()))
			continue
		}
		network, err := netip.ParsePrefix(text)
		if err != nil {
			return nil, fmt.Errorf("-proxy %s is no address: write it like 192.168.7.2, or 192.168.7.0/24", text)
		}
		proxies = append(proxies, network)
	}
	return proxies, nil
}

// hostOf is the name in an origin; empty for none.
func hostOf(origin string) string {
	host := strings.TrimPrefix(strings.TrimPrefix(origin, "https://"), "http://")
	if name, _, err := net.SplitHostPort(host); err == nil {
		return name
	}
	return strings.Trim(host, "[]")
}

// bracketed is a host as it stands in a URL.
func bracketed(host string) string {
	if strings.Contains(host, ":") {
		return "[" + host + "]"
	}
	return host
}

func firstOf(texts ...string) string {
	for _, text := range texts {
		if text != "" {
			return text
		}
	}
	return ""
}

// isLoopback tells whether a host name is this machine's own.
func isLoopback(host string) bool {
	host = strings.Trim(host, "[]")
	ip := net.ParseIP(host)
	return strings.EqualFold(host, "localhost") || ip != nil && ip.IsLoopback()
}
