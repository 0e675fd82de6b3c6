package crop

import (
	"testing"
	"time"
)

func TestParseDateTakesISODaysOnly(t *testing.T) {
	cases := []struct {
		text string
		good bool
	}{
		{"2024-02-29", true},
		{"2026-12-31", true},
		{"2025-02-29", false}, // not a leap year
		{"1900-02-29", false}, // a century without its leap day (Gregorian calendar)
		{"2000-02-29", true},  // a century with it
		{"2025-13-01", false},
		{"2025-00-10", false},
		{"2025-6-1", false},
		{"2025-06-01 ", false},
		{"01/06/2025", false},
		{"20250601", false}, // ISO 8601's basic form is not ours
		{"", false},
	}
	for _, c := range cases {
		t.Run(c.text, func(t *testing.T) {
			d, err := ParseDate(c.text)
			if (err == nil) != c.good {
				t.Fatalf("error is %v", err)
			}
			if c.good && string(d) != c.text || !c.good && d != "" {
				t.Errorf("date is %q", d)
			}
			if Date(c.text).Valid() != c.good {
				t.Errorf("Valid is %v", !c.good)
			}
		})
	}
}

func TestDatesAddDaysOverMonthsAndYears(t *testing.T) {
	cases := []struct {
		from Date
		days int
		want Date
	}{
		{"2024-02-28", 1, "2024-02-29"},
		{"2025-02-28", 1, "2025-03-01"},
		{"2025-12-31", 1, "2026-01-01"},
		{"2025-01-01", -1, "2024-12-31"},
		{"2025-06-01", 0, "2025-06-01"},
		{"2024-01-01", 366, "2025-01-01"},
		{"", 1, ""},
		{"soon", 1, ""},
	}
	for _, c := range cases {
		if got := c.from.Add(c.days); got != c.want {
			t.Errorf("%q and %d days is %q, want %q", c.from, c.days, got, c.want)
		}
	}
}

func TestDatesCompareInOrderAsStrings(t *testing.T) {
	// Every day of five years, across year ends and a leap day.
	for d := Date("2022-01-01"); d < "2027-01-01"; d = d.Add(1) {
		if next := d.Add(1); next <= d {
			t.Fatalf("%s is not before the next day, %s", d, next)
		}
	}
}

func TestDateOfIsTheDayInTheTimesOwnZone(t *testing.T) {
	moment := time.Date(2025, 6, 1, 23, 30, 0, 0, time.UTC)
	if got := DateOf(moment); got != "2025-06-01" {
		t.Errorf("in UTC it is %s", got)
	}
	if got := DateOf(moment.In(time.FixedZone("east", 3600))); got != "2025-06-02" {
		t.Errorf("an hour east it is %s", got)
	}
}

func TestYearOfADate(t *testing.T) {
	for d, want := range map[Date]int{"2025-06-01": 2025, "": 0, "2025": 0} {
		if got := d.Year(); got != want {
			t.Errorf("year of %q is %d, want %d", d, got, want)
		}
	}
}

func TestDaysBetweenTwoDates(t *testing.T) {
	for _, c := range []struct {
		from, to Date
		want     int
	}{
		{"2024-05-01", "2024-05-01", 0}, {"2024-02-28", "2024-03-01", 2}, {"2023-12-31", "2024-01-01", 1},
		{"2024-05-03", "2024-05-01", -2}, {"2024-05-01", "soon", 0},
	} {
		if got := c.from.DaysTo(c.to); got != c.want {
			t.Errorf("from %s to %s: %d days, want %d", c.from, c.to, got, c.want)
		}
	}
}
