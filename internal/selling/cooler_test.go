package selling_test

import (
	"testing"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

func TestTheCoolerHoldsWhatCameLessWhatWasTaken(t *testing.T) {
	f := crop.NewFarm()
	first, extra := crop.TenCentimetres(40), crop.TenCentimetres(60)
	lot := func(cut crop.Date, g crop.Grade, l crop.LengthClass) crop.LotID {
		return crop.LotID{Bed: "b", Cut: cut, Colour: "c", Grade: g, Length: l}
	}
	bench := func(id crop.VisitID, day crop.Date, counts ...crop.Count) {
		f.Visits[id] = crop.Visit{ID: id, Bed: "b", Date: day, Purpose: crop.PurposeBench, Counts: counts}
	}
	bench("v", "2026-06-01", crop.Count{Colour: "c", Grade: crop.GradeFirst, Length: first, Stems: 50}, crop.Count{Colour: "c", Grade: crop.GradeOut, Length: first, Stems: 9})
	bench("w", "2026-06-01", crop.Count{Colour: "c", Grade: crop.GradeFirst, Length: first, Stems: 10})
	bench("x", "2026-06-03", crop.Count{Colour: "c", Grade: crop.GradeExtra, Length: extra, Stems: 20})
	bench("y", "2026-06-05", crop.Count{Colour: "c", Grade: crop.GradeExtra, Length: extra, Stems: 20})
	f.Visits["row"] = crop.Visit{ID: "row", Bed: "b", Date: "2026-06-03", Purpose: crop.PurposeBedCut, Counts: []crop.Count{{Stems: 7}}}
	f.Sales.Packed["p"] = crop.Packed{Stems: map[crop.LotID]int{lot("2026-06-01", crop.GradeFirst, first): 40, lot("2026-06-03", crop.GradeExtra, extra): 20}}
	f.Sales.Packed["q"] = crop.Packed{Stems: map[crop.LotID]int{
		lot("2026-06-02", crop.GradeExtra, extra): 5, lot("2026-06-05", crop.GradeExtra, extra): 1, // the last is of a day ahead
	}}
	f.Sales.Shrink["s"] = crop.Shrink{Lot: lot("2026-06-01", crop.GradeFirst, first), Stems: 3}

	got := selling.Cooler(f, "2026-06-04")
	if len(got) != 2 {
		t.Fatalf("the cooler holds %+v", got)
	}
	if l := got[0]; l.ID != lot("2026-06-01", crop.GradeFirst, first) || l.Left() != 17 || l.DaysLeft != 4 {
		t.Errorf("the oldest lot is %+v", l)
	}
	if l := got[1]; l.Left() != -5 || l.ID.Cut != "2026-06-02" {
		t.Errorf("a lot of which more was taken than came is %+v", l)
	}
	f.Sales.Terms.CoolerDays = 2
	if l := selling.Cooler(f, "2026-06-04")[0]; l.DaysLeft != -1 {
		t.Errorf("three days after its cut a stem good for two has %d days left", l.DaysLeft)
	}
}
