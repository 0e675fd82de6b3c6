package drift

import (
	"fmt"
	"slices"
	"strconv"

	"corymb/internal/crop"
)

// The codes of notes. Numbers in Args are written in digits.
const (
	NoteNothing          = "nothing_read"        // no args
	NoteNotAbsolute      = "colour_not_absolute" // units
	NoteUnfit            = "readings_unfit"      // readings, of
	NoteNoCard           = "readings_no_card"    // readings
	NoteStandUntold      = "stand_shift_untold"  // seasons
	NoteFewReferences    = "few_references"      // plants
	NoteReferenceDrifts  = "reference_drifts"    // plant, season
	NoteSessionsUntied   = "sessions_untied"     // sessions
	NoteStandMoved       = "stand_moved"         // season, since, units
	NoteCameraNew        = "camera_new"          // season
	NoteVariancesAssumed = "variances_assumed"   // no args
	NoteOneSeason        = "one_season"          // no args
)

// absoluteUnits is within how many CIELAB units a colour is not claimed against the world: camera, tone curve and
// translucent petals are not undone by a card.
const absoluteUnits = 5

// fewDF is how few degrees of freedom say that priors speak louder than the stand.
const fewDF = 20

func note(code, text string, args ...string) Note {
	n := Note{Code: code, Args: map[string]string{}, Text: text}
	for i := 0; i+1 < len(args); i += 2 {
		n.Args[args[i]] = args[i+1]
	}
	return n
}

// notes stand in order of weight: what all rests on, then what cannot be told, then what was seen.
func notes(l *layout, report *Report, df float64) []Note {
	if report.Readings == 0 {
		return []Note{note(NoteNothing, "No photo has been read yet, so there is nothing to say of any colour.")}
	}
	units := strconv.Itoa(absoluteUnits)
	list := []Note{note(NoteNotAbsolute, "Colours compare the farm's plants as its cameras and cards see them. Against the world they are not claimed within "+units+" units.", "units", units)}
	list = append(list, l.readingNotes(report)...)
	list = append(list, l.referenceNotes(report)...)
	list = append(list, l.cameraNotes()...)
	return append(list, varianceNotes(report, df)...)
}

func (l *layout) readingNotes(report *Report) []Note {
	var list []Note
	if unfit := report.Readings - report.Firm; unfit > 0 {
		n, of := strconv.Itoa(unfit), strconv.Itoa(report.Readings)
		text := counted(unfit, "photos is not of full bloom out of the sun with a card: it says", "photos are not of full bloom out of the sun with a card: they say")
		list = append(list, note(NoteUnfit, n+" of "+of+" "+text+" something of colours, and nothing of drift.", "readings", n, "of", of))
	}
	bare := 0
	for _, r := range l.ordered {
		bare += one(r.Card == "")
	}
	if bare > 0 {
		n := strconv.Itoa(bare)
		text := counted(bare, "photo has no card: it compares only with others of its session.", "photos have no card: they compare only with others of their session.")
		list = append(list, note(NoteNoCard, n+" "+text, "readings", n))
	}
	return list
}

func (l *layout) referenceNotes(report *Report) []Note {
	var list []Note
	references := 0
	for _, b := range l.blocks {
		references += one(b.reference)
	}
	untold := ""
	for _, s := range report.Stand {
		if !s.Told {
			untold = joined(untold, seasonKey(s.Season))
		}
	}
	if untold != "" {
		list = append(list, note(NoteStandUntold, "In "+untold+" no two reference plants tell what the whole stand did: they were not read in the first season too, or parted since. A change of the whole stand cannot be told from light and camera then; each plant is judged beside the others.", "seasons", untold))
	}
	if references == enoughReferences {
		n := strconv.Itoa(references)
		list = append(list, note(NoteFewReferences, "There are "+n+" reference plants: if one of them drifts, nobody can say which. Three or more are better.", "plants", n))
	}
	for _, s := range report.References {
		if s.State == StateDrift || s.State == StateWatch {
			list = append(list, note(NoteReferenceDrifts, fmt.Sprintf("Reference plant %s lies apart from the other references in %d. It no longer ties that season's sessions; choose another.", s.Plant, s.Season), "plant", string(s.Plant), "season", seasonKey(s.Season)))
		}
	}
	free := 0
	for _, s := range report.Sessions {
		free += one(!s.Tied)
	}
	if references > 0 && free > 0 {
		n := strconv.Itoa(free)
		text := counted(free, "session fewer than two reference plants were read: what light and camera did in it", "sessions fewer than two reference plants were read: what light and camera did in them")
		list = append(list, note(NoteSessionsUntied, "In "+n+" "+text+" rests on the plants themselves.", "sessions", n))
	}
	for _, s := range report.Stand {
		if s.Moved {
			season, since, units := seasonKey(s.Season), seasonKey(s.Since), fmt.Sprintf("%.1f", s.Total.Mean)
			list = append(list, note(NoteStandMoved, "Beside the reference plants the whole stand lies "+units+" units from "+since+" in "+season+". That is no plant's own drift.", "season", season, "since", since, "units", units))
		}
	}
	return list
}

// cameraNotes say in which seasons none of the cameras was there before.
func (l *layout) cameraNotes() []Note {
	by := map[crop.Season]map[string]bool{}
	for _, r := range l.ordered {
		if by[r.Season] == nil {
			by[r.Season] = map[string]bool{}
		}
		by[r.Season][r.Camera] = true
	}
	var seasons []crop.Season
	for season := range by {
		seasons = append(seasons, season)
	}
	slices.Sort(seasons)
	var list []Note
	known := map[string]bool{}
	for i, season := range seasons {
		shared := false
		for camera := range by[season] {
			shared = shared || known[camera]
			known[camera] = true
		}
		if i > 0 && !shared {
			n := seasonKey(season)
			list = append(list, note(NoteCameraNew, "Every camera of "+n+" is new: plants are compared across cameras, which see single plants otherwise, and less is seen.", "season", n))
		}
	}
	return list
}

func varianceNotes(report *Report, df float64) []Note {
	compared := slices.ContainsFunc(report.PlantSeasons, func(s PlantSeason) bool { return s.Shift != nil })
	switch {
	case !compared:
		return []Note{note(NoteOneSeason, "No plant was read well in two seasons yet: this is where each begins.")}
	case df < fewDF:
		return []Note{note(NoteVariancesAssumed, "How much plants change from year to year is still more assumed than known; what is said of drift is careful for it.")}
	}
	return nil
}

func joined(list, item string) string {
	if list == "" {
		return item
	}
	return list + ", " + item
}

// counted is the form of words that a number asks for.
func counted(n int, single, many string) string {
	if n == 1 {
		return single
	}
	return many
}
