package yield

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"testing"

	"corymb/internal/crop"
)

// plot is a farm laid out by hand.
type plot struct {
	crop.Farm
}

func newPlot() plot {
	p := plot{crop.NewFarm()}
	p.Stocks["yarrow"] = crop.Stock{ID: "yarrow", Species: "yarrow", Origin: crop.OriginSeed}
	p.Stocks["phlox"] = crop.Stock{ID: "phlox", Species: "phlox", Origin: crop.OriginPlug}
	return p
}

// set puts n plants of a stock in a bed; their ids are the planting's and 1, 2, 3.
func (p plot) set(planting crop.PlantingID, stock crop.StockID, bed crop.BedID, first crop.Season, n int) {
	p.Beds[bed] = crop.Bed{ID: bed, CutBack: map[crop.Season]crop.Date{}}
	p.Plantings[planting] = crop.Planting{
		ID: planting, Stock: stock, Bed: bed, FirstSeason: first, Planted: crop.Date(fmt.Sprintf("%d-10-01", first-1)),
	}
	for i := 1; i <= n; i++ {
		id := crop.PlantID(fmt.Sprintf("%s%d", planting, i))
		p.Plants[id] = crop.Plant{ID: id, Code: string(id), Planting: planting, Counted: map[crop.Season]crop.Window{}}
	}
}

// count declares a plant counted from April to October of each season.
func (p plot) count(plant crop.PlantID, seasons ...crop.Season) {
	for _, s := range seasons {
		p.Plants[plant].Counted[s] = crop.Window{
			From: crop.Date(fmt.Sprintf("%d-04-01", s)), To: crop.Date(fmt.Sprintf("%d-10-31", s)),
		}
	}
}

func (p plot) remove(plant crop.PlantID, day crop.Date) {
	gone := p.Plants[plant]
	gone.Removed = day
	p.Plants[plant] = gone
}

// move lifts a plant out of its bed and sets it elsewhere.
func (p plot) move(plant crop.PlantID, day crop.Date, to crop.BedID) {
	moved := p.Plants[plant]
	moved.Stood = append(moved.Stood, crop.Stay{Bed: p.BedOf(moved), Until: day})
	moved.Bed = to
	p.Plants[plant] = moved
}

func (p plot) visit(v crop.Visit) {
	v.ID = crop.VisitID(fmt.Sprintf("v%05d", len(p.Visits)))
	p.Visits[v.ID] = v
}

func (p plot) cut(plant crop.PlantID, day crop.Date, counts ...crop.Count) {
	p.visit(crop.Visit{Plant: plant, Bed: p.Plantings[p.Plants[plant].Planting].Bed, Date: day, Purpose: crop.PurposeCut, Counts: counts})
}

func (p plot) bench(bed crop.BedID, day crop.Date, counts ...crop.Count) {
	p.visit(crop.Visit{Bed: bed, Date: day, Purpose: crop.PurposeBench, Counts: counts})
}

func stems(grade crop.Grade, n int) crop.Count { return crop.Count{Grade: grade, Stems: n} }

// long is stems of a grade and the ten-centimetre class from cm on.
func long(grade crop.Grade, cm, n int) crop.Count {
	return crop.Count{Grade: grade, Length: crop.TenCentimetres(cm), Stems: n}
}

func mustFit(t testing.TB, farm crop.Farm, o Options) Report {
	t.Helper()
	report, err := Fit(farm, o)
	if err != nil {
		t.Fatal(err)
	}
	return report
}

func mustReport(t testing.TB, farm crop.Farm, o Options) Report {
	t.Helper()
	report := mustFit(t, farm, o)
	checkSound(t, report)
	return report
}

// checkSound holds for every report: finite, ordered, probabilities that sum to 1.
func checkSound(t testing.TB, r Report) {
	t.Helper()
	if _, err := json.Marshal(r); err != nil {
		t.Errorf("report does not marshal: %v", err)
	}
	for _, a := range r.Ages {
		s := a.Stems
		if !(0 < s.Lo && s.Lo < s.Mean && s.Mean < s.Hi && s.Hi.Known() && s.Size > 0 && s.NewLo <= s.NewHi) {
			t.Errorf("age %d: stems out of order: %+v", a.Age, s)
		}
		for _, c := range a.Grades {
			p, lo, hi := fourOf(c.P), fourOf(c.Lo), fourOf(c.Hi)
			sum := 0.0
			for k := range p {
				sum += p[k]
				if !(0 <= lo[k] && lo[k] <= p[k] && p[k] <= hi[k] && hi[k] <= 1 && p[k] > 0) {
					t.Errorf("age %d %s: grade %d has %g in [%g, %g]", a.Age, c.Flush, k, p[k], lo[k], hi[k])
				}
			}
			if math.Abs(sum-1) > 1e-12 {
				t.Errorf("age %d %s: probabilities sum to %g", a.Age, c.Flush, sum)
			}
		}
	}
}

func fourOf(b ByGrade) []float64 {
	return []float64{float64(b.Out), float64(b.Second), float64(b.First), float64(b.Extra)}
}

func ageOf(t testing.TB, r Report, age int) Age {
	t.Helper()
	i := slices.IndexFunc(r.Ages, func(a Age) bool { return a.Age == age })
	if i < 0 {
		t.Fatalf("no age %d in the report", age)
	}
	return r.Ages[i]
}

func codes(r Report) []string {
	var list []string
	for _, n := range r.Notes {
		list = append(list, n.Code)
	}
	return list
}
