package demo_test

import (
	"slices"
	"strings"
	"testing"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/demo"
	"corymb/internal/farm"
	"corymb/internal/selling"
	"corymb/internal/tags"
	"corymb/syncproto"
)

const farmID crop.FarmID = "f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2"

const today crop.Date = "2026-11-25"

func state(t *testing.T) (*changelog.State, int) {
	t.Helper()
	s, n := changelog.NewState(), 0
	for _, d := range demo.Changes(farmID, demo.LastSeasonOver(today)) {
		for _, op := range d.Operations {
			for _, c := range op {
				if err := c.Check(); err != nil {
					t.Fatalf("%s: %v", c.Identity(), err)
				}
				if code, why := farm.Check(c, today); code != "" {
					t.Fatalf("%s would be refused as %s: %s", c.Identity(), code, why)
				}
				s.Merge(c, c.Stamp)
				n++
			}
		}
	}
	return s, n
}

func TestTheMadeUpFarmIsAFarm(t *testing.T) {
	s, changes := state(t)
	f := farm.Read(farmID, s)
	t.Logf("%d changes, %d plants, %d visits", changes, len(f.Plants), len(f.Visits))
	if !f.MadeUp {
		t.Error("it does not say that it is made up")
	}
	if n := len(f.Plants); n < 280 || n > 330 {
		t.Errorf("%d plants, want some 300", n)
	}
	if looks := s.Looks(); len(looks) > 0 {
		t.Errorf("it wants looks: %v", looks)
	}
	species, seasons := map[string]bool{}, map[crop.Season]bool{}
	gaps, divided := 0, 0
	for _, p := range f.Plants {
		planting := f.Plantings[p.Planting]
		stock := f.Stocks[planting.Stock]
		species[stock.Species] = true
		if p.Removed != "" {
			gaps++
			if p.Removed <= planting.Planted {
				t.Errorf("%s was removed %s, before it was planted %s", p.Code, p.Removed, planting.Planted)
			}
		}
		if len(p.Parents) > 0 {
			divided++
			if stock.Protected {
				t.Errorf("%s is a division of protected stock", p.Code)
			}
		}
	}
	for _, v := range f.Visits {
		seasons[f.Calendar.SeasonOf(v.Date)] = true
	}
	if len(species) != 2 || len(seasons) != 3 || gaps == 0 || divided == 0 {
		t.Errorf("%d species, %d seasons, %d gaps, %d divisions", len(species), len(seasons), gaps, divided)
	}
}

func TestWhatWasSeenByEyeIsTold(t *testing.T) {
	s, _ := state(t)
	f := farm.Read(farmID, s)
	marks, events, seedlings := map[string]int{}, 0, 0
	s.Entities(func(e *changelog.Entity) {
		if e.Key.Type == farm.TypeEvent {
			events++
		}
		for _, flag := range e.Members(farm.FieldFlags) {
			kind, _, _ := strings.Cut(flag, "/")
			marks[kind]++
			plant := f.Plants[crop.PlantID(e.Key.ID)]
			if kind == "divide" && f.Stocks[f.Plantings[plant.Planting].Stock].Protected {
				t.Errorf("%s is protected and is to be divided", plant.Code)
			}
		}
		for _, field := range e.Fields() {
			name, _, _ := strings.Cut(field, ".")
			marks[name]++
		}
	})
	for _, p := range f.Plants {
		if f.Stocks[f.Plantings[p.Planting].Stock].Origin == crop.OriginSelfSown {
			seedlings++
			if len(p.Parents) > 0 {
				t.Errorf("%s came up by itself and has parents", p.Code)
			}
		}
	}
	if marks["mother"] != 8 || marks["divide"] != 3 || marks["colour_off"] == 0 || marks["open_centre"] == 0 || marks["stand"] < 150 ||
		marks["colour"] < 600 || events == 0 || seedlings == 0 {
		t.Errorf("marks %v, %d events, %d seedlings", marks, events, seedlings)
	}
}

func TestColoursAreMeasured(t *testing.T) {
	s, _ := state(t)
	f := farm.Read(farmID, s)
	seasons, cameras, stages := map[crop.Season]int{}, map[string]bool{}, map[crop.Stage]bool{}
	references, classes := 0, 0
	for _, r := range f.Readings {
		seasons[f.Calendar.SeasonOf(r.Date)]++
		cameras[r.Camera], stages[r.Stage] = true, true
		planting := f.Plantings[f.Plants[r.Plant].Planting]
		if planting.AgeIn(f.Calendar.SeasonOf(r.Date)) < 1 {
			t.Errorf("%s was measured on %s, before its first season", r.Plant, r.Date)
		}
		if card, known := f.Cards[r.Card]; !known || r.Date < card.Measured || len(card.Patches) != len(tags.CardColours) {
			t.Errorf("%s was measured on %s with a card that is not known: %+v", r.Plant, r.Date, card)
		}
	}
	for _, p := range f.Plants {
		if p.Reference {
			references++
		}
	}
	for _, c := range f.Colours {
		if c.Reference != nil {
			classes++
		}
	}
	if len(seasons) != 3 || len(cameras) != 2 || len(stages) != 2 || references != 5 || classes != 4 || len(f.Readings) < 400 {
		t.Errorf("seasons %v, cameras %v, stages %v, %d reference plants, %d measured classes, %d readings", seasons, cameras, stages, references, classes, len(f.Readings))
	}
}

func TestCodesAreUnlikeEachOther(t *testing.T) {
	s, _ := state(t)
	seen := map[string]bool{}
	for _, p := range farm.Read(farmID, s).Plants {
		if seen[p.Code] {
			t.Errorf("two plants bear %s", p.Code)
		}
		seen[p.Code] = true
	}
}

func TestTheSeedGivesTheSameFarmEveryTime(t *testing.T) {
	first, second := demo.Changes(farmID, demo.LastSeasonOver(today)), demo.Changes(farmID, demo.LastSeasonOver(today))
	for i := range first {
		a, b := flat(first[i]), flat(second[i])
		if len(a) != len(b) {
			t.Fatalf("device %d told %d changes, then %d", i, len(a), len(b))
		}
		for k := range a {
			if string(a[k].Canonical()) != string(b[k].Canonical()) {
				t.Fatalf("change %d of device %d differs:\n%s\n%s", k, i, a[k].Canonical(), b[k].Canonical())
			}
		}
	}
}

func flat(d demo.Device) []syncproto.Change {
	var all []syncproto.Change
	for _, op := range d.Operations {
		all = append(all, op...)
	}
	return all
}

func TestTheMadeUpFarmMovesWithTheYears(t *testing.T) {
	tests := []struct {
		today      crop.Date
		lastSeason crop.Season
	}{
		{"2026-11-01", 2026}, {"2027-10-31", 2026}, {"2027-11-01", 2027}, {"2040-02-29", 2039},
	}
	for _, tt := range tests {
		t.Run(string(tt.today), func(t *testing.T) {
			s := changelog.NewState()
			devices := demo.Changes(farmID, demo.LastSeasonOver(tt.today))
			if got := demo.LastSeasonTold(devices[0].Operations[0][0]); got != tt.lastSeason {
				t.Errorf("its log tells of seasons up to %d, want %d", got, tt.lastSeason)
			}
			for _, c := range slices.Concat(flat(devices[0]), flat(devices[2])) {
				if code, why := farm.Check(c, tt.today); code != "" {
					t.Fatalf("%s would be refused as %s: %s", c.Identity(), code, why)
				}
				s.Merge(c, c.Stamp)
			}
			f := farm.Read(farmID, s)
			var last crop.Date
			for _, v := range f.Visits {
				last = max(last, v.Date)
			}
			if got := f.Calendar.SeasonOf(last); got != tt.lastSeason {
				t.Errorf("the last season is %d, want %d", got, tt.lastSeason)
			}
			if countedOn(f, tt.today) == 0 {
				t.Error("there is no plant to count")
			}
		})
	}
}

func countedOn(f crop.Farm, day crop.Date) int {
	n := 0
	for _, p := range f.Plants {
		if w, ok := p.Counted[f.Calendar.SeasonOf(day)]; ok && w.Holds(day) && p.Removed == "" {
			n++
		}
	}
	return n
}

func TestTheLastSeasonWasSold(t *testing.T) {
	state, _ := state(t)
	f := farm.Read(farmID, state)
	s := f.Sales
	due := selling.DueBetween(s, "2026-01-01", "2026-12-31")
	lines, wanted := map[crop.LineID]crop.Line{}, 0
	for _, d := range due {
		for _, line := range d.Lines {
			lines[line.ID] = line
			wanted += line.Bunches
		}
	}
	packed := map[crop.LineID]int{}
	for _, p := range s.Packed {
		line, known := lines[p.Line]
		if !known {
			t.Errorf("%s was packed for no line that was due", p.ID)
		}
		stems := 0
		for _, n := range p.Stems {
			stems += n
		}
		if stems != p.Bunches*line.Stems {
			t.Errorf("%d stems in %d bunches of %d", stems, p.Bunches, line.Stems)
		}
		packed[p.Line] += p.Bunches
	}
	bunches := 0
	for line, n := range packed {
		bunches += n
		if n > lines[line].Bunches {
			t.Errorf("%d bunches for a line of %d", n, lines[line].Bunches)
		}
	}
	t.Logf("%d deliveries, %d of %d bunches, %d lots written off, %d claims", len(due), bunches, wanted, len(s.Shrink), len(s.Claims))
	if bunches < wanted/3 || bunches == wanted || len(s.Claims) == 0 || len(s.Shrink) == 0 {
		t.Errorf("%d of %d bunches, %d lots written off, %d claims", bunches, wanted, len(s.Shrink), len(s.Claims))
	}
	for _, lot := range selling.Cooler(f, today) {
		if lot.Left() < 0 {
			t.Errorf("more was taken of %v than came", lot.ID)
		}
	}
	last := due[len(due)-1]
	if len(last.Lines) == 0 {
		t.Error("the last delivery wants nothing")
	}
	for _, line := range last.Lines {
		if packed[line.ID] > 0 {
			t.Error("the last delivery waits to be packed")
		}
	}
}

func TestTheBooksOfTheLastSeasonAreKept(t *testing.T) {
	state, _ := state(t)
	f := farm.Read(farmID, state)
	m, s := f.Money, f.Sales
	t.Logf("%d costs, %d entries of work, %d invoices, %d payments, %d statements of %d rows", len(m.Costs), len(m.Work), len(s.Invoices), len(m.Payments), len(m.Statements), len(m.Rows))
	if len(m.Costs) < 10 || len(m.Work) < 50 || len(s.Invoices) < 8 || len(m.Payments) < 6 || len(m.Statements) != 1 || len(m.Rows) < 6 {
		t.Error("some of the books are empty")
	}
	for _, c := range m.Costs {
		if _, known := f.Beds[c.Bed]; c.Bed != "" && !known || c.Channel != "" && s.Channels[c.Channel].Name == "" {
			t.Errorf("%s is for what there is not", c.What)
		}
	}
	packed, onBills := map[crop.LineID]int{}, map[crop.LineID]int{}
	for _, p := range s.Packed {
		packed[p.Line] += p.Bunches
	}
	for _, i := range s.Invoices {
		for _, row := range i.Lines {
			onBills[row.Line] += row.Bunches
			if row.Due > i.Date {
				t.Errorf("%s of %s bills what was due on %s", i.Number, i.Date, row.Due)
			}
		}
	}
	for line, n := range onBills {
		if line != "" && n != packed[line] {
			t.Errorf("%d bunches of %s are billed, and %d were packed", n, line, packed[line])
		}
	}
	open := 0
	for id, invoice := range s.Invoices {
		left := selling.TotalsOf(invoice).Total
		for _, p := range m.Payments {
			if p.Invoice == id {
				left -= p.Cents
			}
		}
		if left < 0 {
			t.Errorf("%s is paid too much by %d", invoice.Number, -left)
		}
		if left > 0 {
			open++
		}
	}
	if open == 0 || open > len(s.Invoices)/2 {
		t.Errorf("of %d of %d invoices something is left", open, len(s.Invoices))
	}
	for _, statement := range m.Statements {
		foot := statement.Cents
		for _, row := range m.Rows {
			foot -= row.Cents - row.Kept
		}
		if foot != 0 {
			t.Errorf("the foot is %d off its rows", foot)
		}
	}
}
