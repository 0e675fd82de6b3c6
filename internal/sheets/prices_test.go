package sheets

import (
	"reflect"
	"strings"
	"testing"

	"corymb/internal/crop"
)

var pricedColours = map[crop.ColourID]crop.Colour{"coral": {ID: "coral"}, "shell": {ID: "shell"}}

func TestPricesAreReadAsSpreadsheetsWriteThem(t *testing.T) {
	want := []PriceRow{
		{Colour: "coral", Grade: crop.GradeExtra, Channel: "florist", Cents: 85, AWeek: 60},
		{Channel: "market", Grade: crop.GradeFirst, Cents: 40, All: true},
	}
	tests := []struct{ name, text string }{
		{"commas", "colour,grade,channel,price_cents,stems_a_week\ncoral,extra,florist,85,60\n,first,market,40,\n"},
		{"semicolons, another order and Spanish grades", "stems_a_week;price_cents;channel;grade;colour\n60;85;florist;Extra;coral\n;40;market;primera;\n"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got, err := ReadPrices(Source{Name: "prices.csv", Reader: strings.NewReader(test.text)}, pricedColours)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got.Rows, want) {
				t.Errorf("%+v", got.Rows)
			}
		})
	}
}

func TestPricesThatCannotBeTakenAreToldByTheirLine(t *testing.T) {
	const head = "colour,grade,channel,price_cents,stems_a_week\n"
	tests := []struct{ name, text, want string }{
		{"a column is missing", "colour,grade,channel,price_cents\ncoral,extra,florist,85\n", "line 1, stems_a_week: the column is missing"},
		{"no price", head, "line 1: there is no price"},
		{"an unknown colour", head + "corral,extra,florist,85,60\n", `line 2, colour: "corral" is the colour of no plant`},
		{"an unknown grade", head + "coral,best,florist,85,60\n", `line 2, grade: "best" is not a grade`},
		{"no channel", head + "coral,extra,,85,60\n", "line 2, channel: the cell is empty"},
		{"no amount", head + "coral,extra,florist,,60\n", "line 2, price_cents: the cell is empty"},
		{"not whole cents", head + "coral,extra,florist,0.85,60\n", `line 2, price_cents: "0.85" is not whole cents`},
		{"below 0", head + "coral,extra,florist,-85,60\n", `line 2, price_cents: "-85" is below 0`},
		{"a slip", head + "coral,extra,florist,85000000,60\n", "line 2, price_cents"},
		{"stems below 0", head + "coral,extra,florist,85,-1\n", "line 2, stems_a_week"},
		{"a row twice", head + "coral,extra,florist,85,60\ncoral,extra,florist,90,20\n", "line 3: line 2 is of the same colour, grade and channel"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := ReadPrices(Source{Name: "prices.csv", Reader: strings.NewReader(test.text)}, pricedColours)
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("%v, want %q in it", err, test.want)
			}
		})
	}
}
