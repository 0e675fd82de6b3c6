package crop

import "testing"

var (
	// northernAutumn starts after the spring of its calendar year, so that a season is named after
	// the year in which it ends.
	northernAutumn = Calendar{Start: "10-01"}
	northernSpring = Calendar{Start: "03-01"}
	southernWinter = Calendar{Start: "07-01", Southern: true}
	southernYear   = Calendar{Start: "01-01", Southern: true}
	southernLate   = Calendar{Start: "10-01", Southern: true}
)

func TestASeasonBearsTheYearOfItsSpring(t *testing.T) {
	cases := []struct {
		name     string
		calendar Calendar
		day      Date
		want     Season
	}{
		{"calendar year, first day", NorthernYear, "2025-01-01", 2025},
		{"calendar year, last day", NorthernYear, "2025-12-31", 2025},
		{"start on the first day of spring", northernSpring, "2025-03-01", 2025},
		{"day before it", northernSpring, "2025-02-28", 2024},
		{"start in autumn belongs to the next spring", northernAutumn, "2024-10-01", 2025},
		{"its spring", northernAutumn, "2025-05-01", 2025},
		{"its last day", northernAutumn, "2025-09-30", 2025},
		{"south, start before its spring", southernWinter, "2024-07-01", 2024},
		{"south, its spring", southernWinter, "2024-10-01", 2024},
		{"south, its summer in the next year", southernWinter, "2025-01-15", 2024},
		{"south, its last day", southernWinter, "2025-06-30", 2024},
		{"south, calendar year", southernYear, "2024-02-01", 2024},
		{"south, start after spring began", southernLate, "2024-10-01", 2025},
		{"south, the spring it is named after", southernLate, "2025-09-15", 2025},
		{"no date", NorthernYear, "", 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if got := c.calendar.SeasonOf(c.day); got != c.want {
				t.Errorf("season of %s is %d, want %d", c.day, got, c.want)
			}
		})
	}
}

func TestSpansTileTheDaysAndAgreeWithSeasonOf(t *testing.T) {
	calendars := []Calendar{NorthernYear, northernAutumn, northernSpring, southernWinter, southernYear,
		southernLate}
	for _, c := range calendars {
		for s := Season(2022); s <= 2028; s++ {
			w := c.Span(s)
			if after := c.Span(s + 1).From; w.To.Add(1) != after {
				t.Errorf("%v: season %d ends on %s, the next starts on %s", c, s, w.To, after)
			}
			for d := w.From; d <= w.To; d = d.Add(1) {
				if c.SeasonOf(d) != s {
					t.Fatalf("%v: %s lies in season %d, yet in the span of %d", c, d, c.SeasonOf(d), s)
				}
			}
			// Its name is the year of the spring that it holds.
			if spring := w.To[:4] + "-" + Date(c.spring()); !w.Holds(spring) {
				spring = w.From[:4] + "-" + Date(c.spring())
				if !w.Holds(spring) || spring.Year() != int(s) {
					t.Errorf("%v: season %d (%v) holds no spring of that year", c, s, w)
				}
			} else if spring.Year() != int(s) {
				t.Errorf("%v: season %d holds the spring of %d", c, s, spring.Year())
			}
		}
	}
}

func TestParseCalendarRefusesDaysThatMostYearsLack(t *testing.T) {
	for start, good := range map[string]bool{
		"01-01": true, "10-01": true, "12-31": true,
		"02-29": false, "02-30": false, "1-1": false, "13-01": false, "": false, "2025-01-01": false,
	} {
		c, err := ParseCalendar(start, true)
		if (err == nil) != good {
			t.Errorf("%q: error is %v", start, err)
		}
		if good && (c.Start != start || !c.Southern) {
			t.Errorf("%q: calendar is %v", start, c)
		}
	}
}
