package counting

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/yield"
)

const (
	seed  = 20260611
	level = 0.9
)

// season draws a season's totals of the plants of an age.
func season(source *rand.Rand, d yield.PlanDraw, plants int) []float64 {
	totals := make([]float64, plants)
	for i := range totals {
		own := math.Exp(d.PlantSD*source.NormFloat64() - d.PlantSD*d.PlantSD/2)
		rate := distuv.Gamma{Alpha: d.Size, Beta: d.Size / d.Mean, Src: source}.Rand() * own
		totals[i] = distuv.Poisson{Lambda: rate, Src: source}.Rand()
	}
	return totals
}

func meanAndVariance(totals []float64) (mean, variance float64) {
	for _, y := range totals {
		mean += y / float64(len(totals))
	}
	for _, y := range totals {
		variance += (y - mean) * (y - mean) / float64(len(totals)-1)
	}
	return mean, variance
}

// finite is Cochran's correction.
func finite(n, standing int) float64 { return math.Sqrt(1 - float64(n)/float64(standing)) }

// The approximation against what it approximates, at its own 10th to 95th percentiles: as many farms as
// make a chance of one half known to 0.035 (3.5 standard errors).
func TestAssuranceIsThatOfSimulatedFarms(t *testing.T) {
	t.Logf("seed %d", seed)
	source := rand.New(rand.NewPCG(seed, 0))
	const farms, noise = 2500, 0.035
	for _, c := range []struct {
		name        string
		draw        yield.PlanDraw
		n, standing int
		off         float64 // what the approximation may be off, noise aside
	}{
		{"a first season", yield.PlanDraw{Mean: 8, Size: 2}, 24, 200, 0.01},
		{"a second season", yield.PlanDraw{Mean: 22, Size: 2}, 85, 1000, 0.01},
		{"most of a small bed", yield.PlanDraw{Mean: 22, Size: 2}, 30, 40, 0.01},
		{"plants that differ wildly", yield.PlanDraw{Mean: 20, Size: 0.8}, 40, 300, 0.015},
		{"plants that hardly differ", yield.PlanDraw{Mean: 20, Size: 10}, 15, 300, 0.01},
		{"few stems", yield.PlanDraw{Mean: 1, Size: 0.5}, 30, 300, 0.03},
		{"few plants", yield.PlanDraw{Mean: 22, Size: 2}, 5, 100, 0.05},
		{"an own effect of the plant", yield.PlanDraw{Mean: 23, Size: 6, PlantSD: 0.34}, 60, 300, 0.015},
		{"a strong own effect", yield.PlanDraw{Mean: 20, Size: 3, PlantSD: 0.6}, 60, 300, 0.06},
	} {
		t.Run(c.name, func(t *testing.T) {
			spreads := []spread{spreadOf(c.draw)}
			student := halfWidth(level, 1, c.n)
			halves := make([]float64, farms)
			for i := range halves {
				_, variance := meanAndVariance(season(source, c.draw, c.n))
				halves[i] = student * math.Sqrt(variance) * finite(c.n, c.standing)
			}
			worst := 0.0
			for _, wanted := range []float64{0.1, 0.3, 0.5, 0.8, 0.9, 0.95} {
				half := samplesOf(spreads, level, c.n).half(wanted) * finite(c.n, c.standing)
				kept := 0.0
				for _, h := range halves {
					if h <= half {
						kept += 1.0 / farms
					}
				}
				worst = max(worst, math.Abs(kept-wanted))
				if math.Abs(kept-wanted) > c.off+noise {
					t.Errorf("%d plants of %d: ±%.2f was kept by %.3f of the farms, the plan says %.2f", c.n, c.standing, half, kept, wanted)
				}
			}
			t.Logf("off by %.3f at most", worst)
		})
	}
}

// A farm is drawn, then its sample: the assurance is over both.
func TestAssuranceHoldsOverFarmsThatAreNotKnown(t *testing.T) {
	t.Logf("seed %d", seed)
	source := rand.New(rand.NewPCG(seed, 1))
	draws, _, err := yield.PlanDraws(yield.Report{}, 2)
	if err != nil {
		t.Fatal(err)
	}
	const farms, n = 4000, 40
	student := halfWidth(level, 1, n)
	for _, wanted := range []float64{0.2, 0.5, 0.8, 0.95} {
		half := samplesOf(spreadsOf(draws), level, n).half(wanted)
		kept := 0.0
		for range farms {
			_, variance := meanAndVariance(season(source, draws[source.IntN(len(draws))], n))
			if student*math.Sqrt(variance) <= half {
				kept += 1.0 / farms
			}
		}
		t.Logf("assurance %.2f: ±%.1f, kept by %.3f", wanted, half, kept)
		if math.Abs(kept-wanted) > 0.04 {
			t.Errorf("±%.2f was kept by %.3f of the farms, the plan says %.2f", half, kept, wanted)
		}
	}
}

// The interval itself, of the mean of the plants that stand, with the finite-population correction:
// plants drawn at random, one from each stretch of the bed as the phone draws them. Counts are skew, so
// that few plants hold the mean a little less often than said.
func TestTheIntervalHoldsTheMeanOfThePlantsThatStand(t *testing.T) {
	t.Logf("seed %d", seed)
	source := rand.New(rand.NewPCG(seed, 2))
	const farms = 3000
	for _, c := range []struct {
		name        string
		draw        yield.PlanDraw
		n, standing int
		drift       float64 // of the log mean from one end of the bed to the other
		least, most float64
	}{
		{"85 of 300", yield.PlanDraw{Mean: 22, Size: 2}, 85, 300, 0, 0.88, 0.915},
		{"30 of 40", yield.PlanDraw{Mean: 22, Size: 2}, 30, 40, 0, 0.86, 0.915},
		{"12 of 100", yield.PlanDraw{Mean: 8, Size: 2}, 12, 100, 0, 0.84, 0.91},
		{"a bed that is richer at one end", yield.PlanDraw{Mean: 22, Size: 6}, 40, 200, 1.2, 0.90, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			held := 0.0
			half := halfWidth(level, 1, c.n) * finite(c.n, c.standing)
			for range farms {
				bed := make([]float64, c.standing)
				for i := range bed {
					along := float64(i)/float64(c.standing-1) - 0.5
					at := c.draw
					at.Mean *= math.Exp(c.drift * along)
					bed[i] = season(source, at, 1)[0]
				}
				truth, _ := meanAndVariance(bed)
				sample := make([]float64, c.n)
				for i := range sample {
					from, to := i*c.standing/c.n, (i+1)*c.standing/c.n
					sample[i] = bed[from+source.IntN(to-from)]
				}
				mean, variance := meanAndVariance(sample)
				if math.Abs(mean-truth) <= half*math.Sqrt(variance) {
					held += 1.0 / farms
				}
			}
			t.Logf("held %.3f", held)
			if held < c.least || held > c.most {
				t.Errorf("the mean was held by %.3f of the intervals, want %.2f to %.3f", held, c.least, c.most)
			}
		})
	}
}
