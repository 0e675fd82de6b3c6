package forecast

import (
	"math"
	"testing"
)

// TestWhatIsDrawnOfSeasonsLiesAboutWhatTheyAre is simulation-based calibration by its first two moments (Talts et al. 2018,
// arXiv:1804.06788): of farms drawn from the prior, what is true lies about the mean of what is drawn as far as that is told.
func TestWhatIsDrawnOfSeasonsLiesAboutWhatTheyAre(t *testing.T) {
	const kept = 250
	type told struct {
		name       string
		n, z, zSqr float64
	}
	onset, length := &told{name: "the last season's onset"}, &told{name: "the usual length"}
	add := func(to *told, truth float64, drawn []float64) {
		mean, squares := mean(drawn), 0.0
		for _, d := range drawn {
			squares += (d - mean) * (d - mean)
		}
		z := (truth - mean) / math.Sqrt(squares/float64(len(drawn)))
		to.n, to.z, to.zSqr = to.n+1, to.z+z, to.zSqr+z*z
	}
	for i := *firstFarm; i < *firstFarm+4**simulatedFarms; i++ {
		m := makerOf(i)
		f := m.farmOf()
		r := read(f.farm, f.asOf)
		s := newSampler(r.stands()[0].cohorts, r.timing, sourceOf(i))
		p := s.processOf("S0", f.last.season, 0)
		if p == nil {
			continue
		}
		s.warmUp(usual.warmUp)
		var onsets, lengths []float64
		for range kept {
			s.sweep()
			onsets = append(onsets, s.curves.of(p).onset)
			lengths = append(lengths, s.curves.flushes[0].usual.length)
		}
		add(onset, f.last.curves[0]["S0"].onset, onsets)
		add(length, m.curves[0].length, lengths)
	}
	for _, of := range []*told{onset, length} {
		bias, spread := of.z/of.n, of.zSqr/of.n
		t.Logf("%s, %.0f farms from %d: off by %.2f of what is told, squares %.2f", of.name, of.n, *firstFarm, bias, spread)
		// Three standard errors; and squares a quarter above 1 by the few draws that so short a run is worth.
		if slack := 3 / math.Sqrt(of.n); math.Abs(bias) > 0.2+slack || spread > 1.25+math.Sqrt2*slack {
			t.Errorf("%s is told too surely: off by %.2f, squares %.2f", of.name, bias, spread)
		}
	}
}
