package certs

import (
	"crypto/tls"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"
)

func TestWhyThereIsNoCertificateIsToldNowAndThen(t *testing.T) {
	c := &clock{noon}
	var told []string
	get := Watch("farm.example", func(*tls.ClientHelloInfo) (*tls.Certificate, error) { return nil, errors.New("no such directory") },
		func() string { return "open the port" }, c.now, func(err error) { told = append(told, err.Error()) })
	for _, ask := range []struct {
		name  string
		later time.Duration
	}{{"stranger.example", 0}, {"farm.example", 0}, {"farm.example", 0}, {"Farm.example", time.Minute}, {"farm.example", -time.Hour}} {
		c.at = c.at.Add(ask.later)
		if _, err := get(&tls.ClientHelloInfo{ServerName: ask.name}); err == nil {
			t.Error("there is one")
		}
	}
	if want := "getting a certificate for farm.example: no such directory; open the port"; !slices.Equal(told, []string{want, want, want}) {
		t.Errorf("it told %q", told)
	}
}

// Let's Encrypt's last 90 days and are renewed from the 60th on; the times are days.
func TestACertificateThatWasNotRenewedIsToldBeforeItEnds(t *testing.T) {
	const day = 24 * time.Hour
	authority, err := newAuthority([]string{"farm.example"}, nil, noon)
	if err != nil {
		t.Fatal(err)
	}
	p, err := authority.sign(Names{Hosts: []string{"farm.example"}}, noon)
	if err != nil {
		t.Fatal(err)
	}
	p.cert.NotBefore, p.cert.NotAfter = noon, noon.Add(90*day)
	c := &clock{noon}
	var told []string
	get := Watch("farm.example", func(*tls.ClientHelloInfo) (*tls.Certificate, error) { return &tls.Certificate{Leaf: p.cert}, nil },
		func() string { return "open the port" }, c.now, func(err error) { told = append(told, err.Error()) })
	for _, ask := range []struct {
		at   time.Duration
		told int
	}{{0, 0}, {60 * day, 0}, {67 * day, 0}, {68 * day, 1}, {68*day + time.Hour, 1}, {69 * day, 2}, {91 * day, 3}} {
		c.at = noon.Add(ask.at)
		if _, err := get(&tls.ClientHelloInfo{ServerName: "farm.example"}); err != nil {
			t.Fatal(err)
		}
		if len(told) != ask.told {
			t.Errorf("after %s it was told %d times: %q", ask.at, len(told), told)
		}
	}
	if !strings.Contains(told[0], "ends on 2026-09-08") || !strings.Contains(told[0], "open the port") {
		t.Errorf("it told %q", told[0])
	}
}
