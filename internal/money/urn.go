package money

import (
	"maps"
	"slices"

	"corymb/internal/crop"
)

// urn holds a lot's sources, and how many stems of each were taken.
type urn struct {
	sources []source
	weights []int64
	all     int64
	given   []int64
	taken   int64
}

func (s *sources) urn(lot crop.LotID) *urn {
	if u, known := s.urns[lot]; known {
		return u
	}
	found := s.of(lot)
	u := &urn{}
	for _, of := range slices.SortedFunc(maps.Keys(found), compareSources) {
		if n := found[of]; n > 0 {
			u.sources, u.weights, u.all = append(u.sources, of), append(u.weights, n), u.all+n
		}
	}
	if u.all == 0 {
		u.sources, u.weights, u.all = []source{{}}, []int64{1}, 1
	}
	u.given = make([]int64, len(u.sources))
	s.urns[lot] = u
	return u
}

// take takes stems of a lot: each of the source that lags most behind its share of all that were taken so far. So also
// many small bunches together have of each plant what it gave, which their largest remainders apart would not.
func (s *sources) take(lot crop.LotID, stems int) map[source]int {
	if stems < 0 { // put back by somebody, nobody knows of which
		return map[source]int{{}: stems}
	}
	u := s.urn(lot)
	u.taken += int64(stems)
	found := map[source]int{}
	for range stems {
		best, most := 0, int64(-1)<<62
		for i, w := range u.weights {
			if lag := u.taken*w - u.given[i]*u.all; lag > most {
				best, most = i, lag
			}
		}
		u.given[best]++
		found[u.sources[best]]++
	}
	return found
}
