package httpapi_test

import (
	"bytes"
	"encoding/json"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"corymb/internal/access"
	"corymb/server/httpapi"
)

func TestNobodyWritesALineOfTheLog(t *testing.T) {
	g := newGround()
	g.fails.Store(true)
	var log bytes.Buffer
	h := handler(t, g, func(c *httpapi.Config) {
		c.Logger = slog.New(slog.NewTextHandler(&log, nil))
		c.Came = func(*http.Request) httpapi.Came { return httpapi.Came{} }
	})
	r := httptest.NewRequest("GET", "/api/farm?a=%0atime=x%20level=INFO", nil)
	r.Host = "shed.example"
	r.Header.Set("Origin", "https://evil.example\ntime=x level=ERROR \x1b[2J")
	h.ServeHTTP(httptest.NewRecorder(), r)
	r.Method = "POST"
	r.URL.Path = "/api/leave"
	h.ServeHTTP(httptest.NewRecorder(), r)
	if lines := strings.Count(log.String(), "\n"); lines != 2 || strings.Contains(log.String(), "\x1b") || strings.Count(log.String(), "\ntime=") != 1 {
		t.Errorf("%d lines: %s", lines, log.String())
	}
}

func TestWhoMayComeIsTold(t *testing.T) {
	var log bytes.Buffer
	g := openGateTo(t, slog.New(slog.NewTextHandler(&log, nil)))
	told := func(name string, level string, parts ...string) {
		t.Helper()
		said := log.String()
		log.Reset()
		for _, part := range append(parts, "level="+level) {
			if !strings.Contains(said, part) {
				t.Errorf("%s: it lacks %q: %s", name, part, said)
			}
		}
		if strings.Count(said, "\n") != 1 {
			t.Errorf("%s: %q", name, said)
		}
	}
	g.joins("ana", access.Owner)
	told("joining", "INFO", `msg="a device joined"`, "device="+g.devices["ana"], "person="+g.persons["ana"], "role=owner", "from=192.168.7.31")
	g.joins("ben", access.Crew)
	told("joining", "INFO", "device="+g.devices["ben"], "role=crew")

	photo := strings.Repeat("ab", 32)
	g.ask("ana", "DELETE", "/api/photos/"+photo, "")
	told("removing a photo", "INFO", `msg="a photo was removed"`, "photo="+photo, "by="+g.devices["ana"])

	g.ask("", "POST", "/api/join", `{"code":"ACDEFGHJ","device":"`+uuid.NewString()+`"}`)
	told("a guess", "WARN", `msg="a code was refused"`, "from=192.168.7.31")

	g.ask("ben", "GET", "/api/devices", "")
	told("a role that may not", "WARN", "for the role", "device="+g.devices["ben"], "role=crew", "route=/api/devices")
	g.ask("ben", "GET", "/api/devices", "")
	if log.Len() > 0 {
		t.Errorf("it is told again at once: %s", log.String())
	}
	g.now = g.now.Add(time.Minute)
	g.ask("ben", "GET", "/api/devices", "")
	told("the same a minute later", "WARN", "times=2")

	var invited struct{ ID, Code string }
	body := g.ask("ana", "POST", "/api/invitations", `{"person":"`+uuid.NewString()+`","role":"viewer"}`).Body
	if err := json.Unmarshal(body.Bytes(), &invited); err != nil {
		t.Fatal(err)
	}
	told("an invitation", "INFO", "invitation="+invited.ID, "role=viewer", "by="+g.devices["ana"])
	g.ask("ana", "DELETE", "/api/invitations/"+invited.ID, "")
	told("an invitation taken back", "INFO", "taken back", "invitation="+invited.ID, "by="+g.devices["ana"])
	g.ask("ana", "POST", "/api/members/"+g.persons["ben"]+"/role", `{"role":"viewer"}`)
	told("a role", "INFO", "a role was changed", "person="+g.persons["ben"], "role=viewer", "by="+g.devices["ana"])
	g.ask("ana", "POST", "/api/devices/"+g.devices["ben"]+"/withdraw", "")
	told("withdrawing", "INFO", "a device was withdrawn", "device="+g.devices["ben"], "by="+g.devices["ana"])
	g.ask("ben", "GET", "/api/me", "")
	told("who was withdrawn", "WARN", "a withdrawn device came", "device="+g.devices["ben"])
	g.ask("ana", "POST", "/api/leave", "", "Origin", "https://evil.example")
	told("another site", "WARN", "another site", "route=/api/leave")

	g.ask("ana", "POST", "/api/devices/x/withdraw", "")
	g.ask("ana", "POST", "/api/members/x/role", `{"role":"crew"}`)
	if log.Len() > 0 {
		t.Errorf("what did not happen is told: %s", log.String())
	}
}

func TestManyGuessesAreToldOnceAMinute(t *testing.T) {
	var log bytes.Buffer
	g := openGateTo(t, slog.New(slog.NewTextHandler(&log, nil)))
	for range 200 {
		g.ask("", "POST", "/api/join", `{"code":"ACDEFGHJ","device":"`+uuid.NewString()+`"}`)
	}
	if n := strings.Count(log.String(), "\n"); n != 11 || strings.Count(log.String(), "too many codes were tried") != 1 {
		t.Errorf("%d lines: %s", n, log.String())
	}
}
