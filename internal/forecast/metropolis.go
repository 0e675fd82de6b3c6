package forecast

import "math"

// wanted is how often a step should be taken (Roberts and Rosenthal 2001, Statistical Science 16:351-367).
const wanted = 0.44

// try proposes a step of something that some processes hang on, and takes it or leaves it (Metropolis). Steps must be such
// that one back is as likely as one there.
func try[T any](c *curves, s *sampler, at *T, step *float64, to func(T, float64) T, prior func(T) float64, processes []*process) {
	propose(c, s, *at, step, to, func(v T) { *at = v }, prior, processes)
}

// propose is try where more than one thing must be set. While the sampler warms up steps become longer where they are taken
// and shorter where not.
func propose[T any](c *curves, s *sampler, at T, step *float64, to func(T, float64) T, set func(T), prior func(T) float64, processes []*process) {
	there := to(at, *step*s.src.NormFloat64())
	set(there)
	gain := prior(there) - prior(at)
	for _, p := range processes {
		p.proposed = c.density(p)
		gain += p.proposed - p.density
	}
	taken := -s.src.ExpFloat64() < gain
	if taken {
		for _, p := range processes {
			p.density = p.proposed
		}
	} else {
		set(at)
	}
	if s.warming > 0 {
		longer := -wanted
		if taken {
			longer++
		}
		*step *= math.Exp(longer * s.warming)
	}
}
