package sheets

import (
	"encoding/json"
	"errors"
	"os"
	"reflect"
	"strings"
	"testing"

	"corymb/internal/crop"
)

// The vectors that the app runs too, where weather.csv is read on a device.
func TestWeatherIsReadAsTheAppReadsIt(t *testing.T) {
	type place struct {
		Line   int
		Column string
	}
	var file struct {
		Cases []struct {
			Name, Text string
			Days       []crop.Weather
			OutOfOrder bool `json:"out_of_order"`
			Empty      []crop.Date
			Ignored    []string
			Problems   []place
		}
	}
	text, err := os.ReadFile("../../testdata/vectors/weather.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	for _, test := range file.Cases {
		t.Run(test.Name, func(t *testing.T) {
			got, err := ReadWeather(Source{Name: "weather.csv", Reader: strings.NewReader(test.Text)})
			var ps Problems
			if err != nil && !errors.As(err, &ps) {
				t.Fatal(err)
			}
			places := []place{}
			for _, p := range ps {
				places = append(places, place{p.Line, p.Column})
			}
			if !reflect.DeepEqual(places, test.Problems) {
				t.Fatalf("problems %v, want %v", ps, test.Problems)
			}
			ignored := []string{}
			for _, column := range got.Ignored {
				ignored = append(ignored, column.Column)
			}
			same := func(got, want any, none bool) bool { return none || reflect.DeepEqual(got, want) }
			if len(ps) == 0 && (!reflect.DeepEqual(got.Days, test.Days) || got.OutOfOrder != test.OutOfOrder ||
				!same(got.Empty, test.Empty, len(got.Empty)+len(test.Empty) == 0) || !reflect.DeepEqual(ignored, test.Ignored)) {
				t.Errorf("%+v, want %+v", got, test)
			}
		})
	}
}
