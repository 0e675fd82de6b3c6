package httpapi_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"corymb/server/httpapi"
)

// lessor leases block 7, then 8, or fails.
type lessor struct {
	httpapi.Roster
	leased int
	err    error
}

func (l *lessor) LeaseCodes(context.Context, string) (int, error) {
	l.leased++
	return 6 + l.leased, l.err
}

func TestADeviceIsLeasedBlocksOfCodes(t *testing.T) {
	l := &lessor{}
	h := handler(t, newGround(), func(c *httpapi.Config) { c.Roster = l })
	for _, want := range []string{`{"block":7}`, `{"block":8}`} {
		if w := postTo(h, "/api/codes", ""); w.Code != 200 || w.Body.String() != want {
			t.Errorf("%d %s, want %s", w.Code, w.Body, want)
		}
	}
	l.err = errors.New("the disk is full")
	if w := postTo(h, "/api/codes", ""); w.Code != 500 || strings.Contains(w.Body.String(), "block") {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}
