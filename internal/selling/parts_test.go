package selling_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"corymb/internal/selling"
)

func TestPartsAddUpToTheWhole(t *testing.T) {
	for _, c := range []struct {
		name    string
		whole   int64
		weights []int64
		want    []int64
	}{
		{"even parts", 100, []int64{1, 1, 2}, []int64{25, 25, 50}},
		{"the largest remainder has the cent", 100, []int64{1, 2, 4}, []int64{14, 29, 57}},
		{"the first of equal remainders", 100, []int64{1, 1, 1}, []int64{34, 33, 33}},
		{"what went", -100, []int64{1, 1, 1}, []int64{-34, -33, -33}},
		{"no weight", 7, []int64{0, 0}, []int64{7, 0}},
		{"nothing is split", 7, nil, []int64{}},
		{"a product beyond 64 bits", 9_000_000_000_000_000, []int64{3_000_000_000_000, 1_000_000_000_000}, []int64{6_750_000_000_000_000, 2_250_000_000_000_000}},
	} {
		if got := selling.PartsOf(c.whole, c.weights); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestPartsOfAnythingAddUp(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	src := rand.New(rand.NewPCG(seed, 1))
	for range 2000 {
		whole, weights := src.Int64N(2_000_001)-1_000_000, make([]int64, 1+src.IntN(20))
		all := int64(0)
		for i := range weights {
			weights[i] = src.Int64N(1000) * src.Int64N(2)
			all += weights[i]
		}
		sum := int64(0)
		for i, part := range selling.PartsOf(whole, weights) {
			sum += part
			if share := float64(whole) * float64(weights[i]) / float64(all); all > 0 && (float64(part) > share+1 || float64(part) < share-1) {
				t.Fatalf("%d by %v: part %d is %d", whole, weights, i, part)
			}
		}
		if sum != whole {
			t.Fatalf("%d by %v: parts come to %d", whole, weights, sum)
		}
	}
}
