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
	NoteToOrder        = "cut_to_order"     // plants
	NotePartSeen       = "part_seen"        // plants
	NoteNoGrades       = "no_grades"        // no args
	NoteOneGrade       = "one_grade"        // grade
	NoteBenchUnusable  = "bench_unusable"   // visits, stems
	NoteWindowMissed   = "window_missed"    // plants
	NoteBedBare        = "bed_bare"         // visits, stems
	NoteUnplaced       = "records_unplaced" // visits, stems
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
func notes(r *records, report Report, seasons []PlantSeason, told []toldCounts) []Note {
	list := []Note{}
	if len(report.Ages) == 0 {
		list = append(list, note(NoteNothing, "No cut is recorded yet, so there is nothing to say about any age."))
	}
	if r.options.AssumedCounted {
		list = append(list, note(NoteAssumedCounted, "Nobody declared which plants were counted: all of them were taken to be, "+
			"and to be alive, in every year with cuts from their first season on."))
	}
	list = append(list, confounding(seasons)...)
	list = append(list, thinAges(report.Ages)...)
	list = append(list, openNote(seasons)...)
	list = append(list, lowNotes(seasons)...)
	if len(report.Ages) > 0 {
		list = append(list, gradeNote(told)...)
	}
	return append(list, unusableNotes(r)...)
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

// lowNotes: a cut to order is a lower bound of what the plant bore, and a window that opens late or
// closes early sees a part of the season; this form of the model takes both as the whole.
func lowNotes(seasons []PlantSeason) []Note {
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
	var list []Note
	if toOrder > 0 {
		plants := strconv.Itoa(toOrder)
		list = append(list, note(NoteToOrder, "Plants cut to order at least once: "+plants+
			". They bore more than was cut, so the number of stems is too low rather than too high.", "plants", plants))
	}
	if partSeen > 0 {
		plants := strconv.Itoa(partSeen)
		list = append(list, note(NotePartSeen, "Plants counted through a part of their bed's cutting only: "+plants+
			". What they gave outside it is missing, so the number of stems is too low rather than too high.", "plants", plants))
	}
	return list
}

func gradeNote(told []toldCounts) []Note {
	var stems [4]int
	seen, last := 0, 0
	for _, t := range told {
		for rank, n := range t.stems {
			stems[rank] += n
		}
	}
	for rank, n := range stems {
		if n > 0 {
			seen, last = seen+1, rank
		}
	}
	switch seen {
	case 0:
		return []Note{note(NoteNoGrades, "No stem was graded, so nothing is said about grades.")}
	case 1:
		grade := string(crop.GradesLowToHigh[last])
		return []Note{note(NoteOneGrade, "Every graded stem was "+grade+
			": the other grades are given only the chance that so few stems cannot rule out.", "grade", grade)}
	}
	return nil
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
	if u := r.ageless; u.visits > 0 {
		list = append(list, note(NoteBenchUnusable, fmt.Sprintf("Bench totals and bed cuts without an age, from beds that "+
			"hold plants of several: %d, with %d stems. They are left out; tell the planting or the age to use them.",
			u.visits, u.stems), "visits", strconv.Itoa(u.visits), "stems", strconv.Itoa(u.stems)))
	}
	if u := r.unplaced; u.visits > 0 {
		list = append(list, note(NoteUnplaced, fmt.Sprintf("Cuts from plants that are not known here, or from before their "+
			"first season: %d, with %d stems. They are left out.",
			u.visits, u.stems), "visits", strconv.Itoa(u.visits), "stems", strconv.Itoa(u.stems)))
	}
	return list
}
