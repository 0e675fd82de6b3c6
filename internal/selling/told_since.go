package selling

import "corymb/internal/crop"

// PackedByLine is what was packed for each line.
func PackedByLine(s crop.Sales) map[crop.LineID][]crop.Packed {
	packed := map[crop.LineID][]crop.Packed{}
	for _, p := range s.Packed {
		packed[p.Line] = append(packed[p.Line], p)
	}
	return packed
}

// ToldOnceSold tells whether an order was written down when all of it had been sold, as a sheet of sales is read in
// (webapp/src/sheets/sales_plan.ts): taken and packed on its own day, by nobody and of no lot. Nobody promised it.
func (d Due) ToldOnceSold(s crop.Sales, packed map[crop.LineID][]crop.Packed) bool {
	if len(d.Lines) == 0 || s.Orders[d.Order].Taken != d.Day {
		return false
	}
	for _, line := range d.Lines {
		if !packedOnceSold(packed[line.ID], d.Day) {
			return false
		}
	}
	return true
}

func packedOnceSold(packed []crop.Packed, day crop.Date) bool {
	for _, p := range packed {
		if p.Date != day || p.Person != "" || len(p.Stems) > 0 {
			return false
		}
	}
	return len(packed) > 0
}
