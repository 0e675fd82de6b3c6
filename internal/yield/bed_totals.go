package yield

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"corymb/internal/crop"
)

// bedTotal is what the plants of some plantings of a bed that nobody counted gave together in one season:
// what was totalled, less what the counted plants among them gave on the same days.
type bedTotal struct {
	bed    crop.BedID
	season crop.Season
	of     []stand
	stems  int
	share  float64 // of the season's stems, the part that was totalled
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
// whole and now of a part, one with plantings whose plants are not listed, and one where the counted plants
// alone gave more than all are left out and counted for the notes.
func (r *records) bedTotals(stands []stand, counted []PlantSeason) []bedTotal {
	standing := map[crop.PlantingID]map[crop.Season]stand{}
	for _, s := range stands {
		if standing[s.planting.ID] == nil {
			standing[s.planting.ID] = map[crop.Season]stand{}
		}
		standing[s.planting.ID][s.season] = s
	}
	perPlant := r.countedByDay(counted)
	var list []bedTotal
	for _, g := range r.totallings() {
		total, used := r.uncounted(g, standing, perPlant)
		if !used {
			r.unsummed++
			continue
		}
		if total.left() > 0 {
			list = append(list, total)
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

// countedByDay is what the plants behind the estimate gave, by planting, season and day.
func (r *records) countedByDay(counted []PlantSeason) map[plantingSeason]map[crop.Date]int {
	by := map[plantingSeason]map[crop.Date]int{}
	for _, s := range counted {
		if s.Open {
			continue
		}
		plant := r.farm.Plants[s.Plant]
		key := plantingSeason{plant.Planting, s.Season}
		if by[key] == nil {
			by[key] = map[crop.Date]int{}
		}
		for _, v := range r.cutsOf[s.Plant] {
			if r.seasonOf(v.Date) == s.Season {
				by[key][v.Date] += v.Stems()
			}
		}
	}
	return by
}

// uncounted takes the counted plants' stems off. The share that was totalled is that of their stems which
// fell on days with a total; without any of theirs, every day of cutting had one.
func (r *records) uncounted(g totalling, standing map[crop.PlantingID]map[crop.Season]stand, perPlant map[plantingSeason]map[crop.Date]int) (bedTotal, bool) {
	total := bedTotal{bed: g.bed, season: g.season, share: 1}
	for _, stems := range g.days {
		total.stems += stems
	}
	inside, all := 0, 0
	for _, p := range g.plantings {
		s, stands := standing[p][g.season]
		if !stands {
			return bedTotal{}, !r.over(g.season) // a season that still runs is no fault
		}
		total.of = append(total.of, s)
		for day, stems := range perPlant[plantingSeason{p, g.season}] {
			all += stems
			if _, totalled := g.days[day]; totalled {
				inside += stems
			}
		}
	}
	slices.SortFunc(total.of, func(a, b stand) int { return cmp.Compare(a.planting.ID, b.planting.ID) })
	total.stems -= inside
	if inside < all {
		total.share = float64(inside) / float64(all)
	}
	thin := inside < all && all < enoughStems
	return total, total.stems >= 0 && total.share >= leastShare && !thin
}
