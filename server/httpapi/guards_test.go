package httpapi_test

import (
	"context"
	"encoding/json"
	"io"
	"maps"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"testing/synctest"

	"github.com/google/uuid"

	"corymb/internal/access"
	"corymb/server/httpapi"
	"corymb/server/joining"
)

// clearing would take from a phone what it has not sent yet: it must be in no answer, least of all to one
// that leaves.
const clearing = "Clear-Site-Data"

func TestEveryAnswerIsGuarded(t *testing.T) {
	g := fullGate(t)
	unknown := func(w http.ResponseWriter, r *http.Request) {
		r.Host = "evil.example"
		g.ServeHTTP(w, r)
	}
	tests := []struct {
		name, as, method, path string
		handler                http.HandlerFunc
	}{
		{"the app", "", "GET", "/", nil},
		{"a place in the app", "", "GET", "/beds", nil},
		{"a script", "", "GET", "/sw.js", nil},
		{"nothing", "", "GET", "/missing.js", nil},
		{"nothing in the API", "ana", "GET", "/api/none", nil},
		{"a method that there is not", "ana", "PUT", "/api/farm", nil},
		{"an answer", "ana", "GET", "/api/farm", nil},
		{"who has not joined", "", "GET", "/api/me", nil},
		{"a role that may not", "ben", "GET", "/api/devices", nil},
		{"a slash too many", "ana", "GET", "/api/farm/", nil},
		{"another host", "ana", "GET", "/api/farm", unknown},
		{"another site", "ana", "POST", "/api/leave", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := httptest.NewRequest(tt.method, tt.path, nil)
			r.Host = "shed.example:8420"
			r.Header.Set("Cookie", g.cookies[tt.as])
			r.Header.Set("Origin", "https://evil.example")
			w := httptest.NewRecorder()
			if tt.handler == nil {
				tt.handler = g.ServeHTTP
			}
			tt.handler(w, r)
			for name, part := range map[string]string{
				"Content-Security-Policy": "object-src 'none'; base-uri 'none'", "Permissions-Policy": "camera=(self)",
				"Referrer-Policy": "no-referrer", "X-Content-Type-Options": "nosniff", "X-Frame-Options": "DENY",
				"Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin",
			} {
				if got := w.Header().Get(name); !strings.Contains(got, part) {
					t.Errorf("%d: %s is %q", w.Code, name, got)
				}
			}
			policy := w.Header().Get("Content-Security-Policy")
			if !strings.Contains(policy, "default-src 'self'") || !strings.Contains(policy, "frame-ancestors 'none'") || strings.Contains(policy, "unsafe") {
				t.Errorf("the policy is %s", policy)
			}
			for name := range w.Header() {
				if strings.HasPrefix(name, "Access-Control-") || name == "Server" || name == "X-Powered-By" || name == clearing {
					t.Errorf("it tells %s: %s", name, w.Header().Get(name))
				}
			}
			if w.Code >= 300 && w.Code < 400 {
				t.Errorf("it leads to %s", w.Header().Get("Location"))
			}
		})
	}
}

// The build calls the workers' scripts so after their sources in webapp/src.
func TestOnlyTheWorkersThatReadCodesMayRunWasm(t *testing.T) {
	workers := []string{"assets/wasm_worker-1a2b.js", "assets/measure_worker-3c4d.js"}
	files := fstest.MapFS{
		workers[0]: {Data: []byte("export {}")}, workers[1]: {Data: []byte("export {}")},
		workers[0] + ".txt": {}, "wasm_worker-1a2b.js": {}, "assets/wasm-1.wasm": {}, "assets/worker-1.js": {},
	}
	maps.Copy(files, built)
	h := handler(t, newGround(), func(c *httpapi.Config) { c.App = files })
	for name := range files {
		r := httptest.NewRequest("GET", "/"+name, nil)
		r.Host = "shed.example"
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		policies := w.Header()["Content-Security-Policy"]
		if len(policies) != 1 {
			t.Fatalf("%s: policies %q", name, policies)
		}
		usual, more, _ := strings.Cut(policies[0], "; script-src ")
		want := ""
		if slices.Contains(workers, name) {
			want = "'self' 'wasm-unsafe-eval'"
		}
		if !strings.HasPrefix(usual, "default-src 'self'; ") || !strings.HasSuffix(usual, "frame-ancestors 'none'") || more != want {
			t.Errorf("%s: the policy is %s", name, policies[0])
		}
	}
}

func TestNothingOfTheFarmIsKeptByTheBrowser(t *testing.T) {
	g := fullGate(t)
	for _, route := range routes {
		for _, as := range []string{"ana", "ben", "nobody"} {
			w := g.ask(as, route.method, g.fill(route.path), g.fill(route.body))
			if got := w.Header().Get("Cache-Control"); got != "no-store" {
				t.Errorf("%s %s as %s: %d, Cache-Control %q", route.method, route.path, as, w.Code, got)
			}
		}
	}
	for _, path := range []string{"/api/none", "/assets/old.js"} {
		if w := g.ask("ana", "GET", path, ""); w.Header().Get("Cache-Control") != "no-store" {
			t.Errorf("%s: %d %v", path, w.Code, w.Header())
		}
	}
}

func TestAPathLeadsToAFileOfTheAppOrNowhere(t *testing.T) {
	h := handler(t, newGround(), nil)
	for _, path := range []string{
		"/../go.mod", "/..%2f..%2fetc%2fpasswd", "/%2e%2e/index.html", "/assets/..%2findex.html", "/assets", "/assets/",
		"//evil.example/", "/./sw.js", "/sw.js/", "/sw.js%00.html", "/.git/config", "/.gitkeep", "/%5c..%5csw.js",
		"/api//farm", "/API/farm", "/api/farm/", "/api/../api/farm", "/sync/", "/assets/main-1a2b.js%0d%0aX: y",
	} {
		for _, accept := range []string{"*/*", "text/html"} {
			address, err := url.Parse("http://shed.example" + path)
			if err != nil {
				t.Fatal(err)
			}
			r := httptest.NewRequest("GET", "/", nil)
			r.URL, r.Host = address, "shed.example"
			r.Header.Set("Accept", accept)
			r.Header.Set("X-Forwarded-Prefix", "/evil.example")
			w := httptest.NewRecorder()
			h.ServeHTTP(w, r)
			place := w.Code == 200 && strings.Contains(w.Body.String(), "<title>app</title>") && accept == "text/html"
			if w.Code != 404 && !place {
				t.Errorf("%s as %s: %d %v %.80s", path, accept, w.Code, w.Header(), w.Body)
			}
		}
	}
}

func TestNoOtherMethodIsTaken(t *testing.T) {
	g := fullGate(t)
	for _, method := range []string{"TRACE", "OPTIONS", "CONNECT", "PUT", "PATCH", "PROPFIND", "get"} {
		for _, path := range []string{"/", "/sw.js", "/sync", "/api/me", "/api/join", "/api/devices"} {
			w := g.ask("ana", method, path, "secret of the request", "X-Secret", "secret of the request")
			if w.Code != 405 || strings.Contains(w.Body.String(), "secret") {
				t.Errorf("%s %s: %d %s", method, path, w.Code, w.Body)
			}
		}
	}
}

// The protection of net/http compares hosts where a browser does not say from which site it asks, so a page
// that came by plain http would pass (https://pkg.go.dev/net/http#CrossOriginProtection).
func TestAPageThatCameByPlainHTTPMayDoNothing(t *testing.T) {
	for _, secure := range []bool{false, true} {
		g := openGate(t)
		g.secure = secure
		g.joins("ana", access.Owner)
		g.joins("ben", access.Crew)
		tests := []struct {
			origin string
			passes bool
		}{
			{"http://shed.example:8420", !secure}, {"HTTP://shed.example:8420", !secure}, {"https://shed.example:8420", true},
		}
		for _, tt := range tests {
			w := g.ask("ana", "POST", "/api/members/"+g.persons["ben"]+"/role", `{"role":"crew"}`, "Origin", tt.origin)
			if (w.Code == 204) != tt.passes {
				t.Errorf("over https %v, from %s: %d %s", secure, tt.origin, w.Code, w.Body)
			}
		}
	}
}

// brokenDesk cannot look anybody up.
type brokenDesk struct{ *joining.Desk }

func (brokenDesk) Who(context.Context, string) (access.Device, access.Grant, error) {
	return access.Device{ID: "d1", Person: "p1"}, access.Grant{Role: access.Owner}, errDisk
}

func (brokenDesk) Join(context.Context, joining.Asks) (joining.Joined, error) {
	return joining.Joined{Token: "t"}, errDisk
}

func TestADeskThatFailsLetsNobodyIn(t *testing.T) {
	h := handler(t, newGround(), func(c *httpapi.Config) { c.Desk = brokenDesk{} })
	asked := append(slices.Clone(routes), route{method: "POST", path: "/api/join", body: `{"code":"ACDEFGHJ","device":"` + uuid.NewString() + `"}`})
	for _, route := range asked {
		r := httptest.NewRequest(route.method, route.path, strings.NewReader(route.body))
		r.Host = "shed.example"
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != 500 || strings.Contains(w.Body.String(), errDisk.Error()) || len(w.Result().Cookies()) > 0 {
			t.Errorf("%s %s: %d %s, cookies %v", route.method, route.path, w.Code, w.Body, w.Result().Cookies())
		}
	}
}

func TestATokenIsTakenFromItsCookieAlone(t *testing.T) {
	g := fullGate(t)
	name, token, _ := strings.Cut(g.cookies["ana"], "=")
	for _, path := range []string{"/api/me?token=" + token, "/api/me?" + name + "=" + token, "/api/me?cookie=" + url.QueryEscape(g.cookies["ana"])} {
		if w := g.ask("nobody", "GET", path, "", "Authorization", "Bearer "+token, name, token); w.Code != 401 {
			t.Errorf("%s: %d %s", path, w.Code, w.Body)
		}
	}
	code, _, err := g.desk.Invite(context.Background(), uuid.NewString(), "Cleo", access.Crew)
	if err != nil {
		t.Fatal(err)
	}
	w := g.ask("nobody", "POST", "/api/join?code="+code, `{"device":"`+uuid.NewString()+`"}`)
	if w.Code != 403 {
		t.Errorf("a code in the address: %d %s", w.Code, w.Body)
	}
}

// Of names that come twice encoding/json takes the last, whatever their case. One parser reads, so nobody
// else has understood another; what is not of a kind with what was asked for is refused.
func TestWhatIsAskedIsReadInOneWay(t *testing.T) {
	person := uuid.NewString() // no member: a member's role stays
	tests := []struct {
		name, body string
		status     int
		role       string
	}{
		{"a role twice", `{"person":"` + person + `","role":"owner","role":"viewer"}`, 200, "viewer"},
		{"a role twice, in other letters", `{"person":"` + person + `","role":"owner","ROLE":"viewer"}`, 200, "viewer"},
		{"what is not asked for", `{"person":"` + person + `","role":"crew","expires":"2099-01-01","code":"ACDEFGHJ","id":"x"}`, 200, "crew"},
		{"a role that is a list", `{"person":"` + person + `","role":["owner"]}`, 400, ""},
		{"a role that is a number", `{"person":"` + person + `","role":1}`, 400, ""},
		{"a person that is an object", `{"person":{},"role":"crew"}`, 400, ""},
		{"two bodies", `{"person":"` + person + `","role":"crew"}{"role":"owner"}`, 400, ""},
		{"nesting without end", strings.Repeat(`{"a":`, 800), 400, ""},
		{"nothing", ``, 400, ""},
	}
	g := fullGate(t)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := g.ask("ana", "POST", "/api/invitations?role=owner", tt.body)
			var answer struct{ Role, Code, Expires string }
			if err := json.Unmarshal(w.Body.Bytes(), &answer); err != nil || w.Code != tt.status || answer.Role != tt.role {
				t.Fatalf("%d %s", w.Code, w.Body)
			}
			if w.Code == 200 && (answer.Code == "ACDE-FGHJ" || !strings.HasPrefix(answer.Expires, "2026-")) {
				t.Errorf("who asks chose the code or the time: %s", w.Body)
			}
		})
	}
}

func TestFewFilesAreReadAtOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		h := handler(t, newGround(), nil)
		body := slowBody{end: make(chan struct{}, 5)}
		gone, leave := context.WithCancel(context.Background())
		for i := range 5 {
			r := httptest.NewRequest("POST", "/api/unsent", &body)
			r.Host = "shed.example"
			if i == 4 {
				r = r.WithContext(gone)
			}
			go h.ServeHTTP(httptest.NewRecorder(), r)
			synctest.Wait()
		}
		if n := body.asked.Load(); n != 2 {
			t.Errorf("%d files are read at once", n)
		}
		leave()
		for range 4 {
			body.end <- struct{}{}
			synctest.Wait()
		}
		if n := body.asked.Load(); n != 4 {
			t.Errorf("%d files were read of the four whose senders waited", n)
		}
	})
}

// slowBody ends once for each thing that is put into end.
type slowBody struct {
	asked atomic.Int32
	end   chan struct{}
}

func (b *slowBody) Read([]byte) (int, error) {
	b.asked.Add(1)
	<-b.end
	return 0, io.EOF
}
