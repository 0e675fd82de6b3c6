package yield

import (
	"math"
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
		}, []float64{10, 40},
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
		}, []float64{15, 40},
	},
	"and whether their planting was told or is the only one": {
		func(p plot) {
			p.bench("A", day, long(crop.GradeFirst, 40, 9))
			p.total(day.Add(7), crop.Visit{Bed: "A", Planting: "a"}, long(crop.GradeFirst, 40, 9))
			p.total(day.Add(14), crop.Visit{Bed: "A", Age: 1}, long(crop.GradeFirst, 40, 9))
		}, []float64{40},
	},
	"seasons are apart": {
		func(p plot) {
			p.bench("A", day, long(crop.GradeFirst, 40, 9))
			p.bench("A", "2025-05-20", long(crop.GradeFirst, 40, 9))
		}, []float64{40, 40},
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
			checkPools(t, "grades", newGradeModel(d.graded, d.poolOf).qualityModel, c.units)
			checkPools(t, "lengths", newLengthModel(d.measured, d.poolOf).qualityModel, c.units)
		})
	}
}

func checkPools(t *testing.T, what string, m *qualityModel, units []float64) {
	t.Helper()
	if len(m.mixed.Groups) != len(units) {
		t.Fatalf("%s: %d pools, want %d", what, len(m.mixed.Groups), len(units))
	}
	from := 0
	for g, group := range m.mixed.Groups {
		if want := 1 / math.Sqrt(units[g]/unevenness); math.Abs(group.Scale-want) > 1e-12 {
			t.Errorf("%s: pool %d varies by %g of plants' spread, want %g", what, g, group.Scale, want)
		}
		for _, w := range m.cells[from:group.End] {
			if w.cluster() != m.cells[from].cluster() {
				t.Errorf("%s: pool %d holds %+v and %+v", what, g, m.cells[from], w)
			}
		}
		from = group.End
	}
}
