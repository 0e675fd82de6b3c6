package httpapi_test

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"corymb/internal/access"
	"corymb/internal/crop"
	"corymb/server/httpapi"
)

// An answer without anything in it would pass for one.
func TestWhatTakesLongerThanThereIsPatienceIsToBeAskedForAgain(t *testing.T) {
	slow, fits := make(chan struct{}), 0
	server := httptest.NewServer(handler(t, newGround(), func(c *httpapi.Config) {
		c.Patience, c.Hosts = 50*time.Millisecond, func(string) bool { return true }
		c.Ages = func(crop.Farm, crop.Date, []httpapi.SpeciesAges) ([]httpapi.SpeciesAges, error) {
			fits++
			<-slow
			return nil, nil
		}
	}))
	t.Cleanup(server.Close)
	ask := func() (status int, body string) {
		answer, err := http.Get(server.URL + "/api/ages")
		if err != nil {
			t.Fatal(err)
		}
		defer func() { _ = answer.Body.Close() }() // it is read whole
		said, err := io.ReadAll(answer.Body)
		if err != nil {
			t.Fatal(err)
		}
		return answer.StatusCode, string(said)
	}
	status, body := ask()
	if status != http.StatusServiceUnavailable || !strings.Contains(body, `"slow"`) {
		t.Errorf("while it is worked out: %d %q", status, body)
	}
	close(slow)
	for status == http.StatusServiceUnavailable { // a busy machine has no patience either
		status, body = ask()
	}
	if status != http.StatusOK || !strings.Contains(body, `"species":[]`) {
		t.Errorf("afterwards: %d %q", status, body)
	}
	if fits != 1 {
		t.Errorf("it was fitted %d times", fits)
	}
}

// Whoever says that something comes and then sends nothing holds up a connection, and nothing else, for as
// long as there is patience. Each of these routes reads what it is sent.
func TestNoRouteWaitsForWhatDoesNotCome(t *testing.T) {
	for _, route := range []struct{ method, path string }{
		{"POST", "/api/join"}, {"POST", "/api/unsent"}, {"POST", "/api/tags"}, {"POST", "/api/card"}, {"POST", "/api/photos/missing"}, {"POST", "/api/backups"},
		{"POST", "/api/invitations"}, {"POST", "/api/members/PERSON/role"}, {"PATCH", "/api/photos/HASH/upload"},
	} {
		t.Run(route.method+" "+route.path, func(t *testing.T) {
			g := impatientGate(t, 50*time.Millisecond)
			g.joins("ana", access.Owner)
			g.joins("ben", access.Crew)
			server := httptest.NewServer(g)
			t.Cleanup(server.Close)
			line, err := net.Dial("tcp", server.Listener.Addr().String())
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { _ = line.Close() }) // it may be closed already
			_, err = fmt.Fprintf(line, "%s %s HTTP/1.1\r\nHost: shed.example:8420\r\nCookie: %s\r\nContent-Length: 50\r\n"+
				"Content-Type: application/partial-upload\r\nUpload-Offset: 0\r\nUpload-Length: 50\r\n\r\n[", route.method, g.fill(route.path), g.cookies["ana"])
			if err != nil {
				t.Fatal(err)
			}
			answer, err := http.ReadResponse(bufio.NewReader(line), nil) // it waits until it is cut off
			if err != nil {
				t.Fatal(err)
			}
			body, err := io.ReadAll(answer.Body)
			if err != nil || answer.StatusCode < 400 || !answer.Close || strings.Contains(string(body), `"failed"`) {
				t.Errorf("%s %s, closed %v (%v)", answer.Status, body, answer.Close, err)
			}
		})
	}
}
