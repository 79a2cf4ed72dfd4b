package spoken

import (
	"math"
	"strings"
	"testing"

	"oidium/remedy/mixing"
)

func TestNumber(t *testing.T) {
	for _, x := range []struct {
		text string
		want float64
		unit string
	}{
		{"3", 3, ""},
		{"2,5", 2.5, ""},
		{"2.5 kg", 2.5, "kg"},
		{"0,125", 0.125, ""},
		{"-3,5 °C", -3.5, "°C"},
		{"− 3", -3, ""},
		{"+4", 4, ""},
		{"12 %", 12, "%"},
		{"1/2 gal", 0.5, "gal"},
		{"1 1/2 gal", 1.5, "gal"},
		{"12%", 12, "%"},
		{"0,5ml/L", 0.5, "ml/L"},
		{"1 lb/100 gal", 1, "lb/100 gal"},
	} {
		v, unit, err := Number(x.text)
		if err != nil || v != x.want || unit != x.unit {
			t.Errorf("%q: %g %q %v, want %g %q", x.text, v, unit, err, x.want, x.unit)
		}
	}
	for text, part := range map[string]string{
		"1,250":   "1250 or 1.25",
		"1.250,5": "two ways",
		"1,2,3":   "two ways",
		"1 2":     "two numbers",
		"1.2.3":   "not a number",
		"many":    "not a number",
		"":        "not a number",
		"-":       "not a number",
	} {
		if v, _, err := Number(text); err == nil || !strings.Contains(err.Error(), part) {
			t.Errorf("%q: %g, error %v, want one with %q", text, v, err, part)
		}
	}
}

// Factors of NIST Special Publication 811 (2008), appendix B.9, as printed there
// to seven figures; temperatures of its appendix B.9 and of the fixed points (ice
// and steam). A millimetre of water is a litre on a square metre by geometry.
func TestConvert(t *testing.T) {
	for _, x := range []struct {
		v            float64
		typed, want  string
		system       mixing.System
		out, precise float64
	}{
		{1, "ft", "m", "", 0.3048, 1e-9},
		{1, "in", "m", "", 0.0254, 1e-9},
		{1, "yd", "m", "", 0.9144, 1e-9},
		{1, "mil", "µm", "", 25.4, 1e-9},
		{1, "mph", "m/s", "", 0.44704, 1e-9},
		{1, "kn", "m/s", "", 0.5144444, 1e-7},
		{1, "km/h", "m/s", "", 0.2777778, 1e-7},
		{1, "psi", "bar", "", 0.06894757, 1e-8},
		{1, "kPa", "bar", "", 0.01, 1e-9},
		{1, "acre", "m2", "", 4046.873, 2e-2}, // NIST: 4.046 873 E+03, by the US survey foot
		{1, "ft2", "m2", "", 0.09290304, 1e-9},
		{1, "yd3", "m3", "", 0.7645549, 1e-7},
		{1, "lb", "kg", "", 0.4535924, 1e-7},
		{1, "oz", "g", "", 28.34952, 1e-5},
		{1, "gal", "L", mixing.US, 3.785412, 1e-6},
		{1, "gal", "L", mixing.Imperial, 4.54609, 1e-9},
		{1, "fl oz", "g", mixing.US, 29.57353, 1e-5}, // a liquid: millilitres
		{32, "°F", "°C", "", 0, 1e-9},
		{212, "F", "°C", "", 100, 1e-9},
		{98.6, "°F", "°C", "", 37, 1e-9},
		{273.15, "K", "°C", "", 0, 1e-9},
		{1, "L/m2", "mm", "", 1, 1e-9},
		{1, "in", "mm", "", 25.4, 1e-9},
		{5, "cm", "m", "", 0.05, 1e-12},
		{1, "mJ/cm2", "J/m2", "", 10, 1e-9},
		{2, "h", "min", "", 120, 1e-9},
		{2, "days", "h", "", 48, 1e-9},
		{1, "week", "d", "", 7, 1e-9},
		{1, "lb/100 gal", "g/L", mixing.US, 1.198264, 1e-6}, // 453.59237 g in 378.5412 L
		{5, "mL/L", "g/L", "", 5, 1e-9},
		{5, "kg/ha", "g/m2", "", 0.5, 1e-9},
		{60, "%", "%", "", 60, 0},
	} {
		got, err := Convert(x.v, x.typed, x.want, x.system)
		if err != nil || math.Abs(got-x.out) > x.precise {
			t.Errorf("%g %s in %s: %g %v, want %g", x.v, x.typed, x.want, got, err, x.out)
		}
	}
	for _, x := range []struct {
		typed, want string
		system      mixing.System
		part        string
	}{
		{"gal", "L", "", "US one and an imperial one"},
		{"gal", "L", mixing.Metric, "no gal"},
		{"kg", "m", "", "does not measure"},
		{"furlongs", "m", "", "not known"},
		{"kg", "", "", "number alone"},
	} {
		if v, err := Convert(1, x.typed, x.want, x.system); err == nil || !strings.Contains(err.Error(), x.part) {
			t.Errorf("%s in %s: %g, error %v, want one with %q", x.typed, x.want, v, err, x.part)
		}
	}
}
