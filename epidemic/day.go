package epidemic

import (
	"errors"
	"fmt"
	"math"

	"oidium/garden"
	"oidium/mildew"
)

// day is what one day does to every member that sees its weather: the folded
// weather, the cohorts' ages, and the actions laid onto the cohorts.
type day struct {
	mildew.Daily
	index       int     // since Start
	opens       bool    // a new cohort begins
	planted     float64 // leaf area set out today
	alive       bool
	since       float64 // thermal time since planting, °C d
	fruit       float64 // fruit load, 0 to 1
	pick        float64 // share of it picked today
	inflow      float64
	acts        bool // leaf is taken off or colonies are killed by an action
	stops       bool // some leaf is protected
	hurt        bool // heat, water or lamps kill colonies today
	susceptible [cohorts]float64
	age         [cohorts]garden.LeafAge // in the evening
	sun         [cohorts]float64        // share of leaf in the sun
	fall        [cohorts]float64
	remove      [cohorts]float64
	stop        [cohorts][faces]float64
	kill        [cohorts][faces]float64
	freeFall    float64 // share of an untouched canopy that falls
}

// canopy is the planting without mildew, of middling vigour: as it is treated
// (area) and if no leaf were ever taken (free).
type canopy struct {
	area, free [cohorts]float64
	old        float64 // mean age of the leaf in the oldest cohort, d
	up         bool    // planted, or in leaf
	warm       float64 // thermal time since the start, °C d
	since      float64 // thermal time since planting or bud break, °C d
	fruit      float64 // fruit load, 0 to 1
}

func total(a *[cohorts]float64) float64 {
	sum := 0.0
	for _, x := range a {
		sum += x
	}
	return sum
}

// before returns the canopy on the morning of Start. A planting set out earlier
// is grown to Start at the mean warmth of the first week known.
func (st *Stand) before() canopy {
	var c canopy
	if st.Crop.Perennial || st.Planted >= st.Start {
		return c
	}
	first := st.Drivers.Known
	if len(first) == 0 {
		first = st.Drivers.Ahead[0]
	}
	first = first[:min(7, len(first))]
	warmth := 0.0
	for _, d := range first {
		warmth += d.Warmth / float64(len(first))
	}
	span := min(150, int(st.Start-st.Planted))
	for i := -span; i < 0; i++ {
		var d day
		d.Warmth, d.index = warmth, i
		if i == -span {
			d.planted, c.up = st.Crop.LeafSet.V, true
		}
		c.grow(st, &d)
	}
	return c
}

// lay makes the rows of the days that follow from index on, and moves c along.
func (st *Stand) lay(c *canopy, from int, weather []mildew.Daily, effects []garden.Effect) []day {
	out := make([]day, len(weather))
	for i := range out {
		d := &out[i]
		d.Daily, d.index = weather[i], from+i
		on := st.Start + garden.Day(d.index)
		if !c.up && (st.Crop.Perennial && c.warm >= st.Crop.Bud.V || !st.Crop.Perennial && on >= st.Planted) {
			d.planted, c.up = st.Crop.LeafSet.V, true
		}
		if d.index < len(st.Inflow) {
			d.inflow = math.Max(0, st.Inflow[d.index])
		}
		d.hurt = d.HeatLatent[0][1] > 0 || d.HeatLatent[1][1] > 0 || d.Wash[0] > 0 || d.Rays[0] > 0
		c.grow(st, d, effects...)
	}
	return out
}

// grow fills in the cohorts of day d and moves the canopy to the evening.
func (c *canopy) grow(st *Stand, d *day, effects ...garden.Effect) {
	on := st.Start + garden.Day(d.index)
	phase := int(on) % window
	if phase < 0 {
		phase += window
	}
	if phase == 0 {
		d.opens = true
		if a := c.free[0] + c.free[1]; a > 0 {
			c.old = (c.old*c.free[0] + (cohorts-2+0.5)*window*c.free[1]) / a
		}
		for _, a := range []*[cohorts]float64{&c.area, &c.free} {
			a[0] += a[1]
			copy(a[1:], a[2:])
			a[cohorts-1] = 0
		}
	}
	if d.planted > 0 {
		for _, a := range []*[cohorts]float64{&c.area, &c.free} {
			a[cohorts-1] += d.planted / 2
			a[cohorts-2] += d.planted / 2
		}
	}

	// Ages and what hangs on them.
	var age [cohorts]float64
	for k := range age {
		age[k] = float64((cohorts-1-k)*window+phase) + 0.5 - window/2.
	}
	age[cohorts-1] = float64(phase+1) / 2
	age[0] = math.Max(c.old, age[0])
	for k := range age {
		d.susceptible[k] = st.Mildew.Susceptible(age[k])
		d.age[k] = st.Crop.AgeOf(age[k] + 0.5)
		d.fall[k] = st.Crop.Fall(age[k])
	}

	// Light: young leaf stands on top.
	above := 0.0
	for k := cohorts - 1; k >= 0; k-- {
		d.sun[k] = math.Exp(-st.Crop.Light.V * (above + c.area[k]/2))
		above += c.area[k]
		d.susceptible[k] *= 1 - d.Harm*d.sun[k]
	}

	for _, e := range effects {
		if e.Day != on || e.Bed != "" && string(e.Bed) != st.Key.Bed {
			continue
		}
		d.lay(e, on, phase)
	}
	if d.acts {
		for k := range c.area {
			c.area[k] *= 1 - d.remove[k]
		}
	}
	c.fruit *= 1 - d.pick
	before := total(&c.free)
	for _, a := range []*[cohorts]float64{&c.area, &c.free} {
		standing := total(a)
		for k := range a {
			if a == &c.free {
				d.freeFall += a[k] * d.fall[k]
			}
			a[k] *= 1 - d.fall[k]
		}
		if c.up {
			a[cohorts-1] += st.Crop.Unfold(standing, standing, d.Warmth, c.fruit)
		}
	}
	d.alive, d.since, d.fruit = c.up, c.since, c.fruit
	if before > 0 {
		d.freeFall /= before
	}
	c.warm += d.Warmth
	if c.up {
		c.fruit = st.Crop.Bear(c.fruit, c.since, d.Warmth)
		c.since += d.Warmth
	}
	c.old++
}

// lay lays one effect onto the cohorts.
func (d *day) lay(e garden.Effect, on garden.Day, phase int) {
	d.pick = both(d.pick, bound(e.Pick))
	for k := range cohorts {
		share := 1.0 // of the cohort that had unfolded by e.Since
		if e.Since != 0 && k > 0 {
			birth := on - garden.Day(phase+(cohorts-1-k)*window)
			span := float64(window)
			if k == cohorts-1 {
				span = float64(phase + 1)
			}
			share = min(1, max(0, float64(e.Since-birth+1)/span))
		}
		for f := range faces {
			d.stop[k][f] = both(d.stop[k][f], share*bound(e.Stop[f]))
			d.kill[k][f] = both(d.kill[k][f], share*bound(e.Kill[f]))
			d.acts = d.acts || d.kill[k][f] > 0
			d.stops = d.stops || d.stop[k][f] > 0
		}
		d.remove[k] = both(d.remove[k], bound(e.Remove[d.age[k]]))
		d.acts = d.acts || d.remove[k] > 0
	}
}

// both is the share that at least one of two independent shares reaches.
func both(a, b float64) float64 { return 1 - (1-a)*(1-b) }

func bound(x float64) float64 { return min(1, max(0, x)) }

// climate folds the days again if effects change the climate at the leaf. weather
// begins at index from; air begins at Start and reaches as far as weather.
func (st *Stand) climate(weather []mildew.Daily, from int, air []mildew.Hours, effects []garden.Effect) ([]mildew.Daily, error) {
	type change struct{ warmer, wetter float64 }
	changes := make(map[int]change)
	for _, e := range effects {
		i := int(e.Day - st.Start)
		if e.Warmer == 0 && e.Wetter == 0 || i < 0 || i >= from+len(weather) || e.Bed != "" && string(e.Bed) != st.Key.Bed {
			continue
		}
		c := changes[i]
		changes[i] = change{c.warmer + e.Warmer, c.wetter + e.Wetter}
	}
	if len(changes) == 0 {
		return weather, nil
	}
	if len(air) < from+len(weather) {
		return nil, fmt.Errorf("epidemic in bed %q: %w", st.Key.Bed, errors.New("an effect changes the climate, but the hourly weather was not given; fill in KnownAir and AheadAir"))
	}
	out := make([]mildew.Daily, len(weather))
	var carry mildew.Carry
	for i := range from + len(weather) {
		h := air[i]
		if c, ok := changes[i]; ok {
			h.T = shifted(h.T, c.warmer, math.Inf(1))
			h.RH = shifted(h.RH, c.wetter, 100)
		}
		d := st.Mildew.Fold(st.Crop, h, &carry)
		if i >= from {
			out[i-from] = d
		}
	}
	return out, nil
}

func shifted(x []float32, by, top float64) []float32 {
	if by == 0 || x == nil {
		return x
	}
	out := make([]float32, len(x))
	for i, v := range x {
		out[i] = float32(math.Min(top, float64(v)+by))
	}
	return out
}
