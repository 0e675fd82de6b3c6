package report_test

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/demo"
	"corymb/internal/division"
	"corymb/internal/drift"
	"corymb/internal/farm"
	"corymb/internal/forecast"
	"corymb/internal/money"
	"corymb/internal/report"
	"corymb/internal/yield"
)

const season, made = crop.Season(2026), crop.Date("2026-12-01")

var languages = []report.Language{report.English, report.Spanish}

// madeUp is what a report of the made-up farm is made of. Its books are laid, and the stems of some of its plants are fitted; the
// weeks, the plan and what photos say are told here, since finding them takes long and no report reckons them.
var madeUp = sync.OnceValues(func() (report.Answers, error) {
	state := changelog.NewState()
	for _, device := range demo.Changes("f", season) {
		for _, operation := range device.Operations {
			for _, c := range operation {
				state.Merge(c, c.Stamp)
			}
		}
	}
	f := farm.Read("f", state)
	a := report.Answers{Farm: f, Season: season, Made: made, Books: money.Of(f, season, f.Ahead.Costs.Hour), Bills: money.BillsOf(f, season, made)}
	fit, err := yield.Fit(fewPlantsOf(f), yield.Options{Species: "Achillea millefolium", AsOf: made, AssumedCounted: f.AssumedCounted})
	a.Ages = []report.SpeciesAges{{Species: "Achillea millefolium", Report: fit}}
	for i, monday := 0, crop.Date("2026-05-04"); i < 15; i, monday = i+1, monday.Add(7) {
		a.Scores.Weeks = append(a.Scores.Weeks, forecast.Scored{First: monday, Came: 100 * i, Mean: 650, Q05: 300, Q95: 1000})
	}
	plants := slices.Sorted(keys(f.Plants))
	a.Plan = &division.Plan{AsOf: made, Season: season, Goal: division.Goal{Chance: 0.62, Draws: 800, Season: 2028, Wanted: 8250, Now: 5500}, Net: division.Range{Mean: 554_100, Lo: 384_400, Hi: 736_200}}
	a.Planned = season
	a.Asked = division.Question{Goal: 1.5, Hours: 16, Seasons: 2}
	for i, id := range plants[:9] {
		do := []division.Do{division.Keep, division.Divide, division.Lift}[i%3]
		a.Plan.Actions = append(a.Plan.Actions, division.Action{Plant: id, Do: do, Into: 2 * (i % 3 % 2), Value: division.Range{Mean: float64(100 * i), Lo: 1, Hi: 2000}})
	}
	said := drift.Report{}
	for i, id := range plants[:8] {
		said.PlantSeasons = append(said.PlantSeasons, drift.PlantSeason{Plant: id, Season: season, State: []drift.State{drift.StateNone, drift.StateDrift}[i%2]})
	}
	a.Colour = []report.SpeciesColour{{Report: said}}
	return a, err
})

// fewPlantsOf is a farm with every eighth of its plants, what they gave, and no totals of beds and benches: it has all ages and
// seasons of the whole, which takes ten times as long to fit.
func fewPlantsOf(whole crop.Farm) crop.Farm {
	few := whole
	few.Plants, few.Visits = map[crop.PlantID]crop.Plant{}, map[crop.VisitID]crop.Visit{}
	for i, id := range slices.Sorted(keys(whole.Plants)) {
		if i%8 == 0 {
			few.Plants[id] = whole.Plants[id]
		}
	}
	for id, v := range whole.Visits {
		if _, kept := few.Plants[v.Plant]; kept {
			few.Visits[id] = v
		}
	}
	return few
}

func keys[K comparable, V any](m map[K]V) func(func(K) bool) {
	return func(yield func(K) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

func answers(t *testing.T) report.Answers {
	t.Helper()
	a, err := madeUp()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// tableOf is the table of a report whose head begins so.
func tableOf(t *testing.T, r report.Report, head string) report.Table {
	t.Helper()
	for _, section := range r.Sections {
		for _, part := range section.Parts {
			if table, ok := part.(report.Table); ok && strings.HasPrefix(table.Head[0], head) {
				return table
			}
		}
	}
	t.Fatalf("no table begins with %q", head)
	return report.Table{}
}

// amountIn reads an amount back to cents.
func amountIn(t *testing.T, text string, l report.Language) crop.Cents {
	t.Helper()
	text = strings.NewReplacer("−", "-", map[report.Language]string{report.English: ",", report.Spanish: "."}[l], "", ",", ".").Replace(text)
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return crop.Cents(math.Round(100 * x))
}

func TestMoneyIsTheLedgersAndEachColumnAddsUp(t *testing.T) {
	a := answers(t)
	all := a.Books.By(money.ByChannel, money.Filter{}).All
	for _, l := range languages {
		r := report.Of(a, l)
		heads := map[report.Language][3]string{report.English: {"Income by channel", "Costs by kind", "By bed"}, report.Spanish: {"Ingresos por canal", "Costos por clase", "Por cama"}}[l]
		for _, test := range []struct {
			head  string
			sums  int // rows of sums at the end
			money map[int]crop.Cents
		}{
			{heads[0], 1, map[int]crop.Cents{2: all.Gross, 3: -all.Kept, 4: all.FeesPaid - all.Fees, 5: -all.Claims, 6: all.Net()}},
			{heads[1], 3, map[int]crop.Cents{2: all.Fixed, 3: all.Costs - all.Fixed + all.Work, 4: all.Costs + all.Work}},
			{heads[2], 1, map[int]crop.Cents{3: all.Net(), 4: all.Costs + all.Work, 5: all.Left()}},
		} {
			table := tableOf(t, r, test.head)
			if len(table.Rows) <= test.sums+1 {
				t.Errorf("%s: %q has %d rows", l, test.head, len(table.Rows))
			}
			for column, want := range test.money {
				sum := crop.Cents(0)
				for _, row := range table.Rows[:len(table.Rows)-test.sums] {
					if row[column] != "" {
						sum += amountIn(t, row[column], l)
					}
				}
				total := amountIn(t, table.Rows[len(table.Rows)-test.sums][column], l)
				if sum != total || total != want {
					t.Errorf("%s: column %d of %q adds up to %d, says %d, and the ledger says %d", l, column, test.head, sum, total, want)
				}
			}
		}
		last := tableOf(t, r, heads[1]).Rows
		if kept := amountIn(t, last[len(last)-1][4], l); kept != all.Left() {
			t.Errorf("%s: %d kept, want %d", l, kept, all.Left())
		}
	}
}

func TestYieldsAreTheFitsOwn(t *testing.T) {
	a := answers(t)
	table := tableOf(t, report.Of(a, report.English), "Age")
	plants, rows := 0, 0
	for _, age := range a.Ages[0].Report.Ages {
		for _, of := range age.Seasons {
			if of.Season != season {
				continue
			}
			row := table.Rows[rows]
			rows++
			counted, stems := 0, 0
			for _, p := range age.Plants {
				if p.Season == season && !p.Open {
					counted, stems = counted+1, stems+p.Stems
				}
			}
			plants += counted
			mean, err := strconv.ParseFloat(row[1], 64)
			if err != nil || math.Abs(mean-float64(of.Mean)) > 0.05 || row[3] != strconv.Itoa(counted) || row[4] != strconv.Itoa(stems) || row[5] != strconv.Itoa(of.Alive) {
				t.Errorf("age %d: %v; the fit says %v of %d plants, %d stems, %d alive", age.Age, row, of.Mean, counted, stems, of.Alive)
			}
		}
	}
	if rows == 0 || rows != len(table.Rows) || plants == 0 {
		t.Errorf("%d of %d rows, %d plants", rows, len(table.Rows), plants)
	}
}

func TestPlantsWhoseCountStillRunsAreTold(t *testing.T) {
	a := answers(t)
	if words := wordsOf(report.Of(a, report.English), 1); strings.Contains(words, "still runs") {
		t.Error(words)
	}
	fit := a.Ages[0].Report
	fit.Ages = slices.Clone(fit.Ages)
	open := 0
	for i, age := range fit.Ages {
		fit.Ages[i].Plants = slices.Clone(age.Plants)
		for j := range age.Plants {
			if fit.Ages[i].Plants[j].Season == season && open < 2 {
				fit.Ages[i].Plants[j].Open = true
				open++
			}
		}
	}
	a.Ages = []report.SpeciesAges{{Species: a.Ages[0].Species, Report: fit}}
	if words := wordsOf(report.Of(a, report.English), 1); !strings.Contains(words, "Of 2 plants the count still runs") {
		t.Error(words)
	}
}

func TestASpeciesAllOfWhosePlantsAreStillCountedIsNotToldAsUncounted(t *testing.T) {
	a := answers(t)
	fit := a.Ages[0].Report
	fit.Ages = slices.Clone(fit.Ages)
	open := 0
	for i, age := range fit.Ages { // as it is fitted until a season's windows have closed
		fit.Ages[i].Seasons = slices.DeleteFunc(slices.Clone(age.Seasons), func(s yield.SeasonStems) bool { return s.Season == season })
		fit.Ages[i].Plants = slices.Clone(age.Plants)
		for j := range age.Plants {
			if fit.Ages[i].Plants[j].Season == season {
				fit.Ages[i].Plants[j].Open = true
				open++
			}
		}
	}
	running := "Of " + strconv.Itoa(open) + " plants the count still runs"
	a.Ages = []report.SpeciesAges{a.Ages[0], {Species: "Phlox paniculata", Report: fit}}
	if words := wordsOf(report.Of(a, report.English), 1); !strings.Contains(words, "Phlox paniculata "+running) || strings.Contains(words, "No plant was counted") {
		t.Error(words)
	}
	a.Ages = a.Ages[1:]
	if words := wordsOf(report.Of(a, report.English), 1); !strings.HasPrefix(words, running) || strings.Contains(words, "The round point") {
		t.Error(words)
	}
}

func TestWeeksWithinTheBandAreCounted(t *testing.T) {
	words := wordsOf(report.Of(answers(t), report.English), 5)
	if !strings.Contains(words, "In 8 weeks of 15 (53 %)") { // 300 to 1000 by hundreds
		t.Error(words)
	}
}

func TestWeeksStillToBeScoredAreThoseOfTheSeason(t *testing.T) {
	a := answers(t)
	a.Scores.Left, a.Scores.Waiting = 3, []crop.Date{"2025-06-02", "2026-09-07", "2026-09-14"}
	if words := wordsOf(report.Of(a, report.English), 5); !strings.Contains(words, "Not held against fact yet: 2 weeks,") {
		t.Error(words)
	}
	a.Scores.Weeks = nil
	if words := wordsOf(report.Of(a, report.English), 5); !strings.Contains(words, "2 weeks,") || strings.Contains(words, "No week of this season") {
		t.Error(words)
	}
}

func TestWhatWasPaidBeyondOneInvoicePaysForNoOther(t *testing.T) {
	a := answers(t)
	a.Bills = money.Bills{Bills: []money.Bill{
		{Billed: 10_000, Owed: 10_000, Late: 3}, {Billed: 5_000, Paid: 2_000, Owed: 3_000}, {Billed: 4_000, Credited: 4_000, Paid: 4_000, Owed: -4_000},
	}}
	words := wordsOf(report.Of(a, report.English), 7)
	for _, want := range []string{"3 invoices, with tax and less credits: 150.00", "Unpaid: 130.00", "on 2 invoices, of which 100.00", "beyond what was owed, and to be given back: 40.00", "on 1 invoice."} {
		if !strings.Contains(words, want) {
			t.Errorf("no %q in %s", want, words)
		}
	}
}

func TestASeasonInWhichNothingWasSoldStillTellsItsInvoices(t *testing.T) {
	f := crop.NewFarm()
	for _, test := range []struct {
		bills money.Bills
		want  map[report.Language]string
	}{
		{money.Bills{}, map[report.Language]string{report.English: "No invoice was written", report.Spanish: "No se hizo ninguna factura"}},
		{money.Bills{Bills: []money.Bill{{Billed: 10_000, Paid: 4_000, Owed: 6_000, Late: 3}}}, map[report.Language]string{report.English: "1 invoice, with tax and less credits: 100.00. Paid: 40.00. Unpaid: 60.00", report.Spanish: "1 factura, con impuesto y sin créditos: 100,00. Pagado: 40,00. Sin pagar: 60,00"}},
	} {
		for l, want := range test.want {
			r := report.Of(report.Answers{Farm: f, Season: season, Made: made, Books: money.Of(f, season, 0), Bills: test.bills}, l)
			if words := wordsOf(r, 7); !strings.Contains(words, want) {
				t.Errorf("%s: no %q in %s", l, want, words)
			}
		}
	}
}

func TestCostsThatCameBackOfAnotherSortStayInTheirColumns(t *testing.T) {
	f := crop.NewFarm()
	for id, cents := range map[crop.CostID]crop.Cents{"paid": 300, "back": -300} {
		f.Money.Costs[id] = crop.Cost{ID: id, Date: "2026-03-14", Kind: crop.CostGround, Cents: cents, Fixed: cents > 0}
	}
	f.Money.Costs["more"] = crop.Cost{ID: "more", Date: "2026-03-14", Kind: crop.CostWater, Cents: 50}
	rows := tableOf(t, report.Of(report.Answers{Farm: f, Season: season, Made: made, Books: money.Of(f, season, 0)}, report.English), "Costs by kind").Rows
	for c, want := range map[int]crop.Cents{2: 300, 3: -250, 4: 50} {
		sum := crop.Cents(0)
		for _, row := range rows[:len(rows)-3] {
			sum += amountIn(t, row[c], report.English)
		}
		if total := amountIn(t, rows[len(rows)-3][c], report.English); sum != want || total != want {
			t.Errorf("column %d adds up to %d and says %d, want %d: %v", c, sum, total, want, rows)
		}
	}
}

func TestWhatIsDueOnTheDayOfTheReportIsNoBrokenPromise(t *testing.T) {
	f := crop.NewFarm()
	for id, due := range map[string]crop.Date{"kept": "2026-11-29", "short": "2026-11-30", "today": made} {
		f.Sales.Orders[crop.OrderID(id)] = crop.Order{ID: crop.OrderID(id), Buyer: "b", Due: due}
		f.Sales.Lines[crop.LineID(id)] = crop.Line{ID: crop.LineID(id), Order: crop.OrderID(id), Bunches: 3, Stems: 10}
	}
	f.Sales.Packed["p"] = crop.Packed{ID: "p", Line: "kept", Buyer: "b", Due: "2026-11-29", Bunches: 4}
	f.Sales.Packed["q"] = crop.Packed{ID: "q", Line: "short", Buyer: "b", Due: "2026-11-30", Bunches: 2}
	words := wordsOf(report.Of(report.Answers{Farm: f, Season: season, Made: made, Books: money.Of(f, season, 0)}, report.English), 6)
	if !strings.Contains(words, "1 of 2 deliveries were packed whole: 50 of 60 stems.") {
		t.Error(words)
	}
}

func TestSalesThatWereWrittenDownAfterwardsAreNoPromises(t *testing.T) {
	const due = crop.Date("2026-06-05")
	sold := crop.Packed{ID: "p", Line: "l", Buyer: "b", Due: due, Date: due, Bunches: 3}
	lots := map[crop.LotID]int{{Bed: "a", Cut: due}: 30}
	for _, c := range []struct {
		name    string
		taken   crop.Date
		packed  func(*crop.Packed)
		counted bool
	}{
		{"as a sheet is read in", due, func(*crop.Packed) {}, false},
		{"ordered the day before", "2026-06-04", func(*crop.Packed) {}, true},
		{"nobody told when it was ordered", "", func(*crop.Packed) {}, true},
		{"packed by somebody", due, func(p *crop.Packed) { p.Person = "ana" }, true},
		{"packed of a lot", due, func(p *crop.Packed) { p.Stems = lots }, true},
		{"packed the day before", due, func(p *crop.Packed) { p.Date = "2026-06-04" }, true},
		{"not packed", due, func(p *crop.Packed) { p.Line = "another" }, true},
	} {
		f := crop.NewFarm()
		f.Sales.Orders["o"] = crop.Order{ID: "o", Buyer: "b", Due: due, Taken: c.taken}
		f.Sales.Lines["l"] = crop.Line{ID: "l", Order: "o", Bunches: 3, Stems: 10}
		p := sold
		c.packed(&p)
		f.Sales.Packed[p.ID] = p
		words := wordsOf(report.Of(report.Answers{Farm: f, Season: season, Made: made, Books: money.Of(f, season, 0)}, report.English), 6)
		if strings.Contains(words, "No order that was taken beforehand has been due in this season.") == c.counted {
			t.Errorf("%s: %s", c.name, words)
		}
	}
}

// wordsOf is all that a section says, its tables left out.
func wordsOf(r report.Report, section int) string {
	var words []string
	for _, part := range r.Sections[section].Parts {
		if text, ok := part.(report.Text); ok {
			words = append(words, text.Words)
		}
	}
	return strings.Join(words, " ")
}

func TestAFarmOfWhichNothingIsKnownSaysSoInEverySection(t *testing.T) {
	f := crop.NewFarm()
	a := report.Answers{Farm: f, Season: season, Made: made, Books: money.Of(f, season, 2000), Planned: season}
	for _, l := range languages {
		r := report.Of(a, l)
		if len(r.Sections) != 10 {
			t.Errorf("%d sections", len(r.Sections))
		}
		for i, section := range r.Sections {
			if wordsOf(r, i) == "" {
				t.Errorf("%s: %s says nothing", l, section.Title)
			}
			for _, part := range section.Parts {
				if _, ok := part.(report.Text); !ok {
					t.Errorf("%s: %s has an empty %T", l, section.Title, part)
				}
			}
		}
	}
}

func TestAReportWithoutAPlanSaysInWhichSeasonsReportThePlanIs(t *testing.T) {
	old := crop.NewFarm()
	old.Visits["v"] = crop.Visit{ID: "v", Date: "2025-06-02"}
	for _, test := range []struct {
		farm    crop.Farm
		planned crop.Season
		made    crop.Date
		want    map[report.Language]string
	}{
		{old, season + 1, "2027-06-01", map[report.Language]string{report.English: "This season is over and is not planned anew: a plan begins with the plants as they stand now, and is in the report of season 2027.", report.Spanish: "Esta temporada ya pasó y no se planea de nuevo: un plan empieza con las plantas que hay ahora, y está en el informe de la temporada 2027."}},
		{old, season - 1, "2026-01-12", map[report.Language]string{report.English: "is in the report of season 2025.", report.Spanish: "está en el informe de la temporada 2025."}},
		{crop.NewFarm(), season - 1, "2026-01-12", map[report.Language]string{report.English: "There is no plan that begins with this season.", report.Spanish: "No hay plan que empiece con esta temporada."}},
		{old, season, made, map[report.Language]string{report.English: "There is no plan that begins with this season.", report.Spanish: "No hay plan que empiece con esta temporada."}},
	} {
		for l, want := range test.want {
			r := report.Of(report.Answers{Farm: test.farm, Season: season, Made: test.made, Books: money.Of(test.farm, season, 0), Planned: test.planned}, l)
			if words := wordsOf(r, 8); !strings.Contains(words, want) {
				t.Errorf("%s, planned after %d: no %q in %s", l, test.planned, want, words)
			}
		}
	}
}

func TestEverySentenceComesInBothLanguages(t *testing.T) {
	refused := answers(t)
	refused.Plan, refused.NoPlan = nil, division.RefusedPrices
	bare := crop.NewFarm()
	for name, a := range map[string]report.Answers{
		"the made-up farm":                   answers(t),
		"where the plan is refused":          refused,
		"where the plan cannot be asked for": {Farm: bare, Season: season, Made: made, Books: money.Of(bare, season, 0), Planned: season, NoPlan: division.RefusedGoal},
		"of an earlier season":               {Farm: bare, Season: season, Made: "2027-06-01", Books: money.Of(bare, season, 0), Planned: season + 1},
	} {
		en, es := report.Of(a, report.English), report.Of(a, report.Spanish)
		for i, section := range en.Sections {
			other := es.Sections[i]
			if len(section.Parts) != len(other.Parts) || section.Title == other.Title {
				t.Errorf("%s: %q has %d parts, %q %d", name, section.Title, len(section.Parts), other.Title, len(other.Parts))
				continue
			}
			for j, part := range section.Parts {
				if text, ok := part.(report.Text); ok && text == other.Parts[j] {
					t.Errorf("%s: %q is the same in both languages", name, text.Words)
				}
			}
		}
	}
}

func TestASeasonOfWhichNothingIsThereIsRefused(t *testing.T) {
	a := answers(t)
	if err := report.Check(a.Farm, season, made); err != nil {
		t.Error(err)
	}
	for _, unknown := range []crop.Season{2019, 2027} {
		if err := report.Check(a.Farm, unknown, made); err == nil || !strings.Contains(err.Error(), "seasons 2024 to 2026") {
			t.Errorf("%d: %v", unknown, err)
		}
	}
}

func TestNothingIsLeftUnsaid(t *testing.T) {
	bad := regexp.MustCompile(`%!|\bNaN\b`)
	for _, l := range languages {
		for _, section := range report.Of(answers(t), l).Sections {
			for _, part := range section.Parts {
				var said []string
				switch p := part.(type) {
				case report.Text:
					said = []string{p.Words}
				case report.Table:
					said = slices.Concat(append(p.Rows, p.Head)...)
				}
				for _, text := range said {
					if bad.MatchString(text) {
						t.Errorf("%s, %s: %q", l, section.Title, text)
					}
				}
			}
		}
	}
}
