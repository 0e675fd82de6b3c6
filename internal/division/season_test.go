package division

import (
	"reflect"
	"testing"

	"corymb/internal/crop"
)

// halfOfLast takes the second half of the last season out.
func halfOfLast(farm *crop.Farm) {
	for id, v := range farm.Visits {
		if v.Date > "2026-05-20" {
			delete(farm.Visits, id)
		}
	}
}

func TestASeasonCountsOnceHardlyAnythingOfItIsToCome(t *testing.T) {
	farm, q := middling()
	q.AsOf = "2026-12-31"
	whole := planOf(t, farm, q)
	for _, test := range []struct {
		day  crop.Date
		over bool
	}{{"2026-05-28", false}, {"2026-11-15", true}} {
		q.AsOf = test.day
		plan := planOf(t, farm, q)
		if over := !noted(plan, NoteSeasonRuns); over != test.over || over != reflect.DeepEqual(plan.Actions, whole.Actions) {
			t.Errorf("on %s the season is over: %v, want %v", test.day, over, test.over)
		}
	}
}

func TestHalfASeasonIsLeftOutWhereTheDayIsSaid(t *testing.T) {
	farm, q := middling()
	halfOfLast(&farm)
	q.AsOf = "2026-05-20"
	plan := planOf(t, farm, q)
	if !noted(plan, NoteSeasonRuns) || plan.Season != 2026 {
		t.Errorf("season %d, %v", plan.Season, plan.Notes)
	}
}
