package mildew

import (
	"math"

	"oidium/cite"
)

// Cardinal is the beta response to temperature of Yan & Hunt (1999):
//
//	f(T) = (Tmax-T)/(Tmax-Topt) · ((T-Tmin)/(Topt-Tmin))^((Topt-Tmin)/(Tmax-Topt))
//
// zero outside (Min, Max), 1 at Best. Temperatures in °C.
type Cardinal struct {
	Min, Best, Max cite.Value
}

// At returns f(t), 0 to 1.
func (c Cardinal) At(t float64) float64 {
	return beta(t, c.Min.V, c.Best.V, c.Max.V)
}

func beta(t, lo, best, hi float64) float64 {
	if t <= lo || t >= hi {
		return 0
	}
	return (hi - t) / (hi - best) * math.Pow((t-lo)/(best-lo), (best-lo)/(hi-best))
}

// Point is one corner of a response drawn by straight lines.
type Point struct {
	At float64
	Y  cite.Value
}

// lines reads the response at x; beyond the ends the end value holds.
func lines(p []Point, x float64) float64 {
	if len(p) == 0 {
		return 1
	}
	if x <= p[0].At {
		return p[0].Y.V
	}
	for i := 1; i < len(p); i++ {
		if x <= p[i].At {
			f := (x - p[i-1].At) / (p[i].At - p[i-1].At)
			return p[i-1].Y.V + f*(p[i].Y.V-p[i-1].Y.V)
		}
	}
	return p[len(p)-1].Y.V
}

// saturation returns the saturation vapour pressure over water at t °C, kPa
// (Tetens' form as given in FAO Irrigation and Drainage Paper 56, eq. 11).
func saturation(t float64) float64 {
	return 0.6108 * math.Exp(17.27*t/(t+237.3))
}

// table holds a response at quarter degrees from -20 to 60 °C, so that no
// exponential stands in a loop over hours.
type table [tableLen]float64

const (
	tableLow  = -20.0
	tableStep = 0.25
	tableLen  = 321
)

func tabulate(f func(t float64) float64) *table {
	var t table
	for i := range t {
		t[i] = f(tableLow + tableStep*float64(i))
	}
	return &t
}

// at reads the table by straight lines; beyond the ends the end value holds.
func (tb *table) at(t float64) float64 {
	x := (t - tableLow) * (1 / tableStep)
	if !(x > 0) {
		return tb[0]
	}
	if x >= tableLen-1 {
		return tb[tableLen-1]
	}
	i := int(x)
	f := x - float64(i)
	return tb[i] + f*(tb[i+1]-tb[i])
}

// killHours is the time at leaf temperature t that kills established colonies,
// log10 h = a - b·t (36 to 44 °C; used from 34 °C on).
func killHours(t, a, b float64) float64 { return math.Pow(10, a-b*t) }

// deadly turns a day's heat dose (1: the time that kills 99 %) into a hazard,
// -ln of the share that survives, with the shoulder of n hits:
//
//	S = 1 - (1-e^(-k D))^n,  k such that S(1) = 0.01
func deadly(dose float64) float64 {
	if dose < 0.02 {
		return 0
	}
	n := killHits.V
	k := -math.Log(1 - math.Pow(0.99, 1/n))
	left := 1 - math.Pow(1-math.Exp(-k*dose), n)
	return math.Min(20, -math.Log(math.Max(left, 1e-9)))
}

// settle turns the mean over a day of a conidium's rate of germination against
// the best into the share that germinates in its 48 hours, against the best:
//
//	(1 - e^(-k x)) / (1 - e^(-k))
func settle(x float64) float64 {
	return math.Expm1(-germTwoDays.V*x) / math.Expm1(-germTwoDays.V)
}

// release is the share of ripe conidia that wind of u m/s (gust at the leaf)
// lifts, by Willocquet & Clerjeau 1998:
//
//	F = min(1, e^(0.41u-5.8) / (0.71·(1+e^(0.41u-5.8))))
func release(u float64) float64 {
	e := math.Exp(releaseSlope.V*u - releaseShift.V)
	return math.Min(1, e/(releaseScale.V*(1+e)))
}
