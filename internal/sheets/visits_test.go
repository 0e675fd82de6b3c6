package sheets

import (
	"strings"
	"testing"

	"corymb/internal/crop"
)

const plantCut = "2024-06-01,A1,mix,x,2023-10-01,1,spring,first,50,"

func TestRowsOfOneKeyAreSummedAndCounted(t *testing.T) {
	plants := plantHead + "A1,mix,x,2023-10-01\n"
	cuts := cutHead + plantCut + "3,brick,Inés\n" + plantCut + "4,brick,Inés\n" + plantCut + "5,brick,Inés\n" +
		plantCut + "1,straw,Inés\n" + strings.Replace(plantCut, ",50,", ",60,", 1) + "2,brick,Inés\n" +
		"2024-06-01,,,x,,,spring,first,50,30,,\n2024-06-01,,,x,,,spring,first,50,12,,\n"
	c := mustRead(t, plants, cuts)
	if c.Summed != 3 {
		t.Errorf("%d rows summed, want 3", c.Summed)
	}
	v := c.Farm.Visits["cut|x|A1|2024-06-01|Inés"]
	if len(v.Counts) != 3 || v.Counts[0].Stems != 12 || v.Stems() != 15 {
		t.Errorf("counts are %+v", v.Counts)
	}
	if bench := c.Farm.Visits["bench|x||0|2024-06-01|"]; bench.Stems() != 42 || len(bench.Counts) != 1 {
		t.Errorf("bench total is %+v", bench)
	}
	if notes := strings.Join(c.Notes(), " "); !strings.Contains(notes, "of an earlier row: 3.") {
		t.Errorf("notes are %q", notes)
	}
}

func TestSumsMayNotPassTheLimitOfOneCell(t *testing.T) {
	cuts := cutHead + plantCut + "999,,\n" + plantCut + "1,,\n" +
		"2024-06-01,,,x,,,spring,first,50,99999,,\n2024-06-01,,,x,,,spring,first,50,1,,\n"
	_, err := readText(plantHead+"A1,mix,x,2023-10-01\n", cuts)
	wantProblems(t, err, "cuts.csv:3:stems", "cuts.csv:5:stems")
}

func TestGradersOfOnePlantDayMakeVisitsOfTheirOwn(t *testing.T) {
	cuts := cutHead + plantCut + "3,,Inés\n" + plantCut + "3,,Tomas\n" + plantCut + "3,,\n"
	c := mustRead(t, plantHead+"A1,mix,x,2023-10-01\n", cuts)
	if len(c.Farm.Visits) != 3 || c.Summed != 0 || len(c.Farm.People) != 2 {
		t.Errorf("%d visits, %d summed, people %v", len(c.Farm.Visits), c.Summed, c.Farm.People)
	}
}

func TestBenchRowsOfOnePlantingAreOneVisitWhetherTheAgeIsToldOrNot(t *testing.T) {
	cuts := cutHead + "2024-06-01,,mix,x,2023-10-01,1,spring,first,50,3\n" +
		"2024-06-01,,mix,x,2023-10-01,,spring,second,50,4\n"
	c := mustRead(t, plantHead+"A1,mix,x,2023-10-01\n", cuts)
	if len(c.Farm.Visits) != 1 {
		t.Errorf("visits are %v", c.Farm.Visits)
	}
}

func TestOnePlaceHasOneFlushADay(t *testing.T) {
	plants := plantHead + "A1,mix,x,2023-10-01\nA2,mix,x,2023-10-01\n"
	fall := strings.Replace(plantCut, "spring", "fall", 1)
	cases := []struct {
		name, cuts string
		want       []string
	}{
		{"two flushes of a plant", plantCut + "3,,\n" + fall + "3,,\n", []string{"3:flush"}},
		{"two flushes of a plant by two graders", plantCut + "3,,Inés\n" + fall + "3,,Tomas\n", []string{"3:flush"}},
		{"two flushes of a bed", "2024-06-01,,,x,,,spring,,,3\n2024-06-01,,,x,,,fall,,,3\n", []string{"3:flush"}},
		{"two plants, two flushes", plantCut + "3,,\n" + strings.Replace(fall, "A1", "A2", 1) + "3,,\n", nil},
		{"two days, two flushes", plantCut + "3,,\n" + strings.Replace(fall, "06-01", "06-02", 1) + "3,,\n", nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := readText(plants, cutHead+c.cuts)
			checkRow(t, "cuts.csv", err, c.want)
		})
	}
}

// FuzzRead holds Read to an answer, either problems or a farm that hangs together, for any bytes.
func FuzzRead(f *testing.F) {
	for _, dir := range []string{"semicolon", "bad"} {
		f.Add(sample(f, dir+"/plants.csv"), sample(f, dir+"/cuts.csv"))
	}
	f.Add(sample(f, "encodings/latin1.csv"), sample(f, "encodings/utf16.csv"))
	f.Add(onePlant, oneCut)
	f.Add(someBeds, cutHead+"2024-06-01,,mix,north strip,,2,spring,,,4\n")
	f.Add(fullPlantHead+"A1,m,x,2022-09-20,2023,2023-04-01,2025-07-15,,,\n", cutHead)
	f.Fuzz(func(t *testing.T, plants, cuts string) {
		c, err := readText(plants, cuts)
		if ps, ok := err.(Problems); err != nil && (!ok || len(ps) == 0 || ps[0].Reason == "") {
			t.Fatalf("error %v is no list of problems", err)
		}
		if (err == nil) != (len(c.Farm.Plants) > 0) {
			t.Fatalf("%d plants beside error %v", len(c.Farm.Plants), err)
		}
		checkHangsTogether(t, c.Farm)
	})
}

func checkHangsTogether(t *testing.T, f crop.Farm) {
	for id, p := range f.Plants {
		g, ok := f.Plantings[p.Planting]
		if !ok || id == "" {
			t.Fatalf("plant %q is of no planting", id)
		}
		for s, w := range p.Counted {
			if g.AgeIn(s) < 1 || w.From > w.To {
				t.Fatalf("plant %q, planting %+v, is counted in %d: %v", id, g, s, w)
			}
		}
	}
	for id, v := range f.Visits {
		_, plant := f.Plants[v.Plant]
		_, bed := f.Beds[v.Bed]
		if !bed || plant == (v.Purpose == crop.PurposeBench) || !v.Date.Valid() || v.Date > today {
			t.Fatalf("visit %q hangs in the air: %+v", id, v)
		}
	}
}
