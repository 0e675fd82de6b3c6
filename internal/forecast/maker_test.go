package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/crop"
	"corymb/internal/yield"
)

// maker draws farms from the priors. It shares with the package these, the curve and the clock alone: stems open plant by
// plant and day by day, stand until their bed is cut, and are told as a grower tells of them.
type maker struct {
	src        *rand.Rand
	ages       []float64 // logarithms of means by age
	size       float64
	precision  float64
	uncounted  float64
	seasonSD   float64
	plantingSD float64
	lasts      yield.SurvivalDraw
	onsetSD    [2]float64
	curves     [2]curve // length, a and b of the usual season as logarithms
	later      [2]map[crop.StockID]float64
	part       float64 // of the fall against the spring
	fallChance float64
	wait       float64
	cutsBack   bool
	weather    bool
	tellsNone  bool // of days on which nothing was found
}

func (m *maker) normal(mean, sd float64) float64 { return mean + sd*m.src.NormFloat64() }
func (m *maker) gamma(shape, rate float64) float64 {
	return distuv.Gamma{Alpha: shape, Beta: rate, Src: m.src}.Rand()
}
func (m *maker) poisson(mean float64) int {
	if mean == 0 {
		return 0
	}
	return int(distuv.Poisson{Lambda: mean, Src: m.src}.Rand())
}
func (m *maker) half() bool { return m.src.IntN(2) == 0 }

func newMaker(src *rand.Rand) *maker {
	m := &maker{src: src}
	practice := yield.Practice()
	m.ages = []float64{m.normal(practice.First.Mean, practice.First.SD)}
	m.ages = append(m.ages, m.ages[0]+m.normal(practice.SecondStep.Mean, practice.SecondStep.SD))
	for len(m.ages) < 6 {
		m.ages = append(m.ages, m.ages[len(m.ages)-1]+m.normal(practice.LaterStep.Mean, practice.LaterStep.SD))
	}
	m.size = math.Exp(m.normal(sizePrior.Mean, sizePrior.SD))
	m.precision = math.Exp(m.normal(precisionPrior.Mean, precisionPrior.SD))
	m.uncounted = m.normal(practice.Uncounted.Mean, practice.Uncounted.SD)
	m.seasonSD = math.Exp(m.normal(practice.SeasonSD.Mean, practice.SeasonSD.SD))
	m.plantingSD = math.Exp(m.normal(practice.PlantingSD.Mean, practice.PlantingSD.SD))
	stocks := 1 + m.src.IntN(2)
	for f, flush := range flushes {
		p := priorsOf[flush]
		m.onsetSD[f] = math.Exp(m.normal(seasonOnsetPrior.Mean, seasonOnsetPrior.SD))
		m.curves[f] = curve{m.normal(p.onset.Mean, p.onset.SD), m.normal(p.length.Mean, p.length.SD), m.normal(p.a.Mean, p.a.SD), m.normal(p.b.Mean, p.b.SD)}
		m.later[f] = map[crop.StockID]float64{"S0": 0}
		for k := range stocks {
			if stocks > 1 {
				m.later[f][stockID(k)] = m.normal(0, stockOnsetPrior.SD)
			}
		}
	}
	fall := priorsOf[crop.FlushFall].part
	m.part = math.Exp(m.normal(fall.Mean, fall.SD))
	m.fallChance = distuv.Beta{Alpha: fallWith, Beta: fallWithout, Src: src}.Rand()
	m.wait = m.normal(waitPrior.Mean, waitPrior.SD)
	m.cutsBack, m.weather, m.tellsNone = m.half(), m.half(), m.half()
	m.lasts = m.lives()
	return m
}

func stockID(k int) crop.StockID { return crop.StockID(fmt.Sprint("S", k)) }

// madeUp is a farm as it was known on the evening of a day, and what came after.
type madeUp struct {
	farm crop.Farm
	asOf crop.Date
	came map[crop.Date]float64 // stems by Monday
	// last is the season asked about as it was, and beds what grew in it.
	last   *madeSeason
	beds   []madeBed
	warmth *warmths
}

type madeBed struct {
	planting crop.Planting
	effect   float64
	plants   []crop.Plant
	dead     []bool // by plant
	// rate is the sum of its plants' rates in the last season, and since the first day of which nothing was cut.
	rate  float64
	since int
}

// madeSeason is what one season brings to all beds.
type madeSeason struct {
	season  crop.Season
	spring  crop.Date
	effect  float64
	warmth  []float64 // by day
	clock   clock
	cutBack int // 0 for never
	fall    bool
	curves  [2]map[crop.StockID]curve
	grown   [2]map[crop.StockID][]float64 // G by day
}

const (
	madeSeasons = 3
	firstMade   = crop.Season(2023)
	madeDays    = 306 // from March to the end of the year
)

// farmOf draws two beds over three seasons, the last of them known up to a day before its spring flush, in it, or
// sometimes any other day from April on.
func (m *maker) farmOf() madeUp {
	made := madeUp{farm: crop.NewFarm(), came: map[crop.Date]float64{}}
	m.plant(&made)
	made.warmth = m.warmthOf(&made)
	known := []crop.Date{}
	for k := range madeSeasons {
		season := m.season(&made, firstMade+crop.Season(k))
		died := m.winter(&made, season.season)
		until := madeDays - 1
		if k == madeSeasons-1 {
			until = m.question(known, firstMade+crop.Season(k-1))
			made.last, made.asOf = season, season.spring.Add(until)
		}
		if day := season.cutBack; day > 0 {
			for id, bed := range made.farm.Beds {
				bed.CutBack[season.season] = season.spring.Add(day)
				made.farm.Beds[id] = bed
			}
		}
		before := len(known)
		for b := range made.beds {
			known = append(known, m.harvest(&made, &made.beds[b], season, until)...)
		}
		if k < madeSeasons-1 {
			made.tellDead(died, season.spring.Add(-75)) // before the year in which they did not stand
		} else if seen := season.blooms(); len(known) > before || seen <= until {
			made.tellDead(died, slices.Min(append(slices.Clone(known[before:]), season.spring.Add(seen))).Add(-1))
		}
	}
	return made
}

// question is on which day of the last season it is put. It may hang on what the farm told, and on nothing else: a day that
// lies near a flush which nobody has seen would tell of it.
func (m *maker) question(cuts []crop.Date, season crop.Season) int {
	spring, first := crop.NorthernYear.Spring(season), 80
	for k := len(cuts) - 1; k >= 0; k-- {
		if cuts[k] >= spring {
			first = spring.DaysTo(cuts[k])
		}
	}
	if m.src.IntN(5) == 0 {
		return 30 + m.src.IntN(200)
	}
	return min(max(30, first-15+m.src.IntN(55)), 230)
}

// plant draws beds: in each some plants are counted and some that only the bench totals hold.
func (m *maker) plant(made *madeUp) {
	for b := range 2 {
		planting := crop.Planting{
			ID: crop.PlantingID(fmt.Sprint("P", b)), Stock: stockID(b % len(m.later[0])), Bed: crop.BedID(fmt.Sprint("B", b)),
			FirstSeason: firstMade + crop.Season(b),
		}
		planting.Planted = crop.Date(fmt.Sprint(int(planting.FirstSeason)-1, "-09-20"))
		made.farm.Stocks[planting.Stock] = crop.Stock{ID: planting.Stock}
		made.farm.Beds[planting.Bed] = crop.Bed{ID: planting.Bed, CutBack: map[crop.Season]crop.Date{}}
		made.farm.Plantings[planting.ID] = planting
		bed := madeBed{planting: planting, effect: m.normal(0, m.plantingSD)}
		for k := range 25 {
			plant := crop.Plant{ID: crop.PlantID(fmt.Sprint(planting.Bed, "-", k)), Planting: planting.ID, Counted: map[crop.Season]crop.Window{}}
			for s := planting.FirstSeason; s < firstMade+madeSeasons && k < 15; s++ {
				plant.Counted[s] = made.farm.Calendar.Span(s)
			}
			made.farm.Plants[plant.ID] = plant
			bed.plants = append(bed.plants, plant)
		}
		bed.dead = make([]bool, len(bed.plants))
		made.beds = append(made.beds, bed)
	}
}

// warmthOf draws the farm's weather and what it says of past seasons; nil where it has none.
func (m *maker) warmthOf(made *madeUp) *warmths {
	if !m.weather {
		return nil
	}
	warmth := map[crop.Date]float64{}
	for s := firstMade; s < firstMade+madeSeasons; s++ {
		spring := made.farm.Calendar.Spring(s)
		for day, degrees := range m.year() {
			warmth[spring.Add(day)] = degrees
			// So warm all day, between the thresholds, that it comes to so many degree-days by any method.
			air := made.farm.Ahead.Warmth.Lower + degrees
			made.farm.Ahead.Weather[spring.Add(day)] = crop.Weather{Date: spring.Add(day), Min: air, Max: air}
		}
	}
	return warmthsOf(warmth, made.farm.Calendar, firstMade+madeSeasons-1)
}

// year draws a year's warmth: a hump in the summer, with spells.
func (m *maker) year() []float64 {
	year, stray := make([]float64, madeDays), m.normal(0, strayDay)
	for day := range year {
		hump := max(0, 11*math.Sin(math.Pi*(float64(day)-10)/240))
		year[day] = min(hump*math.Exp(stray-strayDay*strayDay/2), 20)
		stray = m.normal(strayNext*stray, strayDay*math.Sqrt(1-strayNext*strayNext))
	}
	return year
}

func (m *maker) season(made *madeUp, season crop.Season) *madeSeason {
	s := &madeSeason{
		season: season, spring: made.farm.Calendar.Spring(season), effect: m.normal(0, m.seasonSD),
		fall: m.src.Float64() < m.fallChance,
	}
	if made.warmth != nil {
		byDate := degreeDays(made.farm, "9999-12-31")
		s.warmth = byDay(byDate, s.spring, madeDays)
		s.clock = made.warmth.clock(s.warmth)
	}
	cutBack := math.NaN()
	if m.cutsBack {
		s.cutBack = max(1, int(math.Round(m.normal(m.curves[0].onset+55, cutBackSD))))
		cutBack = s.clock.of(s.cutBack)
	}
	for f := range flushes {
		usual := m.curves[f]
		by, length := m.normal(0, m.onsetSD[f]), math.Exp(m.normal(usual.length, seasonLengthSD))
		onset := usual.onset
		if f == 1 && m.cutsBack {
			onset = cutBack + m.wait
		}
		s.curves[f] = map[crop.StockID]curve{}
		for stock, later := range m.later[f] {
			s.curves[f][stock] = curve{onset + by + later, length, math.Exp(usual.a), math.Exp(usual.b)}
		}
		s.grown[f] = map[crop.StockID][]float64{}
	}
	m.grow(s, 0)
	return s
}

// grow draws G anew from a day on; before it, it stays as it is.
func (m *maker) grow(s *madeSeason, from int) {
	for f := range flushes {
		for _, stock := range sortedKeys(s.curves[f]) {
			s.grown[f][stock] = m.growth(s.curves[f][stock], s.clock, s.grown[f][stock], from)
		}
	}
}

func (m *maker) growth(curve curve, clock clock, so []float64, from int) []float64 {
	grown := make([]float64, madeDays)
	copy(grown, so)
	for day := from; day < madeDays; day++ {
		grown[day] = 0
		if share := curve.share(clock.of(day)) - curve.share(clock.of(day-1)); share > 0 {
			grown[day] = m.gamma(m.precision*share, m.precision)
		}
	}
	return grown
}

// grown is G by day of a season that goes by its own days.
func (m *maker) grown(flush int) []float64 {
	c := m.curves[flush]
	c = curve{m.normal(c.onset, m.onsetSD[flush]), math.Exp(m.normal(c.length, seasonLengthSD)), math.Exp(c.a), math.Exp(c.b)}
	return m.growth(c, nil, nil, 0)
}

// opens is how much of a flush opens on a day for a plant whose rate is 1.
func (m *maker) opens(s *madeSeason, stock crop.StockID, flush, day int) float64 {
	switch {
	case flush == 0:
		return s.grown[0][stock][day]
	case s.fall:
		return m.part * s.grown[1][stock][day]
	default:
		return 0
	}
}

// harvest goes through a bed's season: what opens stands until the bed is cut. It gives the days on which stems were told
// of; what is cut after the last day known is what came.
func (m *maker) harvest(made *madeUp, bed *madeBed, s *madeSeason, until int) (cuts []crop.Date) {
	age := int(s.season-bed.planting.FirstSeason) + 1
	if age < 1 {
		return nil
	}
	rates := m.rates(bed, s, age)
	standing := make([][2]int, len(rates))
	next := 5 + m.src.IntN(4)
	bed.rate, bed.since = 0, 0
	for day := range madeDays {
		for f := range flushes {
			opens := m.opens(s, bed.planting.Stock, f, day)
			for k, rate := range rates {
				standing[k][f] += m.poisson(rate * opens)
			}
		}
		switch {
		case day > until: // every day's stems are thought of as cut that day
			for k := range standing {
				made.came[s.spring.Add(day).Monday()] += float64(standing[k][0] + standing[k][1])
			}
			clear(standing)
		case day == next || day == madeDays-1:
			if m.cut(made, bed, s.spring.Add(day), standing) {
				cuts = append(cuts, s.spring.Add(day))
			}
			clear(standing)
			bed.since = day + 1
			next = day + 2 + m.src.IntN(4)
		}
	}
	for _, rate := range rates {
		bed.rate += rate
	}
	return cuts
}

func (m *maker) rates(bed *madeBed, s *madeSeason, age int) []float64 {
	rates := make([]float64, len(bed.plants))
	for k, plant := range bed.plants {
		rates[k] = m.gamma(m.size, m.size) * math.Exp(m.ages[age-1]+s.effect+bed.effect)
		if len(plant.Counted) == 0 {
			rates[k] *= math.Exp(m.uncounted)
		}
		if bed.dead[k] {
			rates[k] = 0
		}
	}
	return rates
}

// cut tells of a bed's stems, plant by plant where these are counted and as a total at the bench; sometimes it is cut to
// order, and a part of it left. It says whether any were told.
func (m *maker) cut(made *madeUp, bed *madeBed, date crop.Date, standing [][2]int) bool {
	toOrder, any := m.src.Float64() < 0.1, false
	took := distuv.Beta{Alpha: takenPrior.took, Beta: takenPrior.left, Src: m.src}.Rand()
	var bench [2]int
	for k, plant := range bed.plants {
		for f, flush := range flushes {
			stems := standing[k][f]
			if toOrder && stems > 0 {
				stems -= int(distuv.Binomial{N: float64(stems), P: 1 - took, Src: m.src}.Rand())
			}
			bench[f] += stems
			if stems > 0 && len(plant.Counted) > 0 {
				any = true
				made.add(crop.Visit{
					ID: crop.VisitID(fmt.Sprint(plant.ID, date, f)), Plant: plant.ID, Date: date, Purpose: crop.PurposeCut,
					Flush: flush, ToOrder: toOrder, Counts: []crop.Count{{Stems: stems}},
				})
			}
		}
	}
	for f, flush := range flushes {
		if !toOrder && (bench[f] > 0 || f == 0 && m.tellsNone) {
			any = any || bench[f] > 0
			made.add(crop.Visit{
				ID: crop.VisitID(fmt.Sprint(bed.planting.Bed, date, f)), Bed: bed.planting.Bed, Date: date, Purpose: crop.PurposeBench,
				Flush: flush, Counts: []crop.Count{{Stems: bench[f]}},
			})
		}
	}
	return any
}

func (made *madeUp) add(v crop.Visit) { made.farm.Visits[v.ID] = v }
