package forecast

import (
	"encoding/base64"
	"encoding/json"
	"os"
	"reflect"
	"slices"
	"testing"

	"corymb/internal/crop"
)

// unpacked are the stems of each draw by week, colour, grade and length, and the parts of each draw's weeks by the end of each
// day, in 255ths.
func unpacked(t *testing.T, p Packed) (stems [][]uint32, parts [][][7]int) {
	t.Helper()
	text, err := base64.StdEncoding.DecodeString(p.Coded)
	if err != nil {
		t.Fatal(err)
	}
	reader := &bitReader{bytes: text}
	l := layout{len(p.Weeks), p.Colours, p.Lengths}
	code, split := newWeekCode(len(p.Weeks), len(p.Colours), len(p.Lengths), reader), l.newWeekSplit()
	for i := range p.N {
		stems, parts = append(stems, nil), append(parts, nil)
		code.draw(split, func(int) {}, func(int) {
			stems[i] = append(stems[i], stemsOf(l, split)...)
			parts[i] = append(parts[i], partsOf(split))
		})
	}
	if left := 8*len(text) - reader.at; left < 0 || left >= 8 {
		t.Fatalf("%d bits are left over", left)
	}
	return stems, parts
}

func stemsOf(l layout, s *weekSplit) []uint32 {
	stems := make([]uint32, l.at(1, 0, 0))
	for c, of := range s.colours {
		for g := range grades {
			for n := range l.lengths {
				switch at := l.at(0, c, g); {
				case s.total == 0 || of == 0 || s.grades[c][g] == 0:
				case g == 0:
					stems[at] = uint32(s.grades[c][0])
				default:
					stems[at+n] = uint32(s.lengths[c*grades+g][n])
				}
			}
		}
	}
	return stems
}

func partsOf(s *weekSplit) (parts [7]int) {
	sum, all := 0, int(min(s.total, whole))
	for day, n := range s.days {
		sum += int(n)
		if all > 0 {
			parts[day] = (2*whole*sum + all) / (2 * all)
		}
	}
	if all == 0 {
		parts = [7]int{6: whole}
	}
	return parts
}

// bitReader is told the numbers that a bitWriter wrote.
type bitReader struct {
	missed missed
	bytes  []byte
	at     int // bits
}

func (b *bitReader) number(of numberKind, guess, near, _ uint64) uint64 {
	m := b.missed.of(of, near)
	k, ones := m.lowBits(), uint64(0)
	for ones < mostOnes && b.read(1) == 1 {
		ones++
	}
	var miss uint64
	if ones == mostOnes {
		miss = b.read(32)
	} else {
		miss = ones<<k | b.read(k)
	}
	m.learn(miss)
	if miss%2 == 1 {
		return guess - (miss+1)/2
	}
	return guess + miss/2
}

func (b *bitReader) read(n int) (bits uint64) {
	for ; n > 0; n-- {
		if at := b.at / 8; at < len(b.bytes) {
			bits = bits<<1 | uint64(b.bytes[at]>>(7-b.at%8)&1)
		}
		b.at++
	}
	return bits
}

func TestPackedDrawsAreAsTheVectorHasThem(t *testing.T) {
	var v struct {
		Draws Packed
		Stems []struct {
			Draw   int
			Week   crop.Date
			Colour crop.ColourID
			Grade  crop.Grade
			Length crop.Millimetres
			Stems  uint32
		}
		Parts [][][7]int
		Many  struct {
			Draws Packed
			Stems [][]uint32
			Days  [][][7]int
			Parts [][][7]int
		}
	}
	text, err := os.ReadFile("../../testdata/vectors/forecast_draws.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &v); err != nil || len(v.Stems) == 0 || len(v.Many.Stems) == 0 {
		t.Fatal(err)
	}
	l := layout{len(v.Draws.Weeks), v.Draws.Colours, v.Draws.Lengths}
	want := make([][]uint32, v.Draws.N)
	for i := range want {
		want[i] = make([]uint32, l.size())
	}
	for _, of := range v.Stems {
		at := l.at(slices.Index(v.Draws.Weeks, of.Week), slices.Index(l.colours, of.Colour), of.Grade.Rank())
		want[of.Draw][at+slices.Index(l.lengths, of.Length)] = of.Stems
	}
	if stems, parts := unpacked(t, v.Draws); !reflect.DeepEqual(stems, want) || !reflect.DeepEqual(parts, v.Parts) {
		t.Errorf("unpacked as\n%v\n%v", stems, parts)
	}
	many := v.Many
	if stems, parts := unpacked(t, many.Draws); !reflect.DeepEqual(stems, many.Stems) || !reflect.DeepEqual(parts, many.Parts) {
		t.Errorf("many draws are unpacked as\n%v\n%v", stems, parts)
	}
	d := draws{layout: layout{len(many.Draws.Weeks), many.Draws.Colours, many.Draws.Lengths}, stems: many.Stems, days: many.Days}
	d.sums = d.added()
	if packed := d.packed(many.Draws.From, many.Draws.Weeks); !reflect.DeepEqual(packed, many.Draws) {
		t.Errorf("many draws are packed as\n%+v\nwant\n%+v", packed, many.Draws)
	}
}

func TestDrawsOfALargeFarmAreSmallToSend(t *testing.T) {
	farm := large(5_000, "2026-05-28")
	_, d, err := of(farm, "2026-05-28")
	if err != nil {
		t.Fatal(err)
	}
	packed := d.packed("2026-05-29", weeksLeft(farm.Calendar, "2026-05-28"))
	// A bit less than four to a number; each for itself, with its zeros in runs, they were 820 kB of this text.
	if size := len(packed.Coded); size > 450_000 {
		t.Errorf("%d bytes", size)
	}
}

func TestSumsOfEveryDrawAgree(t *testing.T) {
	for _, asOf := range []crop.Date{"2026-02-10", "2026-05-28"} {
		t.Run(string(asOf), func(t *testing.T) {
			farm := large(400, asOf)
			plant := farm.Plants["B0-7"]
			plant.Colour = "" // it has one of its stock's
			farm.Plants[plant.ID] = plant
			farm.Sales.Bunches = map[crop.BunchID]crop.Bunch{"b": {ID: "b", Length: 450}}
			f, d, err := of(farm, asOf)
			if err != nil {
				t.Fatal(err)
			}
			weeks := weeksLeft(farm.Calendar, asOf)
			p := d.packed(asOf.Add(1), weeks)
			stems, parts := unpacked(t, p)
			if p.N != 500 || len(p.Colours) != 5 || !slices.Equal(p.Lengths, []crop.Millimetres{0, 300, 400, 450, 500, 600}) {
				t.Fatalf("%d draws of %v and %v", p.N, p.Colours, p.Lengths)
			}
			for i := range p.N {
				checkDraw(t, d, p, weeks, i, stems[i], parts[i])
			}
			for w, week := range f.Weeks {
				byColour, byGrade := 0.0, 0.0
				for _, of := range week.Colours {
					byColour += of.Mean
				}
				for _, of := range week.Grades {
					byGrade += of.Mean
				}
				near(t, "grades of "+week.Week, byGrade, rangeOf(d.total[w]).Mean, 1e-6)
				near(t, "colours of "+week.Week, byColour, week.Total.Mean, 1e-6)
			}
		})
	}
}

// checkDraw adds up what was unpacked in its own order.
func checkDraw(t *testing.T, d draws, p Packed, weeks []crop.Date, i int, stems []uint32, parts [][7]int) {
	t.Helper()
	whole := 0.0
	for w, monday := range weeks {
		byColour, byGrade, byLength := map[int]float64{}, map[int]float64{}, map[int]float64{}
		at, all := slices.Index(p.Weeks, monday), 0.0
		if at < 0 {
			if d.total[w][i] != 0 {
				t.Errorf("draw %d: %s is behind all weeks with %v stems", i, monday, d.total[w][i])
			}
			continue
		}
		perWeek := len(p.Colours) * 4 * len(p.Lengths)
		for k, n := range stems[at*perWeek : (at+1)*perWeek] {
			byLength[k%len(p.Lengths)] += float64(n)
			byGrade[k/len(p.Lengths)%4] += float64(n)
			byColour[k/len(p.Lengths)/4] += float64(n)
			all += float64(n)
		}
		whole += all
		days := 0
		for day, n := range d.days[i][w] {
			days += n
			part := float64(parts[at][day])
			if day > 0 && parts[at][day] < parts[at][day-1] {
				t.Errorf("draw %d: parts of %s fall: %v", i, monday, parts[at])
			}
			if day < 6 && monday.Add(day) < p.From && part != 0 {
				t.Errorf("draw %d: something of %s is still to come on %s", i, monday, monday.Add(day))
			}
			if came := all * part / 255; came < float64(days)-0.5-all/510 || came > float64(days)+0.5+all/510 {
				t.Errorf("draw %d: by day %d of %s %v of %v stems came, not %d", i, day, monday, came, all, days)
			}
		}
		if float64(days) != all || parts[at][6] != 255 || all != d.total[w][i] {
			t.Errorf("draw %d: %s has %v stems, by days %d, drawn %v", i, monday, all, days, d.total[w][i])
		}
		for c := range p.Colours {
			if byColour[c] != d.colour[c][w][i] {
				t.Errorf("draw %d: %s has %v of a colour, not %v", i, monday, byColour[c], d.colour[c][w][i])
			}
		}
		lengths := 0.0
		for l := range p.Lengths {
			lengths += byLength[l]
		}
		for g := range 4 {
			if byGrade[g] != d.grade[g][w][i] {
				t.Errorf("draw %d: %s has %v of a grade, not %v", i, monday, byGrade[g], d.grade[g][w][i])
			}
		}
		if lengths != all {
			t.Errorf("draw %d: lengths of %s sum to %v of %v", i, monday, lengths, all)
		}
	}
	drawn := 0.0
	for w := range weeks {
		drawn += d.total[w][i]
	}
	if whole != drawn {
		t.Errorf("draw %d: %v stems in all, drawn %v", i, whole, drawn)
	}
}
