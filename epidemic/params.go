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
	onset               // d since Start, from which arrival is in full force
	carried             // colonies on a m² of bed from what was carried over
	cultivar            // factor on infection
	efficacy            // factor on what actions achieve
	vigour              // factor on growth of leaf
	humidity            // 0: the row's humidity curve, 1: humidity never limits
	heat                // 0: first fit of the heat that kills, 1: the second
	paramCount
)

// ParamNames names the parameters in the order of [Params].
var ParamNames = [paramCount]string{
	"transmission", "latent shift", "infectious period", "arrival", "onset", "carry-over",
	"cultivar", "efficacy", "vigour", "humidity", "heat",
}

// Params are the uncertain numbers of one member, in the units given above.
type Params [paramCount]float64

// Draw returns the parameters of a member from their priors, whose width follows
// the range of each value. What belongs to the mildew, the region and the hands
// that treat is drawn for the whole garden, so that it is the same in all beds
// of a member; carry-over, cultivar and vigour are drawn for the bed.
func Draw(st *Stand, member int) Params {
	k := st.Key
	k.Member, k.Process, k.Day, k.Bed = member, chance.Parameters, 0, ""
	all := chance.New(k)
	k.Bed = st.Key.Bed
	own := chance.New(k)
	var p Params
	p[transmission] = spread(all, st.Mildew.Rate)
	p[latentShift] = shift(all, st.Mildew.LatentBest)
	p[infectious] = spread(all, spreadInfectious)
	p[arrival] = spread(all, st.Mildew.Arrival)
	p[onset] = onsetDays.Lo + (onsetDays.Hi-onsetDays.Lo)*all.Uniform()
	p[efficacy] = spread(all, spreadEfficacy)
	p[humidity] = all.Uniform()
	p[heat] = all.Uniform()
	p[carried] = spread(own, st.Mildew.Debris)
	p[cultivar] = min(1.5, spread(own, rated(st.Resistance))*spread(own, spreadCultivar))
	p[vigour] = spread(own, spreadVigour)
	return p
}

// wide95 is how many standard deviations lie between the ends of a 95 % range.
const wide95 = 2 * 1.959964

// spread draws from a lognormal whose median is V and whose 95 % range is as wide
// as Lo to Hi; a value without range is itself.
func spread(s *chance.Stream, v cite.Value) float64 {
	z := s.Normal()
	if !(v.Lo > 0) || v.Hi <= v.Lo {
		return v.V
	}
	return v.V * math.Exp(z*math.Log(v.Hi/v.Lo)/wide95)
}

// shift draws the deviation from V of a normal whose 95 % range is as wide as Lo
// to Hi, kept within one and a half times that range.
func shift(s *chance.Stream, v cite.Value) float64 {
	z := max(-3, min(3, s.Normal()))
	return z * (v.Hi - v.Lo) / wide95
}
