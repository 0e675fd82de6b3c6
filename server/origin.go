package main

import (
	"context"
	"errors"
	"fmt"
	"net/netip"
	"slices"
	"strings"
	"time"

	"corymb/internal/access"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/server/found"
	"corymb/server/pages"
)

// settleOrigin holds the farm to the address that phones first knew it by: a browser keeps what it
// recorded by scheme, host and port, and under another address a phone would not find its own records.
func (s *server) settleOrigin(ctx context.Context, before string, moves bool) error {
	if s.site.host == "" && before != "" {
		fmt.Fprintf(s.out, "Only this machine is served. For phones, which know the farm as %s, start it as before, mostly with -tls local.\n", before)
	}
	if s.site.host == "" || before == s.origin {
		return nil
	}
	if before == "" {
		fmt.Fprintf(s.out, "From now on this farm's address is %s. Phones keep their records under it, so it stays the same.\n", s.origin)
		return s.farm.SetOrigin(ctx, s.origin)
	}
	holding, err := s.devicesWithUnsent(ctx)
	if err != nil {
		return err
	}
	if !moves {
		return fmt.Errorf("this farm's address is %s, and phones would not find their records under %s%s; start it with -host %s -listen %s, or, once every phone has sent what it holds, add -move",
			before, s.origin, holding, hostOf(before), firstOf(addressOf(before), acmeAddress))
	}
	fmt.Fprintf(s.out, "The farm's address was %s and is now %s. Every phone joins again there; what it has not sent stays under the old address and can be saved to a file there%s.\n", before, s.origin, holding)
	return s.farm.SetOrigin(ctx, s.origin)
}

// devicesWithUnsent names the devices that said last that they hold what was not sent, to go on a
// sentence with.
func (s *server) devicesWithUnsent(ctx context.Context) (string, error) {
	devices, err := s.farm.Devices(ctx)
	devices = slices.DeleteFunc(devices, func(d access.Device) bool { return d.Unsent == 0 })
	if err != nil || len(devices) == 0 {
		return "", err
	}
	var told []string
	for _, d := range devices {
		told = append(told, fmt.Sprintf("%s (%d, told on %s)", firstOf(d.Label, d.ID), d.Unsent, d.Seen.Format("2 January 15:04")))
	}
	return "; these held changes that were not sent: " + strings.Join(told, ", "), nil
}

// sayWhere says where the farm is, to people and to phones. The last line is the one that programs wait
// for.
func (s *server) sayWhere() {
	if s.site.host == "" {
		fmt.Fprintf(s.out, "Corymb is at %s\n", s.origin)
		return
	}
	if code, err := found.QR(s.firstStep()); err == nil {
		fmt.Fprintf(s.out, "\nA phone begins here: %s\n\n%s\n", s.firstStep(), code.Terminal())
	}
	if _, fingerprint := s.trust(); fingerprint != "" {
		fmt.Fprintf(s.out, "There, compare the fingerprint of the farm's authority: %s\n", fingerprint)
	}
	fmt.Fprintf(s.out, "Phones come to %s\n", s.origin)
	s.sayIfNotFound()
	fmt.Fprintf(s.out, "Corymb is at %s\n", s.here())
}

// here is where a browser on this machine finds the app.
func (s *server) here() string { return firstOf(s.site.desk(s.listener.Addr()), s.origin) }

// sayIfNotFound says what to do where phones cannot find the farm by its name.
func (s *server) sayIfNotFound() {
	links, err := found.Links()
	addresses := found.ReachOf(links).Addresses()
	if err != nil {
		return // without the networks nothing is known
	}
	if elsewhere := notHere(s.site, links); elsewhere != "" {
		fmt.Fprintln(s.out, elsewhere)
	}
	if !s.site.named || len(addresses) == 0 {
		return
	}
	fmt.Fprintf(s.out, "A phone that does not find %s is on another network than this machine, or is one that cannot find such names. For those, give this machine a fixed address in the router, and start with -host %s -move before the first phone joins.\n", s.site.host, addresses[0])
}

// notHere says that phones are to come to an address that this machine does not have; empty where it has it.
// It may get it later, and a router may lead to it, so that it is no error.
func notHere(of site, links []found.Link) string {
	address, err := netip.ParseAddr(of.host)
	if err != nil || len(of.proxies) > 0 || address.IsLoopback() {
		return ""
	}
	var has []string
	for _, link := range links {
		for _, p := range link.Addresses {
			if p.Addr().WithZone("") == address.Unmap() {
				return ""
			}
		}
	}
	for _, a := range found.ReachOf(links).Addresses() {
		has = append(has, a.String())
	}
	return fmt.Sprintf("Phones are to come to %s, which is not an address of this machine (it has %s): they will not find the farm. Give this machine that address in the router, or, before the first phone joins, start with an address of its own: -host ADDRESS -move.",
		of.host, firstOf(strings.Join(has, ", "), "none that phones could reach"))
}

// firstStep is where a phone goes first: to learn to trust the farm, where it must.
func (s *server) firstStep() string {
	link, _ := s.trust()
	return firstOf(link, s.origin)
}

// trust is where a phone learns to trust the farm's own authority, and its fingerprint; empty for none.
func (s *server) trust() (link, fingerprint string) {
	if s.site.certs == nil {
		return "", ""
	}
	link = strings.Replace(s.origin, "https://", "http://", 1)
	if addressOf(s.origin) == "" {
		link += acmeAddress // plain http is on the port of https, which an address leaves out
	}
	link += pages.TrustPath
	return link, pages.Fingerprint(s.site.certs.Authority())
}

// pages are those for phones that do not have the app yet.
func (s *server) pages() (*pages.Pages, error) {
	config := pages.Config{
		Origin: s.origin, Here: s.site.desk(s.listener.Addr()), FarmName: s.farmName,
		QR: func(text string) (string, error) {
			code, err := found.QR(text)
			return code.SVG(), err
		},
	}
	if local := s.site.certs; local != nil {
		config.AuthorityDER, config.Names, config.Networks = local.Authority(), local.Hosts(), local.Networks()
	}
	return pages.New(config)
}

// farmName is what the farm is called; empty where it has no name yet.
func (s *server) farmName() string {
	state, err := s.farm.Entity(context.Background(), farm.TypeFarm, s.farm.Farm())
	if err != nil {
		s.logger.Error("the farm's name could not be read", "error", err)
		return ""
	}
	return farm.Read(crop.FarmID(s.farm.Farm()), state).Name
}

// answerName answers to the farm's name in the networks around, where it is one for that, until the
// context ends.
func (s *server) answerName(ctx context.Context) {
	if !s.site.named {
		return
	}
	poll := time.NewTicker(30 * time.Second)
	defer poll.Stop()
	found.Answer(ctx, found.Config{
		Name: s.site.host, Links: found.Links, Poll: poll.C,
		Tell: func(err error) {
			switch {
			case err == nil:
				s.logger.Info("phones find the farm by its name", "name", s.site.host)
			case errors.Is(err, found.ErrNoNetwork), errors.Is(err, found.ErrTaken):
				s.logger.Warn("phones do not find the farm by its name", "error", err)
			default:
				s.logger.Warn("phones may not find the farm by its name", "error", err)
			}
		},
	})
}
