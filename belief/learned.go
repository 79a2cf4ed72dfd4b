package belief

import "math"

// Learned is what the looks say about one parameter, in standard deviations of
// its prior, which is a standard normal.
type Learned struct {
	Mean, Spread float64 // 0 and 1 where nothing was learned
	// Told: mean or spread differ from the prior's by more than so many effective
	// members would show by chance (two standard errors).
	Told bool
	// Strained: the middle lies outside the middle four fifths of the prior, so that
	// the prior, the model or the looks are suspect.
	Strained bool
}

// Learn compares the weighed members with the prior, parameter by parameter.
// z[m][i] is parameter i of member m as a standard normal number under the prior.
// The weights must lead back to the prior where nothing was seen: those of
// members that were drawn anew hold the ratio that [Recentre] returns.
func Learn(z [][]float64, w Weights) []Learned {
	if len(z) == 0 || w.ESS <= 0 {
		return nil
	}
	out := make([]Learned, len(z[0]))
	for i := range out {
		sum, mean, square := 0.0, 0.0, 0.0
		for m, x := range z {
			sum += w.W[m]
			mean += w.W[m] * x[i]
			square += w.W[m] * x[i] * x[i]
		}
		if sum <= 0 {
			return nil
		}
		mean /= sum
		spread := math.Sqrt(math.Max(0, square/sum-mean*mean))
		// Standard errors of mean and spread of a normal: 1/√n and 1/√2n (exact for the
		// mean).
		out[i] = Learned{
			Mean: mean, Spread: spread,
			Told:     math.Abs(mean) > 2/math.Sqrt(w.ESS) || spread < 1-2/math.Sqrt(2*w.ESS),
			Strained: math.Abs(mean) > tenth,
		}
	}
	return out
}

// tenth is the point of the standard normal above which one tenth lies (exact).
const tenth = 1.2816
