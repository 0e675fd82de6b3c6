package tables

import (
	"bytes"
	"fmt"
	"os"
	"regexp"
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
