package weather

import (
	"math"

	"oidium/sun"
)

// hargreaves returns the radiation of a day in MJ/m² from its temperature range
// and its extraterrestrial radiation ra (FAO-56 eq. 50):
//
//	Rs = k √(Tmax − Tmin) Ra,  k 0.16
//
// FAO-56 has 0.19 for the very coast; a climate tempered by a sea does not mean
// that: De Bilt 2000, 30 km inland, would have needed 0.14.
func hargreaves(tmin, tmax, ra float64) float64 {
	return math.Min(hargreavesK.V*math.Sqrt(math.Max(0, tmax-tmin)), clearLimit.V) * ra
}

// RadFromSunshine returns the radiation at the ground, in the unit of the
// extraterrestrial radiation ra, when the sun shone for the share n of the time
// (FAO-56 eq. 35): Rs = (0.25 + 0.50 n) Ra.
func RadFromSunshine(n, ra float64) float64 {
	return (angstromA.V + angstromB.V*bound(n, 0, 1)) * ra
}

// RadFromCloud returns the radiation at the ground in W/m² under the cloud cover
// c (0 to 1) with the sun at the given elevation in degrees:
//
//	G = Gclear (1 − 0.75 c^3.4)   (Kasten & Czeplak 1980, from memory)
func RadFromCloud(c, elevation float64) float64 {
	clear := sun.ClearSky(elevation)
	if clear == 0 || c <= 0 {
		return clear
	}
	return clear * (1 - cloudDepth.V*math.Exp(cloudPower.V*math.Log(math.Min(1, c))))
}

// clearShare returns FAO-56 eq. 37, the share of the extraterrestrial radiation
// that reaches the ground at the altitude z in m under a clear sky. FAO-56 needs
// it in its net long-wave term; for a real clear day see sun.ClearDay.
func clearShare(z float64) float64 { return clearLimit.V + clearRise.V*z }

// cloudCover returns the share of the sky that is cloudy from the share of the
// clear-sky radiation that came through: c = 1 − (x − 0.25)/0.75, 0 to 1.
func cloudCover(clearness float64) float64 {
	return bound(1-(clearness-cloudDark.V)/(1-cloudDark.V), 0, 1)
}

// skyLongwave returns the long-wave radiation of the sky in W/m² for air at t °C
// with the vapour pressure ea in kPa under the cloud cover c (Brutsaert 1975, the
// cloud multiplier from memory):
//
//	L = min(1, 1.24 (ea[hPa] / T[K])^(1/7) (1 + 0.22 c^2.75)) σ T⁴
func skyLongwave(t, ea, c float64) float64 {
	k := t + kelvin
	eps := skyScale.V * math.Exp(math.Log(math.Max(10*ea, 1e-3)/k)/7)
	if c > 0 {
		eps *= 1 + skyCloud.V*math.Exp(skyPower.V*math.Log(c))
	}
	return math.Min(1, eps) * stefan * k * k * k * k
}

// Exact by definition of the units (the Stefan-Boltzmann constant to the figures
// used here).
const (
	kelvin = 273.15     // exact
	stefan = 5.67037e-8 // W m⁻² K⁻⁴, exact
)
