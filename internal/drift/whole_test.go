package drift

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// whole is the same model written down at once, with one covariance of all readings: the slow way, which shares
// nothing with the blocks but what the model is.
type whole struct {
	l       *layout
	s       *spreads
	blocks  []int // by reading
	o       []observation
	design  *mat.Dense // of the effects
	prior   *mat.Dense
	v       *mat.SymDense
	y       *mat.VecDense
	inverse mat.SymDense
}

func wholeOf(t *testing.T, l *layout, s *spreads) *whole {
	t.Helper()
	w := &whole{l: l, s: s}
	for p, b := range l.blocks {
		for _, o := range b.readings {
			w.blocks, w.o = append(w.blocks, p), append(w.o, o)
		}
	}
	n := len(w.o)
	w.design, w.prior = mat.NewDense(3*n, l.columns, nil), mat.NewDense(l.columns, l.columns, nil)
	w.y, w.v = mat.NewVecDense(3*n, nil), mat.NewSymDense(3*n, nil)
	for _, e := range l.list {
		for k := range e.along {
			if e.sd == nil {
				w.prior.Set(e.at+k, e.at+k, s.of[atSession][k][k])
			} else {
				w.prior.Set(e.at+k, e.at+k, e.sd[k]*e.sd[k])
			}
		}
	}
	for i, o := range w.o {
		b := l.blocks[w.blocks[i]]
		for axis := range 3 {
			w.y.SetVec(3*i+axis, o.y[axis]+b.middle[axis])
			for _, touch := range o.touches {
				for c, d := range touch.along {
					w.design.Set(3*i+axis, b.columns[touch.at+c], b.directions[axis][d])
				}
			}
		}
	}
	var zp, common mat.Dense
	zp.Mul(w.design, w.prior)
	common.Mul(&zp, w.design.T())
	for i, o := range w.o {
		for j, other := range w.o {
			own := square{}
			if w.blocks[i] == w.blocks[j] {
				own = w.own(l.blocks[w.blocks[i]], o, other, i == j)
			}
			for a := range 3 {
				for c := range 3 {
					if 3*i+a <= 3*j+c {
						w.v.SetSym(3*i+a, 3*j+c, own[a][c]+common.At(3*i+a, 3*j+c))
					}
				}
			}
		}
	}
	var root mat.Cholesky
	if !root.Factorize(w.v) {
		t.Fatal("the covariance of all readings is not positive definite")
	}
	if err := root.InverseTo(&w.inverse); err != nil {
		t.Fatal(err)
	}
	return w
}

func (w *whole) own(b *block, o, other observation, same bool) square {
	var v square
	if o.season == other.season {
		v = v.plus(w.ofPlant(b, atWobble))
	}
	if o.day == other.day {
		v = v.plus(w.ofPlant(b, atPlantDay))
	}
	if o.condition == other.condition {
		v = v.plus(b.frame.turned(w.s.of[atApparatus]))
	}
	if same {
		v = v.plus(diagonal(o.variance)).plus(w.ofPlant(b, atHead))
	}
	if same && !o.firm {
		v = v.plus(b.frame.turned(w.s.of[atUnfit]))
	}
	return v
}

// ofPlant is a covariance along the plant's own axes, stretched as its chroma says.
func (w *whole) ofPlant(b *block, c int) square {
	by := math.Hypot(b.middle[1], b.middle[2])/20 - 1
	stretch := diagonal(vector{math.Exp(by * w.s.theta[growingAt]), math.Exp(by * w.s.theta[growingAt+1]), math.Exp(by * w.s.theta[growingAt+2])})
	return b.frame.turned(stretch.times(w.s.of[c]).times(stretch))
}

// leastSquares is b of y = X b + e and its covariance.
func (w *whole) leastSquares(t *testing.T, x *mat.Dense) (mat.VecDense, mat.Dense) {
	t.Helper()
	var xv, xvx, cov mat.Dense
	xv.Mul(x.T(), &w.inverse)
	xvx.Mul(&xv, x)
	if err := cov.Inverse(&xvx); err != nil {
		t.Fatal(err)
	}
	var right, b mat.VecDense
	right.MulVec(&xv, w.y)
	b.MulVec(&cov, &right)
	return b, cov
}

// levels gives each plant its own level, and some readings groups beside it.
func (w *whole) levels(groups int, of func(reading int) int) *mat.Dense {
	plants := len(w.l.blocks)
	x := mat.NewDense(3*len(w.o), 3*(plants+groups), nil)
	for i, p := range w.blocks {
		for axis := range 3 {
			x.Set(3*i+axis, 3*p+axis, 1)
			if g := of(i); g >= 0 {
				x.Set(3*i+axis, 3*(plants+g)+axis, 1)
			}
		}
	}
	return x
}

func wholeStand(seed uint64) (*layout, *spreads) {
	m := ordinaryStand(seed)
	m.plants, m.references, m.odd, m.seasons = 5, 2, 0.25, 3
	l := layOut(m.grow().Stand)
	theta := make([]float64, parameterCount)
	for i, p := range priors() {
		theta[i] = p.mean + 0.3*math.Sin(float64(i))
	}
	return l, spreadsAt(theta)
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*(1+math.Abs(want))) {
		t.Errorf("%s = %.10g, want %.10g", what, got, want)
	}
}

func TestShiftsAreLeastSquaresOfTheWholeModel(t *testing.T) {
	l, s := wholeStand(5)
	for _, free := range []bool{false, true} {
		l.blocks[4].free[1] = free
		w := &workspace{}
		sol, err := l.solve(l.blocks, s, w)
		if err != nil {
			t.Fatal(err)
		}
		whole := wholeOf(t, l, s)
		asked := 0
		if err := l.eachShift(l.blocks, sol, true, w, func(b *block, list []shift) {
			if b != l.blocks[4] {
				return
			}
			for _, daily := range []bool{false, true} {
				var g groups
				b.grouped(func(o observation) int { return []int{o.season, o.day}[is(daily)] }, &g)
				first := 0
				for whole.blocks[first] != 4 {
					first++
				}
				x := whole.levels(len(g.firm), func(i int) int {
					if whole.blocks[i] != 4 {
						return -1
					}
					return g.of[i-first]
				})
				by, cov := whole.leastSquares(t, x)
				for k, place := range g.firm {
					if place < 0 {
						continue
					}
					at := 3 * (len(l.blocks) + k)
					var got vector
					var gotCov square
					for _, s := range list {
						if !daily && s.season == place {
							got, gotCov = s.by, s.cov
						}
						for _, d := range s.days {
							if daily && d.date == b.days[place].date {
								got, gotCov = d.by, d.cov
							}
						}
					}
					for axis := range 3 {
						asked++
						near(t, "shift", got[axis], by.AtVec(at+axis), 1e-7)
						for other := range 3 {
							near(t, "covariance", gotCov[axis][other], cov.At(at+axis, at+other), 1e-7)
						}
					}
				}
			}
		}); err != nil {
			t.Fatal(err)
		}
		if asked == 0 {
			t.Fatal("no shift was compared")
		}
	}
}

// A plant's colour is its level, its season's wobble, and the effects that go with both.
func TestColoursAreBestPredictionsOfTheWholeModel(t *testing.T) {
	l, s := wholeStand(6)
	w := &workspace{}
	sol, err := l.solve(l.blocks, s, w)
	if err != nil {
		t.Fatal(err)
	}
	found, err := l.colours(&fitted{solution: sol}, w)
	if err != nil {
		t.Fatal(err)
	}
	whole := wholeOf(t, l, s)
	x := whole.levels(0, func(int) int { return -1 })
	level, levelCov := whole.leastSquares(t, x)
	weights := l.usualWeights()
	for p, b := range l.blocks {
		for season := range b.seasons {
			// k is the covariance of what is asked with the readings, own its prior variance.
			direct := mat.NewDense(3, l.columns, nil)
			for column, weight := range weights {
				for axis := range 3 {
					direct.Set(axis, column+axis, weight)
				}
			}
			if b.stand[season] >= 0 {
				for axis := range 3 {
					for d := range directions {
						direct.Set(axis, b.columns[b.stand[season]+d], b.directions[axis][d])
					}
				}
			}
			var kp, k, own mat.Dense
			kp.Mul(direct, whole.prior)
			k.Mul(&kp, whole.design.T())
			own.Mul(&kp, direct.T())
			wobble := whole.ofPlant(b, atWobble)
			for i, o := range whole.o {
				if whole.blocks[i] != p || o.season != season {
					continue
				}
				for axis := range 3 {
					for other := range 3 {
						k.Set(axis, 3*i+other, k.At(axis, 3*i+other)+wobble[axis][other])
					}
				}
			}
			var kv, kvk, kvx mat.Dense
			kv.Mul(&k, &whole.inverse)
			kvk.Mul(&kv, k.T())
			kvx.Mul(&kv, x)
			var fitted, left, told mat.VecDense
			fitted.MulVec(x, &level)
			left.SubVec(whole.y, &fitted)
			told.MulVec(&kv, &left)
			lever := mat.NewDense(3, 3*len(l.blocks), nil)
			for axis := range 3 {
				lever.Set(axis, 3*p+axis, 1)
			}
			lever.Sub(lever, &kvx)
			var half, whole3 mat.Dense
			half.Mul(lever, &levelCov)
			whole3.Mul(&half, lever.T())
			got := found[b][season]
			for axis := range 3 {
				near(t, "colour", got.at[axis], level.AtVec(3*p+axis)+told.AtVec(axis), 1e-7)
				for other := range 3 {
					want := own.At(axis, other) + wobble[axis][other] - kvk.At(axis, other) + whole3.At(axis, other)
					near(t, "covariance", got.cov[axis][other], want, 1e-6)
				}
			}
		}
	}
}
