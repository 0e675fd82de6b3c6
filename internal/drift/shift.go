package drift

import (
	"fmt"

	"corymb/internal/crop"
)

// shift is how far a plant's firm readings of a season lie from those of its baseline: the least-squares
// estimate of a shift that is added to the model as a number of its own. So the plant itself says nothing of
// what it is held against, neither of its sessions nor of its stand, and a drifting one cannot drag them along.
// The covariance has everything in it: photos, days, sessions, and the wobble of both seasons.
type shift struct {
	season int // its place in the plant's list
	by     vector
	cov    square
	days   []dayShift // each day alone; none where only seasons were asked
}

// dayShift is the same of one day's firm readings.
type dayShift struct {
	date crop.Date
	by   vector
	cov  square
}

// groups tells which readings share an added shift: firm ones of a season, or of a day, that is not the
// baseline's. Readings that are not firm get one for each season, so that they say nothing of firm ones. -1 are
// the firm readings of the baseline itself.
type groups struct {
	of   []int // by reading
	firm []int // by group: season or day, -1 of readings that are not firm
}

func (b *block) grouped(place func(observation) int, groups *groups) {
	groups.of, groups.firm = groups.of[:0], groups.firm[:0]
	at := map[[2]int]int{}
	for _, o := range b.readings {
		if o.firm && o.season == b.baseline {
			groups.of = append(groups.of, -1)
			continue
		}
		key, firm := [2]int{0, place(o)}, place(o)
		if !o.firm {
			key, firm = [2]int{1, o.season}, -1
		}
		if _, known := at[key]; !known {
			at[key] = len(groups.firm)
			groups.firm = append(groups.firm, firm)
		}
		groups.of = append(groups.of, at[key])
	}
}

// shifts are a plant's, of every season with firm readings after its baseline. It stands on unknownEffects.
func (w *workspace) shifts(b *block, sol *solution, daily bool) ([]shift, error) {
	if b.baseline < 0 {
		return nil, nil
	}
	b.grouped(func(o observation) int { return o.season }, &w.groups)
	by, cov, explained, err := w.added(b)
	if err != nil {
		return nil, err
	}
	w.scatter = scatter{left: w.left(b, sol) - explained, df: 3 * float64(len(b.readings)-1-len(w.groups.firm))}
	var list []shift
	for g, season := range w.groups.firm {
		if season < 0 {
			continue
		}
		s := shift{season: season, by: by[g], cov: cov.at(g, g)}
		if b.free[season] {
			s.cov = s.cov.plus(identity.scale(-freeVariance))
		}
		list = append(list, s)
	}
	if !daily || len(list) == 0 {
		return list, nil
	}
	b.grouped(func(o observation) int { return o.day }, &w.groups)
	if by, cov, _, err = w.added(b); err != nil {
		return nil, err
	}
	for g, day := range w.groups.firm {
		if day < 0 {
			continue
		}
		season := b.days[day].season
		d := dayShift{date: b.days[day].date, by: by[g], cov: cov.at(g, g)}
		if b.free[season] {
			d.cov = d.cov.plus(identity.scale(-freeVariance))
		}
		for i := range list {
			if list[i].season == season {
				list[i].days = append(list[i].days, d)
			}
		}
	}
	return list, nil
}

// added estimates a shift for each group: with A that gives readings their group, (A'PA)^-1 A'Py and (A'PA)^-1; and what
// of the squared distance of the plant's readings from the model they explain.
func (w *workspace) added(b *block) (by []vector, cov *dense, explained float64, err error) {
	n := len(w.groups.firm)
	w.shift.shape(3*n, 3*n)
	right := make([]vector, n)
	for i, g := range w.groups.of {
		if g < 0 {
			continue
		}
		right[g] = right[g].plus(vector(w.r[3*i : 3*i+3]))
		for j, other := range w.groups.of {
			if other >= 0 {
				w.shift.block(g, other, w.p.at(i, j))
			}
		}
	}
	if _, err := w.shift.invert(); err != nil {
		return nil, nil, 0, fmt.Errorf("shifts of plant %s: %w", b.plant, err)
	}
	by = make([]vector, n)
	for g := range by {
		for other, v := range right {
			by[g] = by[g].plus(w.shift.at(g, other).of(v))
		}
		explained += by[g].dot(right[g])
	}
	return by, &w.shift, explained, nil
}

// eachShift works out the shifts of plants at a solution.
func (l *layout) eachShift(blocks []*block, sol *solution, daily bool, w *workspace, tell func(*block, []shift)) error {
	for _, b := range blocks {
		if b.baseline < 0 || len(b.seasons) < 2 {
			continue
		}
		if err := w.recall(b, sol); err != nil {
			return err
		}
		w.unknownEffects(b, sol)
		list, err := w.shifts(b, sol, daily)
		if err != nil {
			return err
		}
		tell(b, list)
	}
	return nil
}
