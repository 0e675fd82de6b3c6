package division

import (
	"math"

	"corymb/internal/yield"
)

// option is something that may become of a plant.
type option struct {
	do   Do
	into int
}

// optionsOf a plant, to keep it first. Protected stock may not be propagated, and small clumps give no divisions.
func (p *planner) optionsOf(one *plant) []option {
	list := []option{{do: Keep}}
	if one.age < 1 {
		return list
	}
	if !one.stock.Protected && one.age >= leastToDivide {
		for into := 2; into <= p.q.Most; into++ {
			list = append(list, option{Divide, into})
		}
	}
	return append(list, option{do: Lift}, option{do: Replace})
}

// self is a plant's own part in one draw.
type self struct {
	draws  *yield.StemDraws
	draw   *yield.StemDraw
	effect float64 // its log effect, and what uncounted plants give more
	next   float64 // that of a plug in its stead
	ground float64 // standard normal: of a plug's planting
	colour int
	plug   int // the colour class of a plug in its stead
}

func (w *world) selfOf(s *stand, one *plant) self {
	draws := w.species[one.stock.Species]
	draw := &draws.Draws[w.draw]
	own := self{draws: draws, draw: draw, next: draw.PlantSD*w.src.NormFloat64() + draw.Uncounted, ground: w.src.NormFloat64(), colour: one.colour}
	effect, known := draws.Plant(w.draw, one.ID)
	if !known {
		effect = draw.PlantSD*w.src.NormFloat64() + draw.Uncounted
	}
	own.effect = effect
	own.plug = w.colourFrom(s.mixes[one.planting.Stock])
	if own.colour < 0 {
		own.colour = w.colourFrom(s.mixOf(one))
	}
	return own
}

// colourFrom draws a colour class: a plug is of its stock's mixture, whatever stood there before.
func (w *world) colourFrom(mix []float64) int {
	at := w.src.Float64()
	for i, part := range mix {
		if at -= part; at < 0 {
			return i
		}
	}
	return len(mix) - 1
}

// grown is what came of an option in one season ahead.
type grown struct {
	stems int
	age   int // by which its grades are
}

// grow draws what an option gives in each season ahead.
func (w *world) grow(one *plant, own self, o option, seasons []grown) {
	switch o.do {
	case Keep:
		w.growKept(one, own, seasons)
	case Divide:
		w.growDivided(one, own, o.into, seasons)
	case Replace:
		w.growReplaced(one, own, seasons)
	case Lift:
		for t := range seasons {
			seasons[t] = grown{age: 1}
		}
	}
}

func (w *world) growKept(one *plant, own self, seasons []grown) {
	alive := 1
	for t := range seasons {
		age := one.age + t + 1
		if age < 1 {
			seasons[t] = grown{0, 1}
			continue
		}
		if age > 1 {
			alive = w.lastsThrough(standingIn{one.planting.ID, Keep, age - 1, t}, alive)
		}
		log := own.draw.Ages[age-1] + own.draws.Place(w.draw, one.planting.ID, age) + own.effect + own.draw.SeasonSD*w.season[t]
		if one.open {
			log += w.open * math.Min(float64(t+1), 2)
		}
		seasons[t] = grown{w.count(alive, log, own.draw.Sizes[age-1]), age}
	}
}

// growDivided grows divisions: of the same colour class and strength as their clump, in other ground, at the age curve's
// second season but for their first.
func (w *world) growDivided(one *plant, own self, into int, seasons []grown) {
	ground := math.Hypot(own.draw.PlantingSD, own.draw.BedSD) * w.ground
	alive := w.binomial(into, divisionTakes)
	for t := range seasons {
		age := max(2, t+1)
		log := own.draw.Ages[age-1] + ground + own.effect + own.draw.SeasonSD*w.season[t]
		if t == 0 {
			log += w.child
		} else {
			alive = w.lastsThrough(standingIn{"", Divide, age, t}, alive)
		}
		seasons[t] = grown{w.count(alive, log, own.draw.Sizes[age-1]), t + 1}
	}
}

func (w *world) growReplaced(one *plant, own self, seasons []grown) {
	ground := math.Hypot(own.draw.PlantingSD, own.draw.BedSD) * own.ground
	alive := w.binomial(1, plugTakes)
	for t := range seasons {
		age := t + 1
		if age > 1 {
			alive = w.lastsThrough(standingIn{one.planting.ID, Replace, age - 1, t}, alive)
		}
		log := own.draw.Ages[age-1] + ground + own.next + own.draw.SeasonSD*w.season[t]
		seasons[t] = grown{w.count(alive, log, own.draw.Sizes[age-1]), age}
	}
}
