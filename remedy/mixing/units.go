package mixing

import (
	"fmt"
	"strings"
)

// System says whose gallons, pints, fluid ounces and spoons are meant. A
// language or a country alone does not tell; ask once.
type System string

// The systems. Unsaid refuses units that depend on it.
const (
	Unsaid     System = ""
	US         System = "us"
	Imperial   System = "imperial"
	Metric     System = "metric"
	Australian System = "au"
)

// Sizes of the units in the base units, exact by definition unless noted
// (nist-sp-811).
const (
	pound    = 453.59237 // g
	foot     = 0.3048    // m
	acre     = 43560 * foot * foot
	usGallon = 3.785411784 // L
	ukGallon = 4.54609     // L
)

var (
	dimMass   = dimension{mass: 1}
	dimVolume = dimension{volume: 1}
	dimArea   = dimension{area: 1}
	dimLength = dimension{length: 1}
	dimTime   = dimension{time: 1}
	dimAmount = dimension{amount: 1}
	dimEnergy = dimension{energy: 1}
	dimPower  = dimension{energy: 1, time: -1}
	dimMolar  = dimension{amount: 1, volume: -1}
)

// fixed are the units that are the same everywhere, exact (nist-sp-811).
var fixed = map[string]Quantity{
	"g": {1, dimMass}, "kg": {1000, dimMass}, "mg": {1e-3, dimMass}, "µg": {1e-6, dimMass}, "ug": {1e-6, dimMass}, "t": {1e6, dimMass},
	"lb": {pound, dimMass}, "lbs": {pound, dimMass}, "oz": {pound / 16, dimMass},
	"l": {1, dimVolume}, "hl": {100, dimVolume}, "dl": {0.1, dimVolume}, "cl": {0.01, dimVolume}, "ml": {1e-3, dimVolume}, "µl": {1e-6, dimVolume}, "ul": {1e-6, dimVolume}, "m3": {1000, dimVolume},
	"m2": {1, dimArea}, "cm2": {1e-4, dimArea}, "ha": {1e4, dimArea}, "are": {100, dimArea},
	"ft2": {foot * foot, dimArea}, "sq ft": {foot * foot, dimArea}, "ac": {acre, dimArea}, "acre": {acre, dimArea},
	"yd2": {9 * foot * foot, dimArea}, "sq rod": {272.25 * foot * foot, dimArea},
	"m": {1, dimLength}, "km": {1000, dimLength}, "cm": {0.01, dimLength}, "mm": {1e-3, dimLength}, "ft": {foot, dimLength}, "mi": {5280 * foot, dimLength},
	"s": {1, dimTime}, "min": {60, dimTime}, "h": {3600, dimTime}, "d": {86400, dimTime},
	"mol": {1, dimAmount}, "mmol": {1e-3, dimAmount},
	"j": {1, dimEnergy}, "kj": {1000, dimEnergy},
	"w": {1, dimPower}, "mw": {1e-3, dimPower},
	"%": {0.01, dimension{}}, "1": {1, dimension{}},
}

// byCountry are the units whose size depends on the system, in litres, exact.
// A metric system has spoons and a cup but no gallon (nist-sp-811).
var byCountry = map[string]map[System]float64{
	"gal":   {US: usGallon, Imperial: ukGallon, Australian: ukGallon},
	"qt":    {US: usGallon / 4, Imperial: ukGallon / 4, Australian: ukGallon / 4},
	"pt":    {US: usGallon / 8, Imperial: ukGallon / 8, Australian: ukGallon / 8},
	"cup":   {US: usGallon / 16, Metric: 0.25, Australian: 0.25},
	"fl oz": {US: usGallon / 128, Imperial: ukGallon / 160, Australian: ukGallon / 160},
	"tbsp":  {US: usGallon / 256, Imperial: 0.015, Metric: 0.015, Australian: 0.020},
	"tsp":   {US: usGallon / 768, Imperial: 0.005, Metric: 0.005, Australian: 0.005},
}

// spelled are the words before a unit that name its system.
var spelled = map[string]System{"us": US, "imp": Imperial, "imperial": Imperial, "uk": Imperial, "metric": Metric, "au": Australian}

// names gives other spellings.
var names = map[string]string{
	"gallon": "gal", "gallons": "gal", "quart": "qt", "quarts": "qt", "pint": "pt", "pints": "pt", "cups": "cup",
	"fl. oz": "fl oz", "floz": "fl oz", "tablespoon": "tbsp", "tablespoons": "tbsp", "teaspoon": "tsp", "teaspoons": "tsp",
	"litre": "l", "litres": "l", "liter": "l", "liters": "l", "gram": "g", "grams": "g", "pound": "lb", "pounds": "lb", "ounce": "oz", "ounces": "oz",
	"acres": "acre", "hectare": "ha", "hectares": "ha", "m²": "m2", "ft²": "ft2", "cm²": "cm2", "yd²": "yd2", "m³": "m3", "hour": "h", "hours": "h",
	"sq m": "m2", "percent": "%",
}

// unitOf returns the size of one unit.
func unitOf(name string, s System) (Quantity, error) {
	if name == "" {
		return Quantity{}, fmt.Errorf("a unit is missing")
	}
	switch name { // where capitals matter
	case "mM":
		return Quantity{1e-3, dimMolar}, nil
	case "M":
		return Quantity{1, dimMolar}, nil
	case "MJ":
		return Quantity{1e6, dimEnergy}, nil
	case "MW":
		return Quantity{1e6, dimPower}, nil
	}
	n := strings.Join(strings.Fields(strings.ToLower(name)), " ")
	first, rest, _ := strings.Cut(n, " ")
	if system, ok := spelled[first]; ok && rest != "" {
		n, s = rest, system
	}
	if other, ok := names[n]; ok {
		n = other
	}
	if q, ok := fixed[n]; ok {
		return q, nil
	}
	sizes, ok := byCountry[n]
	if !ok {
		return Quantity{}, fmt.Errorf("the unit %q is not known", name)
	}
	v, ok := sizes[s]
	if !ok {
		if s == Unsaid {
			return Quantity{}, fmt.Errorf("whose %s? A US one and an imperial one differ; say which units are yours", n)
		}
		return Quantity{}, fmt.Errorf("there is no %s in %s units", n, s)
	}
	return Quantity{v, dimVolume}, nil
}
