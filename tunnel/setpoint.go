package tunnel

import "oidium/weather"

// SetPoint is a pair of temperature and humidity that could be held under cover,
// with what it means for mildew and for the crop.
type SetPoint struct {
	Temp   float64 // °C
	RH     float64 // %
	VPD    float64 // kPa
	Mildew float64 // rate of the mildew at this pair, as the caller's function has it
	// Open is how far the leaves' pores are open against those at 0.8 kPa: below
	// 1 the crop grows more slowly by about as much.
	Open float64
	// Water is what the crop loses against 0.8 kPa, in the same light: above 1 it
	// needs more water; far below 1 it takes up too little calcium.
	Water float64
}

// SetPoints returns every pair of the temperatures (°C) and humidities (%), by
// temperature, then humidity. rate is how fast a mildew moves at a temperature
// and humidity; which mildew is for the caller to say. Pores close with the
// deficit D of the air as
//
//	g ∝ 1 / (1 + D / D0),  D0 1 kPa   (Leuning 1995, from memory)
//
// This says nothing of the temperature the crop itself needs.
func SetPoints(temps, humidities []float64, rate func(temp, rh float64) float64) []SetPoint {
	open := func(d float64) float64 { return (1 + usualDeficit.V/poreDeficit.V) / (1 + d/poreDeficit.V) }
	var out []SetPoint
	for _, t := range temps {
		for _, rh := range humidities {
			d := weather.VPD(t, rh)
			g := open(d)
			out = append(out, SetPoint{Temp: t, RH: rh, VPD: d, Mildew: rate(t, rh), Open: g, Water: g * d / usualDeficit.V})
		}
	}
	return out
}
