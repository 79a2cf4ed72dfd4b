package weather

import "math"

// Hargreaves returns the radiation of a day in MJ/m² from its temperature range
// and its extraterrestrial radiation ra (FAO-56 eq. 50):
//
//	Rs = k √(Tmax − Tmin) Ra,  k 0.19 near a coast, 0.16 inland
func Hargreaves(tmin, tmax, ra float64, maritime bool) float64 {
	k := hargreavesInland.V
	if maritime {
		k = hargreavesCoast.V
	}
	return math.Min(k*math.Sqrt(math.Max(0, tmax-tmin)), clearLimit.V) * ra
}
