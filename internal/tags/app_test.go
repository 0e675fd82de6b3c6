package tags

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// The app says how many sheets some tags or cards make while the shed is out of reach.
func TestTheAppCountsTheSameToASheet(t *testing.T) {
	tests := []struct{ file, says string }{
		{"beds/tags.ts", fmt.Sprintf("{ a4: %d, letter: %d }", A4.PerSheet(), Letter.PerSheet())},
		{"shed/cards.ts", fmt.Sprintf("cardsPerSheet: Readonly<Record<Paper, number>> = { a4: %d, letter: %d }", A4.CardsPerSheet(), Letter.CardsPerSheet())},
	}
	for _, tt := range tests {
		text, err := os.ReadFile("../../webapp/src/" + tt.file)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(text), tt.says) {
			t.Errorf("%s does not say %s", tt.file, tt.says)
		}
	}
}
