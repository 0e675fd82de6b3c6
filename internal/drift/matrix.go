package drift

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// vector is three numbers along L*, a*, b* or along lightness, chroma and hue.
type vector [3]float64

func (v vector) plus(o vector) vector { return vector{v[0] + o[0], v[1] + o[1], v[2] + o[2]} }
func (v vector) minus(o vector) vector {
	return vector{v[0] - o[0], v[1] - o[1], v[2] - o[2]}
}
func (v vector) times(f float64) vector { return vector{v[0] * f, v[1] * f, v[2] * f} }
func (v vector) dot(o vector) float64   { return v[0]*o[0] + v[1]*o[1] + v[2]*o[2] }

// square is a 3 by 3 matrix, mostly a covariance.
type square [3][3]float64

var identity = square{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}

func diagonal(v vector) square { return square{{v[0], 0, 0}, {0, v[1], 0}, {0, 0, v[2]}} }

func outer(v, o vector) square {
	return square{o.times(v[0]), o.times(v[1]), o.times(v[2])}
}

func (s square) plus(o square) square {
	for i := range s {
		for j := range s[i] {
			s[i][j] += o[i][j]
		}
	}
	return s
}

func (s square) scale(f float64) square {
	for i := range s {
		for j := range s[i] {
			s[i][j] *= f
		}
	}
	return s
}

func (s square) times(o square) square {
	var p square
	for i := range s {
		for j := range s {
			p[i][j] = s[i][0]*o[0][j] + s[i][1]*o[1][j] + s[i][2]*o[2][j]
		}
	}
	return p
}

func (s square) of(v vector) vector {
	return vector{vector(s[0]).dot(v), vector(s[1]).dot(v), vector(s[2]).dot(v)}
}

func (s square) transposed() square {
	return square{{s[0][0], s[1][0], s[2][0]}, {s[0][1], s[1][1], s[2][1]}, {s[0][2], s[1][2], s[2][2]}}
}

// within is v'Sv.
func (s square) within(v vector) float64 { return v.dot(s.of(v)) }

func (s square) trace() float64 { return s[0][0] + s[1][1] + s[2][2] }

// product is the trace of S O', the sum over all products of elements.
func (s square) product(o square) float64 {
	return vector(s[0]).dot(o[0]) + vector(s[1]).dot(o[1]) + vector(s[2]).dot(o[2])
}

func (s square) determinant() float64 {
	return s[0][0]*(s[1][1]*s[2][2]-s[1][2]*s[2][1]) -
		s[0][1]*(s[1][0]*s[2][2]-s[1][2]*s[2][0]) +
		s[0][2]*(s[1][0]*s[2][1]-s[1][1]*s[2][0])
}

// inverse is of a matrix that is not singular, as covariances here are by their construction.
func (s square) inverse() square {
	d := 1 / s.determinant()
	return square{
		{(s[1][1]*s[2][2] - s[1][2]*s[2][1]) * d, (s[0][2]*s[2][1] - s[0][1]*s[2][2]) * d, (s[0][1]*s[1][2] - s[0][2]*s[1][1]) * d},
		{(s[1][2]*s[2][0] - s[1][0]*s[2][2]) * d, (s[0][0]*s[2][2] - s[0][2]*s[2][0]) * d, (s[0][2]*s[1][0] - s[0][0]*s[1][2]) * d},
		{(s[1][0]*s[2][1] - s[1][1]*s[2][0]) * d, (s[0][1]*s[2][0] - s[0][0]*s[2][1]) * d, (s[0][0]*s[1][1] - s[0][1]*s[1][0]) * d},
	}
}

// dense is a matrix by rows whose room is used again from plant to plant.
type dense struct {
	rows, cols int
	v          []float64
}

// shape makes it rows by cols, all zero.
func (d *dense) shape(rows, cols int) {
	d.rows, d.cols = rows, cols
	if cap(d.v) < rows*cols {
		d.v = make([]float64, rows*cols)
		return
	}
	d.v = d.v[:rows*cols]
	clear(d.v)
}

func (d *dense) row(i int) []float64 { return d.v[i*d.cols : (i+1)*d.cols] }

func (d *dense) general() blas64.General {
	return blas64.General{Rows: d.rows, Cols: d.cols, Stride: max(1, d.cols), Data: d.v}
}

// block adds a 3 by 3 matrix at block row i and block column j.
func (d *dense) block(i, j int, s square) {
	for r := range s {
		row := d.row(3*i + r)[3*j : 3*j+3]
		row[0] += s[r][0]
		row[1] += s[r][1]
		row[2] += s[r][2]
	}
}

// at is the 3 by 3 block in block row i and block column j.
func (d *dense) at(i, j int) square {
	var s square
	for r := range s {
		copy(s[r][:], d.row(3*i + r)[3*j:3*j+3])
	}
	return s
}

// part is the 3 by 3 matrix on the diagonal that begins at a row.
func (d *dense) part(at int) square {
	var s square
	for r := range s {
		copy(s[r][:], d.row(at + r)[at:at+3])
	}
	return s
}

// multiply makes it a*b, or with transposed a'*b.
func (d *dense) multiply(a *dense, transposed bool, b *dense) {
	rows, trans := a.rows, blas.NoTrans
	if transposed {
		rows, trans = a.cols, blas.Trans
	}
	d.shape(rows, b.cols)
	if rows == 0 || b.cols == 0 || b.rows == 0 {
		return
	}
	blas64.Gemm(trans, blas.NoTrans, 1, a.general(), b.general(), 0, d.general())
}

// invert replaces a symmetric positive definite matrix by its inverse and returns the logarithm of its
// determinant.
func (d *dense) invert() (logDet float64, err error) {
	if d.rows == 0 {
		return 0, nil
	}
	s := blas64.Symmetric{N: d.rows, Stride: d.rows, Data: d.v, Uplo: blas.Upper}
	root, ok := lapack64.Potrf(s)
	if !ok {
		return 0, fmt.Errorf("a covariance of %d rows is not positive definite", d.rows)
	}
	for i := range d.rows {
		logDet += 2 * math.Log(d.v[i*d.rows+i])
	}
	if lapack64.Potri(root); math.IsNaN(logDet) {
		return 0, fmt.Errorf("a covariance of %d rows holds what is not a number", d.rows)
	}
	for i := range d.rows {
		for j := range i {
			d.v[i*d.rows+j] = d.v[j*d.rows+i]
		}
	}
	return logDet, nil
}

// subtractProduct takes a*b' off d.
func subtractProduct(d, a, b *dense) {
	if a.cols > 0 {
		blas64.Gemm(blas.NoTrans, blas.Trans, -1, a.general(), b.general(), 1, d.general())
	}
}
