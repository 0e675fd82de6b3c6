package sheets

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"corymb/internal/crop"
)

const (
	today = crop.Date("2026-01-15")

	plantHead = "plant,stock,bed,planted\n"
	cutHead   = "date,plant,stock,bed,planted,age,flush,grade,length_cm,stems,colour,grader\n"

	onePlant = plantHead + "A1,Lantern mix,north strip,2023-10-01\n"
	oneCut   = cutHead + "2024-06-01,A1,Lantern mix,north strip,2023-10-01,1,spring,first,50,7,brick,Tomas\n"
)

func readText(plants, cuts string, options ...Option) (Contents, error) {
	return Read(Source{"plants.csv", strings.NewReader(plants)},
		Source{"cuts.csv", strings.NewReader(cuts)}, today, options...)
}

func mustRead(t *testing.T, plants, cuts string, options ...Option) Contents {
	t.Helper()
	c, err := readText(plants, cuts, options...)
	if err != nil {
		t.Fatalf("good spreadsheets were refused: %v", err)
	}
	return c
}

// sample is a file of testdata/sheets.
func sample(t testing.TB, name string) string {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "..", "testdata", "sheets", name))
	if err != nil {
		t.Fatal(err)
	}
	return string(raw)
}

// wantProblems compares file, line and column of every problem, and holds each reason to be a
// sentence that names something to do.
func wantProblems(t *testing.T, err error, want ...string) Problems {
	t.Helper()
	var ps Problems
	if !errors.As(err, &ps) {
		t.Fatalf("got error %v, want problems %q", err, want)
	}
	var got []string
	for _, p := range ps {
		got = append(got, fmt.Sprintf("%s:%d:%s", p.File, p.Line, p.Column))
		if len(p.Reason) < 30 || !strings.Contains(p.Reason, " ") {
			t.Errorf("%v has no sentence as its reason", p)
		}
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Fatalf("problems are\n  %q\nwant\n  %q\n%v", got, want, err)
	}
	return ps
}

func TestReadMakesNounsOfTheSpreadsheetsOwnWords(t *testing.T) {
	c := mustRead(t, onePlant, oneCut)
	f := c.Farm

	plant := f.Plants["A1"]
	if plant.Code != "A1" || plant.Planting != "Lantern mix|north strip|2023-10-01" {
		t.Errorf("plant is %+v", plant)
	}
	g := f.Plantings[plant.Planting]
	if g.Stock != "Lantern mix" || g.Bed != "north strip" || g.FirstSeason != 2024 {
		t.Errorf("planting is %+v", g)
	}
	bed := f.Beds["north strip"]
	if bed.Name != "north strip" || bed.Length != 0 || bed.Width != 0 || bed.Lines != 0 {
		t.Errorf("bed is %+v, want no known size", bed)
	}
	if f.Stocks["Lantern mix"].Name != "Lantern mix" || f.People["Tomas"].Name != "Tomas" ||
		f.Colours["brick"].Name != "brick" {
		t.Errorf("stocks %v, people %v, colours %v", f.Stocks, f.People, f.Colours)
	}
	const id = "cut|north strip|A1|2024-06-01|Tomas"
	v := f.Visits[id]
	if v.ID != id || v.Plant != "A1" || v.Bed != "north strip" || v.Date != "2024-06-01" ||
		v.Purpose != crop.PurposeCut || v.Person != "Tomas" || v.Flush != crop.FlushSpring {
		t.Errorf("visit is %+v", v)
	}
	want := crop.Count{Colour: "brick", Grade: crop.GradeFirst, Length: crop.TenCentimetres(50), Stems: 7}
	if len(v.Counts) != 1 || v.Counts[0] != want {
		t.Errorf("counts are %+v, want %+v", v.Counts, want)
	}
}

func TestReadTakesTheSampleFarm(t *testing.T) {
	c := mustRead(t, sample(t, "good/plants.csv"), sample(t, "good/cuts.csv"))
	f := c.Farm
	if len(f.Plants) != 22 || len(f.Plantings) != 2 || len(f.Beds) != 2 || len(f.Stocks) != 2 {
		t.Errorf("%d plants, %d plantings, %d beds, %d stocks", len(f.Plants), len(f.Plantings),
			len(f.Beds), len(f.Stocks))
	}
	if c.Assumed || c.Summed != 0 || len(c.Notes()) != 0 {
		t.Errorf("unasked for: %q", c.Notes())
	}
	stems := 0
	for _, v := range f.Visits {
		stems += v.Stems()
	}
	if want := stemsInText(t, sample(t, "good/cuts.csv")); stems != want {
		t.Errorf("visits hold %d stems, the file %d", stems, want)
	}
	if _, ok := f.Colours["crème"]; !ok {
		t.Errorf("colours are %v, want crème among them", f.Colours)
	}
	if parents := f.Plants["T-01"].Parents; len(parents) != 1 || parents[0] != "N-02" {
		t.Errorf("parents of T-01 are %v, want N-02", parents)
	}
}

// stemsInText adds up the column stems without the package under test.
func stemsInText(t *testing.T, text string) int {
	t.Helper()
	total := 0
	for _, line := range strings.Split(strings.TrimSpace(text), "\n")[1:] {
		var n int
		if _, err := fmt.Sscan(strings.Split(line, ",")[9], &n); err != nil {
			t.Fatal(err)
		}
		total += n
	}
	return total
}

func TestReadGivesTheSameFarmOfTheSameFiles(t *testing.T) {
	for _, dir := range []string{"good", "plain", "semicolon"} {
		plants, cuts := sample(t, dir+"/plants.csv"), sample(t, dir+"/cuts.csv")
		one := fmt.Sprintf("%+v", mustRead(t, plants, cuts))
		two := fmt.Sprintf("%+v", mustRead(t, plants, cuts))
		if one != two {
			t.Errorf("%s: two readings differ", dir)
		}
	}
}

func TestPlantsAreReadByThemselvesAsWithTheirCuts(t *testing.T) {
	for _, folder := range []string{"good", "semicolon"} {
		whole := mustRead(t, sample(t, folder+"/plants.csv"), sample(t, folder+"/cuts.csv"))
		alone, err := ReadPlants(Source{Name: "plants.csv", Reader: strings.NewReader(sample(t, folder+"/plants.csv"))}, today)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(alone.Farm.Plants, whole.Farm.Plants) || !slices.Equal(alone.Listed, whole.Listed) || len(alone.Listed) != len(alone.Farm.Plants) {
			t.Errorf("%s: alone %d plants, %v; with cuts %d, %v", folder, len(alone.Farm.Plants), alone.Listed, len(whole.Farm.Plants), whole.Listed)
		}
	}
	_, err := ReadPlants(Source{Name: "plants.csv", Reader: strings.NewReader(sample(t, "bad/plants.csv"))}, today)
	var ps Problems
	if !errors.As(err, &ps) || len(ps) == 0 || ps[0].String() == "" || ps[0].Line != 3 {
		t.Errorf("of the bad sample it says %v", err)
	}
}

func TestUpToADayTheFilesAreReadAsTheyWereThatEvening(t *testing.T) {
	const removedHead = "plant,stock,bed,planted,removed\n"
	then := mustRead(t,
		removedHead+"A1,Lantern mix,north strip,2023-10-01,\nA2,Lantern mix,north strip,2023-10-01,2024-05-20\n",
		oneCut)
	whole := mustRead(t,
		removedHead+"A1,Lantern mix,north strip,2023-10-01,2025-03-01\nA2,Lantern mix,north strip,2023-10-01,2024-05-20\n"+
			"A3,Lantern mix,south strip,2024-09-01,\n",
		oneCut+"2024-06-02,A1,Lantern mix,north strip,2023-10-01,1,spring,first,50,4,brick,Tomas\n"+
			"2025-06-02,A3,Lantern mix,south strip,2024-09-01,1,spring,first,50,4,brick,Tomas\n",
		UpTo("2024-06-01"))
	if !reflect.DeepEqual(then, whole) {
		t.Errorf("read up to the day:\n%+v\nas it was:\n%+v", whole.Farm, then.Farm)
	}
}

func TestReadListsEveryBadRowOfBothFiles(t *testing.T) {
	c, err := readText(sample(t, "bad/plants.csv"), sample(t, "bad/cuts.csv"))
	wantProblems(t, err,
		"plants.csv:3:planted", "plants.csv:4:first_season", "plants.csv:5:first_season",
		"plants.csv:6:bed", "plants.csv:7:plant", "plants.csv:8:counted_to",
		"plants.csv:9:counted_from", "plants.csv:10:removed", "plants.csv:11:parent",
		"plants.csv:12:parent", "plants.csv:13:parent", "plants.csv:14:parent", "plants.csv:16:plant",
		"cuts.csv:2:date", "cuts.csv:3:date", "cuts.csv:4:date", "cuts.csv:5:date", "cuts.csv:6:stems",
		"cuts.csv:7:stems", "cuts.csv:8:stems", "cuts.csv:9:grade", "cuts.csv:10:flush",
		"cuts.csv:11:length_cm", "cuts.csv:12:bed", "cuts.csv:13:planted", "cuts.csv:14:plant",
		"cuts.csv:15:bed", "cuts.csv:16:bed", "cuts.csv:17:stock", "cuts.csv:18:stems",
		"cuts.csv:19:flush", "cuts.csv:20:age", "cuts.csv:21:", "cuts.csv:22:")
	if len(c.Farm.Plants) != 0 || len(c.Farm.Visits) != 0 {
		t.Error("something was loaded although there are problems")
	}
}

func TestProblemsAreReadAsLines(t *testing.T) {
	_, err := readText(onePlant, strings.Replace(oneCut, "first", "premium", 1))
	want := "nothing was loaded; problems in the spreadsheets: 1\n" +
		`cuts.csv line 2, grade: "premium" is not a grade: use extra, first, second or out, or leave ` +
		"the cell empty"
	if err == nil || err.Error() != want {
		t.Errorf("error is\n%v\nwant\n%s", err, want)
	}
}

func TestReadTellsAFailureToReadFromABadRow(t *testing.T) {
	broken := errors.New("the disk is gone")
	_, err := Read(Source{"plants.csv", iotest.ErrReader(broken)},
		Source{"cuts.csv", strings.NewReader(oneCut)}, today)
	var ps Problems
	if !errors.Is(err, broken) || errors.As(err, &ps) || !strings.Contains(err.Error(), "plants.csv") {
		t.Errorf("error is %v", err)
	}
}

func TestReadRefusesSettingsThatMakeNoSense(t *testing.T) {
	if _, err := Read(Source{}, Source{}, "yesterday"); err == nil {
		t.Error("a today that is no date was taken")
	}
	if _, err := readText(onePlant, oneCut, WithCalendar(crop.Calendar{})); err == nil {
		t.Error("a calendar without a start was taken")
	}
}
