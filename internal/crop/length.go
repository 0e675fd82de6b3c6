package crop

import "fmt"

// Millimetres is a length in whole millimetres.
type Millimetres int

// LengthUnit is how a farm wants lengths shown; they are always kept in millimetres.
type LengthUnit string

// The two units of display.
const (
	Centimetres LengthUnit = "cm"
	Inches      LengthUnit = "in"
)

// LengthClass holds stems of at least Lo and less than Hi. The zero LengthClass means untold;
// OpenEnd as Hi means no upper bound.
type LengthClass struct {
	Lo, Hi Millimetres
}

// OpenEnd stands for "and longer". It is a number, so that a class stays two integers everywhere.
const OpenEnd Millimetres = 1_000_000

// Told tells whether a length was recorded.
func (c LengthClass) Told() bool { return c.Hi > 0 }

// TenCentimetres is the class [cm, cm+10) of the default profile.
func TenCentimetres(cm int) LengthClass {
	return LengthClass{Lo: Millimetres(cm * 10), Hi: Millimetres(cm*10 + 100)}
}

// LengthProfile is a list of classes that do not overlap, from the shortest on.
type LengthProfile []LengthClass

// StandardH1 holds the length codes of UNECE Standard H-1 for fresh cut flowers, each code its
// lower bound in centimetres: 0 5 10 15 20 30 40 50 60 80 100 120.
var StandardH1 = profileFromBounds(0, 50, 100, 150, 200, 300, 400, 500, 600, 800, 1000, 1200)

func profileFromBounds(lower ...Millimetres) LengthProfile {
	p := make(LengthProfile, len(lower))
	for i, lo := range lower {
		hi := OpenEnd
		if i+1 < len(lower) {
			hi = lower[i+1]
		}
		p[i] = LengthClass{Lo: lo, Hi: hi}
	}
	return p
}

// ClassOf finds the class of a stem; a length on a boundary belongs to the class that starts there.
func (p LengthProfile) ClassOf(l Millimetres) (LengthClass, error) {
	for _, c := range p {
		if c.Lo <= l && l < c.Hi {
			return c, nil
		}
	}
	return LengthClass{}, fmt.Errorf("no length class of this profile holds %d mm", l)
}
