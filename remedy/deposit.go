package remedy

import (
	"math"

	"oidium/cite"
	"oidium/garden"
)

// Deposit returns what a recorded treatment does to the bed, one effect a day
// for the given number of days from the day of the treatment on:
//
//	control(t) = E0 · cover · resist · D (1+D50)/(D+D50)
//	D(t)       = 2^(−t/half-life) · W(rain)
//
// where E0 is the share of new infections a fresh deposit stops, cover the share
// of a full deposit that reaches a face, resist what resistance leaves, D the
// deposit left and W what rain has left of it. Leaf that unfolded after the
// treatment is unprotected (Effect.Since). The share of standing colonies killed
// is spread over the day of the treatment and the next.
//
// rainMM is the rain of each day from the day of the treatment on; days beyond
// its end count as dry. Rain of the first two days counts as heavy on a fresh
// deposit, since its intensity is not known. below says that the underside was
// sprayed too. A treatment of a test leaf has no effect on the bed.
//
// Source of the form: treatments compiled for this program; D50 is an assumption.
func Deposit(m *Material, tr garden.Treatment, rainMM []float64, days int, below bool, sprayer garden.Sprayer) []garden.Effect {
	if tr.Test || days <= 0 {
		return nil
	}
	first := garden.DayOf(tr.Start)
	cover := coverOf(m, below, sprayer.Kind)
	resist := 1 - m.resistant.V*resistWeight.V
	out := make([]garden.Effect, days)
	var fresh, later float64
	for d := range out {
		e := garden.Effect{Bed: tr.Bed, Day: first + garden.Day(d), Since: first}
		// Rain of a day weakens what stands from the next day on.
		left := math.Exp2(-float64(d)/m.HalfLife.V) * washed(m.Rain, fresh, later)
		strength := effectOf(left)
		for f := range garden.Faces {
			e.Stop[f] = m.Protective.V * cover[f] * resist * strength
			if d < 2 {
				// Two equal parts that together kill the whole share.
				e.Kill[f] = (1 - math.Sqrt(1-m.Curative.V*cover[f]*resist)) * strength
			}
		}
		out[d] = e
		if d < len(rainMM) {
			if d == 0 {
				fresh = rainMM[d]
			} else {
				later += rainMM[d]
			}
		}
	}
	return out
}

// effectOf returns the effect that is left with the deposit left, 1 for a fresh
// deposit: D(1+D50)/(D+D50).
func effectOf(left float64) float64 {
	return left * (1 + depositHalf.V) / (left + depositHalf.V)
}

// coverOf returns the share of a full deposit that reaches each face.
func coverOf(m *Material, below bool, kind string) [garden.Faces]float64 {
	var v [2]cite.Value
	switch kind {
	case "air-assisted":
		v = coverAir
	case "boom":
		v = coverBoom
	default: // hand lance, knapsack, not stated
		v = coverBoom
		if below {
			v = coverLance
		}
	}
	out := [garden.Faces]float64{v[0].V, v[1].V}
	switch m.Form {
	case "root":
		return [garden.Faces]float64{1, 1} // through the plant, both faces alike
	case "dust", "vapour":
		out[garden.Lower] = min(1, out[garden.Lower]+coverDustBonus.V)
	}
	return out
}
