package yield

import (
	"maps"
	"math"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// stemsModel is the model of the number of stems that a plant gives in a season: negative binomial with a
// mean by age and origin and a size by age; an effect of its own for each plant, which stays over its
// seasons; effects of plantings, beds and seasons; lower bounds, part-seen seasons, and totals of what
// nobody counted.
type stemsModel struct {
	p      *parameters
	mixed  *stats.Mixed
	sums   stats.Sums
	common crop.Origin
	plants []crop.PlantID // by group
	stands []stand
	rows   map[rowKey]int
	effect stats.Effect
	offset int

	draws stats.Draws
	means [][]float64 // by stand and draw; nil until asked for
}

type rowKey struct {
	planting crop.PlantingID
	season   crop.Season
	share    float64
}

// nothing is a farm of which nothing is known.
var nothing = crop.NewFarm()

// stemsNodes of the quadrature over a plant's effect.
const stemsNodes = 11

// newStemsModel lays out the records; it has no draws yet.
func newStemsModel(counted []PlantSeason, stands []stand, totals []bedTotal, farm crop.Farm) *stemsModel {
	m := &stemsModel{
		p: newParameters(), common: commonOrigin(stands), stands: stands, rows: map[rowKey]int{},
		mixed: &stats.Mixed{Nodes: stemsNodes},
	}
	m.effect = stats.LogSDOfBoth(m.p.own(parBothSD, bothSDPrior), m.p.own(parRatio, ratioPrior))
	m.offset = m.p.own(parOffset, offsetPrior)
	m.layPlants(counted, farm)
	for _, s := range stands {
		m.row(groundOf(s), 1)
		m.p.own(name("size", s.age), sizePrior)
	}
	for _, t := range totals {
		m.layTotal(t)
	}
	m.mixed.Parameters = len(m.p.names)
	m.mixed.Effect, m.sums.Effect = m.effect, m.effect
	return m
}

// commonOrigin is that of most living plant-seasons.
func commonOrigin(stands []stand) crop.Origin {
	plants := map[crop.Origin]int{}
	for _, s := range stands {
		plants[s.origin] += s.alive
	}
	var common crop.Origin
	most := -1
	for _, o := range slices.Sorted(maps.Keys(plants)) {
		if plants[o] > most {
			common, most = o, plants[o]
		}
	}
	return common
}

func groundOf(s stand) ground {
	return ground{planting: s.planting.ID, bed: s.planting.Bed, origin: s.origin, age: s.age, season: s.season}
}

// row is the number of the linear predictor of a ground of which a share of the season was seen.
func (m *stemsModel) row(g ground, share float64) int {
	key := rowKey{g.planting, g.season, share}
	if i, known := m.rows[key]; known {
		return i
	}
	row := stemsRow(m.p, g, m.common)
	row.Offset = math.Log(share)
	m.rows[key] = len(m.mixed.Rows)
	m.mixed.Rows = append(m.mixed.Rows, row)
	return m.rows[key]
}

// layPlants makes a group of each counted plant and a cell of each finished season of it.
func (m *stemsModel) layPlants(counted []PlantSeason, farm crop.Farm) {
	byPlant := map[crop.PlantID][]PlantSeason{}
	for _, s := range counted {
		if !s.Open {
			byPlant[s.Plant] = append(byPlant[s.Plant], s)
		}
	}
	f := &stats.Counts{Effect: m.effect}
	for _, id := range slices.Sorted(maps.Keys(byPlant)) {
		planting := farm.Plantings[farm.Plants[id].Planting]
		for _, s := range byPlant[id] {
			g := ground{
				planting: planting.ID, bed: planting.Bed, origin: farm.Stocks[planting.Stock].Origin,
				age: s.age, season: s.Season,
			}
			m.mixed.Cells = append(m.mixed.Cells, stats.Cell{Row: m.row(g, s.share)})
			f.Count = append(f.Count, s.Stems)
			f.AtLeast = append(f.AtLeast, s.toOrder)
			f.LogSize = append(f.LogSize, m.p.own(name("size", s.age), sizePrior))
		}
		m.plants = append(m.plants, id)
		m.mixed.Groups = append(m.mixed.Groups, stats.Group{End: len(m.mixed.Cells), Scale: 1})
	}
	m.mixed.Family = f
}

// layTotal adds what nobody counted of a bed's plants together. The mean of a planting's uncounted plants is the same
// in every season, as far as they are the same plants.
func (m *stemsModel) layTotal(t bedTotal) {
	sum := stats.Sum{Total: t.stems}
	for _, s := range t.of {
		left := s.alive - s.counted
		if left == 0 {
			continue
		}
		row := stemsRow(m.p, groundOf(s), m.common)
		row.Offset = math.Log(t.share)
		row.Terms = append(row.Terms, stats.Coef{Parameter: m.offset, Value: 1})
		sum.Of = append(sum.Of, stats.Pool{
			Units: left, Row: row, LogSize: m.p.own(name("size", s.age), sizePrior),
			Mean: m.p.own(name("uncounted of", s.planting.ID), stats.Normal{SD: 1}),
		})
	}
	for _, u := range t.unseen {
		sum.Of = append(sum.Of, m.unseenPool(u))
	}
	m.sums.List = append(m.sums.List, sum)
}

// unseenPool is what counted plants gave on days with a total while nobody watched them: a part of the season
// without the offset of uncounted plants. Left in the total as theirs it would bias that offset; to leave the
// total out would lose the uncounted for a few closed windows. That these are the plants whose other days
// were counted is not used, which is careful.
func (m *stemsModel) unseenPool(u unseen) stats.Pool {
	row := stemsRow(m.p, groundOf(u.of), m.common)
	row.Offset = math.Log(u.share)
	return stats.Pool{
		Units: u.plants, Row: row, LogSize: m.p.own(name("size", u.of.age), sizePrior),
		Mean: m.p.own(name("unseen of", plantingSeason{u.of.planting.ID, u.of.season}), stats.Normal{SD: 1}),
	}
}

// fit draws from the posterior.
func (m *stemsModel) fit() error {
	var extra []stats.Extra
	if len(m.sums.List) > 0 {
		extra = append(extra, m.sums)
	}
	draws, err := m.mixed.Posterior(m.p.h, extra, m.start(), drawSeed)
	m.draws = draws
	return err
}

// start begins the search for the mode at the plain mean of what was counted.
func (m *stemsModel) start() []float64 {
	x := m.p.start()
	f, total := m.mixed.Family.(*stats.Counts), 0
	for _, y := range f.Count {
		total += y
	}
	if len(f.Count) > 0 {
		x[m.p.at[parFirst]] = math.Log((float64(total) + 1) / float64(len(f.Count)))
	}
	return x
}

// eta is the log mean of a ground's middle plant at a point of the posterior.
func (m *stemsModel) eta(point []float64, s stand) float64 {
	sum := 0.0
	for _, t := range m.mixed.Rows[m.rows[rowKey{s.planting.ID, s.season, 1}]].Terms {
		sum += point[t.Parameter]
	}
	return sum
}

// meanOf is the mean of a plant's stems in a stand at a point: over the plants' effects, counted and
// uncounted.
func (m *stemsModel) meanOf(point []float64, s stand) float64 {
	sd := m.effect.SD(point)
	mean := math.Exp(m.eta(point, s) + sd*sd/2)
	left := float64(s.alive-s.counted) / float64(s.alive)
	return mean * (1 + left*math.Expm1(point[m.offset]))
}

// meanOver is the interval of the mean over all living plant-seasons that are of the question, as planting, bed
// and season fell. The stands' means are found once for all questions.
func (m *stemsModel) meanOver(of func(stand) bool) Interval {
	if m.means == nil {
		for _, s := range m.stands {
			means := make([]float64, len(m.draws.Points))
			for i, point := range m.draws.Points {
				means[i] = m.meanOf(point, s)
			}
			m.means = append(m.means, means)
		}
	}
	sum, plants := make([]float64, len(m.draws.Points)), 0.0
	for k, s := range m.stands {
		if !of(s) {
			continue
		}
		plants += float64(s.alive)
		for i, mean := range m.means[k] {
			sum[i] += float64(s.alive) * mean
		}
	}
	for i := range sum {
		sum[i] /= plants
	}
	return quantiles(m.draws, sum)
}

func ofAge(age int) func(stand) bool { return func(s stand) bool { return s.age == age } }
