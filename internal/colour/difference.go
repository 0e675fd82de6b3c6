package colour

import "math"

// Difference is CIEDE2000 from one colour to another, kL = kC = kH = 1, in parts that say in which way
// they differ:
//
//	Total^2 = Lightness^2 + Chroma^2 + Hue^2 + Rotation * Chroma * Hue
//
// Source: Sharma, Wu and Dalal 2005, Color Research & Application 30:21-30, whose equation (22) this is.
type Difference struct {
	Total     float64
	Lightness float64 // above 0 where the second is lighter
	Chroma    float64 // above 0 where the second is stronger
	Hue       float64 // above 0 where the second lies further round from red to yellow
	Rotation  float64 // R_T, which is 0 but in the blues
}

// Between is the difference from one colour to another, of finite values. The other way round, parts
// have the other sign and the total is the same.
func Between(from, to Lab) Difference {
	p := pairOf(from, to)
	return p.difference(p.hues())
}

// hueSlack, in degrees, is how near hues must come to where the formula jumps to count as there, since
// in binary they miss it by the last digits: hues that are exactly opposite are no more than 180 apart
// (pairs 10 and 14 of the paper), and those whose middle is exactly 360 have it at 0.
const hueSlack = 1e-9

// pair is two colours in the paper's L', a', b' with what their hues do not matter to. The steps from
// one to the other are kept beside them, since they would lose digits where colours are close.
type pair struct {
	a1, b1, a2, b2          float64 // a' and b
	c1, c2                  float64 // C'
	lightStep, aStep, bStep float64
	meanL, meanC            float64
}

func pairOf(from, to Lab) pair {
	stretch := 1.5 - 0.5*seventh((from.Chroma()+to.Chroma())/2)
	p := pair{
		a1: stretch * from.A, b1: from.B, a2: stretch * to.A, b2: to.B,
		lightStep: to.L - from.L, aStep: stretch * (to.A - from.A), bStep: to.B - from.B,
		meanL: (from.L + to.L) / 2,
	}
	p.c1, p.c2 = math.Hypot(p.a1, p.b1), math.Hypot(p.a2, p.b2)
	p.meanC = (p.c1 + p.c2) / 2
	return p
}

// seventh is sqrt(c^7 / (c^7 + 25^7)), in a form that no c is too large or too small for.
func seventh(c float64) float64 { return 1 / math.Sqrt(1+math.Pow(25/c, 7)) }

// hues are the paper's h' in degrees, the second brought within half a turn of the first, so that
// their difference and their middle are the paper's. Grey has no hue and takes the other's.
func (p *pair) hues() (h1, h2 float64) {
	h1, h2 = hue(p.a1, p.b1), hue(p.a2, p.b2)
	switch {
	case p.c1 == 0:
		return h2, h2
	case p.c2 == 0:
		return h1, h1
	case h2-h1 > 180+hueSlack:
		return h1, h2 - 360
	case h1-h2 > 180+hueSlack:
		return h1, h2 + 360
	}
	return h1, h2
}

// hue is from 0 to 360 degrees.
func hue(a, b float64) float64 {
	h := degrees(math.Atan2(b, a))
	if h < 0 {
		h += 360
	}
	return h
}

// middle is from 0 to 360 degrees too: the rotation jumps a little from the one to the other.
func middle(h1, h2 float64) float64 {
	mean := (h1 + h2) / 2
	switch {
	case mean < -hueSlack:
		return mean + 360
	case mean >= 360-hueSlack:
		return mean - 360
	}
	return mean
}

func (p *pair) difference(h1, h2 float64) Difference {
	mean := middle(h1, h2)
	t := 1 - 0.17*cosine(mean-30) + 0.24*cosine(2*mean) + 0.32*cosine(3*mean+6) - 0.20*cosine(4*mean-63)
	off := (p.meanL - 50) * (p.meanL - 50)
	around := (mean - 275) / 25
	d := Difference{
		Lightness: p.lightStep / (1 + 0.015*off/math.Sqrt(20+off)),
		Chroma:    p.chromaStep() / (1 + 0.045*p.meanC),
		Hue:       p.hueStep(h2-h1) / (1 + 0.015*p.meanC*t),
		Rotation:  -2 * seventh(p.meanC) * math.Sin(radians(60*math.Exp(-around*around))),
	}
	square := d.Lightness*d.Lightness + d.Chroma*d.Chroma + d.Hue*d.Hue + d.Rotation*d.Chroma*d.Hue
	// Rotation is within 2 of 0, so only rounding brings this below 0.
	d.Total = math.Sqrt(math.Max(0, square))
	return d
}

// chromaStep is C2' - C1', from steps and not from the two.
func (p *pair) chromaStep() float64 {
	if p.meanC == 0 {
		return 0
	}
	return (p.aStep*(p.a1+p.a2) + p.bStep*(p.b1+p.b2)) / (2 * p.meanC)
}

// hueStep is the paper's dH', of which the angle between the two colours gives more digits than the
// difference of their hues; that difference still says which way round the angle goes.
func (p *pair) hueStep(turn float64) float64 {
	// Either colour will do; the smaller is more exact where it is far smaller.
	a, b := p.a1, p.b1
	if p.c2 < p.c1 {
		a, b = p.a2, p.b2
	}
	angle := degrees(math.Atan2(a*p.bStep-b*p.aStep, p.a1*p.a2+p.b1*p.b2))
	return 2 * math.Sqrt(p.c1*p.c2) * math.Sin(radians(inTurn(angle, turn)/2))
}

// inTurn is the same angle, as near to another as whole turns bring it.
func inTurn(angle, other float64) float64 { return angle + 360*math.Round((other-angle)/360) }

func degrees(rad float64) float64 { return rad * (180 / math.Pi) }
func radians(deg float64) float64 { return deg * (math.Pi / 180) }
func cosine(deg float64) float64  { return math.Cos(radians(deg)) }
