package drift

import (
	"slices"

	"corymb/internal/crop"
)

// What the whole stand did in a season can be told from what light and cameras did where reference plants, which
// are taken not to drift together with it, were read in that season and in the first. Else only plants beside each
// other can be judged.

// enoughReferences is how many of them must be there: of one alone nobody knows whether it drifts itself.
const enoughReferences = 2

// middlePlant is what a unit of each of a season's numbers does to a plant in the middle of the stand.
func (l *layout) middlePlant() [3]ways {
	var sum [3]ways
	n := 0.0
	for _, b := range l.blocks {
		if b.reference {
			continue
		}
		n++
		for axis := range 3 {
			for d := range directions {
				sum[axis][d] += b.directions[axis][d]
			}
		}
	}
	for axis := range 3 {
		for d := range directions {
			sum[axis][d] /= max(1, n)
		}
	}
	return sum
}

// standShift is the stand's move from one season to another at a solution.
func (l *layout) standShift(sol *solution, from, to int, middle [3]ways) shift {
	var s shift
	for axis := range 3 {
		for d := range directions {
			s.by[axis] += middle[axis][d] * (sol.effects[to+d] - sol.effects[from+d])
			for other := range 3 {
				for e := range directions {
					c := sol.covariance.row(to + d)[to+e] + sol.covariance.row(from + d)[from+e] -
						sol.covariance.row(to + d)[from+e] - sol.covariance.row(from + d)[to+e]
					s.cov[axis][other] += middle[axis][d] * middle[other][e] * c
				}
			}
		}
	}
	return s
}

// standSeasons are the seasons in which plants other than references were read, with the columns of each.
func (l *layout) standSeasons() (seasons []crop.Season, at []int) {
	columns := map[crop.Season]int{}
	for _, b := range l.blocks {
		for i, season := range b.seasons {
			if b.stand[i] >= 0 {
				columns[season] = b.columns[b.stand[i]]
			}
		}
	}
	for season := range columns {
		seasons = append(seasons, season)
	}
	slices.Sort(seasons)
	for _, season := range seasons {
		at = append(at, columns[season])
	}
	return seasons, at
}

// referencesIn counts reference plants that were firmly read in both seasons and did not move in between so far that they
// tell nothing of the stand.
func (l *layout) referencesIn(a, b crop.Season) int {
	n := 0
	for _, block := range l.blocks {
		if block.reference && block.tells(a) && block.tells(b) {
			n++
		}
	}
	return n
}

func (b *block) tells(season crop.Season) bool {
	return slices.ContainsFunc(b.readings, func(o observation) bool { return o.firm && b.seasons[o.season] == season && !b.free[o.season] })
}
