package weather

import (
	"math"

	"oidium/cite"
	"oidium/garden"
	"oidium/sun"
)

func extraterrestrial(d garden.Day, lat float64) float64 { return sun.Extraterrestrial(d, lat) }

// The coarse climate is read off by latitude in steps of ten degrees. All of it
// is an assumption of this program, drawn by eye through what places on land
// are commonly said to be like, and checked only for order of size against four
// measured years. The doubt that goes with it is as wide as such places differ.
var (
	meanMaritime = [10]float64{26.5, 26.5, 24.5, 20, 15, 10.5, 6, -1, -12, -15}
	meanInland   = [10]float64{27, 27.5, 25.5, 21, 12.5, 6, -2, -10, -18, -22}
)

// coarseDoubt is the band of the coarse climate, an assumption like the rest.
var coarseDoubt = Doubt{Temp: 3.5, Range: 2, Dry: 2.5, Wet: 0.12, Share: 0.06, Wind: 0.35}

// Coarse returns a climate from latitude (degrees north, south negative),
// altitude (m) and whether a sea tempers the year. Grade C: it serves where
// there is no station, and its doubt is very wide. The southern half of the
// earth has the same year six months later. Source: assumption.
func Coarse(lat, alt float64, maritime bool) Climate {
	a := math.Min(90, math.Abs(lat))
	c := Climate{Latitude: lat, Altitude: alt, Maritime: maritime, Doubt: coarseDoubt, Grade: cite.C}
	table, swing := &meanInland, coarseSwingInland.V*a
	rng, rngSummer := coarseRangeInland.V, 1.5
	sdWinter, sdSummer := 1.2+0.09*a, 1.2+0.056*a
	base := Month{Dry: 1, SDDry: 2.7, Wet: 0.36, Stay: 0.28, RainMean: 7.5, Share: 0.46, SDShare: 0.16, WetRad: -0.18, Wind: 2.8}
	shareSummer, windSummer := 0.05, -0.3
	if maritime {
		table, swing = &meanMaritime, 0.3+coarseSwingCoast.V*a
		rng, rngSummer = coarseRangeCoast.V, 2.3
		sdWinter, sdSummer = 1+0.05*a, 1+0.035*a
		base = Month{Dry: -0.8, SDDry: 1.7, Wet: 0.52, Stay: 0.28, RainMean: 4.5, Share: 0.38, SDShare: 0.15, WetRad: -0.16, Wind: 2.8}
		shareSummer, windSummer = 0.05, -0.5
	}
	if maritime {
		// Where a warm current ends, coasts of one latitude differ most.
		c.Doubt.Temp += coarseNorth.V * math.Max(0, math.Min(a, 70)-60)
	}
	i := min(int(a/10), 8)
	mean := table[i] + (table[i+1]-table[i])*(a/10-float64(i)) - coarseLapse.V*alt/1000
	for k := range c.Months {
		// s is +1 in the warmest month, late July or late January.
		s := math.Cos(2 * math.Pi * (float64(k) - coarseWarmest.V) / 12)
		if lat < 0 {
			s = -s
		}
		seasonal := s * math.Min(1, a/40) // no seasons of range and cloud in the tropics
		m := base
		half := (rng + rngSummer*seasonal) / 2
		m.Tmin, m.Tmax = mean+swing*s-half, mean+swing*s+half
		sd := (sdWinter+sdSummer)/2 - (sdWinter-sdSummer)/2*s
		m.SDmin, m.SDmax = sd, 1.05*sd
		m.RainMean *= 1 + 0.2*seasonal
		m.Share += shareSummer * seasonal
		m.WetMax = -1 - 2*seasonal
		m.Wind += windSummer * seasonal
		c.Months[k] = m
	}
	return c
}
