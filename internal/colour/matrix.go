package colour

// Matrix is three rows of three: of a change of primaries, of slopes, or a covariance of L, a and b.
type Matrix [3][3]float64

func (m *Matrix) times(x, y, z float64) (float64, float64, float64) {
	return m[0][0]*x + m[0][1]*y + m[0][2]*z,
		m[1][0]*x + m[1][1]*y + m[1][2]*z,
		m[2][0]*x + m[2][1]*y + m[2][2]*z
}

// carry is m cov m'.
func (m Matrix) carry(cov Matrix) Matrix {
	var out Matrix
	for i := range m {
		for j := range m {
			for k := range m {
				for l := range m {
					out[i][j] += m[i][k] * cov[k][l] * m[j][l]
				}
			}
		}
	}
	return out
}
