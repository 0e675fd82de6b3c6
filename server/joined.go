package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/netip"

	"corymb/server/httpapi"
	"corymb/server/joining"
	"corymb/server/live"
	"corymb/syncproto"
)

// admission lets the devices that joined a farm hold conversations.
func admission(farm string, desk *joining.Desk) func(*http.Request) (live.Member, error) {
	return func(r *http.Request) (live.Member, error) {
		device, grant, err := desk.Who(r.Context(), httpapi.TokenOf(r, farm, came(r).Secure))
		var refusal *joining.Refusal
		if errors.As(err, &refusal) {
			return live.Member{}, syncproto.Breachf(syncproto.Code(refusal.Code), "%s", refusal.Text)
		}
		return live.Member{Device: device.ID, Person: device.Person, Scopes: grant.Role.Scopes(), Rights: grant}, err
	}
}

// hangUp ends the conversations of a device, or of all.
func hangUp(phones *live.Server) func(device string) {
	return func(device string) {
		phones.HangUp(func(m live.Member) bool { return device == "" || m.Device == device })
	}
}

// came tells from where a request came.
func came(r *http.Request) httpapi.Came {
	remote, _ := netip.ParseAddrPort(r.RemoteAddr) // of what is no address nothing is known
	from := remote.Addr().Unmap()
	return httpapi.Came{From: from, AtDesk: from.IsLoopback(), Secure: r.TLS != nil}
}

// inviteOwner says how the first owner joins, or one again where no device of an owner is left.
func inviteOwner(ctx context.Context, desk *joining.Desk, origin string, out io.Writer) error {
	needed, err := desk.NeedsOwner(ctx)
	if err != nil || !needed || desk.IsOpen() {
		return err
	}
	code, err := desk.FirstOwner(ctx)
	if err == nil {
		fmt.Fprintf(out, "No device of an owner has joined this farm. To be its owner, open this once: %s/#join/%s\n", origin, code)
	}
	return err
}
