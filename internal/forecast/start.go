package forecast

import (
	"math"

	"corymb/internal/stats"
)

// A flush that is over may as well be a few stragglers before a far greater one: a sampler that begins there does not find
// back. So each season's flush begins where it fits best what was cut.

// The days by which a season's flush is tried earlier or later than the usual one, and how far apart seasons are taken to be.
const startReach, startStep, startSD = 75, 3, 20.0

// start moves each season's onset to where its stems lie, and the levels to what these come to.
func (s *sampler) start() {
	for _, p := range s.processes {
		before := 0
		for k, end := range p.ends { // as if it grew evenly over a year
			p.grown[k] = float64(max(end-before, 1)) / 365
			before = end
		}
	}
	s.shareOut()
	for f := range flushes {
		for _, shift := range s.curves.flushes[f].inOrder {
			best, at := math.Inf(-1), 0.0
			for by := -startReach; by <= startReach; by += startStep {
				shift.onset = float64(by)
				fit := logOf(stats.Normal{SD: startSD}, shift.onset)
				for _, p := range shift.processes {
					fit += s.likeness(p)
				}
				if fit > best {
					best, at = fit, shift.onset
				}
			}
			shift.onset = at
		}
	}
	for _, p := range s.processes {
		p.eachCell(s.curves.of(p), func(k int, share float64) { p.grown[k] = share })
	}
	s.levels.climb(s)
}

// climb takes the levels to where they are likeliest: steps between points near there are taken, but from far off none, and
// the size of plants would then make up for it.
func (l *levels) climb(s *sampler) {
	const steps, halvings = 20, 6
	for range steps {
		here, ok := l.propose(s, l.at)
		if !ok {
			return
		}
		there := here.mean.RawVector().Data
		for range halvings {
			if next, ok := l.propose(s, there); ok && next.density > here.density {
				break
			}
			for k := range there {
				there[k] = (there[k] + l.at[k]) / 2
			}
		}
		l.at = there
	}
}

// startLevelSD is how far the season's level is taken to lie from the usual one, on the log scale.
const startLevelSD = 0.5

// likeness is how well a curve fits the stems that were seen: as the log likelihood of a multinomial of as many stems as tell
// anything, where weeks differ by what the weather makes of them, less for a flush of which so little was seen that the
// season would have to be a huge one. Without either, stragglers of a flush to come fit a flush that is over but is longer
// than usual better than that flush does.
func (s *sampler) likeness(p *process) float64 {
	all, stems, sum := 0.0, 0.0, 0.0
	p.eachCell(s.curves.of(p), func(k int, share float64) {
		all += max(share, leastShape)
		stems += p.stems[k]
		if p.stems[k] > 0 {
			sum += p.stems[k] * math.Log(max(share, leastShape))
		}
	})
	if stems == 0 {
		return 0
	}
	alike := 1 / (1 + stems/s.curves.precision())
	return alike*(sum-stems*math.Log(all)) + logOf(stats.Normal{SD: startLevelSD}, math.Log(all))
}
