package colour

import (
	"math/big"
	"testing"
)

// The matrices in fractions from the chromaticities that the comments name. The fractions of the first
// rows are those of the sample code of W3C's CSS Color Module Level 4.
func TestTheMatricesFollowFromTheirPrimaries(t *testing.T) {
	blue := white("0.15", "0.06")
	d65, d50 := white("0.3127", "0.3290"), white("0.3457", "0.3585")
	srgb := columns(white("0.64", "0.33"), white("0.30", "0.60"), blue).scaledTo(d65)
	p3 := columns(white("0.680", "0.320"), white("0.265", "0.690"), blue).scaledTo(d65)
	bradford := fractions{
		{rat("0.8951"), rat("0.2664"), rat("-0.1614")},
		{rat("-0.7502"), rat("1.7135"), rat("0.0367")},
		{rat("0.0389"), rat("-0.0685"), rat("1.0296")},
	}
	from, to := bradford.times(d65), bradford.times(d50)
	var scale fractions
	for i := range scale {
		scale[i] = [3]*big.Rat{rat("0"), rat("0"), rat("0")}
		scale[i][i] = new(big.Rat).Quo(to[i], from[i])
	}
	adapted := bradford.inverse().by(scale.by(bradford))

	for name, c := range map[string]struct {
		stated Matrix
		want   fractions
	}{
		"sRGB": {SRGB.toXYZ, srgb}, "sRGB back": {SRGB.fromXYZ, srgb.inverse()},
		"Display P3": {DisplayP3.toXYZ, p3}, "Display P3 back": {DisplayP3.fromXYZ, p3.inverse()},
		"D65 to D50": {d65ToD50, adapted}, "D50 to D65": {d50ToD65, adapted.inverse()},
		"whites": {Matrix{three(D65.three()), three(D50.three())}, fractions{d65, d50, {rat("0"), rat("0"), rat("0")}}},
	} {
		for i, row := range c.want {
			for j, v := range row {
				if want, _ := v.Float64(); c.stated[i][j] != want {
					t.Errorf("%s %d,%d is %v, want %v", name, i, j, c.stated[i][j], want)
				}
			}
		}
	}
	for i, want := range []string{"506752/1228815", "87881/245763", "12673/70218"} {
		if srgb[0][i].Cmp(rat(want)) != 0 {
			t.Errorf("sRGB's X of primary %d is %v, want %s", i, srgb[0][i], want)
		}
	}
	for i, want := range []string{"608311/1250200", "189793/714400", "198249/1000160"} {
		if p3[0][i].Cmp(rat(want)) != 0 {
			t.Errorf("Display P3's X of primary %d is %v, want %s", i, p3[0][i], want)
		}
	}
}

type fractions [3][3]*big.Rat

func rat(s string) *big.Rat {
	r, _ := new(big.Rat).SetString(s)
	return r
}

// white is the XYZ of a chromaticity, Y being 1.
func white(x, y string) [3]*big.Rat {
	z := new(big.Rat).Sub(rat("1"), new(big.Rat).Add(rat(x), rat(y)))
	return [3]*big.Rat{new(big.Rat).Quo(rat(x), rat(y)), rat("1"), z.Quo(z, rat(y))}
}

func columns(a, b, c [3]*big.Rat) fractions {
	var m fractions
	for i := range m {
		m[i] = [3]*big.Rat{a[i], b[i], c[i]}
	}
	return m
}

// scaledTo scales each column so that together they are the sum.
func (m fractions) scaledTo(sum [3]*big.Rat) fractions {
	by := m.inverse().times(sum)
	var out fractions
	for i := range m {
		for j := range m {
			out[i][j] = new(big.Rat).Mul(m[i][j], by[j])
		}
	}
	return out
}

func (m fractions) times(v [3]*big.Rat) [3]*big.Rat {
	var out [3]*big.Rat
	for i, row := range m {
		out[i] = new(big.Rat)
		for j, x := range row {
			out[i].Add(out[i], new(big.Rat).Mul(x, v[j]))
		}
	}
	return out
}

func (m fractions) by(n fractions) fractions {
	var out fractions
	for j := range 3 {
		column := m.times([3]*big.Rat{n[0][j], n[1][j], n[2][j]})
		for i := range 3 {
			out[i][j] = column[i]
		}
	}
	return out
}

// inverse is by cofactors.
func (m fractions) inverse() fractions {
	cofactor := func(i, j int) *big.Rat {
		a, b, c, d := m[(i+1)%3][(j+1)%3], m[(i+2)%3][(j+2)%3], m[(i+1)%3][(j+2)%3], m[(i+2)%3][(j+1)%3]
		return new(big.Rat).Sub(new(big.Rat).Mul(a, b), new(big.Rat).Mul(c, d))
	}
	whole := new(big.Rat)
	for j := range 3 {
		whole.Add(whole, new(big.Rat).Mul(m[0][j], cofactor(0, j)))
	}
	var out fractions
	for i := range 3 {
		for j := range 3 {
			out[i][j] = new(big.Rat).Quo(cofactor(j, i), whole)
		}
	}
	return out
}
