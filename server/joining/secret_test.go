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
func TestTokensAndOwnersCodesAre256RandomBits(t *testing.T) {
	f := open(t)
	const tokens = 400
	seen, set := map[string]bool{}, 0
	f.OpenTo(ana)
	for range tokens / 2 {
		joined, err := f.Join(context.Background(), joining.Asks{Device: uuid.NewString(), AtDesk: true})
		if err != nil {
			t.Fatal(err)
		}
		code, err := f.FirstOwner(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		for _, secret := range []string{joined.Token, code} {
			raw, err := base64.RawURLEncoding.DecodeString(secret)
			if err != nil || len(raw) != 32 || seen[secret] {
				t.Fatalf("%q is of %d bytes, seen before %v (%v)", secret, len(raw), seen[secret], err)
			}
			seen[secret] = true
			for _, b := range raw {
				set += bits.OnesCount8(b)
			}
		}
	}
	// n = 400 * 256, sqrt(n)/2 = 160
	if off := set - tokens*256/2; off < -960 || off > 960 {
		t.Errorf("%d of %d bits are set", set, tokens*256)
	}
}

// 23^8 codes are 36 bits. OWASP ASVS 5.0, 6.5.4 asks for 20.
func TestCodesUseEveryLetterAlike(t *testing.T) {
	f := open(t)
	const codes, letters = 500, "34679ACDEFGHJKMNPQRTWXY"
	counts := map[rune]int{}
	for range codes {
		code := f.invite(t, ben, access.Crew)
		if len(code) != 8 || strings.Trim(code, letters) != "" {
			t.Fatalf("the code is %q", code)
		}
		for _, letter := range code {
			counts[letter]++
		}
	}
	// Each letter comes 4000/23 = 174 times, give or take 13; six times that.
	for _, letter := range letters {
		if n := counts[letter]; n < 96 || n > 252 {
			t.Errorf("%c comes %d times", letter, n)
		}
	}
}
