package sheets

import (
	"reflect"
	"strings"
	"testing"

	"corymb/internal/crop"
)

func TestWeatherIsReadAsSpreadsheetsWriteIt(t *testing.T) {
	want := []crop.Weather{{Date: "2026-04-01", Min: -1.5, Max: 7}, {Date: "2026-04-02", Min: 0, Max: 12.25}}
	tests := []struct {
		name, text string
		outOfOrder bool
		empty      []crop.Date
	}{
		{name: "commas", text: "date,tmin,tmax\n2026-04-01,-1.5,7\n2026-04-02,0,12.25\n"},
		{name: "semicolons and decimal commas", text: "date;tmin;tmax\n2026-04-01;-1,5;7,0\n2026-04-02;0;12,25\n"},
		{name: "another order of columns", text: "tmax,tmin,date\n7,-1.5,2026-04-01\n12.25,0,2026-04-02\n"},
		{name: "a minus sign of a page", text: "date,tmin,tmax\n2026-04-01,−1.5,7\n2026-04-02,0,12.25\n"},
		{name: "the newest day first", text: "date,tmin,tmax\n2026-04-02,0,12.25\n2026-04-01,-1.5,7\n", outOfOrder: true},
		{
			name: "days of which one temperature is missing", empty: []crop.Date{"2026-04-03", "2026-04-04"},
			text: "date,tmin,tmax\n2026-04-01,-1.5,7\n2026-04-02,0,12.25\n2026-04-03,,9\n2026-04-04,3,\n",
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got, err := ReadWeather(Source{Name: "weather.csv", Reader: strings.NewReader(test.text)})
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got.Days, want) || got.OutOfOrder != test.outOfOrder || !reflect.DeepEqual(got.Empty, test.empty) {
				t.Errorf("%+v", got)
			}
		})
	}
}

func TestWeatherThatCannotBeTakenIsToldByItsLine(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"a column is missing", "date,tmin\n2026-04-01,1\n", "line 1, tmax: the column is missing"},
		{"no day", "date,tmin,tmax\n", "line 1: there is no day"},
		{"no date", "date,tmin,tmax\n,1,2\n", "line 2, date: the cell is empty"},
		{"a date in another form", "date,tmin,tmax\n1/4/2026,1,2\n", `line 2, date: "1/4/2026" is not a date`},
		{"a day twice", "date,tmin,tmax\n2026-04-01,1,2\n2026-04-01,1,3\n", "line 3, date: 2026-04-01 stands on line 2 too"},
		{"the lowest above the highest", "date,tmin,tmax\n2026-04-01,9,2\n", "line 2, tmin: 9 is above tmax, 2"},
		{"a unit", "date,tmin,tmax\n2026-04-01,9 C,12\n", `line 2, tmin: "9 C" is not a temperature`},
		{"no number", "date,tmin,tmax\n2026-04-01,NaN,12\n", `line 2, tmin: "NaN" is not a temperature`},
		{"a slip", "date,tmin,tmax\n2026-04-01,9,212\n", `line 2, tmax: "212" looks like a slip`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := ReadWeather(Source{Name: "weather.csv", Reader: strings.NewReader(test.text)})
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("%v, want %q in it", err, test.want)
			}
		})
	}
}
