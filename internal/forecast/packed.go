package forecast

import (
	"encoding/base64"

	"corymb/internal/crop"
)

// Packed are joint draws in a form that a phone can hold and a poor line can carry; the same draw is the same future in all
// weeks, colours, grades and lengths.
type Packed struct {
	N       int             `json:"n"`
	From    crop.Date       `json:"from"`    // the first day that is not over
	Weeks   []crop.Date     `json:"weeks"`   // Mondays
	Colours []crop.ColourID `json:"colours"` // the empty one of plants of which no class is known
	// Lengths are lower edges in ascending order, the first 0. Stems of which nobody told the length are drawn like those
	// that were told; unsaleable ones are all with the shortest.
	Lengths []crop.Millimetres `json:"lengths"`
	// Coded are, by draw and week, how many stems come in all, then, of what is not 0, how many of them are of each colour,
	// grade (from the worst) and length, and how many come on each day. The numbers are told beside guesses as weekCode has
	// them and in bits as bitWriter has them, in base64 with padding (RFC 4648, section 4).
	Coded string `json:"coded"`
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
	var bits bitWriter
	code, split := newWeekCode(len(p.Weeks), len(d.colours), len(d.lengths), &bits), d.newWeekSplit()
	for i, stems := range d.stems {
		code.draw(split, func(w int) { split.fill(stems[d.at(w, 0, 0):d.at(w+1, 0, 0)], d.days[i][w]) }, func(int) {})
	}
	p.Coded = base64.StdEncoding.EncodeToString(bits.filled())
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

// weekSplit is one week of one draw: each number is the sum of those that tell it apart.
type weekSplit struct {
	total   uint64
	colours []uint64
	grades  [][]uint64 // by colour
	lengths [][]uint64 // by colour and grade; none of unsaleable stems
	// days from Monday on: stems, or of more than 255 stems how many 255ths of them, to the nearest by the end of each day.
	// Of n stems of a week n part / 255 come until then; whoever rounds it must not round each small number to the
	// nearest, or all would come on the middle day.
	days []uint64
}

func (l layout) newWeekSplit() *weekSplit {
	s := &weekSplit{colours: make([]uint64, len(l.colours)), days: make([]uint64, 7)}
	for range l.colours {
		s.grades = append(s.grades, make([]uint64, grades))
		for range grades {
			s.lengths = append(s.lengths, make([]uint64, len(l.lengths)))
		}
	}
	return s
}

// fill takes the stems of a week by colour, grade and length, and by day.
func (s *weekSplit) fill(stems []uint32, days [7]int) {
	s.total = 0
	for c := range s.colours {
		s.colours[c] = 0
		for g := range s.grades[c] {
			s.grades[c][g] = 0
			lengths := s.lengths[c*grades+g]
			for l := range lengths {
				lengths[l] = uint64(stems[(c*grades+g)*len(lengths)+l])
				s.grades[c][g] += lengths[l]
			}
			s.colours[c] += s.grades[c][g]
		}
		s.total += s.colours[c]
	}
	s.fillDays(days)
}

func (s *weekSplit) fillDays(days [7]int) {
	all, sum, before := 0, 0, 0
	for _, n := range days {
		all += n
	}
	for day, n := range days {
		sum += n
		until := sum
		if all > whole {
			until = (2*whole*sum + all) / (2 * all)
		}
		s.days[day], before = uint64(until-before), until
	}
}
