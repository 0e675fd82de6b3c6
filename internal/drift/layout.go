package drift

import (
	"math"
	"slices"

	"corymb/internal/crop"
)

// observation is a reading as the model takes it; season, day and condition are places in the plant's lists.
type observation struct {
	y                      vector // less the plant's middle
	variance               vector // as stated with the photo
	season, day, condition int
	firm                   bool
	touches                []touch
	session                int // its session's first column, -1 where there was no card
}

// touch is an effect in the plant's own columns.
type touch struct {
	at    int
	along []int
}

// block is one plant.
type block struct {
	plant      crop.PlantID
	reference  bool
	middle     vector
	frame      frame
	directions [3]ways // what a unit along each direction adds to L*, a*, b*
	photos     []Reading
	readings   []observation // of the photos, one of each
	seasons    []crop.Season
	days       []plantDay
	conditions int   // cameras, in daylight and indoors
	columns    []int // of the stand that the plant's readings touch
	stand      []int // by season, the first of its own columns of what the stand did; -1 of a reference plant
	baseline   int   // place of the season that all others are held against, -1 where there is none
	// free marks seasons that lie too far off to tell of wobble: each has a shift of its own that nothing holds.
	free []bool
}

// plantDay is one day on which a plant was read.
type plantDay struct {
	season int
	date   crop.Date
}

// frame turns lightness, chroma and hue of a plant into L*, a*, b*.
type frame struct {
	cos, sin float64
	// clear is how much the plant's hue can be told, 0 for grey and near 1 for colours: what lies between is
	// given, for the rest, variances that are the same in every direction of a* and b*.
	clear float64
	// vivid is how strong the colour is: -1 for grey, 0 for a chroma of 20 as of pinks, 1 for one of 40 as of reds.
	vivid float64
}

// paleChroma is the chroma at which hue is taken to be half clear.
const paleChroma = 5

// middlingChroma is that of a plant whose standard deviations are those that are estimated and told.
const middlingChroma = 20

func frameAt(c vector) frame {
	chroma := math.Hypot(c[1], c[2])
	f := frame{cos: 1, vivid: chroma/middlingChroma - 1}
	if chroma > 0 {
		f.cos, f.sin = c[1]/chroma, c[2]/chroma
		f.clear = chroma * chroma / (chroma*chroma + paleChroma*paleChroma)
	}
	return f
}

func (f frame) axes() square {
	return square{{1, 0, 0}, {0, f.cos, -f.sin}, {0, f.sin, f.cos}}
}

// turned is a covariance along lightness, chroma and hue as one of L*, a*, b*.
func (f frame) turned(s square) square {
	axes := f.axes()
	round := (s[1][1] + s[2][2]) / 2
	return axes.times(s).times(axes.transposed()).scale(f.clear).plus(diagonal(vector{s[0][0], round, round}).scale(1 - f.clear))
}

// spread is a component's covariance as a plant of this frame has it, in L*, a*, b*.
func (f frame) spread(s *spreads, c int) square { return f.turned(s.grown(c, s.of[c], f.vivid)) }

// layout is a stand's readings by plant, and all that they share.
type layout struct {
	effects
	blocks  []*block
	ordered []Reading
}

func layOut(stand Stand) *layout {
	l := &layout{ordered: stand.ordered()}
	references := map[crop.PlantID]bool{}
	for _, id := range stand.References {
		references[id] = true
	}
	for first := 0; first < len(l.ordered); {
		end := first + 1
		for end < len(l.ordered) && l.ordered[end].Plant == l.ordered[first].Plant {
			end++
		}
		l.blocks = append(l.blocks, l.block(l.ordered[first:end], references[l.ordered[first].Plant]))
		first = end
	}
	return l
}

func (l *layout) block(readings []Reading, reference bool) *block {
	b := &block{plant: readings[0].Plant, reference: reference, photos: readings, baseline: -1}
	b.middle = middleOf(readings)
	b.frame = frameAt(b.middle)
	axes := b.frame.axes()
	for i := range 3 {
		b.directions[i] = ways{identity[i][0], identity[i][1], identity[i][2], axes[i][1], axes[i][2], axes[i][1] * (1 + b.frame.vivid)}
	}
	local := map[int]int{}
	conditions := map[string]int{}
	for _, r := range readings {
		o := observation{y: labVector(r.Lab).minus(b.middle), firm: r.Firm(), session: -1}
		for k, se := range r.SE {
			o.variance[k] = se * se
		}
		if len(b.seasons) == 0 || b.seasons[len(b.seasons)-1] != r.Season {
			b.seasons, b.stand = append(b.seasons, r.Season), append(b.stand, -1)
		}
		o.season = len(b.seasons) - 1
		if len(b.days) == 0 || b.days[len(b.days)-1] != (plantDay{o.season, r.Date}) {
			b.days = append(b.days, plantDay{o.season, r.Date})
		}
		o.day = len(b.days) - 1
		condition := r.Camera
		if !r.daylight() {
			condition += "|indoors"
		}
		if _, known := conditions[condition]; !known {
			conditions[condition] = len(conditions)
		}
		o.condition = conditions[condition]
		b.conditions = len(conditions)
		if o.firm && b.baseline < 0 {
			b.baseline = o.season
		}
		for _, i := range l.causes(r, reference) {
			e := l.list[i]
			if _, known := local[i]; !known {
				local[i] = len(b.columns)
				for k := range e.along {
					b.columns = append(b.columns, e.at+k)
				}
			}
			o.touches = append(o.touches, touch{local[i], e.along})
			switch {
			case e.kind == ofSession && e.sd == nil:
				o.session = e.at
			case e.kind == ofSeason:
				b.stand[o.season] = local[i]
			}
		}
		b.readings = append(b.readings, o)
	}
	b.free = make([]bool, len(b.seasons))
	return b
}

// middleOf is the mean of the firm readings, or of all where none is firm. It sets the plant's directions and
// where numbers are counted from, nothing else.
func middleOf(readings []Reading) vector {
	firm := slices.ContainsFunc(readings, Reading.Firm)
	var sum vector
	n := 0.0
	for _, r := range readings {
		if r.Firm() == firm {
			sum, n = sum.plus(labVector(r.Lab)), n+1
		}
	}
	return sum.times(1 / n)
}
