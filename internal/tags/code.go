// Package tags draws what is printed to stand beside plants in the row, to be cut apart and scanned: stakes, each
// with its plant's code to scan and to read, and the colour card; and makes the codes of both.
package tags

import (
	"fmt"
	"strings"
)

// A code is six signs, "R4K 7MC": where the shed's database begins anew it changes the first, four count
// within that, and the last checks the others. Codes are given out in blocks, so that two phones without a
// signal never make the same one.
const (
	// letters leave out what is easily taken for another, read, said or half faded: 0 and O, 1, I and L, 2
	// and Z, 5 and S, 8 and B, U and V. There are 23, a prime, which the check needs.
	letters = "34679ACDEFGHJKMNPQRTWXY"
	signs   = 4 // between the first and the check

	// BlockSize is how many codes a block has.
	BlockSize = 256
	// BlocksPerFirst is how many blocks begin with one sign.
	BlocksPerFirst = 1093
	// Firsts is how many signs a code may begin with.
	Firsts = len(letters)
	// Blocks is how many there are; they are numbered from 0.
	Blocks = Firsts * BlocksPerFirst
)

// Codes lists the codes of a block.
func Codes(block int) ([]string, error) {
	if block < 0 || block >= Blocks {
		return nil, fmt.Errorf("listing the codes of block %d: there are blocks 0 to %d", block, Blocks-1)
	}
	codes := make([]string, BlockSize)
	for i := range codes {
		codes[i] = code(block/BlocksPerFirst, block%BlocksPerFirst*BlockSize+i)
	}
	return codes, nil
}

// code is the k-th code of those that begin with a sign. Neighbours are scattered, so that plants that stand
// side by side have codes that are unlike each other: 7919 shares no factor with 23.
func code(first, k int) string {
	radix := len(letters)
	all := 1
	for range signs {
		all *= radix
	}
	k = (k*7_919 + 104_729) % all
	values := make([]int, 1+signs)
	values[0] = first
	for i := signs; i > 0; i-- {
		values[i] = k % radix
		k /= radix
	}
	values = append(values, check(values, radix, 2))
	var text strings.Builder
	for _, v := range values {
		text.WriteByte(letters[v])
	}
	written := text.String()
	return written[:3] + " " + written[3:]
}

// check is the check value of a pure system of ISO/IEC 7064: with it behind the values, their sum weighted by
// powers of the radix, the last by 1, leaves 1. With a prime modulus it tells of every single sign that is
// wrong and of every two that changed places, as long as the radix's powers differ.
func check(values []int, modulus, radix int) int {
	sum := 0
	for _, v := range values {
		sum = (sum + v) * radix % modulus
	}
	return (modulus + 1 - sum) % modulus
}

// IsCode tells whether a text is a code that this package made, however it was typed: small letters, blanks and
// dashes do not matter. Other texts may be on tags too, as a spreadsheet brings them.
func IsCode(typed string) bool {
	text := plainCode(typed)
	if len(text) != signs+2 {
		return false
	}
	values := make([]int, len(text))
	for i := range text {
		values[i] = strings.IndexByte(letters, text[i])
		if values[i] < 0 {
			return false
		}
	}
	last := len(values) - 1
	return check(values[:last], len(letters), 2) == values[last]
}

// plainCode is a code without what people put into it to read it.
func plainCode(typed string) string {
	return strings.NewReplacer(" ", "", "-", "").Replace(strings.ToUpper(typed))
}
