package forecast

import (
	"math/rand/v2"
	"testing"

	"corymb/internal/crop"
)

func TestASamplerBeginsWhereTheStemsLie(t *testing.T) {
	for _, first := range []crop.Date{"2025-03-20", "2025-05-20", "2025-06-25"} {
		t.Run(string(first), func(t *testing.T) {
			farm := twoColours(0)
			for k, stems := range []int{10, 40, 80, 90, 80, 50, 30, 16, 6} {
				bench(farm, first.Add(4*k), crop.Count{Stems: stems})
			}
			r := read(farm, first.Add(50))
			s := newSampler(r.cohorts, r.timing, rand.NewPCG(1, 1))
			middle := float64(r.day(first)) + 14
			for _, p := range s.processes {
				c := s.curves.of(p)
				if p.flush == 0 && p.season == 2025 && (c.share(middle-21) > 0.2 || c.share(middle+21) < 0.8) {
					t.Errorf("three weeks before and after the middle %.2f and %.2f have opened", c.share(middle-21), c.share(middle+21))
				}
			}
		})
	}
}
