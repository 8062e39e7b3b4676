package mount

import "math"

// vec6 is a residual or a column of the Jacobian: three lengths, three turns.
type vec6 [6]float64

// mat6 is a symmetric 6×6 matrix of which only the lower triangle is used.
type mat6 [6][6]float64

func (v *vec6) dot(w *vec6) float64 {
	return v[0]*w[0] + v[1]*w[1] + v[2]*w[2] + v[3]*w[3] + v[4]*w[4] + v[5]*w[5]
}

// addScaled adds a w to v.
func (v *vec6) addScaled(a float64, w *vec6) {
	for i := range v {
		v[i] += a * w[i]
	}
}

// addOuter adds a w wᵀ to m.
func (m *mat6) addOuter(a float64, w *vec6) {
	for i := range 6 {
		aw := a * w[i]
		for j := 0; j <= i; j++ {
			m[i][j] += aw * w[j]
		}
	}
}

// addDiagonal adds a to every diagonal entry.
func (m *mat6) addDiagonal(a float64) {
	for i := range m {
		m[i][i] += a
	}
}

// solve overwrites b with the solution of m y = b and m with its Cholesky factor.
// It returns false, with b useless, if m is not positive definite.
func (m *mat6) solve(b *vec6) bool {
	var inv vec6
	for i := range 6 {
		for j := range i {
			sum := m[i][j]
			for k := range j {
				sum -= m[i][k] * m[j][k]
			}
			m[i][j] = sum * inv[j]
		}
		sum := m[i][i]
		for k := range i {
			sum -= m[i][k] * m[i][k]
		}
		if !(sum > 0) {
			return false
		}
		inv[i] = 1 / math.Sqrt(sum)
		y := b[i]
		for k := range i {
			y -= m[i][k] * b[k]
		}
		b[i] = y * inv[i]
	}
	for i := 5; i >= 0; i-- {
		y := b[i]
		for k := i + 1; k < 6; k++ {
			y -= m[k][i] * b[k]
		}
		b[i] = y * inv[i]
	}
	return true
}
