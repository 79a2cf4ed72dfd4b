package belief

import (
	"fmt"
	"math"

	"oidium/garden"
)

// LeastESS is the effective sample size below which weights are tempered.
const LeastESS = 50

// Weights says how much each member counts.
type Weights struct {
	W      []float64 // one for each member, sum 1
	ESS    float64   // effective sample size 1/sum(W^2), after tempering
	RawESS float64   // before tempering
	// Temper is the exponent put on the likelihood, 1 when not tempered. Below 1
	// the looks count for less than they should and the bands are wider.
	Temper float64
	// Evidence is the logarithm of the mean likelihood, untempered: how well the
	// members as a whole foretold the looks. -Inf when none could.
	Evidence float64
	Warnings []garden.Warning
}

// Weigh turns the log-likelihood of the looks under each member into weights. When
// the effective sample size would fall below least (not more than the number of
// members; see [LeastESS]), the likelihood is raised to the power at which it is
// least, found by bisection, and a warning says so. Members with a log-likelihood
// of -Inf or NaN get no weight; when all are such, all count alike and a warning
// says that no member explains the looks. The result depends only on the values
// and their order; equal likelihoods give equal weights. No members give the zero
// value with an evidence of -Inf.
func Weigh(loglik []float64, least float64) Weights {
	n := len(loglik)
	out := Weights{W: make([]float64, n), Temper: 1, Evidence: math.Inf(-1)}
	if n == 0 {
		return out
	}
	top, possible := math.Inf(-1), 0
	for _, l := range loglik {
		if able(l) {
			top, possible = math.Max(top, l), possible+1
		}
	}
	if possible == 0 {
		for i := range out.W {
			out.W[i] = 1 / float64(n)
		}
		out.ESS, out.Temper = float64(n), 0
		out.Warnings = append(out.Warnings, garden.Warning{Code: "no-member-explains", Text: "No course of the forecast explains what was seen; the forecast stands as if nobody had looked. Check the entries of the last looks."})
		return out
	}
	sum := out.fill(loglik, top, 1)
	out.Evidence = top + math.Log(sum/float64(n))
	out.RawESS = ess(out.W)
	out.ESS = out.RawESS
	least = math.Min(least, float64(n))
	if out.RawESS >= least {
		return out
	}
	// The effective size falls as the exponent rises (the log of the sum of
	// powers is convex), from the number of possible members at 0.
	if float64(possible) <= least {
		out.fill(loglik, top, 0)
		out.Temper = 0
	} else {
		lo, hi := 0.0, 1.0
		for range 40 {
			mid := (lo + hi) / 2
			out.fill(loglik, top, mid)
			if ess(out.W) < least {
				hi = mid
			} else {
				lo = mid
			}
		}
		out.fill(loglik, top, lo)
		out.Temper = lo
	}
	out.ESS = ess(out.W)
	out.Warnings = append(out.Warnings, garden.Warning{Code: "tempered", Text: fmt.Sprintf("What was seen fits only about %.0f of %d courses of the forecast; the looks were given less weight (exponent %.2f) and the bands are wider than the counts alone would make them.", out.RawESS, n, out.Temper)})
	return out
}

// fill sets the weights to the likelihoods to the power t and returns the sum
// before scaling, relative to the likelihood exp(top).
func (w *Weights) fill(loglik []float64, top, t float64) float64 {
	sum := 0.0
	for i, l := range loglik {
		w.W[i] = 0
		if able(l) {
			w.W[i] = math.Exp(t * (l - top))
			sum += w.W[i]
		}
	}
	for i := range w.W {
		w.W[i] /= sum
	}
	return sum
}

// able tells whether a member with this log-likelihood is possible at all. +Inf
// is no likelihood and counts as a fault of the caller's, like NaN.
func able(l float64) bool { return !math.IsNaN(l) && !math.IsInf(l, 0) }

func ess(w []float64) float64 {
	s := 0.0
	for _, x := range w {
		s += x * x
	}
	if s == 0 {
		return 0
	}
	return 1 / s
}

// Mix returns the probabilities of explanations that nobody can tell apart, given
// their prior probabilities and their evidence (see [Weights].Evidence). Priors
// need not sum to one. When no explanation is possible the prior stands.
func Mix(prior, evidence []float64) []float64 {
	out := make([]float64, len(prior))
	top := math.Inf(-1)
	for i, p := range prior {
		if p > 0 && able(evidence[i]) {
			top = math.Max(top, evidence[i])
		}
	}
	sum := 0.0
	for i, p := range prior {
		switch {
		case p <= 0:
		case math.IsInf(top, -1):
			out[i] = p
		case able(evidence[i]):
			out[i] = p * math.Exp(evidence[i]-top)
		}
		sum += out[i]
	}
	if sum > 0 {
		for i := range out {
			out[i] /= sum
		}
	}
	return out
}
