package mildew

import (
	"math"

	"oidium/garden"
	"oidium/host"
)

// Hours is one day of hourly weather at the bed, from midnight to midnight of
// the garden's zone; all slices that are not nil have the same length, 23 to 25.
type Hours struct {
	T     []float32 // air temperature, °C
	RH    []float32 // relative humidity, %; nil or NaN: not known
	Wind  []float32 // mean wind at the crop, m/s; nil or NaN: not known
	Rain  []float32 // mm in the hour; nil: none reaches the leaf
	Water []float32 // overhead irrigation, mm in the hour; nil: none
	Sun   []float32 // global radiation, W/m²; nil: leaf is taken at air temperature
	Light float32   // hours of light a day with lamps, 0: up to 18
	UVC   float32   // UV-C at the upper face in the night before, followed by dark, J/m²
	UVB   float32   // the same of UV-B
}

// Daily is what a day of weather does to one mildew on one crop. It is the same
// for all members of an ensemble that see this weather.
type Daily struct {
	Latent     float64               // share of the latent period passed
	Ageing     float64               // share of the infectious period passed
	Emit       float64               // conidia released by a colony, 1 on the best day
	Infect     [garden.Faces]float64 // efficiency of conidia on leaf, 1 on the best day
	InfectAny  [garden.Faces]float64 // the same if humidity never limited
	Outside    float64               // share of conidia from outside that reach the leaf
	Primary    float64               // share of the carried-over mildew that comes to infection
	Harm       float64               // infection prevented on leaf in full sun
	Heat       [2][2]float64         // hazard of heat to infectious colonies: end of the fit × shade, sun leaf
	HeatLatent [2][2]float64         // the same for latent colonies
	Wash       [garden.Faces]float64 // share of infectious colonies destroyed by water
	Rays       [garden.Faces]float64 // share of all colonies killed by lamps
	Warmth     float64               // thermal time of the crop, °C d
}

// Carry is what one day hands to the next: ripe conidia on the colonies, how
// long ago water, cold and heat were, and what is left of the carried-over
// mildew. The zero value is the morning of the season's first day.
type Carry struct {
	began  bool
	warm   float64 // thermal time of the crop since the start, °C d
	stock  float64 // ripe conidia on a colony, in days of best sporulation
	wash   float64 // hours of hindrance by water left
	cold   float64 // hours of hindrance by cold left
	debt   float64 // hours of latency to be made up for after heat
	calm   float64 // hours since heat last checked growth
	slow   float64 // growth lost to heat, fading
	before float64 // relative humidity of the last hour
	spring spring
}

// Fold turns a day of hours into daily factors, for the mildew p on crop c, and
// moves carry on by a day. It reads h only and allocates nothing.
func (p *Pathosystem) Fold(c *host.Crop, h Hours, carry *Carry) Daily {
	var d Daily
	n := len(h.T)
	if n == 0 {
		return d
	}
	f := p.fast
	if !carry.began {
		carry.began, carry.calm, carry.before = true, checkPause.V+1, math.NaN()
	}
	step := 1 / float64(n)
	day := 1.0 // sporulation by length of light
	if l := float64(h.Light); l > dayFull.V {
		day = 1 - (1-dayLeft.V)*(math.Min(l, 24)-dayFull.V)/(24-dayFull.V)
	}
	coldHours, wetHours, wetRuns, rain, light, mean := 0, 0, 0, 0.0, 0.0, 0.0
	for i := range n {
		t := float64(h.T[i])
		if math.IsNaN(t) {
			continue // an hour without temperature passes without effect
		}
		rh := known(h.RH, i, noHumidity.V)
		wind := known(h.Wind, i, noWind.V)
		water := known(h.Rain, i, 0) + known(h.Water, i, 0)
		sun := known(h.Sun, i, 0)

		rain += water
		light += math.Max(0, sun) * step
		wet := water > 0 || rh >= wetFrom.V
		if wet {
			wetHours++
		}
		if carry.spring.wetHour(wet, t) {
			wetRuns++
		}

		rise := c.Sunned.V * math.Min(1, math.Max(0, sun)/sunFull.V) / (1 + sunWind.V*wind)
		leaf := t + sunMean.V*rise
		hot := t + rise

		// Heat: the dose that kills, and the check on growth without repeat.
		if hot >= f.harmless {
			for e := range f.kill {
				d.Heat[e][0] += f.kill[e].at(t)
				d.Heat[e][1] += f.kill[e].at(hot)
				d.HeatLatent[e][0] += f.killLatent[e].at(t)
				d.HeatLatent[e][1] += f.killLatent[e].at(hot)
			}
		}
		carry.calm++
		if leaf-p.heatShift.V >= checkFrom.V {
			if carry.calm > checkPause.V {
				carry.debt = 24 * checkDelay.V
				if leaf-p.heatShift.V >= checkHard.V {
					carry.debt *= 2
				}
				carry.slow = 1 - checkGrow.V
			}
			carry.calm = 0
		}

		// Cold: two hours harm infection for a day.
		if t < coldBelow.V {
			if coldHours++; coldHours >= 2 {
				carry.cold = 24
			}
		}
		infect, latent := 1.0, 1.0
		if carry.cold > 0 {
			infect, latent = coldInfect.V, coldLatent.V
			carry.cold--
		}

		// Latency by temperature alone.
		if carry.debt > 0 {
			carry.debt--
		} else {
			d.Latent += f.latent.at(leaf) * latent * step
		}
		d.Ageing += f.ageing.at(leaf) * step

		// Water: it takes ripe conidia, hinders germination, breaks colonies.
		spore := f.spore.at(leaf) * day
		if water > 0 {
			spore *= wetSpore.V
		}
		if water >= rainHard.V {
			carry.stock *= rainStock.V
			carry.wash = 12
			d.Wash[garden.Upper] += rainColony.V
			d.Outside += rainOutside.V * step
		} else {
			d.Outside += step
		}
		upper, lower := 1.0, 1.0
		if carry.wash > 0 {
			upper = rainInfect.V
			lower = 1 - rainBelow.V*(1-rainInfect.V)
			carry.wash--
		}

		// Ripe conidia are made, die, and leave with wind or in drying air.
		carry.stock += spore * step
		carry.stock *= 1 - stockDeath.V*step
		free := stillRelease.V + f.wind.at(gust.V*wind)
		if hour := 24 * i / n; (hour < 9 || hour >= 17) && !(rh < carry.before) {
			free *= nightRelease.V
		}
		gone := carry.stock * math.Min(1, free)
		carry.stock -= gone
		d.Emit += gone * (1 - carry.slow)
		carry.before = rh

		whole := f.infect.at(leaf) * infect * step
		with := whole * p.humid(rh, f.vapour.at(leaf))
		d.InfectAny[garden.Upper] += whole * upper
		d.InfectAny[garden.Lower] += whole * lower
		d.Infect[garden.Upper] += with * upper
		d.Infect[garden.Lower] += with * lower

		d.Warmth += c.Warmth(t) * step
		mean += t * step
	}
	carry.slow *= slowFades.V
	d.Emit /= freeShare.V
	for face := range d.Infect {
		d.Infect[face] = settle(d.Infect[face])
		d.InfectAny[face] = settle(d.InfectAny[face])
	}
	for e := range d.Heat {
		for l := range d.Heat[e] {
			d.Heat[e][l] = deadly(d.Heat[e][l])
			d.HeatLatent[e][l] = deadly(d.HeatLatent[e][l])
		}
	}
	d.Wash[garden.Upper] = math.Min(1, d.Wash[garden.Upper])
	d.Wash[garden.Lower] = rainBelow.V * d.Wash[garden.Upper]
	d.Rays[garden.Upper] = rayed(float64(h.UVC), float64(h.UVB), 1)
	d.Rays[garden.Lower] = rayed(float64(h.UVC), float64(h.UVB), rayBelow.V)
	d.Harm = sunHarm.V * math.Min(1, light/sunBright.V)
	carry.warm += d.Warmth
	if !c.Perennial || carry.warm >= c.Bud.V {
		d.Primary = carry.spring.pass(p.refuge, d.Warmth, mean, float64(wetHours)*24*step, wetRuns, rain)
	}
	return d
}

// humid returns the factor of humidity on infection. The layer at the leaf is
// moister than the air by airToLeaf.
func (p *Pathosystem) humid(rh, saturated float64) float64 {
	dry := airToLeaf.V * math.Max(0, 100-rh)
	if p.deficit {
		return p.fast.moist.at(saturated * dry / 100)
	}
	return p.fast.moist.at(100 - dry)
}

// known reads x[i], or the usual value where nothing is known.
func known(x []float32, i int, usual float64) float64 {
	if i >= len(x) {
		return usual
	}
	v := float64(x[i])
	if math.IsNaN(v) {
		return usual
	}
	return v
}
