package httpapi

import (
	"context"
	"errors"
	"net/http"
	"net/netip"
	"slices"
	"time"

	"github.com/gin-gonic/gin"

	"corymb/internal/access"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/server/joining"
)

// Desk is where devices join.
type Desk interface {
	// Who tells which device carries a token; the error is a *joining.Refusal where none does, or one that
	// may not come any more.
	Who(ctx context.Context, token string) (access.Device, access.Grant, error)
	Join(ctx context.Context, asks joining.Asks) (joining.Joined, error)
	Invite(ctx context.Context, person, name string, role access.Role) (code string, invitation access.Invitation, err error)
	// IsOpen tells whether somebody at the server's own machine needs no code.
	IsOpen() bool
}

// Came is from where a request came.
type Came struct {
	From   netip.Addr // the phone's address
	AtDesk bool       // from the server's own machine
	Secure bool       // over https, here or at a proxy before this server
}

// A browser keeps a cookie for 400 days at most (RFC 6265bis, section 5.5); each visit begins them anew.
const cookieFor = 400 * 24 * time.Hour

// cookieName is the farm's own: farms on other ports of a host share its cookies. Browsers take the
// prefix for a promise that it came over https, from this very host (RFC 6265bis, section 4.1.3.2).
func cookieName(farm string, secure bool) string {
	name := "corymb-" + farm[:min(8, len(farm))]
	if secure {
		name = "__Host-" + name
	}
	return name
}

// TokenOf is the token that a request carries for a farm, or "".
func TokenOf(r *http.Request, farm string, secure bool) string {
	cookie, err := r.Cookie(cookieName(farm, secure))
	if err != nil {
		return ""
	}
	return cookie.Value
}

// setToken gives the browser a token that scripts cannot read and other sites cannot send; an empty one
// takes it away.
func (config Config) setToken(c *gin.Context, token string) {
	secure := config.Came(c.Request).Secure
	cookie := &http.Cookie{
		Name: cookieName(config.Farm.Farm(), secure), Value: token, Path: "/",
		MaxAge: int(cookieFor.Seconds()), Secure: secure, HttpOnly: true, SameSite: http.SameSiteStrictMode,
	}
	if token == "" {
		cookie.MaxAge = -1
	}
	http.SetCookie(c.Writer, cookie)
}

// Names under which a request carries who asks.
const (
	ofDevice = "device"
	ofGrant  = "grant"
)

// joined lets nobody pass whose device has not joined.
func (config Config) joined(c *gin.Context) {
	token := TokenOf(c.Request, config.Farm.Farm(), config.Came(c.Request).Secure)
	device, grant, err := config.Desk.Who(c.Request.Context(), token)
	if err != nil {
		config.notJoined(c, device, err)
		return
	}
	c.Set(ofDevice, device)
	c.Set(ofGrant, grant)
}

// notJoined tells the app also which farm this is, and whether it may join without being asked for a code.
func (config Config) notJoined(c *gin.Context, device access.Device, err error) {
	var refusal *joining.Refusal
	if !errors.As(err, &refusal) {
		config.failed(c, "a device was not looked up", err)
		return
	}
	came := config.Came(c.Request)
	switch {
	case refusal.Code == joining.CodeWithdrawn:
		config.events.withdrawnCame(device, came.From)
	case device.ID != "":
		config.events.forgottenCame(device, came.From)
	}
	open := config.Desk.IsOpen() && came.AtDesk
	c.AbortWithStatusJSON(http.StatusUnauthorized, gin.H{"error": gin.H{"code": refusal.Code, "text": refusal.Text}, "farm": config.Farm.Farm(), "open": open})
}

// only lets the requests of some roles pass. It stands behind joined.
func (config Config) only(roles ...access.Role) gin.HandlerFunc {
	return func(c *gin.Context) {
		if !slices.Contains(roles, grantOf(c).Role) {
			config.events.notForRole(c)
			refuse(c, http.StatusForbidden, "role", "This is not for the role that you have on the farm. Ask an owner.")
		}
	}
}

func grantOf(c *gin.Context) access.Grant {
	grant, _ := c.Get(ofGrant)
	g, _ := grant.(access.Grant) // the zero grant may nothing
	return g
}

func deviceOf(c *gin.Context) access.Device {
	device, _ := c.Get(ofDevice)
	d, _ := device.(access.Device)
	return d
}

// getMe answers GET /api/me: which farm this is, and who the device is on it.
func (config Config) getMe(c *gin.Context) {
	token := TokenOf(c.Request, config.Farm.Farm(), config.Came(c.Request).Secure)
	config.setToken(c, token)
	config.tellMe(c, deviceOf(c), grantOf(c), "")
}

// tellMe answers with who a device is, and in whose name only an owner may write. invited is the person's name as the invitation had it.
func (config Config) tellMe(c *gin.Context, device access.Device, grant access.Grant, invited string) {
	id := config.Farm.Farm()
	f, err := config.farmAnd(c.Request.Context(), device.Person)
	if err != nil {
		config.failed(c, "the farm's name could not be read", err)
		return
	}
	name := f.People[crop.PersonID(device.Person)].Name
	if name == "" {
		name = invited
	}
	c.JSON(http.StatusOK, gin.H{
		"farm": id, "farm_name": f.Name, "made_up": f.MadeUp, "person": device.Person, "name": name,
		"role": grant.Role, "owners": append([]string{}, grant.Owners...), "device": device.ID,
	})
}

// farmAnd reads the farm itself and one of its people.
func (config Config) farmAnd(ctx context.Context, person string) (crop.Farm, error) {
	id := config.Farm.Farm()
	state, err := config.Farm.Entity(ctx, farm.TypeFarm, id)
	if err != nil {
		return crop.Farm{}, err
	}
	f := farm.Read(crop.FarmID(id), state)
	if state, err = config.Farm.Entity(ctx, farm.TypePerson, person); err != nil {
		return crop.Farm{}, err
	}
	f.People = farm.Read(crop.FarmID(id), state).People
	return f, nil
}
