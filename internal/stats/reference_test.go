package stats

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// The published fits in testdata/reference name software, book and data in their "source" field.
type published struct {
	Est float64 `json:"est"`
	SE  float64 `json:"se"`
}

func reference(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func readJSON(t testing.TB, name string, into any) {
	t.Helper()
	if err := json.Unmarshal(reference(t, name), into); err != nil {
		t.Fatal(err)
	}
}

// readCSV gives the rows as maps from column name to cell.
func readCSV(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, name := range lines[0] {
			row[name] = line[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func whole(t testing.TB, s string) int {
	t.Helper()
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func is(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.10g, want %.10g within %g", what, got, want, tolerance)
	}
}

func isFinite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// ones is a design of an intercept alone.
func ones(n int) [][]float64 {
	x := make([][]float64, n)
	for i := range x {
		x[i] = []float64{1}
	}
	return x
}
