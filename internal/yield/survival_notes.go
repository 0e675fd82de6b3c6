package yield

import (
	"fmt"
	"strconv"
	"strings"
)

// The codes of notes on survival. Numbers in Args are written in digits.
const (
	NoteSurvivalNothing     = "survival_nothing"       // no args
	NoteSurvivalAgeIsSeason = "survival_age_is_season" // groups, split
	NoteSurvivalOneSeason   = "survival_one_season"    // season
	NoteSurvivalNoPlants    = "survival_no_plants"     // age
	NoteSurvivalOnePlanting = "survival_one_planting"  // age, plants
	NoteNobodyLost          = "survival_nobody_lost"   // plants
	NoteLostNotWhy          = "survival_lost_not_why"  // plants
	NoteDivided             = "survival_divided"       // plants
	NoteCleared             = "survival_cleared"       // plantings, plants
	NoteSurvivalOpen        = "survival_season_open"   // plants
	NotePlantsUnlisted      = "survival_unlisted"      // plantings
	NotePlantingMisdated    = "survival_misdated"      // plantings
	NotePlantsHomeless      = "survival_homeless"      // plants
)

// survivalNotes stand in order of weight: what the whole rests on, then single ages, then what was left
// out.
func survivalNotes(l *roll, ages []SurvivalAge, rows []standing) []Note {
	list := []Note{}
	if len(ages) == 0 {
		list = append(list, note(NoteSurvivalNothing, "No listed plant has begun a season in the ground yet, so nothing is said of how plants last."))
	}
	list = append(list, lossOrSeason(rows)...)
	list = append(list, lossNotes(ages)...)
	list = append(list, thinLasting(ages)...)
	list = append(list, leftOut(rows)...)
	return append(list, unknownPlants(l)...)
}

// unknownPlants count those of which it is not known how many they are or how old.
func unknownPlants(l *roll) []Note {
	var list []Note
	if n := strconv.Itoa(l.unlisted); l.unlisted > 0 {
		list = append(list, note(NotePlantsUnlisted, "Plantings without a list of their plants: "+n+
			". How many were set out and how many stand is not known, so they are left out.", "plantings", n))
	}
	if n := strconv.Itoa(l.misdated); l.misdated > 0 {
		list = append(list, note(NotePlantingMisdated, "Plantings whose first season is told as a hundred years ago or more: "+n+
			". They are left out; correct the first season.", "plantings", n))
	}
	if n := strconv.Itoa(l.homeless); l.homeless > 0 {
		list = append(list, note(NotePlantsHomeless, "Plants whose planting is not known here: "+n+
			". Their age is not known, so they are left out.", "plants", n))
	}
	return list
}

// lossOrSeason says where an age's losses cannot be told from those of a year, by the graph at
// confounding.
func lossOrSeason(rows []standing) []Note {
	var seen []PlantSeason
	for _, r := range rows {
		if r.told() {
			seen = append(seen, PlantSeason{Season: r.season, age: r.age})
		}
	}
	edges := edgesOf(seen)
	if len(edges) == 0 {
		return nil
	}
	if parts := components(edges); len(parts) > 1 {
		split := make([]string, len(parts))
		for i, part := range parts {
			split[i] = describe(part)
		}
		groups, which := strconv.Itoa(len(parts)), strings.Join(split, "; ")
		return []Note{note(NoteSurvivalAgeIsSeason, "Losses by age cannot be told from losses by year: the plantings fall into "+groups+
			" groups that share neither an age nor a season ("+which+"). What looks like an age may be one hard winter.",
			"groups", groups, "split", which)}
	}
	for _, e := range edges {
		if e.season != edges[0].season {
			return nil
		}
	}
	season := strconv.Itoa(int(edges[0].season))
	return []Note{note(NoteSurvivalOneSeason, "All losses were seen through one season, "+season+
		": they cannot be told from that year's weather.", "season", season)}
}

// lossNotes say what a loss is, or that none may be one that nobody wrote down.
func lossNotes(ages []SurvivalAge) []Note {
	stood, lost := 0, 0
	for _, a := range ages {
		stood += a.AtStart
		lost += a.Lost
	}
	switch n := strconv.Itoa(lost); {
	case stood == 0:
		return nil
	case lost == 0:
		return []Note{note(NoteNobodyLost, "No plant is recorded as gone: either none died, or nobody wrote it down.", "plants", strconv.Itoa(stood))}
	default:
		return []Note{note(NoteLostNotWhy, "Plants counted as lost: "+n+
			". Records say when a plant went, not why, so one that was thrown out alive is among them.", "plants", n)}
	}
}

func thinLasting(ages []SurvivalAge) []Note {
	var list []Note
	for _, a := range ages {
		age, plants := strconv.Itoa(a.Age), strconv.Itoa(a.AtStart)
		switch a.PlantingSeasons {
		case 0:
			list = append(list, note(NoteSurvivalNoPlants, "No plant has been followed through season "+age+
				" in the ground to the next: its chance of lasting is common practice, not this farm.", "age", age))
		case 1:
			list = append(list, note(NoteSurvivalOnePlanting, "Season "+age+" in the ground was followed in one planting alone ("+plants+
				" plants), so a loss cannot be told from that season's: how far another may differ is not this farm's own knowledge.",
				"age", age, "plants", plants))
		}
	}
	return list
}

// leftOut counts what says nothing of survival, so that nothing is dropped in silence.
func leftOut(rows []standing) []Note {
	divided, cleared, clearedPlants, open := 0, 0, 0, 0
	for _, r := range rows {
		switch {
		case r.cleared:
			cleared++
			clearedPlants += r.start
		case r.open:
			open += r.start
		default:
			divided += r.divided
		}
	}
	var list []Note
	if n := strconv.Itoa(divided); divided > 0 {
		list = append(list, note(NoteDivided, "Plants taken out to be divided: "+n+
			". They are left out of the season in which that was.", "plants", n))
	}
	if cleared > 0 {
		list = append(list, note(NoteCleared, fmt.Sprintf("Plantings cleared: %d, with %d plants. A planting counts as cleared where it was "+
			"divided to the last plant, or went on one day after it had been cut that season; it is left out of that season.", cleared, clearedPlants),
			"plantings", strconv.Itoa(cleared), "plants", strconv.Itoa(clearedPlants)))
	}
	if n := strconv.Itoa(open); open > 0 {
		list = append(list, note(NoteSurvivalOpen, "Plants whose season still runs: "+n+
			". Whether they stand at the next one's start is not known yet, so they are left out.", "plants", n))
	}
	return list
}
