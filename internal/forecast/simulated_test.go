package forecast

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/crop"
	"corymb/internal/yield"
)

var simulatedFarms = flag.Int("forecast.farms", 40, "how many made-up farms are forecast; 500 is the long proof")

// madeUp is a farm drawn from the priors, with what was cut of it after the day of the question.
type madeUp struct {
	farm crop.Farm
	asOf crop.Date
	came map[crop.Date]float64 // by Monday
	size int                   // the season's stems
}

// maker draws a farm. It shares with the package its priors and the curve alone.
type maker struct {
	src       *rand.Rand
	ages      []float64
	size      float64
	precision float64
	uncounted float64
	seasonSD  float64
	onsetSD   [2]float64
	curves    [2]curve // length, a and b of the usual season as logarithms
	part      float64
}

func (m *maker) normal(mean, sd float64) float64 { return mean + sd*m.src.NormFloat64() }
func (m *maker) gamma(shape, rate float64) float64 {
	return distuv.Gamma{Alpha: shape, Beta: rate, Src: m.src}.Rand()
}
func (m *maker) poisson(mean float64) int {
	return int(distuv.Poisson{Lambda: mean, Src: m.src}.Rand())
}

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
	for f, flush := range flushes {
		p := priorsOf[flush]
		m.onsetSD[f] = math.Exp(m.normal(seasonOnsetPrior.Mean, seasonOnsetPrior.SD))
		m.curves[f] = curve{m.normal(p.onset.Mean, p.onset.SD), m.normal(p.length.Mean, p.length.SD), m.normal(p.a.Mean, p.a.SD), m.normal(p.b.Mean, p.b.SD)}
	}
	fall := priorsOf[crop.FlushFall].part
	m.part = math.Exp(m.normal(fall.Mean, fall.SD))
	return m
}

// grown draws G by day for one flush of one season.
func (m *maker) grown(flush int) []float64 {
	usual := m.curves[flush]
	c := curve{m.normal(usual.onset, m.onsetSD[flush]), math.Exp(m.normal(usual.length, seasonLengthSD)), math.Exp(usual.a), math.Exp(usual.b)}
	grown := make([]float64, 290)
	for day := range grown {
		grown[day] = m.gamma(m.precision*(c.share(float64(day))-c.share(float64(day-1)))+leastShape, m.precision)
	}
	return grown
}

// farmOf draws two beds over three seasons: in each of them plants that are counted, and some that only the bench totals
// hold; on some days a bed is cut to order, and a third of it left. The last season is known up to a day in its spring
// flush or before it.
func (m *maker) farmOf() madeUp {
	const seasons, first = 3, crop.Season(2023)
	made := madeUp{farm: crop.NewFarm(), came: map[crop.Date]float64{}}
	stock := crop.Stock{ID: "S"}
	made.farm.Stocks[stock.ID] = stock
	practice := yield.Practice()
	plantingSD := math.Exp(m.normal(practice.PlantingSD.Mean, practice.PlantingSD.SD))
	type bed struct {
		planting crop.Planting
		effect   float64
		plants   []crop.Plant
	}
	var beds []bed
	for b := range 2 {
		planting := crop.Planting{ID: crop.PlantingID(fmt.Sprint("P", b)), Stock: "S", Bed: crop.BedID(fmt.Sprint("B", b)), Planted: "2022-09-20", FirstSeason: first}
		if b == 1 {
			planting.Planted, planting.FirstSeason = "2023-09-20", first+1
		}
		made.farm.Beds[planting.Bed] = crop.Bed{ID: planting.Bed}
		made.farm.Plantings[planting.ID] = planting
		one := bed{planting: planting, effect: m.normal(0, plantingSD)}
		for k := range 25 {
			plant := crop.Plant{ID: crop.PlantID(fmt.Sprint("B", b, "-", k)), Planting: planting.ID, Counted: map[crop.Season]crop.Window{}}
			if k < 15 {
				for s := planting.FirstSeason; s < first+seasons; s++ {
					plant.Counted[s] = made.farm.Calendar.Span(s)
				}
			}
			made.farm.Plants[plant.ID] = plant
			one.plants = append(one.plants, plant)
		}
		beds = append(beds, one)
	}
	withFall := m.src.Float64() < 0.5
	for season := first; season < first+seasons; season++ {
		spring := made.farm.Calendar.Spring(season)
		grown := [2][]float64{m.grown(0), m.grown(1)}
		effect := m.normal(0, m.seasonSD)
		last := season == first+seasons-1
		until := 290
		if last {
			until = int(m.curves[0].onset) - 15 + m.src.IntN(55)
			made.asOf = spring.Add(until)
		}
		for _, b := range beds {
			age := int(season-b.planting.FirstSeason) + 1
			if age < 1 {
				continue
			}
			rates := make([]float64, len(b.plants))
			for k := range rates {
				rates[k] = m.gamma(m.size, m.size) * math.Exp(m.ages[age-1]+effect+b.effect)
				if k >= 15 {
					rates[k] *= math.Exp(m.uncounted)
				}
			}
			from := 0
			for day := 5 + m.src.IntN(4); from < 290; day += 2 + m.src.IntN(4) {
				day = min(day, 289)
				m.cut(&made, b.planting, b.plants, rates, grown, withFall, spring, from, day, until)
				from = day + 1
			}
		}
	}
	return made
}

// cut cuts a bed on a day: everything that opened since the day from. What is cut after the last day known is what came.
func (m *maker) cut(made *madeUp, planting crop.Planting, plants []crop.Plant, rates []float64, grown [2][]float64, withFall bool, spring crop.Date, from, day, until int) {
	date := spring.Add(day)
	toOrder := m.src.Float64() < 0.1 && day <= until
	bench := [2]int{}
	for k, plant := range plants {
		for f, flush := range flushes {
			if f == 1 && !withFall {
				continue
			}
			mean := 0.0
			for _, g := range grown[f][from : day+1] {
				mean += g
			}
			if f == 1 {
				mean *= m.part
			}
			if day > until {
				// The forecast thinks of every day's stems as cut that day; those that stood on its own as cut in its week.
				for d := from; d <= day; d++ {
					part := grown[f][d] * rates[k]
					if f == 1 {
						part *= m.part
					}
					made.came[spring.Add(max(d, until+1)).Monday()] += float64(m.poisson(part))
				}
				continue
			}
			stems := m.poisson(mean * rates[k])
			if toOrder && stems > 0 {
				stems -= int(distuv.Binomial{N: float64(stems), P: 1.0 / 3, Src: m.src}.Rand())
			}
			if stems == 0 {
				continue
			}
			bench[f] += stems
			if len(plant.Counted) == 0 {
				continue
			}
			made.add(crop.Visit{
				ID: crop.VisitID(fmt.Sprint(plant.ID, date, f)), Plant: plant.ID, Date: date, Purpose: crop.PurposeCut,
				Flush: flush, ToOrder: toOrder, Counts: []crop.Count{{Stems: stems}},
			})
		}
	}
	for f, flush := range flushes {
		if bench[f] > 0 && !toOrder {
			made.add(crop.Visit{
				ID: crop.VisitID(fmt.Sprint(planting.Bed, date, f)), Bed: planting.Bed, Date: date, Purpose: crop.PurposeBench,
				Flush: flush, Counts: []crop.Count{{Stems: bench[f]}},
			})
		}
	}
}

func (made *madeUp) add(v crop.Visit) { made.farm.Visits[v.ID] = v }

func TestForecastsOfMadeUpFarmsAreAsSureAsTheyMayBe(t *testing.T) {
	const seed = 41
	src := rand.New(rand.NewPCG(seed, 1))
	var pits [10]int
	inside, all, insideAll := 0, 0, 0
	crps, again, weeksScored, better := 0.0, 0.0, 0, 0
	for range *simulatedFarms {
		made := newMaker(src).farmOf()
		r := read(made.farm, made.asOf)
		weeks := weeksLeft(made.farm.Calendar, made.asOf)
		d, err := r.draw(weeks)
		if err != nil {
			t.Fatal(err)
		}
		total, came := make([]float64, len(d.total[0])), 0.0
		before := lastWeek(made)
		for w, monday := range weeks {
			for i, v := range d.total[w] {
				total[i] += v
			}
			came += made.came[monday]
			if w >= 6 {
				continue
			}
			pit := PIT(d.total[w], made.came[monday], src.Float64())
			pits[min(9, int(pit*10))]++
			all++
			if pit >= 0.05 && pit <= 0.95 {
				inside++
			}
			if w == 1 && before > 0 {
				score, plain := CRPS(d.total[w], made.came[monday]), math.Abs(before-made.came[monday])
				crps, again = crps+score, again+plain
				weeksScored++
				if score < plain {
					better++
				}
			}
		}
		if pit := PIT(total, came, src.Float64()); pit >= 0.05 && pit <= 0.95 {
			insideAll++
		}
	}
	n := float64(*simulatedFarms)
	weekly, whole := float64(inside)/float64(all), float64(insideAll)/n
	t.Logf("seed %d: 90 %% ranges hold %.1f %% of %d weeks and %.1f %% of %v seasons; PIT by tenths %v; in the flush the score is %.0f against %.0f of last week again, better in %d of %d",
		seed, 100*weekly, all, 100*whole, n, pits, crps/float64(weeksScored), again/float64(weeksScored), better, weeksScored)
	// Three standard errors: those of weeks of one farm are not independent, so of farms.
	slack := 3 * math.Sqrt(0.9*0.1/n)
	if math.Abs(whole-0.9) > slack || math.Abs(weekly-0.9) > slack {
		t.Errorf("seed %d: ranges hold %.3f of weeks and %.3f of seasons, want 0.9 within %.3f", seed, weekly, whole, slack)
	}
	if crps > 0.4*again {
		t.Errorf("seed %d: the score %.1f is not 60 %% better than last week again, %.1f", seed, crps, again)
	}
}

// lastWeek is what was cut in the seven days up to the day of the question, as far as told.
func lastWeek(made madeUp) float64 {
	sum := 0
	for _, v := range made.farm.Visits {
		if v.Purpose == crop.PurposeBench && v.Date > made.asOf.Add(-7) {
			sum += v.Stems()
		}
	}
	return float64(sum)
}
