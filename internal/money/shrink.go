package money

import (
	"cmp"
	"maps"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

// addShrink adds stems that were written off in the season, at what a stem of their colour class went for in it on the
// average. It comes after all sales: what was sold has its plants first.
func (b *books) addShrink() {
	sold, gross := b.soldByColour()
	byColour := map[crop.ColourID][]shrunk{}
	all := slices.SortedFunc(maps.Values(b.farm.Sales.Shrink), func(x, y crop.Shrink) int {
		return cmp.Or(cmp.Compare(x.Date, y.Date), cmp.Compare(x.ID, y.ID))
	})
	for _, s := range all {
		if b.inSeason(s.Date) && s.Stems != 0 {
			for _, c := range b.cellsOf(map[crop.LotID]int{s.Lot: s.Stems}, At{Day: s.Date}) {
				byColour[s.Lot.Colour] = append(byColour[s.Lot.Colour], shrunk{c, s.Reason})
			}
		}
	}
	for _, colour := range slices.Sorted(maps.Keys(byColour)) {
		b.addShrunk(byColour[colour], sold[colour], gross[colour])
	}
}

// shrunk is a cell of stems that were written off, and why.
type shrunk struct {
	cell
	reason crop.ShrinkReason
}

// addShrunk adds a colour class's stems. What they would have brought is rounded once, and shared by stems.
func (b *books) addShrunk(list []shrunk, sold int, gross crop.Cents) {
	cells, stems := make([]cell, len(list)), 0
	for i, s := range list {
		cells[i] = s.cell
		stems += max(0, s.stems)
	}
	worth := crop.Cents(0)
	if sold > 0 && gross > 0 {
		n := crop.Cents(sold)
		worth = (gross*crop.Cents(stems) + n/2) / n
	} else {
		b.ShrunkUnpriced += stems
	}
	for i, part := range selling.PartsOf(int64(worth), weightsOf(cells)) {
		b.add(list[i].at, Entry{Kind: Shrunk, Cents: crop.Cents(part), Stems: list[i].stems, What: string(list[i].reason)})
	}
}

func (b *books) soldByColour() (stems map[crop.ColourID]int, gross map[crop.ColourID]crop.Cents) {
	stems, gross = map[crop.ColourID]int{}, map[crop.ColourID]crop.Cents{}
	for _, e := range b.Entries {
		if e.Kind == Sold {
			stems[e.Colour] += e.Stems
			gross[e.Colour] += e.Cents
		}
	}
	return stems, gross
}
