package division

import (
	"maps"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"

	"corymb/internal/crop"
	"corymb/internal/division/choose"
	"corymb/internal/stats"
)

// seed is fixed, so that a plan asked for twice is the same. The draws on which a plan is chosen and those by which it is
// told have streams of their own.
const (
	seed          = 1
	choosingSeeds = 1_000
	tellingSeeds  = 1_000_000
	checkingSeeds = 2_000_000
)

// planner is a farm and a question with what the farm's counts say.
type planner struct {
	*stand
	q         Question
	posterior *posterior
	rhythms   []rhythm               // by colour
	usual     []Shares               // grades by species and age, see gradedAs
	options   [][]option             // by plant
	mixed     map[crop.StockID][]int // the colour classes that a stock's plants may be of
	now       float64                // stems of this season
}

func newPlanner(s *stand, q Question) (*planner, error) {
	p := &planner{stand: s, q: q, rhythms: s.rhythmsOf()}
	graded := gradedOn(s.farm)
	for _, species := range s.species() {
		of := usualGrades(graded, species)
		p.usual = append(p.usual, of[:]...)
	}
	var err error
	if p.posterior, err = posteriorOf(s, p.ahead()); err != nil {
		return nil, err
	}
	for i := range s.plants {
		p.options = append(p.options, p.optionsOf(&s.plants[i]))
	}
	p.mixed = map[crop.StockID][]int{}
	for stock, mix := range s.mixes {
		p.mixed[stock] = someOf(mix)
	}
	p.now = p.stemsNow()
	return p, nil
}

// ahead is how many seasons are looked at: one more than asked, for what stands at the end.
func (p *planner) ahead() int { return p.q.Seasons + 1 }

// stemsNow is what the plants that stand gave in this season: as counted, and where they were not, what by the middle draw
// all of them together may be taken to have given. The mean over draws would be that of the few that hold plants of unheard-of
// strength for possible: millions of stems, where nothing was ever counted.
func (p *planner) stemsNow() float64 {
	counted, others := 0.0, make([]float64, p.posterior.draws)
	for i := range p.plants {
		one := &p.plants[i]
		switch {
		case one.now >= 0:
			counted += float64(one.now)
		case one.age >= 1:
			for k := range others {
				others[k] += p.meanNow(one, k)
			}
		}
	}
	return counted + stats.Quantile(others, 0.5)
}

// meanNow is the mean of a plant's stems in this season by one draw.
func (p *planner) meanNow(one *plant, k int) float64 {
	draws := p.posterior.species[one.stock.Species]
	draw := &draws.Draws[k]
	log := draw.Ages[one.age-1] + draws.Place(k, one.planting.ID, one.age)
	if effect, known := draws.Season(k, p.season); known {
		log += effect
	} else {
		log += draw.SeasonSD * draw.SeasonSD / 2
	}
	if effect, counted := draws.Plant(k, one.ID); counted {
		log += effect
	} else {
		log += draw.Uncounted + draw.PlantSD*draw.PlantSD/2
	}
	return math.Exp(log)
}

// costOf is what an option costs over the seasons looked at, and what it uses of places and hours.
func (p *planner) costOf(o option) (cents float64, uses [2]float64) {
	c, places, minutes := p.q.Costs, 1.0, 0.0
	switch o.do {
	case Divide:
		places, minutes = float64(o.into), float64(c.Divide*o.into)
	case Lift:
		places, minutes = 0, float64(c.Lift)
	case Replace:
		minutes = float64(c.Lift + c.Set)
		cents = float64(c.Plug)
	}
	cents += float64(c.Hour)*minutes/60 + float64(c.Ground)*places*float64(p.q.Seasons)
	return cents, [2]float64{places - 1, minutes / 60}
}

// choosing are the draws of what the counts say on which a plan is chosen; the others tell what it brings.
func (p *planner) choosing() int { return max(1, p.posterior.draws/3) }

// problem is the choice among all options.
func (p *planner) problem() *choose.Problem {
	problem := &choose.Problem{
		Draws: p.choosing(), Markets: p.markets(true), Kinds: make([][]choose.Qualities, p.ahead()*len(p.usual)),
		Things: make([][]choose.Option, len(p.plants)), Limits: [2]float64{float64(p.q.Places), p.q.Hours},
		Aim: choose.Aim{Stems: p.q.Goal * p.now, Share: p.q.Chance},
	}
	for c := range p.colours {
		problem.Aim.Markets = append(problem.Aim.Markets, p.marketOf(p.q.Seasons-1, c))
	}
	for kind := range problem.Kinds {
		problem.Kinds[kind] = make([]choose.Qualities, problem.Draws)
	}
	for i := range p.plants {
		for _, o := range p.options[i] {
			option := choose.Option{}
			option.Cost, option.Uses = p.costOf(o)
			problem.Things[i] = append(problem.Things[i], option)
		}
	}
	p.fillGives(problem)
	return problem
}

// fillGives draws every option's stems.
func (p *planner) fillGives(problem *choose.Problem) {
	for i := range p.plants {
		for o := range p.options[i] {
			problem.Things[i][o].Gives = p.layGives(&p.plants[i], p.options[i][o], problem.Draws)
		}
	}
	sideBySide(problem.Draws, func(draw int) {
		w := p.newWorld(draw, rand.New(rand.NewPCG(seed, uint64(draw)+choosingSeeds)))
		for t := range w.quality {
			for kind, shares := range w.quality[t] {
				problem.Kinds[t*len(p.usual)+kind][draw] = choose.Qualities(shares)
			}
		}
		seasons := make([]grown, p.ahead())
		for i := range p.plants {
			one := &p.plants[i]
			own := w.selfOf(p.stand, one)
			for n, o := range p.options[i] {
				w.grow(one, own, o, seasons)
				p.put(problem.Things[i][n].Gives, one, own, o, seasons, draw)
			}
		}
	})
}

// layGives makes room for what an option gives: by season ahead and colour class that it may be of.
func (p *planner) layGives(one *plant, o option, draws int) []choose.Give {
	if o.do == Lift {
		return nil
	}
	var gives []choose.Give
	room := make([]uint16, p.ahead()*len(p.coloursOf(one, o))*draws)
	for t := range p.ahead() {
		age := t + 1
		if o.do == Keep {
			age = max(1, one.age+t+1)
		}
		for _, colour := range p.coloursOf(one, o) {
			gives = append(gives, choose.Give{Market: p.marketOf(t, colour), Kind: t*len(p.usual) + one.gradedAs(age), Stems: room[:draws:draws]})
			room = room[draws:]
		}
	}
	return gives
}

// coloursOf are the colour classes that the stems of an option may be of.
func (p *planner) coloursOf(one *plant, o option) []int {
	if o.do != Replace && one.colour >= 0 {
		return []int{one.colour}
	}
	if o.do != Replace && one.mix != nil {
		return one.mayBe
	}
	return p.mixed[one.planting.Stock]
}

// put writes what an option gave in one draw.
func (p *planner) put(gives []choose.Give, one *plant, own self, o option, seasons []grown, draw int) {
	if len(gives) == 0 {
		return
	}
	colours := p.coloursOf(one, o)
	colour := own.colour
	if o.do == Replace {
		colour = own.plug
	}
	at := slices.Index(colours, colour)
	for t, season := range seasons {
		gives[t*len(colours)+at].Stems[draw] = uint16(min(season.stems, math.MaxUint16))
	}
}

// sideBySide does what is numbered on as many goroutines as there are processors. What one does may not hang on another's.
func sideBySide(n int, do func(int)) {
	workers := runtime.GOMAXPROCS(0)
	var running sync.WaitGroup
	for first := range workers {
		running.Go(func() {
			for i := first; i < n; i += workers {
				do(i)
			}
		})
	}
	running.Wait()
}

func sortedPlants(farm crop.Farm) []crop.PlantID { return slices.Sorted(maps.Keys(farm.Plants)) }
