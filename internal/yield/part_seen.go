package yield

import (
	"cmp"
	"slices"

	"corymb/internal/crop"
)

// cutDays is what was cut of one bed (or of the farm, under the empty bed) in one season, by day, with
// running sums: each stem once.
type cutDays struct {
	days []crop.Date
	sum  []int // up to and with the day
}

// enoughStems tell the course of a season in one bed; fewer, and the farm's stands in.
const enoughStems = 20

// leastShare is the smallest part of a season in which a window saw enough to say anything of the whole.
const leastShare = 0.05

func cutByDay(r *records, all []picking) map[bedSeason]*cutDays {
	kept := once(all, (*crop.Visit).Stems)
	slices.SortStableFunc(kept, func(a, b *picking) int { return cmp.Compare(a.visit.Date, b.visit.Date) })
	course := map[bedSeason]*cutDays{}
	for _, p := range kept {
		season := r.seasonOf(p.visit.Date)
		for _, key := range []bedSeason{{p.bed, season}, {"", season}} {
			if course[key] == nil {
				course[key] = &cutDays{}
			}
			course[key].add(p.visit.Date, p.visit.Stems())
		}
	}
	return course
}

func (c *cutDays) add(day crop.Date, stems int) {
	last := len(c.days) - 1
	if last >= 0 && c.days[last] == day {
		c.sum[last] += stems
		return
	}
	if last >= 0 {
		stems += c.sum[last]
	}
	c.days, c.sum = append(c.days, day), append(c.sum, stems)
}

// upTo is what was cut before the day, and on it if whole.
func (c *cutDays) upTo(day crop.Date, whole bool) int {
	i, found := slices.BinarySearch(c.days, day)
	if found && whole {
		i++
	}
	if i == 0 {
		return 0
	}
	return c.sum[i-1]
}

func (c *cutDays) within(w crop.Window) int { return c.upTo(w.To, true) - c.upTo(w.From, false) }

func (c *cutDays) all() int { return c.sum[len(c.sum)-1] }

// shareSeen is the part of a season's stems that were cut inside a window, judged by what others gave in
// the same bed, or where that is little, on the whole farm; own stems are the plant's, all inside. Where
// both say little, the bed's days of cutting stand for stems.
func shareSeen(course map[bedSeason]*cutDays, bed crop.BedID, season crop.Season, w crop.Window, own int) float64 {
	for _, key := range []bedSeason{{bed, season}, {"", season}} {
		c := course[key]
		if c == nil || c.all()-own < enoughStems {
			continue
		}
		return float64(max(0, c.within(w)-own)) / float64(c.all()-own)
	}
	c := course[bedSeason{bed, season}]
	if c == nil {
		return 1
	}
	inside := 0
	for _, day := range c.days {
		if w.Holds(day) {
			inside++
		}
	}
	return float64(inside) / float64(len(c.days))
}

// weighShares finds the part that each finished plant-season saw, and leaves out those that saw next to
// nothing, counting them for the notes.
func (r *records) weighShares(seasons []PlantSeason, course map[bedSeason]*cutDays) []PlantSeason {
	kept := make([]PlantSeason, 0, len(seasons))
	for _, s := range seasons {
		s.share = 1
		if s.partSeen && !s.Open {
			plant := r.farm.Plants[s.Plant]
			bed := r.farm.Plantings[plant.Planting].Bed
			s.share = shareSeen(course, bed, s.Season, r.watched(plant, s.Season), s.Stems)
		}
		if s.share < leastShare {
			r.missed++
			continue
		}
		kept = append(kept, s)
	}
	return kept
}
