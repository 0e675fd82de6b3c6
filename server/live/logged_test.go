package live_test

import (
	"bytes"
	"log/slog"
	"net/http"
	"strings"
	"testing"

	"corymb/internal/changelog"
	"corymb/server/live"
	"corymb/syncproto"
)

// A shed that is stopped has said all that it says, so its log is read after that.
func logOf(t *testing.T, member live.Member, talk func(p *phone, s *shed)) string {
	t.Helper()
	var log bytes.Buffer
	s := startShed(t, func(c *live.Config) {
		c.Logger = slog.New(slog.NewTextHandler(&log, nil))
		c.Admit = func(*http.Request) (live.Member, error) { return member, nil }
	})
	talk(newPhone(t), s)
	s.stop()
	return log.String()
}

func TestWhatADeviceMayNotIsToldToTheLog(t *testing.T) {
	field := []syncproto.Scope{syncproto.ScopeField}
	crew := live.Member{Device: "d1", Scopes: field, Rights: changelog.Within(field)}
	price := changelog.Fact{Scope: syncproto.ScopeMoney, Op: syncproto.OpSet, Type: "price", ID: "p", Field: "cents", Value: syncproto.Int(1)}
	tests := []struct {
		name   string
		member live.Member
		talk   func(p *phone, s *shed)
		says   []string
	}{
		{"changes that its role may not write", crew, func(p *phone, s *shed) {
			p.connect(s)
			p.push(p.operation(price, price)...)
			await[syncproto.Ack](p)
		}, []string{"level=WARN", `msg="changes were refused for the role"`, "device=d1", "changes=2"}},
		{"what the protocol does not know", crew, func(p *phone, s *shed) {
			p.connect(s)
			p.sendRaw(live.Message{Data: []byte("{\n\x1b[2J")})
			refused(t, p)
		}, []string{"level=WARN", `msg="a conversation was refused"`, "device=d1", "code=malformed"}},
		{"the same of whoever did not join", live.Member{Scopes: field, Rights: changelog.Within(field)}, func(p *phone, s *shed) {
			p.connect(s)
			p.sendRaw(live.Message{Data: []byte("{")})
			refused(t, p)
		}, nil},
		{"what it may", crew, func(p *phone, s *shed) {
			p.connect(s)
			p.push(p.records("b1", "North")...)
			await[syncproto.Ack](p)
		}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			log := logOf(t, tt.member, tt.talk)
			for _, part := range tt.says {
				if !strings.Contains(log, part) {
					t.Errorf("it lacks %q", part)
				}
			}
			if lines := strings.Count(log, "\n"); lines != min(1, len(tt.says)) || strings.Contains(log, "\x1b") {
				t.Errorf("%d lines: %q", lines, log)
			}
		})
	}
}
