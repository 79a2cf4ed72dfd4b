package weather

import "math"

// Correlations of the daily residuals of maximum, minimum and radiation, of the
// same day (lag0) and of a day with the day before (lag1), as given for the
// United States by Richardson & Wright 1984 (richardson-1981).
var (
	lag0 = [3][3]float64{{1, 0.633, 0.186}, {0.633, 1, -0.193}, {0.186, -0.193, 1}}
	lag1 = [3][3]float64{{0.621, 0.445, 0.087}, {0.563, 0.674, -0.100}, {0.015, -0.091, 0.251}}
)

// residualMatrices returns A and B of the process of residuals when every
// correlation with the day before is stretched by the factor k:
//
//	A = M1 M0⁻¹,  B Bᵀ = M0 − A M1ᵀ,  B lower triangular
func residualMatrices(k float64) (a, b [3][3]float64) {
	inv := invert3(lag0)
	var m1, bb [3][3]float64
	for i := range m1 {
		for j := range m1 {
			m1[i][j] = k * lag1[i][j]
		}
	}
	a = multiply3(m1, inv)
	for i := range bb {
		for j := range bb {
			bb[i][j] = lag0[i][j]
			for n := range bb {
				bb[i][j] -= a[i][n] * m1[j][n]
			}
		}
	}
	for i := range b {
		for j := 0; j <= i; j++ {
			x := bb[i][j]
			for n := range j {
				x -= b[i][n] * b[j][n]
			}
			if i == j {
				b[i][i] = math.Sqrt(math.Max(0, x))
			} else {
				b[i][j] = x / b[j][j]
			}
		}
	}
	return a, b
}

func multiply3(x, y [3][3]float64) (z [3][3]float64) {
	for i := range z {
		for j := range z {
			for n := range z {
				z[i][j] += x[i][n] * y[n][j]
			}
		}
	}
	return z
}

// invert3 returns the inverse by cofactors.
func invert3(m [3][3]float64) (inv [3][3]float64) {
	c := func(i, j int) float64 {
		p, q := (i+1)%3, (i+2)%3
		r, s := (j+1)%3, (j+2)%3
		return m[p][r]*m[q][s] - m[p][s]*m[q][r]
	}
	det := m[0][0]*c(0, 0) + m[0][1]*c(0, 1) + m[0][2]*c(0, 2)
	for i := range inv {
		for j := range inv {
			inv[i][j] = c(j, i) / det
		}
	}
	return inv
}
