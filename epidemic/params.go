package epidemic

import (
	"math"

	"oidium/chance"
	"oidium/cite"
)

// The parameters of a member, by their place in [Params].
const (
	transmission = iota // 1/d, on the best day
	latentShift         // d, added to the shortest latent period
	infectious          // factor on the infectious period
	arrival             // colonies a day on a m² of leaf from outside, on the best day
	onset               // °C d since planting, from which arrival is in full force
	carried             // colonies on a m² of bed from what was carried over
	cultivar            // factor on infection
	efficacy            // factor on what actions achieve
	vigour              // factor on growth of leaf
	humidity            // 0: the row's humidity curve, 1: humidity never limits
	heat                // 0: first fit of the heat that kills, 1: the second
	paramCount
)

// Param names a parameter.
type Param struct {
	Name, Unit string
	Bed        bool // drawn for the bed; the others are the same in all beds of a member
}

// Names returns what the parameters are called, in the order of [Params].
func Names() [paramCount]Param {
	return [paramCount]Param{
		transmission: {Name: "transmission", Unit: "1/d"},
		latentShift:  {Name: "latent shift", Unit: "d"},
		infectious:   {Name: "infectious period", Unit: "1"},
		arrival:      {Name: "arrival", Unit: "1/m2/d"},
		onset:        {Name: "onset", Unit: "K d"},
		carried:      {Name: "carry-over", Unit: "1/m2", Bed: true},
		cultivar:     {Name: "cultivar", Unit: "1", Bed: true},
		efficacy:     {Name: "efficacy", Unit: "1"},
		vigour:       {Name: "vigour", Unit: "1", Bed: true},
		humidity:     {Name: "humidity", Unit: "1"},
		heat:         {Name: "heat", Unit: "1"},
	}
}

// Params are the uncertain numbers of one member, in the units given above.
type Params [paramCount]float64

// Position is where the parameters of a member lie within their priors, in
// standard deviations of a normal: independent standard normal numbers under the
// prior, in the order of [Params]. A method that looks for members which agree
// with what was seen moves about in positions, where the prior is the same in
// every direction.
type Position [paramCount]float64

// Draw returns the position of a member drawn from the prior. What belongs to the
// mildew, the region and the hands that treat is drawn for the whole garden, so
// that it is the same in all beds of a member; carry-over, cultivar and vigour
// are drawn for the bed.
func Draw(st *Stand, member int) Position {
	k := st.Key
	k.Member, k.Process, k.Day, k.Bed = member, chance.Parameters, 0, ""
	all := chance.New(k)
	k.Bed = st.Key.Bed
	own := chance.New(k)
	var z Position
	names := Names()
	for i := range z {
		if names[i].Bed {
			z[i] = own.Normal()
		} else {
			z[i] = all.Normal()
		}
	}
	return z
}

// Params returns the parameters at a position, each of which rises with its own
// direction of the position. The width of each prior follows the range of its
// value.
func (st *Stand) Params(z Position) Params {
	var p Params
	p[transmission] = spread(z[transmission], st.Mildew.Rate)
	p[latentShift] = shift(z[latentShift], st.Mildew.LatentBest)
	p[infectious] = spread(z[infectious], spreadInfectious)
	p[arrival] = spread(z[arrival], st.Mildew.Arrival)
	p[onset] = onsetWarm.Lo + (onsetWarm.Hi-onsetWarm.Lo)*below(z[onset])
	p[efficacy] = spread(z[efficacy], spreadEfficacy)
	p[humidity] = below(z[humidity])
	p[heat] = below(z[heat])
	p[carried] = spread(z[carried], st.Mildew.Debris)
	p[cultivar] = min(1.5, ratedAt(z[cultivar], rated(st.Resistance), spreadCultivar))
	p[vigour] = spread(z[vigour], spreadVigour)
	return p
}

// wide95 is how many standard deviations lie between the ends of a 95 % range (exact).
const wide95 = 2 * 1.959964

// logWidth is the standard deviation of the logarithm of a value whose 95 % range
// is as wide as Lo to Hi; a value without range has none.
func logWidth(v cite.Value) float64 {
	if !(v.Lo > 0) || v.Hi <= v.Lo {
		return 0
	}
	return math.Log(v.Hi/v.Lo) / wide95
}

// spread is the value at z of a lognormal whose median is V.
func spread(z float64, v cite.Value) float64 { return v.V * math.Exp(z*logWidth(v)) }

// ratedAt is the value at z of the product of two independent lognormals.
func ratedAt(z float64, a, b cite.Value) float64 {
	return a.V * b.V * math.Exp(z*math.Hypot(logWidth(a), logWidth(b)))
}

// shift is the deviation from V at z of a normal whose 95 % range is as wide as
// Lo to Hi, kept within one and a half times that range.
func shift(z float64, v cite.Value) float64 {
	return max(-3, min(3, z)) * (v.Hi - v.Lo) / wide95
}

// below is the share of a standard normal that lies below z.
func below(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
