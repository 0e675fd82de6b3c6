package yield

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// Each part of the stems model is there because leaving it out answers wrongly.

// evenFarm is n counted plants of one planting and season that gave what counts say.
func evenFarm(counts ...int) plot {
	p := newPlot()
	p.set("a", "yarrow", "A", 2024, len(counts))
	for i, n := range counts {
		id := crop.PlantID(fmt.Sprint("a", i+1))
		p.count(id, 2024)
		p.cut(id, "2024-05-20", stems("", n))
	}
	return p
}

func TestWhatWasCutToOrderRaisesTheEstimate(t *testing.T) {
	counts := []int{12, 15, 9, 14, 11, 16, 8, 13}
	whole := ageOf(t, mustReport(t, evenFarm(counts...).Farm, Options{}), 1).Stems
	bounded := evenFarm(counts...)
	for id, v := range bounded.Visits {
		v.ToOrder = v.Plant <= "a4"
		bounded.Visits[id] = v
	}
	got := ageOf(t, mustReport(t, bounded.Farm, Options{}), 1).Stems
	if got.Mean < 1.15*whole.Mean || got.Hi < 1.2*whole.Hi {
		t.Errorf("with half of the plants cut to order %.1f (to %.1f), and all cut clean %.1f (to %.1f)", got.Mean, got.Hi, whole.Mean, whole.Hi)
	}
}

func TestAPartSeenSeasonCountsForItsPart(t *testing.T) {
	p := newPlot()
	p.set("a", "yarrow", "A", 2024, 30)
	for i := 1; i <= 30; i++ {
		id := crop.PlantID(fmt.Sprint("a", i))
		p.count(id, 2024)
		p.cut(id, "2024-05-20", stems("", 5))
		if i > 15 { // the others' windows end before the second day of cutting, on which as much is cut
			p.Plants[id].Counted[2024] = crop.Window{From: "2024-04-01", To: "2024-05-30"}
			continue
		}
		p.cut(id, "2024-06-20", stems("", 5))
	}
	a := ageOf(t, mustReport(t, p.Farm, Options{}), 1)
	// Ten stems a plant; taken for whole, the mean of all would be 7.5.
	within(t, "mean", float64(a.Stems.Mean), 8.6, 11)
}

func TestBenchTotalsMoveTheEstimate(t *testing.T) {
	lay := func(total int) Stems {
		p := evenFarm(10, 14, 8, 12)
		for i := 5; i <= 60; i++ {
			id := crop.PlantID(fmt.Sprint("a", i))
			p.Plants[id] = crop.Plant{ID: id, Code: string(id), Planting: "a", Counted: map[crop.Season]crop.Window{}}
		}
		if total > 0 {
			p.bench("A", "2024-05-20", stems("", total))
		}
		return ageOf(t, mustReport(t, p.Farm, Options{}), 1).Stems
	}
	none, few, many := lay(0), lay(450), lay(900)
	// 56 uncounted plants gave 406 and 856 stems: 7 and 15 each.
	within(t, "mean with 450", float64(few.Mean), 7, 8.5)
	within(t, "mean with 900", float64(many.Mean), 13.5, 15.5)
	if few.Hi-few.Lo > 0.6*(none.Hi-none.Lo) {
		t.Errorf("%.1f to %.1f with a total of all, %.1f to %.1f without", few.Lo, few.Hi, none.Lo, none.Hi)
	}
}

// Eight beds that differ by sd 0.2 on the log scale, twelve plants of each: plants taken for independent give
// an interval for the mean of all such beds that holds it far too seldom (the design's own simulation: 59 in
// 100); the model's for another bed holds it.
func TestBedsThatDifferWidenTheIntervalOfTheMean(t *testing.T) {
	t.Logf("seed %d", seed)
	const farms, beds, plants, mean, size = 30, 8, 12, 20.0, 4.0
	alone, whole := 0, 0
	for k := range farms {
		source := rand.New(rand.NewPCG(seed, uint64(1000+k)))
		p := newPlot()
		var values []float64
		for b := range beds {
			id := crop.PlantingID(rune('a' + b))
			p.set(id, "yarrow", crop.BedID(rune('A'+b)), 2023, plants)
			shift := 0.2 * source.NormFloat64()
			for i := 1; i <= plants; i++ {
				plant := crop.PlantID(fmt.Sprint(id, i))
				n := negBinCount(source, mean*math.Exp(shift), size)
				p.count(plant, 2024)
				p.cut(plant, "2024-05-20", stems("", n))
				values = append(values, float64(n))
			}
		}
		truth := mean * math.Exp(0.2*0.2/2)
		lo, hi := independentInterval(values)
		if lo <= truth && truth <= hi {
			alone++
		}
		a := ageOf(t, mustReport(t, p.Farm, Options{}), 2)
		if float64(a.Ahead.Lo) <= truth && truth <= float64(a.Ahead.Hi) {
			whole++
		}
	}
	t.Logf("plants taken for independent: %d of %d held; with beds: %d", alone, farms, whole)
	if alone > 24 || whole < 26 {
		t.Errorf("plants taken for independent hold the mean %d times of %d, with beds %d", alone, farms, whole)
	}
}

func independentInterval(values []float64) (lo, hi float64) {
	n, sum, squares := float64(len(values)), 0.0, 0.0
	for _, v := range values {
		sum += v
		squares += v * v
	}
	mean := sum / n
	se := math.Sqrt((squares/n - mean*mean) / (n - 1))
	return mean - wald*se, mean + wald*se
}

// The best tenth of one season falls back in the next: by what the plants gave alone one would promise far too
// much of them, by the model's shrunken effects about what they then give.
func TestTheBestTenthIsNotTakenAtItsWord(t *testing.T) {
	t.Logf("seed %d", seed)
	source := rand.New(rand.NewPCG(seed, 40))
	const plants, mean, size, sd = 200, 20.0, 3.0, 0.35
	counts, next := make([]int, plants), make([]float64, plants)
	for i := range counts {
		rate := mean * math.Exp(sd*source.NormFloat64())
		counts[i] = negBinCount(source, rate, size)
		next[i] = float64(negBinCount(source, rate, size))
	}
	p := evenFarm(counts...)
	report := mustReport(t, p.Farm, Options{})
	times := map[crop.PlantID]float64{}
	for _, w := range report.Plants {
		times[w.Plant] = float64(w.Times.Mean)
	}
	cut := stats.Quantile(floats(counts), 0.9)
	var own, model, gave, best float64
	for i, n := range counts {
		if float64(n) < cut {
			continue
		}
		best++
		own += float64(n)
		model += times[crop.PlantID(fmt.Sprint("a", i+1))]
		gave += next[i]
	}
	middle := float64(ageOf(t, report, 1).Stems.Mean) / math.Exp(sd*sd/2)
	t.Logf("the best %g gave %.1f, then %.1f; the model promises %.1f", best, own/best, gave/best, middle*model/best)
	if own/gave < 1.4 {
		t.Errorf("the best tenth gave %.1f and then %.1f: no case for shrinking", own/best, gave/best)
	}
	within(t, "promised over given", middle*model/gave, 0.8, 1.25)
}

func floats(counts []int) []float64 {
	values := make([]float64, len(counts))
	for i, n := range counts {
		values[i] = float64(n)
	}
	return values
}
