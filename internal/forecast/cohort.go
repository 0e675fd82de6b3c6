package forecast

import "corymb/internal/crop"

// cohort is plants that are alike and were looked at alike in one season: those of one planting and colour class that
// were counted over the same days, or those that nobody counted.
type cohort struct {
	stock     crop.StockID
	planting  crop.PlantingID
	colour    crop.ColourID // of the season asked about; empty where it is not known
	age       int
	season    crop.Season
	plants    int
	uncounted bool
	// totals are how many counted plants gave how many stems over all looks, in order of stems.
	totals []tally
	// from is the first day seen; before it plants may have been cut without anybody's telling.
	from  int
	to    int // the last day seen, always where that lies behind all
	looks []look
	// cutTo is the last day on which these plants were cut, told or not: what opened since then is still to come.
	cutTo int
}

// tally is how many plants gave so many stems.
type tally struct{ stems, plants int }

// look is a day on which all of a cohort's plants were cut: what had opened since the look before it, or since it was
// seen at all. Days are counted from the season's spring.
type look struct {
	day   int
	stems [2]int // by flush: spring and fall
	// atLeast says that some were left standing.
	atLeast bool
	// blind says that between the look before and this one stems may have been cut without being told.
	blind bool
}

// The flushes by their place in arrays.
var flushes = [2]crop.Flush{crop.FlushSpring, crop.FlushFall}

// flushPlace is where a flush stands among flushes.
func flushPlace(fall bool) int {
	if fall {
		return 1
	}
	return 0
}
