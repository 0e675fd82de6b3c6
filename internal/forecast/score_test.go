package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.12g, want %.12g within %g", what, got, want, within)
	}
}

// The score is by definition the sum over k of (F(k) - 1{came <= k})^2 (Gneiting and Raftery 2007, equation 20, for
// whole numbers).
func TestTheScoreOfANegativeBinomialIsItsSum(t *testing.T) {
	for _, mean := range []float64{0.01, 0.7, 3, 24, 310} {
		for _, size := range []float64{0.2, 1, 1.6, 7.3, 60} {
			for _, came := range []int{0, 1, 5, 40, 700} {
				what := fmt.Sprintf("mean %v, size %v, %d came", mean, size, came)
				want := summed(mean, size, came)
				near(t, what, NegativeBinomialCRPS(mean, size, came), want, 1e-8*max(1, want))
			}
		}
	}
}

// summed adds up probabilities by their recursion p(k+1) = p(k) (k+r)/(k+1) (1-p), apart from any function of the package.
func summed(mean, size float64, came int) float64 {
	p := size / (size + mean)
	density := math.Exp(size * math.Log(p))
	below, sum := 0.0, 0.0
	for k := 0; k <= came || 1-below > 1e-14; k++ {
		below += density
		step := below
		if k >= came {
			step = 1 - below
		}
		sum += step * step
		density *= (float64(k) + size) / (float64(k) + 1) * (1 - p)
		if k > 1_000_000 {
			break
		}
	}
	return sum
}

func TestTheScoreOfDrawsComesNearThatOfTheirDistribution(t *testing.T) {
	const seed, mean, size = 11, 24.0, 1.6
	source := rand.NewPCG(seed, 1)
	draws := make([]float64, 400_000)
	for i := range draws {
		rate := distuv.Gamma{Alpha: size, Beta: size / mean, Src: source}.Rand()
		draws[i] = distuv.Poisson{Lambda: rate, Src: source}.Rand()
	}
	for _, came := range []int{0, 20, 90} {
		near(t, fmt.Sprintf("seed %d, %d came", seed, came), CRPS(draws, float64(came)), NegativeBinomialCRPS(mean, size, came), 0.05)
	}
}

func TestTheScoreOfDraws(t *testing.T) {
	tests := []struct {
		name  string
		draws []float64
		came  float64
		want  float64
	}{
		{"one draw is off by its error", []float64{7}, 4, 3},
		{"all alike are", []float64{7, 7, 7}, 9, 2},
		{"two draws on either side", []float64{10, 2}, 6, 4 - 2},
		{"three draws", []float64{3, 1, 2}, 2, 2.0/3 - 4.0/9},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) { near(t, "score", CRPS(test.draws, test.came), test.want, 1e-12) })
	}
}

func TestWhereWhatCameLiesIsUniformOverTies(t *testing.T) {
	draws := []float64{0, 0, 0, 5}
	near(t, "the lowest of a tie", PIT(draws, 0, 0), 0, 0)
	near(t, "the highest of a tie", PIT(draws, 0, 1), 4.0/5, 1e-12)
	near(t, "between", PIT(draws, 3, 0.5), 3.5/5, 1e-12)
	near(t, "above all", PIT(draws, 9, 1), 1, 1e-12)
}
