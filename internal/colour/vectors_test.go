package colour

import (
	"encoding/json"
	"fmt"
	"os"
	"testing"
)

// vectors is testdata/vectors/colour.json, which says of itself how it was made. TypeScript runs it too,
// within the same limits: so the two agree with each other to twelve digits.
type vectors struct {
	Seed    int
	Colours []struct {
		Space                    string
		RGB                      three
		Linear, XYZ, LabD65, Lab three
	}
	Curve       [][2]float64
	Differences []struct {
		Kind     string
		From, To three
		Want     [5]float64
	}
	Shown []struct {
		Lab    three
		RGB    [3]uint8
		Mapped bool
	}
}

func readVectors(t *testing.T) vectors {
	t.Helper()
	text, err := os.ReadFile(testdata + "vectors/colour.json")
	if err != nil {
		t.Fatal(err)
	}
	var v vectors
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	if len(v.Colours) == 0 || len(v.Curve) == 0 || len(v.Differences) == 0 || len(v.Shown) == 0 {
		t.Fatal("vectors are missing")
	}
	t.Logf("random parts from seed %d", v.Seed)
	return v
}

func TestVectorsOfColours(t *testing.T) {
	spaces := map[string]Space{"sRGB": SRGB, "Display P3": DisplayP3}
	for _, c := range readVectors(t).Colours {
		what, space := fmt.Sprint(c.Space, c.RGB), spaces[c.Space]
		light := RGB{Decoded(c.RGB[0] / 255), Decoded(c.RGB[1] / 255), Decoded(c.RGB[2] / 255)}
		nearThree(t, what+" light", light.three(), c.Linear, 1e-15)
		nearThree(t, what+" XYZ", space.XYZ(light).three(), c.XYZ, 1e-15)
		nearThree(t, what+" Lab of D65", LabOf(space.XYZ(light), D65).three(), c.LabD65, 1e-12)
		nearThree(t, what+" Lab", space.Lab(light).three(), c.Lab, 1e-12)
		nearThree(t, what+" back", space.OfLab(c.Lab.lab()).three(), c.Linear, 1e-14)
	}
}

func TestVectorsOfTheCurve(t *testing.T) {
	for _, pair := range readVectors(t).Curve {
		value, light := pair[0], pair[1]
		near(t, fmt.Sprintf("light of %g", value), Decoded(value), light, 1e-15)
		near(t, fmt.Sprintf("value of %g", light), Encoded(light), value, 1e-15)
	}
}

func TestVectorsOfDifferences(t *testing.T) {
	for _, c := range readVectors(t).Differences {
		got, within := Between(c.From.lab(), c.To.lab()), 1e-12*c.Want[0]
		for i, part := range []float64{got.Total, got.Lightness, got.Chroma, got.Hue} {
			name := []string{"total", "lightness", "chroma", "hue"}[i]
			near(t, fmt.Sprintf("%s: %s from %v to %v", c.Kind, name, c.From, c.To), part, c.Want[i], within)
		}
		near(t, fmt.Sprintf("%s: rotation from %v to %v", c.Kind, c.From, c.To), got.Rotation, c.Want[4], 1e-12)
	}
}

func TestVectorsOfWhatIsShown(t *testing.T) {
	for _, c := range readVectors(t).Shown {
		want := Shown{R: c.RGB[0], G: c.RGB[1], B: c.RGB[2], Mapped: c.Mapped}
		if got := Show(c.Lab.lab()); got != want {
			t.Errorf("%v is shown as %v, want %v", c.Lab, got, want)
		}
	}
}
