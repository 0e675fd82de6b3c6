package tags

import (
	"encoding/json"
	"math"
	"os"
	"testing"
)

// cardVector is testdata/vectors/card.json: the card that every printed copy has, written down apart from the code.
type cardVector struct {
	Width, Height float64
	Payload       string
	Batch         string
	Code          struct {
		X, Y, Module float64
		Modules      int
	}
	PatchSide float64 `json:"patch_side"`
	Colours   []RGB
	Patches   []Patch
}

func TestACardIsLaidOutAsThoseThatWerePrinted(t *testing.T) {
	data, err := os.ReadFile("../../testdata/vectors/card.json")
	if err != nil {
		t.Fatal(err)
	}
	var want cardVector
	if err := json.Unmarshal(data, &want); err != nil {
		t.Fatal(err)
	}
	near := func(name string, got, want float64) {
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s is %v, want %v", name, got, want)
		}
	}
	near("width", CardWidth, want.Width)
	near("height", CardHeight, want.Height)
	near("code's x", cardCodeX, want.Code.X)
	near("code's y", cardCodeY, want.Code.Y)
	near("module", cardModule, want.Code.Module)
	near("patch", patchSide, want.PatchSide)
	if got := CardPayload(want.Batch); got != want.Payload || cardModules != want.Code.Modules {
		t.Errorf("a card holds %q in %d modules, want %q in %d", got, cardModules, want.Payload, want.Code.Modules)
	}
	if len(want.Colours) != len(CardColours) || len(want.Patches) != len(CardPatches()) {
		t.Fatalf("the vector has %d colours and %d patches", len(want.Colours), len(want.Patches))
	}
	for i, colour := range want.Colours {
		if CardColours[i] != colour {
			t.Errorf("colour %d is %v, want %v", i, CardColours[i], colour)
		}
	}
	for i, patch := range want.Patches {
		if CardPatches()[i] != patch {
			t.Errorf("patch %d is %v, want %v", i, CardPatches()[i], patch)
		}
	}
}

func TestACardsPartsLieApartAndInsideOfIt(t *testing.T) {
	all := CardPatches()
	quietZone := quiet * cardModule
	for i, p := range all {
		if p.X < 1.5 || p.Y < 1.5 || p.X+patchSide > CardWidth-1.5 || p.Y+patchSide > scaleY-scaleLongTick {
			t.Errorf("patch %d reaches an edge or the scale", i)
		}
		if p.X+patchSide > cardCodeX-quietZone && p.X < CardWidth-cardCodeX+quietZone {
			t.Errorf("patch %d reaches into the code's quiet zone", i)
		}
		for _, o := range all[:i] {
			if math.Abs(p.X-o.X) < patchSide+1 && math.Abs(p.Y-o.Y) < patchSide+1 {
				t.Errorf("patch %d touches another", i)
			}
		}
	}
	code, err := symbolOf(CardPayload("K7M4QE"))
	if err != nil || len(code) != cardModules {
		t.Errorf("the code of a card has %d modules (%v)", len(code), err)
	}
}

func TestThePageOfHowToIsInEveryLanguageThatIsNamed(t *testing.T) {
	for _, language := range CardLanguages {
		if len(cardWords[language].steps) != len(cardWords["en"].steps) {
			t.Errorf("%q has %d steps", language, len(cardWords[language].steps))
		}
	}
	if len(cardWords) != len(CardLanguages) {
		t.Errorf("there are %d languages, and %d are named", len(cardWords), len(CardLanguages))
	}
}
