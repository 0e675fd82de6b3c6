package money

import (
	"cmp"
	"maps"
	"slices"

	"corymb/internal/crop"
)

// addSpent adds the season's costs, each where it was told to belong.
func (b *books) addSpent() {
	costs := slices.SortedFunc(maps.Values(b.farm.Money.Costs), func(x, y crop.Cost) int {
		return cmp.Or(cmp.Compare(x.Date, y.Date), cmp.Compare(x.ID, y.ID))
	})
	for _, cost := range costs {
		if !b.inSeason(cost.Date) || cost.Cents == 0 {
			continue
		}
		kind := Spent
		if cost.Fixed {
			kind = Fixed
		}
		at := At{Channel: cost.Channel, Stock: cost.Stock, Bed: cost.Bed, Day: cost.Date}
		b.add(at, Entry{Kind: kind, Cents: -cost.Cents, What: string(cost.Kind)})
	}
}

// addWork adds the season's work at what an hour costs, rounded to the cent once for each piece of it.
func (b *books) addWork(hour crop.Cents) {
	work := slices.SortedFunc(maps.Values(b.farm.Money.Work), func(x, y crop.Work) int {
		return cmp.Or(cmp.Compare(x.Date, y.Date), cmp.Compare(x.ID, y.ID))
	})
	for _, w := range work {
		if !b.inSeason(w.Date) || w.Minutes == 0 {
			continue
		}
		at := At{Channel: w.Channel, Bed: w.Bed, Day: w.Date}
		b.add(at, Entry{Kind: Worked, Cents: -costOf(w.Minutes, hour), Minutes: w.Minutes, What: string(w.Kind)})
	}
}

// costOf is what so many minutes cost, half a cent up.
func costOf(minutes int, hour crop.Cents) crop.Cents {
	const inAnHour = 60
	return (crop.Cents(minutes)*hour + inAnHour/2) / inAnHour
}
