package tables

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/tables/formula"
	"corymb/syncproto"
)

const day = crop.Date("2026-06-05")

// filling makes a farm in which every field of every noun says something of its own. The field with the number in
// other says something else.
type filling struct {
	n, other int
	path     string // of that field
}

func filled(other int) (crop.Farm, filling) {
	f := filling{other: other}
	var made crop.Farm
	f.fill(reflect.ValueOf(&made).Elem(), "Farm")
	return made, f
}

func (f *filling) fill(v reflect.Value, path string) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			f.fill(v.Field(i), path+"."+v.Type().Field(i).Name)
		}
	case reflect.Map:
		f.fillMap(v, path)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		f.fill(v.Index(0), path+"[]")
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(v.Elem(), path)
	default:
		f.fillLeaf(v, path)
	}
}

// fillMap gives a map one entry. Nouns are kept under what their first field says.
func (f *filling) fillMap(v reflect.Value, path string) {
	key, one := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
	f.fill(one, path+"{}")
	if one.Kind() == reflect.Struct && one.Field(0).Type() == key.Type() {
		key.Set(one.Field(0))
	} else {
		f.fill(key, path+" key")
	}
	v.Set(reflect.MakeMap(v.Type()))
	v.SetMapIndex(key, one)
}

func (f *filling) fillLeaf(v reflect.Value, path string) {
	other := f.n == f.other
	if other {
		f.path = path
	}
	f.n++
	switch v.Kind() {
	case reflect.String:
		v.SetString(map[bool]string{false: path, true: path + " other"}[other])
	case reflect.Int, reflect.Int64:
		v.SetInt(map[bool]int64{false: 7, true: 9}[other])
	case reflect.Float64:
		v.SetFloat(map[bool]float64{false: 7.5, true: 9.25}[other])
	case reflect.Bool:
		v.SetBool(other)
	default:
		panic("the test does not know how to fill " + path)
	}
}

func written(t testing.TB, f crop.Farm, l Language) string {
	t.Helper()
	var out bytes.Buffer
	for _, table := range Of(f, changelog.NewState(), day) {
		if err := table.WriteCSV(&out, l); err != nil {
			t.Fatal(err)
		}
	}
	return out.String()
}

func TestEveryFieldOfEveryNounStandsInSomeTable(t *testing.T) {
	usual, all := filled(-1)
	before := written(t, usual, English)
	for n := range all.n {
		changed, f := filled(n)
		if written(t, changed, English) == before {
			t.Errorf("%s stands in no table: add a column for it", f.path)
		}
	}
	if all.n < 300 {
		t.Errorf("only %d fields were looked at", all.n)
	}
}

// read reads a file with encoding/csv.
func read(t testing.TB, table Table, l Language) [][]string {
	t.Helper()
	var out bytes.Buffer
	if err := table.WriteCSV(&out, l); err != nil {
		t.Fatal(err)
	}
	rest, marked := bytes.CutPrefix(out.Bytes(), []byte("\xef\xbb\xbf"))
	if !marked {
		t.Errorf("%s has no byte order mark", table.Name.English)
	}
	r := csv.NewReader(bytes.NewReader(rest))
	if l == Spanish {
		r.Comma = ';'
	}
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", table.Name.English, err)
	}
	return rows
}

func TestEveryTableIsCSVWithAsManyCellsAsHeadings(t *testing.T) {
	f, _ := filled(-1)
	names := map[string]bool{}
	for _, table := range Of(f, changelog.NewState(), day) {
		for _, l := range []Language{English, Spanish} {
			rows := read(t, table, l) // which wants rows of one length
			if len(rows) != len(table.Rows)+1 {
				t.Errorf("%s has %d rows, want %d", table.Name.In(l), len(rows), len(table.Rows)+1)
			}
			if headings := slices.Sorted(slices.Values(rows[0])); len(slices.Compact(headings)) != len(rows[0]) {
				t.Errorf("%s has a heading twice: %v", table.Name.In(l), rows[0])
			}
			if name := string(l) + table.FileName(l); names[name] {
				t.Errorf("two tables are called %s", name)
			} else {
				names[name] = true
			}
		}
		for _, row := range table.Rows {
			if len(row) != len(table.Columns) {
				t.Errorf("%s has %d cells under %d headings", table.Name.English, len(row), len(table.Columns))
			}
		}
	}
}

// column is what stands under a heading.
func column(t testing.TB, tables []Table, name, heading string, l Language) (cells []string) {
	t.Helper()
	for _, table := range tables {
		if table.Name.In(l) != name {
			continue
		}
		rows := read(t, table, l)
		at := slices.Index(rows[0], heading)
		if at < 0 {
			t.Fatalf("%s has no column %s: %v", name, heading, rows[0])
		}
		for _, row := range rows[1:] {
			cells = append(cells, row[at])
		}
		return cells
	}
	t.Fatalf("there is no table %s", name)
	return nil
}

func TestNumbersAreWrittenAsASpreadsheetOfTheLanguageReadsThem(t *testing.T) {
	f := crop.NewFarm()
	for i, cents := range []crop.Cents{0, 5, 50, 100, 123_456, -5, -1_250} {
		id := crop.PaymentID(fmt.Sprint(i))
		f.Money.Payments[id] = crop.Payment{ID: id, Date: "2026-06-05", Cents: cents}
	}
	f.Ahead.Weather["2026-06-05"] = crop.Weather{Date: "2026-06-05", Min: -0.5, Max: 21}
	all := Of(f, changelog.NewState(), day)
	tests := []struct {
		table, heading string
		language       Language
		want           []string
	}{
		{"payments", "amount", English, []string{"0.00", "0.05", "0.50", "1.00", "1234.56", "-0.05", "-12.50"}},
		{"pagos", "importe", Spanish, []string{"0,00", "0,05", "0,50", "1,00", "1234,56", "-0,05", "-12,50"}},
		{"weather", "tmin", English, []string{"-0.5"}},
		{"clima", "tmin", Spanish, []string{"-0,5"}},
		{"clima", "fecha", Spanish, []string{"2026-06-05"}},
		{"clima", "mal", Spanish, []string{"no"}},
	}
	for _, tt := range tests {
		if got := column(t, all, tt.table, tt.heading, tt.language); !slices.Equal(got, tt.want) {
			t.Errorf("%s of %s in %s: %v, want %v", tt.heading, tt.table, tt.language, got, tt.want)
		}
	}
}

func TestTextThatASpreadsheetWouldRunIsGuardedAndComesBack(t *testing.T) {
	dangerous := []string{"=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "＝1", "'=1", "''=1", `=HYPERLINK("http://x","y")`}
	harmless := []string{"", "Iris", "'80s", "a=b", "O'Brien", " =1 ", `"quoted", twice`, "two\nlines", "semi;colon", "Ñandú"}
	for _, text := range slices.Concat(dangerous, harmless) {
		f := crop.NewFarm()
		f.Beds["b1"] = crop.Bed{ID: "b1", Name: text}
		for _, l := range []Language{English, Spanish} {
			name, heading := "beds", "name"
			if l == Spanish {
				name, heading = "camas", "nombre"
			}
			got := column(t, Of(f, changelog.NewState(), day), name, heading, l)[0]
			if strings.ContainsAny(got[:min(1, len(got))], "=+-@\t\r\n") || strings.HasPrefix(got, "＝") {
				t.Errorf("%q is written as %q", text, got)
			}
			if slices.Contains(harmless, text) && got != text {
				t.Errorf("%q is written as %q without need", text, got)
			}
			if formula.Unguard(got) != text {
				t.Errorf("%q comes back as %q", text, formula.Unguard(got))
			}
		}
	}
}

func TestAnyTextComesBack(t *testing.T) {
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewPCG(seed, 1))
	signs := []rune("'=+-@\t\n,;\"aé ＝")
	for range 2_000 {
		text := make([]rune, rng.IntN(6))
		for i := range text {
			text[i] = signs[rng.IntN(len(signs))]
		}
		f := crop.NewFarm()
		f.Beds["b1"] = crop.Bed{ID: "b1", Name: string(text)}
		if got := column(t, Of(f, changelog.NewState(), day), "beds", "name", English)[0]; formula.Unguard(got) != string(text) {
			t.Fatalf("%q was written as %q and comes back as %q", string(text), got, formula.Unguard(got))
		}
	}
}

func TestMarksAndEventsHaveTablesToo(t *testing.T) {
	state := changelog.NewState()
	recorder := changelog.Recorder{Incarnation: "00000000-0000-4000-8000-000000000001"}
	facts := slices.Concat(
		farm.FlagFacts("p1", "look", "2026-06-01", "ana"), farm.NoteFacts("p1", "2026-06-02", "ana", "a/b"),
		farm.StandFacts("p1", 2026, "2026-03-01", "weak"), farm.ColourSeenFacts("p1", 2026, "2026-06-03", "c1"), farm.BesideFacts("p1", "p2"),
		farm.EventFacts("e1", "b1", "spray", "2026-06-04", "ana", "soap"),
		[]changelog.Fact{{Scope: syncproto.ScopeField, Op: syncproto.OpAdd, Type: farm.TypePlant, ID: "p1", Field: farm.FieldPhotos, Value: syncproto.Text("abc")}},
	)
	for _, c := range recorder.Operation(1, facts...) {
		state.Merge(c, c.Stamp)
	}
	all := Of(farm.Read("f1", state), state, day)
	if got := column(t, all, "marks", "kind", English); !slices.Equal(got, []string{"flag", "note", "photo", "colour", "stand", "beside"}) {
		t.Errorf("marks are %v", got)
	}
	if got := column(t, all, "marks", "what", English); !slices.Equal(got, []string{"look", "a/b", "abc", "c1", "weak", "p2"}) {
		t.Errorf("they say %v", got)
	}
	if got := column(t, all, "events", "what", English); !slices.Equal(got, []string{"soap"}) {
		t.Errorf("events are %v", got)
	}
}

func TestWhatWasWithdrawnIsInTheTablesWithItsDayAndBuyer(t *testing.T) {
	f := crop.NewFarm()
	f.Sales.Buyers["b"] = crop.Buyer{ID: "b", Name: "Studio Nord"}
	f.Sales.Gone.Orders["o"] = crop.Order{ID: "o", Buyer: "b", Due: "2026-06-12"}
	f.Sales.Gone.Lines["l"] = crop.Line{ID: "l", Order: "o", Bunches: 2}
	all := Of(f, changelog.NewState(), day)
	for _, name := range []string{"orders", "lines"} {
		for _, is := range [][2]string{{"due", "2026-06-12"}, {"buyer", "Studio Nord"}, {"deleted", "yes"}} {
			if got := column(t, all, name, is[0], English); !slices.Equal(got, []string{is[1]}) {
				t.Errorf("%s of %s is %v, want %s", is[0], name, got, is[1])
			}
		}
	}
}

func TestTablesAreTheSameWhateverTheOrderOfMaps(t *testing.T) {
	f := crop.NewFarm()
	for i := range 50 {
		id := crop.BedID(fmt.Sprint(i))
		f.Beds[id] = crop.Bed{ID: id, Name: fmt.Sprint("bed ", i), CutBack: map[crop.Season]crop.Date{2025: "2025-07-01", 2026: "2026-07-01"}}
	}
	first := written(t, f, English)
	for range 5 {
		if written(t, f, English) != first {
			t.Fatal("the same farm gives other tables")
		}
	}
}
