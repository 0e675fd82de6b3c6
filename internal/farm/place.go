package farm

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"corymb/internal/changelog"
	"corymb/internal/crop"
)

// Place says where a plant stands since a day. Moving it takes the element of its former place out of
// the set FieldPlaces and puts another in, so that two moves that did not see each other leave two.
type Place struct {
	Since crop.Date
	// Move names the move, so that one which takes a plant back on the same day is no element that
	// somebody else has already taken out.
	Move   string
	Bed    crop.BedID
	Line   int
	Number int
}

// FormatPlace writes a place as an element of FieldPlaces: "since/move/line/number/bed".
func FormatPlace(p Place) string {
	return fmt.Sprintf("%s/%s/%d/%d/%s", p.Since, p.Move, p.Line, p.Number, p.Bed)
}

// ParsePlace reads an element of FieldPlaces.
func ParsePlace(text string) (Place, error) {
	parts := strings.SplitN(text, "/", 5) // a bed's id may hold a slash
	if len(parts) != 5 || !crop.Date(parts[0]).Valid() || parts[1] == "" || parts[4] == "" {
		return Place{}, fmt.Errorf("%.60q is not a place like 2026-03-14/4f0c/2/7/bed", text)
	}
	line, errLine := strconv.Atoi(parts[2])
	number, errNumber := strconv.Atoi(parts[3])
	place := Place{Since: crop.Date(parts[0]), Move: parts[1], Bed: crop.BedID(parts[4]), Line: line, Number: number}
	if errLine != nil || errNumber != nil || line < 0 || number < 0 || FormatPlace(place) != text {
		return Place{}, fmt.Errorf("%.60q is not a place like 2026-03-14/4f0c/2/7/bed", text)
	}
	return place, nil
}

// standingPlace is where a plant was moved to, the latest of them where moves missed each other; ok is
// false where it stands as it was planted.
func standingPlace(e *changelog.Entity) (place Place, ok bool) {
	for _, text := range e.Members(FieldPlaces) {
		p, err := ParsePlace(text)
		if err != nil { // of a later version
			continue
		}
		if !ok || p.Since >= place.Since {
			place, ok = p, true
		}
	}
	return place, ok
}

// stays reads the set FieldStood, the first stay first.
func stays(e *changelog.Entity) []crop.Stay {
	var found []crop.Stay
	for _, text := range e.Members(FieldStood) {
		parts := strings.SplitN(text, "/", 6) // from, until, move, line, number, bed
		if len(parts) == 6 && crop.Date(parts[1]).Valid() {
			found = append(found, crop.Stay{Until: crop.Date(parts[1]), Bed: crop.BedID(parts[5])})
		}
	}
	slices.SortStableFunc(found, func(a, b crop.Stay) int { return cmp.Compare(a.Until, b.Until) })
	return found
}
