package sheets

import (
	"strings"
	"testing"

	"corymb/internal/crop"
)

const fullPlantHead = "plant,stock,bed,planted,first_season,counted_from,counted_to,removed,colour,parent\n"

func TestPlantRows(t *testing.T) {
	const good = "A1,mix,north strip,2023-10-01,2024,2024-01-01,2024-12-31,,brick,\n"
	cases := []struct {
		name, row string
		want      []string
	}{
		{"division of a known plant", "A2,mix,low terrace,2025-03-01,2025,,,,brick,A1", nil},
		{"only what is needed", "A2,mix,low terrace,2025-03-01", nil},
		{"removed on the day of planting", "A2,mix,low terrace,2025-03-01,,,,2025-03-01", nil},
		{"counted to the end of the season under way", "A2,mix,x,2025-03-01,,2025-03-01,2026-12-31", nil},
		{"counted to the end of a later season", "A2,mix,x,2025-03-01,,2025-04-02,2027-12-31", nil},
		{"still counted, as a day far ahead", "A2,mix,x,2025-03-01,,2025-04-02,2099-12-31", nil},
		{"planted today", "A2,mix,x,2026-01-15", nil},
		{"no plant, stock, bed, planted", ",,,,,,,,brick",
			[]string{"3:plant", "3:stock", "3:bed", "3:planted"}},
		{"same plant again", "A1,mix,north strip,2023-10-01", []string{"3:plant"}},
		{"day before month", "A2,mix,x,01/03/2025", []string{"3:planted"}},
		{"date without leading zeros", "A2,mix,x,2025-3-1", []string{"3:planted"}},
		{"day that does not exist", "A2,mix,x,2025-02-29", []string{"3:planted"}},
		{"planted tomorrow", "A2,mix,x,2026-01-16", []string{"3:planted"}},
		{"planted in another century", "A2,mix,x,0202-03-01", []string{"3:planted"}},
		{"removed tomorrow", "A2,mix,x,2025-03-01,,,,2026-01-16", []string{"3:removed"}},
		{"removed before planted", "A2,mix,x,2025-03-01,,,,2025-02-28", []string{"3:removed"}},
		{"first season before planting", "A2,mix,x,2025-03-01,2024", []string{"3:first_season"}},
		{"first season two years on", "A2,mix,x,2025-03-01,2027", []string{"3:first_season"}},
		{"first season in words", "A2,mix,x,2025-03-01,next", []string{"3:first_season"}},
		{"first season unlike the planting's", "A2,mix,north strip,2023-10-01,2023", []string{"3:first_season"}},
		{"counted from without to", "A2,mix,x,2025-03-01,,2025-03-01", []string{"3:counted_to"}},
		{"counted to without from", "A2,mix,x,2025-03-01,,,2025-03-01", []string{"3:counted_from"}},
		{"counted backwards", "A2,mix,x,2025-03-01,,2025-04-02,2025-04-01", []string{"3:counted_from"}},
		{"own parent", "A2,mix,x,2025-03-01,,,,,,A2", []string{"3:parent"}},
		{"parent not in the file", "A2,mix,x,2025-03-01,,,,,,A9", []string{"3:parent"}},
		{"two parents", "A2,mix,x,2025-03-01,,,,,,A1 A1", []string{"3:parent"}},
		{"a cell too many", "A2,mix,x,2025-03-01,,,,,,A1,oh", []string{"3:"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := readText(fullPlantHead+good+c.row+"\n", cutHead)
			checkRow(t, "plants.csv", err, c.want)
		})
	}
}

// checkRow compares problems, given as line:column, of one file.
func checkRow(t *testing.T, file string, err error, want []string) {
	t.Helper()
	if len(want) == 0 {
		if err != nil {
			t.Errorf("a good row was refused: %v", err)
		}
		return
	}
	var full []string
	for _, w := range want {
		full = append(full, file+":"+w)
	}
	wantProblems(t, err, full...)
}

func TestADuplicatePlantNamesTheEarlierLine(t *testing.T) {
	_, err := readText(plantHead+"A1,mix,x,2023-10-01\nA2,mix,x,2023-10-01\n\nA1,mix,x,2023-10-01\n", cutHead)
	ps := wantProblems(t, err, "plants.csv:5:plant")
	if !strings.Contains(ps[0].Reason, "line 2") {
		t.Errorf("reason is %q", ps[0].Reason)
	}
}

func TestParentsMayNotRunInACircle(t *testing.T) {
	row := func(plant, parent string) string { return plant + ",mix,x,2023-10-01,,,,,," + parent + "\n" }
	// A1 hangs on the circle A2, A3, A4 without being in it; A5 and A6 are sound.
	plants := fullPlantHead + row("A1", "A2") + row("A2", "A3") + row("A3", "A4") + row("A4", "A2") +
		row("A5", "A6") + row("A6", "")
	_, err := readText(plants, cutHead)
	wantProblems(t, err, "plants.csv:3:parent", "plants.csv:4:parent", "plants.csv:5:parent")
}

func TestFirstSeason(t *testing.T) {
	const cut = "2024-06-01,A1,mix,x,2024-03-01,%s,spring,first,50,7,,\n"
	southern := WithCalendar(crop.Calendar{Start: "07-01", Southern: true})
	cases := []struct {
		name, plants, cuts string
		options            []Option
		want               crop.Season
	}{
		{"is the year after planting", plantHead + "A1,mix,x,2024-03-01\n", cutHead, nil, 2025},
		{"is the year of planting where a cut says age 1", plantHead + "A1,mix,x,2024-03-01\n",
			cutHead + strings.Replace(cut, "%s", "1", 1), nil, 2024},
		{"is the year of planting where a bench total says age 1", plantHead + "A1,mix,x,2024-03-01\n",
			cutHead + "2024-06-01,,,x,,1,spring,first,50,7,,\n", nil, 2024},
		{"is the year of planting where age 1 in the bed can be no other planting's",
			plantHead + "A1,mix,x,2024-03-01\nA2,mix,x,2022-09-20\n",
			cutHead + "2024-06-01,,,x,,1,spring,first,50,7,,\n", nil, 2024},
		{"is the year of planting of all that were set first that year",
			plantHead + "A1,mix,x,2024-03-01\nA2,keepers,x,2024-03-01\n",
			cutHead + "2024-06-01,,,x,,1,spring,first,50,7,,\n", nil, 2024},
		{"is the year after where an earlier planting of that year explains age 1 in the bed",
			plantHead + "A1,mix,x,2024-05-01\nA2,mix,x,2024-03-01\n",
			cutHead + "2024-06-01,,,x,,1,spring,first,50,7,,\n", nil, 2025},
		{"is the year after where another planting is of age 1 anyway",
			plantHead + "A1,mix,x,2024-03-01\nA2,mix,x,2023-09-20\n",
			cutHead + "2024-06-01,,,x,,1,spring,first,50,7,,\n", nil, 2025},
		{"is the year after where another planting's rows say that it is of age 1",
			plantHead + "A1,mix,x,2024-03-01\nA2,keepers,x,2024-04-01\n",
			cutHead + "2024-06-01,,,x,,1,spring,first,50,7,,\n" +
				"2024-06-01,A2,keepers,x,2024-04-01,1,spring,first,50,7,,\n", nil, 2025},
		{"is that of the column", "plant,stock,bed,planted,first_season\nA1,mix,x,2024-03-01,2024\n",
			cutHead, nil, 2024},
		{"holds for the whole planting where one row tells it",
			"plant,stock,bed,planted,first_season\nA1,mix,x,2024-03-01,\nA2,mix,x,2024-03-01,2024\n",
			cutHead, nil, 2024},
		// Planted in April 2024, in the season that began in July 2023: its first spring is 2024's.
		{"is the next season in the south", plantHead + "A1,mix,x,2024-04-01\n", cutHead,
			[]Option{southern}, 2024},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f := mustRead(t, c.plants, c.cuts, c.options...).Farm
			if got := f.Plantings[f.Plants["A1"].Planting].FirstSeason; got != c.want {
				t.Errorf("first season is %d, want %d", got, c.want)
			}
		})
	}
}

func TestTheGuardAgainstFormulasIsNoPartOfANameThatIsReadBack(t *testing.T) {
	contents, err := ReadPlants(Source{"plants.csv", strings.NewReader("plant,stock,bed,planted\nA1,'=Mix,'+North,2025-09-18\n")}, "2026-06-01")
	if err != nil {
		t.Fatal(err)
	}
	if _, there := contents.Farm.Stocks["=Mix"]; !there || len(contents.Farm.Beds) != 1 || contents.Farm.Beds["+North"].Name != "+North" {
		t.Errorf("read %v and %v", contents.Farm.Stocks, contents.Farm.Beds)
	}
}
