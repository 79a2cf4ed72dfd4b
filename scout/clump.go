package scout

import "math"

// logChoose returns ln C(n, k).
func logChoose(n, k int) float64 {
	a, _ := math.Lgamma(float64(n) + 1)
	b, _ := math.Lgamma(float64(k) + 1)
	c, _ := math.Lgamma(float64(n-k) + 1)
	return a - b - c
}

// thetaOf turns the correlation rho of two leaves into theta = 1/(a+b) of the
// beta distribution of a plant's incidence: rho = theta/(1+theta) (Madden,
// Hughes & van den Bosch 2007).
func thetaOf(rho float64) float64 { return rho / (1 - rho) }

// logSequence is the logarithm of the chance of one given order of k mildewed
// and n-k clean leaves of a plant, the beta-binomial without its C(n, k):
//
//	prod_{i<k} (p + i theta) prod_{i<n-k} (1-p + i theta) / prod_{i<n} (1 + i theta)
//
// The product form is exact at theta = 0, where it is the binomial.
func logSequence(k, n int, p, theta float64) float64 {
	if k > 0 && p <= 0 || k < n && p >= 1 {
		return math.Inf(-1)
	}
	if theta == 0 {
		s := 0.0
		if k > 0 {
			s += float64(k) * math.Log(p)
		}
		if k < n {
			s += float64(n-k) * math.Log1p(-p)
		}
		return s
	}
	// One logarithm for several factors: each factor lies between 1e-6 and
	// 1 + n theta, so that eight of them stay within the range of a float64.
	s, prod := 0.0, 1.0
	for i := range n {
		t := float64(i) * theta
		if i < k {
			prod *= (p + t) / (1 + t)
		} else {
			prod *= (1 - p + float64(i-k)*theta) / (1 + t)
		}
		if i&7 == 7 {
			s += math.Log(prod)
			prod = 1
		}
	}
	return s + math.Log(prod)
}

// logBetaBinomial is the logarithm of the chance of k mildewed leaves among n of
// one plant when the share p is mildewed in the bed and leaves of a plant
// resemble each other with correlation rho, 0 <= rho < 1.
func logBetaBinomial(k, n int, p, rho float64) float64 {
	if k < 0 || k > n {
		return math.Inf(-1)
	}
	return logChoose(n, k) + logSequence(k, n, p, thetaOf(rho))
}

// betaBinomial is the chance of each count 0..n of mildewed leaves of a plant.
func betaBinomial(n int, p, rho float64) []float64 {
	out := make([]float64, n+1)
	for k := range out {
		out[k] = math.Exp(logBetaBinomial(k, n, p, rho))
	}
	return out
}

// CountChances returns the chance of each count 0..plants*perPlant of mildewed
// leaves in a walk past that many plants when the share p of leaves is mildewed
// and looked at as look says. Plants are taken as independent.
func CountChances(plants, perPlant int, p float64, look Look) []float64 {
	one := betaBinomial(perPlant, look.seen(p), look.Rho)
	total := []float64{1}
	for range plants {
		next := make([]float64, len(total)+perPlant)
		for i, a := range total {
			for j, b := range one {
				next[i+j] += a * b
			}
		}
		total = next
	}
	return total
}
