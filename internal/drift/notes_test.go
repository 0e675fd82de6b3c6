package drift

import (
	"testing"

	"corymb/internal/crop"
)

func TestNotesCountInSingularAndPlural(t *testing.T) {
	tests := []struct {
		name           string
		unfit, bare    int
		untied         int
		unfitText      string
		bareText, free string
	}{
		{
			"one", 1, 1, 1,
			"1 of 12 photos is not of full bloom out of the sun with a card: it says something of colours, and nothing of drift.",
			"1 photo has no card: it compares only with others of its session.",
			"In 1 session fewer than two reference plants were read: what light and camera did in it rests on the plants themselves.",
		},
		{
			"more", 3, 2, 2,
			"3 of 12 photos are not of full bloom out of the sun with a card: they say something of colours, and nothing of drift.",
			"2 photos have no card: they compare only with others of their session.",
			"In 2 sessions fewer than two reference plants were read: what light and camera did in them rests on the plants themselves.",
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l := &layout{blocks: []*block{{reference: true}}}
			for i := range 12 {
				r := Reading{Plant: crop.PlantID("p"), Card: "k"}
				if i < tt.bare {
					r.Card = ""
				}
				l.ordered = append(l.ordered, r)
			}
			report := &Report{Readings: 12, Firm: 12 - tt.unfit, Sessions: make([]Session, tt.untied)}
			want := map[string]string{NoteUnfit: tt.unfitText, NoteNoCard: tt.bareText, NoteSessionsUntied: tt.free}
			for _, n := range append(l.readingNotes(report), l.referenceNotes(report)...) {
				if n.Text != want[n.Code] {
					t.Errorf("%s: %q, want %q", n.Code, n.Text, want[n.Code])
				}
				delete(want, n.Code)
			}
			if len(want) > 0 {
				t.Errorf("never said: %v", want)
			}
		})
	}
}
