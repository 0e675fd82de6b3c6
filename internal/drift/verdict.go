package drift

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/colour"
	"corymb/internal/crop"
)

// Level is the probability of every interval of a Report.
const Level = 0.9

const tail = (1 - Level) / 2

// normalEnd is how many standard deviations a normal's interval reaches.
const normalEnd = 1.645

const (
	// testLevel is the chance that the joint test calls a plant-season drifted which only wobbled. At most 1 of 100
	// may be: half of that is left for what the model does not know of, such as tails and restless plants.
	// Threshold and confirmation come on top of it.
	testLevel = 0.005
	// visibleFrom is the difference from which on a drift is called visible: bands in use are 1 to 2 for a
	// trained eye and 2 to 3.5 for most people (testdata/reference/TRADE.md); 3 is common practice, no source.
	visibleFrom = 3.0
	// A day agrees where it shows at least this part of the threshold along the season's shift, and more than its
	// own uncertainty at a one-sided 5 %.
	agreeingPart = 0.5
	agreeingZ    = normalEnd
	leastDays    = 2
	// enoughPower times the threshold is what must have been noticed with noticedChance for "none" to be said.
	enoughPower   = 2
	noticedChance = 0.8
)

// judged is what the test says of a difference from a colour.
type judged struct {
	difference
	seen      seen
	p         float64
	visible   bool
	agreeing  int
	confirmed bool
}

// judge tests a season's shift from a colour; earlier are the plant's days in the seasons between.
func judge(d difference, from colour.Lab, earlier []dayShift) judged {
	j := judged{difference: d, seen: seen{from, d.by}}
	distance := d.scale.inverse().within(d.by) / 3
	j.p = distuv.F{D1: 3, D2: d.df}.Survival(distance)
	j.visible = j.seen.difference().Total >= visibleFrom
	now := j.agree(d.days)
	j.agreeing = now + j.agree(earlier)
	j.confirmed = now > 0 && j.agreeing >= leastDays
	return j
}

// agree counts the days that show the shift, each on its own.
func (j judged) agree(days []dayShift) int {
	towards, n := j.seen.towards(), 0
	for _, day := range days {
		told := towards.dot(day.by)
		n += one(told >= agreeingPart*visibleFrom && told >= agreeingZ*math.Sqrt(j.wider*day.cov.within(towards)))
	}
	return n
}

// flagged tells whether the season as a whole shows a visible drift.
func (j judged) flagged() bool { return j.p < testLevel && j.visible }

// covariance is that of the shift, with what is uncertain of the covariances.
func (d difference) covariance() square { return d.scale.scale(d.df / (d.df - 2)) }

// total is the size of the shift with its interval. The size of a vector with noise is larger than the true one,
// so the interval is of the true size at which so large a distance would be seen, in units of its
// uncertainty.
func (j judged) total() Interval {
	size := j.seen.difference().Total
	r := math.Sqrt(j.covariance().inverse().within(j.by))
	if j.p > 1e-12 { // as many normal standard deviations as the t's heavier tails are worth
		r = math.Sqrt(distuv.ChiSquared{K: 3}.Quantile(1 - j.p))
	}
	if size < 1e-9 || r < 1e-6 {
		return Interval{Mean: size, Hi: size + math.Sqrt(metric(j.seen.from).product(j.covariance()))}
	}
	lo, hi := distances(r)
	return Interval{Mean: size, Lo: size * lo / r, Hi: size * hi / r}
}

// parts are lightness, chroma and hue of the shift.
func (j judged) parts() (lightness, chroma, hue Part) {
	d, slopes, cov := j.seen.difference(), j.seen.slopes(), j.covariance()
	part := func(value float64, slope vector) Part { return Part{Value: value, SE: math.Sqrt(cov.within(slope))} }
	return part(d.Lightness, slopes[0]), part(d.Chroma, slopes[1]), part(d.Hue, slopes[2])
}

// criticalDistance is the squared distance, by a covariance that was not widened for what was cut off, beyond
// which the joint test flags.
func criticalDistance(df float64) float64 {
	return cutOff * 3 * distuv.F{D1: 3, D2: df}.Quantile(1-testLevel) * (df - 2) / df
}

// prospect is what the same readings would show of a drift.
func (j judged) prospect(axes square) prospect {
	p := prospect{from: j.seen.from, axes: axes, cov: j.covariance().scale(1 / cutOff), critical: criticalDistance(j.df), threshold: visibleFrom}
	for _, day := range j.days {
		p.days = append(p.days, day.cov.scale(j.wider/cutOff))
	}
	return p.ready()
}

func (j judged) shift(axes square) *Shift {
	s := &Shift{
		From: jsonLab(labVector(j.seen.from)), By: jsonLab(j.by), Cov: jsonCov(j.covariance()), DF: j.df,
		Total: j.total(), P: j.p, Visible: j.visible, Confirmed: j.confirmed, Agreeing: j.agreeing,
	}
	s.Lightness, s.Chroma, s.Hue = j.parts()
	if size := j.prospect(axes).noticedWith(noticedChance); size <= largestAsked {
		s.Noticeable = &size
	}
	return s
}

// state says what is said of a plant-season that can be compared, and why not more.
func (j judged) state(s *Shift) (State, []Reason) {
	reasons := []Reason{}
	switch {
	case j.flagged() && j.confirmed:
		return StateDrift, reasons
	case j.flagged() && len(j.days) < leastDays:
		return StateWatch, append(reasons, ReasonOneDay)
	case j.flagged():
		return StateWatch, append(reasons, ReasonDaysApart)
	}
	if j.p < testLevel {
		reasons = append(reasons, ReasonNotVisible)
	}
	if s.Noticeable != nil && *s.Noticeable <= enoughPower*visibleFrom {
		return StateNone, reasons
	}
	return StateCannotTell, append(reasons, ReasonFewReadings)
}

// apparatusReasons say in what the baseline's firm readings and a season's have nothing in common.
func apparatusReasons(before, now []Reading) []Reason {
	shared := func(same func(a, b Reading) bool) bool {
		return slices.ContainsFunc(now, func(n Reading) bool {
			return slices.ContainsFunc(before, func(b Reading) bool { return same(n, b) })
		})
	}
	var reasons []Reason
	if !shared(func(a, b Reading) bool { return a.Camera == b.Camera }) {
		reasons = append(reasons, ReasonOtherCamera)
	}
	if !shared(func(a, b Reading) bool { return a.daylight() == b.daylight() }) {
		reasons = append(reasons, ReasonOtherLight)
	}
	return reasons
}

// unfitReason says why no reading of a plant's season is firm.
func unfitReason(readings []Reading) Reason {
	full := slices.ContainsFunc(readings, func(r Reading) bool { return r.Stage == crop.StageFull })
	carded := slices.ContainsFunc(readings, func(r Reading) bool { return r.Stage == crop.StageFull && r.Card != "" })
	switch {
	case !full:
		return ReasonNoFullBloom
	case !carded:
		return ReasonNoCard
	}
	return ReasonOnlySun
}
