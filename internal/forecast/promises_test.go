package forecast

import (
	"flag"
	"math"
	"slices"
	"testing"
)

var promisedFarms = flag.Int("forecast.promises", 8, "of how many made-up farms stems are promised; 2000 is the long proof")

// promises gathers what was stated of promises, and how many were kept.
type promises struct {
	n              int
	stated, keptOf float64
}

func (p *promises) add(chance float64, kept bool) {
	p.n++
	p.stated += chance
	if kept {
		p.keptOf++
	}
}

// off is how much oftener they were kept than was stated.
func (p *promises) off() float64 { return (p.keptOf - p.stated) / float64(max(p.n, 1)) }

func TestPromisesAreKeptAsOftenAsIsStated(t *testing.T) {
	const weeksAhead, bins = 4, 5
	var all, most promises
	var byChance [bins]promises
	for i := *firstFarm; i < *firstFarm+*promisedFarms; i++ {
		f := forecastOfMadeUp(t, i)
		for w, drawn := range f.total[:weeksAhead] {
			came := f.came[f.weeks[w]]
			// Some number about what may come, asked for by the end of the week.
			asked := math.Round((0.6 + 0.8*f.maker.src.Float64()) * drawn[f.maker.src.IntN(len(drawn))])
			if chance := atLeast(drawn, asked); asked > 0 {
				all.add(chance, came >= asked)
				byChance[min(int(bins*chance), bins-1)].add(chance, came >= asked)
			}
			if sure := surest(drawn, 0.9); sure > 0 {
				most.add(atLeast(drawn, sure), came >= sure)
			}
		}
	}
	t.Logf("farms from %d: %d asks, stated %.1f %%, kept %.1f %%", *firstFarm, all.n, 100*all.stated/float64(all.n), 100*all.keptOf/float64(all.n))
	for k, p := range byChance {
		t.Logf("stated from %d %%: %d asks, stated %.1f %%, kept %.1f %%", 100*k/bins, p.n, 100*p.stated/float64(p.n), 100*p.keptOf/float64(p.n))
	}
	t.Logf("the most at nine in ten: %d asks, stated %.1f %%, kept %.1f %%", most.n, 100*most.stated/float64(most.n), 100*most.keptOf/float64(most.n))
	// Two points, and three standard errors of so few farms.
	slack := func(chance float64) float64 {
		return 0.02 + 3*math.Sqrt(chance*(1-chance)/float64(*promisedFarms))
	}
	if math.Abs(all.off()) > slack(0.5) || math.Abs(most.off()) > slack(0.9) {
		t.Errorf("promises were kept by %.3f too often, those at nine in ten by %.3f", all.off(), most.off())
	}
}

// atLeast is the chance that so many come.
func atLeast(drawn []float64, n float64) float64 {
	there := 0
	for _, v := range drawn {
		if v >= n {
			there++
		}
	}
	return float64(there) / float64(len(drawn))
}

// surest is the most that comes with a chance.
func surest(drawn []float64, chance float64) float64 {
	sorted := slices.Sorted(slices.Values(drawn))
	return sorted[int(math.Floor((1-chance)*float64(len(sorted))))]
}
