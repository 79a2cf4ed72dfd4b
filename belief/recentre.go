package belief

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"oidium/chance"
)

// Recentre draws new members around those that agree with the looks: an
// importance distribution fitted to the weighted members, for use when too few
// of the first ones agree (adaptive importance sampling; Cappé, Guillin, Marin &
// Robert 2004, J. Comput. Graph. Stat. 13:907-929, form from memory).
//
// z holds the members' positions, whose prior is standard normal in every
// direction and independent; w their weights. draw gives the stream of a new
// member. Every fifth new member comes from the prior itself, so that nothing
// the prior holds possible is lost. The ratio is the logarithm of prior over
// importance density of each new member: its log-likelihood plus ratio goes to
// [Weigh], whose evidence then is that under the prior.
func Recentre(z [][]float64, w []float64, draw func(member int) *chance.Stream) (next [][]float64, ratio []float64) {
	n, dim := len(z), len(z[0])
	mean := make([]float64, dim)
	for i, zi := range z {
		for j, x := range zi {
			mean[j] += w[i] * x
		}
	}
	cov := mat.NewSymDense(dim, nil)
	for i, zi := range z {
		for a := range dim {
			for b := a; b < dim; b++ {
				cov.SetSym(a, b, cov.At(a, b)+w[i]*(zi[a]-mean[a])*(zi[b]-mean[b]))
			}
		}
	}
	// Few members tell a covariance badly: the off-diagonal is shrunk, the whole
	// widened, and no direction narrower than a tenth of the prior.
	for a := range dim {
		cov.SetSym(a, a, math.Max(widen*cov.At(a, a), 0.01))
		for b := a + 1; b < dim; b++ {
			cov.SetSym(a, b, widen*(1-shrink)*cov.At(a, b))
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(cov) {
		for a := range dim {
			for b := a + 1; b < dim; b++ {
				cov.SetSym(a, b, 0)
			}
		}
		chol.Factorize(cov)
	}
	var low mat.TriDense
	chol.LTo(&low)
	half := chol.LogDet() / 2

	next, ratio = make([][]float64, n), make([]float64, n)
	e, back := mat.NewVecDense(dim, nil), mat.NewVecDense(dim, nil)
	for m := range n {
		s := draw(m)
		x := make([]float64, dim)
		for j := range x {
			x[j] = s.Normal()
		}
		if m%5 != 0 {
			for j := range x {
				e.SetVec(j, x[j])
			}
			for j := range x {
				sum := mean[j]
				for k := 0; k <= j; k++ {
					sum += low.At(j, k) * e.AtVec(k)
				}
				x[j] = sum
			}
		}
		// Densities, the common factor (2π)^(-dim/2) left out.
		prior := 0.0
		for j, v := range x {
			prior -= v * v / 2
			e.SetVec(j, v-mean[j])
		}
		if err := back.SolveVec(&low, e); err != nil {
			back.CopyVec(e)
		}
		near := -half - mat.Dot(back, back)/2
		top := math.Max(prior, near)
		// numerical: every fifth member comes from the prior itself
		q := top + math.Log(0.2*math.Exp(prior-top)+0.8*math.Exp(near-top))
		next[m], ratio[m] = x, prior-q
	}
	return next, ratio
}

// widen and shrink are numerical: how much wider than the weighted members new
// ones are drawn, and how much of their correlation is given up.
const (
	widen  = 1.5
	shrink = 0.3
)
