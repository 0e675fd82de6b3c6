package sheets

import (
	"maps"
	"slices"

	"corymb/internal/crop"
)

// seasonsOf is the seasons in which the cuts have a row, in order.
func seasonsOf(cuts []*cut) []crop.Season {
	seen := map[crop.Season]bool{}
	for _, c := range cuts {
		seen[c.season] = true
	}
	return slices.Sorted(maps.Keys(seen))
}

// markCounted gives each plant the windows in which its silence means zero, and returns the plants
// whose declared span came to nothing and, of the others, how many declared seasons lie before the
// plant's first. Without declared spans every season of the cuts counts whole.
func (l *plantList) markCounted(present []crop.Season, s settings) (idle []crop.PlantID, early int) {
	last := s.calendar.SeasonOf(s.today)
	if len(present) > 0 {
		last = max(last, present[len(present)-1])
	}
	for _, p := range l.rows {
		if !l.declaresCounted {
			p.mark(present, crop.Window{}, s.calendar)
			continue
		}
		if p.span.From == "" {
			continue
		}
		declared := seasonsBetween(p.span, last, s.calendar)
		p.mark(declared, p.span, s.calendar)
		if len(p.counted) == 0 {
			idle = append(idle, p.id)
			continue
		}
		early += max(0, int(p.planting.FirstSeason-declared[0]))
	}
	return idle, early
}

// mark counts the plant in those of the seasons in which it was in the ground on a day of the span,
// an empty span standing for the whole season. The season of its removal may stay in: whether it was
// still exposed then depends on that season's cutting, which is the model's to say.
func (p *plantRow) mark(seasons []crop.Season, span crop.Window, calendar crop.Calendar) {
	for _, s := range seasons {
		w := calendar.Span(s)
		if span.From != "" {
			w = crop.Window{From: max(w.From, span.From), To: min(w.To, span.To)}
		}
		if s < p.planting.FirstSeason || (p.removed != "" && w.From > p.removed) {
			continue
		}
		p.counted[s] = w
	}
}

// seasonsBetween is the seasons that a span overlaps, none after the last: a far end like 2099-12-31
// says that the counting goes on.
func seasonsBetween(span crop.Window, last crop.Season, calendar crop.Calendar) []crop.Season {
	var seasons []crop.Season
	last = min(last, calendar.SeasonOf(span.To))
	for s := calendar.SeasonOf(span.From); s <= last; s++ {
		seasons = append(seasons, s)
	}
	return seasons
}
