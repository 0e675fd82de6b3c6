package crop

import (
	"slices"
	"testing"
)

func TestGapsInTheWeatherAreFound(t *testing.T) {
	tests := []struct {
		name string
		days []Date
		want []WeatherGap
	}{
		{"no day", nil, nil},
		{"one day", []Date{"2026-05-01"}, nil},
		{"day after day", []Date{"2026-04-30", "2026-05-01", "2026-05-02"}, nil},
		{"one day missing", []Date{"2026-04-30", "2026-05-02"}, []WeatherGap{{"2026-05-01", "2026-05-01"}}},
		{
			"two stretches, one of them over a month's end", []Date{"2026-04-28", "2026-05-03", "2026-05-04", "2026-05-07"},
			[]WeatherGap{{"2026-04-29", "2026-05-02"}, {"2026-05-05", "2026-05-06"}},
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var days []Weather
			for _, date := range test.days {
				days = append(days, Weather{Date: date})
			}
			if got := WeatherGaps(days); !slices.Equal(got, test.want) {
				t.Errorf("%v, want %v", got, test.want)
			}
		})
	}
}
