// Package yield says what a plant gives in its first, second, third season in the ground: how many
// stems, of which grades and lengths, how sure that is, and on how many plants it rests.
package yield

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// Level is the probability that every interval of a Report is meant to hold.
const Level = 0.9

// tail is what an interval leaves out at either end.
const tail = (1 - Level) / 2

// drawSeed is fixed, so that a page drawn twice shows the same digits.
const drawSeed = 1

// Prior says what a fit knows before it has seen the farm.
type Prior string

const (
	// PriorPractice is the full model, about what is common practice.
	PriorPractice Prior = "practice"
	// PriorFlat is plain maximum likelihood of a smaller model, for comparison with other programs.
	PriorFlat Prior = "flat"
)

// Options say which part of a farm is asked about, and when.
type Options struct {
	// Species keeps to the stocks of one species; empty is all of them.
	Species string
	// AsOf is the day on which the question is put: a window that still runs then is open. Empty, as
	// for files, closes every window.
	AsOf crop.Date
	// AssumedCounted says that nobody declared which plants were counted and that all were taken to
	// be, so that the report can say so.
	AssumedCounted bool
	// Prior is PriorPractice where empty.
	Prior Prior
}

// Fit reads the farm's records and fits stems by age, and grades and lengths by age and flush. The same
// farm and options give the same report to the last bit. An error means that the numbers could not be
// found, never that there are few of them.
func Fit(farm crop.Farm, options Options) (Report, error) {
	d := layOut(farm, options)
	report := Report{Level: Level, Prior: PriorPractice, Ages: []Age{}}
	for _, age := range d.ages() {
		report.Ages = append(report.Ages, d.seen(age))
	}
	fit := fitPractice
	if options.Prior == PriorFlat {
		report.Prior = PriorFlat
		fit = fitFlat
	}
	if err := fit(d, &report); err != nil {
		return Report{}, err
	}
	report.Notes = append(notes(d, report), report.Notes...)
	return report, nil
}

// data is a farm's records as the models take them.
type data struct {
	*records
	counted  []PlantSeason
	living   []stand
	totals   []bedTotal
	cut      map[int]int // stems by age, each once
	graded   []graded
	measured []measured
}

func layOut(farm crop.Farm, options Options) *data {
	d := &data{records: read(farm, options)}
	pickings := d.pickings()
	d.counted = d.weighShares(d.plantSeasons(), cutByDay(d.records, pickings))
	d.living = d.standing(d.counted)
	d.totals = d.bedTotals(d.living, d.counted)
	d.cut = totalsByAge(pickings)
	told := d.told(pickings)
	slices.SortFunc(told, compareTold)
	d.graded, d.measured = gradedBy(told), measuredBy(told)
	return d
}

// ages lists every age that anything is known of, from the youngest.
func (d *data) ages() []int {
	ages := map[int]bool{}
	for _, s := range d.counted {
		ages[s.age] = true
	}
	for age := range d.cut {
		ages[age] = true
	}
	return slices.Sorted(maps.Keys(ages))
}

// seen is what was recorded at an age, before any model.
func (d *data) seen(age int) Age {
	a := Age{Age: age, StemsTotal: d.cut[age], Grades: []GradeCell{}, Plants: []PlantSeason{}}
	for _, s := range d.counted {
		if s.age != age {
			continue
		}
		a.Plants = append(a.Plants, s)
		if s.Open {
			continue
		}
		a.PlantSeasons++
		if s.Stems == 0 {
			a.Zero++
		}
	}
	a.CutFrom = a.PlantSeasons - a.Zero
	a.Alive, a.SetOut = d.denominators(age)
	return a
}

// denominators are the plants of all stands of an age: alive when its cutting began, and set out.
func (d *data) denominators(age int) (alive, setOut int) {
	planted := map[crop.PlantingID]int{}
	for _, id := range d.plants {
		planted[d.farm.Plants[id].Planting]++
	}
	for _, s := range d.living {
		if s.age == age {
			alive += s.alive
			setOut += planted[s.planting.ID]
		}
	}
	return alive, setOut
}

// pool is the plants that a stem may be of: one, or those standing behind a bench total or bed cut.
type pool struct {
	of     []poolPart
	plants int
}

// poolPart is the plants of one planting.
type poolPart struct {
	planting crop.PlantingID
	plants   int
}

// unevenness is how many times as much the mean of a pool's stems varies as that of as many plants with
// equally many stems each: 1 + 1/size + exp(s^2) - 1 for plants' sd s, at the middle of the priors.
const unevenness = 1.38

// worth is how many equal plants' mean varies as much as that of the pool's stems.
func (p pool) worth() float64 { return max(1, float64(p.plants)/unevenness) }

// scale is the standard deviation of the mean effect of the pool's stems, and apart that of single stems'
// effects about it, in those of plants' effects.
func (p pool) scale() float64 { return 1 / math.Sqrt(p.worth()) }

func (p pool) apart() float64 { return math.Sqrt(1 - 1/p.worth()) }

// spreadPrior is of the logarithm of the variance among the pool's plants as they happen to be, over its
// expectation: a lognormal with the mean and variance of a chi-square over its degrees of freedom, which are
// at least one.
func (p pool) spreadPrior() stats.Normal {
	variance := math.Log1p(2 / max(1, p.worth()-1))
	return stats.Normal{Mean: -variance / 2, SD: math.Sqrt(variance)}
}

// leastPool stands for the plants of a planting that nobody listed.
const leastPool = 10

func (d *data) poolOf(w whence) pool {
	if w.plant != "" {
		return pool{of: []poolPart{{w.planting, 1}}, plants: 1}
	}
	var p pool
	for _, planting := range d.plantingsIn[w.bed] {
		if w.planting != "" && planting.ID != w.planting || w.planting == "" && planting.AgeIn(w.season) != w.age || !d.wanted(planting) {
			continue
		}
		n := d.aliveIn(planting, w.season)
		if len(d.plantsOf[planting.ID]) == 0 {
			n = leastPool
		}
		if w.rest {
			n = max(1, n-d.toldAlone[plantingSeason{planting.ID, w.season}])
		}
		if n > 0 {
			p.of, p.plants = append(p.of, poolPart{planting.ID, n}), p.plants+n
		}
	}
	p.plants = max(p.plants, 1)
	return p
}

// seasonsOf lists the seasons of the plant-seasons, from the earliest.
func seasonsOf(list []PlantSeason) []crop.Season {
	seen := map[crop.Season]bool{}
	for _, s := range list {
		seen[s.Season] = true
	}
	return slices.Sorted(maps.Keys(seen))
}

func wrap(model string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("fit %s by age: %w", model, err)
}
