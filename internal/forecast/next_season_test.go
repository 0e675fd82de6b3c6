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
			farm := sample(t, test.asOf)
			f, _, evening, err := ofWhatComes(farm, test.asOf)
			if err != nil {
				t.Fatal(err)
			}
			if season := farm.Calendar.SeasonOf(evening); f.AsOf != test.asOf || season != test.season || evening.Add(1) != test.from {
				t.Errorf("as of %s season %d from %s", f.AsOf, season, evening.Add(1))
			}
			stems := 0.0
			for _, week := range f.Weeks {
				stems += week.Total.Mean
			}
			if stems < 100 {
				t.Errorf("%.0f stems are to come", stems)
			}
		})
	}
}
