package forecast

import (
	"math/rand/v2"
	"testing"
)

func TestACutToOrderLeavesMoreTheLessItTookOfWhatMayHaveStood(t *testing.T) {
	cases := []struct {
		name           string
		took, mean     float64
		atLeast, below float64 // left, on average
	}{
		{"as much as may have stood", 30, 30, 1, 6},
		{"two in three", 20, 30, 6, 12},
		{"a third", 10, 30, 12, 20},
		{"of a day on which hardly anything stood", 3, 0.1, 0, 0.1},
	}
	for _, c := range cases {
		s := &sampler{src: rand.New(rand.NewPCG(1, 1))}
		const draws = 4000
		of, sum := &seen{taken: takenPrior.mean()}, 0.0
		for range draws {
			sum += s.left(of, c.took, c.mean)
		}
		if left := sum / draws; left < c.atLeast || left > c.below {
			t.Errorf("%s: %.2f are left, want %v to %v", c.name, left, c.atLeast, c.below)
		}
	}
}
