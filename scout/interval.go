package scout

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// Interval bounds a share.
type Interval struct {
	Lo, Hi float64
}

// Wilson returns the score interval of k of n at confidence conf (Wilson 1927),
// the one to report. Leaves are taken as independent. n = 0 gives 0 to 1.
func Wilson(k, n int, conf float64) Interval {
	return wilson(float64(k), float64(n), conf)
}

func wilson(k, n, conf float64) Interval {
	if n <= 0 {
		return Interval{0, 1}
	}
	z := distuv.UnitNormal.Quantile(0.5 + conf/2)
	p, z2 := k/n, z*z
	mid := (p + z2/(2*n)) / (1 + z2/n)
	half := z / (1 + z2/n) * math.Sqrt(p*(1-p)/n+z2/(4*n*n))
	return Interval{math.Max(0, mid-half), math.Min(1, mid+half)}
}

// Exact returns the interval of k of n that holds its confidence for every true
// share (Clopper & Pearson 1934), the one to promise by. n = 0 gives 0 to 1.
func Exact(k, n int, conf float64) Interval {
	if n <= 0 {
		return Interval{0, 1}
	}
	tail, out := (1-conf)/2, Interval{0, 1}
	if k > 0 {
		out.Lo = mathext.InvRegIncBeta(float64(k), float64(n-k+1), tail)
	}
	if k < n {
		out.Hi = mathext.InvRegIncBeta(float64(k+1), float64(n-k), 1-tail)
	}
	return out
}

// exactTest is the two-sided p-value of k of n against the share p: the chance
// of all counts that are no more likely than k.
func exactTest(k, n int, p float64) float64 {
	seen := logBetaBinomial(k, n, p, 0)
	sum := 0.0
	for i := range n + 1 {
		if l := logBetaBinomial(i, n, p, 0); l <= seen+1e-7 {
			sum += math.Exp(l)
		}
	}
	return math.Min(1, sum)
}

// AtMost returns the largest share of mildewed leaves that is still consistent,
// at one-sided confidence conf, with none found on plants x perPlant leaves:
// the p at which the chance of finding none is 1-conf. With Rho 0, Sees 1 and
// False 0 it is 1-(1-conf)^(1/n). No leaves give 1. Looks that see too little to
// exclude anything give 1 too.
func AtMost(plants, perPlant int, conf float64, look Look) float64 {
	if plants <= 0 || perPlant <= 0 {
		return 1
	}
	lo, hi := 0.0, 1.0
	if chanceOfNone(plants, perPlant, 1, look) > 1-conf {
		return 1
	}
	for range 60 {
		mid := (lo + hi) / 2
		if chanceOfNone(plants, perPlant, mid, look) > 1-conf {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// chanceOfNone is the chance that none of plants x perPlant leaves is called
// mildewed when the share p is. Calls of healthy leaves are left out: they are
// no find.
func chanceOfNone(plants, perPlant int, p float64, look Look) float64 {
	q := math.Min(math.Max(p, 0), 1) * look.Sees
	return math.Exp(float64(plants) * logSequence(0, perPlant, q, thetaOf(look.Rho)))
}

// standardError is that of a share of n independent leaves.
func standardError(share, n float64) float64 { return math.Sqrt(share * (1 - share) / n) }
