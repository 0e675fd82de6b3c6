package tags

import (
	"encoding/hex"
	"encoding/json"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
)

func TestCodesFollowTheVectors(t *testing.T) {
	var v struct {
		Blocks []struct {
			Block  int            `json:"block"`
			Places map[string]int `json:"codes"` // code, place in the block
		} `json:"blocks"`
		Are    []string `json:"codes"`
		ArNone []string `json:"none"`
		// Batches are codes of batches by the random bytes that they are made of.
		Batches map[string]string `json:"batches"`
	}
	data, err := os.ReadFile("../../testdata/vectors/codes.json")
	if err == nil {
		err = json.Unmarshal(data, &v)
	}
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range v.Blocks {
		codes, err := Codes(b.Block)
		if err != nil {
			t.Fatal(err)
		}
		for code, i := range b.Places {
			if codes[i] != code {
				t.Errorf("block %d: code %d is %s, want %s", b.Block, i, codes[i], code)
			}
		}
	}
	for _, text := range v.Are {
		if !IsCode(text) {
			t.Errorf("%q is a code", text)
		}
	}
	for _, text := range v.ArNone {
		if IsCode(text) {
			t.Errorf("%q is no code", text)
		}
	}
	for random, want := range v.Batches {
		bytes, err := hex.DecodeString(random)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := NewBatch(strings.NewReader(string(bytes))); err != nil || got != want {
			t.Errorf("the batch of %s is %s (%v), want %s", random, got, err, want)
		}
		if got, err := ParseBatch(strings.ToLower(shownBatch(want))); err != nil || got != want {
			t.Errorf("%s is read as %s (%v)", want, got, err)
		}
	}
	if len(v.Batches) == 0 {
		t.Error("there is no batch in the vectors")
	}
}

func TestABatchNeedsEnoughThatIsRandom(t *testing.T) {
	if batch, err := NewBatch(strings.NewReader("\xff\xff\x00\x00")); err == nil {
		t.Errorf("it is %s", batch)
	}
}

func TestNoTwoCodesAreAlike(t *testing.T) {
	seen := make(map[string]bool, BlocksPerFirst*BlockSize)
	for block := range BlocksPerFirst {
		codes, err := Codes(block)
		if err != nil {
			t.Fatal(err)
		}
		for _, code := range codes {
			if seen[code] {
				t.Fatalf("%s was made twice", code)
			}
			seen[code] = true
		}
	}
	for _, block := range []int{-1, Blocks} {
		if _, err := Codes(block); err == nil {
			t.Errorf("block %d has codes", block)
		}
	}
}

func TestTheCheckTellsOfAWrongSignAndOfTwoThatChangedPlaces(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 1))
	for range 300 {
		codes, err := Codes(random.IntN(Blocks))
		if err != nil {
			t.Fatal(err)
		}
		code := strings.ReplaceAll(codes[random.IntN(BlockSize)], " ", "")
		if !IsCode(code) {
			t.Fatalf("%s is not taken for a code", code)
		}
		for i := range code {
			for _, other := range letters {
				wrong := code[:i] + string(other) + code[i+1:]
				if wrong != code && IsCode(wrong) {
					t.Fatalf("%s is taken for %s", wrong, code)
				}
			}
			for j := i + 1; j < len(code); j++ {
				swapped := []byte(code)
				swapped[i], swapped[j] = swapped[j], swapped[i]
				if string(swapped) != code && IsCode(string(swapped)) {
					t.Fatalf("%s is taken for %s", swapped, code)
				}
			}
		}
	}
}

// The construction is that of ISO/IEC 7064; its system MOD 11-2 checks ORCID iDs. These are the examples of
// ORCID's own pages on the structure of its identifier (from memory).
func TestTheCheckIsThatOfTheStandard(t *testing.T) {
	for _, id := range []string{"0000-0002-1825-0097", "0000-0001-5109-3700", "0000-0002-1694-233X", "0000-0002-9079-593X"} {
		digits := strings.ReplaceAll(id, "-", "")
		values := make([]int, 0, 15)
		for _, d := range digits[:15] {
			values = append(values, int(d-'0'))
		}
		want := strings.IndexByte("0123456789X", digits[15])
		if got := check(values, 11, 2); got != want {
			t.Errorf("%s: %d, want %d", id, got, want)
		}
	}
}
