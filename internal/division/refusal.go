package division

import (
	"fmt"

	"corymb/internal/crop"
)

// Refusal says why there is no plan, and what to do: a code for pages, and a sentence.
type Refusal struct {
	Code RefusalCode
	Text string
}

func (r Refusal) Error() string { return r.Text }

// RefusalCode names what is wrong with a question or a farm.
type RefusalCode string

// What may be wrong.
const (
	RefusedSeasons RefusalCode = "seasons"
	RefusedGoal    RefusalCode = "goal"
	RefusedPlaces  RefusalCode = "places"
	RefusedHours   RefusalCode = "hours"
	RefusedMost    RefusalCode = "most"
	RefusedChance  RefusalCode = "chance"
	RefusedWanted  RefusalCode = "wanted"
	RefusedDay     RefusalCode = "day"
	RefusedCosts   RefusalCode = "costs"
	RefusedPrices  RefusalCode = "no_price"
	RefusedPlants  RefusalCode = "no_plants"
	RefusedCuts    RefusalCode = "no_cuts"
	RefusedHalf    RefusalCode = "half_season"
)

func refused(code RefusalCode, format string, args ...any) error {
	return Refusal{code, fmt.Sprintf(format, args...)}
}

// The bounds of what may be asked.
const (
	mostSeasons = 3
	mostPlaces  = 1_000_000
	mostHours   = 100_000
	mostGoal    = 1000
	mostInto    = 12
)

// check refuses what cannot be meant.
func (q Question) check() error {
	switch {
	case q.Seasons < 1 || q.Seasons > mostSeasons:
		return refused(RefusedSeasons, "%d seasons cannot be planned for: look 1 to %d ahead.", q.Seasons, mostSeasons)
	case !(q.Goal >= 0 && q.Goal <= mostGoal):
		return refused(RefusedGoal, "A goal of %v cannot be: write 1.5 for half as many stems again, or 0 for no goal.", q.Goal)
	case q.Places < 0 || q.Places > mostPlaces:
		return refused(RefusedPlaces, "%d more places cannot be: write 0 where there is no more ground.", q.Places)
	case !(q.Hours >= 0 && q.Hours <= mostHours):
		return refused(RefusedHours, "%v hours cannot be: write how many hours the work may take, 0 or more.", q.Hours)
	case q.Most < 1 || q.Most > mostInto:
		return refused(RefusedMost, "A plant cannot be made into %d: the most divisions a plant are from 1, for none, to %d.", q.Most, mostInto)
	case !(q.Chance >= 0 && q.Chance <= 1):
		return refused(RefusedChance, "A chance of %v cannot be: write 0.8 for four times in five, or 0 to ask for none.", q.Chance)
	case q.AsOf != "" && !q.AsOf.Valid():
		return refused(RefusedDay, "%q is no day: write year, month and day like 2026-10-01.", q.AsOf)
	case !q.Costs.Possible():
		return refused(RefusedCosts, "Such costs cannot be: write whole cents and minutes, 0 or more, at most %d minutes of work at a plant, and at most %d %% for what stands at the end.", crop.MostPlantMinutes, crop.MostStanding)
	case len(q.Prices) == 0:
		return refused(RefusedPrices, "There is no price to plan by: say what a stem of each colour class and grade brings.")
	}
	for _, w := range q.Wanted {
		if w.Stems < 0 || w.Stems > mostPlaces || !w.Due.Valid() {
			return refused(RefusedWanted, "%d stems for %q cannot be planned for: write how many stems, and a day like 2027-05-28.", w.Stems, w.Due)
		}
	}
	return nil
}
