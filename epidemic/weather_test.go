package epidemic

import (
	"math"

	"oidium/chance"
	"oidium/garden"
	"oidium/host"
	"oidium/mildew"
)

// spell makes days of hourly weather around a mean temperature with a daily
// swing, invented for tests; humidity follows from a fixed vapour pressure.
func spell(days int, mean, swing, moist float64, rainEvery int) []mildew.Hours {
	out := make([]mildew.Hours, days)
	for d := range out {
		h := mildew.Hours{
			T: make([]float32, 24), RH: make([]float32, 24), Wind: make([]float32, 24),
			Rain: make([]float32, 24), Sun: make([]float32, 24),
		}
		for i := range 24 {
			x := math.Cos(2 * math.Pi * float64(i-15) / 24)
			h.T[i] = float32(mean + swing*x)
			h.RH[i] = float32(min(99, max(25, moist-2.5*swing*x)))
			h.Wind[i] = float32(1.5 + max(0, x))
			h.Sun[i] = float32(700 * max(0, math.Cos(2*math.Pi*float64(i-13)/26)))
			if rainEvery > 0 && d%rainEvery == 0 && i == 20 {
				h.Rain[i] = 4
			}
		}
		out[d] = h
	}
	return out
}

func fold(p *mildew.Pathosystem, c *host.Crop, air []mildew.Hours) []mildew.Daily {
	var carry mildew.Carry
	out := make([]mildew.Daily, len(air))
	for i, h := range air {
		out[i] = p.Fold(c, h, &carry)
	}
	return out
}

// stand is a bed of 10 m² under the given weather, known throughout.
func stand(crop garden.CropID, id garden.MildewID, air []mildew.Hours) *Stand {
	c, _ := host.Get(crop)
	p, _ := mildew.Get(id)
	start, _ := garden.ParseDay("2000-06-01")
	return &Stand{
		Key:  chance.Key{Garden: 1, Season: 2000, Pathosystem: string(id), Bed: "a"},
		Crop: c, Mildew: p, Resistance: garden.Susceptible, Ground: 10,
		Planted: start, Start: start,
		Drivers: Drivers{Known: fold(p, c, air), KnownAir: air},
	}
}
