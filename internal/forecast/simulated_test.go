package forecast

import (
	"flag"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"corymb/internal/crop"
)

var (
	simulatedFarms = flag.Int("forecast.farms", 10, "how many made-up farms are forecast; 500 is the long proof")
	longer         = flag.Int("forecast.longer", 0, "forecast each also by samplers that run so many times as long")
	firstFarm      = flag.Int("forecast.first", 1, "the first of these farms, each its own seed")
)

// made is the i-th made-up farm, and the forecast of it.
type forecastMade struct {
	maker *maker
	madeUp
	weeks []crop.Date
	draws
}

// makerOf is the maker of the i-th farm, and sourceOf draws for it what is not the farm's.
func makerOf(i int) *maker { return newMaker(rand.New(rand.NewPCG(uint64(i), 1))) }

func sourceOf(i int) rand.Source { return rand.NewPCG(uint64(i), 2) }

func forecastOfMadeUp(t *testing.T, i int) forecastMade {
	t.Helper()
	m := makerOf(i)
	f := forecastMade{maker: m, madeUp: m.farmOf()}
	f.weeks = weeksLeft(f.farm.Calendar, f.asOf)
	f.draws = f.sampled(t, usual)
	return f
}

func (f *forecastMade) sampled(t *testing.T, e effort) draws {
	t.Helper()
	d, err := read(f.farm, f.asOf).drawSome(f.weeks, e, func(int) bool { return false })
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// coverage gathers where what came lies in forecasts.
type coverage struct {
	n, inside int
	tenths    [10]int
}

func (c *coverage) add(pit float64) {
	c.n++
	c.tenths[min(9, int(pit*10))]++
	if pit >= 0.05 && pit <= 0.95 {
		c.inside++
	}
}

func (c *coverage) held() float64 { return float64(c.inside) / float64(c.n) }

// scoredWeeks are so many from the day of the question on: those for which stems are promised.
const scoredWeeks = 6

func TestForecastsOfMadeUpFarmsAreAsSureAsTheyMayBe(t *testing.T) {
	const truths = 100
	var weekly, whole, firsts coverage
	var crps, full, truth, inFlush, again, worst float64
	worstFarm := 0
	for i := *firstFarm; i < *firstFarm+*simulatedFarms; i++ {
		f := forecastOfMadeUp(t, i)
		known := f.maker.truths(&f.madeUp, f.weeks, truths)
		long := f.total
		if *longer > 0 {
			long = f.sampled(t, effort{usual.chains, usual.warmUp * *longer, usual.kept * *longer, usual.apart, 1}).total
		}
		total, came := make([]float64, len(f.total[0])), 0.0
		before := lastWeek(f.madeUp)
		for w, monday := range f.weeks {
			for k, v := range f.total[w] {
				total[k] += v
			}
			came += f.came[monday]
			if w >= scoredWeeks {
				continue
			}
			weekly.add(PIT(f.total[w], f.came[monday], f.maker.src.Float64()))
			score, best := CRPS(f.total[w], f.came[monday]), CRPS(known[w], f.came[monday])
			crps, truth = crps+score, truth+best
			if over := score - best; over > worst {
				worst, worstFarm = over, i
			}
			full += CRPS(long[w], f.came[monday])
			if w == 1 && before > 0 {
				inFlush, again = inFlush+score, again+math.Abs(before-f.came[monday])
			}
		}
		f.firstCuts(&firsts)
		whole.add(PIT(total, came, f.maker.src.Float64()))
	}
	t.Logf("farms from %d: 90 %% ranges hold %.1f %% of %d weeks, PIT by tenths %v, and %.1f %% of %d seasons, %v",
		*firstFarm, 100*weekly.held(), weekly.n, weekly.tenths, 100*whole.held(), whole.n, whole.tenths)
	t.Logf("90 %% ranges of first cuts hold %.1f %% of %d, %v", 100*firsts.held(), firsts.n, firsts.tenths)
	t.Logf("mean score %.2f, sampled longer %.2f, of one who knows the farm %.2f; in the flush %.0f %% better than last week again; farthest off is farm %d, by %.0f", crps/float64(weekly.n), full/float64(weekly.n), truth/float64(weekly.n), 100*(1-inFlush/again), worstFarm, worst)
	// Three standard errors: those of weeks of one farm are not independent, so of farms.
	slack := 3 * math.Sqrt(0.9*0.1/float64(*simulatedFarms))
	if math.Abs(whole.held()-0.9) > slack || math.Abs(weekly.held()-0.9) > slack || math.Abs(firsts.held()-0.9) > slack {
		t.Errorf("farms from %d: ranges hold %.3f of weeks, %.3f of seasons and %.3f of first cuts, want 0.9 within %.3f",
			*firstFarm, weekly.held(), whole.held(), firsts.held(), slack)
	}
	if inFlush > 0.4*again {
		t.Errorf("farms from %d: the score %.1f is not 60 %% better than last week again, %.1f", *firstFarm, inFlush, again)
	}
}

// firstCuts adds where the first cuts that came lie in what was drawn of them, of flushes of which nothing was told.
func (f *forecastMade) firstCuts(of *coverage) {
	asOf := f.last.spring.DaysTo(f.asOf)
	began := read(f.farm, f.asOf).begun()
	for flush := range flushes {
		for _, stock := range sortedKeys(f.last.curves[flush]) {
			key := stockFlush{stock, flush}
			day := f.last.clock.day(f.last.curves[flush][stock].begins())
			if began[key] || flush == 1 && !f.last.fall || day <= float64(asOf) || day > madeDays || len(f.begins[key]) < leastDraws {
				continue
			}
			drawn := slices.DeleteFunc(slices.Clone(f.begins[key]), func(d float64) bool { return d <= float64(asOf) })
			of.add(PIT(drawn, day, f.maker.src.Float64()))
		}
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
