package read

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"oidium/weather"
)

// unitOf is how a column's numbers become ours: x·scale + shift.
type unitOf struct {
	name         string
	scale, shift float64
	assumed      bool
}

// print returns the unit as people write it.
func (u unitOf) print() string {
	tenth, name := "", u.name
	if s, ok := strings.CutPrefix(name, "0.1 "); ok {
		tenth, name = "0.1 ", s
	}
	switch name {
	case "c", "f":
		name = "°" + strings.ToUpper(name)
	case "k":
		name = "K"
	case "1":
		name = "shares of 1"
	case "okta":
		name = "eighths"
	case "w/m2", "kw/m2", "mj/m2", "kj/m2", "j/cm2":
		name = map[string]string{"w/m2": "W/m²", "kw/m2": "kW/m²", "mj/m2": "MJ/m²", "kj/m2": "kJ/m²", "j/cm2": "J/cm²"}[name]
	case "ly":
		name = "langley"
	case "kt":
		name = "knots"
	}
	return tenth + name
}

// convert returns how a unit becomes the one of package weather: °C, %, m/s, mm,
// W/m² over a step of the given hours, share of sunshine, share of cloud. All
// factors are exact by definition of the units, but the langley's.
func convert(q quantity, unit string, hours float64) (unitOf, bool) {
	u := unitOf{name: unit, scale: 1}
	switch unit {
	case "c", "%", "m/s", "mm", "w/m2":
		if q == qSunshine || q == qCloud {
			u.scale = 0.01
		}
	case "f":
		u.scale, u.shift = 5.0/9, -32*5.0/9 // exact
	case "k":
		u.shift = -273.15 // exact
	case "1":
		if q == qRH {
			u.scale = 100
		}
	case "mph":
		u.scale = 0.44704 // exact
	case "km/h":
		u.scale = 1 / 3.6 // exact
	case "kt":
		u.scale = 1852.0 / 3600 // exact
	case "inch", "in":
		u.scale = 25.4 // exact
	case "cm":
		u.scale = 10
	case "mj/m2":
		u.scale = 1e6 / (3600 * hours)
	case "kj/m2":
		u.scale = 1e3 / (3600 * hours)
	case "j/cm2":
		u.scale = 1e4 / (3600 * hours)
	case "kw/m2":
		u.scale = 1000
	case "ly":
		u.scale = 41840 / (3600 * hours) // exact: a langley is 1 cal/cm² of 4.184 J
	case "h":
		u.scale = 1 / hours
	case "min":
		u.scale = 1 / (60 * hours)
	case "okta":
		u.scale = 1.0 / 8
	default:
		return u, false
	}
	return u, true
}

// spellings of units in options and heads.
func canonicalUnit(s string) string {
	s = strings.ToLower(strings.TrimSpace(s))
	for _, u := range unitSpellings {
		if s == u.from {
			return u.to
		}
	}
	switch s {
	case "°c", "c":
		return "c"
	case "in":
		return "inch"
	case "fraction", "ratio":
		return "1"
	}
	return s
}

// chooseUnits settles the unit of every column: by option, by the head, by what
// only one unit makes possible, by the other columns; it asks where two remain
// that matter.
func (l *layout) chooseUnits(rows [][]string, o Options) error {
	l.units = make(map[quantity]unitOf)
	hours := l.step.Hours()
	for _, q := range slices.Sorted(maps.Keys(o.Units)) {
		if !slices.Contains(quantities, quantity(q)) {
			return fmt.Errorf("option unit %s: no such quantity; they are %v", q, quantities)
		}
	}
	for _, q := range quantities {
		c, ok := l.cols[q]
		if !ok || q == qStation {
			continue
		}
		unit := canonicalUnit(o.Units[string(q)])
		if unit == "" {
			unit = l.heads[c].tokenUnit()
		}
		if unit == "" && slices.Contains(unitsOf[q], canonicalUnit(l.heads[c].unit)) {
			unit = canonicalUnit(l.heads[c].unit)
		}
		if unit == "" {
			continue
		}
		u, ok := convert(q, unit, hours)
		if !ok || !slices.Contains(unitsOf[q], unit) {
			return fmt.Errorf("unit %q of the %s is not known; it may be %s", unit, q, strings.Join(unitsOf[q], ", "))
		}
		if l.heads[c].tenth {
			u.scale /= 10
			u.name = "0.1 " + u.name
		}
		l.units[q] = u
	}
	if err := l.guessTemperature(rows, hours); err != nil {
		return err
	}
	american := false
	for _, q := range []quantity{qTemp, qDew, qLow, qHigh, qWind, qRain} {
		n := l.units[q].name
		american = american || n == "f" || n == "mph" || n == "inch"
	}
	for _, q := range quantities {
		c, ok := l.cols[q]
		if _, done := l.units[q]; !ok || done || q == qStation {
			continue
		}
		unit := l.guess(q, american, l.values(rows, c))
		u, _ := convert(q, unit, hours)
		u.assumed = true
		l.units[q] = u
	}
	return nil
}

// values returns the numbers of a column in the sample.
func (l *layout) values(rows [][]string, c int) []float64 {
	var out []float64
	for _, r := range rows {
		if c < len(r) {
			if x, k := l.nums.parse(r[c]); k == isNumber && !isSentinel(x) {
				out = append(out, x)
			}
		}
	}
	return out
}

// guess returns the unit of a column that does not name it.
func (l *layout) guess(q quantity, american bool, x []float64) string {
	top, mean := 0.0, 0.0
	for _, v := range x {
		top = math.Max(top, v)
		mean += v / float64(len(x))
	}
	switch q {
	case qRH:
		if top <= 1 {
			return "1"
		}
		return "%"
	case qWind:
		switch {
		case american:
			return "mph"
		case mean > 8: // assumption: no garden has such a mean wind in m/s
			return "km/h"
		}
		return "m/s"
	case qRain:
		if american {
			return "inch"
		}
		return "mm"
	case qRad:
		if top <= 6 { // assumption: MJ/m² in an hour, or in a day in winter
			return "mj/m2"
		}
		if l.daily() && top < 50 { // assumption
			return "mj/m2"
		}
		return "w/m2"
	case qSunshine:
		if top <= l.step.Hours() {
			return "h"
		}
		return "min"
	case qCloud:
		switch {
		case top <= 1:
			return "1"
		case top <= 9: // exact: eighths, 9 for a sky that cannot be seen
			return "okta"
		}
		return "%"
	}
	return "c"
}

// guessTemperature settles the unit of the temperatures together.
func (l *layout) guessTemperature(rows [][]string, hours float64) error {
	all := []quantity{qTemp, qDew, qWetBulb, qLow, qHigh}
	known, open := "", quantity("")
	for _, q := range all {
		if _, ok := l.cols[q]; !ok {
			continue
		}
		if u, ok := l.units[q]; ok {
			known = u.name
		} else if open == "" {
			open = q
		}
	}
	if open == "" {
		return nil
	}
	unit := known
	assumed := true
	if unit == "" {
		unit = l.temperatureByHumidity(rows)
	}
	if unit == "" {
		for _, q := range []quantity{qWind, qRain} {
			switch l.units[q].name {
			case "mph", "inch":
				unit = "f"
			case "m/s", "km/h", "mm", "cm":
				unit = "c"
			}
		}
	}
	if unit == "" {
		unit = l.temperatureByRange(rows, open)
	}
	if unit == "" {
		return &Ambiguous{Option: "unit temperature", Choices: []string{"C", "F"}, Text: fmt.Sprintf("the column %q does not say its unit and its values fit both", l.heads[l.cols[open]].name)}
	}
	for _, q := range all {
		if _, ok := l.cols[q]; ok && l.units[q].name == "" {
			u, _ := convert(q, unit, hours)
			u.assumed = assumed
			l.units[q] = u
		}
	}
	return nil
}

// temperatureByRange returns the unit that the values leave possible: no air is
// hotter than 52 °C, and no month stays below 28 °F where somebody gardens
// (assumption).
func (l *layout) temperatureByRange(rows [][]string, q quantity) string {
	x := l.values(rows, l.cols[q])
	if len(x) == 0 {
		return ""
	}
	lo, hi := slices.Min(x), slices.Max(x)
	switch {
	case lo > 200:
		return "k"
	case hi > 52: // assumption
		return "f"
	case hi < 28 && float64(len(x))*l.step.Hours() > 720: // assumption
		return "c"
	}
	return ""
}

// temperatureByHumidity lets temperature, dew point and humidity of the same
// rows tell which unit fits them.
func (l *layout) temperatureByHumidity(rows [][]string) string {
	t, ok1 := l.cols[qTemp]
	d, ok2 := l.cols[qDew]
	h, ok3 := l.cols[qRH]
	if !ok1 || !ok2 || !ok3 {
		return ""
	}
	var off [2]float64
	n := 0
	for _, r := range rows {
		if max(t, d, h) >= len(r) {
			continue
		}
		x, k1 := l.nums.parse(r[t])
		y, k2 := l.nums.parse(r[d])
		z, k3 := l.nums.parse(r[h])
		if k1 != isNumber || k2 != isNumber || k3 != isNumber || y > x {
			continue
		}
		n++
		for i, unit := range []string{"c", "f"} {
			u, _ := convert(qTemp, unit, 1)
			off[i] += math.Abs(weather.RHFrom(x*u.scale+u.shift, weather.SaturationVP(y*u.scale+u.shift)) - z)
		}
	}
	switch {
	case n < 10:
		return ""
	case off[0] < off[1]/3:
		return "c"
	case off[1] < off[0]/3:
		return "f"
	}
	return ""
}
