package work

import (
	"math"

	"oidium/belief"
)

// band brings a belief's band to what is printed: three significant digits, so
// that no more is promised than is known and the last bits of a sum do not show.
func band(b belief.Band) Band {
	return Band{Low: round3(b.Low), Mid: round3(b.Mid), High: round3(b.High)}
}

// round2 keeps two significant digits.
func round2(x float64) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	s := math.Pow(10, 1-math.Floor(math.Log10(math.Abs(x))))
	return math.Round(x*s) / s
}

// round3 keeps three significant digits.
func round3(x float64) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	s := math.Pow(10, 2-math.Floor(math.Log10(math.Abs(x))))
	return math.Round(x*s) / s
}
