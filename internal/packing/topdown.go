package packing

import "corymb/internal/packing/assign"

// TopDown is what filling the orders in the order given would bring.
type TopDown struct {
	Revenue int64     `json:"revenue_cents"`
	Differs []Differs `json:"differs"` // only lines that get other than in the plan
}

// Differs is a line that gets other bunches in the plan than top down.
type Differs struct {
	ID      string `json:"id"`
	Bunches int64  `json:"bunches"`
	TopDown int64  `json:"top_down_bunches"`
}

// topDown gives each line in turn as many bunches as can be without taking any from those before.
func (p *planner) topDown() []int64 {
	router := assign.NewRouter(p.plain())
	filled := make([]int64, len(p.Demand))
	for l, line := range p.Demand {
		_, most := line.bounds()
		got := router.Grow(l, min(most, p.reach(l)/line.Bunch)*line.Bunch)
		filled[l] = got / line.Bunch
		if line.AllOrNothing && filled[l] < line.MaxBunches {
			filled[l] = 0
		}
		router.Shrink(l, got-filled[l]*line.Bunch)
	}
	return filled
}

// compare tells how the plan differs from the orders filled top down.
func (p *planner) compare(filled []int64) TopDown {
	out := TopDown{Revenue: p.revenue(filled), Differs: []Differs{}}
	for l, line := range p.Demand {
		if filled[l] != p.bunches[l] {
			out.Differs = append(out.Differs, Differs{line.ID, p.bunches[l], filled[l]})
		}
	}
	return out
}

// reach is how many stems a line could have if it had all that may go there.
func (p *planner) reach(l int) int64 {
	stems := int64(0)
	for _, s := range p.allowed[l] {
		stems += p.Supply[s].Stems
	}
	return stems
}

// plain is the day as classes and lines, each as it is.
func (p *planner) plain() assign.Problem {
	var problem assign.Problem
	for _, s := range p.Supply {
		problem.Stems = append(problem.Stems, s.Stems)
	}
	for l := range p.Demand {
		problem.Lines = append(problem.Lines, assign.Line{Lot: 1, From: p.allowed[l]})
	}
	return problem
}
