package httpapi_test

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"reflect"
	"strings"
	"testing"
	"time"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/money"
	"corymb/server/answers"
	"corymb/server/httpapi"
)

// said reads what was answered.
func said(t *testing.T, h http.Handler, path string) map[string]any {
	t.Helper()
	w := call(h, "GET", path)
	if w.Code != 200 {
		t.Fatalf("%s: %d %s", path, w.Code, w.Body)
	}
	var answer map[string]any
	if err := json.Unmarshal(w.Body.Bytes(), &answer); err != nil {
		t.Fatal(err)
	}
	return answer
}

func TestTheBooksAreLaidBeforeAnybodyAsks(t *testing.T) {
	var early func(context.Context)
	g := dividingGround()
	g.newest.Store(7)
	h := handler(t, g, func(c *httpapi.Config) {
		inOctober(c)
		c.Early = func(work func(context.Context)) { early = work }
	})
	early(t.Context())
	g.fails.Store(true) // what was laid is asked for without a look at the farm
	if answer := said(t, h, "/api/money"); answer["season"] != 2025.0 {
		t.Errorf("%v", answer)
	}
	g.newest.Store(8)
	if w := call(h, "GET", "/api/money"); w.Code != 500 {
		t.Errorf("after a change: %d, want the fault of laying them anew", w.Code)
	}
}

func TestTheBooksOfASeason(t *testing.T) {
	h := handler(t, dividingGround(), inOctober)
	answer := said(t, h, "/api/money?by=grade")
	// Four bunches at 9.00, of which a tenth is kept; 40 stems, all of the first grade; a bed of 10 m is 32.81 ft.
	all := answer["all"].(map[string]any)
	for field, want := range map[string]any{
		"gross_cents": 3600.0, "kept_cents": 360.0, "net_cents": 3240.0, "left_cents": 3240.0, "stems": 40.0, "bunches": 4.0, "price_a_stem": 90.0, "an_hour": nil, "share": 10_000.0,
	} {
		if !reflect.DeepEqual(all[field], want) {
			t.Errorf("%s is %v, want %v", field, all[field], want)
		}
	}
	ground := all["ground"].(map[string]any)
	if ground["plants"] != 8.0 || ground["gross_a_plant"] != 450.0 || ground["gross_a_length"] != 109.728 { // 36.00 / 10 m x 0.3048 m
		t.Errorf("%v", ground)
	}
	if answer["season"] != 2025.0 || answer["unit"] != "ft" || answer["by"] != "grade" || answer["hour_cents"] != 2000.0 {
		t.Errorf("%v", answer)
	}
	rows := answer["rows"].([]any)
	if len(rows) != 1 || rows[0].(map[string]any)["key"] != "first" {
		t.Errorf("%v", rows)
	}
	budget := answer["budget"].(map[string]any)
	if budget["break_even_price"] != 90.0 || budget["pays_fixed"] != 0.0 || budget["net_cents"] != 3240.0 {
		t.Errorf("%v", budget)
	}
	if sides := answer["sides"].([]any); sides[1].(map[string]any)["plants"] != 8.0 || sides[1].(map[string]any)["net_a_plant"] != 405.0 {
		t.Errorf("%v", sides)
	}
}

func TestTheBooksAreKeptApartAsAsked(t *testing.T) {
	h := handler(t, dividingGround(), inOctober)
	for query, gross := range map[string]float64{
		"": 3600, "?channel=ch&grade=first&age=2": 3600, "?grade=extra": 0, "?bed=": 0, "?season=2024": 0, "?from=2025-05-30": 0, "?from=2025-05-29&to=2025-05-29": 3600,
	} {
		if got := said(t, h, "/api/money"+query)["all"].(map[string]any)["gross_cents"]; got != gross {
			t.Errorf("%q: %v, want %v", query, got, gross)
		}
	}
}

func TestWhatCannotBeAskedOfTheBooksIsSaid(t *testing.T) {
	h := handler(t, dividingGround(), inOctober)
	for query, words := range map[string]string{
		"?by=weather": "age_class, bed", "?weather=dry": "Use season, from, to", "?season=last": "year of its spring", "?from=May": "Write year, month and day",
		"?from=2025-06-02&to=2025-06-01": "earlier day first", "?bed=a&bed=b": "asked twice", "?bed=" + strings.Repeat("x", 201): "too long",
	} {
		w := call(h, "GET", "/api/money"+query)
		checkError(t, w, 400, "money")
		if !strings.Contains(w.Body.String(), words) {
			t.Errorf("%s: %s", query, w.Body)
		}
	}
	for _, path := range []string{"/api/money/bills?season=0", "/api/money/worth?season=x"} {
		checkError(t, call(h, "GET", path), 400, "money")
	}
	g := dividingGround()
	g.fails.Store(true)
	for _, path := range []string{"/api/money", "/api/money/bills", "/api/money/worth"} {
		checkError(t, call(handler(t, g, inOctober), "GET", path), 500, "failed")
	}
}

func TestInvoicesAreListedWithWhatIsOwed(t *testing.T) {
	g := dividingGround()
	r := changelog.Recorder{Incarnation: "00000000-0000-4000-8000-000000000003"}
	invoice := crop.Invoice{ID: "i", Number: "2025-BCD-0001", Buyer: "b", Date: "2025-06-01", PayBy: "2025-06-15", Currency: "USD", TaxRate: 1000, Lines: []crop.InvoiceLine{{Line: "l", Due: "2025-05-29", Bunches: 4, Stems: 10, Cents: 3600}}}
	for _, c := range r.Operation(3, farm.InvoiceFacts(invoice)...) {
		g.state.Merge(c, c.Stamp)
	}
	answer := said(t, handler(t, g, inOctober), "/api/money/bills")
	bill := answer["bills"].([]any)[0].(map[string]any)
	for field, want := range map[string]any{"number": "2025-BCD-0001", "billed_cents": 3960.0, "paid_cents": 0.0, "owed_cents": 3960.0, "late_days": 127.0} {
		if bill[field] != want {
			t.Errorf("%s is %v, want %v", field, bill[field], want)
		}
	}
	if sums := answer["sums"].(map[string]any); sums["owed_cents"] != 3960.0 {
		t.Errorf("%v", sums)
	}
}

// TestBooksAreLaidAgainForAChangeAndADay asks the same of one shed.
func TestBooksAreLaidAgainForAChangeAndADay(t *testing.T) {
	g, day := dividingGround(), 20
	h := handler(t, g, func(c *httpapi.Config) {
		c.Now = func() time.Time { return time.Date(2025, 10, day, 12, 0, 0, 0, time.UTC) }
	})
	asOf := func() any { return said(t, h, "/api/money/bills")["asof"] }
	if got := asOf(); got != "2025-10-20" {
		t.Errorf("first: %v", got)
	}
	day++
	if got := asOf(); got != "2025-10-21" {
		t.Errorf("a day later: %v", got)
	}
	said(t, h, "/api/money")
	g.newest.Add(1)
	if got := said(t, h, "/api/money")["arrival"]; got != float64(g.newest.Load()) {
		t.Errorf("after a change the books are of change %v", got)
	}
}

func TestWhatOneMorePlantIsWorthIsDrawnOnceAndKept(t *testing.T) {
	dir, drawn, before := t.TempDir(), 0, 0
	start := func() http.Handler {
		return handler(t, dividingGround(), func(c *httpapi.Config) {
			inOctober(c)
			c.Kept = answers.In(dir, "build")
			c.Worth = func(_ crop.Farm, season crop.Season, asOf crop.Date, hour crop.Cents, last *httpapi.Worth) (httpapi.Worth, error) {
				made := httpapi.Worth{Season: season, AsOf: asOf, Species: []money.Worth{{Species: "yarrow"}}, Draws: []money.PlantDraws{{Species: "yarrow", Ages: [][]money.PlantDraw{}}}, Rests: string(asOf)}
				if last != nil && last.Rests == made.Rests && len(last.Draws) == 1 {
					before++
					return made, nil
				}
				drawn++
				return made, nil
			}
		})
	}
	h := start()
	for range 2 {
		if answer := said(t, h, "/api/money/worth"); answer["season"] != 2025.0 || answer["asof"] != "2025-10-20" {
			t.Errorf("%v", answer)
		}
	}
	said(t, start(), "/api/money/worth")
	if drawn != 1 || before != 1 {
		t.Errorf("drawn %d times, said again after a restart %d times", drawn, before)
	}
	if answer := said(t, start(), "/api/money/worth?season=2024"); answer["asof"] != "2024-12-31" {
		t.Errorf("a season that is over is judged as of %v", answer["asof"])
	}
	failing := handler(t, dividingGround(), func(c *httpapi.Config) {
		c.Worth = func(crop.Farm, crop.Season, crop.Date, crop.Cents, *httpapi.Worth) (httpapi.Worth, error) {
			return httpapi.Worth{}, errors.New("no mode was found")
		}
	})
	if w := call(failing, "GET", "/api/money/worth"); w.Code != 500 || strings.Contains(w.Body.String(), "mode") {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}
