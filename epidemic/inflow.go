package epidemic

import "math"

// Source is a neighbouring bed as it sends conidia.
type Source struct {
	Infectious []float64 // infectious area by day, m² a m² of ground; see MeanInfectious
	Ground     float64   // m²
	Distance   float64   // m, from bed to bed
	// Wind is the share of conidia carried towards the receiver by day against
	// no preference; nil is 1 on every day.
	Wind []float64
}

// Inflow returns the pressure of conidia from neighbouring beds by day, in
// infectious m² a m² of ground of the receiver, as if it stood there itself:
//
//	J = Σ I · ground · wind · a (x+c)^-b / own
//
// the modified Gregory gradient, with a such that all conidia come down
// somewhere on the plane: a = (b-1)(b-2) c^(b-2) / 2π.
func Inflow(sources []Source, days int) []float64 {
	b, c := gregoryPower.V, gregoryNear.V
	a := (b - 1) * (b - 2) * math.Pow(c, b-2) / (2 * math.Pi)
	out := make([]float64, days)
	for _, s := range sources {
		k := s.Ground * a * math.Pow(math.Max(0, s.Distance)+c, -b) / ownShare.V
		for i := range min(days, len(s.Infectious)) {
			w := 1.0
			if i < len(s.Wind) {
				w = s.Wind[i]
			}
			out[i] += k * w * s.Infectious[i]
		}
	}
	return out
}
