package crop

// DivisionCosts are what work, plants and ground cost a farm that divides.
type DivisionCosts struct {
	Hour   Cents // of work
	Divide int   // minutes for each division: lifting, pulling apart, setting, watering
	Lift   int   // minutes a plant
	Set    int   // minutes a plug
	Plug   Cents
	Ground Cents // a place, a season
	// Standing is what the plants that stand at the end of a plan are worth, in percent of what they bring in one more
	// season.
	Standing int
}

// UsualDivisionCosts are what divisions cost where a farm says nothing (common practice, no source).
var UsualDivisionCosts = DivisionCosts{Hour: 2000, Divide: 6, Lift: 5, Set: 3, Plug: 250, Ground: 40, Standing: 70}

// The largest costs that can be meant; larger ones are slips.
const (
	MostPlantMinutes = 600 // of work at one plant
	MostStanding     = 500 // percent
)

// Possible tells whether costs can be meant: none is below 0, or beyond what anybody pays or takes.
func (c DivisionCosts) Possible() bool {
	least := min(int(c.Hour), c.Divide, c.Lift, c.Set, int(c.Plug), int(c.Ground), c.Standing)
	return least >= 0 && max(c.Hour, c.Plug, c.Ground) <= MostCents && max(c.Divide, c.Lift, c.Set) <= MostPlantMinutes && c.Standing <= MostStanding
}
