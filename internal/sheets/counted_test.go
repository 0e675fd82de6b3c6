package sheets

import (
	"reflect"
	"testing"

	"corymb/internal/crop"
)

type windows = map[crop.Season]crop.Window

func year(s crop.Season) crop.Window { return crop.NorthernYear.Span(s) }

func TestDeclaredSpansMarkTheSeasonsTheyOverlap(t *testing.T) {
	cases := []struct {
		name, row string // from first_season on
		want      windows
		idle      bool
		early     int
	}{
		{"not counted where empty", "2023,,,", windows{}, false, 0},
		{"one season, as declared", "2023,2024-04-01,2024-07-15,",
			windows{2024: {From: "2024-04-01", To: "2024-07-15"}}, false, 0},
		{"several seasons, cut at their ends", "2023,2023-04-01,2025-07-15,",
			windows{2023: {From: "2023-04-01", To: "2023-12-31"}, 2024: year(2024),
				2025: {From: "2025-01-01", To: "2025-07-15"}}, false, 0},
		{"none before the first season", "2023,2022-01-01,2023-12-31,", windows{2023: year(2023)}, false, 1},
		{"none wholly after removal", "2023,2023-01-01,2025-12-31,2024-01-01",
			windows{2023: year(2023), 2024: year(2024)}, false, 0},
		{"idle where it ends before the first season", "2023,2022-10-01,2022-12-31,", windows{}, true, 0},
		{"idle where it begins after removal in the same season", "2023,2024-06-01,2024-12-31,2024-05-31", windows{}, true, 0},
		{"the day of removal is counted", "2023,2024-06-01,2024-12-31,2024-06-01",
			windows{2024: {From: "2024-06-01", To: "2024-12-31"}}, false, 0},
		{"a far end reaches to the season under way", "2023,2025-04-01,2099-12-31,",
			windows{2025: {From: "2025-04-01", To: "2025-12-31"}, 2026: year(2026)}, false, 0},
		{"idle where it has not begun", "2023,2027-01-01,2099-12-31,", windows{}, true, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := mustRead(t, fullPlantHead+"A1,mix,x,2022-09-20,"+c.row+"\n", cutHead)
			if marks := got.Farm.Plants["A1"].Counted; !reflect.DeepEqual(marks, c.want) {
				t.Errorf("counted in %v, want %v", marks, c.want)
			}
			if got.Assumed {
				t.Error("assumed although the columns are there")
			}
			if (len(got.Idle) == 1) != c.idle || got.EarlySeasons != c.early ||
				(len(got.Notes()) == 1) != (c.idle || c.early > 0) {
				t.Errorf("idle %v, early %d, notes %q", got.Idle, got.EarlySeasons, got.Notes())
			}
		})
	}
}

func TestWithoutDeclaredSpansEveryPlantIsAssumedCounted(t *testing.T) {
	plants := "plant,stock,bed,planted,removed\n" +
		"A1,mix,x,2022-09-20,\nA2,mix,x,2022-09-20,2023-08-01\nA3,mix,x,2024-09-20,\n"
	cuts := cutHead + "2023-06-01,A1,mix,x,2022-09-20,1,spring,first,50,7,,\n" +
		"2025-06-01,,,x,,,spring,first,50,7,,\n" // 2024 has no row, so nobody is counted in it
	c := mustRead(t, plants, cuts)
	if !c.Assumed || len(c.Notes()) != 1 {
		t.Errorf("assumed %v, notes %q", c.Assumed, c.Notes())
	}
	want := map[crop.PlantID]windows{
		"A1": {2023: year(2023), 2025: year(2025)},
		"A2": {2023: year(2023)},
		"A3": {2025: year(2025)},
	}
	for id, w := range want {
		if got := c.Farm.Plants[id].Counted; !reflect.DeepEqual(got, w) {
			t.Errorf("%s is counted in %v, want %v", id, got, w)
		}
	}
}

func TestAssumedSeasonsFollowTheCalendar(t *testing.T) {
	southern := crop.Calendar{Start: "07-01", Southern: true}
	cuts := cutHead + "2025-02-01,A1,mix,x,2024-04-01,1,fall,first,50,7,,\n"
	c := mustRead(t, plantHead+"A1,mix,x,2024-04-01\n", cuts, WithCalendar(southern))
	want := windows{2024: {From: "2024-07-01", To: "2025-06-30"}}
	if got := c.Farm.Plants["A1"].Counted; !reflect.DeepEqual(got, want) {
		t.Errorf("counted in %v, want %v", got, want)
	}
	if c.Farm.Calendar != southern {
		t.Errorf("the farm's calendar is %v", c.Farm.Calendar)
	}
}

func TestThePlainSampleIsAssumedCounted(t *testing.T) {
	c := mustRead(t, sample(t, "plain/plants.csv"), sample(t, "plain/cuts.csv"))
	if !c.Assumed {
		t.Error("not assumed")
	}
	// Set in March 2024 and cut at age 1 that year; the others set in September 2022.
	for id, first := range map[crop.PlantID]crop.Season{"N-14": 2023, "T-08": 2024} {
		p := c.Farm.Plants[id]
		if got := c.Farm.Plantings[p.Planting].FirstSeason; got != first {
			t.Errorf("first season of %s is %d, want %d", id, got, first)
		}
		if len(p.Counted) != int(2025-first)+1 {
			t.Errorf("%s is counted in %v", id, p.Counted)
		}
	}
}
