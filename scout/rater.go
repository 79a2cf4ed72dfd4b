package scout

import (
	"errors"
	"fmt"
	"math"
)

// Rating is how a person reads leaves of known severity.
type Rating struct {
	Reader  Reader  // for the likelihood of this person's readings
	Leaves  int     // read
	Agree   float64 // concordance with the truth (Lin 1989): spread and bias in one number, 1 perfect
	Precise float64 // its part from spread: the correlation
	Near    float64 // its part from bias, 1 none
	Over    float64 // mean of reading - truth, share of leaf
	Spread  float64 // standard deviation of reading - truth, share of leaf
	Times   float64 // by which small severities (below a tenth) are read too high, geometric mean; NaN without such leaves
}

// leastLeaves for a reading of a person; fewer say too little about spread.
const leastLeaves = 5

var errFewLeaves = fmt.Errorf("rating a person's eye: at least %d leaves of known severity are needed, not all alike", leastLeaves)

// Rate compares readings with the truth, both shares of the same leaves. Bias and
// spread are fitted on the complementary log-log scale, on which small lesions
// are misread in proportion.
func Rate(truth, read []float64) (Rating, error) {
	if len(truth) != len(read) {
		return Rating{}, fmt.Errorf("rating a person's eye: %d readings of %d leaves", len(read), len(truth))
	}
	if len(truth) < leastLeaves {
		return Rating{}, errFewLeaves
	}
	r := Rating{Leaves: len(truth), Times: math.NaN()}
	x, y := make([]float64, len(truth)), make([]float64, len(truth))
	logs, small := 0.0, 0
	for i := range truth {
		if !(truth[i] >= 0 && truth[i] <= 1 && read[i] >= 0 && read[i] <= 1) {
			return Rating{}, fmt.Errorf("rating a person's eye: leaf %d with %v read as %v: shares lie between 0 and 1", i+1, truth[i], read[i])
		}
		// A reading of none is below the smallest that is written down.
		x[i], y[i] = cloglog(math.Max(truth[i], readingLeast.V)), cloglog(math.Max(read[i], readingLeast.V))
		r.Over += (read[i] - truth[i]) / float64(len(truth))
		if truth[i] > 0 && truth[i] < 0.1 {
			logs, small = logs+math.Log(math.Max(read[i], readingLeast.V)/truth[i]), small+1
		}
	}
	for i := range truth {
		d := read[i] - truth[i] - r.Over
		r.Spread += d * d / float64(len(truth)-1)
	}
	r.Spread = math.Sqrt(r.Spread)
	if small > 0 {
		r.Times = math.Exp(logs / float64(small))
	}
	l := straight(x, y)
	if l.sxx == 0 {
		return Rating{}, errFewLeaves
	}
	r.Reader = Reader{Slope: l.slope, Bias: l.at0, SD: math.Max(l.sd, sdFloor)}
	if l.slope <= 0 {
		return Rating{}, errors.New("rating a person's eye: the readings do not rise with the severity; check that the leaves were not mixed up")
	}
	r.Agree, r.Precise, r.Near = concordance(truth, read)
	return r, nil
}

// sdFloor keeps a person who read every leaf right from being taken for exact.
const sdFloor = 0.1 // numerical

// concordance is Lin's rho_c with divisor n, the correlation, and their ratio.
func concordance(x, y []float64) (agree, correlation, near float64) {
	n := float64(len(x))
	var mx, my, sxx, syy, sxy float64
	for i := range x {
		mx, my = mx+x[i]/n, my+y[i]/n
	}
	for i := range x {
		sxx += (x[i] - mx) * (x[i] - mx) / n
		syy += (y[i] - my) * (y[i] - my) / n
		sxy += (x[i] - mx) * (y[i] - my) / n
	}
	if sxx == 0 || syy == 0 {
		return 0, 0, 0
	}
	agree = 2 * sxy / (sxx + syy + (mx-my)*(mx-my))
	correlation = sxy / math.Sqrt(sxx*syy)
	if correlation == 0 {
		return agree, 0, 0
	}
	return agree, correlation, agree / correlation
}

// Correct turns a person's reading into the share that it most likely stands for,
// with 80 % bounds (inverse regression).
func (r Reader) Correct(read float64) (share float64, band Interval) {
	slope := r.slope()
	v := cloglog(math.Max(read, readingLeast.V))
	inv := func(z float64) float64 { return -math.Expm1(-math.Exp((z - r.Bias) / slope)) }
	const tenth = 1.2815515655446004 // numerical: the upper tenth of the standard normal
	return inv(v), Interval{inv(v - tenth*r.SD), inv(v + tenth*r.SD)}
}
