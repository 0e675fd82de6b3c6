package forecast

import (
	"math"
	"math/rand/v2"
	"sort"

	"corymb/internal/crop"
)

// clock tells how far a season has come: for each of its days from spring on (see records.day) the day of a usual year by
// whose evening as much warmth has come. Without one a season goes by its own days.
//
// Flushes run by it, so that what practice says of them in days holds in usual years, and in others comes sooner or later.
type clock []float64

// of is the usual year's day on the evening of a season's day.
func (c clock) of(day int) float64 {
	if day < 0 || len(c) == 0 {
		return float64(day)
	}
	last := len(c) - 1
	return c[min(day, last)] + float64(max(0, day-last))
}

// day is the season's day on which a day of the usual year is reached.
func (c clock) day(usual float64) float64 {
	if len(c) == 0 || usual < 0 {
		return usual
	}
	k := sort.SearchFloat64s(c, usual)
	switch k {
	case 0:
		return 0
	case len(c):
		return float64(len(c)-1) + usual - c[len(c)-1]
	}
	return float64(k-1) + (usual-c[k-1])/(c[k]-c[k-1])
}

// warmths is how warmth comes at a farm, in degree-days, from each season's spring on.
type warmths struct {
	usual []float64   // by day: the mean of the past seasons with weather, evened out
	sums  []float64   // of usual with what time alone counts for
	past  [][]float64 // those seasons by day, gaps filled
}

const (
	// enoughDays is of how large a part of a season's days the weather must be known for it to go by warmth.
	enoughDays = 2.0 / 3
	// evenedOver is over how many days on either side the usual year is evened out: a few years' mean still holds
	// their single warm and cold spells.
	evenedOver = 10
	// byTime is how much each day counts beside its warmth, as a part of the usual year's mean day: plants go by the length
	// of days too, and a day on which nothing grows goes by all the same.
	byTime = 0.1
	// Warmth that nobody can know yet strays from the usual: from day to day by so much on the log scale, and tomorrow's
	// like today's (from memory: in temperate summers days differ from the usual by some 4 °C, neighbours are alike by 0.7,
	// and a day of growth has some 9 degree-days). A month is then a fifth more or less than usual, a season a tenth.
	strayDay, strayNext = 0.45, 0.7
)

// warmthsOf gathers past seasons' warmth; nil where no past season has enough of it, so that nothing is usual.
func warmthsOf(warmth map[crop.Date]float64, calendar crop.Calendar, present crop.Season) *warmths {
	seasons := map[crop.Season]bool{}
	for day := range warmth {
		if season := calendar.SeasonOf(day); season < present {
			seasons[season] = true
		}
	}
	w := &warmths{}
	days := calendar.Spring(present).DaysTo(calendar.Span(present).To) + 1
	for _, season := range sortedKeys(seasons) {
		if year := byDay(warmth, calendar.Spring(season), days); knownPart(year) >= enoughDays {
			w.past = append(w.past, year)
		}
	}
	if len(w.past) == 0 {
		return nil
	}
	w.usual = evened(w.past, days)
	if mean(w.usual) == 0 { // by these thresholds nothing ever grows there
		return nil
	}
	for _, year := range w.past {
		fill(year, w.usual)
	}
	w.sums = w.sum(w.usual)
	return w
}

// byDay lays out the warmth of so many days from one on, not a number where it is not known.
func byDay(warmth map[crop.Date]float64, first crop.Date, days int) []float64 {
	year := make([]float64, days)
	for k := range year {
		var there bool
		if year[k], there = warmth[first.Add(k)]; !there {
			year[k] = math.NaN()
		}
	}
	return year
}

// knownPart is the part of some days of which the warmth is known, 1 of none.
func knownPart(year []float64) float64 {
	there := 0
	for _, v := range year {
		if !math.IsNaN(v) {
			there++
		}
	}
	if len(year) == 0 {
		return 1
	}
	return float64(there) / float64(len(year))
}

// evened is the mean of some years about each day; over more days about it where none of them knows that day.
func evened(years [][]float64, days int) []float64 {
	usual := make([]float64, days)
	for k := range usual {
		for over := evenedOver; ; over *= 2 {
			sum, n := 0.0, 0
			for _, year := range years {
				for _, v := range year[max(0, k-over):min(days, k+over+1)] {
					if !math.IsNaN(v) {
						sum, n = sum+v, n+1
					}
				}
			}
			if n > 0 {
				usual[k] = sum / float64(n)
				break
			}
		}
	}
	return usual
}

// fill puts the usual warmth on days of which it is not known.
func fill(year, usual []float64) {
	for k, v := range year {
		if math.IsNaN(v) {
			year[k] = usual[k]
		}
	}
}

// sum adds up warmth day by day, with what time counts for.
func (w *warmths) sum(year []float64) []float64 {
	mean := mean(w.usual)
	sums := make([]float64, len(year))
	sum := 0.0
	for k, v := range year {
		sum += v + byTime*mean
		sums[k] = sum
	}
	return sums
}

// clock is that of a season's warmth from spring on.
func (w *warmths) clock(year []float64) clock {
	c := make(clock, len(year))
	last := len(w.sums) - 1
	k := 0
	for day, sum := range w.sum(year) {
		for k < last && w.sums[k] < sum {
			k++
		}
		before := 0.0
		if k > 0 {
			before = w.sums[k-1]
		}
		// Beyond the usual year's end it goes on as on its last day.
		c[day] = float64(k-1) + (sum-before)/(w.sums[k]-before)
	}
	return c
}

// year is a season's warmth over so many days from spring on, where it is not known the usual one; nil where too little
// of it is known.
func (w *warmths) year(warmth map[crop.Date]float64, spring crop.Date, days int) []float64 {
	year := byDay(warmth, spring, min(max(days, 0), len(w.usual)))
	if knownPart(year) < enoughDays {
		return nil
	}
	fill(year, w.usual)
	return year
}

// toCome draws the rest of a season's warmth behind what is known of it: as in one of the past seasons, and straying from it.
// A season's days lie from the mean of n by 1+1/n of their variance, one of these n by 1-1/n: so the stray has 2/n of it.
func (w *warmths) toCome(src *rand.Rand, year []float64) []float64 {
	days := len(w.usual)
	all := append(make([]float64, 0, days), year...)
	like := w.past[src.IntN(len(w.past))]
	sd := strayDay * math.Sqrt(2/float64(len(w.past)))
	stray := sd * src.NormFloat64()
	for k := len(all); k < days; k++ {
		all = append(all, like[k]*math.Exp(stray-sd*sd/2))
		stray = strayNext*stray + sd*math.Sqrt(1-strayNext*strayNext)*src.NormFloat64()
	}
	return all
}

func mean(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}
