package scout

import "math"

// leavesToFindOf returns how many leaves of a bed of only total leaves, of which
// floor(total p) are mildewed, make the chance of a find conf: the least sample
// whose hypergeometric chance of none is at most 1-conf (the sampling of
// consignments of ISPM 31). ok is false when floor(total p) is 0: there is then
// nothing to find.
func leavesToFindOf(total int, p, conf float64) (n int, ok bool) {
	d := int(math.Floor(float64(total)*p + 1e-9))
	if d == 0 {
		return 0, false
	}
	none := 1.0
	for n = 0; n < total; n++ {
		if none <= 1-conf {
			return n, true
		}
		none *= float64(total-d-n) / float64(total-n)
		if none < 0 {
			none = 0
		}
	}
	return total, true
}

// plantsToFind returns how many plants with perPlant leaves each make the chance
// of a find conf when leaves of a plant resemble each other; with one leaf a plant
// it is ceil(ln(1-conf) / ln(1-p)). 0 when nothing can be found.
func plantsToFind(p, conf float64, perPlant int, look Look) int {
	none := logSequence(0, perPlant, math.Min(p*look.Sees, 1), thetaOf(look.Rho))
	if none == 0 {
		return 0
	}
	return max(1, int(math.Ceil(math.Log(1-conf)/none-1e-9)))
}

// plantsToEstimate returns how many plants with perPlant leaves each give an
// estimate of the share p whose standard error is cv x p (Hughes, Madden &
// Munkvold 1996): (1-p)(1+rho(n-1)) / (p n cv^2), not rounded.
func plantsToEstimate(p, rho, cv float64, perPlant int) float64 {
	n := float64(perPlant)
	return (1 - p) * (1 + rho*(n-1)) / (p * n * cv * cv)
}

// smallBed corrects a sample for a bed of only total plants or leaves.
func smallBed(n, total float64) float64 { return n / (1 + n/total) }

// plantIncidence is the share of plants with at least one mildewed leaf of n.
func plantIncidence(p, rho float64, n int) float64 {
	return -math.Expm1(logSequence(0, n, p, thetaOf(rho)))
}
