package stats

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// negBinSurface is the log-likelihood of a NegBin plus its log prior. Its parameters are the
// coefficients and then the log sizes.
type negBinSurface struct {
	model           NegBin
	group           []int
	groups, columns int
	priors          []Normal
	tallies         []Tally
}

// at sums over rows, with r = size, q = mu/r and a = log r,
//
//	l = sum over k<y of log(1+k/r) - log y! + y eta - (y+r) log(1+q)
//
// which is Lawless's (1987) log-likelihood written so that it stays exact as r grows (Poisson). The
// sum over k hangs on the counts alone and comes from the tallies. Differentiated by hand:
//
//	l_eta     = r (y-mu)/(r+mu)        l_eta,eta = -r mu (y+r)/(r+mu)^2
//	l_a       = -r log(1+q) + (y+r) mu/(r+mu)
//	l_a,a     = -r log(1+q) + 2 r mu/(r+mu) - (y+r) r mu/(r+mu)^2
//	l_eta,a   = r mu (y-mu)/(r+mu)^2
func (s *negBinSurface) at(x, grad []float64, hess *mat.SymDense) float64 {
	hess.Zero()
	value := 0.0
	for j, p := range s.priors {
		value += p.logDensity(x[j])
		grad[j] = p.slope(x[j])
		hess.SetSym(j, j, -1/(p.SD*p.SD))
	}
	for g, t := range s.tallies {
		a := s.columns + g
		v, d, dd := t.sizeTerm(math.Exp(x[a]))
		value += v
		grad[a] += d
		hess.SetSym(a, a, hess.At(a, a)+dd)
	}
	for i, y := range s.model.Counts {
		value += s.addRow(i, float64(y), x, grad, hess)
	}
	return value
}

func (s *negBinSurface) addRow(i int, y float64, x, grad []float64, hess *mat.SymDense) float64 {
	row := s.model.X[i]
	a := s.columns + s.group[i]
	eta := dot(row, x)
	if s.model.Offset != nil {
		eta += s.model.Offset[i]
	}
	r, mu := math.Exp(x[a]), math.Exp(eta)
	whole := r + mu
	rlog := r * math.Log1p(mu/r)
	bend := r * mu / (whole * whole)
	slope := r * (y - mu) / whole
	for j, v := range row {
		grad[j] += slope * v
		for k := j; k < len(row); k++ {
			hess.SetSym(j, k, hess.At(j, k)-bend*(y+r)*v*row[k])
		}
		hess.SetSym(j, a, hess.At(j, a)+bend*(y-mu)*v)
	}
	grad[a] += (y+r)*mu/whole - rlog
	hess.SetSym(a, a, hess.At(a, a)+2*r*mu/whole-rlog-(y+r)*bend)
	return y*eta - (1+y/r)*rlog
}

func (s *negBinSurface) prior(x []float64) float64 {
	sum := 0.0
	for j, p := range s.priors {
		sum += p.logDensity(x[j])
	}
	return sum
}

func (s *negBinSurface) scales() []float64 {
	scale := columnScales(s.model.X, s.columns)
	for range s.groups {
		scale = append(scale, 1)
	}
	return scale
}

// start regresses log(y + 1/2) on the covariates by least squares, barely ridged so that columns
// which say the same do no harm, and takes every size as 1.
func (s *negBinSurface) start() []float64 {
	x := make([]float64, s.columns+s.groups)
	if s.columns == 0 {
		return x
	}
	gram := mat.NewSymDense(s.columns, nil)
	right := mat.NewVecDense(s.columns, nil)
	for j := range s.columns {
		gram.SetSym(j, j, 1e-6)
	}
	for i, row := range s.model.X {
		z := math.Log(float64(s.model.Counts[i]) + 0.5)
		if s.model.Offset != nil {
			z -= s.model.Offset[i]
		}
		v := mat.NewVecDense(s.columns, row)
		gram.SymRankOne(gram, 1, v)
		right.AddScaledVec(right, z, v)
	}
	var chol mat.Cholesky
	if chol.Factorize(gram) {
		_ = chol.SolveVecTo(mat.NewVecDense(s.columns, x[:s.columns]), right)
	}
	return x
}

// columnScales is the largest absolute value of each column, 1 where the column is all zero.
func columnScales(x [][]float64, columns int) []float64 {
	scale := make([]float64, columns)
	for _, row := range x {
		for j, v := range row {
			scale[j] = max(scale[j], math.Abs(v))
		}
	}
	for j, v := range scale {
		if v == 0 {
			scale[j] = 1
		}
	}
	return scale
}
