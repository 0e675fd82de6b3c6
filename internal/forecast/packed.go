package forecast

import (
	"encoding/base64"
	"encoding/binary"

	"corymb/internal/crop"
)

// Packed are joint draws in a form that a phone can hold; the same draw is the same future in all weeks, colours, grades and
// lengths.
type Packed struct {
	N       int             `json:"n"`
	From    crop.Date       `json:"from"`    // the first day that is not over
	Weeks   []crop.Date     `json:"weeks"`   // Mondays
	Colours []crop.ColourID `json:"colours"` // the empty one of plants of which no class is known
	// Lengths are lower edges in ascending order, the first 0. Stems of which nobody told the length are drawn like those
	// that were told; unsaleable ones are all with the shortest.
	Lengths []crop.Millimetres `json:"lengths"`
	// Stems are, by draw, week, colour, grade (from the worst) and length, numbers in LEB128 without a sign (as DWARF
	// version 5 has it, section 7.6); a 0 is followed by how many more follow it, which never go past the end of a draw.
	Stems string `json:"stems"` // base64 with padding (RFC 4648, section 4)
	// Days are, by draw and week, seven bytes from Monday to Sunday: which part of all the week's stems has been cut by
	// the end of the day, in 255ths; the last is 255. Of n stems of a week n part / 255 come until then; whoever
	// rounds it must not round each small number to the nearest, or all would come on the middle day.
	Days string `json:"days"` // base64 likewise
}

// whole is a week's part when it is over.
const whole = 255

// packed packs draws of some weeks.
func (d *draws) packed(from crop.Date, weeks []crop.Date) Packed {
	p := Packed{N: len(d.stems), From: from, Weeks: []crop.Date{}, Colours: d.colours, Lengths: d.lengths}
	for w := range weeks {
		if anyAbove0(d.total[w]) {
			p.Weeks = weeks[:w+1]
		}
	}
	var stems, days []byte
	for i := range d.stems {
		stems = appendStems(stems, d.stems[i][:d.at(len(p.Weeks), 0, 0)])
		for _, week := range d.days[i][:len(p.Weeks)] {
			days = appendParts(days, week)
		}
	}
	p.Stems, p.Days = base64.StdEncoding.EncodeToString(stems), base64.StdEncoding.EncodeToString(days)
	return p
}

func anyAbove0(numbers []float64) bool {
	for _, n := range numbers {
		if n > 0 {
			return true
		}
	}
	return false
}

// appendStems packs one draw's stems.
func appendStems(to []byte, stems []uint32) []byte {
	zeros := uint64(0)
	end := func() {
		if zeros > 0 {
			to = binary.AppendUvarint(append(to, 0), zeros-1)
		}
		zeros = 0
	}
	for _, n := range stems {
		if n == 0 {
			zeros++
			continue
		}
		end()
		to = binary.AppendUvarint(to, uint64(n))
	}
	end()
	return to
}

// appendParts packs the days of one week, to the nearest 255th.
func appendParts(to []byte, days [7]int) []byte {
	all, sum := 0, 0
	for _, n := range days {
		all += n
	}
	for day, n := range days {
		sum += n
		switch {
		case day == 6:
			to = append(to, whole)
		case all == 0:
			to = append(to, 0)
		default:
			to = append(to, byte((2*whole*sum+all)/(2*all)))
		}
	}
	return to
}
