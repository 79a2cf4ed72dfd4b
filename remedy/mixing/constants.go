package mixing

import "oidium/cite"

// Atomic weights, g/mol.
var (
	atomH  = atom(1.00794, "H")
	atomC  = atom(12.0107, "C")
	atomO  = atom(15.9994, "O")
	atomNa = atom(22.98977, "Na")
	atomSi = atom(28.0855, "Si")
	atomP  = atom(30.973762, "P")
	atomK  = atom(39.0983, "K")
)

func atom(v float64, what string) cite.Value {
	return cite.Value{V: v, Lo: v, Hi: v, Unit: "g/mol", Source: "atomic-weights", Grade: cite.C, What: "atomic weight of " + what}
}

var (
	solubleNaHCO3 = cite.Value{V: 96, Lo: 90, Hi: 100, Unit: "g/L", Source: "assumption", Grade: cite.C, What: "solubility of sodium bicarbonate at 20 °C (from memory)"}
	sodaDensity   = cite.Value{V: 0.95, Lo: 0.76, Hi: 1.14, Unit: "g/mL", Source: "assumption", Grade: cite.C, What: "bulk density of baking soda (from memory)"}
	spoonDoubt    = cite.Value{V: 0.20, Lo: 0.20, Hi: 0.20, Unit: "1", Source: "common-practice", Grade: cite.C, What: "doubt of a spoon"}
	workerUV      = cite.Value{V: 60, Lo: 60, Hi: 60, Unit: "J/m2", Source: "icnirp-2004", Grade: cite.B, What: "most that eyes and skin may take of 254 nm in 8 hours"}
)
