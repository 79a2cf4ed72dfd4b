package spoken

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"

	"oidium/remedy/mixing"
)

// Number reads "2,5", "-3 °C", "1 1/2 gal", "12 %" into a number and what
// follows it. A comma is a decimal comma; where it could part thousands as well
// ("1,250") the number is refused.
func Number(text string) (float64, string, error) {
	s := strings.TrimSpace(text)
	sign := 1.0
	for _, minus := range []string{"-", "−"} {
		if rest, ok := strings.CutPrefix(s, minus); ok {
			sign, s = -1, strings.TrimSpace(rest)
			break
		}
	}
	s = strings.TrimPrefix(s, "+")
	v, rest, err := plain(s)
	if err != nil {
		return 0, "", err
	}
	// "1 1/2" and "1/2".
	if up, after, err := plain(rest); err == nil {
		if down, tail, ok := over(after); ok {
			return sign * (v + up/down), tail, nil
		}
		return 0, "", fmt.Errorf("two numbers follow each other in %q", text)
	}
	if down, tail, ok := over(rest); ok {
		return sign * v / down, tail, nil
	}
	return sign * v, rest, nil
}

// over reads the lower part of a fraction, "/2 pt".
func over(s string) (float64, string, bool) {
	d, ok := strings.CutPrefix(s, "/")
	if !ok {
		return 0, "", false
	}
	v, tail, err := plain(d)
	return v, tail, err == nil && v > 0
}

func plain(s string) (float64, string, error) {
	s = strings.TrimSpace(s)
	i := strings.IndexFunc(s, func(r rune) bool { return !unicode.IsDigit(r) && r != '.' && r != ',' })
	if i < 0 {
		i = len(s)
	}
	num := s[:i]
	if num == "" {
		return 0, "", fmt.Errorf("%q is not a number", s)
	}
	if whole, part, ok := strings.Cut(num, ","); ok {
		switch {
		case strings.ContainsAny(part, ".,") || strings.Contains(whole, "."):
			return 0, "", fmt.Errorf("%q can be read in two ways; write it without a mark between thousands, such as 1500 or 1.5", num)
		case len(part) == 3 && whole != "0":
			return 0, "", fmt.Errorf("%q can be read in two ways; write %s%s or %s.%s", num, whole, part, whole, strings.TrimRight(part, "0"))
		}
		num = whole + "." + part
	}
	v, err := strconv.ParseFloat(num, 64)
	if err != nil {
		return 0, "", fmt.Errorf("%q is not a number", num)
	}
	return v, strings.TrimSpace(s[i:]), nil
}

// kinds of quantity that room mixing does not know, by the size of their units;
// all exact by definition (nist-sp-811).
var sizes = []map[string]float64{
	{"m/s": 1, "km/h": 1 / 3.6, "kmh": 1 / 3.6, "kph": 1 / 3.6, "mph": 0.44704, "kn": 1852 / 3600.0, "kt": 1852 / 3600.0, "knots": 1852 / 3600.0},                                                                              // exact
	{"bar": 1, "mbar": 1e-3, "kpa": 1e-2, "mpa": 10, "psi": 0.45359237 * 9.80665 / 0.0254 / 0.0254 / 1e5},                                                                                                                      // exact
	{"m": 1, "cm": 1e-2, "mm": 1e-3, "µm": 1e-6, "um": 1e-6, "km": 1e3, "in": 0.0254, "inch": 0.0254, "inches": 0.0254, "\"": 0.0254, "mil": 2.54e-5, "ft": 0.3048, "feet": 0.3048, "foot": 0.3048, "'": 0.3048, "yd": 0.9144}, // exact
	{"s": 1, "min": 60, "minutes": 60, "h": 3600, "hour": 3600, "hours": 3600, "d": 86400, "day": 86400, "days": 86400, "week": 7 * 86400, "weeks": 7 * 86400},                                                                 // exact
	{"j/m2": 1, "mj/cm2": 10, "j/cm2": 1e4},
	{"m3": 1, "l": 1e-3, "yd3": 0.9144 * 0.9144 * 0.9144, "ft3": 0.3048 * 0.3048 * 0.3048}, // exact
	{"%": 1, "percent": 1},
}

// Convert turns v of the typed unit into the wanted one.
func Convert(v float64, typed, want string, system mixing.System) (float64, error) {
	t, w := strings.ToLower(strings.Join(strings.Fields(typed), " ")), strings.ToLower(want)
	t = strings.NewReplacer("²", "2", "³", "3", "°c", "c", "°f", "f", "° c", "c", "° f", "f").Replace(t)
	w = strings.ReplaceAll(w, "°c", "c")
	if w == "mm" && (t == "l/m2" || t == "litres/m2") {
		t = "mm" // a litre on a square metre stands a millimetre high
	}
	switch {
	case t == w || w == "m" && (t == "metres" || t == "meters") || w == "c" && t == "celsius":
		return v, nil
	case w == "c" && (t == "f" || t == "fahrenheit"):
		return (v - 32) / 1.8, nil // exact
	case w == "c" && t == "k":
		return v - 273.15, nil // exact
	}
	for _, s := range sizes {
		if from, ok := s[t]; ok {
			if to, ok := s[w]; ok {
				return v * from / to, nil
			}
		}
	}
	if want == "" {
		return 0, fmt.Errorf("%q behind the number is not understood; the number alone is wanted", typed)
	}
	out, err := inMixing(v, typed, w, system)
	if other, ok := liquid[w]; ok && err != nil {
		if v, err := inMixing(v, typed, other, system); err == nil {
			return v, nil
		}
	}
	return out, err
}

// liquid gives the unit of a field in which a liquid product is measured.
var liquid = map[string]string{"g": "ml", "kg": "l", "g/l": "ml/l", "g/m2": "ml/m2"}

func inMixing(v float64, typed, want string, system mixing.System) (float64, error) {
	q, err := mixing.Parse("1 "+typed, system)
	if err != nil {
		return 0, fmt.Errorf("the unit %q: %w", typed, err)
	}
	one, err := q.In(want, system)
	if err != nil {
		return 0, fmt.Errorf("%q does not measure what is asked for here, which is kept in %s", typed, want)
	}
	return v * one, nil
}

// Tidy rounds a converted number to six figures, far below what anybody measures
// in a garden.
func Tidy(v float64) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	if err != nil {
		return v
	}
	return out
}

// Print returns a number without an exponent and without zeros at the end.
func Print(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
