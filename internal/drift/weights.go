package drift

import (
	"fmt"
	"math"
)

// freeVariance is that of a plant-season whose shift nothing holds; it is taken off again where that shift is
// what is asked.
const freeVariance = 900

// weighed is what one plant's readings say at one point of the covariances.
type weighed struct {
	turned [componentCount]square // the components as the plant's own axes turn them

	w   dense  // by readings: the weights, the inverse covariance less what the plant's own level takes
	wb  dense  // by readings: the inverse covariance times the level, 3 columns
	bwb square // the precision of the level
	wz  dense  // by readings and columns: weights times the effects' design
	y   []float64
	wy  []float64

	logDet, quadratic float64 // of the covariance and of the level's precision; y'Wy
}

// workspace is the room in which one plant at a time is worked out.
type workspace struct {
	*weighed
	room   weighed  // of plants that are not kept
	slopes []square // the turned components' derivatives by parameter

	s    dense // by columns: the plant's part of the normal equations
	part []float64

	cov  dense // by columns: the effects' covariance, of those that touch the plant
	half dense
	p    dense     // by readings: the weights when the effects are not known either
	r    []float64 // p times y

	q, wq, qwq, zwq dense
	growingBend     vector // by the numbers that grow with chroma: each plant's slope times twice its vivid

	groups  groups
	scatter scatter // of the plant whose shifts were worked out last
	shift   dense
}

func zeroed(v *[]float64, n int) []float64 {
	if cap(*v) < n {
		*v = make([]float64, n)
	}
	*v = (*v)[:n]
	clear(*v)
	return *v
}

// weigh works out what one plant's readings say of the effects: with the plant's own level unknown and no
// prior on it, its readings weigh W = V^-1 - V^-1 B (B'V^-1 B)^-1 B'V^-1, where V is their covariance and B
// gives each reading the level.
func (w *workspace) weigh(b *block, s *spreads, into *weighed) (err error) {
	w.weighed = into
	for c := range componentCount {
		w.turned[c] = b.frame.spread(s, c)
	}
	n := len(b.readings)
	w.w.shape(3*n, 3*n)
	for i, o := range b.readings {
		for j, other := range b.readings[:i+1] {
			v := w.together(b, o, other, i == j)
			w.w.block(i, j, v)
			if i != j {
				w.w.block(j, i, v)
			}
		}
	}
	if w.logDet, err = w.w.invert(); err != nil {
		return fmt.Errorf("weigh plant %s: %w", b.plant, err)
	}
	w.logDet += w.takeLevel(n)
	w.touchEffects(b)
	return nil
}

// recall has the workspace hold what a plant says at a solution.
func (w *workspace) recall(b *block, s *solution) error {
	if kept := s.kept[b]; kept != nil {
		w.weighed = kept
		return nil
	}
	return w.weigh(b, s.spreads, &w.room)
}

// together is the covariance of two readings of a plant.
func (w *workspace) together(b *block, o, other observation, same bool) square {
	var v square
	if o.season == other.season {
		v = v.plus(w.turned[atWobble])
		if b.free[o.season] {
			v = v.plus(identity.scale(freeVariance))
		}
	}
	if o.day == other.day {
		v = v.plus(w.turned[atPlantDay])
	}
	if o.condition == other.condition {
		v = v.plus(w.turned[atApparatus])
	}
	if same {
		v = v.plus(w.turned[atHead]).plus(diagonal(o.variance))
		if !o.firm {
			v = v.plus(w.turned[atUnfit])
		}
	}
	return v
}

// takeLevel takes off what the plant's own level explains.
func (w *workspace) takeLevel(n int) (logDet float64) {
	w.wb.shape(3*n, 3)
	w.bwb = square{}
	for i := range n {
		var sum square
		for j := range n {
			sum = sum.plus(w.w.at(i, j))
		}
		w.wb.block(i, 0, sum)
		w.bwb = w.bwb.plus(sum)
	}
	inverse := w.bwb.inverse()
	for i := range n {
		left := w.wb.at(i, 0).times(inverse)
		for j := range n {
			w.w.block(i, j, left.times(w.wb.at(j, 0).transposed()).scale(-1))
		}
	}
	return math.Log(w.bwb.determinant())
}

// touchEffects works out what the readings weigh, and the effects' design.
func (w *workspace) touchEffects(b *block) {
	n, k := len(b.readings), len(b.columns)
	y := zeroed(&w.y, 3*n)
	for i, o := range b.readings {
		copy(y[3*i:], o.y[:])
	}
	w.quadratic = 0
	wy := zeroed(&w.wy, 3*n)
	for i := range wy {
		for j, v := range w.w.row(i) {
			wy[i] += v * y[j]
		}
		w.quadratic += wy[i] * y[i]
	}
	w.wz.shape(3*n, k)
	for i := range 3 * n {
		from, to := w.w.row(i), w.wz.row(i)
		for j, o := range b.readings {
			f := ways{from[3*j], from[3*j+1], from[3*j+2]}
			for d := 3; d < directions; d++ {
				f[d] = f[1]*b.directions[1][d] + f[2]*b.directions[2][d]
			}
			for _, t := range o.touches {
				for c, d := range t.along {
					to[t.at+c] += f[d]
				}
			}
		}
	}
}

// normalEquations works out the plant's part of those of the effects.
func (w *workspace) normalEquations(b *block) {
	k := len(b.columns)
	w.s.shape(k, k)
	part := zeroed(&w.part, k)
	for i, o := range b.readings {
		for axis := range 3 {
			row := w.wz.row(3*i + axis)
			for _, t := range o.touches {
				for c, d := range t.along {
					f := b.directions[axis][d]
					if f == 0 {
						continue
					}
					part[t.at+c] += f * w.wy[3*i+axis]
					to := w.s.row(t.at + c)
					for j, v := range row {
						to[j] += f * v
					}
				}
			}
		}
	}
}

// unknownEffects works out the weights when the effects are not known either, P = W - WZ C Z'W with their
// covariance C, and P y. It stands on weigh.
func (w *workspace) unknownEffects(b *block, s *solution) {
	k := len(b.columns)
	w.cov.shape(k, k)
	for i, from := range b.columns {
		row := s.covariance.row(from)
		to := w.cov.row(i)
		for j, column := range b.columns {
			to[j] = row[column]
		}
	}
	w.half.multiply(&w.wz, false, &w.cov)
	w.p.shape(w.w.rows, w.w.cols)
	copy(w.p.v, w.w.v)
	subtractProduct(&w.p, &w.half, &w.wz)
	w.r = append(w.r[:0], w.wy...)
	for i := range w.r {
		for j, v := range w.wz.row(i) {
			w.r[i] -= v * s.effects[b.columns[j]]
		}
	}
}
