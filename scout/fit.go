package scout

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// ofPlant is the count of one plant.
type ofPlant struct {
	infected, inspected int
}

// clumpFit is the beta-binomial fitted to counts by plant.
type clumpFit struct {
	P, Theta, Rho float64
	LR            float64 // twice the gain in log-likelihood over the binomial
	PValue        float64 // of LR; rho = 0 is a boundary, so half a chi-square of 1
	Dispersion    float64 // observed over binomial variance of the counts; NaN when the plants differ in leaves
}

var errNothingToFit = errors.New("fitting the clumping of a tally: every leaf looks the same, so there is nothing to fit; count more plants, or use the prior")

// fitClump fits incidence and clumping by maximum likelihood (Hughes & Madden
// 1993). Plants may differ in their number of leaves. At least two plants and
// both mildewed and clean leaves are needed.
func fitClump(plants []ofPlant) (clumpFit, error) {
	k, n, equal := 0, 0, true
	for _, p := range plants {
		k, n = k+p.infected, n+p.inspected
		equal = equal && p.inspected == plants[0].inspected
	}
	if len(plants) < 2 || k == 0 || k == n {
		return clumpFit{}, errNothingToFit
	}
	ll := func(p, theta float64) float64 {
		s := 0.0
		for _, q := range plants {
			s += logSequence(q.infected, q.inspected, p, theta)
		}
		return s
	}
	// For each theta the best p, for the best theta: two nested searches on
	// functions with one top each. Logit and log keep them inside the range.
	logit := func(p float64) float64 { return math.Log(p / (1 - p)) }
	inv := func(x float64) float64 { return 1 / (1 + math.Exp(-x)) }
	p0 := logit(float64(k) / float64(n))
	bestP := func(theta float64) (float64, float64) {
		x := top(func(x float64) float64 { return ll(inv(x), theta) }, p0-4, p0+4)
		return inv(x), ll(inv(x), theta)
	}
	lt := top(func(lt float64) float64 {
		_, l := bestP(math.Exp(lt))
		return l
	}, math.Log(1e-6), math.Log(1e2))
	f := clumpFit{Theta: math.Exp(lt), Dispersion: math.NaN()}
	var l float64
	f.P, l = bestP(f.Theta)
	flat := ll(float64(k)/float64(n), 0)
	if l <= flat {
		f.Theta, f.P, l = 0, float64(k)/float64(n), flat
	}
	f.Rho = f.Theta / (1 + f.Theta)
	f.LR = 2 * (l - flat)
	f.PValue = 1
	if f.LR > 0 {
		f.PValue = 0.5 * distuv.ChiSquared{K: 1}.Survival(f.LR)
	}
	if equal {
		m, mean := float64(plants[0].inspected), float64(k)/float64(n)
		s2 := 0.0
		for _, q := range plants {
			d := float64(q.infected) - m*mean
			s2 += d * d
		}
		f.Dispersion = s2 / float64(len(plants)-1) / (m * mean * (1 - mean))
	}
	return f, nil
}

// top returns where f is largest between a and b, by golden section.
func top(f func(float64) float64, a, b float64) float64 {
	g := (math.Sqrt(5) - 1) / 2
	c, d := b-g*(b-a), a+g*(b-a)
	fc, fd := f(c), f(d)
	for b-a > 1e-8 {
		if fc >= fd {
			b, d, fd = d, c, fc
			c = b - g*(b-a)
			fc = f(c)
		} else {
			a, c, fc = c, d, fd
			d = a + g*(b-a)
			fd = f(d)
		}
	}
	return (a + b) / 2
}

// fitPlants is how many plants told apart make a fit of rho worth more than its
// prior.
const fitPlants = 10

// fitRho returns the prior's mean moved towards the fit by the number of plants.
func fitRho(t Tallied) (float64, bool) {
	var plants []ofPlant
	for _, p := range t.patterns {
		for range p.times {
			if !p.loose && p.n > 1 {
				plants = append(plants, ofPlant{p.k, p.n})
			}
		}
	}
	if len(plants) < fitPlants {
		return 0, false
	}
	f, err := fitClump(plants)
	if err != nil {
		return 0, false
	}
	w := float64(len(plants)) / float64(len(plants)+fitPlants)
	return math.Min(w*f.Rho+(1-w)*rhoPrior.V, 0.9), true // numerical: below 1
}
