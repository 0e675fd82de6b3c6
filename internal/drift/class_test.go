package drift

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"corymb/internal/colour"
	"corymb/internal/crop"
)

// labTold and covTold are colours as the vectors and the app write them.
type labTold struct {
	L float64 `json:"L"`
	A float64 `json:"a"`
	B float64 `json:"b"`
}

type covTold struct {
	LL float64 `json:"LL"`
	LA float64 `json:"La"`
	LB float64 `json:"Lb"`
	AA float64 `json:"aa"`
	AB float64 `json:"ab"`
	BB float64 `json:"bb"`
}

func TestClassesFollowTheVectors(t *testing.T) {
	var v struct {
		Classes []struct {
			ID    crop.ColourID
			Lab   *labTold
			Limit float64
		}
		Plants []struct {
			Name     string
			Colour   crop.ColourID
			Season   crop.Season
			Seen     map[crop.Season]crop.ColourID
			Measured map[crop.Season]struct {
				Lab labTold
				Cov covTold
			}
			Want *Class
		}
	}
	data, err := os.ReadFile("../../testdata/vectors/classes.json")
	if err == nil {
		err = json.Unmarshal(data, &v)
	}
	if err != nil {
		t.Fatal(err)
	}
	classes := map[crop.ColourID]crop.Colour{}
	for _, c := range v.Classes {
		one := crop.Colour{ID: c.ID, Limit: c.Limit}
		if c.Lab != nil {
			one.Reference = &colour.Lab{L: c.Lab.L, A: c.Lab.A, B: c.Lab.B}
		}
		classes[c.ID] = one
	}
	for _, c := range v.Plants {
		told := Told{Colour: c.Colour, Seen: c.Seen, Measured: map[crop.Season]PlantColour{}}
		for season, m := range c.Measured {
			told.Measured[season] = PlantColour{Season: season, Lab: Lab(m.Lab), Cov: Cov(m.Cov)}
		}
		got, known := ClassIn(classes, told, c.Season)
		if known != (c.Want != nil) || known && !sameClass(got, *c.Want) {
			t.Errorf("%s: %+v, want %+v", c.Name, got, c.Want)
		}
	}
}

func sameClass(a, b Class) bool {
	same := a.Measured == b.Measured && a.Season == b.Season && a.Colour == b.Colour && a.Sure == b.Sure && len(a.Likely) == len(b.Likely)
	for i := 0; same && i < len(a.Likely); i++ {
		same = a.Likely[i].Colour == b.Likely[i].Colour && math.Abs(a.Likely[i].Share-b.Likely[i].Share) < 1e-9
	}
	return same
}
