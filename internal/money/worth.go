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
	Species string
	Grades  []GradeNet
	// Cutting is what cutting a stem costs, sold or not, and Bunching what bunching and packing one does that is sold; in
	// cents, of the farm's work of the season.
	Cutting, Bunching float64
	Ages              []AgeWorth
	Draws             int
}

// GradeNet is what a saleable stem of a grade left on the average, in cents: of what was sold and what was written off, after
// channels, bringing and claims.
type GradeNet struct {
	Grade crop.Grade
	Cents float64
	Stems int        // sold and written off
	From  crop.Grade // whose average stands in where nothing of the grade was sold; "untold" where that is of ungraded stems
}

// GradeUntold says that an average is of stems whose grade nobody told.
const GradeUntold crop.Grade = "untold"

// AgeWorth is of plants of one age. Cents are a plant's in a season; More is how much that is above a plant one season
// younger, draw by draw.
type AgeWorth struct {
	Age      int
	Stems    Interval
	Saleable Interval // the share of stems of a grade that is sold
	Cents    Interval
	More     Interval // 0 of the first season
}

// Interval is a median and between which numbers nine in ten draws lie.
type Interval struct{ Median, Lo, Hi float64 }

const (
	worthDraws = 500
	worthSeed  = 1
	leastAges  = 3 // the youngest that are always told
	mostAges   = 8
)

// WorthOf is what one more plant of each species and age would bring, with what is not known of its season, its place and the
// means of its age; nothing is said of the spread of prices, which are the season's. No species where nothing was sold.
func WorthOf(farm crop.Farm, b *Books, asOf crop.Date) ([]Worth, error) {
	list := []Worth{}
	for _, species := range speciesOf(farm, b) {
		w := Worth{Species: species, Grades: b.gradeNets(farm, species)}
		if len(w.Grades) == 0 {
			continue
		}
		w.Cutting, w.Bunching = b.workAStem()
		if err := w.draw(farm, b.Season, yield.Options{Species: species, AsOf: asOf}); err != nil {
			return nil, fmt.Errorf("finding what one more plant of %q would bring: %w", species, err)
		}
		list = append(list, w)
	}
	return list, nil
}

// speciesOf are those of the plants that stood in the season, in order.
func speciesOf(farm crop.Farm, b *Books) []string {
	var list []string
	for _, plant := range b.ground.plants {
		if of := farm.Stocks[plant.Stock].Species; !slices.Contains(list, of) {
			list = append(list, of)
		}
	}
	slices.Sort(list)
	return list
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

func (w *Worth) draw(farm crop.Farm, season crop.Season, options yield.Options) error {
	oldest := leastAges
	for _, p := range farm.Plantings {
		if farm.Stocks[p.Stock].Species == w.Species {
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
	w.Draws = len(stems.Draws)
	all := make([]drawnAge, oldest)
	source := rand.New(rand.NewPCG(worthSeed, 11))
	for k, draw := range stems.Draws {
		// One season, one place: what is good for a plant of one age is for all.
		effect := draw.SeasonSD*source.NormFloat64() + draw.PlantingSD*source.NormFloat64() + draw.BedSD*source.NormFloat64()
		for age := range all {
			mean := math.Exp(draw.Ages[age] + effect + draw.PlantSD*draw.PlantSD/2)
			all[age].add(mean, w.ofPlant(mean, grades[k%len(grades)][age]), 1-grades[k%len(grades)][age][crop.GradeOut.Rank()])
		}
	}
	for age, of := range all {
		told := AgeWorth{Age: age + 1, Stems: intervalOf(of.stems), Saleable: intervalOf(of.saleable), Cents: intervalOf(of.cents)}
		if age > 0 {
			more := make([]float64, len(of.cents))
			for k := range more {
				more[k] = of.cents[k] - all[age-1].cents[k]
			}
			told.More = intervalOf(more)
		}
		w.Ages = append(w.Ages, told)
	}
	return nil
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

// drawnAge is an age's draws.
type drawnAge struct{ stems, cents, saleable []float64 }

func (d *drawnAge) add(stems, cents, saleable float64) {
	d.stems, d.cents, d.saleable = append(d.stems, stems), append(d.cents, cents), append(d.saleable, saleable)
}

func intervalOf(values []float64) Interval {
	values = slices.Clone(values)
	const tail = (1 - yield.Level) / 2
	return Interval{Median: stats.Quantile(values, 0.5), Lo: stats.Quantile(values, tail), Hi: stats.Quantile(values, 1-tail)}
}
