package yield

import (
	"fmt"

	"corymb/internal/stats"
)

// parameters of one model by name, in the order in which they were first asked for; each has a prior of
// its own or shares a scale, an unknown standard deviation, with others.
type parameters struct {
	names  []string
	at     map[string]int
	scales map[string]int
	h      stats.Hierarchy
}

func newParameters() *parameters {
	return &parameters{at: map[string]int{}, scales: map[string]int{}}
}

// own is the place of a parameter with a prior of its own.
func (p *parameters) own(name string, prior stats.Normal) int {
	return p.add(name, prior, -1)
}

// shared is the place of a parameter that is normal about 0 with a scale, whose logarithm has the prior.
func (p *parameters) shared(name, scale string, logSD stats.Normal) int {
	k, known := p.scales[scale]
	if !known {
		k = len(p.h.LogSD)
		p.scales[scale] = k
		p.h.LogSD = append(p.h.LogSD, logSD)
	}
	return p.add(name, stats.Normal{}, k)
}

func (p *parameters) add(name string, prior stats.Normal, scale int) int {
	if i, known := p.at[name]; known {
		return i
	}
	i := len(p.names)
	p.at[name] = i
	p.names = append(p.names, name)
	p.h.Priors = append(p.h.Priors, prior)
	p.h.Scale = append(p.h.Scale, scale)
	return i
}

// start is every parameter at its prior's middle.
func (p *parameters) start() []float64 {
	x := make([]float64, len(p.names))
	for i, prior := range p.h.Priors {
		x[i] = prior.Mean
	}
	return x
}

// scalePlace is where the logarithm of a scale stands in a draw; false where the model has none of that name.
func (p *parameters) scalePlace(scale string) (int, bool) {
	k, known := p.scales[scale]
	return len(p.names) + k, known
}

// name writes a parameter's name, such as "planting:a".
func name(kind string, of any) string { return fmt.Sprintf("%s:%v", kind, of) }
