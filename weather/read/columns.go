package read

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// quantity is what a column of a table holds.
type quantity string

// The quantities, by the names that options use.
const (
	qTemp     quantity = "temperature"
	qDew      quantity = "dew point"
	qWetBulb  quantity = "wet bulb"
	qRH       quantity = "humidity"
	qWind     quantity = "wind"
	qRain     quantity = "rain"
	qRad      quantity = "radiation"
	qSunshine quantity = "sunshine"
	qCloud    quantity = "cloud"
	qLow      quantity = "lowest"
	qHigh     quantity = "highest"
	qStation  quantity = "station"
)

var quantities = []quantity{qTemp, qDew, qWetBulb, qRH, qWind, qRain, qRad, qSunshine, qCloud, qLow, qHigh, qStation}

// heading is the head of one column taken apart.
type heading struct {
	name  string   // as in the file
	words []string // lower case, without accents that matter little
	unit  string   // canonical, "" none
	tenth bool     // the unit is a tenth of it
	metre float64  // a height in the name, as in "wind at 10 m"; 0 none
}

// unitSpellings maps how units are written to one spelling each, longest first
// where one is part of another.
var unitSpellings = []struct{ from, to string }{
	{"w/m²", "w/m2"},
	{"w/m^2", "w/m2"},
	{"w m-2", "w/m2"},
	{"wm-2", "w/m2"},
	{"watts/m2", "w/m2"},
	{"w/sqm", "w/m2"},
	{"wat/m2", "w/m2"},
	{"kj/m²", "kj/m2"},
	{"kj m-2", "kj/m2"},
	{"mj/m²", "mj/m2"},
	{"mj/m^2", "mj/m2"},
	{"mj m-2", "mj/m2"},
	{"j/cm²", "j/cm2"},
	{"j/cm^2", "j/cm2"},
	{"j cm-2", "j/cm2"},
	{"langleys", "ly"},
	{"langley", "ly"},
	{"m s-1", "m/s"},
	{"m.s-1", "m/s"},
	{"ms-1", "m/s"},
	{"m/sec", "m/s"},
	{"mps", "m/s"},
	{"km/hr", "km/h"},
	{"km h-1", "km/h"},
	{"kmh", "km/h"},
	{"kph", "km/h"},
	{"mi/h", "mph"},
	{"miles/h", "mph"},
	{"knots", "kt"},
	{"knot", "kt"},
	{"kts", "kt"},
	{"kn", "kt"},
	{"inches", "inch"},
	{"in.", "inch"},
	{"percent", "%"},
	{"pct", "%"},
	{"prozent", "%"},
	{"celsius", "c"},
	{"centigrade", "c"},
	{"degc", "c"},
	{"deg c", "c"},
	{"deg. c", "c"},
	{"°c", "c"},
	{"ºc", "c"},
	{"grad c", "c"},
	{"fahrenheit", "f"},
	{"degf", "f"},
	{"deg f", "f"},
	{"deg. f", "f"},
	{"°f", "f"},
	{"ºf", "f"},
	{"kelvin", "k"},
	{"minutes", "min"},
	{"hours", "h"},
	{"oktas", "okta"},
	{"octas", "okta"},
	{"achtel", "okta"},
}

// units that a column of each quantity may be in, the default of the metric and
// of the US world first.
var unitsOf = map[quantity][]string{
	qTemp: {"c", "f", "k"}, qDew: {"c", "f", "k"}, qWetBulb: {"c", "f", "k"}, qLow: {"c", "f", "k"}, qHigh: {"c", "f", "k"},
	qRH:   {"%", "1"},
	qWind: {"m/s", "mph", "km/h", "kt"},
	qRain: {"mm", "inch", "cm"},
	qRad:  {"w/m2", "ly", "mj/m2", "kj/m2", "j/cm2", "kw/m2"}, qSunshine: {"h", "min", "%"}, qCloud: {"okta", "%", "1"},
}

// allUnits are the units that can stand anywhere in a heading.
var allUnits = []string{"w/m2", "kw/m2", "mj/m2", "kj/m2", "j/cm2", "ly", "m/s", "km/h", "mph", "kt", "mm", "cm", "inch", "in", "%", "c", "f", "k", "min", "h", "okta"}

// parseHeading takes the head of a column apart.
func parseHeading(name string) heading {
	h := heading{name: name}
	s := strings.ToLower(splitCamel(name))
	s = strings.NewReplacer("é", "e", "è", "e", "ó", "o", "í", "i", "á", "a", "ü", "u", "ö", "o", "ä", "a", "_", " ").Replace(s)
	for _, u := range unitSpellings {
		if i := strings.Index(s, u.from); i >= 0 && apart(s, i, len(u.from)) {
			s = s[:i] + " " + u.to + " " + s[i+len(u.from):]
		}
	}
	for _, u := range allUnits {
		if u == "in" || len(u) > 1 && !strings.Contains(u, "/") {
			continue
		}
		if i := strings.Index(s, u); strings.Contains(u, "/") && i >= 0 && h.unit == "" {
			h.unit = u
			s = s[:i] + " " + s[i+len(u):]
		}
	}
	if strings.Contains(s, "0.1 ") || strings.Contains(s, "tenth") {
		h.tenth = true
		s = strings.NewReplacer("0.1 ", " ", "tenths of", " ", "tenth", " ").Replace(s)
	}
	f := strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '%' })
	for i, w := range f {
		if strings.HasSuffix(w, "%") && len(w) > 1 {
			h.words, w = append(h.words, strings.TrimSuffix(w, "%")), "%"
		}
		if x, err := strconv.ParseFloat(strings.TrimSuffix(w, "m"), 64); err == nil && x > 0 && x <= 100 {
			if strings.HasSuffix(w, "m") || i+1 < len(f) && f[i+1] == "m" {
				h.metre = x
			}
		}
		h.words = append(h.words, w)
	}
	// The last word that is a unit is the unit: "rain in", "temp c".
	for i, w := range slices.Backward(h.words) {
		if i > 0 && h.unit == "" && slices.Contains(allUnits, w) {
			h.unit = w
		}
	}
	// A head that is a unit and nothing else; a lone letter may be anything.
	if len(h.words) == 1 && h.unit == "" && slices.Contains(allUnits, h.words[0]) && strings.ToLower(strings.TrimSpace(name)) != h.words[0] {
		h.unit = h.words[0]
	}
	return h
}

// apart reports whether s[i:i+n] does not run into letters on either side.
func apart(s string, i, n int) bool {
	before := i == 0 || !isWordByte(s[i-1]) || !isWordByte(s[i])
	after := i+n >= len(s) || !isWordByte(s[i+n])
	return before && after
}

func isWordByte(c byte) bool { return c >= 'a' && c <= 'z' || c >= '0' && c <= '9' }

// splitCamel puts blanks into names like AirTemp and TempOut.
func splitCamel(s string) string {
	var b strings.Builder
	prev := rune(0)
	for i, r := range s {
		next := rune(0)
		for _, n := range s[min(len(s), i+len(string(r))):] {
			next = n
			break
		}
		if unicode.IsUpper(r) && unicode.IsLower(prev) && unicode.IsLower(next) {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
		prev = r
	}
	return b.String()
}

func (h heading) has(words ...string) bool {
	return slices.ContainsFunc(h.words, func(w string) bool { return slices.Contains(words, w) })
}

// part reports whether a word of the heading begins with one of the stems.
func (h heading) stem(stems ...string) bool {
	return slices.ContainsFunc(h.words, func(w string) bool {
		return slices.ContainsFunc(stems, func(s string) bool { return strings.HasPrefix(w, s) || len(s) > 4 && strings.HasSuffix(w, s) })
	})
}

// elsewhere are words of things that are no weather of the open air.
func (h heading) elsewhere() bool {
	return h.has("soil", "boden", "indoor", "inside", "inner", "room", "chill", "heat", "index", "feels", "apparent", "thw", "thsw",
		"dir", "direction", "richtung", "deg", "gust", "gusts", "boe", "rafale", "std", "sd", "dev", "flag", "qc", "quality", "qual", "source", "src",
		"leaf", "battery", "batt", "volt", "uv", "par", "net", "et", "et0", "eto", "evap", "evapotranspiration", "rate", "intensity", "snow",
		"grass", "visib", "visibility", "pressure", "baro", "barometer", "forecast", "ground", "canopy", "surface", "skin", "water", "moisture", "vpd", "density",
		"cooling", "degree", "days", "clearsky", "clear", "extraterrestrial", "diffuse", "direct", "dni", "dhi", "longwave", "duration", "dauer", "code") ||
		h.stem("windricht", "windboe", "luftdruck", "druck")
}

// what returns the quantity of a heading and how sure that is, 0 for none.
func (h heading) what() (quantity, int) {
	low := h.has("min", "low", "lo", "minimum", "lowest", "tmin", "tn", "tiefst", "mini", "laagste") || h.stem("tmin", "tiefst", "niedrigst")
	high := h.has("max", "high", "hi", "maximum", "highest", "tmax", "tx", "hochst", "maxi", "hoogste") || h.stem("tmax", "hochst")
	sure := 10
	if h.has("out", "outdoor", "outside", "air", "2m", "avg", "average", "mean", "luft") {
		sure += 2
	}
	switch {
	case h.stem("dewp", "dew", "taupunkt", "dauwpunt", "rosee", "rocio") || h.has("td", "tdew", "dpt"):
		return qDew, sure
	case (h.has("wet") && h.has("bulb")) || h.has("wetbulb", "twet", "tw"):
		return qWetBulb, sure
	case h.elsewhere() || (h.has("in") && h.unit != "in") || h.has("in") && h.stem("temp", "hum"):
		return "", 0
	case h.stem("temp", "luchttemp", "lufttemp", "temperatur", "temperatuur") || h.has("tair", "ta", "t", "tmp", "tmpf", "tmpc", "drybulb", "dry", "tc", "tf", "t2m", "tmin", "tmax", "tn", "tx"):
		switch {
		case low && !high:
			return qLow, sure
		case high && !low:
			return qHigh, sure
		}
		return qTemp, sure
	case (low != high) && h.bare(extremeWords) && (h.unit == "" || h.warmth()):
		// A diary's "lowest" and "highest" are those of the temperature.
		if low {
			return qLow, sure - 4
		}
		return qHigh, sure - 4
	case low || high:
		return "", 0 // extremes of the rest are not used
	case h.stem("humid", "feuchte", "vochtig", "humed", "umidit", "luftfeucht", "relhum") || h.has("rh", "hum", "rhum", "relhum", "relh", "hr", "hurs"):
		return qRH, sure
	case h.stem("rain", "precip", "regen", "niederschlag", "neerslag", "pluie", "lluvia", "pioggia") || h.has("prcp", "ppt", "pcpn", "precp", "pr", "rr", "p01i", "p01m"):
		if h.has("day", "daily", "today", "month", "monthly", "year", "yearly", "week", "weekly", "storm", "event") {
			sure -= 6
		}
		return qRain, sure
	case h.stem("solar", "global", "radiat", "irradi", "rayonn", "straling", "pyrano", "shortwave", "strahlung") || h.has("rad", "ghi", "srad", "rs", "swin", "sw", "rg"):
		return qRad, sure
	case h.stem("sunshine", "sonnenschein", "zonneschijn") || h.has("sun", "sunhours", "insolation"):
		return qSunshine, sure
	case h.stem("cloud", "okta", "bewolk", "wolken", "nubosid") || h.has("clouds", "skc", "tcc"):
		return qCloud, sure
	case h.stem("wind", "viento", "vento", "wspd", "wdsp") || h.has("ws", "ff", "u2", "u10", "sknt", "vent", "wspm"):
		return qWind, sure
	case h.has("station", "stn", "site", "origin", "stationid", "plant", "location"):
		return qStation, sure
	case h.unit != "" && h.bare(placeWords):
		return h.byUnit(), sure - 6 // "outside °C"
	}
	return "", 0
}

// What may stand in a head that says only a unit and where, and in one that says
// only which extreme of the day it is.
var (
	placeWords   = []string{"out", "outdoor", "outside", "outdoors", "garden", "air", "aussen", "draussen", "buiten", "exterieur", "dehors", "2m"}
	extremeWords = append([]string{
		"min", "low", "lo", "minimum", "lowest", "tiefst", "mini", "max", "high", "hi", "maximum", "highest", "hochst", "maxi",
		"day", "daily", "of", "the", "night", "value", "reading", "tiefstwert", "hochstwert", "laagste", "hoogste",
	}, placeWords...)
)

// bare reports whether a heading says nothing but these words and its unit.
func (h heading) bare(words []string) bool {
	for _, w := range h.words {
		if w != h.unit && !slices.Contains(words, w) {
			return false
		}
	}
	return true
}

// warmth reports whether the unit is one of temperature.
func (h heading) warmth() bool { return slices.Contains(unitsOf[qTemp], h.unit) }

// byUnit is the quantity that only the unit of a heading tells, "" where several
// have it.
func (h heading) byUnit() quantity {
	switch h.unit {
	case "c", "f", "k":
		return qTemp
	case "%":
		return qRH
	case "m/s", "mph", "km/h", "kt":
		return qWind
	case "mm", "inch":
		return qRain
	case "w/m2", "kw/m2", "mj/m2", "kj/m2", "j/cm2", "ly":
		return qRad
	}
	return ""
}

// cumulative reports whether a rain column counts up from some start.
func (h heading) cumulative() bool {
	return h.has("total", "cum", "cumul", "cumulative", "counter", "accum", "accumulated", "accumulation", "day", "daily", "today", "year", "yearly", "month", "monthly", "summe")
}

// tokenUnit is the unit hidden in the name itself, as in tmpf, sknt, p01i.
func (h heading) tokenUnit() string {
	switch {
	case h.has("tmpf", "dwpf", "tf"):
		return "f"
	case h.has("tmpc", "dwpc", "tc"):
		return "c"
	case h.has("sknt"):
		return "kt"
	case h.has("p01i"):
		return "inch"
	case h.has("p01m"):
		return "mm"
	}
	return ""
}

// pick chooses the columns of the quantities.
func pick(heads []heading, usable func(i int) bool, o Options) (map[quantity]int, error) {
	out := make(map[quantity]int)
	for _, q := range quantities {
		want, given := o.Columns[string(q)]
		if given {
			if want == "none" {
				continue
			}
			i, err := columnNamed(heads, want)
			if err != nil {
				return nil, fmt.Errorf("column of the %s: %w", q, err)
			}
			out[q] = i
			continue
		}
		best, second, at := 0, 0, -1
		var names []string
		for i, h := range heads {
			w, sure := h.what()
			if w != q || q != qStation && !usable(i) {
				continue
			}
			switch {
			case sure > best:
				best, second, at = sure, best, i
				names = []string{h.name}
			case sure == best:
				second = sure
				names = append(names, h.name)
			default:
				second = max(second, sure)
			}
		}
		if at < 0 {
			continue
		}
		if best == second && q != qStation && q != qCloud && q != qSunshine {
			return nil, &Ambiguous{Option: "column " + string(q), Choices: names, Text: fmt.Sprintf("several columns may hold the %s", q)}
		}
		out[q] = at
	}
	for _, q := range slices.Sorted(maps.Keys(o.Columns)) {
		if !slices.Contains(quantities, quantity(q)) {
			return nil, fmt.Errorf("option column %s: no such quantity; they are %v", q, quantities)
		}
	}
	return out, nil
}

// columnNamed finds a column by its name or its number from 1.
func columnNamed(heads []heading, name string) (int, error) {
	for i, h := range heads {
		if strings.EqualFold(h.name, strings.TrimSpace(name)) {
			return i, nil
		}
	}
	if n, err := strconv.Atoi(name); err == nil && n >= 1 && n <= len(heads) {
		return n - 1, nil
	}
	return 0, fmt.Errorf("there is no column %q", name)
}
