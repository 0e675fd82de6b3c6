package httpapi_test

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/gin-gonic/gin"
	"github.com/google/uuid"

	"corymb/internal/access"
	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/division"
	"corymb/server/httpapi"
	"corymb/server/joining"
	"corymb/server/photos"
	"corymb/server/store"
)

// gate is a farm whose people must join, on a store of its own. Cookies are by name of the person.
type gate struct {
	http.Handler
	t       *testing.T
	store   *store.Store
	desk    *joining.Desk
	now     time.Time
	secure  bool
	atDesk  bool
	hung    []string
	persons map[string]string
	devices map[string]string
	cookies map[string]string
}

func openGate(t *testing.T) *gate {
	t.Helper()
	return openGateTo(t, slog.New(slog.DiscardHandler))
}

// openGateTo is one that logs.
func openGateTo(t *testing.T, logger *slog.Logger) *gate {
	t.Helper()
	return makeGate(t, func(c *httpapi.Config) { c.Logger = logger })
}

// impatientGate is one that waits so long for what is asked.
func impatientGate(t *testing.T, patience time.Duration) *gate {
	t.Helper()
	return makeGate(t, func(c *httpapi.Config) { c.Patience = patience })
}

func makeGate(t *testing.T, change func(*httpapi.Config)) *gate {
	t.Helper()
	g := &gate{
		t: t, now: time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC),
		persons: map[string]string{}, devices: map[string]string{}, cookies: map[string]string{},
	}
	clock := func() time.Time { return g.now }
	s, err := store.Open(t.TempDir(), clock)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	g.store, g.desk = s, joining.New(s, clock)
	kept, err := photos.Open(t.TempDir(), photos.UsualLimits(), clock)
	if err != nil {
		t.Fatal(err)
	}
	g.Handler = handler(t, newGround(), func(c *httpapi.Config) {
		c.Farm, c.Desk, c.Roster, c.Now, c.Photos, c.Backups = s, g.desk, s, clock, kept, &shelf{}
		c.Bills = &biller{}
		c.Export = func(context.Context, io.Writer) error { return nil }
		c.Divide = func(crop.Farm, division.Question) (division.Plan, error) {
			return division.Plan{AsOf: "2026-06-01"}, nil
		}
		c.Worth = func(crop.Farm, crop.Season, crop.Date, crop.Cents, *httpapi.Worth) (httpapi.Worth, error) {
			return httpapi.Worth{}, nil
		}
		c.Intake = changelog.Intake{Standing: s.Standing, Append: s.Append}
		c.Came = func(*http.Request) httpapi.Came {
			return httpapi.Came{From: netip.MustParseAddr("192.168.7.31"), Secure: g.secure, AtDesk: g.atDesk}
		}
		c.Connected = func() []string { return []string{g.devices["ben"]} }
		c.HangUp = func(device string) { g.hung = append(g.hung, device) }
		c.Origin = func() string { return "https://shed.example:8420" }
		c.About = func() (httpapi.About, error) { return httpapi.About{}, nil }
		c.Trust = func() (string, string) { return "http://shed.example:8420/trust", "ABCD" }
		c.QR = func(text string) ([]string, error) { return []string{text}, nil }
		change(c)
	})
	return g
}

// ask asks as somebody, "" for nobody.
func (g *gate) ask(as, method, path, body string, header ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	r.Host = "shed.example:8420"
	if cookie := g.cookies[as]; cookie != "" {
		r.Header.Set("Cookie", cookie)
	}
	for i := 0; i < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	g.ServeHTTP(w, r)
	return w
}

// joins lets somebody join by a code that the desk gives out.
func (g *gate) joins(name string, role access.Role) {
	g.t.Helper()
	g.persons[name], g.devices[name] = uuid.NewString(), uuid.NewString()
	code, _, err := g.desk.Invite(context.Background(), g.persons[name], name, role)
	if err != nil {
		g.t.Fatal(err)
	}
	w := g.ask("", "POST", "/api/join", fmt.Sprintf(`{"code":%q,"device":%q,"label":"phone of %s"}`, code, g.devices[name], name))
	if w.Code != 200 {
		g.t.Fatalf("%s does not join: %d %s", name, w.Code, w.Body)
	}
	cookie := w.Result().Cookies()[0]
	g.cookies[name] = cookie.Name + "=" + cookie.Value
	g.now = g.now.Add(time.Minute)
}

// fullGate is a farm with one of each role, one who was withdrawn, and one of another farm.
func fullGate(t *testing.T) *gate {
	t.Helper()
	g, other := openGate(t), openGate(t)
	g.joins("ana", access.Owner)
	g.joins("ben", access.Crew)
	g.joins("vera", access.Viewer)
	g.joins("gone", access.Owner)
	if err := g.store.Withdraw(context.Background(), g.devices["gone"], g.now); err != nil {
		t.Fatal(err)
	}
	other.joins("stranger", access.Owner)
	_, theirs, _ := strings.Cut(other.cookies["stranger"], "=")
	ours, _, _ := strings.Cut(g.cookies["ana"], "=")
	g.cookies["stranger"] = other.cookies["stranger"]
	g.cookies["renamed"] = ours + "=" + theirs
	g.cookies["forged"] = ours + "=" + strings.Repeat("A", 43)
	g.cookies["stale"] = g.cookies["ben"]
	g.cookies["nobody"] = ""
	return g
}

// route is one that asks for a role.
type route struct {
	method, path, body string
	viewer, crew       int // status; an owner's is the crew's, or below 300
}

var routes = []route{
	{"GET", "/api/me", "", 200, 200},
	{"GET", "/api/farm", "", 200, 200},
	{"GET", "/api/ages", "", 200, 200},
	{"GET", "/api/colour", "", 200, 200},
	{"GET", "/api/forecast", "", 200, 200},
	{"POST", "/api/divide", `{}`, 403, 403},
	{"GET", "/api/money", "", 403, 403},
	{"GET", "/api/money/bills", "", 403, 403},
	{"GET", "/api/money/worth", "", 403, 403},
	{"GET", "/api/report", "", 403, 403},
	{"GET", "/api/packing", "", 400, 400}, // it wants a day
	{"GET", "/api/about", "", 200, 200},
	{"GET", "/api/about/texts", "", 200, 200},
	{"POST", "/api/unsent", "UNSENT", 403, 200},
	{"POST", "/api/tags", `{"paper":"a4","plants":["PERSON"]}`, 403, 404},
	{"GET", "/api/photos/HASH", "", 404, 404},
	{"HEAD", "/api/photos/HASH", "", 404, 404},
	{"GET", "/api/photos/HASH/small", "", 404, 404},
	{"HEAD", "/api/photos/HASH/small", "", 404, 404},
	{"POST", "/api/photos/missing", `["HASH"]`, 200, 200},
	{"HEAD", "/api/photos/HASH/upload", "", 403, 204},
	{"PATCH", "/api/photos/HASH/upload", "", 403, 415},
	{"DELETE", "/api/photos/HASH", "", 403, 403},
	{"GET", "/api/backups", "", 403, 403},
	{"POST", "/api/backups", `{"do":"off"}`, 403, 403},
	{"GET", "/api/export", "", 403, 403},
	{"GET", "/api/tables", "", 403, 403},
	{"GET", "/api/tables/costs.csv", "", 403, 403},
	{"GET", "/api/devices", "", 403, 403},
	{"POST", "/api/invitations", `{"person":"PERSON","name":"Cleo","role":"crew"}`, 403, 403},
	{"DELETE", "/api/invitations/INVITATION", "", 403, 403},
	{"POST", "/api/members/PERSON/role", `{"role":"crew"}`, 403, 403},
	{"POST", "/api/members/PERSON/withdraw", "", 403, 403},
	{"POST", "/api/devices/DEVICE/withdraw", "", 403, 403},
	{"POST", "/api/devices/looked", "", 403, 403},
	{"POST", "/api/codes", "", 403, 403},
	{"POST", "/api/invoices", `{"buyer":"b","orders":["o"],"date":"2026-06-01"}`, 403, 403},
	{"POST", "/api/invoices/INVOICE/void", `{"date":"2026-06-01"}`, 403, 403},
	{"POST", "/api/credits", `{"claim":"c","date":"2026-06-01"}`, 403, 403},
	{"POST", "/api/card", `{"batch":"K7M4QE","paper":"a4","language":"en","sheets":1}`, 403, 403},
}

// fill puts what a route needs into its path and body.
func (g *gate) fill(text string) string {
	if strings.Contains(text, "INVITATION") {
		_, invitation, err := g.desk.Invite(context.Background(), uuid.NewString(), "Dora", access.Crew)
		if err != nil {
			g.t.Fatal(err)
		}
		text = strings.ReplaceAll(text, "INVITATION", invitation.ID)
	}
	if text == "UNSENT" {
		return unsentFile(g.store.Farm(), 5)
	}
	return strings.NewReplacer("PERSON", g.persons["ben"], "DEVICE", g.devices["ben"], "HASH", strings.Repeat("ab", 32)).Replace(text)
}

func TestEveryRouteAsksForTheRole(t *testing.T) {
	for _, route := range routes {
		t.Run(route.method+" "+route.path, func(t *testing.T) {
			g := fullGate(t)
			ask := func(as string) *httptest.ResponseRecorder {
				return g.ask(as, route.method, g.fill(route.path), g.fill(route.body))
			}
			for as, want := range map[string]int{
				"ben": route.crew, "vera": route.viewer,
				"nobody": 401, "forged": 401, "stranger": 401, "renamed": 401, "gone": 401,
			} {
				if w := ask(as); w.Code != want {
					t.Errorf("%s: %d %s, want %d", as, w.Code, w.Body, want)
				}
			}
			if w := ask("ana"); w.Code >= 300 && w.Code != route.crew || w.Code == 403 { // last, for it may change who may what
				t.Errorf("the owner: %d %s", w.Code, w.Body)
			}
		})
	}
}

// open are the routes that ask for no role.
var open = []string{"GET /sync", "POST /api/join", "POST /api/leave"}

func TestEveryRouteIsInTheTable(t *testing.T) {
	router, ok := openGate(t).Handler.(interface{ Routes() gin.RoutesInfo })
	if !ok {
		t.Fatal("the handler tells no routes")
	}
	for _, r := range router.Routes() {
		path := strings.NewReplacer(":id", "INVITATION", ":device", "DEVICE", ":person", "PERSON", ":hash", "HASH", ":invoice", "INVOICE", ":file", "costs.csv").Replace(r.Path)
		known := slices.ContainsFunc(routes, func(known route) bool {
			return known.method == r.Method && known.path == path
		})
		if !known && !slices.Contains(open, r.Method+" "+r.Path) {
			t.Errorf("%s %s is in no table of who may use it", r.Method, r.Path)
		}
	}
}

// A photo's hash is no secret on a farm: whoever may write could send something else under it.
func TestNobodySpoilsThePhotoOfAnother(t *testing.T) {
	g := fullGate(t)
	data := photo(t, 30)
	spoilt := strings.Repeat("x", len(data)-100)
	send := func(as, body string, offset int) *httptest.ResponseRecorder {
		return g.ask(as, "PATCH", "/api/photos/"+hashOf(data)+"/upload", body, "Content-Type", "application/partial-upload",
			"Upload-Offset", fmt.Sprint(offset), "Upload-Length", fmt.Sprint(len(data)))
	}
	if w := send("ben", string(data[:100]), 0); w.Code != 204 {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	checkError(t, send("ana", spoilt, 100), 409, "offset")
	if w := send("ben", string(data[100:]), 100); w.Code != 204 || w.Header().Get("Upload-Complete") != "?1" {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	if w := g.ask("ana", "HEAD", "/api/photos/"+hashOf(data)+"/upload", ""); w.Header().Get("Upload-Complete") != "?1" {
		t.Errorf("what came whole is told another as %v", w.Header())
	}
}

func TestAGuessIsAnsweredWithAReason(t *testing.T) {
	g := fullGate(t)
	if w := g.ask("nobody", "POST", "/api/join", `{"code":"ACDEFGHJ","device":"`+uuid.NewString()+`"}`); w.Code != 403 {
		t.Errorf("a guess is answered %d %s", w.Code, w.Body)
	}
}

func TestATokenThatWasReplacedIsNoUse(t *testing.T) {
	g := fullGate(t)
	code, _, err := g.desk.Invite(context.Background(), g.persons["ben"], "ben", access.Crew)
	if err != nil {
		t.Fatal(err)
	}
	w := g.ask("ben", "POST", "/api/join", fmt.Sprintf(`{"code":%q,"device":%q}`, code, g.devices["ben"]))
	if w.Code != 200 {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if w := g.ask("stale", "GET", "/api/me", ""); w.Code != 401 {
		t.Errorf("the old token still does: %d", w.Code)
	}
}

func TestWhoCannotReadItsTokenIsNotLockedIn(t *testing.T) {
	g := fullGate(t)
	code, _, err := g.desk.Invite(context.Background(), uuid.NewString(), "Cleo", access.Crew)
	if err != nil {
		t.Fatal(err)
	}
	w := g.ask("nobody", "POST", "/api/join", fmt.Sprintf(`{"code":%q,"device":%q}`, code, g.devices["ana"]))
	var me struct{ Device string }
	if err := json.Unmarshal(w.Body.Bytes(), &me); err != nil || w.Code != 200 || me.Device == g.devices["ana"] {
		t.Errorf("who claims the owner's device gets %d %s", w.Code, w.Body)
	}
	if w := g.ask("ana", "GET", "/api/me", ""); w.Code != 200 {
		t.Errorf("and the owner is out: %d", w.Code)
	}
}

// RFC 6265bis: HttpOnly keeps scripts from the token, SameSite other sites, Secure and the prefix plain
// http and other hosts.
func TestTheTokenIsACookieThatNothingElseCanUse(t *testing.T) {
	for _, secure := range []bool{false, true} {
		g := openGate(t)
		g.secure = secure
		g.joins("ana", access.Owner)
		w := g.ask("ana", "GET", "/api/me", "")
		cookies := w.Result().Cookies()
		if len(cookies) != 1 {
			t.Fatalf("cookies %v", cookies)
		}
		c := cookies[0]
		if !c.HttpOnly || c.SameSite != http.SameSiteStrictMode || c.Secure != secure || c.Path != "/" || c.Domain != "" ||
			strings.HasPrefix(c.Name, "__Host-") != secure || c.MaxAge != 400*24*60*60 {
			t.Errorf("over https %v: %+v", secure, c)
		}
		if strings.Contains(w.Body.String(), c.Value) {
			t.Error("the answer tells the token to scripts")
		}
	}
}

func TestLeaving(t *testing.T) {
	g := fullGate(t)
	w := g.ask("ben", "POST", "/api/leave", "")
	if w.Code != 204 || w.Result().Cookies()[0].MaxAge >= 0 || !slices.Contains(g.hung, g.devices["ben"]) {
		t.Errorf("%d %s, cookies %v, hung up on %v", w.Code, w.Body, w.Result().Cookies(), g.hung)
	}
	if w.Header().Get(clearing) != "" {
		t.Error("who leaves loses what was not sent")
	}
	if w := g.ask("ben", "GET", "/api/me", ""); w.Code != 401 {
		t.Errorf("who left is still there: %d", w.Code)
	}
	if w := g.ask("ana", "POST", "/api/leave", ""); w.Code != 409 || !strings.Contains(w.Body.String(), `"last_owner"`) {
		t.Errorf("the last owner leaves: %d %s", w.Code, w.Body)
	}
}

func TestAPersonIsWithdrawnWithAllDevices(t *testing.T) {
	g := fullGate(t)
	g.joins("other", access.Crew)
	code, _, err := g.desk.Invite(context.Background(), g.persons["ben"], "ben", access.Crew)
	if err != nil {
		t.Fatal(err)
	}
	second := uuid.NewString()
	joined := g.ask("", "POST", "/api/join", fmt.Sprintf(`{"code":%q,"device":%q,"label":"tablet"}`, code, second))
	cookie := joined.Result().Cookies()[0]
	g.cookies["ben's tablet"] = cookie.Name + "=" + cookie.Value
	g.hung = nil
	if w := g.ask("ana", "POST", "/api/members/"+g.persons["ben"]+"/withdraw", ""); w.Code != 204 {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	for who, want := range map[string]int{"ben": 401, "ben's tablet": 401, "other": 200, "ana": 200} {
		if w := g.ask(who, "GET", "/api/me", ""); w.Code != want {
			t.Errorf("%s: %d, want %d", who, w.Code, want)
		}
	}
	slices.Sort(g.hung)
	if want := slices.Sorted(slices.Values([]string{g.devices["ben"], second})); !slices.Equal(g.hung, want) {
		t.Errorf("hung up on %v, want %v", g.hung, want)
	}
	for person, want := range map[string]string{g.persons["ben"]: "not_found", "nobody": "not_found", g.persons["ana"]: "last_owner"} {
		if w := g.ask("ana", "POST", "/api/members/"+person+"/withdraw", ""); !strings.Contains(w.Body.String(), `"`+want+`"`) {
			t.Errorf("%s: %d %s, want %s", person, w.Code, w.Body, want)
		}
	}
	if w := g.ask("ana", "GET", "/api/me", ""); w.Code != 200 {
		t.Errorf("the last owner is out: %d", w.Code)
	}
}

func TestThePagesOfAnotherSiteMayDoNothing(t *testing.T) {
	g := fullGate(t)
	for _, header := range [][]string{
		{"Sec-Fetch-Site", "cross-site"}, {"Sec-Fetch-Site", "same-site"},
		{"Origin", "https://evil.example"}, {"Origin", "https://evil.example", "Content-Type", "text/plain"}, {"Origin", "null"},
	} {
		for _, path := range []string{"/api/leave", "/api/invitations", "/api/join", "/api/unsent", "/api/devices/" + g.devices["ben"] + "/withdraw"} {
			if w := g.ask("ana", "POST", path, `{"person":"`+g.persons["ben"]+`","role":"owner"}`, header...); w.Code != 403 || !strings.Contains(w.Body.String(), `"origin"`) {
				t.Errorf("%v: POST %s is answered %d %s", header, path, w.Code, w.Body)
			}
		}
	}
	if w := g.ask("ana", "POST", "/api/members/"+g.persons["ben"]+"/role", `{"role":"viewer"}`, "Sec-Fetch-Site", "same-origin"); w.Code != 204 {
		t.Errorf("the own page may not either: %d %s", w.Code, w.Body)
	}
}

func TestTheDevicesOfAFarmAreTold(t *testing.T) {
	g := fullGate(t)
	g.store.Seen(changelog.Sighting{Incarnation: uuid.NewString(), Device: g.devices["ben"], Unsent: 12})
	w := g.ask("ana", "GET", "/api/devices", "")
	var told struct {
		Origin  string
		Devices []struct {
			Device, Name, Role, Label, Joined, Seen, Withdrawn string
			Unsent                                             *int
			Connected                                          bool
		}
		Members []struct{ Person, Name, Role string }
	}
	if err := json.Unmarshal(w.Body.Bytes(), &told); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(w.Body.String(), `"restored":""`) {
		t.Errorf("of a farm that was never put back it is told: %s", w.Body)
	}
	if told.Origin != "https://shed.example:8420" || len(told.Devices) != 4 || len(told.Members) != 4 {
		t.Fatalf("told %+v", told)
	}
	ben, vera, gone := told.Devices[1], told.Devices[2], told.Devices[3]
	if ben.Name != "ben" || ben.Role != "crew" || ben.Label != "phone of ben" || !ben.Connected || ben.Seen != "2026-06-01T12:04:00Z" || *ben.Unsent != 12 || ben.Withdrawn != "" {
		t.Errorf("ben is %+v", ben)
	}
	if vera.Connected || vera.Seen != "" || vera.Unsent != nil || gone.Withdrawn != "2026-06-01T12:04:00Z" {
		t.Errorf("vera is %+v, who was withdrawn %+v", vera, gone)
	}
}

// Ben's phone lay in a drawer for a year and a half, Ana's was heard of.
func TestADeviceThatHasToJoinAgainIsToldAsThat(t *testing.T) {
	g := fullGate(t)
	for _, tt := range []struct {
		months int // since the farm's devices joined
		want   map[string]bool
	}{
		{17, map[string]bool{"ana": false, "ben": false}},
		{19, map[string]bool{"ana": false, "ben": true}},
	} {
		g.now = time.Date(2026, 6, 1, 12, 4, 0, 0, time.UTC).AddDate(0, tt.months, 0)
		g.store.Seen(changelog.Sighting{Incarnation: uuid.NewString(), Device: g.devices["ana"]})
		var told struct {
			Devices []struct {
				Device    string
				Forgotten bool
			}
		}
		if w := g.ask("ana", "GET", "/api/devices", ""); json.Unmarshal(w.Body.Bytes(), &told) != nil || len(told.Devices) != 4 {
			t.Fatalf("after %d months: %d %s", tt.months, w.Code, w.Body)
		}
		forgotten := map[string]bool{}
		for _, d := range told.Devices {
			forgotten[d.Device] = d.Forgotten
		}
		for name, want := range tt.want {
			if got := forgotten[g.devices[name]]; got != want {
				t.Errorf("after %d months, whether %s is forgotten is told as %v", tt.months, name, got)
			}
		}
	}
}

func TestAnInvitationIsToldOnce(t *testing.T) {
	g := fullGate(t)
	person := uuid.NewString()
	w := g.ask("ana", "POST", "/api/invitations", `{"person":"`+person+`","name":"Cleo","role":"crew"}`)
	var invited struct {
		ID, Code, Link, Expires, Role string
		QR                            []string
		Trust                         struct{ Link, Fingerprint string }
	}
	if err := json.Unmarshal(w.Body.Bytes(), &invited); err != nil || w.Code != 200 {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	plain := joining.NormalCode(invited.Code)
	if invited.Link != "https://shed.example:8420/#join/"+plain || invited.QR[0] != invited.Link || invited.Expires != "2026-06-01T12:14:00Z" ||
		invited.Trust.Link != "http://shed.example:8420/trust" || invited.Trust.Fingerprint != "ABCD" {
		t.Errorf("invited %+v", invited)
	}
	if list := g.ask("ana", "GET", "/api/devices", "").Body.String(); strings.Contains(list, plain) || !strings.Contains(list, invited.ID) {
		t.Errorf("the list tells %s", list)
	}
	joined := g.ask("", "POST", "/api/join", fmt.Sprintf(`{"code":%q,"device":%q,"label":"  a\u0000\n <b>phone</b> "}`, strings.ToLower(invited.Code), uuid.NewString()))
	if want := `"name":"Cleo"`; joined.Code != 200 || !strings.Contains(joined.Body.String(), want) {
		t.Errorf("%d %s, want %s", joined.Code, joined.Body, want)
	}
	if list := g.ask("ana", "GET", "/api/devices", "").Body.String(); strings.Contains(list, invited.ID) {
		t.Errorf("the invitation that was taken is still told: %s", list)
	}
}

func TestWhatIsAskedBadlyIsAnsweredInASentence(t *testing.T) {
	g := fullGate(t)
	long := strings.Repeat("x", 5000)
	tests := []struct {
		name, as, path, body string
		status               int
		code                 string
	}{
		{"no JSON", "", "/api/join", "code=1", 400, "malformed"},
		{"too much", "", "/api/join", `{"code":"` + long + `"}`, 413, "too_large"},
		{"a device that is no UUID", "", "/api/join", `{"code":"ACDEFGHJ","device":"../../etc/passwd"}`, 400, "malformed"},
		{"a role that there is not", "ana", "/api/invitations", `{"person":"` + uuid.NewString() + `","role":"admin"}`, 400, "malformed"},
		{"a person that is no UUID", "ana", "/api/invitations", `{"person":"x","role":"crew"}`, 400, "malformed"},
		{"the role of nobody", "ana", "/api/members/x/role", `{"role":"crew"}`, 404, "not_found"},
		{"the role of the last owner with a device", "ana", "/api/members/" + g.persons["ana"] + "/role", `{"role":"crew"}`, 409, "last_owner"},
		{"the last owner's device", "ana", "/api/devices/" + g.devices["ana"] + "/withdraw", "", 409, "last_owner"},
		{"a device that there is not", "ana", "/api/devices/x/withdraw", "", 404, "not_found"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := g.ask(tt.as, "POST", tt.path, tt.body)
			var answer struct{ Error struct{ Code, Text string } }
			if err := json.Unmarshal(w.Body.Bytes(), &answer); err != nil || w.Code != tt.status || answer.Error.Code != tt.code || !strings.HasSuffix(answer.Error.Text, ".") {
				t.Errorf("%d %s, want %d %s", w.Code, w.Body, tt.status, tt.code)
			}
		})
	}
}

func TestTheMadeUpFarmTellsThatItIsOpenAtTheDesk(t *testing.T) {
	g := openGate(t)
	g.desk.OpenTo(uuid.NewString())
	for _, atDesk := range []bool{false, true} {
		g.atDesk = atDesk
		var answer struct{ Open bool }
		w := g.ask("", "GET", "/api/me", "")
		if err := json.Unmarshal(w.Body.Bytes(), &answer); err != nil || w.Code != 401 || answer.Open != atDesk {
			t.Errorf("at the desk %v: %d %s", atDesk, w.Code, w.Body)
		}
	}
}

func TestManyGuessesAreToldToWait(t *testing.T) {
	g := openGate(t)
	codes := map[int]int{}
	for range 30 {
		w := g.ask("", "POST", "/api/join", `{"code":"ACDEFGHJ","device":"`+uuid.NewString()+`"}`)
		codes[w.Code]++
		if w.Code == 429 && w.Header().Get("Retry-After") == "" {
			t.Error("it does not say how long")
		}
	}
	if codes[403] != 10 || codes[429] != 20 {
		t.Errorf("answered %v", codes)
	}
}
