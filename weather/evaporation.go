package weather

import (
	"math"

	"oidium/sun"
)

// penman is FAO-56 eq. 6 and 53, the water use of short grass in mm:
//
//	ET0 = [0.408 Δ (Rn − G) + γ k/(T+273) u (es − ea)] / [Δ + γ (1 + 0.34 u)]
//
// with Rn and G in MJ/m² and k 900 for a day, 37 for an hour.
func penman(t, es, ea, u, rn, g, gamma, k float64) float64 {
	d := slope(t)
	return (perLatent.V*d*(rn-g) + gamma*k/(t+273)*u*(es-ea)) / (d + gamma*(1+grassWind.V*u)) // 273: fao-56
}

// netLongwave returns FAO-56 eq. 39, MJ/m² lost to the sky; fourth is σT⁴ in
// MJ/m² of the time step and clearness Rs/Rso.
func netLongwave(fourth, ea, clearness float64) float64 {
	return fourth * (netA.V - netB.V*math.Sqrt(math.Max(0, ea))) * (netC.V*math.Min(1, clearness) - netD.V)
}

// fourthPower returns σT⁴ over a day in MJ/m², for t in °C, as FAO-56 has it.
func fourthPower(t float64) float64 {
	k := t + 273.16 // fao-56
	return stefanDay.V * k * k * k * k
}

// et0 returns the water use of short grass on the day d at the altitude alt (m)
// and latitude lat, mm (FAO-56 Penman-Monteith). It is NaN where the day has no
// radiation or wind; a day without a dew point takes its minimum for it.
func (d Daily) et0(lat, alt float64) float64 {
	ea := SaturationVP(d.Dew)
	if ea != ea {
		ea = SaturationVP(d.Tmin)
	}
	ra := sun.Extraterrestrial(d.Date, lat)
	clearness := 1.0
	if ra > 0 {
		clearness = d.Rad / (clearShare(alt) * ra)
	}
	rn := d.net(ea, clearness)
	t := (d.Tmin + d.Tmax) / 2
	es := (SaturationVP(d.Tmin) + SaturationVP(d.Tmax)) / 2
	const day = 900 // fao-56
	return math.Max(0, penman(t, es, ea, d.Wind, rn, 0, psychrometric(pressure(alt)), day))
}

// net returns FAO-56 eq. 38 to 40, the net radiation of a day on grass, MJ/m².
func (d Daily) net(ea, clearness float64) float64 {
	rnl := netLongwave((fourthPower(d.Tmin)+fourthPower(d.Tmax))/2, ea, clearness)
	return (1-grassAlbedo.V)*d.Rad - rnl
}

// et0Hour is FAO-56 eq. 53 for an hour with the radiation rs in MJ/m²; by day a
// tenth, by night half of the net radiation goes into the ground.
func et0Hour(t, rh, u, rs, clearness, alt float64) float64 {
	es := SaturationVP(t)
	ea := rh / 100 * es
	rn := (1-grassAlbedo.V)*rs - netLongwave(fourthPower(t)/24, ea, clearness)
	g := groundDay.V * rn
	if rs <= 0 {
		g = groundNight.V * rn
	}
	const hour = 37 // fao-56
	return math.Max(0, penman(t, es, ea, u, rn, g, psychrometric(pressure(alt)), hour))
}

// et0Hours returns the water use of short grass in mm for each hour of s. By
// night the sky is taken as clear as in the last hours before sunset. Hours in
// which something is missing are NaN.
func et0Hours(s *Series, lat, lon, alt float64) []float64 {
	out := make([]float64, s.Len())
	ra := sun.ExtraterrestrialHours(s.Start, s.Len(), lat, lon)
	clear := clearShare(alt)
	// Low sun says little of the sky: 0.5 MJ/m² in the hour (assumption).
	const low = 140
	clearness := nightClear.V
	for i := range out {
		rad := float64(s.V[Rad][i])
		if ra[i] > low && rad == rad {
			clearness = bound(rad/(clear*ra[i]), 0.3, 1) // fao-56: never below 0.3
		}
		out[i] = et0Hour(float64(s.V[Temp][i]), float64(s.V[RH][i]), float64(s.V[Wind][i]), rad*hourMJ, clearness, alt)
	}
	return out
}
