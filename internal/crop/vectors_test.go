package crop_test

import (
	"encoding/json"
	"os"
	"testing"

	"corymb/internal/crop"
)

func TestSeasonsAreThoseOfTheVectors(t *testing.T) {
	var v struct {
		Cases []struct {
			Start    string
			Southern bool
			Day      crop.Date
			Season   crop.Season
		}
		Spans []struct {
			Start    string
			Southern bool
			Season   crop.Season
			From, To crop.Date
		}
	}
	data, err := os.ReadFile("../../testdata/vectors/seasons.json")
	if err == nil {
		err = json.Unmarshal(data, &v)
	}
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range v.Cases {
		calendar := crop.Calendar{Start: c.Start, Southern: c.Southern}
		if got := calendar.SeasonOf(c.Day); got != c.Season {
			t.Errorf("%s lies in season %d of %+v, want %d", c.Day, got, calendar, c.Season)
		}
	}
	for _, s := range v.Spans {
		calendar := crop.Calendar{Start: s.Start, Southern: s.Southern}
		want := crop.Window{From: s.From, To: s.To}
		if got := calendar.Span(s.Season); got != want {
			t.Errorf("season %d of %+v spans %+v, want %+v", s.Season, calendar, got, want)
		}
	}
}
