package weather

import "math"

// Wetness is the rule by which an hour counts as wet. The zero value is the
// default rule.
type Wetness struct {
	// Rain is the rain in mm an hour from which leaves are wet; 0 means 0.2.
	Rain float64
	// RH is the humidity in % from which leaves are wet; 0 means 90. A value
	// tuned to the site brings the error down to 1 to 1.6 h a day.
	RH float64
	// Calm uses, in hours with wind below 2.5 m/s at 2 m and above 0 °C, the
	// calm branch of the tree of Kim et al. 2002 instead of RH. Its windy
	// branch, as it circulates, can never be true and is not used.
	Calm bool
}

// Wet reports whether leaves are wet in an hour with the given temperature (°C),
// humidity (%), wind (m/s) and rain (mm). A NaN wind is taken as windy; a NaN
// rain as none; a NaN humidity or temperature as dry air.
func (w Wetness) Wet(t, rh, wind, rain float64) bool {
	if w.Rain == 0 {
		w.Rain = wetRain.V
	}
	if w.RH == 0 {
		w.RH = wetRH.V
	}
	// Readings come in tenths kept as float32: 0.2 must count as 0.2.
	if rain >= w.Rain-1e-6 {
		return true
	}
	if w.Calm && t >= 0 && wind < treeCalm.V {
		return calmWet(t, rh, wind)
	}
	return rh >= w.RH-1e-6
}

// calmWet is the calm branch of Kim et al. 2002, T ≥ 0 °C:
//
//	dry if T − Td ≥ 3.7 K; else wet if
//	1.6064 √T + 0.0036 T² + 0.1531 RH − 0.4599 u (T − Td) − 0.0035 T RH > 14.4674
func calmWet(t, rh, wind float64) bool {
	dpd := t - DewPoint(VapourPressure(t, rh))
	if !(dpd < treeDry.V) {
		return false
	}
	return treeRootT.V*math.Sqrt(t)+treeT2.V*t*t+treeRH.V*rh-treeWind.V*wind*dpd-treeTRH.V*t*rh > treeBound.V
}

// hours returns for each hour of s whether leaves are wet in the open.
func (w Wetness) hours(s *Series) []bool {
	out := make([]bool, s.Len())
	for i := range out {
		out[i] = w.Wet(float64(s.V[Temp][i]), float64(s.V[RH][i]), float64(s.V[Wind][i]), float64(s.V[Rain][i]))
	}
	return out
}
