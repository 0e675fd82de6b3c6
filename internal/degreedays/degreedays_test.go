package degreedays

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"corymb/internal/crop"
)

func thresholds(t *testing.T, lower, upper float64) Thresholds {
	t.Helper()
	between, err := NewThresholds(lower, upper)
	if err != nil {
		t.Fatal(err)
	}
	return between
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.12g, want %.12g within %g", what, got, want, within)
	}
}

// Zalom et al. 1983, Degree-days: the calculation and use of heat units in pest management, UC DANR leaflet 21373,
// table 7 (Fahrenheit, two decimals), with each of the six ways in which a day can lie about two thresholds.
func TestTheSineGivesThePublishedTableOfSixCases(t *testing.T) {
	for i, row := range readTable(t, "zalom1983_table7.csv") {
		day := crop.Weather{Min: row["tmin_F"], Max: row["tmax_F"]}
		got := thresholds(t, row["lower_F"], row["upper_F"]).Of(day, Sine)
		near(t, fmt.Sprintf("row %d, printed", i+1), got, row["single_sine"], 0.005000001)
		near(t, fmt.Sprintf("row %d, integrated", i+1), got, row["single_sine_quad"], 5e-7)
	}
}

// McMaster and Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300, table 1, method 1 (Celsius, base 0).
func TestTheAverageGivesThePublishedTable(t *testing.T) {
	for i, row := range readTable(t, "mcmaster1997_table1.csv") {
		day := crop.Weather{Min: row["tmin_C"], Max: row["tmax_C"]}
		got := thresholds(t, row["lower_C"], math.Inf(1)).Of(day, Average)
		near(t, fmt.Sprintf("row %d", i+1), got, row["gdd_method1"], 1e-12)
	}
}

// Worked examples of extension pages and arithmetic on them, in testdata/reference/TRADE.md.
func TestWorkedDays(t *testing.T) {
	none := math.Inf(1)
	tests := []struct {
		name                  string
		min, max, lower, uppr float64
		method                Method
		want                  float64
	}{
		{"a mean of 64 over a base of 53", 64, 64, 53, none, Average, 11},
		{"a mean of 75 over a base of 65", 75, 75, 65, none, Average, 10},
		{"64 and 62 over a base of 50", 62, 64, 50, none, Average, 13},
		{"70 and 40 over a base of 50, on average", 40, 70, 50, none, Average, 5},
		{"70 and 40 over a base of 50, by the sine", 40, 70, 50, none, Sine, 7.5424},
		{"58 and 40 over a base of 50, on average", 40, 58, 50, none, Average, 0},
		{"58 and 40 over a base of 50, by the sine", 40, 58, 50, none, Sine, 2.3825},
		{"90 and 50 between 50 and 86, on average", 50, 90, 50, 86, Average, 18},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := thresholds(t, test.lower, test.uppr).Of(crop.Weather{Min: test.min, Max: test.max}, test.method)
			near(t, "degree-days", got, test.want, 5e-5)
		})
	}
}

func TestTheSineIsWhatItsWaveIntegratesTo(t *testing.T) {
	const seed = 20_261
	rnd := rand.New(rand.NewPCG(seed, 1))
	for range 2_000 {
		lower := rnd.Float64()*30 - 10
		upper := lower + 0.1 + rnd.Float64()*30
		low := rnd.Float64()*60 - 30
		day := crop.Weather{Min: low, Max: low + rnd.Float64()*30}
		near(t, fmt.Sprintf("seed %d, %v between %v and %v", seed, day, lower, upper),
			thresholds(t, lower, upper).Of(day, Sine), integrated(day, lower, upper), 1e-9)
	}
}

// integrated adds up the wave from its lowest to its highest point between the two thresholds, piece by piece where it is
// smooth, by Simpson's rule.
func integrated(day crop.Weather, lower, upper float64) float64 {
	mean, half := (day.Max+day.Min)/2, (day.Max-day.Min)/2
	warmth := func(angle float64) float64 {
		return min(max(mean+half*math.Sin(angle), lower), upper) - lower
	}
	crossing := func(threshold float64) float64 {
		low, high := -math.Pi/2, math.Pi/2
		for range 60 {
			middle := (low + high) / 2
			if mean+half*math.Sin(middle) < threshold {
				low = middle
			} else {
				high = middle
			}
		}
		return low
	}
	edges := []float64{-math.Pi / 2, crossing(lower), crossing(upper), math.Pi / 2}
	sum := 0.0
	for i := 1; i < len(edges); i++ {
		const steps = 400
		step := (edges[i] - edges[i-1]) / steps
		for k := range steps {
			at := edges[i-1] + float64(k)*step
			sum += step / 6 * (warmth(at) + 4*warmth(at+step/2) + warmth(at+step))
		}
	}
	return sum / math.Pi
}

func TestADayIsWorthFromNothingToTheWholeBand(t *testing.T) {
	const seed = 7
	rnd := rand.New(rand.NewPCG(seed, 1))
	between := thresholds(t, 10, 30)
	for range 10_000 {
		low := rnd.Float64()*80 - 30
		day := crop.Weather{Min: low, Max: low + rnd.Float64()*25}
		warmer := crop.Weather{Min: day.Min + rnd.Float64()*5, Max: day.Max + 5}
		for _, method := range []Method{Average, Sine} {
			got := between.Of(day, method)
			if !(got >= 0 && got <= 20) {
				t.Fatalf("seed %d: %v is worth %v by %s", seed, day, got, method)
			}
			if more := between.Of(warmer, method); more < got-1e-12 {
				t.Fatalf("seed %d: %v is worth %v and %v only %v by %s", seed, day, got, warmer, more, method)
			}
		}
	}
}

func TestThresholdsBetweenWhichNothingLiesAreRefused(t *testing.T) {
	for _, wrong := range [][2]float64{{10, 10}, {30, 10}, {math.NaN(), 30}, {10, math.NaN()}, {math.Inf(-1), 30}} {
		if _, err := NewThresholds(wrong[0], wrong[1]); err == nil {
			t.Errorf("%v was taken", wrong)
		}
	}
}

func TestAnUnknownMethodIsRefused(t *testing.T) {
	if _, err := ParseMethod("triangle"); err == nil {
		t.Error("triangle was taken")
	}
}

// readTable reads a CSV of numbers in testdata/reference, each row by its columns' names.
func readTable(t *testing.T, name string) []map[string]float64 {
	t.Helper()
	file, err := os.Open("../../testdata/reference/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	cells, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]float64
	for _, texts := range cells[1:] {
		row := map[string]float64{}
		for i, text := range texts {
			if row[cells[0][i]], err = strconv.ParseFloat(text, 64); err != nil {
				t.Fatal(err)
			}
		}
		rows = append(rows, row)
	}
	return rows
}
