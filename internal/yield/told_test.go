package yield

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"corymb/internal/crop"
)

func (p plot) total(day crop.Date, v crop.Visit, counts ...crop.Count) {
	v.Date, v.Purpose, v.Counts = day, crop.PurposeBench, counts
	p.visit(v)
}

// poolCases are laid on bed M with 40 plants of planting m (age 2 in 2024), and 10 of n and 5 of o (age 1),
// and bed A with 40 of a (age 1).
var poolCases = map[string]struct {
	lay func(p plot)
	// units are the worth of each pool that has an effect of its own, in order of bed, season, age and planting.
	units []float64
}{
	"two ages of a bed are two pools, each with its own spread": {
		func(p plot) {
			p.total(day, crop.Visit{Bed: "M", Age: 2}, long(crop.GradeFirst, 40, 9))
			p.total(day, crop.Visit{Bed: "M", Planting: "n"}, long(crop.GradeFirst, 40, 9))
		}, []float64{40, 10},
	},
	"so are two plantings of one age": {
		func(p plot) {
			p.total(day, crop.Visit{Bed: "M", Planting: "n"}, long(crop.GradeFirst, 40, 9))
			p.total(day, crop.Visit{Bed: "M", Planting: "o"}, long(crop.GradeFirst, 40, 9))
		}, []float64{10, 5},
	},
	"the same plants share one over days, flushes and graders": {
		func(p plot) {
			p.total(day, crop.Visit{Bed: "M", Age: 2, Person: "ida"}, long(crop.GradeFirst, 40, 9))
			p.total(day.Add(1), crop.Visit{Bed: "M", Age: 1}, long(crop.GradeFirst, 40, 9))
			p.total(day.Add(14), crop.Visit{Bed: "M", Age: 2, Person: "jon"}, long(crop.GradeExtra, 40, 9))
			p.total(day.Add(90), crop.Visit{Bed: "M", Age: 2, Flush: crop.FlushFall}, long(crop.GradeFirst, 30, 9))
			p.total(day.Add(91), crop.Visit{Bed: "M", Age: 1, Flush: crop.FlushFall}, long(crop.GradeFirst, 30, 9))
		}, []float64{40, 15},
	},
	"and whether their planting was told or is the only one": {
		func(p plot) {
			p.bench("A", day, long(crop.GradeFirst, 40, 9))
			p.total(day.Add(7), crop.Visit{Bed: "A", Planting: "a"}, long(crop.GradeFirst, 40, 9))
			p.total(day.Add(14), crop.Visit{Bed: "A", Age: 1}, long(crop.GradeFirst, 40, 9))
		}, []float64{40},
	},
	"in another season they are the same": {
		func(p plot) {
			p.bench("A", day, long(crop.GradeFirst, 40, 9))
			p.bench("A", "2025-05-20", long(crop.GradeFirst, 40, 9))
		}, []float64{40},
	},
}

func TestPoolsOfDifferentPlantsHaveEffectsOfTheirOwn(t *testing.T) {
	for name, c := range poolCases {
		t.Run(name, func(t *testing.T) {
			p := newPlot()
			p.set("m", "yarrow", "M", 2023, 40)
			p.set("n", "yarrow", "M", 2024, 10)
			p.set("o", "yarrow", "M", 2024, 5)
			p.set("a", "yarrow", "A", 2024, 40)
			c.lay(p)
			d := layOut(p.Farm, Options{})
			checkPools(t, "grades", newGradeModel(d.graded, d.poolOf).qualityModel, clustersOf(d.graded), c.units)
			checkPools(t, "lengths", newLengthModel(d.measured, d.poolOf).qualityModel, clustersOf(d.measured), c.units)
		})
	}
}

func clustersOf[T interface{ cluster() cluster }](cells []T) []cluster {
	var list []cluster
	for _, c := range cells {
		list = append(list, c.cluster())
	}
	return list
}

func checkPools(t *testing.T, what string, m *qualityModel, clusters []cluster, units []float64) {
	t.Helper()
	if len(m.mixed.Groups) != len(units) {
		t.Fatalf("%s: %d pools, want %d", what, len(m.mixed.Groups), len(units))
	}
	from := 0
	spreads := map[int]bool{}
	for g, group := range m.mixed.Groups {
		spreads[m.spread[from]] = true
		if slices.ContainsFunc(m.spread[from:group.End], func(s int) bool { return s != m.spread[from] || s < 0 }) {
			t.Errorf("%s: pool %d has spreads %v, want one", what, g, m.spread[from:group.End])
		}
		if want := 1 / math.Sqrt(units[g]/unevenness); math.Abs(group.Scale-want) > 1e-12 {
			t.Errorf("%s: pool %d varies by %g of plants' spread, want %g", what, g, group.Scale, want)
		}
		for _, of := range clusters[from:group.End] {
			if of != clusters[from] {
				t.Errorf("%s: pool %d holds %+v and %+v", what, g, clusters[from], of)
			}
		}
		from = group.End
	}
	if len(spreads) != len(units) {
		t.Errorf("%s: %d pools have %d spreads", what, len(units), len(spreads))
	}
}

func TestAPlantsOwnStemsHaveNoSpreadOfAPool(t *testing.T) {
	p := newPlot()
	p.set("a", "yarrow", "A", 2024, 2)
	p.cut("a1", "2024-05-20", crop.Count{Grade: crop.GradeFirst, Stems: 3})
	d := layOut(p.Farm, Options{})
	if g := newGradeModel(d.graded, d.poolOf); len(g.spread) != 1 || g.spread[0] >= 0 {
		t.Errorf("a plant's stems have spreads %v", g.spread)
	}
}

// A chi-square over its degrees of freedom has mean 1 and variance 2 over them (Johnson, Kotz and Balakrishnan
// 1994, Continuous Univariate Distributions, chapter 18).
func TestThePriorOfAPoolsSpreadHasAChiSquaresMeanAndVariance(t *testing.T) {
	for _, c := range []struct {
		plants   int
		variance float64
	}{{2, 2}, {10, 2 / (10/unevenness - 1)}, {40, 2 / (40/unevenness - 1)}} {
		prior := pool{plants: c.plants}.spreadPrior()
		square := prior.SD * prior.SD
		mean := math.Exp(prior.Mean + square/2)
		if variance := mean * mean * math.Expm1(square); math.Abs(mean-1) > 1e-12 || math.Abs(variance-c.variance) > 1e-12 {
			t.Errorf("%d plants: mean %g and variance %g, want 1 and %g", c.plants, mean, variance, c.variance)
		}
	}
}

func TestWhatIsLeftOfATotalIsOfThePlantsThatWereNotToldAlone(t *testing.T) {
	p := newPlot()
	p.set("a", "yarrow", "A", 2024, 40)
	for i := 1; i <= 38; i++ {
		p.cut(crop.PlantID(fmt.Sprint("a", i)), "2024-05-20", crop.Count{Grade: crop.GradeFirst, Stems: 1})
	}
	p.bench("A", "2024-05-20", crop.Count{Grade: crop.GradeFirst, Stems: 48})
	p.bench("A", "2024-05-27", crop.Count{Grade: crop.GradeFirst, Stems: 48})
	d := layOut(p.Farm, Options{})
	plants := map[bool]int{}
	for _, g := range d.graded {
		if g.plant == "" {
			plants[g.rest] = d.poolOf(*g.whence).plants
		}
	}
	if plants[true] != 2 || plants[false] != 40 {
		t.Errorf("the rest is of %d plants, want 2; a day of totals alone is of %d, want 40", plants[true], plants[false])
	}
}

func TestAFitThatPanicsIsAnError(t *testing.T) {
	err := together(func() error { return nil }, func() error { panic("out of range") })
	if err == nil || !strings.Contains(err.Error(), "out of range") {
		t.Errorf("%v", err)
	}
}

// lot is stems of one grade and length that were told, of a plant or a pool.
type lot struct {
	plant    crop.PlantID
	planting crop.PlantingID
	grader   crop.PersonID
	grade    crop.Grade
	cm       int // lower bound, 0 untold
}

// dayCases are laid on bed M with planting m (age 2 in 2024) and n and o (age 1).
var dayCases = map[string]struct {
	lay       func(p plot)
	want      map[lot]int
	overdrawn int // totals left out
}{
	"a plant's stems are taken off the only total": {
		func(p plot) {
			p.cut("m1", day, first(3))
			p.total(day, crop.Visit{Bed: "M", Age: 2, Person: "ida"}, first(10))
		}, map[lot]int{{plant: "m1", planting: "m", grade: "first"}: 3, {planting: "m", grader: "ida", grade: "first"}: 7}, 0,
	},
	"and once off two of the same plants": {
		func(p plot) {
			p.cut("m1", day, first(3))
			p.total(day, crop.Visit{Bed: "M", Age: 2, Person: "ida"}, first(10), stems(crop.GradeExtra, 4))
			p.total(day, crop.Visit{Bed: "M", Planting: "m", Person: "ida"}, first(5))
		}, map[lot]int{{plant: "m1", planting: "m", grade: "first"}: 3, {planting: "m", grader: "ida", grade: "first"}: 12, {planting: "m", grader: "ida", grade: "extra"}: 4}, 0,
	},
	"more than either holds is taken off both together": {
		func(p plot) {
			p.cut("m1", day, first(4))
			p.cut("m2", day, first(4))
			p.total(day, crop.Visit{Bed: "M", Age: 2}, first(5))
			p.total(day, crop.Visit{Bed: "M", Age: 2}, first(5))
		}, map[lot]int{{plant: "m1", planting: "m", grade: "first"}: 4, {plant: "m2", planting: "m", grade: "first"}: 4, {planting: "m", grade: "first"}: 2}, 0,
	},
	"what is left of two people's is nobody's grading": {
		func(p plot) {
			p.cut("m1", day, first(3))
			p.total(day, crop.Visit{Bed: "M", Age: 2, Person: "ida"}, first(10))
			p.total(day, crop.Visit{Bed: "M", Age: 2, Person: "jon"}, first(5))
		}, map[lot]int{{plant: "m1", planting: "m", grade: "first"}: 3, {planting: "m", grade: "first"}: 12}, 0,
	},
	"where plants tell nothing of them, each is its grader's": {
		func(p plot) {
			p.cut("m1", day, stems("", 3))
			p.total(day, crop.Visit{Bed: "M", Age: 2, Person: "ida"}, first(10))
			p.total(day, crop.Visit{Bed: "M", Age: 2, Person: "jon"}, first(5))
		}, map[lot]int{{planting: "m", grader: "ida", grade: "first"}: 10, {planting: "m", grader: "jon", grade: "first"}: 5}, 0,
	},
	"a plant told more coarsely is in one of them as it stands": {
		func(p plot) {
			p.cut("n1", day, first(3))
			p.total(day, crop.Visit{Bed: "M", Age: 1}, long(crop.GradeFirst, 40, 10))
			p.total(day, crop.Visit{Bed: "M", Planting: "n"}, long(crop.GradeFirst, 50, 5))
		}, map[lot]int{{grade: "first", cm: 40}: 10, {planting: "n", grade: "first", cm: 50}: 5}, 0,
	},
	"or, where that total lacks its grade, the total is left out": {
		func(p plot) {
			p.cut("n1", day, stems(crop.GradeExtra, 3))
			p.total(day, crop.Visit{Bed: "M", Age: 1}, long(crop.GradeFirst, 40, 10))
		}, map[lot]int{{plant: "n1", planting: "n", grade: "extra"}: 3}, 1,
	},
	"of other plants' totals nothing is taken": {
		func(p plot) {
			p.cut("n1", day, first(3))
			p.total(day, crop.Visit{Bed: "M", Age: 2}, first(10))
			p.total(day, crop.Visit{Bed: "M", Planting: "n"}, first(5))
			p.total(day, crop.Visit{Bed: "M", Planting: "o"}, first(6))
		}, map[lot]int{{plant: "n1", planting: "n", grade: "first"}: 3, {planting: "m", grade: "first"}: 10, {planting: "n", grade: "first"}: 2, {planting: "o", grade: "first"}: 6}, 0,
	},
	"of totals that differ, it is taken off the one that has the grade": {
		func(p plot) {
			p.cut("n1", day, first(3))
			p.total(day, crop.Visit{Bed: "M", Age: 1}, stems(crop.GradeExtra, 10))
			p.total(day, crop.Visit{Bed: "M", Planting: "n"}, first(5))
		}, map[lot]int{{plant: "n1", planting: "n", grade: "first"}: 3, {grade: "extra"}: 10, {planting: "n", grade: "first"}: 2}, 0,
	},
	"and enough of it": {
		func(p plot) {
			p.cut("n1", day, first(3))
			p.total(day, crop.Visit{Bed: "M", Age: 1}, first(10))
			p.total(day, crop.Visit{Bed: "M", Planting: "n"}, first(2))
		}, map[lot]int{{plant: "n1", planting: "n", grade: "first"}: 3, {grade: "first"}: 7, {planting: "n", grade: "first"}: 2}, 0,
	},
	"where either may have it, both are left out": {
		func(p plot) {
			p.cut("n1", day, first(3))
			p.total(day, crop.Visit{Bed: "M", Age: 1}, first(10))
			p.total(day, crop.Visit{Bed: "M", Planting: "n"}, first(5))
		}, map[lot]int{{plant: "n1", planting: "n", grade: "first"}: 3}, 2,
	},
	"so where one tells lengths, the other not, and the plant none": {
		func(p plot) {
			p.cut("m1", day, first(3))
			p.total(day, crop.Visit{Bed: "M", Age: 2}, first(10))
			p.total(day, crop.Visit{Bed: "M", Age: 2}, long(crop.GradeFirst, 40, 5))
			p.total(day, crop.Visit{Bed: "M", Age: 1}, first(6))
		}, map[lot]int{{plant: "m1", planting: "m", grade: "first"}: 3, {grade: "first"}: 6}, 2,
	},
	"where none has it, all that should are left out": {
		func(p plot) {
			p.cut("n1", day, first(3))
			p.total(day, crop.Visit{Bed: "M", Age: 1}, stems(crop.GradeExtra, 10))
			p.total(day, crop.Visit{Bed: "M", Planting: "n"}, first(2))
			p.total(day, crop.Visit{Bed: "M", Age: 2}, stems(crop.GradeExtra, 4))
		}, map[lot]int{{plant: "n1", planting: "n", grade: "first"}: 3, {planting: "m", grade: "extra"}: 4}, 2,
	},
	"more than all have together leaves them out": {
		func(p plot) {
			p.cut("m1", day, first(4))
			p.cut("m2", day, first(4))
			p.total(day, crop.Visit{Bed: "M", Age: 2}, first(4))
			p.total(day, crop.Visit{Bed: "M", Age: 2}, first(3))
		}, map[lot]int{{plant: "m1", planting: "m", grade: "first"}: 4, {plant: "m2", planting: "m", grade: "first"}: 4}, 2,
	},
}

func TestPlantsStemsAreTakenOffADaysTotalsOnce(t *testing.T) {
	for name, c := range dayCases {
		t.Run(name, func(t *testing.T) {
			p := newPlot()
			p.set("m", "yarrow", "M", 2023, 4)
			p.set("n", "yarrow", "M", 2024, 4)
			p.set("o", "yarrow", "M", 2024, 4)
			c.lay(p)
			r := read(p.Farm, Options{})
			got := map[lot]int{}
			for _, s := range r.told(r.pickings()) {
				got[lot{s.plant, s.planting, s.grader, crop.GradesLowToHigh[s.rank], int(s.class.Lo) / 10}] += s.stems
			}
			if !maps.Equal(got, c.want) || r.overdrawn.visits != c.overdrawn {
				t.Errorf("told %v and %d left out, want %v and %d", got, r.overdrawn.visits, c.want, c.overdrawn)
			}
		})
	}
}
