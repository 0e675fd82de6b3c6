package yield

import (
	"maps"
	"slices"
	"strings"

	"corymb/internal/crop"
)

// bedTotal is what the plants of some plantings of a bed gave together in one season that nobody counted:
// what was totalled, less what the counted plants among them gave on the same days while they were watched.
type bedTotal struct {
	bed    crop.BedID
	season crop.Season
	of     []stand
	unseen []unseen
	stems  int
	share  float64 // of the season's stems, the part that was totalled
}

// unseen is the counted plants of a stand that were not watched on all days with a total.
type unseen struct {
	of     stand
	plants int
	share  float64 // of a season's stems, the part that was totalled and not watched, by plant
}

// totalling gathers the totals of one bed and season over the same plantings.
type totalling struct {
	season    crop.Season
	bed       crop.BedID
	plantings []crop.PlantingID
	days      map[crop.Date]int // stems by day
	fainter   map[crop.Date]int // those of bed cuts, for days without a bench total
}

// bedTotals lists the totals that say something of uncounted plants. A bed whose totals are now of the
// whole and now of a part, one with plantings whose plants are not listed, one with days without a total of
// which too few watched plants tell, and one where the counted plants alone gave more than all are left out
// and counted for the notes; so is what is left of a total of which every plant was counted to the end.
func (r *records) bedTotals(stands []stand, counted []PlantSeason) []bedTotal {
	standing := map[crop.PlantingID]map[crop.Season]stand{}
	for _, s := range stands {
		if standing[s.planting.ID] == nil {
			standing[s.planting.ID] = map[crop.Season]stand{}
		}
		standing[s.planting.ID][s.season] = s
	}
	watched := r.watchedByDay(counted)
	var list []bedTotal
	for _, g := range r.totallings() {
		total, used := r.uncounted(g, standing, watched)
		if !used {
			r.unsummed++
			continue
		}
		switch {
		case total.left() > 0:
			list = append(list, total)
		case len(total.unseen) == 0 && total.stems > 0:
			r.surplus.totals++
			r.surplus.stems += total.stems
		}
	}
	return list
}

// left is the number of plants that nobody counted.
func (b bedTotal) left() int {
	n := 0
	for _, s := range b.of {
		n += s.alive - s.counted
	}
	return n
}

// totallings are in order of bed, season and plantings. Where the plantings of two of one bed and season
// overlap without being the same, neither is there; they are counted as unsummed.
func (r *records) totallings() []totalling {
	found := map[string]*totalling{}
	for i := range r.visits {
		v := &r.visits[i]
		if v.Purpose == crop.PurposeCut || v.Stems() == 0 {
			continue
		}
		season := r.seasonOf(v.Date)
		candidates := r.candidates(v, season)
		if ours, mixed := r.oneSpecies(candidates); len(candidates) == 0 || !ours || mixed {
			continue
		}
		ids := make([]crop.PlantingID, len(candidates))
		for k, p := range candidates {
			ids[k] = p.ID
		}
		slices.Sort(ids)
		key := totalKey(v.Bed, season, ids)
		if found[key] == nil {
			found[key] = &totalling{season: season, bed: v.Bed, plantings: ids, days: map[crop.Date]int{}, fainter: map[crop.Date]int{}}
		}
		if v.Purpose == crop.PurposeBench {
			found[key].days[v.Date] += v.Stems()
		} else {
			found[key].fainter[v.Date] += v.Stems()
		}
	}
	var list []totalling
	for _, key := range slices.Sorted(maps.Keys(found)) {
		g := found[key]
		for day, stems := range g.fainter {
			if _, benched := g.days[day]; !benched {
				g.days[day] = stems
			}
		}
		list = append(list, *g)
	}
	apart := slices.DeleteFunc(slices.Clone(list), func(g totalling) bool {
		return slices.ContainsFunc(list, func(o totalling) bool { return g.crosses(o) })
	})
	r.unsummed += len(list) - len(apart)
	return apart
}

func totalKey(bed crop.BedID, season crop.Season, plantings []crop.PlantingID) string {
	parts := []string{string(bed), name("season", season)}
	for _, p := range plantings {
		parts = append(parts, string(p))
	}
	return strings.Join(parts, "\x00")
}

// crosses tells whether two totallings of a bed and season share a planting without being the same.
func (g totalling) crosses(o totalling) bool {
	if g.bed != o.bed || g.season != o.season || slices.Equal(g.plantings, o.plantings) {
		return false
	}
	return slices.ContainsFunc(g.plantings, func(p crop.PlantingID) bool { return slices.Contains(o.plantings, p) })
}

type plantingSeason struct {
	planting crop.PlantingID
	season   crop.Season
}

// watching is what the plants behind the estimate gave while they were watched, of one planting in one season.
type watching struct {
	days  map[crop.Date]int // stems by day
	whole map[crop.Date]int // those of plants that were watched through all of the bed's cutting
	part  []watch
}

// watch is one of the other plants, and when it was watched.
type watch struct {
	plant  crop.Plant
	window crop.Window
}

func (r *records) watchedByDay(counted []PlantSeason) map[plantingSeason]*watching {
	by := map[plantingSeason]*watching{}
	for _, s := range counted {
		if s.Open {
			continue
		}
		plant := r.farm.Plants[s.Plant]
		key, window := plantingSeason{plant.Planting, s.Season}, r.watched(plant, s.Season)
		if by[key] == nil {
			by[key] = &watching{days: map[crop.Date]int{}, whole: map[crop.Date]int{}}
		}
		w := by[key]
		if s.partSeen {
			w.part = append(w.part, watch{plant, window})
		}
		for _, v := range r.cutsOf[s.Plant] {
			if !window.Holds(v.Date) {
				continue
			}
			w.days[v.Date] += v.Stems()
			if !s.partSeen {
				w.whole[v.Date] += v.Stems()
			}
		}
	}
	return by
}

// uncounted takes the watched plants' stems off.
func (r *records) uncounted(g totalling, standing map[crop.PlantingID]map[crop.Season]stand, by map[plantingSeason]*watching) (bedTotal, bool) {
	total := bedTotal{bed: g.bed, season: g.season}
	for _, stems := range g.days {
		total.stems += stems
	}
	var watched []*watching
	for _, p := range g.plantings { // which are in order
		s, stands := standing[p][g.season]
		if !stands {
			return bedTotal{}, !r.over(g.season) // a season that still runs is no fault
		}
		w := by[plantingSeason{p, g.season}]
		if w == nil {
			w = &watching{}
		}
		total.of, watched = append(total.of, s), append(watched, w)
	}
	if total.share = g.shareTotalled(watched); total.share < leastShare {
		return bedTotal{}, false
	}
	off := 0
	for i, w := range watched {
		if u := g.unseenOf(w, total); u.plants > 0 {
			u.of = total.of[i]
			total.unseen = append(total.unseen, u)
		}
		on, _ := g.split(w.days)
		off += on
	}
	total.stems -= off
	return total, total.stems >= 0
}

// shareTotalled is the part of a season's stems that fell on days with a total: of those of plants watched to
// the end, since others' windows may have missed either kind of days. Where no watched plant gave any on a day
// without a total there was none; where too few tell, the share is 0.
func (g totalling) shareTotalled(watched []*watching) float64 {
	on, all, others := 0, 0, 0
	for _, w := range watched {
		_, off := g.split(w.days)
		others += off
		in, out := g.split(w.whole)
		on, all = on+in, all+in+out
	}
	switch {
	case others == 0:
		return 1
	case all < enoughStems:
		return 0
	}
	return float64(on) / float64(all)
}

// split sums stems on days with a total, and on others.
func (g totalling) split(days map[crop.Date]int) (on, off int) {
	for day, stems := range days {
		if _, totalled := g.days[day]; totalled {
			on += stems
		} else {
			off += stems
		}
	}
	return on, off
}

// unseenOf counts the plants that stood on days with a total and were not watched then. What they gave is in
// the total and is no uncounted plant's. How much of a season that is, the totals' course tells: it is of all
// plants alike.
func (g totalling) unseenOf(w *watching, total bedTotal) unseen {
	u, missed := unseen{}, 0
	for _, p := range w.part {
		before := missed
		for day, stems := range g.days {
			if !p.window.Holds(day) && stood(p.plant, day) {
				missed += stems
			}
		}
		if missed > before {
			u.plants++
		}
	}
	if u.plants > 0 {
		u.share = total.share * float64(missed) / float64(u.plants*total.stems)
	}
	return u
}
