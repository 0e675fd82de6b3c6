package report

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/division"
	"corymb/internal/yield"
)

func TestBothLanguagesHaveEveryKeyWithTheSameNumbers(t *testing.T) {
	verb := regexp.MustCompile(`%(\[\d+\])?[a-z%]`)
	for key, p := range words {
		if p.en == "" || p.es == "" {
			t.Errorf("%s has %q and %q", key, p.en, p.es)
		}
		if en, es := verb.FindAllString(p.en, -1), verb.FindAllString(p.es, -1); !slices.Equal(en, es) {
			t.Errorf("%s takes %v in English and %v in Spanish", key, en, es)
		}
		if strings.Contains(p.en, " ") && p.en == p.es && !slices.Contains([]string{"yield.said", "grades.extra"}, key) && regexp.MustCompile(`[a-z]{3}`).MatchString(p.en) {
			t.Errorf("%s is the same in both languages: %q", key, p.en)
		}
	}
	for noun, p := range nouns {
		if strings.Count(p.en, "|") != 1 || strings.Count(p.es, "|") != 1 {
			t.Errorf("%s has no plural: %q, %q", noun, p.en, p.es)
		}
	}
	if n := len(wordsOfGrowing) + len(wordsOfSelling) + len(wordsOfRefusals) + len(wordsOfNames) + len(wordsOfReading); n != len(words) {
		t.Errorf("%d texts in their groups, %d of all: a key stands in two groups", n, len(words))
	}
}

func TestEveryKindOfCostWorkAndGradeHasAName(t *testing.T) {
	var keys []string
	for _, kind := range crop.CostKinds {
		keys = append(keys, "cost."+string(kind))
	}
	for _, kind := range crop.WorkKinds {
		keys = append(keys, "work."+string(kind))
	}
	for _, grade := range crop.GradesLowToHigh {
		keys = append(keys, "grade."+string(grade))
	}
	for _, key := range keys {
		if words[key].en == "" {
			t.Errorf("no words for %s", key)
		}
	}
}

// TestEveryRefusalOfThePlannerHasASentence looks for what the planner refuses, so that a code that comes later is not forgotten.
func TestEveryRefusalOfThePlannerHasASentence(t *testing.T) {
	source, err := os.ReadFile("../division/refusal.go")
	if err != nil {
		t.Fatal(err)
	}
	ofWhatWasAsked := []division.RefusalCode{
		division.RefusedSeasons, division.RefusedGoal, division.RefusedPlaces, division.RefusedHours, division.RefusedMost, division.RefusedChance, division.RefusedWanted, division.RefusedDay,
	}
	found := regexp.MustCompile(`(?m)^\tRefused\w+ +RefusalCode = "(\w+)"`).FindAllStringSubmatch(string(source), -1)
	for _, match := range found {
		code := division.RefusalCode(match[1])
		if general := refusalKey(code) == "plan.refused.asked"; general != slices.Contains(ofWhatWasAsked, code) {
			t.Errorf("%s is told by %s", code, refusalKey(code))
		}
	}
	if len(found) < 13 {
		t.Errorf("only %d codes were found: are they written otherwise now?", len(found))
	}
}

func TestLengthsBearTheUnitAsTheLanguageShortensIt(t *testing.T) {
	age := yield.Age{LengthCM: map[crop.Flush]yield.Interval{crop.FlushSpring: {Mean: 50.8, Lo: 25.4, Hi: 76.2}}}
	for _, test := range []struct {
		language Language
		unit     crop.LengthUnit
		want     string
	}{
		{English, crop.Inches, "20.0 in 10.0–30.0"}, {Spanish, crop.Inches, "20,0 pulg 10,0–30,0"}, {English, crop.Centimetres, "50.8 cm 25.4–76.2"}, {Spanish, crop.Centimetres, "50,8 cm 25,4–76,2"},
	} {
		w := writer{language: test.language, Answers: Answers{Farm: crop.Farm{Unit: test.unit}}}
		if got := strings.Join(w.length(age, crop.FlushSpring), " "); got != test.want {
			t.Errorf("%q, want %q", got, test.want)
		}
	}
}

func TestNumbersAreWrittenAsTheLanguageDoes(t *testing.T) {
	for _, test := range []struct {
		cents  crop.Cents
		en, es string
	}{
		{0, "0.00", "0,00"}, {5, "0.05", "0,05"}, {-250, "−2.50", "−2,50"}, {-99, "−0.99", "−0,99"},
		{123_456, "1,234.56", "1.234,56"}, {100_000_007, "1,000,000.07", "1.000.000,07"},
	} {
		if en, es := (writer{language: English}).cents(test.cents), (writer{language: Spanish}).cents(test.cents); en != test.en || es != test.es {
			t.Errorf("%d cents are %q and %q", test.cents, en, es)
		}
	}
	w := writer{language: English}
	if got := w.n(1, "plant") + ", " + w.n(1234, "stem") + ", " + w.decimals(-0.04, 1) + ", " + w.day("2026-05-04"); got != "1 plant, 1,234 stems, 0.0, 4 May 2026" {
		t.Error(got)
	}
}
