package counting

import "strconv"

var (
	// plantNumbers lie so close that log half-width is straight in log plants between two of them to
	// well under a hundredth; past the last it goes on as one over the square root.
	plantNumbers = []int{2, 3, 4, 5, 6, 7, 8, 10, 12, 15, 18, 22, 27, 33, 40, 50, 60, 75, 90, 110, 135, 165, 200, 250, 300, 400, 500, 700, 1000}
	assurances   = []float64{0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.85, 0.9, 0.95, 0.98}
)

// tabulate gives the half-widths of every number of plants.
func tabulate(spreads []spread, level float64) Halves {
	halves := make(Halves, len(plantNumbers))
	for i, n := range plantNumbers {
		of := samplesOf(spreads, level, n)
		halves[i] = make([]float64, len(assurances))
		for j, wanted := range assurances {
			halves[i][j] = rounded(of.half(wanted))
		}
	}
	return halves
}

// rounded keeps four digits: a table is sent to phones.
func rounded(half float64) float64 {
	// What FormatFloat writes, ParseFloat reads.
	short, _ := strconv.ParseFloat(strconv.FormatFloat(half, 'g', 4, 64), 64)
	return short
}
