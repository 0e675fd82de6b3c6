package drift

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"corymb/internal/colour"
)

// prospect is what readings would show of a drift: where it starts from, how uncertain the shift will be, and each
// day of it alone.
type prospect struct {
	from      colour.Lab
	axes      square // the plant's lightness, chroma and hue in L*, a*, b*
	cov       square
	critical  float64  // the squared distance by cov beyond which the joint test flags
	days      []square // covariances of single days' shifts
	threshold float64

	inverse, metric square // of cov, and of what is seen of small shifts
}

// ready works out what all sizes have in common.
func (p prospect) ready() prospect {
	p.inverse, p.metric = p.cov.inverse(), metric(p.from)
	return p
}

// directionsAsked are those in which a drift may go: lighter and darker, paler and stronger, round either way.
var directionsAsked = []vector{{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}}

// chances are those that a drift of a size is noticed at all, and that it is confirmed on another day too: means over
// the directions. They are found by one integral each, along the drift; across it distances are chi-square.
func (p prospect) chances(size float64) (noticed, confirmed float64) {
	for _, direction := range directionsAsked {
		n, c := p.along(reach(p.from, p.axes.of(direction), size), size)
		noticed += n / float64(len(directionsAsked))
		confirmed += c / float64(len(directionsAsked))
	}
	return noticed, confirmed
}

// noticed is the first of chances.
func (p prospect) noticed(size float64) float64 {
	p.days = nil
	noticed, _ := p.chances(size)
	return noticed
}

const (
	chanceStep = 0.125
	chanceEnds = 5.0
)

// along is the chances of one drift. Its estimate is z/away times the drift, z normal about away, and something
// across it, whose squared distance r is chi-square of 2 degrees of freedom: the test flags where z^2 + r is above
// the critical value. What is across adds to what is seen, in the mean by across times r.
func (p prospect) along(by vector, size float64) (noticed, confirmed float64) {
	away := math.Sqrt(p.inverse.within(by))
	seenOf := p.metric.within(by) / (away * away)
	across := max(1e-9, (p.cov.product(p.metric)-seenOf)/2)
	days := p.dayLimits(p.metric.of(by).times(size / p.metric.within(by)))
	for at := -chanceEnds; at <= chanceEnds; at += chanceStep {
		z := away + at
		told := size * z / away
		least := max(0, p.critical-z*z, (p.threshold*p.threshold-told*told)/across)
		weight := chanceStep / math.Sqrt(2*math.Pi) * math.Exp(-(at*at+least)/2)
		noticed += weight
		if z > 0 && len(days) >= leastDays {
			confirmed += weight * twoAgree(told, days)
		}
	}
	return min(1, noticed), min(1, confirmed)
}

// dayLimit is what a day must show to agree, and how it varies about the season.
type dayLimit struct{ least, sd float64 }

func (p prospect) dayLimits(towards vector) []dayLimit {
	var list []dayLimit
	whole := p.cov.within(towards)
	for _, cov := range p.days {
		v := cov.within(towards)
		list = append(list, dayLimit{
			least: max(p.threshold*agreeingPart, agreeingZ*math.Sqrt(v)),
			sd:    math.Sqrt(max(1e-12, v-whole)),
		})
	}
	return list
}

// twoAgree is the chance that two days at least agree with what the season shows. Two days lie about the season on
// opposite sides; of more they are taken for independent.
func twoAgree(told float64, days []dayLimit) float64 {
	normal := distuv.UnitNormal
	switch len(days) {
	case 0, 1:
		return 0
	case 2:
		return max(0, normal.CDF((told-days[0].least)/days[0].sd)-normal.CDF(-(told-days[1].least)/days[1].sd))
	}
	none, one := 1.0, 0.0
	for _, d := range days {
		agrees := normal.CDF((told - d.least) / d.sd)
		one = one*(1-agrees) + none*agrees
		none *= 1 - agrees
	}
	return 1 - none - one
}

// largestAsked is the largest drift that it is asked of how likely it would have been noticed.
const largestAsked = 40

// noticedWith is the smallest drift that is noticed with a chance; more than largestAsked where none up to there
// is.
func (p prospect) noticedWith(chance float64) float64 {
	from, to := p.threshold/2, 2*p.threshold
	for to < largestAsked && p.noticed(to) < chance {
		from, to = to, 2*to
	}
	for to-from > 0.05 {
		middle := (from + to) / 2
		if p.noticed(middle) < chance {
			from = middle
		} else {
			to = middle
		}
	}
	return to
}
