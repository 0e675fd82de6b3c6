package sheets

import (
	"maps"
	"slices"

	"corymb/internal/crop"
)

// seasonsOf is the seasons in which the cuts have a row, in order.
func seasonsOf(cuts []*cut, calendar crop.Calendar) []crop.Season {
	seen := map[crop.Season]bool{}
	for _, c := range cuts {
		seen[calendar.SeasonOf(c.date)] = true
	}
	return slices.Sorted(maps.Keys(seen))
}

// markCounted gives each plant the windows in which its silence means zero, and returns the plants
// whose declared span came to nothing. Without declared spans every season of the cuts counts whole.
func (l *plantList) markCounted(present []crop.Season, calendar crop.Calendar) (idle []crop.PlantID) {
	for _, p := range l.rows {
		if !l.declaresCounted {
			p.mark(present, crop.Window{}, calendar)
			continue
		}
		if p.span.From == "" {
			continue
		}
		p.mark(seasonsBetween(p.span, p.planting.FirstSeason, calendar), p.span, calendar)
		if len(p.counted) == 0 {
			idle = append(idle, p.id)
		}
	}
	return idle
}

// mark counts the plant in those of the seasons that lie neither before its first one nor wholly
// after its removal. An empty span stands for the whole season. The season of its removal stays in:
// whether it was still exposed then depends on that season's first cut, which is the model's to say.
func (p *plantRow) mark(seasons []crop.Season, span crop.Window, calendar crop.Calendar) {
	for _, s := range seasons {
		w := calendar.Span(s)
		if s < p.planting.FirstSeason || (p.removed != "" && w.From > p.removed) {
			continue
		}
		if span.From != "" {
			w = crop.Window{From: max(w.From, span.From), To: min(w.To, span.To)}
		}
		p.counted[s] = w
	}
}

// seasonsBetween is the seasons that a span overlaps, from the first season on.
func seasonsBetween(span crop.Window, first crop.Season, calendar crop.Calendar) []crop.Season {
	var seasons []crop.Season
	// readSpan has refused an end beyond the season under way, so this loop is short.
	last := calendar.SeasonOf(span.To)
	for s := max(first, calendar.SeasonOf(span.From)); s <= last; s++ {
		seasons = append(seasons, s)
	}
	return seasons
}
