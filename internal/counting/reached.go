package counting

import (
	"math"

	"corymb/internal/crop"
	"corymb/internal/yield"
)

// reached sums up the season's counts of an age, those that still go on among them: a flush is over
// long before a season is. Nil where no plant was counted.
func reached(report yield.Report, season crop.Season, age int) *Reached {
	r := Reached{Season: season}
	squares := 0.0
	for _, a := range report.Ages {
		for _, s := range a.Plants {
			if a.Age != age || s.Season != season {
				continue
			}
			r.Plants++
			if s.Open {
				r.Open++
			}
			// Welford 1962, Technometrics 4:419-420.
			off := float64(s.Stems) - r.Mean
			r.Mean += off / float64(r.Plants)
			squares += off * (float64(s.Stems) - r.Mean)
		}
	}
	if r.Plants == 0 {
		return nil
	}
	if squares > 0 {
		variance := squares / float64(r.Plants-1)
		half := halfWidth(report.Level, math.Sqrt(variance), r.Plants)
		r.Half = &half
		r.Next = tabulate(spreadsBehind(r.Mean, variance, r.Plants), report.Level)
	}
	return &r
}

// sampleDraws is how many variances stand for what a sample's variance leaves open.
const sampleDraws = 32

// spreadsBehind are equally likely spreads behind a sample's mean and variance: the log of the sample
// variance is near normal about the true one's, so without other knowledge the true one's is near
// normal about it. The kurtosis is that of a negative binomial with the sample's moments.
func spreadsBehind(mean, variance float64, n int) []spread {
	seen := spreadOf(yield.PlanDraw{Mean: mean, Size: sizeOf(mean, variance)})
	v := seen.logVariance(n)
	spreads := make([]spread, sampleDraws)
	for i := range spreads {
		p := (float64(i) + 0.5) / sampleDraws
		spreads[i] = spread{variance: variance * math.Exp(v/2+probit(p)*math.Sqrt(v)), excess: seen.excess}
	}
	return spreads
}

// sizeOf is the NB2 size with the moments given, endless where the variance is no more than chance.
func sizeOf(mean, variance float64) float64 {
	if variance <= mean {
		return math.Inf(1)
	}
	return mean * mean / (variance - mean)
}
