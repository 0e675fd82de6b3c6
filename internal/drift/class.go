package drift

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"corymb/internal/colour"
	"corymb/internal/crop"
)

// Class is which colour class a plant is of: by its measured colour where that tells it, else by eye.
type Class struct {
	Measured bool
	Season   crop.Season   // in which it was measured or seen; 0 where nobody told
	Colour   crop.ColourID // the likeliest; empty where it was measured and lies in none
	Sure     bool          // its uncertainty leaves no other; an eye is taken at its word
	Likely   []Likely      // what it may be, the likeliest first
}

// Likely is one answer that the uncertainty leaves open.
type Likely struct {
	Colour crop.ColourID // empty is none of the classes
	Share  float64       // of all that the plant's colour may be
}

// Classes and the rule by which a plant is of one of them are those of the app (webapp/src/crop/colour_class.ts), where it
// is said why they are as they are; testdata/vectors/classes.json holds both.
const usualLimit = 5 // CIEDE2000

// SureShare is from which share on a class is held to be told.
const SureShare = 0.8

// Told is what is told of one plant's colour.
type Told struct {
	Colour   crop.ColourID                 // by whoever saw it in bloom, empty where nobody did
	Seen     map[crop.Season]crop.ColourID // by eye, season by season
	Measured map[crop.Season]PlantColour
}

// ClassIn is a plant's class as of a season: of what was measured or seen in it or else last before it; false where nobody
// told. In one season what was measured stands above the eye, but where it lies in no class and the eye's has no measured
// colour that could be denied.
func ClassIn(classes map[crop.ColourID]crop.Colour, told Told, season crop.Season) (Class, bool) {
	seasons := slices.Concat(slices.Collect(maps.Keys(told.Measured)), slices.Collect(maps.Keys(told.Seen)))
	slices.Sort(seasons)
	for _, s := range slices.Backward(slices.Compact(seasons)) {
		if s > season {
			continue
		}
		if class, known := told.classOf(classes, s); known {
			return class, true
		}
	}
	return byEye(told.Colour, 0), told.Colour != ""
}

func (t Told) classOf(classes map[crop.ColourID]crop.Colour, season crop.Season) (Class, bool) {
	eye, seen := t.Seen[season]
	if measured, known := t.Measured[season]; known {
		name := t.Colour
		if seen {
			name = eye
		}
		deniable := name == "" || classes[name].Reference != nil
		if class, told := measuredClass(classes, measured); told && (class.Colour != "" || deniable) {
			class.Season = season
			return class, true
		}
	}
	return byEye(eye, season), seen
}

func byEye(colour crop.ColourID, season crop.Season) Class {
	return Class{Season: season, Colour: colour, Sure: true, Likely: []Likely{{colour, 1}}}
}

// within is a class with a measured colour, and how far from it a plant may lie.
type within struct {
	id    crop.ColourID
	lab   colour.Lab
	limit float64
}

// measuredClass is the nearest class within its limit, asked of all that the colour may be; false where no class has a
// measured colour.
func measuredClass(classes map[crop.ColourID]crop.Colour, measured PlantColour) (Class, bool) {
	var all []within
	for _, id := range slices.Sorted(maps.Keys(classes)) {
		if c := classes[id]; c.Reference != nil {
			limit := c.Limit
			if limit <= 0 {
				limit = usualLimit
			}
			all = append(all, within{id, *c.Reference, limit})
		}
	}
	if len(all) == 0 {
		return Class{}, false
	}
	found := map[crop.ColourID]int{}
	points := measured.mayBe(all)
	for _, point := range points {
		found[nearest(all, point)]++
	}
	class := Class{Measured: true}
	for _, id := range slices.Sorted(maps.Keys(found)) {
		class.Likely = append(class.Likely, Likely{id, float64(found[id]) / float64(len(points))})
	}
	slices.SortStableFunc(class.Likely, func(a, b Likely) int { return cmp.Compare(b.Share, a.Share) })
	class.Colour, class.Sure = class.Likely[0].Colour, class.Likely[0].Share >= SureShare
	return class, true
}

func nearest(classes []within, lab colour.Lab) (id crop.ColourID) {
	least := math.Inf(1)
	for _, c := range classes {
		if away := colour.Between(c.lab, lab).Total; away <= c.limit && away < least {
			id, least = c.id, away
		}
	}
	return id
}

const (
	farthestPoint = 3.8 // standard deviations beyond which none of the points lies
	steepest      = 1.5 // how much larger a step may be in CIEDE2000 than in CIELAB
)

// mayBe are the same points of a normal each time, spread evenly; the middle alone where no class is near.
func (c PlantColour) mayBe(classes []within) []colour.Lab {
	lab := colour.Lab{L: c.Lab.L, A: c.Lab.A, B: c.Lab.B}
	spread := farthestPoint * steepest * math.Sqrt(c.Cov.LL+c.Cov.AA+c.Cov.BB)
	if !slices.ContainsFunc(classes, func(of within) bool { return colour.Between(of.lab, lab).Total <= of.limit+spread }) {
		return []colour.Lab{lab}
	}
	root := lowerRoot(c.Cov)
	points := make([]colour.Lab, 0, len(normals))
	for _, n := range normals {
		points = append(points, colour.Lab{
			L: lab.L + root[0][0]*n[0], A: lab.A + root[1][0]*n[0] + root[1][1]*n[1], B: lab.B + root[2][0]*n[0] + root[2][1]*n[1] + root[2][2]*n[2],
		})
	}
	return points
}

// lowerRoot is the lower triangle whose product with itself turned round is the covariance; what cannot be by rounding is 0.
func lowerRoot(c Cov) (root square) {
	positive := func(v float64) float64 { return math.Sqrt(max(0, v)) }
	per := func(v, by float64) float64 {
		if by == 0 {
			return 0
		}
		return v / by
	}
	root[0][0] = positive(c.LL)
	root[1][0], root[2][0] = per(c.LA, root[0][0]), per(c.LB, root[0][0])
	root[1][1] = positive(c.AA - root[1][0]*root[1][0])
	root[2][1] = per(c.AB-root[1][0]*root[2][0], root[1][1])
	root[2][2] = positive(c.BB - root[2][0]*root[2][0] - root[2][1]*root[2][1])
	return root
}

// normals are 128 points and those opposite to them, whose directions and lengths run through sequences that leave no gaps:
// additive recurrences by the powers of the root of x^4 = x + 1 (Roberts 2018), each with period 1.
var normals = func() (points []vector) {
	for i := range 128 {
		part := func(by float64) float64 { return math.Mod(0.5+float64(i+1)*by, 1) }
		up, round, length := 2*part(0.8191725133961645)-1, 2*math.Pi*part(0.6710436067037893), chiOfThree(part(0.5497004779019703))
		flat := length * math.Sqrt(1-up*up)
		p := vector{length * up, flat * math.Cos(round), flat * math.Sin(round)}
		points = append(points, p, p.times(-1))
	}
	return points
}()

// chiOfThree is the length of a normal in three dimensions below which a share of them lies (Wilson and Hilferty 1931).
func chiOfThree(share float64) float64 {
	const c = 2.0 / 27
	return math.Sqrt(3 * math.Pow(max(0, 1-c+normalBelow(share)*math.Sqrt(c)), 3))
}

// normalBelow is the normal below which a share lies, within 0.0005 (Abramowitz and Stegun, 26.2.23): as coarse as the
// app's, so that both have the same points.
func normalBelow(share float64) float64 {
	if share > 0.5 {
		return -normalBelow(1 - share)
	}
	t := math.Sqrt(-2 * math.Log(share))
	return (2.515517+0.802853*t+0.010328*t*t)/(1+1.432788*t+0.189269*t*t+0.001308*t*t*t) - t
}
