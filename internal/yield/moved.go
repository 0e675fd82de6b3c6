package yield

import (
	"maps"
	"strconv"

	"corymb/internal/crop"
)

// A plant that was lifted and set elsewhere begins again, in ground that its age says nothing of. So it
// leaves its planting on the day of its first move: what was cut of it up to that day counts, what came after
// is told in a note, and it was neither lost nor does it still stand where it was planted.

// lift takes moved plants out of the farm that is read, as of their first move.
func (r *records) lift() {
	r.lifted = map[crop.PlantID]bool{}
	for id, p := range r.farm.Plants {
		if len(p.Stood) == 0 {
			continue
		}
		day := p.Stood[0].Until
		if p.Removed != "" && p.Removed <= day {
			continue
		}
		if len(r.lifted) == 0 {
			r.farm.Plants = maps.Clone(r.farm.Plants)
		}
		p.Removed = day
		r.farm.Plants[id] = p
		r.lifted[id] = true
	}
}

// cutSinceLifted tells whether a visit is to a plant where it was moved to.
func (r *records) cutSinceLifted(v crop.Visit) bool {
	return v.Plant != "" && r.lifted[v.Plant] && v.Date > r.farm.Plants[v.Plant].Removed
}

func liftedNotes(r *records) []Note {
	if r.moved.visits == 0 {
		return nil
	}
	visits, stems := strconv.Itoa(r.moved.visits), strconv.Itoa(r.moved.stems)
	return []Note{note(NoteMoved, "Cut from plants after they were moved: "+stems+" stems on "+visits+
		" visits. A plant that was lifted begins again, so they are left out.", "visits", visits, "stems", stems)}
}
