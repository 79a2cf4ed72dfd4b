package host

import "oidium/garden"

// Warmth returns the thermal time gathered in one day at temperature t (°C)
// held for the whole day, in °C d. Hours are averaged by the caller.
//
//	W = max(0, min(T, Ceiling) - Base)
func (c *Crop) Warmth(t float64) float64 {
	if t > c.Ceiling.V {
		t = c.Ceiling.V
	}
	if t <= c.Base.V {
		return 0
	}
	return t - c.Base.V
}

// Unfold returns the leaf area that unfolds in a day, m²/m²: logistic growth by
// thermal time, carried by the leaf area that still works.
//
//	dL = Growth * load * warmth * working * (1 - standing/LeafMax)
//
// standing and working are leaf areas in m²/m² (working leaves mildewed leaf
// out), warmth is the day's thermal time in °C d, and fruit the fruit load from 0,
// none, to 1, full (see [Crop.Bear]).
func (c *Crop) Unfold(standing, working, warmth, fruit float64) float64 {
	room := 1 - standing/c.LeafMax.V
	if room <= 0 {
		return 0
	}
	// A nearly bare plant still unfolds its buds.
	if least := 0.25 * c.LeafSet.V; working < least {
		working = least
	}
	grow := c.Growth.V * warmth * (1 - fruit*(1-c.Load.V))
	if grow > 1 {
		grow = 1
	}
	return grow * working * room
}

// Bear returns the fruit load in the evening of a day of the given warmth (°C d)
// that began with load fruit, when since (°C d) had been gathered since planting:
// nothing before the first fruit, then in a straight line to full load over as
// much thermal time again. Fruit that is picked is taken out by the caller; the
// plant sets new fruit at the same pace.
//
//	dF = warmth / Fruit, from Fruit on, F ≤ 1
func (c *Crop) Bear(fruit, since, warmth float64) float64 {
	if c.Load.V >= 1 || c.Fruit.V <= 0 {
		return 0
	}
	return min(1, fruit+max(0, since+warmth-max(since, c.Fruit.V))/c.Fruit.V)
}

// Fall returns the share of a healthy leaf of the given age (days) that falls in
// a day: none up to Lifespan, then such that most is gone in half a lifespan more.
func (c *Crop) Fall(age float64) float64 {
	if age <= c.Lifespan.V {
		return 0
	}
	return min(0.5, 4/c.Lifespan.V)
}

// AgeOf returns the class that a leaf of the given age (days) is counted in.
func (c *Crop) AgeOf(age float64) garden.LeafAge {
	switch {
	case age <= c.Young.V:
		return garden.Young
	case age < c.Old.V:
		return garden.Middle
	}
	return garden.Old
}
