package farm

import "corymb/internal/crop"

// costFields are where what divisions cost is held.
var costFields = []struct {
	field string
	get   func(crop.DivisionCosts) int
	set   func(*crop.DivisionCosts, int)
}{
	{FieldHourCents, func(c crop.DivisionCosts) int { return int(c.Hour) }, func(c *crop.DivisionCosts, n int) { c.Hour = crop.Cents(n) }},
	{FieldDivideMinutes, func(c crop.DivisionCosts) int { return c.Divide }, func(c *crop.DivisionCosts, n int) { c.Divide = n }},
	{FieldLiftMinutes, func(c crop.DivisionCosts) int { return c.Lift }, func(c *crop.DivisionCosts, n int) { c.Lift = n }},
	{FieldSetMinutes, func(c crop.DivisionCosts) int { return c.Set }, func(c *crop.DivisionCosts, n int) { c.Set = n }},
	{FieldPlugCents, func(c crop.DivisionCosts) int { return int(c.Plug) }, func(c *crop.DivisionCosts, n int) { c.Plug = crop.Cents(n) }},
	{FieldGroundCents, func(c crop.DivisionCosts) int { return int(c.Ground) }, func(c *crop.DivisionCosts, n int) { c.Ground = crop.Cents(n) }},
	{FieldStandingWorth, func(c crop.DivisionCosts) int { return c.Standing }, func(c *crop.DivisionCosts, n int) { c.Standing = n }},
}
