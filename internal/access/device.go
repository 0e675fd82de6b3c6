package access

import (
	"crypto/sha256"
	"errors"
	"time"
)

var (
	// ErrLastOwner says that the farm would be left without an owner who has a device.
	ErrLastOwner = errors.New("the farm would be left without an owner")
	// ErrNone says that there is nothing of that name.
	ErrNone = errors.New("there is none of that name")
)

// Digest is the SHA-256 of a secret, which itself is never stored.
type Digest [sha256.Size]byte

// DigestOf digests a secret. A salt or a slow digest would add nothing: tokens are 256 random bits, and
// codes are over before their digest is of use.
func DigestOf(secret string) Digest { return sha256.Sum256([]byte(secret)) }

// Member is a person with a role on the farm.
type Member struct {
	Person string
	Name   string // as an invitation told it; the farm's log may know a later one
	Role   Role
}

// Device is a phone or a browser that joined.
type Device struct {
	ID        string
	Person    string // for whom it joined
	Label     string // what people call it
	Joined    time.Time
	Withdrawn time.Time // zero while it may come
	Seen      time.Time // when it last said hello or had something stored; zero for never
	Unsent    int       // how many changes it then held that were not sent
}

// quietMonths is how long a device may not be heard of. A season lies between two winters, and a phone may
// miss one whole season; whoever has a token that was forgotten longer than that is not its person. The web
// app says it in words too (devices.forgotten).
const quietMonths = 18

// IsForgotten tells whether a device was not heard of for so long that it has to join again. It is worked
// out each time and noted nowhere, so that a clock which was wrong for a while forgets nobody.
func (d Device) IsForgotten(now time.Time) bool {
	last := d.Joined
	if d.Seen.After(last) {
		last = d.Seen
	}
	return now.After(last.AddDate(0, quietMonths, 0))
}

// MayCome tells whether its token lets it in.
func (d Device) MayCome(now time.Time) bool { return d.Withdrawn.IsZero() && !d.IsForgotten(now) }

const (
	// InvitedFor is how long an invitation can be taken.
	InvitedFor = 10 * time.Minute
	// setBack is how far a clock may be set back without ending what was invited before: machines that ask
	// the network for the time do it by moments.
	setBack = time.Minute
)

// Invitation lets one device join.
type Invitation struct {
	ID      string
	Person  string
	Name    string
	Role    Role
	Expires time.Time
}

// InvitationsEnd are the times between which the end of an invitation lies that can be taken now: after
// from, and until to. One that ends later was made in a time to come, so the clock was set back since, and
// nobody knows how old it is.
func InvitationsEnd(now time.Time) (from, to time.Time) { return now, now.Add(InvitedFor + setBack) }
