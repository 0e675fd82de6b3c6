package yield

import (
	"fmt"
	"slices"
	"testing"

	"corymb/internal/crop"
)

// wantNote checks a note is there, its arguments where given.
func wantNote(t *testing.T, r Report, code string, args map[string]string) {
	t.Helper()
	i := slices.Index(codes(r), code)
	if i < 0 {
		t.Errorf("no note %q among %v", code, codes(r))
		return
	}
	for k, v := range args {
		if r.Notes[i].Args[k] != v {
			t.Errorf("note %q says %s = %q, want %q", code, k, r.Notes[i].Args[k], v)
		}
	}
	if r.Notes[i].Text == "" {
		t.Errorf("note %q has no text", code)
	}
}

// Plantings by first season, each counted in some seasons.
func TestWhenAgeAndSeasonCannotBeToldApart(t *testing.T) {
	cases := map[string]struct {
		counted map[crop.Season][]crop.Season
		code    string
		args    map[string]string
	}{
		"one planting over three years: every year is an age": {
			map[crop.Season][]crop.Season{2022: {2022, 2023, 2024}}, NoteAgeIsSeason,
			map[string]string{"groups": "3", "split": "age 1 in 2022; age 2 in 2023; age 3 in 2024"},
		},
		"two plantings a year apart over two years tie all ages together": {
			map[crop.Season][]crop.Season{2022: {2023, 2024}, 2023: {2023, 2024}}, "", nil,
		},
		"two plantings whose years and ages never meet": {
			map[crop.Season][]crop.Season{2020: {2024}, 2022: {2022, 2023}, 2021: {2022}}, NoteAgeIsSeason,
			map[string]string{"groups": "2", "split": "age 1, 2 in 2022, 2023; age 5 in 2024"},
		},
		"all ages in one season": {
			map[crop.Season][]crop.Season{2022: {2024}, 2023: {2024}}, NoteOneSeason, map[string]string{"season": "2024"},
		},
		"one age in one season": {
			map[crop.Season][]crop.Season{2024: {2024}}, NoteOneSeason, map[string]string{"season": "2024"},
		},
		"one age over two seasons": {
			map[crop.Season][]crop.Season{2023: {2023}, 2024: {2024}}, "", nil,
		},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			p := newPlot()
			for first, seasons := range c.counted {
				planting := crop.PlantingID(fmt.Sprint("p", first, "-"))
				p.set(planting, "yarrow", crop.BedID(planting), first, 1)
				for _, s := range seasons {
					p.count(crop.PlantID(planting+"1"), s)
					p.cut(crop.PlantID(planting+"1"), crop.Date(fmt.Sprintf("%d-05-20", s)), stems("", 6))
				}
			}
			r := mustReport(t, p.Farm, Options{})
			if c.code != "" {
				wantNote(t, r, c.code, c.args)
			}
			for _, other := range []string{NoteAgeIsSeason, NoteOneSeason} {
				if other != c.code && slices.Contains(codes(r), other) {
					t.Errorf("note %q among %v", other, codes(r))
				}
			}
		})
	}
}

func TestWhatElseIsSaid(t *testing.T) {
	p := newPlot()
	if r := mustReport(t, p.Farm, Options{}); !slices.Equal(codes(r), []string{NoteNothing}) {
		t.Errorf("an empty farm says %v", codes(r))
	}
	p.set("a", "yarrow", "A", 2024, 1)
	p.count("a1", 2024)
	p.visit(crop.Visit{Plant: "a1", Date: "2024-05-20", Purpose: crop.PurposeCut, ToOrder: true, Counts: []crop.Count{stems("", 6)}})
	p.bench("B", "2024-05-20", stems(crop.GradeFirst, 7))
	r := mustReport(t, p.Farm, Options{AssumedCounted: true})
	wantNote(t, r, NoteAssumedCounted, nil)
	wantNote(t, r, NoteFewPlants, map[string]string{"age": "1", "plants": "1"})
	wantNote(t, r, NoteToOrder, map[string]string{"plants": "1"})
	wantNote(t, r, NoteNoGrades, nil)
	wantNote(t, r, NoteBedBare, map[string]string{"visits": "1", "stems": "7"})

	p.cut("a1", "2025-05-20", stems(crop.GradeFirst, 6))
	r = mustReport(t, p.Farm, Options{})
	wantNote(t, r, NoteNoPlants, map[string]string{"age": "2"})
	wantNote(t, r, NoteOneGrade, map[string]string{"grade": "first"})
}

func TestAWindowThatMissesPartOfTheCuttingIsTold(t *testing.T) {
	tests := []struct {
		name   string
		window crop.Window
		told   bool
	}{
		{"the whole season", crop.Window{From: "2024-01-01", To: "2024-12-31"}, false},
		{"just the days of cutting", crop.Window{From: "2024-05-20", To: "2024-06-20"}, false},
		{"opened late", crop.Window{From: "2024-05-21", To: "2024-12-31"}, true},
		{"closed early", crop.Window{From: "2024-01-01", To: "2024-06-19"}, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := newPlot()
			p.set("a", "yarrow", "A", 2024, 2)
			p.count("a1", 2024)
			p.Plants["a1"].Counted[2024] = tt.window
			p.cut("a2", "2024-05-20", stems(crop.GradeFirst, 3))
			p.cut("a2", "2024-06-20", stems(crop.GradeFirst, 3))
			r := mustReport(t, p.Farm, Options{})
			if told := slices.Contains(codes(r), NotePartSeen); told != tt.told {
				t.Errorf("told = %v, want %v", told, tt.told)
			}
		})
	}
}

func TestAWindowThatSawNoCuttingIsTold(t *testing.T) {
	tests := []struct {
		name    string
		window  crop.Window
		removed crop.Date
		asOf    crop.Date
		told    bool
	}{
		{"over before the cutting", crop.Window{From: "2024-01-01", To: "2024-01-31"}, "", "", true},
		{"begun after the cutting", crop.Window{From: "2024-07-01", To: "2024-12-31"}, "", "", true},
		{"begun after the cutting so far, and still running", crop.Window{From: "2024-07-01", To: "2024-12-31"}, "", "2024-07-02", false},
		{"of a plant that was gone before the cutting", crop.Window{From: "2024-01-01", To: "2024-01-31"}, "2024-02-01", "", false},
		{"over part of the cutting", crop.Window{From: "2024-01-01", To: "2024-05-20"}, "", "", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := newPlot()
			p.set("a", "yarrow", "A", 2024, 2)
			p.Plants["a1"].Counted[2024] = tt.window
			p.remove("a1", tt.removed)
			p.cut("a2", "2024-05-20", stems(crop.GradeFirst, 3))
			p.cut("a2", "2024-06-20", stems(crop.GradeFirst, 3))
			r := mustReport(t, p.Farm, Options{AsOf: tt.asOf})
			if told := slices.Contains(codes(r), NoteWindowMissed); told != tt.told {
				t.Errorf("told = %v, want %v", told, tt.told)
			}
		})
	}
}

func TestWhenMoreStemsSoFarMayMerelyBeEarlier(t *testing.T) {
	const lastYear, thisYear = crop.Date("2024-05-20"), crop.Date("2025-05-20")
	cases := map[string]struct {
		asOf crop.Date
		lay  func(p plot)
		told bool
	}{
		"a season still counted and cut from, after one that is over": {"2025-06-01", func(p plot) {
			p.count("a1", 2024, 2025)
			p.cut("a1", lastYear, stems("", 6))
			p.cut("a1", thisYear, stems("", 9))
		}, true},
		"also where other plants were counted in the former": {"2025-06-01", func(p plot) {
			p.count("b1", 2024)
			p.count("a1", 2025)
			p.cut("b1", lastYear, stems("", 6))
			p.cut("a1", thisYear, stems("", 9))
		}, true},
		"nobody asks on a day: all windows are closed": {"", func(p plot) {
			p.count("a1", 2024, 2025)
			p.cut("a1", lastYear, stems("", 6))
			p.cut("a1", thisYear, stems("", 9))
		}, false},
		"the season's counting has ended": {"2025-11-01", func(p plot) {
			p.count("a1", 2024, 2025)
			p.cut("a1", lastYear, stems("", 6))
			p.cut("a1", thisYear, stems("", 9))
		}, false},
		"no former season to compare with": {"2025-06-01", func(p plot) {
			p.count("a1", 2025)
			p.cut("a1", thisYear, stems("", 9))
		}, false},
		"a former season of which nobody counted": {"2025-06-01", func(p plot) {
			p.count("a1", 2025)
			p.cut("a1", lastYear, stems("", 6))
			p.cut("a1", thisYear, stems("", 9))
		}, false},
		"no counted plant was cut from yet": {"2025-06-01", func(p plot) {
			p.count("a1", 2024, 2025)
			p.cut("a1", lastYear, stems("", 6))
			p.cut("a2", thisYear, stems("", 9))
		}, false},
		"what is cut is of plants whose counting has ended": {"2025-06-01", func(p plot) {
			p.count("a1", 2024)
			p.count("a2", 2025)
			p.Plants["a1"].Counted[2025] = crop.Window{From: "2025-04-01", To: "2025-05-25"}
			p.cut("a1", lastYear, stems("", 6))
			p.cut("a1", thisYear, stems("", 9))
		}, false},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			p := newPlot()
			p.set("a", "yarrow", "A", 2024, 2)
			p.set("b", "yarrow", "B", 2023, 1)
			c.lay(p)
			r := mustReport(t, p.Farm, Options{AsOf: c.asOf})
			if c.told {
				wantNote(t, r, NoteEarlyOrMore, map[string]string{"season": "2025"})
			} else if slices.Contains(codes(r), NoteEarlyOrMore) {
				t.Errorf("told among %v", codes(r))
			}
		})
	}
}
