package daybook

import (
	"strings"

	"oidium/internal/command/spoken"
)

// units are the words at the end of the names of fields that say the unit, the
// longer before the shorter.
var units = []struct{ end, unit string }{
	{"g_per_l", "g/L"},
	{"g_per_m2", "g/m2"},
	{"mg_l", "mg/L"},
	{"j_m2", "J/m2"},
	{"l_min", "L/min"},
	{"l_per_min", "L/min"},
	{"m_s", "m/s"},
	{"m2", "m2"},
	{"m3", "m3"},
	{"mm", "mm"},
	{"um", "µm"},
	{"m", "m"},
	{"c", "°C"},
	{"l", "L"},
	{"bar", "bar"},
	{"days", "d"},
	{"hours", "h"},
	{"min", "min"},
	{"h", "h"},
	{"s", "s"},
	{"litres", "L"},
	{"grams", "g"},
	{"kg", "kg"},
	{"minutes", "min"},
	{"rh", "%"},
}

// unitOf returns the unit in which a field is kept, "" for a plain number.
func unitOf(f *field) string {
	if f.shape != number && f.shape != integer {
		return ""
	}
	for _, u := range units {
		if f.name == u.end || strings.HasSuffix(f.name, "_"+u.end) {
			return u.unit
		}
	}
	return ""
}

// sideOf guesses it from the name of the field.
func sideOf(name string) spoken.Side {
	switch name {
	case "check_on", "until", "expires", "valid_to", "harvest_from", "reentry":
		return spoken.After
	case "opened", "cleared", "started", "closed", "used", "gone":
		return spoken.Before
	}
	return spoken.Nearest
}
