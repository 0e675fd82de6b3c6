package httpapi_test

import (
	"context"
	"encoding/json"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"corymb/internal/access"
	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/selling"
	"corymb/server/httpapi"
)

// packingGround is a farm with an order for 2 June 2026 and stems for it; its amounts are numbers that nothing else is.
func packingGround() *ground {
	g := newGround()
	r := changelog.Recorder{Incarnation: "00000000-0000-4000-8000-000000000001"}
	var facts []changelog.Fact
	facts = append(facts, farm.ChannelFacts(crop.Channel{ID: "ch", Name: "Florists", Commission: 1_000, Floor: map[crop.Grade]crop.Cents{crop.GradeFirst: 77, crop.GradeExtra: 613}})...)
	facts = append(facts, farm.BuyerFacts(crop.Buyer{ID: "b", Name: "Studio", Channel: "ch"})...)
	facts = append(facts, farm.OrderFacts(crop.Order{ID: "o", Buyer: "b", Due: "2026-06-02"})...)
	facts = append(facts, farm.LineFacts(crop.Line{ID: "dear", Order: "o", Bunches: 3, Stems: 10, Price: 8_730})...)
	facts = append(facts, farm.LineFacts(crop.Line{ID: "cheap", Order: "o", Bunches: 3, Stems: 10, Price: 5_930})...)
	facts = append(facts, farm.VisitFacts(crop.Visit{ID: "v", Bed: "bed", Date: "2026-06-01", Purpose: crop.PurposeBench, Counts: []crop.Count{
		{Colour: "c", Grade: crop.GradeFirst, Length: crop.TenCentimetres(50), Stems: 44},
	}})...)
	for _, c := range r.Operation(2, facts...) {
		g.state.Merge(c, c.Stamp)
	}
	return g
}

func TestThePlanIsEverybodysAndItsAmountsTheOwners(t *testing.T) {
	desk := &deskOf{}
	h := handler(t, packingGround(), func(c *httpapi.Config) { c.Desk, c.Packing = desk, selling.PlanDay })
	amounts := []string{"8730", "7857", "5930", "5337", "28908", "77", "613", "cents", "money", "revenue", "floor", "better"}
	for _, role := range []access.Role{access.Crew, access.Owner, access.Viewer} {
		desk.grant = access.Grant{Role: role, Person: "p"}
		answer := call(h, "GET", "/api/packing?day=2026-06-02")
		body := answer.Body.String()
		var got struct {
			Stems, Placed int
			Lines         []struct {
				Line  string
				More  int
				Kept  []string
				Short *struct {
					There int
					To    []struct {
						Line   string
						Stems  int
						Better bool
					}
				}
			}
			Money *struct{ Revenue int }
		}
		if err := json.Unmarshal([]byte(body), &got); err != nil || answer.Code != http.StatusOK {
			t.Fatalf("%s: %d %s", role, answer.Code, body)
		}
		if got.Stems != 44 || got.Placed != 40 || len(got.Lines) != 2 || got.Lines[0].Line != "cheap" || got.Lines[0].More != 1 || got.Lines[1].More != 3 {
			t.Errorf("%s: the plan is %s", role, body)
			continue
		}
		cheap, dear := got.Lines[0], got.Lines[1]
		if !slices.Equal(cheap.Kept, []string{"extra"}) || len(dear.Kept) != 0 {
			t.Errorf("%s: %v and %v are kept back, want extra and nothing", role, cheap.Kept, dear.Kept)
		}
		if s := cheap.Short; s == nil || s.There != 44 || len(s.To) != 1 || s.To[0].Line != "dear" || s.To[0].Stems != 30 || s.To[0].Better != (role == access.Owner) {
			t.Errorf("%s: the short line says %+v", role, s)
		}
		if role == access.Owner {
			if got.Money == nil || got.Money.Revenue != 28_908 { // 3 × 7857 + 5337
				t.Errorf("the owner is told %s", body)
			}
			continue
		}
		for _, amount := range amounts {
			if strings.Contains(body, amount) {
				t.Errorf("%s read %q in %s", role, amount, body)
			}
		}
	}
}

func TestAPlanIsLookedForOnceUntilSomethingChanges(t *testing.T) {
	g := packingGround()
	g.newest.Store(7)
	plans := 0
	h := handler(t, g, func(c *httpapi.Config) {
		c.Packing = func(ctx context.Context, f crop.Farm, day, today crop.Date, w selling.Wishes) (selling.Plan, error) {
			plans++
			return selling.PlanDay(ctx, f, day, today, w)
		}
	})
	for _, step := range []struct {
		name, query string
		newest      int64
		want        int
	}{
		{"asked first", "day=2026-06-02", 7, 1},
		{"asked again", "day=2026-06-02", 7, 1},
		{"another day", "day=2026-06-03", 7, 2},
		{"with a line pinned", "day=2026-06-02&pin=1:cheap&refuse=dear", 7, 3},
		{"the same in another order", "refuse=dear&pin=1:cheap&day=2026-06-02", 7, 3},
		{"the first day again", "day=2026-06-02", 7, 3},
		{"after something was recorded", "day=2026-06-02", 8, 4},
	} {
		g.newest.Store(step.newest)
		if answer := call(h, "GET", "/api/packing?"+step.query); answer.Code != http.StatusOK || plans != step.want {
			t.Errorf("%s: status %d, planned %d times, want %d", step.name, answer.Code, plans, step.want)
		}
	}
}

func TestWhatIsAskedOfAPlanIsRead(t *testing.T) {
	h := handler(t, packingGround(), func(c *httpapi.Config) { c.Packing = selling.PlanDay })
	for _, tt := range []struct {
		name, query string
		status      int
		want        string
	}{
		{"no day", "", http.StatusBadRequest, `"code":"day"`},
		{"a day that there is not", "day=2026-06-31", http.StatusBadRequest, `"code":"day"`},
		{"a day without orders", "day=2026-07-01", http.StatusOK, `"lines":[]`},
		{"a pinned line", "day=2026-06-02&pin=2:cheap", http.StatusOK, `"pinned":{"cheap":2}`},
		{"a line of another day", "day=2026-06-02&pin=2:x&refuse=y", http.StatusOK, `"wrong":["x","y"]`},
		{"a pin without a number", "day=2026-06-02&pin=cheap", http.StatusBadRequest, `"code":"wishes"`},
		{"a pin below nothing", "day=2026-06-02&pin=-1:cheap", http.StatusBadRequest, `"code":"wishes"`},
		{"an id with signs in it", "day=2026-06-02&refuse=" + url.QueryEscape("a@2026-06-02&b"), http.StatusOK, `a@2026-06-02`},
		{"more wishes than any day has", "day=2026-06-02" + strings.Repeat("&refuse=x", 501), http.StatusBadRequest, `"code":"wishes"`},
	} {
		answer := call(h, "GET", "/api/packing?"+tt.query)
		if body := answer.Body.String(); answer.Code != tt.status || !strings.Contains(body, tt.want) {
			t.Errorf("%s: %d %s, want %d with %s", tt.name, answer.Code, body, tt.status, tt.want)
		}
	}
}
