package main

import (
	"bytes"
	"encoding/json"
	"net/http"
	"strings"
	"sync"
	"testing"

	"github.com/google/uuid"
	"github.com/gorilla/websocket"
)

// cookies are those of every farm that these tests joined; a server looks at its own alone. They outlive
// its deaths, and copies of its folder.
var cookies struct {
	sync.Mutex
	all []string
}

// joined is a header that carries the tokens of all farms.
func joined() http.Header {
	cookies.Lock()
	defer cookies.Unlock()
	return http.Header{"Cookie": {strings.Join(cookies.all, "; ")}}
}

// join makes this process the first owner of the farm at an address, by the link that it said.
func join(t testing.TB, address, link string) {
	t.Helper()
	_, code, _ := strings.Cut(link, "#join/")
	body, err := json.Marshal(map[string]string{"code": code, "device": uuid.NewString(), "label": "test"})
	must(t, err)
	answer, err := http.Post("http://"+address+"/api/join", "application/json", bytes.NewReader(body))
	must(t, err)
	defer answer.Body.Close()
	if answer.StatusCode != http.StatusOK || len(answer.Cookies()) != 1 {
		t.Fatalf("joining the farm: %s, cookies %v", answer.Status, answer.Cookies())
	}
	cookies.Lock()
	defer cookies.Unlock()
	cookie := answer.Cookies()[0]
	cookies.all = append(cookies.all, cookie.Name+"="+cookie.Value)
}

// dialSync opens a websocket to the conversations at an address.
func dialSync(address string) (*websocket.Conn, error) {
	socket, _, err := websocket.DefaultDialer.Dial("ws://"+address+"/sync", joined())
	return socket, err
}
