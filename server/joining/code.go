package joining

import (
	"crypto/rand"
	"math/big"
	"strings"
)

const (
	// codeLetters leaves out what is easily taken for another, read or said: 0 and O, 1, I and L, 2 and
	// Z, 5 and S, 8 and B, U and V.
	codeLetters = "34679ACDEFGHJKMNPQRTWXY"
	// codeLength is what a person can type: some 36 bits, which do for ten minutes in which few may be tried.
	codeLength = 8
	// firstCodeLength comes as a link: some 108 bits, which do for ever.
	firstCodeLength = 24
)

func newCode(length int) string {
	code := make([]byte, length)
	for i := range code {
		n, _ := rand.Int(rand.Reader, big.NewInt(int64(len(codeLetters)))) // it does not fail, see newToken
		code[i] = codeLetters[n.Int64()]
	}
	return string(code)
}

// between are what people put between the letters of a code.
var between = strings.NewReplacer(" ", "", "-", "", "\u2013", "", "\u2014", "", ".", "", "\t", "")

// NormalCode is a code as it was made, however it was typed: small letters, blanks and dashes do not
// matter.
func NormalCode(typed string) string {
	return between.Replace(strings.ToUpper(strings.TrimSpace(typed)))
}

// ShownCode is a code in two halves, which are easier to type.
func ShownCode(code string) string {
	if len(code) != codeLength {
		return code
	}
	return code[:codeLength/2] + "-" + code[codeLength/2:]
}
