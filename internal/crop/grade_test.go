package crop

import "testing"

func TestGradesAreOrderedFromOutToExtra(t *testing.T) {
	want := []Grade{"out", "second", "first", "extra"}
	for i, g := range want {
		if GradesLowToHigh[i] != g || g.Rank() != i {
			t.Errorf("place %d holds %q; %q has rank %d", i, GradesLowToHigh[i], g, g.Rank())
		}
	}
	for _, g := range []Grade{"", "third", "Extra"} {
		if g.Rank() != -1 {
			t.Errorf("%q has rank %d, want -1", g, g.Rank())
		}
	}
}

func TestParseGradeTakesTheFourIdsAndUntold(t *testing.T) {
	for text, good := range map[string]bool{
		"extra": true, "first": true, "second": true, "out": true, "": true,
		"Extra": false, "I": false, " first": false,
	} {
		g, err := ParseGrade(text)
		if (err == nil) != good || (good && string(g) != text) {
			t.Errorf("%q gives %q and error %v", text, g, err)
		}
	}
}
