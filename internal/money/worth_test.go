package money

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/yield"
)

// countedFarm has 24 counted plants in each of their first and second seasons, whose stems were graded and sold by grade.
func countedFarm() crop.Farm {
	f := crop.NewFarm()
	src := rand.New(rand.NewPCG(7, 7))
	f.Stocks["s"] = crop.Stock{ID: "s", Species: "yarrow"}
	all := map[crop.Season]crop.Window{2026: {From: "2026-05-01", To: "2026-07-31"}}
	for age, mean := range []int{0, 8, 20} {
		if age == 0 {
			continue
		}
		bed, planting := crop.BedID(fmt.Sprint("bed", age)), crop.PlantingID(fmt.Sprint("planting", age))
		f.Beds[bed] = crop.Bed{ID: bed, Length: 10_000, Width: 1_000}
		f.Plantings[planting] = crop.Planting{ID: planting, Stock: "s", Bed: bed, Planted: crop.Date(fmt.Sprintf("%d-10-01", 2026-age)), FirstSeason: crop.Season(2027 - age)}
		for n := range 24 {
			id := crop.PlantID(fmt.Sprintf("p%d.%02d", age, n))
			rich := math.Exp(1.1 * src.NormFloat64())
			times := func(stems int) int { return int(math.Round(float64(stems) * rich)) }
			f.Plants[id] = crop.Plant{ID: id, Planting: planting, Colour: "ember", Counted: all}
			visit(f, crop.Visit{Plant: id, Purpose: crop.PurposeCut, Counts: []crop.Count{
				{Colour: "ember", Grade: crop.GradeExtra, Stems: times(mean*age/4) + src.IntN(2)}, {Colour: "ember", Grade: crop.GradeFirst, Stems: times(mean/2) + src.IntN(3)},
				{Colour: "ember", Grade: crop.GradeOut, Stems: times(mean/8) + src.IntN(2)},
			}})
		}
	}
	f.Sales.Channels["co_op"] = crop.Channel{ID: "co_op", Commission: 2000}
	f.Sales.Buyers["ana"] = crop.Buyer{ID: "ana", Channel: "co_op"}
	f.Sales.Orders["o"] = crop.Order{ID: "o", Buyer: "ana", Due: "2026-06-05"}
	for grade, price := range map[crop.Grade]crop.Cents{crop.GradeExtra: 500, crop.GradeFirst: 300} {
		id := crop.LineID(grade)
		f.Sales.Lines[id] = crop.Line{ID: id, Order: "o", Bunches: 10, Stems: 10, Price: price}
		lot := crop.LotID{Bed: "bed2", Cut: cutDay, Colour: "ember", Grade: grade}
		f.Sales.Packed[crop.PackedID(id)] = crop.Packed{ID: crop.PackedID(id), Line: id, Buyer: "ana", Due: "2026-06-05", Date: cutDay, Bunches: 10, Stems: map[crop.LotID]int{lot: 100}}
	}
	return f
}

func worthOf(t *testing.T, f crop.Farm, hour crop.Cents) Worth {
	t.Helper()
	draws, err := DrawPlants(f, 2026, "2026-12-31")
	if err != nil {
		t.Fatal(err)
	}
	list := WorthOf(f, Of(f, 2026, hour), draws)
	if len(list) != 1 {
		t.Fatalf("%+v", list)
	}
	return list[0]
}

func TestWhatAStemOfEachGradeLeft(t *testing.T) {
	f := countedFarm()
	f.Sales.Shrink["x"] = crop.Shrink{ID: "x", Lot: crop.LotID{Bed: "bed2", Cut: cutDay, Colour: "ember", Grade: crop.GradeFirst}, Stems: 20, Date: cutDay}
	f.Sales.Claims["c"] = crop.Claim{ID: "c", Line: crop.LineID(crop.GradeExtra), Due: "2026-06-05", Buyer: "ana", Credit: 500}
	b := Of(f, 2026, 6000)
	// Extra: 5000 less a fifth and 500 of claims, of 100; first: 3000 less a fifth, of 120, 20 of them written off; nothing of
	// the second was sold.
	want := []GradeNet{{Grade: crop.GradeSecond}, {Grade: crop.GradeFirst, Cents: 20, Stems: 120}, {Grade: crop.GradeExtra, Cents: 35, Stems: 100}}
	if got := b.gradeNets(f, "yarrow"); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	delete(f.Sales.Packed, crop.PackedID(crop.GradeExtra))
	if got := Of(f, 2026, 6000).gradeNets(f, "yarrow")[2]; got != (GradeNet{Grade: crop.GradeExtra, Cents: 20, From: crop.GradeFirst}) {
		t.Errorf("extra, of which nothing was sold: %+v", got)
	}
	if got := b.gradeNets(f, "phlox"); got != nil {
		t.Errorf("another species: %+v", got)
	}
}

func TestWhatWorkAStemTakes(t *testing.T) {
	f := countedFarm()
	f.Money.Work["cut"] = crop.Work{ID: "cut", Date: cutDay, Kind: crop.WorkCut, Minutes: 60}
	f.Money.Work["bunch"] = crop.Work{ID: "bunch", Date: cutDay, Kind: crop.WorkBunch, Minutes: 30}
	f.Money.Work["pack"] = crop.Work{ID: "pack", Date: cutDay, Kind: crop.WorkPack, Minutes: 10}
	f.Money.Work["weed"] = crop.Work{ID: "weed", Date: cutDay, Kind: crop.WorkWeed, Minutes: 999}
	stems := 0
	for _, v := range f.Visits {
		stems += v.Stems()
	}
	cutting, bunching := Of(f, 2026, 6000).workAStem()
	if math.Abs(cutting-6000/float64(stems)) > 1e-9 || bunching != 20 { // 40 minutes at 60.00 for 200 stems
		t.Errorf("cutting %v of %d stems, bunching %v", cutting, stems, bunching)
	}
}

func TestWhatAPlantsStemsBring(t *testing.T) {
	w := Worth{Grades: []GradeNet{{Cents: 10}, {Cents: 20}, {Cents: 40}}, Cutting: 2, Bunching: 4}
	// Of ten stems one is out, two second, three first and four extra: 2x6 + 3x16 + 4x36 - 10x2.
	if got := w.ofPlant(10, yield.GradeShares{0.1, 0.2, 0.3, 0.4}); math.Abs(got-184) > 1e-9 {
		t.Errorf("%v", got)
	}
}

func TestOneMorePlantOfEachAge(t *testing.T) {
	f := countedFarm()
	w := worthOf(t, f, 0)
	report, err := yield.Fit(f, yield.Options{Species: "yarrow", AsOf: "2026-12-31"})
	if err != nil {
		t.Fatal(err)
	}
	if len(w.Ages) != leastAges || w.Draws < 200 {
		t.Fatalf("%d ages of %d draws", len(w.Ages), w.Draws)
	}
	for i, a := range w.Ages {
		for what, of := range map[string]Interval{"stems": a.Stems, "saleable": a.Saleable, "cents": a.Cents} {
			if !(of.Lo < of.Median && of.Median < of.Hi) || of.Lo < 0 {
				t.Errorf("age %d, %s: %+v", a.Age, what, of)
			}
		}
		if i < len(report.Ages) {
			if ratio := a.Stems.Median / float64(report.Ages[i].Ahead.Mean); ratio < 0.88 || ratio > 1.13 {
				t.Errorf("age %d: %.1f stems, by the whole fit %.1f", a.Age, a.Stems.Median, report.Ages[i].Ahead.Mean)
			}
		}
	}
	second := w.Ages[1]
	if second.Cents.Median < 2*w.Ages[0].Cents.Median || second.More.Lo <= 0 {
		t.Errorf("a second season is not told from a first: %+v, %+v", w.Ages[0], second)
	}
	// Draw by draw, what is not known of the season is not in the difference, as far as it moves both alike.
	if apart := second.Cents.Hi - second.Cents.Lo; second.More.Hi-second.More.Lo > apart {
		t.Errorf("the difference is less sure than what it is of: %+v", second)
	}
	if again := worthOf(t, f, 0); !reflect.DeepEqual(again, w) {
		t.Error("the same farm is worth something else")
	}
}

func TestWithoutSalesNobodyKnowsWhatAPlantIsWorth(t *testing.T) {
	f := countedFarm()
	clear(f.Sales.Packed)
	draws := []PlantDraws{{Species: "yarrow", Ages: [][]PlantDraw{{{Stems: 8, Shares: yield.GradeShares{0, 0, 0, 1}}}}}}
	if list := WorthOf(f, Of(f, 2026, 0), draws); len(list) != 0 {
		t.Errorf("%+v", list)
	}
}
