// Package joining lets devices join a farm: invitations by a short code, the tokens that devices then
// carry, and what each may do.
package joining

import (
	"context"
	"crypto/rand"
	"encoding/base64"
	"errors"
	"fmt"
	"net/netip"
	"slices"
	"sync"
	"time"

	"github.com/google/uuid"

	"corymb/internal/access"
)

// Records keeps who may come. Nothing in it can be used to come in someone's place.
type Records interface {
	Members(ctx context.Context) ([]access.Member, error)
	Devices(ctx context.Context) ([]access.Device, error)
	// DeviceOf finds the device that carries a token, and what it may do; one that was withdrawn too.
	DeviceOf(ctx context.Context, token access.Digest) (access.Device, access.Grant, bool, error)
	Invite(ctx context.Context, invitation access.Invitation, code access.Digest) error
	// Redeem takes an invitation, once.
	Redeem(ctx context.Context, code access.Digest) (access.Invitation, bool, error)
	// Admit lets a device come under a token, or says that its id is another's.
	Admit(ctx context.Context, member access.Member, device access.Device, token, held access.Digest) (bool, error)
}

// Desk is where devices join. It is safe for concurrent use.
type Desk struct {
	records Records
	now     func() time.Time
	tries   *tries

	mu     sync.Mutex
	owners map[access.Digest]access.Member // whom the server's own codes are for, kept in memory alone
	open   string                          // person for whom anybody at this machine may join; empty for none
}

// New makes a desk.
func New(records Records, now func() time.Time) *Desk {
	return &Desk{records: records, now: now, tries: newTries(now)}
}

// Refusal is why somebody may not do something. Its text is a sentence for people.
type Refusal struct{ Code, Text string }

func (r *Refusal) Error() string { return r.Text }

// Codes of Refusal.
const (
	CodeJoin      = "join"      // the device has not joined
	CodeWithdrawn = "withdrawn" // the device was withdrawn
	CodeCode      = "code"      // no invitation has that code
	CodeWait      = "wait"      // too many codes were tried
	CodeLastOwner = "last_owner"
)

var (
	notJoined   = &Refusal{CodeJoin, "This device has not joined the farm. What it holds stays on it. Ask an owner for a code."}
	forgotten   = &Refusal{CodeJoin, "This device was not heard of for more than a year and a half, so it has to join again. What it holds stays on it, and is sent once it has joined. Ask an owner for a code."}
	withdrawn   = &Refusal{CodeWithdrawn, "An owner of the farm has withdrawn this device. What it holds stays on it and can be saved to a file. Ask an owner for a code to join again."}
	noSuchCode  = &Refusal{CodeCode, "That code lets nobody in: it was mistyped, used already, or is older than ten minutes. Nothing was changed. Ask an owner for a new one."}
	lastOwner   = &Refusal{CodeLastOwner, "This is the last device of the farm's last owner, so it cannot become somebody else's. Nothing was changed but that the code is used up. Let another owner join first."}
	tooManyCode = &Refusal{CodeWait, "Too many codes were tried. Nothing was changed. Wait a few minutes and try again."}
)

// Asks is what a device says that wants to join.
type Asks struct {
	Code   string
	Device string // its id
	Label  string // what people call it
	Token  string // that it carries already, empty for none
	From   netip.Addr
	AtDesk bool // it is a browser on the server's own machine
}

// Joined is what a device is told once.
type Joined struct {
	Token  string
	Device access.Device
	Member access.Member
}

// Who tells which device carries a token and what it may do. The error is a *Refusal where it may nothing;
// one that was withdrawn, or was not heard of for too long, is told all the same.
func (d *Desk) Who(ctx context.Context, token string) (access.Device, access.Grant, error) {
	if token == "" {
		return access.Device{}, access.Grant{}, notJoined
	}
	device, grant, ok, err := d.records.DeviceOf(ctx, access.DigestOf(token))
	switch {
	case err != nil:
		return access.Device{}, access.Grant{}, err
	case !ok:
		return access.Device{}, access.Grant{}, notJoined
	case !device.Withdrawn.IsZero():
		return device, access.Grant{}, withdrawn
	case device.IsForgotten(d.now()):
		return device, access.Grant{}, forgotten
	}
	return device, grant, nil
}

// Invite makes an invitation for a person, who keeps the role that they have if they have one. The code
// is told now and never again.
func (d *Desk) Invite(ctx context.Context, person, name string, role access.Role) (code string, invitation access.Invitation, err error) {
	members, err := d.records.Members(ctx)
	if err != nil {
		return "", invitation, err
	}
	for _, m := range members {
		if m.Person == person {
			role = m.Role
		}
	}
	code = newCode(codeLength)
	invitation = access.Invitation{ID: uuid.NewString(), Person: person, Name: name, Role: role, Expires: d.now().Add(access.InvitedFor)}
	return code, invitation, d.records.Invite(ctx, invitation, access.DigestOf(code))
}

// Join lets a device in by its code. The error is a *Refusal where the code does not do.
func (d *Desk) Join(ctx context.Context, asks Asks) (Joined, error) {
	member, err := d.redeem(ctx, asks)
	if err != nil {
		return Joined{}, err
	}
	token := newToken()
	device := access.Device{ID: asks.Device, Person: member.Person, Label: asks.Label, Joined: d.now()}
	admitted, err := d.records.Admit(ctx, member, device, access.DigestOf(token), access.DigestOf(asks.Token))
	if err == nil && !admitted { // a copy of a device, or somebody who says so: it gets an id of its own
		device.ID = uuid.NewString()
		admitted, err = d.records.Admit(ctx, member, device, access.DigestOf(token), access.Digest{})
	}
	if errors.Is(err, access.ErrLastOwner) {
		err = lastOwner
	}
	if err == nil && !admitted {
		err = fmt.Errorf("letting a device join: its new id %s is taken", device.ID)
	}
	return Joined{Token: token, Device: device, Member: member}, err
}

// redeem finds out as whom a code lets somebody in.
func (d *Desk) redeem(ctx context.Context, asks Asks) (access.Member, error) {
	code := NormalCode(asks.Code)
	if person := d.openTo(); code == "" && asks.AtDesk && person != "" {
		return access.Member{Person: person, Role: access.Owner}, nil
	}
	// It is too long to be guessed however often it is tried, so that no guesser keeps an owner out.
	if member, ok := d.takeOwners(code); ok {
		return member, nil
	}
	if !d.tries.allow(asks.From) {
		return access.Member{}, tooManyCode
	}
	invitation, ok, err := d.records.Redeem(ctx, access.DigestOf(code))
	if err == nil && !ok {
		err = noSuchCode
	}
	return access.Member{Person: invitation.Person, Name: invitation.Name, Role: invitation.Role}, err
}

// OpenTo lets any browser on the server's own machine join for a person, as an owner, without a code: for
// a farm that is made up.
func (d *Desk) OpenTo(person string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.open = person
}

// IsOpen tells whether somebody at the server's own machine needs no code.
func (d *Desk) IsOpen() bool { return d.openTo() != "" }

func (d *Desk) openTo() string {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.open
}

// NeedsOwner tells whether no device of an owner may come: nobody could invite anybody.
func (d *Desk) NeedsOwner(ctx context.Context) (bool, error) {
	members, err := d.records.Members(ctx)
	if err != nil {
		return false, err
	}
	devices, err := d.records.Devices(ctx)
	if err != nil {
		return false, err
	}
	owners := map[string]bool{}
	for _, m := range members {
		owners[m.Person] = m.Role == access.Owner
	}
	for _, device := range devices {
		if owners[device.Person] && device.MayCome(d.now()) {
			return false, nil
		}
	}
	return true, nil
}

// OwnerCode is an invitation for an owner that the server itself gives out.
type OwnerCode struct {
	Code  string
	Owner access.Member // a new person where the farm has no owner yet
}

// InviteOwners makes an invitation for each owner that the farm has, else for a new person. They hold until
// one of them is taken, others are made, or the server stops, so their codes are too long to be guessed.
func (d *Desk) InviteOwners(ctx context.Context) ([]OwnerCode, error) {
	members, err := d.records.Members(ctx)
	if err != nil {
		return nil, err
	}
	owners := slices.DeleteFunc(members, func(m access.Member) bool { return m.Role != access.Owner })
	if len(owners) == 0 {
		owners = []access.Member{{Person: uuid.NewString(), Role: access.Owner}}
	}
	made, held := make([]OwnerCode, len(owners)), map[access.Digest]access.Member{}
	for i, owner := range owners {
		made[i] = OwnerCode{newCode(firstCodeLength), owner}
		held[access.DigestOf(made[i].Code)] = owner
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.owners = held
	return made, nil
}

func (d *Desk) takeOwners(code string) (access.Member, bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	owner, ok := d.owners[access.DigestOf(code)]
	if ok {
		d.owners = nil
	}
	return owner, ok
}

// newToken is 256 random bits.
func newToken() string {
	var bits [32]byte
	_, _ = rand.Read(bits[:]) // it does not fail (crypto/rand, since Go 1.24)
	return base64.RawURLEncoding.EncodeToString(bits[:])
}
