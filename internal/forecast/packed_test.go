package forecast

import (
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"os"
	"reflect"
	"slices"
	"testing"

	"corymb/internal/crop"
)

// unpacked are the stems of each draw in the order of the form, and the parts of each draw's weeks.
func unpacked(t *testing.T, p Packed) (stems [][]uint32, parts [][][7]int) {
	t.Helper()
	text, err := base64.StdEncoding.DecodeString(p.Stems)
	if err != nil {
		t.Fatal(err)
	}
	size := len(p.Weeks) * len(p.Colours) * 4 * len(p.Lengths)
	next := func() uint64 {
		n, read := binary.Uvarint(text)
		if read <= 0 {
			t.Fatalf("%d draws hold no whole number any more", len(stems))
		}
		text = text[read:]
		return n
	}
	for range p.N {
		var draw []uint32
		for len(draw) < size {
			n := next()
			draw = append(draw, uint32(n))
			if n == 0 {
				draw = append(draw, make([]uint32, next())...)
			}
		}
		if len(draw) > size {
			t.Fatalf("a run of zeros goes past the end of a draw of %d: %d", size, len(draw))
		}
		stems = append(stems, draw)
	}
	days, err := base64.StdEncoding.DecodeString(p.Days)
	if err != nil || len(text) > 0 || len(days) != p.N*len(p.Weeks)*7 {
		t.Fatalf("%d bytes of stems are left over, and there are %d of days (%v)", len(text), len(days), err)
	}
	for i := range p.N {
		parts = append(parts, make([][7]int, len(p.Weeks)))
		for w := range p.Weeks {
			for day := range 7 {
				parts[i][w][day] = int(days[(i*len(p.Weeks)+w)*7+day])
			}
		}
	}
	return stems, parts
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
	}
	text, err := os.ReadFile("../../testdata/vectors/forecast_draws.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &v); err != nil || len(v.Stems) == 0 {
		t.Fatal(err)
	}
	d := draws{layout: layout{len(v.Draws.Weeks), v.Draws.Colours, v.Draws.Lengths}}
	for i := range v.Draws.N {
		d.stems, d.days = append(d.stems, make([]uint32, d.size())), append(d.days, make([][7]int, d.weeks))
		for w, parts := range v.Parts[i] { // a week of 255 stems has its parts as days
			before := 0
			for day, part := range parts {
				d.days[i][w][day], before = part-before, part
			}
		}
	}
	for _, of := range v.Stems {
		at := d.at(slices.Index(v.Draws.Weeks, of.Week), slices.Index(d.colours, of.Colour), of.Grade.Rank())
		d.stems[of.Draw][at+slices.Index(d.lengths, of.Length)] = of.Stems
	}
	d.sums = d.added()
	if packed := d.packed(v.Draws.From, v.Draws.Weeks); !reflect.DeepEqual(packed, v.Draws) {
		t.Errorf("packed as\n%+v\nwant\n%+v", packed, v.Draws)
	}
	stems, parts := unpacked(t, v.Draws)
	if !reflect.DeepEqual(stems, d.stems) || !reflect.DeepEqual(parts, v.Parts) {
		t.Errorf("unpacked as\n%v\n%v", stems, parts)
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
