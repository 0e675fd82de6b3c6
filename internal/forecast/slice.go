package forecast

import (
	"cmp"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
)

// slice draws one number from a log density by slice sampling, stepping out by width and shrinking (Neal 2003, Annals of
// Statistics 31:705-767).
func slice(src *rand.Rand, at, width float64, density func(float64) float64) float64 {
	const most = 20 // steps out on either side
	level := density(at) - src.ExpFloat64()
	low := at - width*src.Float64()
	high := low + width
	for range most {
		if density(low) < level {
			break
		}
		low -= width
	}
	for range most {
		if density(high) < level {
			break
		}
		high += width
	}
	for high-low > 1e-12*max(1, math.Abs(at)) {
		there := low + (high-low)*src.Float64()
		if density(there) >= level {
			return there
		}
		if there < at {
			low = there
		} else {
			high = there
		}
	}
	return at
}

// sortedKeys keep what is drawn the same whatever the order of a map.
func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K { return slices.Sorted(maps.Keys(m)) }
