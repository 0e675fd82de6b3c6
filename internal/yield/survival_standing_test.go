package yield

import (
	"slices"
	"testing"

	"corymb/internal/crop"
)

// row is what became of planting a in one season, without a stem.
func row(season crop.Season, setOut, before, start, lost int) standing {
	return standing{planting: "a", season: season, age: int(season - 2023), setOut: setOut, before: before, start: start, lost: lost}
}

// divideInto lists a plant of a planting of its own as a division of the mother.
func (p plot) divideInto(planting crop.PlantingID, mother crop.PlantID, day crop.Date) {
	p.set(planting, "phlox", "D", crop.Season(day.Year()+1), 1)
	set := p.Plantings[planting]
	set.Planted = day
	p.Plantings[planting] = set
	id := crop.PlantID(planting + "1")
	child := p.Plants[id]
	child.Parents = []crop.PlantID{mother}
	p.Plants[id] = child
}

// standingCases are laid on a planting a of four yarrows, set on 2023-10-01 for 2024.
var standingCases = map[string]struct {
	lay     func(p plot)
	options Options
	want    []standing
}{
	"a plant is lost in the season in which it was taken out": {
		lay:     func(p plot) { p.remove("a1", "2024-06-01"); p.remove("a2", "2025-12-31") },
		options: Options{AsOf: "2026-01-01"},
		want: []standing{
			row(2024, 4, 0, 4, 1), row(2025, 4, 1, 3, 1),
			{planting: "a", season: 2026, age: 3, setOut: 4, before: 2, start: 2, open: true},
		},
	},
	"gone on the day on which a season begins it stood at its start": {
		lay:     func(p plot) { p.remove("a1", "2024-01-01"); p.remove("a2", "2023-12-31") },
		options: Options{AsOf: "2024-12-31"},
		want:    []standing{{planting: "a", season: 2024, age: 1, setOut: 4, before: 1, start: 3, lost: 1, open: true}},
	},
	"plants set within their first season start with the day on which they were set": {
		lay: func(p plot) {
			set := p.Plantings["a"]
			set.Planted = "2024-03-20"
			p.Plantings["a"] = set
			p.remove("a1", "2024-03-20")
		},
		options: Options{AsOf: "2025-02-01"},
		want: []standing{
			row(2024, 4, 0, 4, 1),
			{planting: "a", season: 2025, age: 2, setOut: 4, before: 1, start: 3, open: true},
		},
	},
	"a season has not begun the day before it does": {
		options: Options{AsOf: "2023-12-31"},
	},
	"files know nothing after their last day": {
		lay:  func(p plot) { p.cut("a1", "2025-08-03", stems("", 2)) },
		want: []standing{row(2024, 4, 0, 4, 0), {planting: "a", season: 2025, age: 2, setOut: 4, start: 4, cutFrom: 1, open: true}},
	},
	"a wholly dead planting still counts among those set out": {
		lay: func(p plot) {
			for _, id := range []crop.PlantID{"a1", "a2", "a3", "a4"} {
				p.remove(id, "2024-04-10")
			}
		},
		options: Options{AsOf: "2026-01-01"},
		want: []standing{
			row(2024, 4, 0, 4, 4), row(2025, 4, 4, 0, 0),
			{planting: "a", season: 2026, age: 3, setOut: 4, before: 4, open: true},
		},
	},
	"cut that season and then gone on one day, it was cleared": {
		lay: func(p plot) {
			p.cut("a2", "2025-05-01", stems("", 3))
			p.remove("a1", "2025-03-01")
			for _, id := range []crop.PlantID{"a2", "a3", "a4"} {
				p.remove(id, "2025-09-10")
			}
		},
		options: Options{AsOf: "2027-01-01"},
		want: []standing{
			row(2024, 4, 0, 4, 0),
			{planting: "a", season: 2025, age: 2, setOut: 4, start: 4, lost: 4, cutFrom: 1, cleared: true},
		},
	},
	"cut for the last time on the day on which it went, it was cleared": {
		lay: func(p plot) {
			for _, id := range []crop.PlantID{"a1", "a2", "a3", "a4"} {
				p.remove(id, "2024-09-10")
			}
			p.cut("a2", "2024-09-10", stems("", 3))
		},
		options: Options{AsOf: "2027-01-01"},
		want:    []standing{{planting: "a", season: 2024, age: 1, setOut: 4, start: 4, lost: 4, cutFrom: 1, cleared: true}},
	},
	"cut the season before and then gone on one day, it died": {
		lay: func(p plot) {
			p.bench("A", "2024-05-01", stems("", 30))
			for _, id := range []crop.PlantID{"a1", "a2", "a3", "a4"} {
				p.remove(id, "2025-04-10")
			}
		},
		options: Options{AsOf: "2025-12-31"},
		want:    []standing{row(2024, 4, 0, 4, 0), {planting: "a", season: 2025, age: 2, setOut: 4, start: 4, lost: 4, open: true}},
	},
	"the last one alone is lost, not cleared": {
		lay: func(p plot) {
			p.bench("A", "2024-05-01", stems("", 30))
			for i, id := range []crop.PlantID{"a1", "a2", "a3", "a4"} {
				p.remove(id, crop.Date("2024-06-01").Add(i))
			}
		},
		options: Options{AsOf: "2025-01-01"},
		want:    []standing{row(2024, 4, 0, 4, 4), {planting: "a", season: 2025, age: 2, setOut: 4, before: 4, open: true}},
	},
	"a bench total of a bed with two plantings clears neither": {
		lay: func(p plot) {
			p.set("z", "phlox", "A", 2024, 1)
			p.bench("A", "2024-05-01", stems("", 30))
			for _, id := range []crop.PlantID{"a1", "a2", "a3", "a4"} {
				p.remove(id, "2024-06-01")
			}
		},
		options: Options{AsOf: "2024-12-31", Species: "yarrow"},
		want:    []standing{{planting: "a", season: 2024, age: 1, setOut: 4, start: 4, lost: 4, open: true}},
	},
	"a divided plant is not lost, and no longer set out": {
		lay: func(p plot) {
			p.divideInto("d", "a1", "2024-09-01")
			p.remove("a1", "2024-09-20")
			p.remove("a2", "2024-07-01")
		},
		options: Options{AsOf: "2025-01-01", Species: "yarrow"},
		want: []standing{
			{planting: "a", season: 2024, age: 1, setOut: 4, start: 4, lost: 1, divided: 1},
			{planting: "a", season: 2025, age: 2, setOut: 3, before: 1, start: 2, open: true},
		},
	},
	"a mother that died long after its divisions were set is lost": {
		lay: func(p plot) {
			p.divideInto("d", "a1", "2024-09-01")
			p.remove("a1", "2024-10-02")
		},
		options: Options{AsOf: "2024-12-31", Species: "yarrow"},
		want:    []standing{{planting: "a", season: 2024, age: 1, setOut: 4, start: 4, lost: 1, open: true}},
	},
	"moved elsewhere": {
		lay:     func(p plot) { p.move("a1", "2024-10-01", "B") },
		options: Options{AsOf: "2026-01-01"},
		want: []standing{
			{planting: "a", season: 2024, age: 1, setOut: 4, start: 4, divided: 1},
			{planting: "a", season: 2025, age: 2, setOut: 3, start: 3},
			{planting: "a", season: 2026, age: 3, setOut: 3, start: 3, open: true},
		},
	},
	"cut from and counted": {
		lay: func(p plot) {
			p.count("a1", 2024)
			p.count("a2", 2024)
			p.cut("a1", "2024-05-01", stems("", 3))
			p.cut("a1", "2024-05-03", stems("", 1))
			p.cut("a3", "2024-05-01", stems("", 1))
			p.cut("a4", "2024-05-01", stems("", 0))
			p.visit(crop.Visit{Plant: "a4", Bed: "A", Date: "2024-05-01", Purpose: crop.PurposeStanding, Counts: []crop.Count{stems("", 8)}})
		},
		options: Options{AsOf: "2024-12-31"},
		want:    []standing{{planting: "a", season: 2024, age: 1, setOut: 4, start: 4, cutFrom: 2, counted: 2, countedCutFrom: 1, open: true}},
	},
	"another species": {options: Options{AsOf: "2026-01-01", Species: "phlox"}},
}

func TestWhoStoodWhen(t *testing.T) {
	for name, c := range standingCases {
		t.Run(name, func(t *testing.T) {
			p := newPlot()
			p.set("a", "yarrow", "A", 2024, 4)
			if c.lay != nil {
				c.lay(p)
			}
			got := newRoll(read(p.Farm, c.options)).standings()
			if !slices.Equal(got, c.want) {
				t.Errorf("got\n%+v, want\n%+v", got, c.want)
			}
		})
	}
}

// A season that starts in September and bears the year of its spring: the southern one of 2024 runs
// from 2024-09-01, and a plant gone in March 2025 was lost in it.
func TestStandingFollowsTheFarmsCalendar(t *testing.T) {
	p := newPlot()
	calendar, err := crop.ParseCalendar("07-01", true)
	if err != nil {
		t.Fatal(err)
	}
	p.Calendar = calendar
	p.set("a", "yarrow", "A", 2024, 4)
	p.remove("a1", "2025-03-01")
	got := newRoll(read(p.Farm, Options{AsOf: "2025-07-01"})).standings()
	want := []standing{row(2024, 4, 0, 4, 1), {planting: "a", season: 2025, age: 2, setOut: 4, before: 1, start: 3, open: true}}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%+v, want\n%+v", got, want)
	}
}
