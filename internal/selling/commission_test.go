package selling_test

import (
	"encoding/json"
	"os"
	"testing"

	"corymb/internal/crop"
	"corymb/internal/selling"
)

func TestWhatAChannelKeepsIsRoundedOnceABunch(t *testing.T) {
	data, err := os.ReadFile("../../testdata/vectors/commission.json")
	if err != nil {
		t.Fatal(err)
	}
	var vectors struct {
		Cases []struct {
			Name         string
			Price, Keeps crop.Cents
			Commission   int
		}
	}
	if err := json.Unmarshal(data, &vectors); err != nil || len(vectors.Cases) == 0 {
		t.Fatal(err, "or no cases")
	}
	for _, v := range vectors.Cases {
		if got := selling.ChannelKeeps(v.Price, v.Commission); got != v.Keeps {
			t.Errorf("%s: %d, want %d", v.Name, got, v.Keeps)
		}
	}
}
