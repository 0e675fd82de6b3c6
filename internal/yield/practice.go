package yield

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// fitPractice fits the full models and writes what they say into the report.
func fitPractice(d *data, report *Report) error {
	stems := newStemsModel(d.counted, d.living, d.totals, d.farm)
	grades := newGradeModel(d.graded, d.poolOf)
	lengths := newLengthModel(d.measured, d.poolOf)
	var survival Survival
	err := together(
		func() error { return fitAndFill("stems", stems.fit, func(a *Age) { stems.fill(a, d) }, report.Ages) },
		func() error { return fitAndFill("grades", grades.fit, grades.fill, report.Ages) },
		func() error { return fitAndFill("lengths", lengths.fit, lengths.fill, report.Ages) },
		func() (err error) {
			survival, err = fitSurvival(d.records)
			return err
		},
	)
	if err != nil {
		return err
	}
	report.Survival = &survival
	report.stems = stems
	report.Spread = stems.spread()
	report.Spread.Graders = grades.graders()
	report.Plants = worth(stems, grades, d)
	report.Rests = rests(stems, grades, lengths)
	return nil
}

// together runs what does not write the same fields side by side; of several errors it returns the first's. A
// panic is an error too: the caller's recovering does not reach other goroutines, and a shed must outlive a fit.
func together(all ...func() error) error {
	errs := make([]error, len(all))
	var running sync.WaitGroup
	for i, do := range all {
		running.Go(func() {
			defer func() {
				if cause := recover(); cause != nil {
					errs[i] = fmt.Errorf("the fit broke off: %v", cause)
				}
			}()
			errs[i] = do()
		})
	}
	running.Wait()
	return cmp.Or(errs...)
}

func fitAndFill(model string, fit func() error, fill func(*Age), ages []Age) error {
	if err := wrap(model, fit()); err != nil {
		return err
	}
	for i := range ages {
		fill(&ages[i])
	}
	return nil
}

func rests(stems *stemsModel, grades *gradeModel, lengths *lengthModel) []Rest {
	list := []Rest{restOf("stems", stems.draws)}
	if len(grades.graded) > 0 {
		list = append(list, restOf("grades", grades.draws))
	}
	if len(lengths.measured) > 0 {
		list = append(list, restOf("lengths", lengths.draws))
	}
	return list
}

// restOf keeps a shape of the weights that no number can show (no tail to fit) out of the report.
func restOf(model string, d stats.Draws) Rest {
	k := d.KHat
	if math.IsNaN(k) || math.IsInf(k, 0) {
		k = 0
	}
	return Rest{Model: model, Basis: string(d.Basis), KHat: k, Draws: len(d.Points), Worth: d.Effective}
}

// fill writes what the stems model says of an age.
func (m *stemsModel) fill(a *Age, d *data) {
	of := ofAge(a.Age)
	ahead := m.ahead(a.Age)
	a.Ahead = &ahead
	mean := ahead
	known := slices.ContainsFunc(m.stands, of)
	if known {
		mean = m.meanOver(of)
	}
	a.Stems = Stems{Mean: mean.Mean, Lo: mean.Lo, Hi: mean.Hi, Size: m.sizeOf(a.Age)}
	a.Stems.NewLo, a.Stems.NewHi = m.newPlant(a.Age, known)
	practice := practiceOf(a.Age)
	a.Practice = &practice
	a.Plain = plainMean(a.Plants)
	a.Seasons, a.Beds = m.bySeason(a.Age), m.byBed(a.Age, d.farm)
}

// interval of a quantity by the draws: its median and the ends.
func (m *stemsModel) interval(of func(point []float64) float64) Interval {
	return intervalOf(m.draws, of)
}

func intervalOf(d stats.Draws, of func(point []float64) float64) Interval {
	values := make([]float64, len(d.Points))
	for i, point := range d.Points {
		values[i] = of(point)
	}
	return quantiles(d, values)
}

func quantiles(d stats.Draws, values []float64) Interval {
	return Interval{
		Mean: Figure(d.Quantile(values, 0.5)), Lo: Figure(d.Quantile(values, tail)), Hi: Figure(d.Quantile(values, 1-tail)),
	}
}

// sizeOf an age that was never laid out is drawn from the prior.
func (m *stemsModel) sizeOf(age int) Figure {
	source := rand.New(rand.NewPCG(drawSeed, 7))
	return m.interval(func(point []float64) float64 { return m.sizeAt(point, age, source) }).Mean
}

// ahead is the mean of an age in a season, planting and bed of which nothing is known.
func (m *stemsModel) ahead(age int) Interval {
	source := rand.New(rand.NewPCG(drawSeed, 1))
	return m.interval(func(point []float64) float64 { return math.Exp(m.unknown(point, age, source)) })
}

// unknown draws the log mean over plants of an age in an unknown season, planting and bed.
func (m *stemsModel) unknown(point []float64, age int, source *rand.Rand) float64 {
	value := func(at string, prior stats.Normal) float64 {
		if i, known := m.p.at[at]; known {
			return point[i]
		}
		return prior.Mean + prior.SD*source.NormFloat64()
	}
	eta := value(parFirst, firstSeasonPrior)
	for a := 2; a <= age; a++ {
		eta += value(name("step", a), stepPrior(a))
	}
	for _, scale := range []string{scaleSeason, scalePlot, scaleBed} {
		eta += m.scaleAt(point, scale, source) * source.NormFloat64()
	}
	sd := m.effect.SD(point)
	return eta + sd*sd/2
}

var scalePriors = map[string]stats.Normal{scaleSeason: seasonSDPrior, scalePlot: groundSDPrior, scaleBed: groundSDPrior}

// scaleAt is a scale's value at a point, drawn from its prior where the model has nothing of that kind.
func (m *stemsModel) scaleAt(point []float64, scale string, source *rand.Rand) float64 {
	if i, known := m.p.scalePlace(scale); known {
		return math.Exp(point[i])
	}
	prior := scalePriors[scale]
	return math.Exp(prior.Mean + prior.SD*source.NormFloat64())
}

// newPlant is the range of the stems of one more plant among those of the age, in one of their seasons and
// places; of an age that nobody has, in an unknown one.
func (m *stemsModel) newPlant(age int, known bool) (lo, hi int) {
	source := rand.New(rand.NewPCG(drawSeed, 2))
	values := make([]float64, len(m.draws.Points))
	for i, point := range m.draws.Points {
		values[i] = float64(m.onePlant(point, age, known, source))
	}
	ends := quantiles(m.draws, values)
	return int(math.Floor(float64(ends.Lo))), int(math.Ceil(float64(ends.Hi)))
}

func (m *stemsModel) onePlant(point []float64, age int, known bool, source *rand.Rand) int {
	sd := m.effect.SD(point)
	var eta float64
	if known {
		s := m.anyStand(age, source)
		eta = m.eta(point, s)
		if source.IntN(s.alive) >= s.counted {
			eta += point[m.offset]
		}
	} else {
		eta = m.unknown(point, age, source) - sd*sd/2
	}
	return countOf(math.Exp(eta+sd*source.NormFloat64()), m.sizeAt(point, age, source), source)
}

// sizeAt is an age's size at a point, its departure from other ages drawn where the age was never laid out.
func (m *stemsModel) sizeAt(point []float64, age int, source *rand.Rand) float64 {
	departure := sizePrior.SD * source.NormFloat64()
	if i, laid := m.p.at[name("size", age)]; laid {
		departure = point[i]
	}
	return math.Exp(m.effect.LogSize(point, departure))
}

// anyStand draws a stand of an age, by its living plants.
func (m *stemsModel) anyStand(age int, source *rand.Rand) stand {
	all := 0
	for _, s := range m.stands {
		if s.age == age {
			all += s.alive
		}
	}
	at := source.IntN(all)
	for _, s := range m.stands {
		if s.age != age {
			continue
		}
		if at -= s.alive; at < 0 {
			return s
		}
	}
	return stand{} // not reached: at is below the sum
}

// mostDrawn is where a draw ends that no quantile of a report reaches.
const mostDrawn = 1 << 20

// countOf draws a negative binomial count.
func countOf(mean, size float64, source *rand.Rand) int {
	if !(mean < mostDrawn) {
		return mostDrawn
	}
	rate := distuv.Gamma{Alpha: size, Beta: size / mean, Src: source}.Rand()
	return int(distuv.Poisson{Lambda: rate, Src: source}.Rand())
}

// practiceDraws place a prior's interval well enough to be read.
const practiceDraws = 4000

// practiceOf is the mean of an age that common practice expects of a farm unseen.
func practiceOf(age int) Interval {
	source := rand.New(rand.NewPCG(drawSeed, 3))
	empty := newStemsModel(nil, nil, nil, nothing)
	values := make([]float64, practiceDraws)
	for i := range values {
		point := empty.p.start()
		for k, prior := range empty.p.h.Priors {
			point[k] += prior.SD * source.NormFloat64()
		}
		values[i] = math.Exp(empty.unknown(point, age, source))
	}
	return Interval{
		Mean: Figure(stats.Quantile(values, 0.5)), Lo: Figure(stats.Quantile(values, tail)), Hi: Figure(stats.Quantile(values, 1-tail)),
	}
}

// plainMean is nil without a finished plant-season.
func plainMean(plants []PlantSeason) *float64 {
	sum, n := 0, 0
	for _, s := range plants {
		if !s.Open {
			sum, n = sum+s.Stems, n+1
		}
	}
	if n == 0 {
		return nil
	}
	mean := float64(sum) / float64(n)
	return &mean
}

func (m *stemsModel) bySeason(age int) []SeasonStems {
	var list []SeasonStems
	for _, s := range groupsBy(m.stands, age, func(s stand) crop.Season { return s.season }) {
		list = append(list, SeasonStems{Season: s.key, Alive: s.alive, Interval: m.meanOver(s.of)})
	}
	slices.SortFunc(list, func(a, b SeasonStems) int { return int(a.Season - b.Season) })
	return list
}

func (m *stemsModel) byBed(age int, farm crop.Farm) []BedStems {
	var list []BedStems
	for _, s := range groupsBy(m.stands, age, func(s stand) bedSeason { return bedSeason{s.planting.Bed, s.season} }) {
		list = append(list, BedStems{
			Bed: s.key.bed, Name: farm.Beds[s.key.bed].Name, Season: s.key.season, Alive: s.alive, Interval: m.meanOver(s.of),
		})
	}
	return list
}

// standGroup is the stands of an age that share a key.
type standGroup[K comparable] struct {
	key   K
	alive int
	of    func(stand) bool
}

// groupsBy lists them in the order in which they first appear.
func groupsBy[K comparable](stands []stand, age int, keyOf func(stand) K) []standGroup[K] {
	var list []standGroup[K]
	for _, s := range stands {
		if s.age != age {
			continue
		}
		key := keyOf(s)
		i := slices.IndexFunc(list, func(o standGroup[K]) bool { return o.key == key })
		if i < 0 {
			i = len(list)
			list = append(list, standGroup[K]{key: key, of: func(s stand) bool { return s.age == age && keyOf(s) == key }})
		}
		list[i].alive += s.alive
	}
	return list
}

// spread says how things differ, as factors.
func (m *stemsModel) spread() *Spread {
	source := rand.New(rand.NewPCG(drawSeed, 4))
	scale := func(of string) Interval {
		return m.interval(func(point []float64) float64 { return math.Exp(m.scaleAt(point, of, source)) })
	}
	return &Spread{
		Plants:  m.interval(func(point []float64) float64 { return math.Exp(m.effect.SD(point)) }),
		Seasons: scale(scaleSeason), Plantings: scale(scalePlot), Beds: scale(scaleBed),
		Uncounted: m.interval(func(point []float64) float64 { return math.Exp(point[m.offset]) }),
		Totals:    len(m.sums.List),
	}
}
