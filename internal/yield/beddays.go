package yield

import "corymb/internal/crop"

// bedDay is where and when stems may have been written down more than once: in the row by plant, in
// the row by bed, and on the bench.
type bedDay struct {
	bed crop.BedID
	day crop.Date
}

// sources from the fullest: a bench total is everything that its bed gave that day, counted plants
// included.
var sources = []crop.Purpose{crop.PurposeBench, crop.PurposeBedCut, crop.PurposeCut}

// once keeps of each bed's day the fullest source that tells anything, so that no stem counts twice.
// tells is the number of stems of a visit that answer the question at hand.
func once(all []picking, tells func(*crop.Visit) int) []*picking {
	var order []bedDay
	byDay := map[bedDay][]*picking{}
	for i := range all {
		p := &all[i]
		if tells(p.visit) == 0 {
			continue
		}
		k := bedDay{p.bed, p.visit.Date}
		if len(byDay[k]) == 0 {
			order = append(order, k)
		}
		byDay[k] = append(byDay[k], p)
	}
	kept := make([]*picking, 0, len(all))
	for _, k := range order {
		kept = append(kept, fullest(byDay[k])...)
	}
	return kept
}

// fullest goes source by source: a picking is kept unless a fuller source may already hold its stems.
// Pickings of one source add up. A total narrowed to a planting or an age replaces the fainter rows of
// that part of the bed only, since it says nothing of the other plants.
func fullest(day []*picking) []*picking {
	var kept []*picking
	for _, source := range sources {
		fuller := kept
		for _, p := range day {
			if p.visit.Purpose == source && !overlapsAny(p, fuller) {
				kept = append(kept, p)
			}
		}
	}
	return kept
}

func overlapsAny(p *picking, others []*picking) bool {
	for _, o := range others {
		if p.overlap(o) {
			return true
		}
	}
	return false
}

// totalsByAge sums all stems cut, each once.
func totalsByAge(all []picking) map[int]int {
	totals := map[int]int{}
	for _, p := range once(all, (*crop.Visit).Stems) {
		totals[p.age] += p.visit.Stems()
	}
	return totals
}
