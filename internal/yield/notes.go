package yield

import (
	"fmt"
	"strconv"

	"corymb/internal/crop"
)

// Note is something that the reader of a report must know. Code and Args are for translation; Text
// says it in English.
type Note struct {
	Code string            `json:"code"`
	Args map[string]string `json:"args"`
	Text string            `json:"text"`
}

// The codes of notes. Numbers in Args are written in digits.
const (
	NoteNothing        = "nothing_recorded" // no args
	NoteAssumedCounted = "assumed_counted"  // no args
	NoteAgeIsSeason    = "age_is_season"    // groups, split
	NoteOneSeason      = "one_season"       // season
	NoteNoPlants       = "no_plants"        // age
	NoteFewPlants      = "few_plants"       // age, plants
	NoteOpen           = "season_open"      // plants, seasons
	NoteEarlyOrMore    = "early_or_more"    // season
	NoteToOrder        = "cut_to_order"     // plants
	NotePartSeen       = "part_seen"        // plants
	NoteNoGrades       = "no_grades"        // no args
	NoteOneGrade       = "one_grade"        // grade
	NoteBenchUnusable  = "bench_unusable"   // visits, stems
	NoteWindowMissed   = "window_missed"    // plants
	NoteBedBare        = "bed_bare"         // visits, stems
	NoteUnplaced       = "records_unplaced" // visits, stems
	NoteMoved          = "plants_moved"     // visits, stems
	NoteOverdrawn      = "total_overdrawn"  // visits, stems
	NoteUnsummed       = "total_unsummed"   // totals
	NoteSurplus        = "total_surplus"    // totals, stems
	NoteGradersApart   = "graders_apart"    // groups
	// Those of a flat prior.
	NoteAllZero       = "flat_all_zero"       // age
	NoteNoSize        = "flat_no_size"        // age
	NoteNoMaximum     = "flat_no_maximum"     // effect, of
	NoteNoThreshold   = "flat_no_threshold"   // threshold
	NoteParted        = "flat_parted"         // threshold
	NoteNoPlantSD     = "flat_no_plant_sd"    // no args
	NoteNoMean        = "flat_no_mean"        // age, flush
	NoteNotConverged  = "flat_not_converged"  // of
	NoteNoSpread      = "flat_no_spread"      // no args
	NoteBenchUngraded = "flat_bench_ungraded" // stems
)

// enoughPlants overrule the practice curve.
const enoughPlants = 10

// note takes its args as names and values in turn.
func note(code, text string, args ...string) Note {
	n := Note{Code: code, Args: map[string]string{}, Text: text}
	for i := 0; i+1 < len(args); i += 2 {
		n.Args[args[i]] = args[i+1]
	}
	return n
}

// notes stand in order of weight: what the whole report rests on, then single ages, then what was
// left out.
func notes(d *data, report Report) []Note {
	list := []Note{}
	if len(report.Ages) == 0 {
		list = append(list, note(NoteNothing, "No cut is recorded yet, so there is nothing to say about any age."))
	}
	if d.options.AssumedCounted {
		list = append(list, note(NoteAssumedCounted, "Nobody declared which plants were counted: all of them were taken to be, "+
			"and to be alive, in every year with cuts from their first season on."))
	}
	list = append(list, confounding(d.counted)...)
	if report.Prior == PriorPractice {
		list = append(list, thinAges(report.Ages)...)
	}
	list = append(list, openNote(d.counted)...)
	list = append(list, earlyOrMore(d.counted)...)
	list = append(list, lowNotes(d.counted, report.Prior)...)
	if len(report.Ages) > 0 {
		list = append(list, gradeNote(d.graded, report.Prior)...)
		list = append(list, gradersApart(d.graded)...)
	}
	return append(list, unusableNotes(d.records)...)
}

// thinAges says where common practice speaks louder than the farm.
func thinAges(ages []Age) []Note {
	var list []Note
	for _, a := range ages {
		age, plants := strconv.Itoa(a.Age), strconv.Itoa(a.PlantSeasons)
		switch {
		case a.PlantSeasons == 0:
			list = append(list, note(NoteNoPlants, "No plant was counted through season "+age+
				" in the ground: its number of stems is common practice, not this farm.", "age", age))
		case a.PlantSeasons < enoughPlants:
			list = append(list, note(NoteFewPlants, "Season "+age+" in the ground rests on few plants ("+plants+
				"): common practice still pulls its number of stems.", "age", age, "plants", plants))
		}
	}
	return list
}

func openNote(seasons []PlantSeason) []Note {
	var open []PlantSeason
	for _, s := range seasons {
		if s.Open {
			open = append(open, s)
		}
	}
	if len(open) == 0 {
		return nil
	}
	plants, which := strconv.Itoa(len(open)), joinSeasons(seasonsOf(open))
	return []Note{note(NoteOpen, "Still being counted ("+which+"): "+plants+
		" plants are shown but left out of the estimate until their counting ends.", "plants", plants, "seasons", which)}
}

// lowNotes say what was taken for a lower bound, and what for a part; the plain model takes either for the
// whole.
func lowNotes(seasons []PlantSeason, prior Prior) []Note {
	toOrder, partSeen := 0, 0
	for _, s := range seasons {
		if s.Open {
			continue
		}
		if s.toOrder {
			toOrder++
		}
		if s.partSeen {
			partSeen++
		}
	}
	bound, part := "They bore at least what was cut, and the estimate takes it so.",
		"What they gave is taken for the part of the season's stems that the others gave in those days."
	if prior == PriorFlat {
		bound, part = "The plain model takes what was cut for all that they bore.", "The plain model takes what they gave in it for the whole."
	}
	var list []Note
	if toOrder > 0 {
		plants := strconv.Itoa(toOrder)
		list = append(list, note(NoteToOrder, "Plants cut to order at least once: "+plants+". "+bound, "plants", plants))
	}
	if partSeen > 0 {
		plants := strconv.Itoa(partSeen)
		list = append(list, note(NotePartSeen, "Plants counted through a part of their bed's cutting only: "+plants+". "+part, "plants", plants))
	}
	return list
}

func gradeNote(rows []graded, prior Prior) []Note {
	seen := ranksSeen(rows)
	switch {
	case len(seen) == 0:
		return []Note{note(NoteNoGrades, "No stem was graded, so nothing is said about grades.")}
	case len(seen) == 1 && prior == PriorPractice:
		grade := string(crop.GradesLowToHigh[seen[0]])
		return []Note{note(NoteOneGrade, "Every graded stem was "+grade+
			": the other grades are given only the chance that so few stems cannot rule out.", "grade", grade)}
	}
	return nil
}

// gradersApart says where two people's grading cannot be compared: they share no plant and no pool, nor any
// third person does with both.
func gradersApart(rows []graded) []Note {
	var edges []link
	for _, r := range rows {
		if r.grader != "" {
			edges = append(edges, link{r.cluster(), r.grader})
		}
	}
	groups := len(linked(edges))
	if groups < 2 {
		return nil
	}
	n := strconv.Itoa(groups)
	return []Note{note(NoteGradersApart, "People who grade fall into "+n+" groups that never graded stems of one plant, so who "+
		"is stricter cannot be told from whose plants are better. Let two people grade a few of the same plants.", "groups", n)}
}

// unusableNotes count what was left out, so that nothing is dropped in silence.
func unusableNotes(r *records) []Note {
	var list []Note
	if r.missed > 0 {
		plants := strconv.Itoa(r.missed)
		list = append(list, note(NoteWindowMissed, "Plants whose days of counting held no day of a season's cutting: "+
			plants+". They are left out of that season, and not taken as zero.", "plants", plants))
	}
	if u := r.bare; u.visits > 0 {
		list = append(list, note(NoteBedBare, fmt.Sprintf("Bench totals and bed cuts that no plant can have given, since none "+
			"that fits stood in the bed that day in its first season or later: %d, with %d stems. They are left out; "+
			"correct the bed, the day, the planting or the age.",
			u.visits, u.stems), "visits", strconv.Itoa(u.visits), "stems", strconv.Itoa(u.stems)))
	}
	if u := r.overdrawn; u.visits > 0 {
		list = append(list, note(NoteOverdrawn, fmt.Sprintf("Bench totals and bed cuts that hold fewer stems of a grade or "+
			"length than were written down for single plants that day, or several of which any may hold those: %d, with %d stems. "+
			"Their grades and lengths are left out; correct one or the other, or tell of which plantings each total is.", u.visits, u.stems), "visits", strconv.Itoa(u.visits), "stems", strconv.Itoa(u.stems)))
	}
	if r.unsummed > 0 {
		totals := strconv.Itoa(r.unsummed)
		list = append(list, note(NoteUnsummed, "Beds and seasons whose totals say nothing of the plants that nobody counted: "+totals+
			". They cover now the whole bed and now a part, or few days of the cutting, or some days of it where few plants were "+
			"counted through them all, or hold less than the counted plants gave.", "totals", totals))
	}
	if s := r.surplus; s.totals > 0 {
		list = append(list, note(NoteSurplus, fmt.Sprintf("Beds and seasons whose plants were all counted, and whose totals hold "+
			"more stems than were written down for those plants: %d, with %d stems more. They are no plant's, and left out of "+
			"what a plant gives; write down the cuts or the plants that are missing, or correct the totals.",
			s.totals, s.stems), "totals", strconv.Itoa(s.totals), "stems", strconv.Itoa(s.stems)))
	}
	if u := r.ageless; u.visits > 0 {
		list = append(list, note(NoteBenchUnusable, fmt.Sprintf("Bench totals and bed cuts without an age, from beds that "+
			"hold plants of several: %d, with %d stems. They say something of stems a plant and nothing of any age's grades or "+
			"lengths; tell the planting or the age to use them whole.",
			u.visits, u.stems), "visits", strconv.Itoa(u.visits), "stems", strconv.Itoa(u.stems)))
	}
	if u := r.unplaced; u.visits > 0 {
		list = append(list, note(NoteUnplaced, fmt.Sprintf("Cuts from plants that are not known here, or from before their "+
			"first season: %d, with %d stems. They are left out.",
			u.visits, u.stems), "visits", strconv.Itoa(u.visits), "stems", strconv.Itoa(u.stems)))
	}
	return append(list, liftedNotes(r)...)
}
