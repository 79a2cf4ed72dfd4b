package diagram

import "oidium/cite"

var (
	// A colony grows 0.45 to 0.78 mm a day across; after about eleven days it is
	// of the size most often met.
	colonyMM   = cite.Value{V: 6.6, Lo: 3, Hi: 18, Unit: "mm", Source: "choudhury-2014", Grade: cite.Calc, What: "diameter of a mildew colony, median drawn"}
	colonyLeft = cite.Value{V: 1.5, Lo: 1, Hi: 2, Unit: "mm", Source: "assumption", Grade: cite.C, What: "diameter of the smallest colony drawn"}
	colonyMost = cite.Value{V: 18, Lo: 15, Hi: 20, Unit: "mm", Source: "calonnec-2008", Grade: cite.B, What: "diameter of the largest colony drawn"}
	colonySD   = cite.Value{V: 0.35, Lo: 0.2, Hi: 0.5, Unit: "1", Source: "assumption", Grade: cite.C, What: "spread of the logarithm of the diameter"}
	together   = cite.Value{V: 4, Lo: 1, Hi: 10, Unit: "colonies", Source: "assumption", Grade: cite.C, What: "colonies of a clump on a leaf, mean"}
	apart      = cite.Value{V: 10, Lo: 5, Hi: 20, Unit: "mm", Source: "assumption", Grade: cite.C, What: "distance of colonies from the middle of their clump, standard deviation"}
)

// Constants lists the constants of this room with their sources, for print.
func Constants() []cite.Value {
	return []cite.Value{colonyMM, colonyLeft, colonyMost, colonySD, together, apart}
}
