package sheets

import (
	"reflect"
	"strings"
	"testing"
)

func TestWantedStemsAreReadByWeekOrByDay(t *testing.T) {
	const text = "colour,week,stems\ncoral,2027-W22,120\nshell,2027-06-03,40\ncoral,2026-W53,5\ncoral,2027-W01,6\n"
	got, err := ReadWanted(Source{Name: "wanted.csv", Reader: strings.NewReader(text)}, pricedColours)
	want := []WantedRow{{"coral", "2027-05-31", 120}, {"shell", "2027-05-31", 40}, {"coral", "2026-12-28", 5}, {"coral", "2027-01-04", 6}}
	if err != nil || !reflect.DeepEqual(got.Rows, want) {
		t.Errorf("%+v, %v", got.Rows, err)
	}
}

func TestWantedStemsThatCannotBeTakenAreToldByTheirLine(t *testing.T) {
	const head = "colour,week,stems\n"
	tests := []struct{ name, text, want string }{
		{"a column is missing", "colour,week\ncoral,2027-W22\n", "line 1, stems: the column is missing"},
		{"nothing", head, "line 1: nothing is wanted"},
		{"an unknown colour", head + "corral,2027-W22,60\n", `line 2, colour: "corral" is the colour of no plant`},
		{"no colour", head + ",2027-W22,60\n", "line 2, colour: the cell is empty"},
		{"a week beyond the year", head + "coral,2027-W53,60\n", `line 2, week: "2027-W53" is no week`},
		{"week nought", head + "coral,2027-W00,60\n", `line 2, week: "2027-W00" is no week`},
		{"a week in words", head + "coral,late May,60\n", `line 2, week: "late May" is no week`},
		{"no stems", head + "coral,2027-W22,\n", "line 2, stems: the cell is empty"},
		{"nought stems", head + "coral,2027-W22,0\n", "line 2, stems: 0 is too small"},
		{"a week twice", head + "coral,2027-W22,60\ncoral,2027-06-02,20\n", "line 3: line 2 is of the same colour and week"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := ReadWanted(Source{Name: "wanted.csv", Reader: strings.NewReader(test.text)}, pricedColours)
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("%v, want %q in it", err, test.want)
			}
		})
	}
}
