package joining_test

import (
	"context"
	"encoding/base64"
	"math/bits"
	"strings"
	"testing"

	"github.com/google/uuid"

	"corymb/internal/access"
	"corymb/server/joining"
)

// Of n fair bits half are set, give or take sqrt(n)/2; six times that is passed once in 500 million runs.
func TestTokensAre256RandomBits(t *testing.T) {
	f := open(t)
	const tokens = 400
	seen, set := map[string]bool{}, 0
	f.OpenTo(ana)
	for range tokens {
		joined, err := f.Join(context.Background(), joining.Asks{Device: uuid.NewString(), AtDesk: true})
		if err != nil {
			t.Fatal(err)
		}
		raw, err := base64.RawURLEncoding.DecodeString(joined.Token)
		if err != nil || len(raw) != 32 || seen[joined.Token] {
			t.Fatalf("%q is of %d bytes, seen before %v (%v)", joined.Token, len(raw), seen[joined.Token], err)
		}
		seen[joined.Token] = true
		for _, b := range raw {
			set += bits.OnesCount8(b)
		}
	}
	// n = 400 * 256, sqrt(n)/2 = 160
	if off := set - tokens*256/2; off < -960 || off > 960 {
		t.Errorf("%d of %d bits are set", set, tokens*256)
	}
}

// 23^8 codes are 36 bits, and the 23^24 of a first owner, whose code has no end, 108. OWASP ASVS 5.0, 6.5.4
// asks for 20.
func TestCodesUseEveryLetterAlike(t *testing.T) {
	f := open(t)
	const codes, letters = 500, "34679ACDEFGHJKMNPQRTWXY"
	counts := map[rune]int{}
	check := func(code string, length int) {
		t.Helper()
		if len(code) != length || strings.Trim(code, letters) != "" {
			t.Fatalf("the code is %q", code)
		}
		for _, letter := range code {
			counts[letter]++
		}
	}
	for range codes {
		check(f.invite(t, ben, access.Crew), 8)
		code := f.ownerCode(t)
		check(code, 24)
	}
	// Each letter comes 16000/23 = 696 times, give or take 26; six times that.
	for _, letter := range letters {
		if n := counts[letter]; n < 540 || n > 852 {
			t.Errorf("%c comes %d times", letter, n)
		}
	}
}
