package colour

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func anyLab(t *rapid.T, name string) Lab {
	channel := rapid.OneOf(rapid.Float64Range(-120, 120), rapid.SampledFrom([]float64{0, 1, -1, 1e-9}))
	return Lab{
		L: rapid.Float64Range(0, 100).Draw(t, name+" L"),
		A: channel.Draw(t, name+" a"), B: channel.Draw(t, name+" b"),
	}
}

func TestTheOtherWayRoundThePartsChangeSign(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		one, two := anyLab(t, "one"), anyLab(t, "two")
		there, back := Between(one, two), Between(two, one)
		for _, pair := range [][2]float64{
			{there.Total, back.Total}, {there.Lightness, -back.Lightness}, {there.Chroma, -back.Chroma},
			{there.Hue, -back.Hue}, {there.Rotation, back.Rotation},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-11*math.Max(1, there.Total) {
				t.Fatalf("there %+v, back %+v", there, back)
			}
		}
	})
}

func TestOppositeHuesDifferTheSameEitherWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		one := anyLab(t, "one")
		two := Lab{L: one.L, A: -one.A, B: -one.B}
		if there, back := Between(one, two).Total, Between(two, one).Total; math.Abs(there-back) > 1e-12*there {
			t.Fatalf("%v to its opposite %.15g, back %.15g", one, there, back)
		}
	})
}

func TestTheTotalIsMadeOfItsParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Between(anyLab(t, "one"), anyLab(t, "two"))
		square := d.Lightness*d.Lightness + d.Chroma*d.Chroma + d.Hue*d.Hue + d.Rotation*d.Chroma*d.Hue
		if math.Abs(d.Total*d.Total-square) > 1e-11*math.Max(1, square) {
			t.Fatalf("%+v", d)
		}
	})
}

func TestWhichWayThePartsPoint(t *testing.T) {
	base := Lab{L: 60, A: 40, B: 10}
	cases := map[string]struct {
		to   Lab
		part func(Difference) float64
	}{
		"lighter":        {Lab{L: 61, A: 40, B: 10}, func(d Difference) float64 { return d.Lightness }},
		"stronger":       {Lab{L: 60, A: 44, B: 11}, func(d Difference) float64 { return d.Chroma }},
		"towards yellow": {Lab{L: 60, A: 39.7, B: 11.2}, func(d Difference) float64 { return d.Hue }},
	}
	for name, c := range cases {
		d := Between(base, c.to)
		if part := c.part(d); !(part > 0) || part < 0.95*d.Total {
			t.Errorf("%s: %+v", name, d)
		}
	}
}

func TestColoursComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyLab(t, "colour")
		for name, space := range map[string]Space{"sRGB": SRGB, "Display P3": DisplayP3} {
			back := space.Lab(space.OfLab(c))
			if math.Hypot(back.L-c.L, math.Hypot(back.A-c.A, back.B-c.B)) > 1e-10 {
				t.Fatalf("%s: %v came back as %v", name, c, back)
			}
		}
	})
}

func TestWhatAScreenCanShowIsShownAsItIs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, g, b := rapid.Byte().Draw(t, "r"), rapid.Byte().Draw(t, "g"), rapid.Byte().Draw(t, "b")
		light := func(v uint8) float64 { return Decoded(float64(v) / 255) }
		got := Show(SRGB.Lab(RGB{light(r), light(g), light(b)}))
		if want := (Shown{R: r, G: g, B: b}); got != want {
			t.Fatalf("%v is shown as %v", want, got)
		}
	})
}
