package httpapi

import (
	"context"
	"errors"
	"net/http"
	"slices"
	"time"

	"github.com/gin-gonic/gin"
	"github.com/google/uuid"

	"corymb/internal/access"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/server/joining"
)

// Roster says who may come, and changes it.
type Roster interface {
	Members(ctx context.Context) ([]access.Member, error)
	Devices(ctx context.Context) ([]access.Device, error)
	Invitations(ctx context.Context) ([]access.Invitation, error)
	Uninvite(ctx context.Context, id string) error
	Withdraw(ctx context.Context, device string, at time.Time) error
	// WithdrawPerson withdraws all devices of a person, and tells which.
	WithdrawPerson(ctx context.Context, person string, at time.Time) ([]string, error)
	// RestoredUnseen tells when the farm was put back from an older copy; zero once an owner has looked.
	RestoredUnseen(ctx context.Context) (time.Time, error)
	RestoredSeen(ctx context.Context) error
	SetRole(ctx context.Context, person string, role access.Role) error
	// LeaseCodes gives a device a block of tag codes for itself alone.
	LeaseCodes(ctx context.Context, device string) (block int, err error)
}

// deviceTold is a device as its owner sees it.
type deviceTold struct {
	Device    string      `json:"device"`
	Person    string      `json:"person"`
	Name      string      `json:"name"`
	Role      access.Role `json:"role"`
	Label     string      `json:"label"`
	Joined    string      `json:"joined"` // RFC 3339, as all times here
	Seen      string      `json:"seen"`   // empty for never
	Unsent    *int        `json:"unsent"` // what it held unsent when it was last seen; null for never
	Connected bool        `json:"connected"`
	Withdrawn string      `json:"withdrawn"` // empty while no owner withdrew it
	Forgotten bool        `json:"forgotten"` // not heard of for so long that it has to join again
}

type memberTold struct {
	Person string      `json:"person"`
	Name   string      `json:"name"`
	Role   access.Role `json:"role"`
}

type invitationTold struct {
	ID string `json:"id"`
	memberTold
	Expires string `json:"expires"`
}

// getDevices answers GET /api/devices: who may come, and what each device last told.
func (config Config) getDevices(c *gin.Context) {
	answer, err := config.roster(c.Request.Context())
	if err != nil {
		config.failed(c, "who may come could not be read", err)
		return
	}
	c.JSON(http.StatusOK, answer)
}

func (config Config) roster(ctx context.Context) (gin.H, error) {
	members, err := config.Roster.Members(ctx)
	if err != nil {
		return nil, err
	}
	devices, err := config.Roster.Devices(ctx)
	if err != nil {
		return nil, err
	}
	invitations, err := config.Roster.Invitations(ctx)
	if err != nil {
		return nil, err
	}
	restored, err := config.Roster.RestoredUnseen(ctx)
	if err != nil {
		return nil, err
	}
	people, err := config.peopleOf(ctx, members)
	if err != nil {
		return nil, err
	}
	connected := config.Connected()
	told := make([]deviceTold, len(devices))
	for i, d := range devices {
		told[i] = tellDevice(d, people[d.Person], slices.Contains(connected, d.ID), config.Now())
	}
	open := make([]invitationTold, len(invitations))
	for i, invitation := range invitations {
		open[i] = invitationTold{invitation.ID, memberTold{invitation.Person, invitation.Name, invitation.Role}, timeTold(invitation.Expires)}
	}
	listed := make([]memberTold, len(members))
	for i, m := range members {
		listed[i] = people[m.Person]
	}
	return gin.H{
		"origin": config.Origin(), "devices": told, "members": listed, "invitations": open, "restored": timeTold(restored),
	}, nil
}

// peopleOf gives members the names that the farm knows them by.
func (config Config) peopleOf(ctx context.Context, members []access.Member) (map[string]memberTold, error) {
	people := map[string]memberTold{}
	for _, m := range members {
		state, err := config.Farm.Entity(ctx, farm.TypePerson, m.Person)
		if err != nil {
			return nil, err
		}
		name := farm.Read(crop.FarmID(config.Farm.Farm()), state).People[crop.PersonID(m.Person)].Name
		if name == "" {
			name = m.Name
		}
		people[m.Person] = memberTold{m.Person, name, m.Role}
	}
	return people, nil
}

func tellDevice(d access.Device, of memberTold, connected bool, now time.Time) deviceTold {
	told := deviceTold{
		Device: d.ID, Person: d.Person, Name: of.Name, Role: of.Role, Label: d.Label, Joined: timeTold(d.Joined),
		Seen: timeTold(d.Seen), Connected: connected, Withdrawn: timeTold(d.Withdrawn),
		Forgotten: d.IsForgotten(now),
	}
	if !d.Seen.IsZero() {
		told.Unsent = &d.Unsent
	}
	return told
}

func timeTold(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.UTC().Format(time.RFC3339)
}

// postInvitation answers POST /api/invitations: it makes a code, which is told this once.
func (config Config) postInvitation(c *gin.Context) {
	var asked struct{ Person, Name, Role string }
	if !config.asked(c, &asked) {
		return
	}
	role, err := access.ParseRole(asked.Role)
	person, notUUID := uuid.Parse(asked.Person)
	if err != nil || notUUID != nil {
		refuse(c, http.StatusBadRequest, "malformed", "For whom and with which role the invitation is cannot be read. Nothing was changed.")
		return
	}
	code, invitation, err := config.Desk.Invite(c.Request.Context(), person.String(), cleanLabel(asked.Name), role)
	if err != nil {
		config.failed(c, "an invitation was not made", err)
		return
	}
	config.events.changed(c, "an invitation was made", "invitation", invitation.ID, "person", invitation.Person, "role", invitation.Role)
	// Behind the # it is never sent to a server, nor written to a log.
	link := config.Origin() + "/#join/" + code
	rows, err := config.QR(link)
	if err != nil {
		config.failed(c, "the QR code of an invitation was not made", err)
		return
	}
	trust, err := config.trustFirst()
	if err != nil {
		config.failed(c, "the QR code of the way to trust the farm was not made", err)
		return
	}
	c.JSON(http.StatusOK, gin.H{
		"id": invitation.ID, "code": joining.ShownCode(code), "link": link, "role": invitation.Role,
		"expires": timeTold(invitation.Expires), "qr": rows, "trust": trust,
	})
}

// trustFirst is what comes before joining for a phone that does not trust the farm's own authority; nil
// where it has none.
func (config Config) trustFirst() (any, error) {
	link, fingerprint := config.Trust()
	if link == "" {
		return nil, nil
	}
	rows, err := config.QR(link)
	return gin.H{"link": link, "fingerprint": fingerprint, "qr": rows}, err
}

// deleteInvitation answers DELETE /api/invitations/:id.
func (config Config) deleteInvitation(c *gin.Context) {
	id := c.Param("id")
	err := config.Roster.Uninvite(c.Request.Context(), id)
	if err == nil {
		config.events.changed(c, "an invitation was taken back", "invitation", id)
	}
	config.changed(c, err)
}

// postWithdraw answers POST /api/devices/:device/withdraw.
func (config Config) postWithdraw(c *gin.Context) {
	if config.withdraw(c, c.Param("device")) {
		c.Status(http.StatusNoContent)
	}
}

// withdraw lets a device come no longer; false where it was answered that it stays.
func (config Config) withdraw(c *gin.Context, device string) bool {
	err := config.Roster.Withdraw(c.Request.Context(), device, config.Now())
	if err != nil {
		config.changed(c, err)
		return false
	}
	config.events.changed(c, "a device was withdrawn", "device", device)
	config.HangUp(device)
	return true
}

// postWithdrawPerson answers POST /api/members/:person/withdraw.
func (config Config) postWithdrawPerson(c *gin.Context) {
	person := c.Param("person")
	devices, err := config.Roster.WithdrawPerson(c.Request.Context(), person, config.Now())
	if err == nil {
		config.events.changed(c, "a person was withdrawn", "person", person, "devices", devices)
		for _, device := range devices {
			config.HangUp(device)
		}
	}
	config.changed(c, err)
}

// postLooked answers POST /api/devices/looked: an owner has seen who may come since an older copy of the
// farm was put back.
func (config Config) postLooked(c *gin.Context) {
	config.changed(c, config.Roster.RestoredSeen(c.Request.Context()))
}

// postRole answers POST /api/members/:person/role.
func (config Config) postRole(c *gin.Context) {
	var asked struct{ Role string }
	if !config.asked(c, &asked) {
		return
	}
	role, err := access.ParseRole(asked.Role)
	if err != nil {
		refuse(c, http.StatusBadRequest, "malformed", "There is no such role. Nothing was changed.")
		return
	}
	person := c.Param("person")
	err = config.Roster.SetRole(c.Request.Context(), person, role)
	if err == nil {
		config.events.changed(c, "a role was changed", "person", person, "role", role)
		config.HangUp("") // who else is an owner matters to every device
	}
	config.changed(c, err)
}

// changed answers what became of a change to who may come.
func (config Config) changed(c *gin.Context, err error) {
	switch {
	case err == nil:
		c.Status(http.StatusNoContent)
	case errors.Is(err, access.ErrLastOwner):
		refuse(c, http.StatusConflict, "last_owner", "The farm would be left without an owner who has a device. Nothing was changed. Let another owner join first.")
	case errors.Is(err, access.ErrNone):
		refuse(c, http.StatusNotFound, "not_found", "That is not there, or not any more. Nothing was changed.")
	default:
		config.failed(c, "who may come was not changed", err)
	}
}
