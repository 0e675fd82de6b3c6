package crop

import "testing"

// mm turns centimetres into millimetres, cutting off what is less than one.
func mm(cm float64) Millimetres { return Millimetres(cm * 10) }

func TestStandardH1HasTheCodesOfTheStandard(t *testing.T) {
	// UNECE Standard H-1; the same table stood in Council Regulation (EEC) 316/68, of which a
	// reproduction was seen. Code 120 is from memory.
	codes := []int{0, 5, 10, 15, 20, 30, 40, 50, 60, 80, 100, 120}
	if len(StandardH1) != len(codes) {
		t.Fatalf("the profile has %d classes, want %d", len(StandardH1), len(codes))
	}
	for i, code := range codes {
		class, hi := StandardH1[i], OpenEnd
		if i+1 < len(codes) {
			hi = Millimetres(codes[i+1] * 10)
		}
		if class.Lo != Millimetres(code*10) || class.Hi != hi || !class.Told() {
			t.Errorf("code %d is %v, want up to %d mm", code, class, hi)
		}
	}
}

func TestLengthsFallIntoTheCodesOfStandardH1(t *testing.T) {
	const inch = 2.54 // cm, exact by definition (international yard and pound agreement, 1959)
	cases := []struct {
		name   string
		length Millimetres
		code   Millimetres // in cm
	}{
		// Stem lengths printed in inches in published cut-flower trials; cm and code by arithmetic.
		{"Echinacea, 21 in = 53.34 cm", mm(21 * inch), 50},
		{"yarrow, 14 in = 35.56 cm", mm(14 * inch), 30},
		{"Eupatorium, 39 in = 99.06 cm", mm(39 * inch), 80},
		{"one inch more, 40 in = 101.6 cm", mm(40 * inch), 100},
		// That a length on a boundary belongs to the code that starts there is from memory.
		{"on a boundary", mm(60), 60},
		{"a millimetre below it", mm(60) - 1, 50},
		{"on the last boundary", mm(120), 120},
		{"a millimetre below the last", mm(120) - 1, 100},
		{"the shortest", 0, 0},
		{"under 5 cm", 49, 0},
		{"3 m", mm(300), 120},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			class, err := StandardH1.ClassOf(c.length)
			if err != nil || class.Lo != c.code*10 {
				t.Errorf("%d mm is in %v (%v), want code %d", c.length, class, err, c.code)
			}
		})
	}
}

func TestALengthOutsideAProfileIsAnError(t *testing.T) {
	for _, l := range []Millimetres{-1, OpenEnd} {
		if class, err := StandardH1.ClassOf(l); err == nil {
			t.Errorf("%d mm is in %v", l, class)
		}
	}
}

func TestTenCentimetreClassesMeetWithoutOverlap(t *testing.T) {
	if got := (LengthClass{Lo: 500, Hi: 600}); TenCentimetres(50) != got {
		t.Errorf("class 50 is %v", TenCentimetres(50))
	}
	if TenCentimetres(50).Hi != TenCentimetres(60).Lo {
		t.Error("classes 50 and 60 do not meet")
	}
	if (LengthClass{}).Told() || !TenCentimetres(0).Told() {
		t.Error("the zero class must be untold, and [0, 10) told")
	}
}
