package main

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/netip"
	"slices"
	"strings"

	"corymb/internal/access"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/server/door"
	"corymb/server/found"
	"corymb/server/httpapi"
	"corymb/server/joining"
	"corymb/server/live"
	"corymb/syncproto"
)

// admit lets the devices that joined the farm hold conversations.
func (s *server) admit(r *http.Request) (live.Member, error) {
	device, grant, err := s.desk.Who(r.Context(), httpapi.TokenOf(r, s.farm.Farm(), s.came(r).Secure))
	var refusal *joining.Refusal
	if errors.As(err, &refusal) {
		return live.Member{}, syncproto.Breachf(syncproto.Code(refusal.Code), "%s", refusal.Text)
	}
	return live.Member{Device: device.ID, Person: device.Person, Scopes: grant.Role.Scopes(), Rights: grant}, err
}

// hangUp ends the conversations of a device, or of all where it is empty.
func (s *server) hangUp(device string) {
	s.phones.HangUp(func(m live.Member) bool { return device == "" || m.Device == device })
}

// came tells from where a request came. A proxy says for whom it asks, and that is the last that the
// header names: what stands before it, whoever asked may have written.
func (s *server) came(r *http.Request) httpapi.Came {
	remote, _ := netip.ParseAddrPort(r.RemoteAddr) // of what is no address nothing is known
	from := remote.Addr().Unmap()
	if s.isProxy(from) {
		named := r.Header.Values("X-Forwarded-For")
		last := strings.TrimSpace(lastOf(strings.Split(strings.Join(named, ","), ",")))
		client, _ := netip.ParseAddr(last) // one that names nobody is one address for all
		return httpapi.Came{From: client.Unmap(), Secure: true}
	}
	return httpapi.Came{From: from, AtDesk: from.IsLoopback() && len(s.site.proxies) == 0, Secure: r.TLS != nil}
}

func (s *server) cameSecure(r *http.Request) bool { return s.came(r).Secure }

func (s *server) isProxy(address netip.Addr) bool {
	return slices.ContainsFunc(s.site.proxies, func(p netip.Prefix) bool { return p.Contains(address) })
}

// manyComeBy tells whether an address is that of many people, and not of one.
func (s *server) manyComeBy(address netip.Addr) bool {
	return s.isProxy(address) || address.IsLoopback()
}

func lastOf(texts []string) string { return texts[len(texts)-1] }

// isCalled tells whether the app answers to a host name, without its port.
func (s *server) isCalled(host string) bool {
	if s.site.host != "" && strings.EqualFold(strings.Trim(host, "[]"), s.site.host) {
		return true
	}
	return len(s.site.proxies) == 0 && isLoopback(host)
}

// inviteOwner says how the first owner joins, or one again where no device of an owner is left. Which of
// several it is cannot be known: each has a link, and nobody becomes an owner without a name.
func (s *server) inviteOwner(ctx context.Context, wanted bool) error {
	needed, err := s.desk.NeedsOwner(ctx)
	// What was put back may be on another machine, whose browser has joined nothing.
	if err != nil || s.desk.IsOpen() || !needed && !wanted && !s.farm.Restored() {
		return err
	}
	made, err := s.desk.InviteOwners(ctx)
	if err != nil {
		return err
	}
	if len(made) == 1 {
		s.ownerLink = s.joinLink(made[0])
		fmt.Fprintf(s.out, "To become an owner of this farm, open this once, and show it to nobody: %s\n", s.ownerLink)
		return nil
	}
	fmt.Fprintln(s.out, "To come to this farm again as one of its owners, open yours of these, and show them to nobody. With the first that is opened all end:")
	for _, of := range made {
		fmt.Fprintf(s.out, "  %s: %s\n", s.nameOf(ctx, of.Owner), s.joinLink(of))
	}
	return nil
}

func (s *server) joinLink(of joining.OwnerCode) string { return s.here() + "/#join/" + of.Code }

// nameOf is what a person is called: as the farm knows it, else as an invitation had it.
func (s *server) nameOf(ctx context.Context, of access.Member) string {
	state, err := s.farm.Entity(ctx, farm.TypePerson, of.Person)
	if err != nil {
		s.logger.Error("an owner's name could not be read", "error", err)
	}
	known := farm.Read(crop.FarmID(s.farm.Farm()), state).People[crop.PersonID(of.Person)].Name
	return firstOf(known, of.Name, "an owner without a name ("+of.Person+")")
}

// rowsOfQR is the code of a text without its border, a digit for each module.
func rowsOfQR(text string) ([]string, error) {
	code, err := found.QR(text)
	return code.Rows(), err
}

// beforeApp lets only those reach the app who come to the farm's own address by https, or from this
// machine, or by the proxy. All others get a page that says where the farm is.
func (s *server) beforeApp(app http.Handler) (http.Handler, error) {
	if s.site.host == "" {
		return app, nil
	}
	p, err := s.pages()
	if err != nil {
		return nil, err
	}
	if len(s.site.proxies) > 0 {
		return p.Before(door.Plain(app, p.Explain(), s.isProxy)), nil
	}
	secure := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !strings.EqualFold("https://"+r.Host, s.origin) {
			p.Elsewhere().ServeHTTP(w, r)
			return
		}
		app.ServeHTTP(w, r)
	})
	plain := door.Plain(app, p.Explain(), door.Trusted(nil))
	return p.Before(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch {
		case r.TLS != nil:
			secure.ServeHTTP(w, r)
		case isLoopback(hostOf(r.Host)):
			plain.ServeHTTP(w, r)
		default: // also from this machine, for which the system may know the farm's name too
			p.Explain().ServeHTTP(w, r)
		}
	})), nil
}
