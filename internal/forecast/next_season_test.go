package forecast

import (
	"testing"

	"corymb/internal/crop"
)

func TestOnceNothingMoreComesTheNextSeasonIsAnswered(t *testing.T) {
	for _, test := range []struct {
		asOf   crop.Date
		season crop.Season
		from   crop.Date
	}{
		{"2025-06-05", 2025, "2025-06-06"},
		{"2025-12-20", 2026, "2026-01-02"},
	} {
		t.Run(string(test.asOf), func(t *testing.T) {
			a, _, err := All(sample(t, test.asOf), test.asOf, nil)
			if err != nil {
				t.Fatal(err)
			}
			if a.AsOf != test.asOf || a.Season != test.season || a.Draws.From != test.from {
				t.Errorf("as of %s season %d from %s", a.AsOf, a.Season, a.Draws.From)
			}
			stems := 0.0
			for _, week := range a.Weeks {
				stems += week.Total.Mean
			}
			if stems < 100 {
				t.Errorf("%.0f stems are to come", stems)
			}
		})
	}
}
