// Package division plans what becomes of each plant once a season is over: kept, divided, lifted for good or replaced by a
// plug, so that the stems of the seasons ahead bring most for the ground and the hours there are.
//
// It draws the seasons ahead from what the farm's counts say (world.go, grow.go), sells each draw's stems by what the
// markets take a week (selling.go), finds the best plan on those draws (package choose), and says what that plan brings, and
// how likely the goal is, from draws on which it was not chosen (told.go).
package division

import (
	"corymb/internal/crop"
	"corymb/internal/division/choose"
)

// Question is what a plan is asked for.
type Question struct {
	// AsOf is the evening on which it is asked. Empty, as for files, is the end of the season of the last cut.
	AsOf crop.Date
	// Places are how many more plants there is ground for, and Hours what dividing, lifting and planting may take.
	Places int
	Hours  float64
	// Goal is how many times this season's stems are wanted so many Seasons ahead (1 to 3); 0 wants none. Chance is how
	// likely that has to be, from 0, which asks nothing, to 1.
	Goal    float64
	Seasons int
	Chance  float64
	Most    int // divisions that one plant may be made into
	Prices  []Price
	Asks    []Ask    // that nobody could meet, and that come again
	Wanted  []Wanted // stems that are wanted whatever they bring
	// Classes are of which colour class plants are by now, where that is another than whoever saw them in bloom told first,
	// or not sure. Of those left out it is that.
	Classes map[crop.PlantID]Class
	// OpenCentre are plants whose clump has opened in the middle.
	OpenCentre map[crop.PlantID]bool
	Costs      crop.DivisionCosts
}

// Price is what a stem of a colour class and grade, or of a better grade, brings the farm in one channel.
type Price struct {
	Colour  crop.ColourID // empty for each colour class that has no price of its own in that channel and grade
	Grade   crop.Grade
	Channel string
	Cents   float64 // net of commission
	AWeek   float64 // stems that the channel takes a week at that price; math.Inf(1) where it takes all
}

// Ask is stems that a buyer wanted in one week of a flush.
type Ask struct {
	ID      crop.AskID      // empty where it is of no book
	Colours []crop.ColourID // any of them; none is any colour class
	Grade   crop.Grade      // at least; empty is any but out
	Due     crop.Date
	Stems   int
	Cents   float64 // net, a stem; 0 is what the dearest channel pays for the grade
}

// Class is of which colour class a plant is by now.
type Class struct {
	// Likely are what it may be, with shares that add up to 1; an empty colour is none of the classes.
	Likely []Likely
	// Drifts tells that its colour surely is no longer what it was.
	Drifts bool
}

// Likely is one colour class that a plant may be of.
type Likely struct {
	Colour crop.ColourID
	Share  float64
}

// Wanted is stems of a colour class that are wanted in one week, so many Seasons ahead.
type Wanted struct {
	Colour crop.ColourID `json:"colour"`
	Due    crop.Date     `json:"due"` // a day of that week in any year
	Stems  int           `json:"stems"`
}

// Do says what becomes of a plant.
type Do string

// What may become of a plant.
const (
	Keep    Do = "keep"
	Divide  Do = "divide"
	Lift    Do = "lift"
	Replace Do = "replace"
)

// Plan is what becomes of every plant, and what that brings.
type Plan struct {
	AsOf    crop.Date   `json:"asof"`
	Season  crop.Season `json:"season"` // after which it is done
	Actions []Action    `json:"actions"`
	Goal    Goal        `json:"goal"`
	// Net is what the seasons ahead and what stands after them bring, less work, plugs and ground.
	Net Range `json:"net_cents"`
	// Gap is by what part of it the best plan can at most be better on the draws on which this one was chosen; 0 where
	// none is. Where stems are wanted it is a part of what those count for too.
	Gap float64 `json:"gap"`
	// PlaceWorth and HourWorth are what one more place or hour would bring, where plants could be divided in parts.
	PlaceWorth float64 `json:"place_worth_cents"`
	HourWorth  float64 `json:"hour_worth_cents"`
	PlacesUsed int     `json:"places_used"`
	HoursUsed  float64 `json:"hours_used"`
	Wanted     []Met   `json:"wanted,omitempty"`
	Notes      []Note  `json:"notes"`
}

// Action is what becomes of one plant.
type Action struct {
	Plant crop.PlantID `json:"plant"`
	Do    Do           `json:"do"`
	Into  int          `json:"into,omitempty"` // divisions
	// Value is what its stems bring beside those of all others, less what it costs; Stems are those of the next season.
	Value Range `json:"value_cents"`
	Stems Range `json:"stems"`
	Why   []Why `json:"why"`
	// GivesUp is what the next best for this plant would bring less, in the mean.
	GivesUp float64 `json:"gives_up_cents"`
	// ByAge is what replanting after the third season would do (common practice, no source), where that is another thing.
	ByAge *ByAge `json:"by_age,omitempty"`
}

// ByAge is what a rule by age alone does, and what that would bring less.
type ByAge struct {
	Do      Do      `json:"do"`
	GivesUp float64 `json:"gives_up_cents"`
}

// Goal is how likely it is that so many stems come.
type Goal struct {
	Chance float64     `json:"chance"`
	Draws  int         `json:"draws"` // fresh ones, from which everything told of the plan comes
	Season crop.Season `json:"season"`
	Stems  Range       `json:"stems"` // of that season
	Wanted float64     `json:"wanted"`
	Now    float64     `json:"now"` // stems of this season
}

// Range is a mean, and what 5 and 95 of 100 draws are below.
type Range struct {
	Mean float64 `json:"mean"`
	Lo   float64 `json:"lo"`
	Hi   float64 `json:"hi"`
}

// Met is how much of what was wanted comes in the mean.
type Met struct {
	Wanted
	Mean float64 `json:"mean"`
}

// chooseWork bounds the search for the plan: a unit is some ten nanoseconds.
const chooseWork = 6_000_000

// Of plans for a farm. The same farm and question give the same plan. A Refusal is a sentence for a person; another error
// means that the numbers could not be found.
func Of(farm crop.Farm, q Question) (Plan, error) {
	if err := q.check(); err != nil {
		return Plan{}, err
	}
	s, err := standingOn(farm, q)
	if err != nil {
		return Plan{}, err
	}
	p, err := newPlanner(s, q)
	if err != nil {
		return Plan{}, err
	}
	problem := p.problem()
	work := max(chooseWork, len(s.plants)*workAPlant)
	sol := choose.Solve(problem, work)
	for n := 0; n < mostChecks && p.q.Chance > 0 && !sol.Missed; n++ {
		short := p.q.Chance - chanceOf(p.play(sol.Chosen, checkingSeeds, p.checking()).goal, problem.Aim.Stems)
		if short <= 0 {
			break
		}
		// The draws on which it was chosen flatter it: they are asked for as much more.
		problem.Aim.Share = min(1, problem.Aim.Share+short)
		sol = choose.Solve(problem, work)
	}
	if sol.Missed && len(q.Wanted) > 0 {
		sol = nearTheGoal(problem, sol, work/2)
	}
	if len(q.Wanted) > 0 { // what they count for is no money
		told := *problem
		told.Markets = p.markets(false)
		sol = choose.Told(&told, sol)
	}
	return p.tell(sol), nil
}

// nearTheGoal is the best choice that comes nearly as near to a goal out of reach as any: coming nearest at any price would give
// up all stems that are wanted for a chance of a hundredth more.
func nearTheGoal(problem *choose.Problem, nearest choose.Solution, work int) choose.Solution {
	const nearly = 0.8 // of the greatest chance
	problem.Aim.Share = nearly * nearest.Share
	sol := choose.Solve(problem, work)
	if sol.Missed {
		return nearest
	}
	sol.Missed = true
	return sol
}

// mostChecks is how often a plan is chosen anew for a chance that other draws deny it.
const mostChecks = 2

// workAPlant is what a large farm's plan may take more.
const workAPlant = 20_000
