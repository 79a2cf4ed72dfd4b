package sun

import (
	"math"
	"time"

	"oidium/garden"
)

// orbit returns FAO-56 eq. 23 and 24: relative distance factor dr and
// declination in radians for the day of the year j.
func orbit(j int) (dr, decl float64) {
	a := 2 * math.Pi * float64(j) / 365
	return 1 + 0.033*math.Cos(a), 0.409 * math.Sin(a-1.39)
}

// sunset returns FAO-56 eq. 25, the sunset hour angle in radians, 0 to π.
func sunset(lat, decl float64) float64 {
	return math.Acos(clamp(-math.Tan(lat*rad)*math.Tan(decl), -1, 1))
}

// Extraterrestrial returns the radiation of the day d on level ground outside
// the atmosphere, MJ/m² (FAO-56 eq. 21):
//
//	Ra = 24·60/π · Gsc · dr · (ωs sin φ sin δ + cos φ cos δ sin ωs)
func Extraterrestrial(d garden.Day, lat float64) float64 {
	dr, decl := orbit(d.YearDay())
	ws := sunset(lat, decl)
	sp, cp := math.Sincos(lat * rad)
	sd, cd := math.Sincos(decl)
	return 86400 / math.Pi * solarConstant.V * 1e-6 * dr * (ws*sp*sd + cp*cd*math.Sin(ws))
}

// PossibleSunshine returns FAO-56 eq. 34, the hours of the day d during which
// the sun's centre is above the horizon, without refraction: the N of n/N.
func PossibleSunshine(d garden.Day, lat float64) float64 {
	_, decl := orbit(d.YearDay())
	return 24 / math.Pi * sunset(lat, decl)
}

// ExtraterrestrialHours returns the mean radiation outside the atmosphere on
// level ground, W/m², for each of n hours from start (FAO-56 eq. 28 to 33), the
// hour clipped to the time the sun is up.
func ExtraterrestrialHours(start time.Time, n int, lat, lon float64) []float64 {
	out := make([]float64, n)
	sp, cp := math.Sincos(lat * rad)
	day := garden.Day(math.MinInt32)
	var dr, a, b, ws, shift float64
	for i := range out {
		mid := start.Add(time.Duration(i)*time.Hour + 30*time.Minute).UTC()
		solar := mid.Add(minutes(4 * lon)) // mean solar clock of the place
		if d := garden.DayOf(solar); d != day {
			day = d
			j := d.YearDay()
			var decl float64
			dr, decl = orbit(j)
			ws = sunset(lat, decl)
			sd, cd := math.Sincos(decl)
			a, b = sp*sd, cp*cd
			shift = seasonal(j)
		}
		h := float64(solar.Hour()) + float64(solar.Minute())/60 + float64(solar.Second())/3600
		w := math.Pi / 12 * (h + shift - 12)
		out[i] = solarConstant.V * dr * clipped(a, b, ws, w-math.Pi/24, w+math.Pi/24)
	}
	return out
}

// clipped returns the mean over the hour from w1 to w2 of the sine of the sun's
// elevation a + b cos w while the sun is up.
func clipped(a, b, ws, w1, w2 float64) float64 {
	sum := 0.0
	// The hour angle may pass ±π around midnight, where a polar day goes on.
	for _, turn := range [...]float64{-2 * math.Pi, 0, 2 * math.Pi} {
		lo, hi := math.Max(w1, turn-ws), math.Min(w2, turn+ws)
		if hi > lo {
			sum += (hi-lo)*a + b*(math.Sin(hi)-math.Sin(lo))
		}
	}
	return math.Max(0, sum*12/math.Pi)
}

// seasonal returns FAO-56 eq. 32, the equation of time in hours.
func seasonal(j int) float64 {
	b := 2 * math.Pi * float64(j-81) / 364
	return 0.1645*math.Sin(2*b) - 0.1255*math.Cos(b) - 0.025*math.Sin(b)
}

// ClearSky returns the irradiance on level ground under a clear sky, W/m², for
// a sun at the given elevation in degrees (Haurwitz 1945), 0 below the horizon.
func ClearSky(elevation float64) float64 {
	if elevation <= 0 {
		return 0
	}
	z := math.Sin(elevation * rad)
	return haurwitzScale.V * z * math.Exp(-haurwitzDepth.V/z)
}

// ClearDay returns the radiation on level ground of a real clear day d, MJ/m².
// FAO-56's clear-sky share of 0.75 is above what either measured year reached
// on ordinary clear days; see the constant.
func ClearDay(d garden.Day, lat float64) float64 {
	return clearDay.V * Extraterrestrial(d, lat)
}
