package forecast

import (
	"math"

	"corymb/internal/crop"
)

// drawnTiming is when the flushes of the season asked about come in one draw.
type drawnTiming struct {
	clock clock
	// curves are by flush and stock; none of a flush that does not come.
	curves [2]map[crop.StockID]curve
	// spring is the day on which the spring flush begins, and later how many days that is behind the usual season.
	spring, later float64
}

func (s *sampler) timingAhead(a ahead) drawnTiming {
	t := drawnTiming{clock: s.timing.clock(s)}
	spring := s.shift(a, 0)
	t.curves[0] = s.curvesAhead(a, 0, spring, math.NaN())
	t.curves[1] = s.fallAhead(a, t.clock)
	usual := s.curves.flushes[0].usual.onset
	t.spring = t.clock.day(usual + spring.onset)
	t.later = t.spring - usual
	return t
}

// shift is that of the season asked about: as it stands where it is among those that were seen, else drawn.
func (s *sampler) shift(a ahead, flush int) shift {
	f := &s.curves.flushes[flush]
	if season := f.seasons[a.season]; season != nil {
		return season.shift
	}
	sd := f.seasonSD(s.timing.kind(a.season, flush))
	return shift{sd * s.src.NormFloat64(), seasonLengthSD * s.src.NormFloat64()}
}

// curvesAhead are a flush's by stock in the season asked about, which perhaps will be cut back on a day.
func (s *sampler) curvesAhead(a ahead, flush int, by shift, will float64) map[crop.StockID]curve {
	f, curves := &s.curves.flushes[flush], map[crop.StockID]curve{}
	for i := range s.cohorts {
		c := &s.cohorts[i]
		if _, there := curves[c.stock]; there || c.season != a.season {
			continue
		}
		later := 0.0
		switch stock := f.stocks[c.stock]; {
		case stock != nil:
			later = stock.onset
		case len(f.stocks) == 1: // whose shift is in the usual onset, so that from there it is the way between two stocks
			later = math.Sqrt2 * stockOnsetPrior.SD * s.src.NormFloat64()
		case s.stocks > 1: // with one alone, its shift is in the usual onset
			later = stockOnsetPrior.SD * s.src.NormFloat64()
		}
		cutBack := s.timing.cutBackOf(c.stock, a.season, flush)
		if math.IsNaN(cutBack) {
			cutBack = will
		}
		curves[c.stock] = f.usual.shifted(cutBack, shift{by.onset + later, by.length})
	}
	return curves
}

// fallAhead draws the fall flush's curves; none where it does not come. Whether one comes of which nothing was seen yet,
// past seasons tell, and how much of it would have been seen by now: a flush that would have been is drawn again.
func (s *sampler) fallAhead(a ahead, clock clock) map[crop.StockID]curve {
	if s.hasFall(a.season) {
		return s.curvesAhead(a, 1, s.shift(a, 1), math.NaN())
	}
	const tries = 50
	with, without := a.fallWith+fallWith, a.fallWithout+fallWithout
	for range tries {
		if s.src.Float64()*(with+without) >= with {
			return nil
		}
		curves := s.curvesAhead(a, 1, s.shift(a, 1), s.willCutBack(a, clock))
		if s.src.ExpFloat64() > s.missed(a, curves, clock) {
			return curves
		}
	}
	return nil
}

// willCutBack draws on which day of the usual year this season's beds will be cut back; not a number where they never are, were
// already, or should have been long ago.
func (s *sampler) willCutBack(a ahead, clock clock) float64 {
	usual := s.timing.usualCutBack
	const tries = 20
	for range tries {
		if usual.SD == 0 {
			break
		}
		if day := usual.Mean + usual.SD*s.src.NormFloat64(); day > clock.of(a.asOf) {
			return day
		}
	}
	return math.NaN()
}

func (s *sampler) hasFall(season crop.Season) bool {
	return s.curves.flushes[1].seasons[season] != nil
}

// missed is how many stems of a fall flush would have been seen by now.
func (s *sampler) missed(a ahead, curves map[crop.StockID]curve, clock clock) float64 {
	missed := 0.0
	for i := range s.cohorts {
		if c := &s.cohorts[i]; c.season == a.season && len(c.looks) > 0 {
			missed += s.levels.mean(i, 1) * s.sum[i] * curves[c.stock].share(clock.of(c.cutTo))
		}
	}
	return missed
}

// begun is the share of a flush by which it is worth going out for: then its first stems are cut.
const begun = 0.01

// begins is the day, by the season's clock, on which a flush has begun.
func (c curve) begins() float64 {
	low, high := -0.5, 1.0
	for range 16 { // to a thousandth of a day
		if mid := (low + high) / 2; c.part(mid) < begun {
			low = mid
		} else {
			high = mid
		}
	}
	return c.onset + c.length*(low+high)/2
}
