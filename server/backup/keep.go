package backup

import (
	"fmt"
	"slices"
	"time"
)

// rules say how long backups are kept: the last of each of the newest so many days, weeks and months in
// which any were made. Weeks are those of ISO 8601, from Monday.
var rules = []struct {
	most   int
	period func(time.Time) string
}{
	{7, func(t time.Time) string { return t.Format(time.DateOnly) }},
	{4, func(t time.Time) string {
		year, week := t.ISOWeek()
		return fmt.Sprintf("%d week %d", year, week)
	}},
	{12, func(t time.Time) string { return t.Format("2006-01") }},
}

// ahead is how far the time of a backup may lie in the future; one beyond was made under a wrong clock.
const ahead = 24 * time.Hour

// Keep says which backups, by the times when they were made, are to be kept and which are to go, as
// indices in the order of the times. Days are those of now's time zone. A backup of the future is kept and
// takes no other's place.
func Keep(made []time.Time, now time.Time) (keep, drop []int) {
	var newest []int
	kept := make([]bool, len(made))
	for i, t := range made {
		if kept[i] = t.After(now.Add(ahead)); !kept[i] {
			newest = append(newest, i)
		}
	}
	slices.SortStableFunc(newest, func(a, b int) int { return made[b].Compare(made[a]) })
	for _, rule := range rules {
		periods, last := 0, ""
		for _, i := range newest {
			period := rule.period(made[i].In(now.Location()))
			if period == last {
				continue
			}
			if periods++; periods > rule.most {
				break
			}
			kept[i], last = true, period
		}
	}
	for i := range made {
		if kept[i] {
			keep = append(keep, i)
		} else {
			drop = append(drop, i)
		}
	}
	return keep, drop
}
