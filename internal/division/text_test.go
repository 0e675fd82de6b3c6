package division

import (
	"strings"
	"testing"
)

func TestEveryReasonAndNoteIsASentence(t *testing.T) {
	texts := map[string]string{}
	for _, code := range []WhyCode{
		WhyProtected, WhyTooYoung, WhyGivesMost, WhyGivesLittle, WhyOpenCentre, WhyLeftClass, WhyDrifts, WhyColourAsked, WhyColourWanted,
		WhyMarketFull, WhyColourPays, WhyNoRoom, WhyNoTime, WhyPays, WhyKeepPays, WhyUnseen, WhyGoal, WhyEven,
	} {
		texts[string(code)] = Why{Code: code, Stems: 12, Times: 1.5, Age: 1, Cents: 250, Colour: "ember"}.Text()
	}
	for _, code := range []NoteCode{
		NoteStockUnseen, NoteSeasonRuns, NoteNoPrice, NoteNoClass, NoteMarketOpen, NoteProtected, NoteGoalOutOfReach, NoteGoalLessSure, NoteAskOutside, NoteOwnDivisions,
	} {
		texts[string(code)] = Note{Code: code, Stock: "Kiln mix", Colour: "ember", Plants: 2, Stems: 40, Chance: 0.6}.Text()
	}
	for code, text := range texts {
		if text == code || !strings.HasSuffix(text, ".") || strings.Contains(text, "%!") {
			t.Errorf("%s reads %q", code, text)
		}
	}
}
