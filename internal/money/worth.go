package money

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/stats"
	"corymb/internal/yield"
)

// Worth is what one more plant of a species would bring in a season like this one, by its age.
type Worth struct {
	Species string     `json:"species"`
	Grades  []GradeNet `json:"grades"`
	// Cutting is what cutting a stem costs, sold or not, and Bunching what bunching and packing one does that is sold; in
	// cents, of the farm's work of the season.
	Cutting  float64    `json:"cutting_a_stem"`
	Bunching float64    `json:"bunching_a_stem"`
	Ages     []AgeWorth `json:"ages"`
	Draws    int        `json:"draws"`
}

// GradeNet is what a saleable stem of a grade left on the average, in cents: of what was sold and what was written off, after
// channels, bringing and claims.
type GradeNet struct {
	Grade crop.Grade `json:"grade"`
	Cents float64    `json:"net_a_stem"`
	Stems int        `json:"stems"`          // sold and written off
	From  crop.Grade `json:"from,omitempty"` // whose average stands in where nothing of the grade was sold; "untold" where that is of ungraded stems
}

// GradeUntold says that an average is of stems whose grade nobody told.
const GradeUntold crop.Grade = "untold"

// AgeWorth is of plants of one age. Cents are a plant's in a season; More is how much that is above a plant one season
// younger, draw by draw.
type AgeWorth struct {
	Age      int      `json:"age"`
	Stems    Interval `json:"stems"`
	Saleable Interval `json:"saleable"` // the share of stems of a grade that is sold
	Cents    Interval `json:"cents"`
	More     Interval `json:"more_cents"` // 0 of the first season
}

// Interval is a median and between which numbers nine in ten draws lie.
type Interval struct {
	Median float64 `json:"median"`
	Lo     float64 `json:"lo"`
	Hi     float64 `json:"hi"`
}

const (
	worthDraws = 500
	worthSeed  = 1
	leastAges  = 3 // the youngest that are always told
	mostAges   = 8
)

// PlantDraws are equally likely draws of what a plant of a species gives in a season like none yet, by its age.
type PlantDraws struct {
	Species string        `json:"species"`
	Ages    [][]PlantDraw `json:"ages"` // by age less 1, and by draw: one season and place for all ages
}

// PlantDraw is one of them: stems, on the average over plants, and how they are shared by grade.
type PlantDraw struct {
	Stems  float64           `json:"stems"`
	Shares yield.GradeShares `json:"shares"`
}

// DrawPlants draws what plants give, of each species that stood in a season, from all that was counted up to a day: with
// what is not known of a season to come, of its place and of the means by age. It takes seconds.
func DrawPlants(farm crop.Farm, season crop.Season, asOf crop.Date) ([]PlantDraws, error) {
	list := []PlantDraws{}
	for _, species := range speciesOf(farm, season) {
		d := PlantDraws{Species: species}
		if err := d.draw(farm, season, yield.Options{Species: species, AsOf: asOf}); err != nil {
			return nil, fmt.Errorf("drawing what one more plant of %q would give: %w", species, err)
		}
		list = append(list, d)
	}
	return list, nil
}

// speciesOf are those of the plantings of a season, in order.
func speciesOf(farm crop.Farm, season crop.Season) []string {
	var list []string
	for _, p := range farm.Plantings {
		if of := farm.Stocks[p.Stock].Species; p.AgeIn(season) >= 1 && !slices.Contains(list, of) {
			list = append(list, of)
		}
	}
	slices.Sort(list)
	return list
}

func (d *PlantDraws) draw(farm crop.Farm, season crop.Season, options yield.Options) error {
	oldest := leastAges
	for _, p := range farm.Plantings {
		if farm.Stocks[p.Stock].Species == d.Species {
			oldest = min(max(oldest, p.AgeIn(season)), mostAges)
		}
	}
	stems, err := yield.DrawStems(farm, options, oldest, worthDraws)
	if err != nil {
		return err
	}
	grades, err := yield.DrawGrades(farm, options, oldest, worthDraws)
	if err != nil {
		return err
	}
	d.Ages = make([][]PlantDraw, oldest)
	source := rand.New(rand.NewPCG(worthSeed, 11))
	for k, draw := range stems.Draws {
		effect := draw.SeasonSD*source.NormFloat64() + draw.PlantingSD*source.NormFloat64() + draw.BedSD*source.NormFloat64()
		for age := range d.Ages {
			mean := math.Exp(draw.Ages[age] + effect + draw.PlantSD*draw.PlantSD/2)
			d.Ages[age] = append(d.Ages[age], PlantDraw{mean, grades[k%len(grades)][age]})
		}
	}
	return nil
}

// WorthOf is what one more plant of each species and age would bring at what stems of its grades left this season; nothing is
// said of how prices may change. A species of which nothing was sold is left out.
func WorthOf(farm crop.Farm, b *Books, draws []PlantDraws) []Worth {
	list := []Worth{}
	for _, of := range draws {
		w := Worth{Species: of.Species, Grades: b.gradeNets(farm, of.Species)}
		if len(w.Grades) == 0 {
			continue
		}
		w.Cutting, w.Bunching = b.workAStem()
		w.tell(of.Ages)
		list = append(list, w)
	}
	return list
}

func (w *Worth) tell(ages [][]PlantDraw) {
	var younger []float64
	for age, draws := range ages {
		var stems, saleable, cents, more []float64
		for k, d := range draws {
			stems, saleable = append(stems, d.Stems), append(saleable, 1-d.Shares[crop.GradeOut.Rank()])
			cents = append(cents, w.ofPlant(d.Stems, d.Shares))
			if age > 0 {
				more = append(more, cents[k]-younger[k])
			}
		}
		told := AgeWorth{Age: age + 1, Stems: intervalOf(stems), Saleable: intervalOf(saleable), Cents: intervalOf(cents)}
		if age > 0 {
			told.More = intervalOf(more)
		}
		w.Ages, w.Draws, younger = append(w.Ages, told), len(draws), cents
	}
}

// gradeNets are those of the saleable grades, from the lowest: of a species' stems, and of stems that may be its. What nothing
// was sold of goes at what the next lower grade does, as a better head sells at least as well; without a lower one at what
// ungraded stems do; else it brings nothing.
func (b *Books) gradeNets(farm crop.Farm, species string) []GradeNet {
	sums := map[crop.Grade]Sums{}
	for _, e := range b.Entries {
		if e.Stock != "" && farm.Stocks[e.Stock].Species != species || e.Kind == Worked || e.Kind == Spent || e.Kind == Fixed {
			continue
		}
		s := sums[e.Grade]
		s.add(e)
		sums[e.Grade] = s
	}
	var nets []GradeNet
	last := GradeNet{}
	if mean, stems := netAStem(sums[""]); stems > 0 {
		last = GradeNet{Grade: GradeUntold, Cents: mean, Stems: stems}
	}
	sold := last.Stems
	for _, grade := range crop.GradesLowToHigh[1:] {
		mean, stems := netAStem(sums[grade])
		sold += stems
		net := GradeNet{Grade: grade, Cents: last.Cents, From: last.Grade}
		if stems > 0 {
			net = GradeNet{Grade: grade, Cents: mean, Stems: stems}
			last = net
		}
		nets = append(nets, net)
	}
	if sold == 0 {
		return nil
	}
	return nets
}

func netAStem(s Sums) (mean float64, stems int) {
	stems = s.Stems + s.ShrunkStems
	if s.Stems <= 0 || stems <= 0 {
		return 0, 0
	}
	return float64(s.Net()) / float64(stems), stems
}

// workAStem is what cutting a stem and bunching one cost in the season.
func (b *Books) workAStem() (cutting, bunching float64) {
	sold, cut := 0, int64(0)
	var cutCents, bunchCents crop.Cents
	for _, e := range b.Entries {
		switch {
		case e.Kind == Sold:
			sold += e.Stems
		case e.Kind == Worked && e.What == string(crop.WorkCut):
			cutCents -= e.Cents
		case e.Kind == Worked && (e.What == string(crop.WorkBunch) || e.What == string(crop.WorkPack)):
			bunchCents -= e.Cents
		}
	}
	for _, of := range b.came {
		cut += of.all
	}
	if stems := max(float64(cut)/scale, float64(sold)); stems > 0 {
		cutting = float64(cutCents) / stems
	}
	if sold > 0 {
		bunching = float64(bunchCents) / float64(sold)
	}
	return cutting, bunching
}

// ofPlant is what a plant's stems bring: each is cut, and those of a grade that is sold are bunched and leave what such
// stems did.
func (w *Worth) ofPlant(stems float64, shares yield.GradeShares) float64 {
	aStem := -w.Cutting
	for i, net := range w.Grades { // saleable ones, from the lowest
		aStem += shares[i+1] * (net.Cents - w.Bunching)
	}
	return stems * aStem
}

func intervalOf(values []float64) Interval {
	values = slices.Clone(values)
	const tail = (1 - yield.Level) / 2
	return Interval{Median: stats.Quantile(values, 0.5), Lo: stats.Quantile(values, tail), Hi: stats.Quantile(values, 1-tail)}
}
