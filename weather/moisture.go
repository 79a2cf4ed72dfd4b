package weather

import "math"

// SaturationVP returns the saturation vapour pressure over water in kPa at t °C:
//
//	e0(T) = 0.6108 exp(17.27 T / (T + 237.3))   (FAO-56 eq. 11)
func SaturationVP(t float64) float64 {
	return tetensScale.V * math.Exp(tetensSlope.V*t/(t+tetensOffset.V))
}

// slope returns FAO-56 eq. 13, the slope of the saturation curve, kPa/K.
func slope(t float64) float64 {
	d := t + tetensOffset.V
	return tetensSlope.V * tetensOffset.V * SaturationVP(t) / (d * d)
}

// VapourPressure returns the vapour pressure in kPa of air at t °C and rh %.
func VapourPressure(t, rh float64) float64 { return rh / 100 * SaturationVP(t) }

// DewPoint returns the temperature in °C at which the vapour pressure ea in kPa
// saturates; it is the exact inverse of [SaturationVP]. It is -Inf for dry air.
func DewPoint(ea float64) float64 {
	if ea <= 0 {
		return math.Inf(-1)
	}
	l := math.Log(ea / tetensScale.V)
	return tetensOffset.V * l / (tetensSlope.V - l)
}

// RHFrom returns the relative humidity in % of air at t °C with the vapour
// pressure ea in kPa, at most 100.
func RHFrom(t, ea float64) float64 { return math.Min(100, 100*ea/SaturationVP(t)) }

// VPD returns the vapour pressure deficit in kPa of air at t °C and rh %.
func VPD(t, rh float64) float64 { return (1 - rh/100) * SaturationVP(t) }

// pressure returns the air pressure in kPa at the altitude z in m (FAO-56 eq. 7).
func pressure(z float64) float64 {
	return airSea.V * math.Pow((293-0.0065*z)/293, 5.26) // fao-56
}

// psychrometric returns FAO-56 eq. 8, kPa/K, for a pressure in kPa.
func psychrometric(pressure float64) float64 { return psychroK.V * pressure }

// WetBulb returns the vapour pressure in kPa from the dry and wet thermometer
// (°C) of a ventilated psychrometer at the altitude alt in m (FAO-56 eq. 15).
func WetBulb(dry, wet, alt float64) float64 {
	return SaturationVP(wet) - psychroFan.V*pressure(alt)*(dry-wet)
}

// WindAt2m returns the wind speed at 2 m over short grass from the speed u
// measured at the height z in m (FAO-56 eq. 47). z must be above 0.1 m; a
// height of 0 is taken as 2 m.
func WindAt2m(u, z float64) float64 {
	if z == 0 || z == 2 {
		return u
	}
	return u * windProfile.V / math.Log(67.8*math.Max(z, 0.1)-5.42)
}
