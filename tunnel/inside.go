package tunnel

import (
	"math"

	"oidium/sun"
	"oidium/weather"
)

// How the vents stand, in the words of garden.Setting.
const (
	ventsOpen   = "open"
	ventsClosed = "closed"
	ventsByDay  = "day" // open while the sun is up
)

// Params is what a tunnel is like. The zero value is an empty, unshaded walk-in
// tunnel of a single film with its vents open by day.
type Params struct {
	Vents   string  // "open", "closed" or "day"; "" means "day"
	Shade   float64 // share of the light kept off by cloth or whitewash, 0 to 1
	Cropped bool    // a standing crop that transpires
	Double  bool    // two layers of film
	Height  float64 // mean height, m; 0 means 2.2
	Cover   float64 // area of film over area of floor; 0 means 1.6
}

// Inside returns the series inside a tunnel for the series outside. The balance
// of heat for a square metre of floor is
//
//	ΔT = S τ (1−shade) (1−a) f (1−g) / (U w + ρcp h N / 3600)
//
// with S radiation outside, τ passed by the film, a reflected, f share that
// warms the air, g share into the ground, U loss of the film, w film over floor,
// h mean height, N changes of air an hour. Vapour: what crop and ground give off
// leaves with the air and condenses on film colder than its dew point.
//
// Hours in which the outside temperature or radiation is missing stay missing;
// fill first. Measured values come out as derived, others keep their flag. Rain
// inside is none. The series must be at lat and lon (degrees), by which the sun
// is known to be up.
func Inside(out *weather.Series, lat, lon float64, p Params) *weather.Series {
	in := weather.NewSeries(out.Start, out.Len())
	b := balanceOf(p)
	ra := sun.ExtraterrestrialHours(out.Start, out.Len(), lat, lon)
	for i, up := range ra {
		t, s := float64(out.V[weather.Temp][i]), float64(out.V[weather.Rad][i])
		u := float64(out.V[weather.Wind][i])
		if u != u {
			u = 1
		}
		open := p.Vents == ventsOpen || (p.Vents != ventsClosed && up > 0)
		inT, light := b.heat(t, s, u, open)
		flag := func(v weather.Var) weather.Flag { return derived(out.F[v][i]) }
		in.Set(weather.Temp, i, inT, max(flag(weather.Temp), flag(weather.Rad)))
		in.Set(weather.Rad, i, light, flag(weather.Rad))
		rh := b.vapour(t, inT, float64(out.V[weather.RH][i]), s, u, open)
		in.Set(weather.RH, i, rh, max(flag(weather.RH), flag(weather.Temp), flag(weather.Rad)))
		in.Set(weather.Wind, i, b.wind(u, open), max(flag(weather.Wind), weather.Derived))
		in.Set(weather.Rain, i, 0, weather.Derived)
	}
	return in
}

// derived is the flag of what was computed from a value with the flag f.
func derived(f weather.Flag) weather.Flag {
	if f == weather.Measured {
		return weather.Derived
	}
	return f
}

// balance holds the numbers of one tunnel.
type balance struct {
	pass, sens, soil    float64
	loss, cover, height float64
	crop                bool
}

func balanceOf(p Params) balance {
	b := balance{
		pass: passes.V * (1 - math.Max(0, math.Min(1, p.Shade))), sens: sensEmpty.V, soil: soilEmpty.V,
		loss: 1, cover: coverRatio.V, height: meanHeight.V, crop: p.Cropped,
	}
	if p.Cropped {
		b.sens, b.soil = sensCrop.V, soilCrop.V
	}
	if p.Double {
		b.loss = lossDouble.V
		b.pass *= passesSecond.V
	}
	if p.Height > 0 {
		b.height = p.Height
	}
	if p.Cover > 0 {
		b.cover = p.Cover
	}
	return b
}

// changes returns the changes of air an hour.
func (b balance) changes(u float64, open bool) float64 {
	if !open {
		return airClosed.V
	}
	return math.Min(airMost.V, airOpen.V+airWind.V*u)
}

// rise is the balance of heat: K above the outside for s W/m² of light outside,
// a film that loses u W/m²/K and n changes of air an hour.
func (b balance) rise(s, u, n float64) float64 {
	return s * b.pass * (1 - reflects.V) * b.sens * (1 - b.soil) / b.out(u, n)
}

// out is what a degree of difference carries away, W/m²/K of floor.
func (b balance) out(u, n float64) float64 {
	return u*b.cover + airHeat.V*b.height*n/3600
}

// heat returns temperature and light inside.
func (b balance) heat(t, s, wind float64, open bool) (inside, light float64) {
	u := b.loss * (lossStill.V + lossWind.V*wind)
	n := b.changes(wind, open)
	inside = t + b.rise(s, u, n)
	if s < darkBelow {
		inside += nightGround.V / b.out(u, n)
	}
	return inside, s * b.pass
}

// darkBelow is the radiation in W/m² below which the ground gives heat back.
const darkBelow = 20

// vapour returns the relative humidity inside.
func (b balance) vapour(t, inT, rh, s, wind float64, open bool) float64 {
	outE := weather.VapourPressure(t, rh)
	latent := s * b.pass * (1 - reflects.V) * (1 - b.soil) * (1 - b.sens)
	if s < darkBelow && b.crop {
		latent += nightWater.V
	}
	// W/m² of latent heat for a kPa of difference.
	air := airHeat.V / gamma.V * b.height * b.changes(wind, open) / 3600
	film := b.cover * filmInside.V / gamma.V
	ho := filmOutside.V + filmWind.V*wind
	cold := t + (inT-t)*filmInside.V/(filmInside.V+ho)
	if s < darkBelow {
		cold -= filmSky.V
	}
	e := outE + latent/air
	if sat := weather.SaturationVP(cold); e > sat {
		e = (air*outE + film*sat + latent) / (air + film)
	}
	return weather.RHFrom(inT, e)
}

func (b balance) wind(u float64, open bool) float64 {
	if !open {
		return windClosed.V
	}
	return math.Max(windClosed.V, windOpen.V*u)
}
