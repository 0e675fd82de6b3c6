package packing

func (p *planner) explain(plan *Plan) {}

// Shortfall tells why a line is not filled.
type Shortfall struct{}
