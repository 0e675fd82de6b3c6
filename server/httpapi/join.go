package httpapi

import (
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/gin-gonic/gin"
	"github.com/google/uuid"

	"corymb/internal/access"
	"corymb/server/joining"
)

// maxAskedBytes is far above what any request of this API says in JSON.
const maxAskedBytes = 4 << 10

// mostLabel is how long a name may be that people give a device or a person, in characters.
const mostLabel = 60

// postJoin answers POST /api/join: a code lets the device in, which gets a token as a cookie.
func (config Config) postJoin(c *gin.Context) {
	var asked struct {
		Code   string `json:"code"`
		Device string `json:"device"`
		Label  string `json:"label"`
	}
	if !config.asked(c, &asked) {
		return
	}
	device, err := uuid.Parse(asked.Device)
	if err != nil {
		refuse(c, http.StatusBadRequest, "malformed", "The device did not say which it is. Nothing was changed. Reload the page and try again.")
		return
	}
	came := config.Came(c.Request)
	joined, err := config.Desk.Join(c.Request.Context(), joining.Asks{
		Code: asked.Code, Device: device.String(), Label: cleanLabel(asked.Label),
		Token: TokenOf(c.Request, config.Farm.Farm(), came.Secure), From: came.From, AtDesk: came.AtDesk,
	})
	if err != nil {
		config.events.notLetIn(came.From, err)
		config.notLetIn(c, err)
		return
	}
	config.setToken(c, joined.Token)
	_, grant, err := config.Desk.Who(c.Request.Context(), joined.Token)
	if err != nil {
		config.failed(c, "a device that joined was not found", err)
		return
	}
	config.events.joined(joined.Device, grant.Role, came.From)
	if grant.Role == access.Owner {
		config.HangUp("") // who is an owner matters to every device
	} else {
		config.HangUp(joined.Device.ID) // its line, if it has one, was another's
	}
	config.tellMe(c, joined.Device, grant, joined.Member.Name)
}

func (config Config) notLetIn(c *gin.Context, err error) {
	var refusal *joining.Refusal
	switch {
	case !errors.As(err, &refusal):
		config.failed(c, "a device was not let in", err)
	case refusal.Code == joining.CodeWait:
		c.Header("Retry-After", "60")
		refuse(c, http.StatusTooManyRequests, refusal.Code, refusal.Text)
	case refusal.Code == joining.CodeLastOwner:
		refuse(c, http.StatusConflict, refusal.Code, refusal.Text)
	default:
		refuse(c, http.StatusForbidden, refusal.Code, refusal.Text)
	}
}

// postLeave answers POST /api/leave: the device comes no more until it joins again.
func (config Config) postLeave(c *gin.Context) {
	if !config.withdraw(c, deviceOf(c).ID) {
		return
	}
	config.setToken(c, "")
	c.Status(http.StatusNoContent)
}

// asked reads the JSON of a request; false where it was answered that it cannot be.
func (config Config) asked(c *gin.Context, into any) bool {
	return config.askedAtMost(maxAskedBytes, c, into)
}

// askedAtMost is asked for what may say more.
func (config Config) askedAtMost(most int64, c *gin.Context, into any) bool {
	body, err := io.ReadAll(http.MaxBytesReader(c.Writer, c.Request.Body, most))
	var tooLarge *http.MaxBytesError
	if errors.As(err, &tooLarge) {
		refuse(c, http.StatusRequestEntityTooLarge, "too_large", "That is more than can be asked at once. Nothing was changed.")
		return false
	}
	if err == nil {
		err = json.Unmarshal(body, into)
	}
	if err != nil {
		refuse(c, http.StatusBadRequest, "malformed", "What was asked cannot be read. Nothing was changed. Reload the page and try again.")
		return false
	}
	return true
}

// onOneLine is a text without what cannot be printed, and with one space where there was any.
func onOneLine(text string) string {
	return strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		if r == utf8.RuneError || !unicode.IsPrint(r) && !unicode.IsSpace(r) {
			return -1
		}
		return r
	}, text)), " ")
}

// cleanLabel is a label on one line and of a length that a list can show.
func cleanLabel(label string) string {
	label = onOneLine(label)
	if runes := []rune(label); len(runes) > mostLabel {
		label = string(runes[:mostLabel])
	}
	return label
}
