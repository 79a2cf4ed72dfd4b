package mildew

import (
	"oidium/cite"
	"oidium/garden"
)

// row is one number of a row with its origin.
func row(v, lo, hi float64, unit, source string, grade cite.Grade, what string) cite.Value {
	return cite.Value{V: v, Lo: lo, Hi: hi, Unit: unit, Source: source, Grade: grade, What: what}
}

// beta3 is a response to temperature whose best temperature has the given source
// and grade; the ends are assumptions, drawn from the rows of the same genus.
func beta3(low, best, high float64, source string, grade cite.Grade, what string) cardinal {
	const slack = 2 // °C of doubt
	return cardinal{
		low:  row(low, low-slack, low+slack, "°C", source, cite.C, "least temperature of "+what),
		best: row(best, best-slack, best+slack, "°C", source, grade, "best temperature of "+what),
		high: row(high, high-slack, high+slack, "°C", source, cite.C, "highest temperature of "+what),
	}
}

// at is one corner of a humidity response, by relative humidity at the leaf in %.
func at(rh, v, lo, hi float64, source string, grade cite.Grade) point {
	return point{rh, row(v, lo, hi, "1", source, grade, "infection by humidity at the leaf")}
}

// colony is the leaf an established colony takes, about a square centimetre.
func colony() cite.Value {
	return row(1e-4, 0.3e-4, 2e-4, "m²", "assumption", cite.C, "leaf taken by one established colony")
}

// from is the arrival from outside, known to a factor of ten at one standard
// deviation, ninety at the ends of the 95 % range.
func from(v float64, what string) cite.Value {
	const ends = 90
	return row(v, v/ends, v*ends, "1/(m² d)", "assumption", cite.C, "colonies from outside on a m² of leaf: "+what)
}

// left is what a mildew left on the spot, ten times more or less.
func left(v float64, what string) cite.Value {
	return row(v, v/10, v*10, "1/m²", "assumption", cite.C, "colonies on a m² of bed from what was left there: "+what)
}

// pace is the transmission on the best day and leaf, half as much more or less.
// It was set so that the pace of spread in a full canopy lies within what is
// reported for the mildew (see the envelope tests).
func pace(v float64) cite.Value {
	return row(v, v/1.5, v*1.5, "1/d", "assumption", cite.C, "transmission on the best day on the most susceptible leaf")
}

// shift moves the heat curve of grape mildew for another species.
func shift(v float64, what string) cite.Value {
	return row(v, v-1, v+1, "K", "assumption", cite.C, what)
}

func sure(crops ...string) []hostCrop {
	out := make([]hostCrop, len(crops))
	for i, c := range crops {
		out[i].crop = garden.CropID(c)
	}
	return out
}

func unsure(crops ...string) []hostCrop {
	out := sure(crops...)
	for i := range out {
		out[i].low = true
	}
	return out
}
