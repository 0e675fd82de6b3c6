package backup

import (
	"testing"
	"time"
)

func TestWhenTheNextBackupIsDue(t *testing.T) {
	zone := time.FixedZone("", 2*3600)
	at := func(text string) time.Time {
		if text == "" {
			return time.Time{}
		}
		when, err := time.ParseInLocation("2006-01-02 15:04", "2026-11-"+text, zone)
		if err != nil {
			t.Fatal(err)
		}
		return when
	}
	tests := []struct{ name, made, awake, retry, want string }{
		{"never one: after a while of running", "", "10 08:00", "", "10 08:10"},
		{"always awake: at the hour", "10 03:00", "05 00:00", "", "11 03:00"},
		{"made by day, always awake: at the hour", "10 14:00", "05 00:00", "", "11 03:00"},
		{"made just before the hour: at the hour", "10 02:59", "05 00:00", "", "10 03:00"},
		{"slept through the hour, the last one a day old: after a while", "09 08:10", "10 08:05", "", "10 08:15"},
		{"slept through the hour, the last one not a day old: when it is", "09 18:00", "10 08:00", "", "10 18:00"},
		{"slept for a week: after a while", "03 08:10", "10 08:00", "", "10 08:10"},
		{"awake since before the hour: at the hour", "09 08:10", "10 02:00", "", "10 03:00"},
		{"a try came to nothing: later", "09 03:00", "05 00:00", "10 04:00", "10 04:00"},
		{"a try came to nothing long ago: at the hour", "09 03:00", "05 00:00", "09 05:00", "10 03:00"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := due(3, at(tt.made), at(tt.awake), at(tt.retry)); !got.Equal(at(tt.want)) {
				t.Errorf("%s, want %s", got.Format("02 15:04"), tt.want)
			}
		})
	}
}

// The hour comes once a day also where clocks change; on the day when it does not come, the next one does.
func TestTheHourComesOnceADay(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	at := time.Date(2026, 1, 1, 0, 0, 0, 0, berlin)
	for n := range 365 {
		next := nextAt(2, at)
		if gap := next.Sub(at); !next.After(at) || n > 0 && (gap < 22*time.Hour || gap > 26*time.Hour) {
			t.Fatalf("after %s comes %s", at, next)
		}
		at = next
	}
	if at.Year() != 2026 || at.Month() != time.December || at.Day() != 31 {
		t.Errorf("a year of nights ends on %s", at)
	}
}
