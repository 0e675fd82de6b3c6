package yield

import (
	"corymb/internal/crop"
	"corymb/internal/stats"
)

// cellsOf reports the flushes of one age that have graded stems. The model could speak of others by
// its effects, but nothing of the farm would stand behind that.
func (g gradeModel) cellsOf(age int) []GradeCell {
	cells := []GradeCell{}
	for _, flush := range g.flushes {
		cell := GradeCell{Flush: flush}
		behind := map[cluster]bool{}
		for _, t := range g.told {
			if t.age == age && t.flush == flush {
				behind[t.cluster] = true
				for _, n := range t.stems {
					cell.Stems += n
				}
			}
		}
		if cell.Stems == 0 {
			continue
		}
		cell.Plants = len(behind)
		g.fill(&cell, age)
		cells = append(cells, cell)
	}
	return cells
}

// fill puts in the probabilities at the mode and their intervals, from draws of a multivariate t on
// the scale of the thresholds. An interval always holds its probability: where a share near its
// greatest possible value lies above all but a few draws, the interval is stretched to it.
func (g gradeModel) fill(cell *GradeCell, age int) {
	grades := len(crop.GradesLowToHigh)
	x := g.covariates(age, cell.Flush)
	p, lo, hi := make([]float64, grades), make([]float64, grades), make([]float64, grades)
	stats.CategoryProbs(p, g.working, x)
	for k, draws := range g.drawProbs(x, g.degrees(age, cell.Flush)) {
		const tail = (1 - Level) / 2
		lo[k] = min(p[k], stats.Quantile(draws, tail))
		hi[k] = max(p[k], stats.Quantile(draws, 1-tail))
	}
	cell.P, cell.Lo, cell.Hi = byGrade(p), byGrade(lo), byGrade(hi)
}

// drawProbs gives for each grade the probabilities under every draw.
func (g gradeModel) drawProbs(x []float64, df int) [][]float64 {
	grades := len(crop.GradesLowToHigh)
	probs := make([][]float64, grades)
	for k := range probs {
		probs[k] = make([]float64, len(g.draws))
	}
	working, p := make([]float64, len(g.working)), make([]float64, grades)
	for i, scale := range stats.TScales(float64(df), len(g.draws), gradeDrawSeed) {
		for k, d := range g.draws[i] {
			working[k] = g.working[k] + scale*d
		}
		stats.CategoryProbs(p, working, x)
		for k, v := range p {
			probs[k][i] = v
		}
	}
	return probs
}

// degrees of freedom of a cell are one less than the clusters at its age or in its flush, whichever
// are fewer, and at least 1: the variance between plants is known no better than that (Cameron and
// Miller 2015, Journal of Human Resources 50:317-372, section VI, on few clusters).
func (g gradeModel) degrees(age int, flush crop.Flush) int {
	atAge, inFlush := map[cluster]bool{}, map[cluster]bool{}
	for _, t := range g.told {
		if t.age == age {
			atAge[t.cluster] = true
		}
		if t.flush == flush {
			inFlush[t.cluster] = true
		}
	}
	return max(1, min(len(atAge), len(inFlush))-1)
}
