package scout

import (
	"math"

	"oidium/garden"
)

// Reader is how a person reads severity: reading = Bias + Slope x truth with
// spread SD on the scale ln(-ln(1-share)), on which small shares are read with
// the same relative error as large ones. A Slope of 0 stands for 1.
type Reader struct {
	Bias, Slope, SD float64
}

func (r Reader) slope() float64 {
	if r.Slope == 0 {
		return 1
	}
	return r.Slope
}

// PlainReader is a person whose reading of reference leaves is not known.
func PlainReader() Reader { return Reader{SD: raterSD.V} }

// leastShare stands for none on the scale, which has no value at 0.
const leastShare = 1e-5

func cloglog(share float64) float64 {
	share = math.Min(math.Max(share, leastShare), 1-leastShare)
	return math.Log(-math.Log1p(-share))
}

// SeverityLogLik returns the logarithm of the chance of the reading s when the
// share of leaf area visibly covered is share. A grade of a scale stands for the
// span between its cuts, a percentage for the span up to its neighbours on the
// usual grid (0, trace, 1, 2, 5, 10 ... %), so that none, and a reading to the
// nearest five percent, are taken for what they are; a small chance of a slip
// keeps one odd reading from ruling.
func SeverityLogLik(s garden.Severity, share float64, r Reader) float64 {
	half := readingLeast.V + readingStep.V*s.Share
	lo, hi := s.Share-half, s.Share+half
	if s.High > s.Low {
		lo, hi = s.Low, s.High
	}
	mid := r.slope()*cloglog(share) + r.Bias
	z := func(x float64) float64 { return (cloglog(x) - mid) / r.SD / math.Sqrt2 }
	// Differences of tails keep their digits on the side where they are small.
	zl, zh := math.Inf(-1), math.Inf(1)
	if lo > leastShare {
		zl = z(lo)
	}
	if hi < 1-leastShare {
		zh = z(hi)
	}
	var p float64
	if zl > 0 {
		p = 0.5 * (math.Erfc(zl) - math.Erfc(zh))
	} else {
		p = 0.5 * (math.Erfc(-zh) - math.Erfc(-zl))
	}
	width := math.Min(hi, 1) - math.Max(lo, 0)
	return math.Log((1-raterOutlier.V)*p + raterOutlier.V*width)
}
