package mildew

import (
	"math"

	"oidium/cite"
	"oidium/weather"
)

// cardinal is the beta response to temperature of Yan & Hunt (yan-hunt-1999):
//
//	f(T) = (Tmax-T)/(Tmax-Topt) · ((T-Tmin)/(Topt-Tmin))^((Topt-Tmin)/(Tmax-Topt))
//
// zero outside (low, high), 1 at best. Temperatures in °C.
type cardinal struct {
	low, best, high cite.Value
}

func (c cardinal) at(t float64) float64 { return beta(t, c.low.V, c.best.V, c.high.V) }

func beta(t, low, best, high float64) float64 {
	if t <= low || t >= high {
		return 0
	}
	return (high - t) / (high - best) * math.Pow((t-low)/(best-low), (best-low)/(high-best))
}

// hump is the response to temperature of Calonnec and others 2008 (grape):
//
//	φ(T) = τⁿ (1-τ)^m (m+n)^(m+n) / (nⁿ m^m),  τ = (T-5)/28, 0 outside 0..1
func hump(t, m, n float64) float64 {
	tau := (t - humpLow.V) / (humpHigh.V - humpLow.V)
	if tau <= 0 || tau >= 1 {
		return 0
	}
	return math.Pow(tau, n) * math.Pow(1-tau, m) * math.Pow(m+n, m+n) / (math.Pow(n, n) * math.Pow(m, m))
}

// point is one corner of a response drawn by straight lines.
type point struct {
	at float64
	y  cite.Value
}

// lines reads the response at x; beyond the ends the end value holds, and a
// response without corners is 1.
func lines(p []point, x float64) float64 {
	if len(p) == 0 {
		return 1
	}
	if x <= p[0].at {
		return p[0].y.V
	}
	for i := 1; i < len(p); i++ {
		if x <= p[i].at {
			f := (x - p[i-1].at) / (p[i].at - p[i-1].at)
			return p[i-1].y.V + f*(p[i].y.V-p[i-1].y.V)
		}
	}
	return p[len(p)-1].y.V
}

// saturated returns the vapour pressure of saturated air, kPa.
func saturated(t float64) float64 { return weather.SaturationVP(t) }

// killHours is the time at leaf temperature t that kills established colonies,
// log10 h = a - b·t (36 to 44 °C; used from 34 °C on).
func killHours(t, a, b float64) float64 { return math.Pow(10, a-b*t) }

// shoulder is the share that survives a dose x when it takes n hits:
//
//	S = 1 - (1-e^(-x))^n
func shoulder(x, n float64) float64 { return 1 - math.Pow(-math.Expm1(-x), n) }

// deadly turns a day's heat dose (1: the time that kills 99 %) into a hazard,
// -ln of the share that survives; numerical bounds keep it finite.
func deadly(dose float64) float64 {
	const nothing, most, last = 0.02, 20, 1e-9 // numerical
	if dose < nothing {
		return 0
	}
	n := killHits.V
	// k such that one in a hundred survives a dose of 1 (exact).
	k := -math.Log(1 - math.Pow(0.99, 1/n))
	return math.Min(most, -math.Log(math.Max(shoulder(k*dose, n), last)))
}

// rayed returns the share of colonies that UV-C and UV-B given at night, J/m²,
// kill on a face that gets the share given of the dose.
func rayed(uvc, uvb, share float64) float64 {
	if uvc <= 0 && uvb <= 0 {
		return 0
	}
	return 1 - shoulder(rayUVCRate.V*uvc*share, rayUVCHits.V)*shoulder(rayUVBRate.V*uvb*share, rayUVBHits.V)
}

// settle turns the mean over a day of a conidium's rate of germination against
// the best into the share that germinates in its 48 hours, against the best:
//
//	(1 - e^(-k x)) / (1 - e^(-k)),  k = 48 h · rate
func settle(x float64) float64 {
	k := germLife.V * germHour.V
	return math.Expm1(-k*x) / math.Expm1(-k)
}

// release is the share of ripe conidia that wind of u m/s (gust at the leaf)
// lifts, by Willocquet & Clerjeau 1998:
//
//	F = min(1, e^(0.41u-5.8) / (0.71·(1+e^(0.41u-5.8))))
func release(u float64) float64 {
	e := math.Exp(releaseSlope.V*u - releaseShift.V)
	return math.Min(1, e/(releaseScale.V*(1+e)))
}
