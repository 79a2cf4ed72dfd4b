package plan

import "math"

// marked is how many leaves to mark and leave untreated, with as many treated ones
// to compare them with, so that a treatment that does what is expected of it shows
// in four cases of five (one-sided error one in ten): 2 ((z1 + z2) sd / D)^2
// leaves, D the difference expected on the complementary log-log scale. 0 when
// nobody would read so many, or the difference is not there.
func marked(alone, treated float64) int {
	d := cloglog(alone) - cloglog(treated)
	if d <= 0 {
		return 0
	}
	const z = 1.2816 + 0.8416 // numerical: upper tenth and upper fifth of the standard normal
	n := math.Ceil(2 * z * z * markSD.V * markSD.V / (d * d))
	if n > markMost.V {
		return 0
	}
	return int(math.Max(n, markLeast.V))
}

func cloglog(share float64) float64 {
	share = math.Min(math.Max(share, 1e-4), 1-1e-4)
	return math.Log(-math.Log1p(-share))
}
