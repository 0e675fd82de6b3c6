package yield

import (
	"math"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/stats"
)

// mostReported bounds how many draws are turned into probabilities where many rows are behind a cell: an
// interval's end is placed to a fifteenth of a standard error by 500.
const mostReported = 500

// reported are draws to report by; of those of many rows, every so many.
func (m *qualityModel) reported(rows int) stats.Draws {
	const light = 20
	if rows <= light {
		return m.draws
	}
	return m.draws.Thin(mostReported)
}

// fill writes the grades of the flushes of an age that have graded stems. The model could speak of others
// by its effects, but nothing of the farm would stand behind that.
func (g *gradeModel) fill(a *Age) {
	for _, flush := range g.flushes {
		cell := GradeCell{Flush: flush}
		behind := map[cluster]bool{}
		for _, s := range g.graded {
			if s.age != a.Age || s.flush != flush {
				continue
			}
			behind[s.cluster()] = true
			for _, n := range s.stems {
				cell.Stems += int(n)
			}
		}
		if cell.Stems == 0 {
			continue
		}
		cell.Plants = len(behind)
		g.fillCell(&cell, a.Age)
		a.Grades = append(a.Grades, cell)
	}
}

// fillCell reports the mean over draws, so that the shares sum to 1; an interval that the mean lies outside
// of, the draws being all but alike on one side, is stretched to it.
func (g *gradeModel) fillCell(cell *GradeCell, age int) {
	parts := g.parts(age, cell.Flush)
	draws := g.reported(len(parts))
	grades := len(crop.GradesLowToHigh)
	byGradeOf := make([][]float64, grades)
	probs := make([]float64, grades)
	p, lo, hi := make([]float64, grades), make([]float64, grades), make([]float64, grades)
	for i, point := range draws.Points {
		g.probs(probs, point, parts)
		for k, v := range probs {
			byGradeOf[k] = append(byGradeOf[k], v)
			p[k] += draws.Weight[i] * v
		}
	}
	for k, values := range byGradeOf {
		lo[k] = min(p[k], draws.Quantile(values, tail))
		hi[k] = max(p[k], draws.Quantile(values, 1-tail))
	}
	cell.P, cell.Lo, cell.Hi = byGrade(p), byGrade(lo), byGrade(hi)
}

// graders lists how each person's grades lie beside the middle one's.
func (g *gradeModel) graders() []Grader {
	stems := map[crop.PersonID]int{}
	var people []crop.PersonID
	for _, s := range g.graded {
		if s.grader == "" {
			continue
		}
		if _, seen := stems[s.grader]; !seen {
			people = append(people, s.grader)
		}
		for _, n := range s.stems {
			stems[s.grader] += int(n)
		}
	}
	slices.Sort(people)
	var list []Grader
	for _, person := range people {
		i := g.p.at[name("grader", person)]
		list = append(list, Grader{
			Person: person, Stems: stems[person],
			Interval: intervalOf(g.draws, func(point []float64) float64 { return point[i] }),
		})
	}
	return list
}

// fill writes the mean length of each flush of an age that has measured stems.
func (l *lengthModel) fill(a *Age) {
	for _, s := range l.measured {
		if _, done := a.LengthCM[s.flush]; done || s.age != a.Age {
			continue
		}
		parts := l.parts(a.Age, s.flush)
		if len(parts) == 0 {
			continue
		}
		if a.LengthCM == nil {
			a.LengthCM = map[crop.Flush]Interval{}
		}
		a.LengthCM[s.flush] = intervalOf(l.draws, func(point []float64) float64 { return l.mean(point, parts) })
	}
}

// bestShare is the best tenth's lower end, in standard deviations of plants' effects.
var bestShare = math.Sqrt2 * math.Erfinv(2*0.9-1)

// mostWorthDraws bounds the draws behind each plant's own figures.
const (
	mostWorthDraws = 400
	mostWorthCells = 2_000_000 // draws times cells
)

// worth is each counted plant beside the others: its effect drawn given each draw of everything else.
func worth(stems *stemsModel, grades *gradeModel, d *data) []PlantWorth {
	list := make([]PlantWorth, len(stems.plants))
	effects, draws := effectsOf(stems.mixed, stems.draws)
	for i, id := range stems.plants {
		times := make([]float64, len(draws.Points))
		best := 0.0
		for k, point := range draws.Points {
			sd := stems.effect.SD(point)
			times[k] = math.Exp(sd * effects[k][i])
			if effects[k][i] > bestShare {
				best += draws.Weight[k]
			}
		}
		list[i] = PlantWorth{Plant: id, Code: d.farm.Plants[id].Code, Times: quantiles(draws, times), BestTenth: best}
	}
	for _, s := range d.counted {
		if i, found := slices.BinarySearch(stems.plants, s.Plant); found && !s.Open {
			list[i].Seasons++
		}
	}
	grades.judge(list, stems.plants)
	return list
}

func effectsOf(m *stats.Mixed, draws stats.Draws) ([][]float64, stats.Draws) {
	n := max(50, min(mostWorthDraws, mostWorthCells/max(1, len(m.Cells))))
	draws = draws.Thin(n)
	return m.Effects(draws, drawSeed), draws
}

// judge adds the share of extra stems that each plant would give in the spring of its second season.
func (g *gradeModel) judge(list []PlantWorth, plants []crop.PlantID) {
	if len(g.graded) == 0 {
		return
	}
	effects, draws := effectsOf(g.mixed, g.draws)
	f := *g.family
	probs := make([]float64, len(crop.GradesLowToHigh))
	for i, id := range plants {
		group, known := g.groups[cluster{plant: id}]
		if !known {
			continue
		}
		values := make([]float64, len(draws.Points))
		for k, point := range draws.Points {
			f.Set(point)
			f.Probs(probs, g.typical(point)+g.sdAt(point)*effects[k][group])
			values[k] = probs[len(probs)-1]
		}
		extra := quantiles(draws, values)
		list[i].Extra = &extra
	}
}

// typical is the predictor of the spring of the second season, in the first week, of a middle planting, bed
// and grader.
func (g *gradeModel) typical(point []float64) float64 {
	i, known := g.p.at[name("step", 2)]
	if !known {
		return g.priors.secondStep.Mean
	}
	return point[i]
}
