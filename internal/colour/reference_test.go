package colour

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

const testdata = "../../testdata/"

// three is any three numbers.
type three [3]float64

func (c Lab) three() three { return three{c.L, c.A, c.B} }
func (c XYZ) three() three { return three{c.X, c.Y, c.Z} }
func (c RGB) three() three { return three{c.R, c.G, c.B} }
func (v three) lab() Lab   { return Lab{v[0], v[1], v[2]} }

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.15g, want %.15g within %g", what, got, want, within)
	}
}

func nearThree(t *testing.T, what string, got, want three, within float64) {
	t.Helper()
	for i := range got {
		near(t, what+" "+"123"[i:i+1], got[i], want[i], within)
	}
}

// readTable reads a CSV of testdata/reference, whose first row is heads.
func readTable(t *testing.T, name string) [][]string {
	t.Helper()
	file, err := os.Open(testdata + "reference/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

func numbers(t *testing.T, texts []string) []float64 {
	t.Helper()
	var out []float64
	for _, text := range texts {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, v)
	}
	return out
}

// Source: Sharma, Wu and Dalal 2005, table 1, of four decimals; the last column is theirs worked out
// to 40 digits. Pairs 10 and 14 lie on the jump at opposite hues.
func TestThePublishedPairs(t *testing.T) {
	rows := readTable(t, "ciede2000.csv")
	if len(rows) != 34 {
		t.Fatalf("%d pairs, want 34", len(rows))
	}
	for _, row := range rows {
		v := numbers(t, row[1:])
		from, to := Lab{v[0], v[1], v[2]}, Lab{v[3], v[4], v[5]}
		for way, got := range map[string]float64{"": Between(from, to).Total, " the other way": Between(to, from).Total} {
			near(t, "pair "+row[0]+way+" as published", got, v[6], 5e-5)
			near(t, "pair "+row[0]+way+" to 40 digits", got, v[7], 1e-12)
		}
	}
}

// Source: a widely published 24-patch test chart and 8 more colours, worked out to 40 digits and
// written with six decimals.
func TestPublishedColoursOfAChart(t *testing.T) {
	rows := readTable(t, "srgb_lab.csv")
	if len(rows) != 32 {
		t.Fatalf("%d colours, want 32", len(rows))
	}
	for _, row := range rows {
		v := numbers(t, row[1:])
		light := RGB{Decoded(v[0] / 255), Decoded(v[1] / 255), Decoded(v[2] / 255)}
		nearThree(t, row[0]+" under D65", LabOf(SRGB.XYZ(light), D65).three(), three(v[3:6]), 6e-7)
		nearThree(t, row[0]+" under D50", SRGB.Lab(light).three(), three(v[6:9]), 6e-7)
	}
}
