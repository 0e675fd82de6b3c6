package drift

import (
	"maps"
	"slices"

	"corymb/internal/crop"
)

// usual is what sessions, cameras and cards of the farm do to a reading in the mean over its firm readings,
// or over all where none is firm: colours are told as they would be read so. What all sessions, cameras and cards
// have in common then cancels, of which readings say nothing.
type usual struct {
	effect vector
	cov    dense // of all effects with this mean, 3 columns
	own    square
}

func (l *layout) usual(sol *solution) *usual {
	o := &usual{}
	weights := l.usualWeights()
	columns := slices.Sorted(maps.Keys(weights)) // in one order, so that sums have the same last digits
	o.cov.shape(l.columns, 3)
	for _, column := range columns {
		weight := weights[column]
		for axis := range 3 {
			at := column + axis
			o.effect[axis] += weight * sol.effects[at]
			for i := range l.columns {
				o.cov.row(i)[axis] += weight * sol.covariance.row(at)[i]
			}
		}
	}
	for _, column := range columns {
		for axis := range 3 {
			for other := range 3 {
				o.own[axis][other] += weights[column] * o.cov.row(column + axis)[other]
			}
		}
	}
	return o
}

// usualWeights are by the first column of each session, camera and card.
func (l *layout) usualWeights() map[int]float64 {
	weights := map[int]float64{}
	firm := false
	for _, r := range l.ordered {
		firm = firm || r.Firm()
	}
	n := 0.0
	for _, b := range l.blocks {
		for _, o := range b.readings {
			if o.firm != firm {
				continue
			}
			n++
			for _, t := range o.touches {
				if at := b.columns[t.at]; l.kindAt[at] == ofSession || l.kindAt[at] == ofCamera || l.kindAt[at] == ofCard {
					weights[at]++
				}
			}
		}
	}
	for at := range weights {
		weights[at] /= n
	}
	return weights
}

// measured is a plant's colour in a season.
type measured struct {
	at  vector
	cov square
}

// colour is what is known of a plant's colour in a season: its posterior mean and covariance, with a flat prior on
// the plant's level, the wobble's on the season, and what the stand did in it. It stands on unknownEffects.
func (w *workspace) colour(b *block, season int, sol *solution, usual *usual) measured {
	held := w.turned[atWobble]
	if b.free[season] {
		held = held.plus(identity.scale(freeVariance))
	}
	n, k := len(b.readings), len(b.columns)
	level := w.bwb.inverse()
	var seasonOnLevel, seasonWeight square // sums of V^-1 B and of W over the season's readings
	var weights dense                      // M, by which readings make the estimate
	weights.shape(3, 3*n)
	w.half.shape(3, k) // what effects add to it, J = X - M Z
	for j := range b.readings {
		var fromSeason square
		for i, o := range b.readings {
			if o.season == season {
				fromSeason = fromSeason.plus(w.w.at(i, j))
			}
		}
		weights.block(0, j, level.times(w.wb.at(j, 0).transposed()).plus(held.times(fromSeason)))
		if b.readings[j].season == season {
			seasonOnLevel = seasonOnLevel.plus(w.wb.at(j, 0))
			seasonWeight = seasonWeight.plus(fromSeason)
		}
	}
	m := measured{at: b.middle.plus(usual.effect)}
	for axis := range 3 {
		for i, v := range weights.row(axis) {
			m.at[axis] += v * w.y[i]
		}
		row := w.half.row(axis)
		for j, o := range b.readings {
			for _, t := range o.touches {
				for c, d := range t.along {
					for other := range 3 {
						row[t.at+c] -= weights.row(axis)[3*j+other] * b.directions[other][d]
					}
				}
			}
		}
		if at := b.stand[season]; at >= 0 {
			for c := range directions {
				row[at+c] += b.directions[axis][c]
			}
		}
		for i, v := range row {
			m.at[axis] += v * sol.effects[b.columns[i]]
		}
	}
	pull := identity.plus(held.times(seasonOnLevel).scale(-1))
	// The season's prior variance less what readings take of it, K V^-1 K' with V^-1 = W + V^-1 B level B'V^-1.
	season1 := held.times(seasonOnLevel)
	taken := held.times(seasonWeight).times(held).plus(season1.times(level).times(season1.transposed()))
	m.cov = pull.times(level).times(pull.transposed()).plus(held).plus(taken.scale(-1)).plus(usual.own)
	for axis := range 3 {
		for other := range 3 {
			for i, v := range w.half.row(axis) {
				with := usual.cov.row(b.columns[i])
				m.cov[axis][other] += v * with[other]
				m.cov[other][axis] += v * with[other]
				for j, u := range w.half.row(other) {
					m.cov[axis][other] += v * w.cov.row(i)[j] * u
				}
			}
		}
	}
	return m
}

// colours are of all plants and the seasons that they were read in.
func (l *layout) colours(f *fitted, w *workspace) (map[*block][]measured, error) {
	u := l.usual(f.solution)
	found := map[*block][]measured{}
	for _, b := range l.blocks {
		if err := w.recall(b, f.solution); err != nil {
			return nil, err
		}
		w.unknownEffects(b, f.solution)
		for season := range b.seasons {
			found[b] = append(found[b], w.colour(b, season, f.solution, u))
		}
	}
	return found, nil
}

// seasonAt is the place of a season in a plant's list, -1 where it was not read then.
func (b *block) seasonAt(season crop.Season) int {
	for i, s := range b.seasons {
		if s == season {
			return i
		}
	}
	return -1
}
