package tables

import (
	"bytes"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"corymb/internal/changelog"
	"corymb/internal/crop"
)

// TestEveryCodeHasAWordInSpanish looks for what package crop knows, so that a code that comes later is not forgotten.
func TestEveryCodeHasAWordInSpanish(t *testing.T) {
	codes := regexp.MustCompile(`(?m)^\t\w+ +(AskAnswer|TaskKind|IntentDo|Origin|Purpose|Flush|Grade|CostKind|WorkKind|Stage|Light|ChannelKind|ShrinkReason|ClaimReason) += "(\w+)"`)
	known := map[string]bool{}
	for code := range inSpanish {
		known[fmt.Sprintf("%T %v", code, code)] = true
	}
	found := 0
	for _, file := range []string{"ahead", "crop", "grade", "money", "reading", "sale"} {
		source, err := os.ReadFile("../crop/" + file + ".go")
		if err != nil {
			t.Fatal(err)
		}
		for _, match := range codes.FindAllStringSubmatch(string(source), -1) {
			found++
			if code := "crop." + match[1] + " " + match[2]; !known[code] {
				t.Errorf("%s has no word in Spanish", code)
			}
		}
	}
	if found < 70 {
		t.Errorf("only %d codes were found: are they written otherwise now?", found)
	}
}

func TestSpanishTablesHaveWordsInPlaceOfCodes(t *testing.T) {
	f := crop.NewFarm()
	f.Money.Costs["c"] = crop.Cost{ID: "c", Date: "2026-06-05", Kind: crop.CostSupplies, What: "supplies"}
	f.Visits["v"] = crop.Visit{ID: "v", Date: "2026-06-05", Purpose: crop.PurposeBedCut, Flush: crop.FlushFall, Counts: []crop.Count{{Grade: crop.GradeOut, Stems: 3}}}
	for l, want := range map[Language][]string{Spanish: {"insumos;supplies", "corte de la cama", "otoño", "descarte"}, English: {"supplies,supplies", "bed_cut", "fall", "out"}} {
		var all bytes.Buffer
		for _, table := range Of(f, changelog.NewState(), day) {
			if err := table.WriteCSV(&all, l); err != nil {
				t.Fatal(err)
			}
		}
		for _, one := range want {
			if !strings.Contains(all.String(), one) {
				t.Errorf("%s: %q is in no table", l, one)
			}
		}
	}
}

// TestTheSpanishTableOfCutsIsTheOneThatIsReadInAgain holds the file to what is written, which the app and package sheets read.
func TestTheSpanishTableOfCutsIsTheOneThatIsReadInAgain(t *testing.T) {
	f := crop.NewFarm()
	f.Beds["b1"] = crop.Bed{ID: "b1", Name: "North"}
	f.Colours["k1"] = crop.Colour{ID: "k1", Name: "Ladrillo"}
	f.Plantings["g1"] = crop.Planting{ID: "g1", Bed: "b1", Planted: "2024-09-18"}
	f.Plants["p1"] = crop.Plant{ID: "p1", Code: "A1", Planting: "g1"}
	count := func(g crop.Grade, l crop.LengthClass, stems int) crop.Count {
		return crop.Count{Grade: g, Length: l, Stems: stems}
	}
	f.Visits["v1"] = crop.Visit{ID: "v1", Plant: "p1", Date: "2026-05-28", Purpose: crop.PurposeCut, Flush: crop.FlushSpring, Counts: []crop.Count{
		count(crop.GradeExtra, crop.TenCentimetres(60), 2), count(crop.GradeFirst, crop.TenCentimetres(50), 3), count(crop.GradeSecond, crop.TenCentimetres(40), 4), count(crop.GradeOut, crop.LengthClass{}, 1),
	}}
	f.Visits["v2"] = crop.Visit{ID: "v2", Bed: "b1", Date: "2026-05-29", Purpose: crop.PurposeBench, Flush: crop.FlushSpring, Counts: []crop.Count{{Colour: "k1", Stems: 120}}}
	tables := Of(f, changelog.NewState(), day)
	at := slices.IndexFunc(tables, func(t Table) bool { return t.FileName(Spanish) == "conteos.csv" })
	var written bytes.Buffer
	if err := tables[at].WriteCSV(&written, Spanish); err != nil {
		t.Fatal(err)
	}
	kept, err := os.ReadFile("../../testdata/sheets/tables/conteos.csv")
	if err != nil || !bytes.Equal(kept, written.Bytes()) {
		t.Errorf("the file is %q (%v), and written is %q", kept, err, written.Bytes())
	}
}
