package mildew

import (
	"math"

	"oidium/cite"
)

// Primary infection of grape, Caffi, Rossi, Legler & Bugiani 2011.
var (
	caffiM1     = cite.Value{V: 1.95, Lo: 1.95, Hi: 1.95, Unit: "1", Source: "caffi-2011", Grade: cite.B, What: "maturation of ascospores: scale"}
	caffiM2     = cite.Value{V: 1.91, Lo: 1.91, Hi: 1.91, Unit: "1/(100 °C d)", Source: "caffi-2011", Grade: cite.B, What: "maturation of ascospores: rate"}
	caffiBase   = cite.Value{V: 10, Lo: 10, Hi: 10, Unit: "°C", Source: "caffi-2011", Grade: cite.B, What: "maturation of ascospores: base temperature"}
	caffiD1     = cite.Value{V: 0.969, Lo: 0.969, Hi: 0.969, Unit: "1", Source: "caffi-2011", Grade: cite.B, What: "discharge of ascospores: scale"}
	caffiD2     = cite.Value{V: 0.0004, Lo: 0.0004, Hi: 0.0004, Unit: "1/(K² h)", Source: "caffi-2011", Grade: cite.B, What: "discharge of ascospores: rate"}
	caffiRain   = cite.Value{V: 2, Lo: 2, Hi: 2, Unit: "mm", Source: "caffi-2011", Grade: cite.B, What: "rain that discharges ascospores"}
	caffiCold   = cite.Value{V: 4, Lo: 4, Hi: 4, Unit: "°C", Source: "caffi-2011", Grade: cite.B, What: "discharge of ascospores: least temperature"}
	caffiHot    = cite.Value{V: 30, Lo: 30, Hi: 30, Unit: "°C", Source: "caffi-2011", Grade: cite.B, What: "discharge of ascospores: highest temperature"}
	caffiI1     = cite.Value{V: 7.391, Lo: 7.391, Hi: 7.391, Unit: "1", Source: "caffi-2011", Grade: cite.B, What: "infection by ascospores: scale"}
	caffiI2     = cite.Value{V: 2.403, Lo: 2.403, Hi: 2.403, Unit: "1", Source: "caffi-2011", Grade: cite.B, What: "infection by ascospores: inner exponent"}
	caffiI3     = cite.Value{V: 0.892, Lo: 0.892, Hi: 0.892, Unit: "1", Source: "caffi-2011", Grade: cite.B, What: "infection by ascospores: outer exponent"}
	caffiLow    = cite.Value{V: 5, Lo: 5, Hi: 5, Unit: "°C", Source: "caffi-2011", Grade: cite.B, What: "infection by ascospores: least temperature"}
	caffiHigh   = cite.Value{V: 31, Lo: 31, Hi: 31, Unit: "°C", Source: "caffi-2011", Grade: cite.B, What: "infection by ascospores: highest temperature"}
	caffiLatent = [3]cite.Value{
		{V: 44.7, Lo: 44.7, Hi: 44.7, Unit: "d", Source: "caffi-2011", Grade: cite.B, What: "latent period of grape mildew: constant"},
		{V: -3.244, Lo: -3.244, Hi: -3.244, Unit: "d/K", Source: "caffi-2011", Grade: cite.B, What: "latent period of grape mildew: slope"},
		{V: 0.067, Lo: 0.067, Hi: 0.067, Unit: "d/K²", Source: "caffi-2011", Grade: cite.B, What: "latent period of grape mildew: curvature"},
	}
)

// ripeAscospores is the share of a season's ascospores ripe after D degree days
// above 10 °C from bud break: M = exp(-1.95·exp(-1.91·D/100)).
func ripeAscospores(degrees float64) float64 {
	return math.Exp(-caffiM1.V * math.Exp(-caffiM2.V*degrees/100))
}

// dischargedAscospores is the share of ripe ones that a day discharges at mean
// temperature t, wet for the given hours, with the given rain (mm):
// d = 1 - 0.969·exp(-0.0004·T²·LW) from 2 mm on and at 4 to 30 °C, else 0.
func dischargedAscospores(t, wet, rain float64) float64 {
	if rain < caffiRain.V || t < caffiCold.V || t > caffiHot.V {
		return 0
	}
	return 1 - caffiD1.V*math.Exp(-caffiD2.V*t*t*wet)
}

// infectingAscospores is the share of discharged ones that infect at t °C in
// moist air: i = [7.391·E^2.403·(1-E)]^0.892, E = (T-5)/26. The published factor
// of vapour deficit is left out, because its unit could not be confirmed.
func infectingAscospores(t float64) float64 {
	if t <= caffiLow.V || t >= caffiHigh.V {
		return 0
	}
	e := (t - caffiLow.V) / (caffiHigh.V - caffiLow.V)
	return math.Pow(caffiI1.V*math.Pow(e, caffiI2.V)*(1-e), caffiI3.V)
}

// caffiLatentDays is the latent period of grape mildew, 44.7+0.067T²-3.244T days.
func caffiLatentDays(t float64) float64 {
	return caffiLatent[0].V + caffiLatent[1].V*t + caffiLatent[2].V*t*t
}

// spring is what is left of the carried-over mildew and how ripe it is.
type spring struct {
	gone    float64 // share discharged or broken out so far
	degrees float64 // °C d above 10 °C since bud break
	wetRun  int     // consecutive warm wet hours up to now
	wetSum  float64 // hours of warm wet runs so far
}

// wetHour counts an hour for what ripens by wetness, and reports whether it is
// part of a warm wet run.
func (s *spring) wetHour(wet bool, t float64) bool {
	if !wet || t <= wetWarm.V {
		s.wetRun = 0
		return false
	}
	s.wetRun++
	run := s.wetRun >= int(wetRun.V)
	if run {
		s.wetSum++
	}
	return run
}

// pass lets a day go by after bud break and returns the share of all carried-over
// mildew that comes to infection on it. warm is the day's thermal time of the
// crop (°C d), mean its temperature, wet its wet hours, run those in warm wet
// runs, rain in mm.
func (s *spring) pass(r refuge, warm, mean, wet float64, run int, rain float64) float64 {
	s.degrees += math.Max(0, mean-caffiBase.V)
	out := 0.0
	switch r {
	case inBuds:
		out = -math.Expm1(-warm/budPace.V) * (1 - s.gone)
	case onDebris:
		if run > 0 {
			out = debrisWet.V * (1 - s.gone)
		}
	case onDebrisW:
		if run > 0 && s.wetSum >= wetNeed.V {
			out = debrisWet.V * (1 - s.gone)
		}
	case inBark:
		ripe := ripeAscospores(s.degrees) - s.gone
		out = math.Max(0, ripe) * dischargedAscospores(mean, wet, rain)
		s.gone += out
		return out * infectingAscospores(mean)
	}
	s.gone += out
	return out
}
