package drift

import (
	"cmp"
	"slices"

	"corymb/internal/colour"
)

// How many photos are worth taking: the chance of seeing a drift, were every plant of the stand photographed
// alike in every season, worked out from the farm's own variances, or from the priors while there are none.

var (
	plannedPhotos = []struct{ photos, days int }{{1, 1}, {2, 1}, {2, 2}, {3, 1}, {3, 2}, {3, 3}, {4, 1}, {4, 2}, {4, 3}, {6, 1}, {6, 2}, {6, 3}}
	plannedSizes  = []float64{2, 3, 4, 6, 8}
)

// typical is what a plan takes for like the farm.
type typical struct {
	colours  []colour.Lab
	variance vector  // of one photo, as stated
	others   float64 // plants that one is held against
	cameras  float64 // how much of the variance of cameras a shift bears: 0 of the same one throughout, 2 of two
	df       float64
	wider    float64 // how many times as large variances are taken, for not being known better
}

// plannedColours are asked where no plant was read yet: pale, middling and strong ones, made up by us.
var plannedColours = []colour.Lab{{L: 88, A: 0, B: 8}, {L: 70, A: 22, B: 8}, {L: 50, A: 42, B: 18}}

const (
	plannedOthers = 30
	plannedSE     = 0.8
	plannedDF     = 10 // as of a farm that was read for two seasons
)

func priorSpreads() *spreads {
	theta := make([]float64, parameterCount)
	for i, p := range priors() {
		theta[i] = p.mean
	}
	return spreadsAt(theta)
}

// guessed is what is planned for where nothing was read.
func guessed() *typical {
	const variance = plannedSE * plannedSE
	return &typical{colours: plannedColours, variance: vector{variance, variance, variance}, others: plannedOthers, df: plannedDF, wider: 1}
}

// typical takes the middle of what was read, and what is guessed of what was not.
func (l *layout) typical(u *uncertain, colours map[*block][]measured) *typical {
	t := guessed()
	var stated [3][]float64
	var plants []colour.Lab
	var cameras []float64
	for _, b := range l.blocks {
		if b.baseline >= 0 {
			plants = append(plants, colours[b][b.baseline].at.lab())
		}
		cameras = append(cameras, b.camerasApart()...)
		for _, o := range b.readings {
			for axis := range 3 {
				if o.firm {
					stated[axis] = append(stated[axis], o.variance[axis])
				}
			}
		}
	}
	if len(plants) == 0 {
		return t
	}
	t.colours = nil
	for axis := range 3 {
		t.variance[axis] = median(stated[axis])
	}
	slices.SortFunc(plants, func(a, b colour.Lab) int { return cmp.Compare(a.Chroma(), b.Chroma()) })
	for _, p := range []float64{0.1, 0.3, 0.5, 0.7, 0.9} {
		t.colours = append(t.colours, plants[int(p*float64(len(plants)))])
	}
	t.others = float64(max(1, len(plants)-1))
	for _, apart := range cameras {
		t.cameras += apart / float64(len(cameras))
	}
	t.df, t.wider = u.df, u.wider
	return t
}

// camerasApart is, by season after the baseline, the sum of squares of what part of the firm readings each camera
// took less its part in the baseline.
func (b *block) camerasApart() []float64 {
	if b.baseline < 0 {
		return nil
	}
	parts := make([]map[int]float64, len(b.seasons))
	n := make([]float64, len(b.seasons))
	for _, o := range b.readings {
		if !o.firm {
			continue
		}
		if parts[o.season] == nil {
			parts[o.season] = map[int]float64{}
		}
		parts[o.season][o.condition]++
		n[o.season]++
	}
	var list []float64
	for i, of := range parts {
		if i == b.baseline || n[i] == 0 {
			continue
		}
		sum := 0.0
		for c := range b.conditions {
			d := of[c]/n[i] - parts[b.baseline][c]/n[b.baseline]
			sum += d * d
		}
		list = append(list, sum)
	}
	return list
}

func median(list []float64) float64 {
	list = slices.Clone(list)
	slices.Sort(list)
	return list[len(list)/2]
}

// planner is what plans are made from.
type planner struct {
	*spreads
	*typical
}

// guessing plans from the priors, where nothing was read.
func guessing() *planner { return &planner{priorSpreads(), guessed()} }

// plan is the chance of seeing a drift of a size, a mean over colours of the farm and directions of the drift.
func (p *planner) plan(photos, days int, size float64) Power {
	power := Power{Photos: photos, Days: days, Size: size}
	for _, c := range p.colours {
		noticed, confirmed := p.prospect(c, photos, days).chances(size)
		power.Noticed += noticed / float64(len(p.colours))
		power.Confirmed += confirmed / float64(len(p.colours))
	}
	return power
}

// table is of the plans that are shown.
func (p *planner) table() []Power {
	list := []Power{}
	for _, taken := range plannedPhotos {
		for _, size := range plannedSizes {
			list = append(list, p.plan(taken.photos, taken.days, size))
		}
	}
	return list
}

// prospect is what so many photos on so many days of every season would show of a plant.
func (p *planner) prospect(c colour.Lab, photos, days int) prospect {
	s, t := p.spreads, p.typical
	f := frameAt(labVector(c))
	photo := f.spread(s, atHead).plus(diagonal(t.variance))
	mean := func(photos, days float64) square {
		return f.spread(s, atWobble).plus(f.spread(s, atPlantDay).scale(1 / days)).plus(photo.scale(1 / photos))
	}
	// What the plant is held against is as uncertain as the mean of the others.
	beside := (1 + 1/t.others) * t.wider
	shown := prospect{from: c, axes: f.axes(), threshold: visibleFrom}
	season := mean(float64(photos), float64(days))
	cameras := f.spread(s, atApparatus).scale(t.cameras)
	shown.cov = season.scale(2).plus(cameras).scale(beside)
	for range days {
		shown.days = append(shown.days, season.plus(mean(float64(photos)/float64(days), 1)).plus(cameras).scale(beside))
	}
	shown.critical = criticalDistance(t.df)
	return shown.ready()
}
