package selling

import (
	"cmp"
	"math/bits"
	"slices"
)

// PartsOf splits a whole by weights, of which none is below 0, so that the parts add up to it: each the whole number below
// its share, and one more for those with the largest remainders, the first of as large ones. Without any weight all is in
// the first part.
func PartsOf(whole int64, weights []int64) []int64 {
	parts := make([]int64, len(weights))
	if len(parts) == 0 {
		return parts
	}
	if whole < 0 {
		for i, part := range PartsOf(-whole, weights) {
			parts[i] = -part
		}
		return parts
	}
	all := int64(0)
	for _, w := range weights {
		all += w
	}
	if all == 0 {
		parts[0] = whole
		return parts
	}
	left := whole
	rest := make([]int64, len(weights))
	for i, w := range weights {
		parts[i], rest[i] = MulDiv(whole, w, all)
		left -= parts[i]
	}
	if left > 0 {
		order := make([]int, len(weights))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rest[b], rest[a]) })
		for _, i := range order[:left] {
			parts[i]++
		}
	}
	return parts
}

// MulDiv is a times b over c and its remainder, of numbers not below 0 with b at most c; the product may have 128 bits.
func MulDiv(a, b, c int64) (quotient, remainder int64) {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	q, r := bits.Div64(hi, lo, uint64(c))
	return int64(q), int64(r)
}
