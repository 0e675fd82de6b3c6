package drift

import (
	"math"
	"slices"
)

// ComponentName names one way in which readings differ.
type ComponentName string

// The components of variance, in CIELAB units. The first four are turned with each plant: along lightness,
// chroma and hue at its own colour. Sessions are along L*, a* and b*.
const (
	// Wobble is what a plant's colour does from season to season without drifting.
	Wobble ComponentName = "wobble"
	// PlantDay is what all readings of a plant on one day share: its heads' age, wetness, how it is lit.
	PlantDay ComponentName = "plant_day"
	// Apparatus is how one camera, in daylight or indoors, sees one plant otherwise than it sees all.
	Apparatus ComponentName = "apparatus"
	// Head is what is left between readings of one plant, day and camera, beyond their stated uncertainty.
	Head ComponentName = "head"
	// Unfit is what readings in sun, or of opening and fading heads, or without a card, vary beyond.
	Unfit ComponentName = "unfit"
	// SessionShift is what a session's light and camera do to all of its readings.
	SessionShift ComponentName = "session"
)

// shape says how many numbers a component's covariance has.
type shape int

const (
	even    shape = iota // one standard deviation in every direction
	apart                // one for each axis
	related              // one for each axis, and how each goes with those before it
)

// component is one covariance D M M' D: D holds standard deviations exp(theta), M is unit lower
// triangular and holds how axes go together.
type component struct {
	name  ComponentName
	shape shape
	first int // of its parameters
	// median and spread are the prior of each standard deviation, a lognormal.
	median vector
	spread float64
}

// tieSD is the prior standard deviation of each number below the diagonal of M, about 0.
const tieSD = 0.4

// The priors are weakly informative and of no source: each says that a standard deviation lies, with 90 %,
// between a third and three times its median, which is what phones, cards and yarrow heads might plausibly
// do. A farm of a dozen plants read in two seasons already speaks louder of what matters, which is the sum of
// wobble, day and head.
var components = laidOut([]component{
	{name: Wobble, shape: related, median: vector{0.8, 1, 0.7}, spread: 0.7},
	{name: PlantDay, shape: related, median: vector{0.8, 0.8, 0.6}, spread: 0.7},
	{name: Apparatus, shape: even, median: vector{0.7, 0.7, 0.7}, spread: 0.7},
	{name: Head, shape: apart, median: vector{0.7, 0.7, 0.6}, spread: 0.7},
	{name: Unfit, shape: even, median: vector{2, 2, 2}, spread: 0.7},
	{name: SessionShift, shape: apart, median: vector{1, 1, 1}, spread: 0.7},
})

// The places of the components in the list.
const (
	atWobble = iota
	atPlantDay
	atApparatus
	atHead
	atUnfit
	atSession
	componentCount
)

func laidOut(list []component) []component {
	first := 0
	for i := range list {
		list[i].first = first
		first += list[i].parameters()
	}
	return list
}

func (c component) parameters() int { return []int{1, 3, 6}[c.shape] }

// ofPlants are the components by which strongly coloured plants may be more restless than pale ones, or less.
var ofPlants = []int{atWobble, atPlantDay, atHead}

// growingAt is where the parameters of that stand: for lightness, chroma and hue, by how much the logarithm of those
// standard deviations grows with each unit of a frame's vivid.
var growingAt = components[len(components)-1].first + components[len(components)-1].parameters()

// growingSD is the prior standard deviation of each, about 0. Of no source: with it strong reds may vary by half as much
// again as pinks, or whites.
const growingSD = 0.3

// parameterCount is how many numbers describe all covariances.
var parameterCount = growingAt + 3

// normal is a prior of one parameter; precision 0 says nothing.
type normal struct{ mean, precision float64 }

// priors are of all parameters: logarithms of standard deviations, ties, and how the former grow with chroma.
func priors() []normal {
	list := make([]normal, parameterCount)
	for _, c := range components {
		for i := range c.parameters() {
			p := normal{precision: 1 / (tieSD * tieSD)}
			if i < 3 {
				p = normal{math.Log(c.median[i]), 1 / (c.spread * c.spread)}
			}
			list[c.first+i] = p
		}
	}
	for k := range 3 {
		list[growingAt+k] = normal{0, 1 / (growingSD * growingSD)}
	}
	return list
}

// isLogSD tells logarithms of standard deviations from ties.
func isLogSD(parameter int) bool {
	for _, c := range components {
		if parameter >= c.first && parameter < c.first+c.parameters() {
			return parameter-c.first < 3
		}
	}
	return false
}

// tiedAxes are the places below the diagonal of M in the order of their parameters.
var tiedAxes = [3][2]int{{1, 0}, {2, 0}, {2, 1}}

// root is D M.
func (c component) root(theta []float64) square {
	theta = theta[c.first : c.first+c.parameters()]
	if c.shape == even {
		return identity.scale(math.Exp(theta[0]))
	}
	m := identity
	if c.shape == related {
		for k, axes := range tiedAxes {
			m[axes[0]][axes[1]] = theta[3+k]
		}
	}
	return diagonal(vector{math.Exp(theta[0]), math.Exp(theta[1]), math.Exp(theta[2])}).times(m)
}

// covariance of the component at a point.
func (c component) covariance(theta []float64) square {
	root := c.root(theta)
	return root.times(root.transposed())
}

// slopes are the covariance's derivatives by each of the component's parameters.
func (c component) slopes(theta []float64) []square {
	s := c.covariance(theta)
	if c.shape == even {
		return []square{s.scale(2)}
	}
	slopes := make([]square, 0, c.parameters())
	for k := range 3 {
		var d square // e_k e_k' S + S e_k e_k'
		for j := range 3 {
			d[k][j] += s[k][j]
			d[j][k] += s[j][k]
		}
		slopes = append(slopes, d)
	}
	if c.shape == related {
		root := c.root(theta)
		for _, axes := range tiedAxes {
			// D E M' D and its transpose, where E has a 1 at the axes.
			var d square
			for j := range 3 {
				d[axes[0]][j] = math.Exp(theta[c.first+axes[0]]) * root[j][axes[1]]
			}
			slopes = append(slopes, d.plus(d.transposed()))
		}
	}
	return slopes
}

// spreads are all covariances at one point of the parameters.
type spreads struct {
	theta []float64
	of    [componentCount]square
	// slopes are by parameter, of the component that it belongs to.
	slopes []square
	owner  []int
	// growing is how restlessness along lightness, chroma and hue grows with chroma.
	growing vector
}

func spreadsAt(theta []float64) *spreads {
	s := &spreads{theta: theta, growing: vector(theta[growingAt:])}
	for i, c := range components {
		s.of[i] = c.covariance(theta)
		for _, slope := range c.slopes(theta) {
			s.slopes = append(s.slopes, slope)
			s.owner = append(s.owner, i)
		}
	}
	return s
}

// grown is a covariance, or a slope of one, as plants so vivid have it.
func (s *spreads) grown(c int, of square, vivid float64) square {
	if !slices.Contains(ofPlants, c) {
		return of
	}
	for i := range of {
		for j := range of {
			of[i][j] *= math.Exp((s.growing[i] + s.growing[j]) * vivid)
		}
	}
	return of
}

// growingSlope is how a plant's covariance changes with one of the numbers that say how it grows with chroma.
func (s *spreads) growingSlope(c, axis int, vivid float64) square {
	of := s.grown(c, s.of[c], vivid)
	var slope square
	for j := range 3 {
		slope[axis][j] += vivid * of[axis][j]
		slope[j][axis] += vivid * of[j][axis]
	}
	return slope
}
