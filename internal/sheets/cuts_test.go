package sheets

import (
	"os"
	"slices"
	"strings"
	"testing"

	"corymb/internal/crop"
)

// Two plantings share the north strip, of two ages, and three the high terrace, of one; N3 was removed.
const someBeds = "plant,stock,bed,planted,removed\n" +
	"N1,mix,north strip,2022-09-20,\n" +
	"N2,mix,north strip,2023-09-20,\n" +
	"N3,mix,north strip,2022-09-20,2024-07-30\n" +
	"T1,keepers,low terrace,2022-09-20,\n" +
	"H1,keepers,high terrace,2022-09-20,\n" +
	"H2,keepers,high terrace,2022-10-05,\n" +
	"H3,mix,high terrace,2022-09-20,\n"

func TestCutRows(t *testing.T) {
	cases := []struct {
		name, row string
		want      []string
	}{
		{"all told", "2024-06-01,N1,mix,north strip,2022-09-20,2,spring,extra,60,3,brick,Inés", nil},
		{"grade and length untold", "2024-06-01,N1,mix,north strip,2022-09-20,2,fall,,,3", nil},
		{"grade and flush in capitals", "2024-06-01,N1,mix,north strip,2022-09-20,2,Fall,OUT,,3", nil},
		{"no stems", "2024-06-01,N1,mix,north strip,2022-09-20,2,fall,,,0", nil},
		{"as many stems as may be", "2024-06-01,N1,mix,north strip,2022-09-20,2,fall,,,999", nil},
		{"shortest and today", "2026-01-15,N1,mix,north strip,2022-09-20,4,spring,out,0,1", nil},
		{"cut on the day of removal", "2024-07-30,N3,mix,north strip,2022-09-20,2,spring,,,1", nil},

		{"nothing but a plant", ",N1", []string{"2:bed", "2:flush", "2:date", "2:stock", "2:planted", "2:age", "2:stems"}},
		{"date as spreadsheets show it", "6/1/2024,N1,mix,north strip,2022-09-20,2,spring,,,3", []string{"2:date"}},
		{"date tomorrow", "2026-01-16,N1,mix,north strip,2022-09-20,4,spring,,,3", []string{"2:date"}},
		{"date before planting", "2022-09-19,N1,mix,north strip,2022-09-20,1,fall,,,3", []string{"2:date"}},
		{"date after removal", "2024-07-31,N3,mix,north strip,2022-09-20,2,spring,,,1", []string{"2:date"}},
		{"unknown plant", "2024-06-01,N9,mix,north strip,2022-09-20,2,spring,,,3", []string{"2:plant"}},
		{"plant in other letters", "2024-06-01,n1,mix,north strip,2022-09-20,2,spring,,,3", []string{"2:plant"}},
		{"other stock", "2024-06-01,N1,keepers,north strip,2022-09-20,2,spring,,,3", []string{"2:stock"}},
		{"other bed", "2024-06-01,N1,mix,low terrace,2022-09-20,2,spring,,,3", []string{"2:bed"}},
		{"other planting date", "2024-06-01,N1,mix,north strip,2023-09-20,2,spring,,,3", []string{"2:planted"}},
		{"other age", "2024-06-01,N1,mix,north strip,2022-09-20,1,spring,,,3", []string{"2:age"}},
		{"age 0", "2024-06-01,N1,mix,north strip,2022-09-20,0,spring,,,3", []string{"2:age"}},
		{"age with decimals", "2024-06-01,N1,mix,north strip,2022-09-20,2.0,spring,,,3", []string{"2:age"}},
		{"no flush", "2024-06-01,N1,mix,north strip,2022-09-20,2,,,,3", []string{"2:flush"}},
		{"unknown flush", "2024-06-01,N1,mix,north strip,2022-09-20,2,summer,,,3", []string{"2:flush"}},
		{"unknown grade", "2024-06-01,N1,mix,north strip,2022-09-20,2,spring,third,,3", []string{"2:grade"}},
		{"length in words", "2024-06-01,N1,mix,north strip,2022-09-20,2,spring,,50 cm,3", []string{"2:length_cm"}},
		{"length negative", "2024-06-01,N1,mix,north strip,2022-09-20,2,spring,,-10,3", []string{"2:length_cm"}},
		{"length in millimetres", "2024-06-01,N1,mix,north strip,2022-09-20,2,spring,,500,3", []string{"2:length_cm"}},
		{"no count", "2024-06-01,N1,mix,north strip,2022-09-20,2,spring,,,", []string{"2:stems"}},
		{"a thousand stems", "2024-06-01,N1,mix,north strip,2022-09-20,2,spring,,,1000", []string{"2:stems"}},
		{"more digits than fit", "2024-06-01,N1,mix,north strip,2022-09-20,2,spring,,,99999999999999999999", []string{"2:stems"}},
		{"a negative count", "2024-06-01,N1,mix,north strip,2022-09-20,2,spring,,,-1", []string{"2:stems"}},
		{"a decimal comma", "2024-06-01,N1,mix,north strip,2022-09-20,2,spring,first,50,3,brick,Inés,5", []string{"2:"}},
		{"several faults", "2024-06-01,N1,mix,north strip,2022-09-20,1,late,best,,3",
			[]string{"2:flush", "2:grade", "2:age"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := readText(someBeds, cutHead+c.row+"\n")
			checkRow(t, "cuts.csv", err, c.want)
		})
	}
}

// The file is what package tables writes, which its own test holds it to.
func TestWordsOfTheSpanishTableOfCutsAreRead(t *testing.T) {
	written, err := os.ReadFile("../../testdata/sheets/tables/conteos.csv")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(written)), "\r\n")
	at := slices.Index(strings.Split(lines[0], ";"), "grado")
	if at < 0 || len(lines) != 6 {
		t.Fatalf("%d lines, grades in column %d", len(lines), at)
	}
	var found []crop.Grade
	for _, line := range lines[1:] {
		for _, flush := range []string{"primavera", "OTOÑO"} {
			f, err := readText(someBeds, cutHead+"2024-06-01,N1,mix,north strip,2022-09-20,2,"+flush+","+strings.Split(line, ";")[at]+",50,3\n")
			if err != nil {
				t.Fatal(err)
			}
			for _, v := range f.Farm.Visits {
				if want := map[bool]crop.Flush{true: crop.FlushSpring, false: crop.FlushFall}[flush == "primavera"]; v.Flush != want {
					t.Errorf("%s is read as %q", flush, v.Flush)
				}
				found = append(found, v.Counts[0].Grade)
			}
		}
	}
	slices.Sort(found)
	if found = slices.Compact(found); !slices.Equal(found, []crop.Grade{"", crop.GradeExtra, crop.GradeFirst, crop.GradeOut, crop.GradeSecond}) {
		t.Errorf("read %q", found)
	}
}

func TestBenchRows(t *testing.T) {
	const mix22, mix23 = "mix|north strip|2022-09-20", "mix|north strip|2023-09-20"
	cases := []struct {
		name, row string
		want      []string
		planting  crop.PlantingID
		age       int
	}{
		{"whole bed", "2024-06-01,,,north strip,,,spring,first,50,400", nil, "", 0},
		{"all plants of an age", "2024-06-01,,,north strip,,2,spring,first,50,400", nil, "", 2},
		{"one planting", "2024-06-01,,mix,north strip,2022-09-20,2,spring,first,50,400", nil, mix22, 2},
		{"one planting, age untold", "2024-06-01,,mix,north strip,2023-09-20,,spring,,,4", nil, mix23, 1},
		{"planting told by its date alone", "2024-06-01,,,north strip,2023-09-20,,spring,,,4", nil, mix23, 1},
		{"planting told by stock and age", "2024-06-01,,mix,north strip,,2,spring,,,4", nil, mix22, 2},
		{"stock alone before the other was planted", "2023-06-01,,mix,north strip,,,spring,,,4", nil, mix22, 1},
		{"plantings of a stock that are of one age", "2024-06-01,,keepers,high terrace,,,spring,,,4", nil, "", 2},
		{"plantings of a stock that are of one age, told", "2024-06-01,,keepers,high terrace,,2,spring,,,4", nil, "", 2},
		{"plantings of one day that are of one age", "2024-06-01,,,high terrace,2022-09-20,,spring,,,4", nil, "", 2},
		{"largest count", "2024-06-01,,,north strip,,,spring,,,99999", nil, "", 0},

		{"no bed", "2024-06-01,,,,,,spring,,,4", []string{"2:bed"}, "", 0},
		{"unknown bed", "2024-06-01,,,east bank,,,spring,,,4", []string{"2:bed"}, "", 0},
		{"no such stock there", "2024-06-01,,keepers,north strip,,,spring,,,4", []string{"2:stock"}, "", 0},
		{"no such date there", "2024-06-01,,,north strip,2021-09-20,,spring,,,4", []string{"2:planted"}, "", 0},
		{"stock that two plantings have", "2024-06-01,,mix,north strip,,,spring,,,4", []string{"2:stock"}, "", 0},
		{"age of the other planting", "2024-06-01,,mix,north strip,2022-09-20,1,spring,,,4", []string{"2:age"}, "", 0},
		{"age of no planting", "2024-06-01,,,north strip,,3,spring,,,4", []string{"2:age"}, "", 0},
		{"before planting", "2022-06-01,,,north strip,,,spring,,,4", []string{"2:date"}, "", 0},
		{"before the first season", "2022-10-01,,,low terrace,,,fall,,,4", []string{"2:age"}, "", 0},
		{"too many", "2024-06-01,,,north strip,,,spring,,,100000", []string{"2:stems"}, "", 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := readText(someBeds, cutHead+c.row+"\n")
			checkRow(t, "cuts.csv", err, c.want)
			for _, v := range got.Farm.Visits {
				if v.Purpose != crop.PurposeBench || v.Plant != "" || v.Planting != c.planting || v.Age != c.age {
					t.Errorf("visit is %+v, want planting %q and age %d", v, c.planting, c.age)
				}
			}
			if len(c.want) == 0 && len(got.Farm.Visits) != 1 {
				t.Errorf("%d visits, want 1", len(got.Farm.Visits))
			}
		})
	}
}

func TestUnknownBedsAreAnsweredWithTheKnownOnes(t *testing.T) {
	_, err := readText(someBeds, cutHead+"2024-06-01,,,east bank,,,spring,,,4\n")
	ps := wantProblems(t, err, "cuts.csv:2:bed")
	const want = `bed "east bank" has no plant in plants.csv, where the beds are "high terrace", ` +
		`"low terrace", "north strip": correct the bed, or add its plants there`
	if ps[0].Reason != want {
		t.Errorf("reason is %s, want %s", ps[0].Reason, want)
	}
}

func TestAgesThatContradictEachOtherAreReported(t *testing.T) {
	plants := plantHead + "A1,mix,x,2024-03-01\nA2,mix,x,2024-03-01\n"
	cuts := cutHead + "2024-06-01,A1,mix,x,2024-03-01,1,spring,,,3\n" + // so 2024 is the first season
		"2025-06-01,A1,mix,x,2024-03-01,2,spring,,,3\n" +
		"2025-06-01,A2,mix,x,2024-03-01,1,spring,,,3\n"
	_, err := readText(plants, cuts)
	wantProblems(t, err, "cuts.csv:4:age")
}
