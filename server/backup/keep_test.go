package backup

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// nights are backups made every night at three up to a day, the oldest first.
func nights(n int, last time.Time) []time.Time {
	made := make([]time.Time, n)
	for i := range made {
		made[i] = last.AddDate(0, 0, i-n+1)
	}
	return made
}

func days(made []time.Time, at []int) (names []string) {
	for _, i := range at {
		names = append(names, made[i].Format(time.DateOnly))
	}
	return names
}

func TestWhatIsKeptOfTwoYearsOfNights(t *testing.T) {
	made := nights(730, night) // a Sunday
	keep, drop := Keep(made, night.Add(time.Hour))
	want := []string{
		// The last of each month, of twelve with this one,
		"2025-12-31", "2026-01-31", "2026-02-28", "2026-03-31", "2026-04-30", "2026-05-31", "2026-06-30",
		"2026-07-31", "2026-08-31", "2026-09-30", "2026-10-31",
		// the Sunday of each week, of four with this one,
		"2026-11-08", "2026-11-15", "2026-11-22",
		// and seven days.
		"2026-11-23", "2026-11-24", "2026-11-25", "2026-11-26", "2026-11-27", "2026-11-28", "2026-11-29",
	}
	if got := days(made, keep); !slices.Equal(got, want) {
		t.Errorf("kept %v\nwant %v", got, want)
	}
	if len(keep)+len(drop) != len(made) {
		t.Errorf("%d kept and %d dropped of %d", len(keep), len(drop), len(made))
	}
}

func TestKeep(t *testing.T) {
	at := func(text string) time.Time {
		when, err := time.ParseInLocation("2006-01-02 15:04", text, night.Location())
		if err != nil {
			t.Fatal(err)
		}
		return when
	}
	tests := []struct {
		name string
		made []string
		keep []int
	}{
		{"nothing", nil, nil},
		{"the last of a day", []string{"2026-11-29 08:00", "2026-11-29 03:00", "2026-11-28 23:59", "2026-11-28 03:00"}, []int{0, 2}},
		{"days without one do not count", []string{"2026-11-29 03:00", "2026-11-01 03:00", "2026-10-31 03:00", "2026-01-01 03:00"}, []int{0, 1, 2, 3}},
		{"a day is one by local time", []string{"2026-11-29 01:00", "2026-11-28 23:00"}, []int{0, 1}},
		{"a week is that of ISO 8601, also over New Year", []string{
			"2026-11-29 03:00", "2026-11-28 03:00", "2026-11-27 03:00", "2026-11-26 03:00", "2026-11-25 03:00", "2026-11-24 03:00", "2026-11-23 03:00",
			"2026-01-03 03:00", "2025-12-31 03:00", "2025-12-29 03:00"}, []int{0, 1, 2, 3, 4, 5, 6, 7, 8}},
		{"what the future holds is kept and takes no place", []string{
			"2031-01-01 03:00", "2031-01-01 02:00", "2026-11-29 03:00", "2026-11-29 02:00"}, []int{0, 1, 2}},
		{"a clock that was a little fast", []string{"2026-11-29 23:00", "2026-11-29 03:00"}, []int{0}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			made := make([]time.Time, len(tt.made))
			for i, text := range tt.made {
				made[i] = at(text).UTC()
			}
			if keep, _ := Keep(made, night.Add(time.Hour)); !slices.Equal(keep, tt.keep) {
				t.Errorf("kept %v, want %v", keep, tt.keep)
			}
		})
	}
}

func someTimes(t *rapid.T) []time.Time {
	hours := rapid.SliceOfN(rapid.IntRange(0, 2*365*24), 0, 120).Draw(t, "hours before")
	made := make([]time.Time, len(hours))
	for i, h := range hours {
		made[i] = night.Add(-time.Duration(h) * time.Hour)
	}
	return made
}

func pick(made []time.Time, at []int) []time.Time {
	picked := make([]time.Time, len(at))
	for i, k := range at {
		picked[i] = made[k]
	}
	return picked
}

func TestKeepingIsAPlainRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		made := someTimes(t)
		keep, drop := Keep(made, night)
		all := append(slices.Clone(keep), drop...)
		slices.Sort(all)
		for i, at := range all {
			if i != at {
				t.Fatalf("%v and %v are not all of %d, each once", keep, drop, len(made))
			}
		}
		if len(keep) > 7+4+12 {
			t.Fatalf("%d are kept", len(keep))
		}
		if len(made) == 0 {
			return
		}
		if newest := slices.MaxFunc(made, time.Time.Compare); !slices.ContainsFunc(keep, func(i int) bool { return made[i].Equal(newest) }) {
			t.Fatal("the newest is dropped")
		}
		kept := pick(made, keep)
		if again, dropped := Keep(kept, night); len(dropped) > 0 {
			t.Fatalf("of what was kept, %d of %d are dropped the next time", len(dropped), len(again)+len(dropped))
		}
		// What was dropped had a later one of its day, its week and its month, or is older than the periods
		// that count.
		for _, d := range drop {
			for _, rule := range rules {
				later := map[string]bool{}
				for _, m := range made {
					if m.After(made[d]) {
						later[rule.period(m)] = true
					}
				}
				if period := rule.period(made[d]); !later[period] && len(later) < rule.most && !hasEqual(kept, made[d]) {
					t.Fatalf("%s is dropped though it is the last of %s", made[d], period)
				}
			}
		}
	})
}

func hasEqual(made []time.Time, one time.Time) bool {
	return slices.ContainsFunc(made, one.Equal)
}

// Dropping a little after each backup comes to the same as dropping once at the end: nothing is dropped
// that would be wanted later.
func TestNothingIsDroppedThatIsWantedLater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		made := someTimes(t)
		slices.SortFunc(made, time.Time.Compare)
		made = slices.CompactFunc(made, time.Time.Equal)
		var kept []time.Time
		for _, m := range made {
			kept = append(kept, m)
			keep, _ := Keep(kept, m)
			kept = pick(kept, keep)
		}
		once, _ := Keep(made, night)
		if want := pick(made, once); !slices.EqualFunc(kept, want, time.Time.Equal) {
			t.Fatalf("kept %v, want %v", kept, want)
		}
	})
}
