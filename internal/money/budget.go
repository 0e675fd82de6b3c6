package money

import "math"

// Budget is what a season's bunches cost and have to bring, as extension budgets reckon (variable and fixed cost over
// bunches). Amounts are cents, of a bunch where so named.
type Budget struct {
	Bunches  float64
	Gross    float64
	Variable float64 // what would not have been spent without the bunches: costs, work, channels, bringing, claims
	Fixed    float64
}

// Budget is that of a part of the ledger.
func (s Sums) Budget() Budget {
	variable := s.Kept + s.Fees - s.FeesPaid + s.Claims + s.Costs - s.Fixed + s.Work
	return Budget{Bunches: float64(s.Bunches) / scale, Gross: float64(s.Gross), Variable: float64(variable), Fixed: float64(s.Fixed)}
}

// VariableABunch, FixedABunch and Price are cents a bunch; NaN where there is none.
func (b Budget) VariableABunch() float64 { return b.Variable / b.Bunches }
func (b Budget) FixedABunch() float64    { return b.Fixed / b.Bunches }
func (b Budget) Price() float64          { return b.Gross / b.Bunches }

// BreakEvenPrice is at how much a bunch nothing would be left and nothing lacking.
func (b Budget) BreakEvenPrice() float64 { return (b.Variable + b.Fixed) / b.Bunches }

// BreakEvenBunches is how many bunches at their price pay for all that was spent, as for a crop that is grown already.
func (b Budget) BreakEvenBunches() float64 { return (b.Variable + b.Fixed) / b.Price() }

// PaysFixed is how many bunches pay for what is fixed, where each bunch that is not cut costs nothing either; infinite where
// a bunch costs more than it brings.
func (b Budget) PaysFixed() float64 {
	margin := b.Price() - b.VariableABunch()
	if margin <= 0 {
		return math.Inf(1)
	}
	return b.Fixed / margin
}

// Net is what is left.
func (b Budget) Net() float64 { return b.Gross - b.Variable - b.Fixed }
