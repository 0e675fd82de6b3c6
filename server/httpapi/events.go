package httpapi

import (
	"errors"
	"log/slog"
	"net/netip"
	"sync"
	"time"

	"github.com/gin-gonic/gin"

	"corymb/internal/access"
	"corymb/server/joining"
)

// events are the lines of the log on who may come, for an owner who has to know it later. They name
// devices, people and invitations by their ids, and never hold a code, a token or a cookie.
type events struct {
	logger *slog.Logger
	now    func() time.Time

	waited, withdrawn, forgotten, role, origin seldom
}

func (e *events) joined(device access.Device, role access.Role, from netip.Addr) {
	e.logger.Info("a device joined", "device", device.ID, "person", device.Person, "role", role, "from", from)
}

// notLetIn tells of a code that let nobody in. How many are looked at is limited where they are; whoever
// goes on beyond that must not fill the log.
func (e *events) notLetIn(from netip.Addr, err error) {
	var refusal *joining.Refusal
	switch {
	case !errors.As(err, &refusal): // told as a failure
	case refusal.Code == joining.CodeWait:
		e.tellSeldom(&e.waited, "too many codes were tried", "from", from)
	default:
		e.logger.Warn("a code was refused", "from", from)
	}
}

// changed tells what somebody changed of who may come.
func (e *events) changed(c *gin.Context, what string, attributes ...any) {
	e.logger.Info(what, append(attributes, "by", deviceOf(c).ID)...)
}

func (e *events) withdrawnCame(device access.Device, from netip.Addr) {
	e.tellSeldom(&e.withdrawn, "a withdrawn device came", "device", device.ID, "from", from)
}

func (e *events) forgottenCame(device access.Device, from netip.Addr) {
	e.tellSeldom(&e.forgotten, "a device came that was not heard of for too long", "device", device.ID, "from", from)
}

func (e *events) notForRole(c *gin.Context) {
	e.tellSeldom(&e.role, "a request was refused for the role", "device", deviceOf(c).ID, "role", grantOf(c).Role, "route", c.FullPath())
}

func (e *events) ofAnotherSite(c *gin.Context) {
	e.tellSeldom(&e.origin, "a request of another site's page was refused", "route", c.FullPath())
}

// seldomEvery is how often at most is told what anybody can make happen as often as they like.
const seldomEvery = time.Minute

// seldom counts what is told seldom.
type seldom struct {
	mu    sync.Mutex
	told  time.Time
	times int // since it was told
}

func (e *events) tellSeldom(s *seldom, what string, attributes ...any) {
	s.mu.Lock()
	s.times++
	now, times := e.now(), s.times
	due := s.told.IsZero() || now.Sub(s.told) >= seldomEvery
	if due {
		s.told, s.times = now, 0
	}
	s.mu.Unlock()
	if due {
		e.logger.Warn(what, append(attributes, "times", times)...)
	}
}
