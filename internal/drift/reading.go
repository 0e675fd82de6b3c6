package drift

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"corymb/internal/colour"
	"corymb/internal/crop"
)

// Reading is the colour of one photo of one plant's heads, as it was accepted.
type Reading struct {
	Plant  crop.PlantID
	Season crop.Season
	Date   crop.Date
	Camera string
	Stage  crop.Stage
	Light  crop.Light
	Lab    colour.Lab // white D50
	SE     [3]float64 // standard uncertainties of L*, a* and b*, above 0
	Card   string     // the card's print batch; empty where there was no card
}

// Firm tells whether the reading can be evidence of drift: of full bloom, with a card, and not in sun.
// Others are fitted with a variance of their own, and say nothing of a difference between seasons.
func (r Reading) Firm() bool {
	return r.Stage == crop.StageFull && r.Light != crop.LightSun && r.Card != ""
}

// daylight tells lights apart in which petals may be seen otherwise by the same camera.
func (r Reading) daylight() bool { return r.Light != crop.LightIndoors }

// Stand is all readings of plants that are compared with each other, and which of them are reference
// plants: those photographed in every session, taken not to drift together with the rest.
type Stand struct {
	Readings   []Reading
	References []crop.PlantID
}

// check refuses what no photo can have given.
func (s Stand) check() error {
	for i, r := range s.Readings {
		finite := true
		for k, v := range labVector(r.Lab) {
			finite = finite && math.Abs(v) < 1000 && r.SE[k] > 0 && r.SE[k] < 1000
		}
		if !finite {
			return fmt.Errorf("judge drift: reading %d, of plant %q on %s, is %+v with standard uncertainties %v: give finite CIELAB and uncertainties above 0", i, r.Plant, r.Date, r.Lab, r.SE)
		}
		if r.Plant == "" || !r.Date.Valid() {
			return fmt.Errorf("judge drift: reading %d is of plant %q on %q: give a plant and a day", i, r.Plant, r.Date)
		}
	}
	return nil
}

// ordered is the readings by plant, day and all else, so that the order in which they come changes nothing.
func (s Stand) ordered() []Reading {
	list := slices.Clone(s.Readings)
	slices.SortStableFunc(list, func(a, b Reading) int {
		return cmp.Or(cmp.Compare(a.Plant, b.Plant), cmp.Compare(a.Season, b.Season), cmp.Compare(a.Date, b.Date),
			cmp.Compare(a.Camera, b.Camera), cmp.Compare(a.Card, b.Card),
			cmp.Compare(a.Stage, b.Stage), cmp.Compare(a.Light, b.Light),
			cmp.Compare(a.Lab.L, b.Lab.L), cmp.Compare(a.Lab.A, b.Lab.A), cmp.Compare(a.Lab.B, b.Lab.B), slices.Compare(a.SE[:], b.SE[:]))
	})
	return list
}

func labVector(c colour.Lab) vector { return vector{c.L, c.A, c.B} }

func (v vector) lab() colour.Lab { return colour.Lab{L: v[0], A: v[1], B: v[2]} }
