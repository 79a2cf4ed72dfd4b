package read

import (
	"math"
	"time"

	"oidium/sun"
	"oidium/weather"
)

// slots is the order in which a row's values are held.
var slots = [...]quantity{qTemp, qDew, qWetBulb, qRH, qWind, qRain, qRad, qSunshine, qCloud, qLow, qHigh}

const (
	atTemp = iota
	atDew
	atWet
	atRH
	atWind
	atRain
	atRad
	atSun
	atCloud
	atLow
	atHigh
)

// varOf is the quantity of a series whose bounds hold for a slot.
var varOf = [len(slots)]weather.Var{weather.Temp, weather.Temp, weather.Temp, weather.RH, weather.Wind, weather.Rain, weather.Rad, -1, -1, weather.Temp, weather.Temp}

// values reads the numbers of a row in our units, NaN where there is none.
func (t *table) values(f []string, v *[len(slots)]float64) bool {
	used := false
	for i, q := range slots {
		v[i] = math.NaN()
		c, ok := t.l.cols[q]
		if !ok || c >= len(f) {
			continue
		}
		raw, kind := t.l.nums.parse(f[c])
		switch kind {
		case isMissing:
			continue
		case isText:
			t.rep.bad(t.n, "%s %q is no number", q, clip([]byte(f[c])))
			continue
		case isTrace:
			if q != qRain {
				continue
			}
			raw = 0
		}
		if q == qRain && t.l.count {
			if isSentinel(raw) && raw < 0 {
				continue
			}
			if raw, ok = t.fell(raw); !ok {
				continue
			}
		}
		u := t.l.units[q]
		x := raw*u.scale + u.shift
		if q == qWind {
			x *= t.wind
		}
		if !t.possible(i, x) {
			if !isSentinel(raw) {
				t.rep.bad(t.n, "%s %s is not a possible value", q, clip([]byte(f[c])))
			}
			continue
		}
		v[i] = x
		used = true
	}
	return used
}

func (t *table) possible(slot int, x float64) bool {
	switch slots[slot] {
	case qSunshine, qCloud:
		return x >= 0 && x <= 1.2 // numerical: a ninth eighth, a clock that runs over
	case qRad:
		if t.l.daily() {
			return x >= 0 && x < 600 // assumption: mean of a day, W/m²
		}
	case qRain:
		if t.l.daily() {
			return x >= 0 && x < 1900 // wmo-8: the wettest day measured, rounded up
		}
		return x >= -0.2 && x <= 300*math.Max(1, t.l.step.Hours()) // wmo-8; a trace may be −0.1
	}
	return varOf[slot].Possible(x)
}

// fell returns what a gauge that counts up has counted since the row before.
func (t *table) fell(x float64) (float64, bool) {
	prev, have := t.lastRain, t.haveRain
	t.lastRain, t.haveRain = x, true
	switch {
	case !have:
		return 0, false
	case x >= prev:
		return x - prev, true
	}
	return x, true // it was emptied or a new day began
}

// hour puts the values of a row that is no day where they belong.
func (t *table) hour(w wall, v *[len(slots)]float64) {
	h := row{n: t.n}
	temp := v[atTemp]
	if temp != temp && v[atLow] == v[atLow] && v[atHigh] == v[atHigh] {
		temp = (v[atLow] + v[atHigh]) / 2
	}
	h.set(weather.Temp, temp, weather.Measured)
	switch {
	case v[atRH] == v[atRH]:
		h.set(weather.RH, v[atRH], weather.Measured)
	case v[atDew] == v[atDew]:
		h.set(weather.RH, weather.RHFrom(temp, weather.SaturationVP(v[atDew])), weather.Derived)
	case v[atWet] == v[atWet]:
		alt := 0.0
		if t.o.Place != nil {
			alt = t.o.Place.Altitude
		}
		h.set(weather.RH, weather.RHFrom(temp, math.Max(0, weather.WetBulb(temp, v[atWet], alt))), weather.Derived)
	}
	h.set(weather.Wind, v[atWind], weather.Measured)
	h.set(weather.Rain, math.Max(0, v[atRain]), weather.Measured)
	h.set(weather.Rad, v[atRad], weather.Measured)
	back := t.l.step
	if t.o.Stamp == "start" {
		back = 0
	}
	h.back, h.step = back, t.l.step
	if v[atRad] != v[atRad] && t.o.Place != nil {
		h.light = func(mid time.Time) float64 { return t.light(mid, v[atSun], v[atCloud]) }
		if v[atSun] != v[atSun] && v[atCloud] != v[atCloud] {
			h.light = nil
		}
	}
	if reason := t.clock.put(w, &h); reason != "" {
		t.rep.bad(t.n, "%s", reason)
		return
	}
	t.rep.Used++
}

// light estimates radiation from the share of sunshine or cloud at an instant.
func (t *table) light(mid time.Time, sunshine, cloud float64) float64 {
	if sunshine == sunshine {
		ra := sun.ExtraterrestrialHours(mid.Add(-30*time.Minute), 1, t.o.Place.Latitude, t.o.Place.Longitude)[0]
		return weather.RadFromSunshine(sunshine, ra)
	}
	up, _ := sun.Position(mid, t.o.Place.Latitude, t.o.Place.Longitude)
	return weather.RadFromCloud(cloud, up)
}
