package scout

import "oidium/cite"

var (
	// rhoPrior is the resemblance of leaves of one plant before any count from
	// this garden: powdery mildew on hop leaves gave 0.005, 0.046, 0.082 and
	// 0.132 on four dates of 27 plants and more.
	rhoPrior = cite.Value{V: 0.08, Lo: 0.005, Hi: 0.2, Unit: "1", Source: "hop-leaf-counts", Grade: cite.Calc, What: "correlation of two leaves of one plant, mean of the prior"}

	// seesEye and its kin: share of visibly mildewed faces that a person notices.
	seesEye    = cite.Value{V: 0.85, Lo: 0.6, Hi: 0.95, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of mildewed faces noticed with the naked eye"}
	seesLens   = cite.Value{V: 0.95, Lo: 0.85, Hi: 0.99, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of mildewed faces noticed with a hand lens"}
	seesWetBag = cite.Value{V: 0.98, Lo: 0.9, Hi: 1, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of mildewed faces noticed after a night in a damp bag"}

	// falseSure and falseLikely: share of healthy faces called mildewed.
	falseSure   = cite.Value{V: 0.002, Lo: 0.0005, Hi: 0.01, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of healthy faces called mildewed by somebody who is sure"}
	falseLikely = cite.Value{V: 0.01, Lo: 0.002, Hi: 0.05, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of healthy faces called mildewed by somebody who finds it likely"}

	// loosePlant is how many leaves a plant is taken to have given when a tally
	// does not tell plants apart: five leaves at each of ten places.
	loosePlant = cite.Value{V: 5, Lo: 1, Hi: 10, Unit: "leaves", Source: "assumption", Grade: cite.C, What: "leaves from one plant in a tally that does not tell plants apart"}

	// The 1-in-50 rule for old leaves of cucurbits.
	ruleLeaves   = cite.Value{V: 50, Lo: 50, Hi: 50, Unit: "leaves", Source: "mcgrath-1996", Grade: cite.A, What: "old leaves, both faces, of the cucurbit threshold"}
	ruleInfected = cite.Value{V: 1, Lo: 1, Hi: 1, Unit: "leaves", Source: "mcgrath-1996", Grade: cite.A, What: "mildewed leaves at which the cucurbit threshold is reached"}

	// raterSD and raterSmall: spread of a person's readings about the truth on
	// the scale ln(-ln(1-share)).
	raterSD      = cite.Value{V: 0.6, Lo: 0.3, Hi: 1, Unit: "1", Source: "assumption", Grade: cite.C, What: "standard deviation of a severity reading, complementary log-log scale"}
	raterOutlier = cite.Value{V: 0.01, Lo: 0, Hi: 0.05, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of severity readings that are slips"}
	readingStep  = cite.Value{V: 0.1, Lo: 0.05, Hi: 0.2, Unit: "1", Source: "assumption", Grade: cite.C, What: "half the distance between neighbouring readings, share of the reading"}
	readingLeast = cite.Value{V: 0.0025, Lo: 0.001, Hi: 0.005, Unit: "1", Source: "assumption", Grade: cite.C, What: "half the smallest reading above none (a trace is 0.5 %)"}

	// incidenceMost: above it severity runs away from incidence.
	incidenceMost = cite.Value{V: 0.65, Lo: 0.65, Hi: 0.65, Unit: "1", Source: "james-shih-1973", Grade: cite.A, What: "incidence up to which severity follows from incidence"}

	// The usual stop rule.
	stopClean  = cite.Value{V: 0.02, Lo: 0.01, Hi: 0.02, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of mildewed leaves up to which a bed counts as clean in the stop rule"}
	stopBad    = cite.Value{V: 0.1, Lo: 0.05, Hi: 0.2, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of mildewed leaves from which a bed counts as bad in the stop rule"}
	stopError  = cite.Value{V: 0.1, Lo: 0.05, Hi: 0.1, Unit: "1", Source: "assumption", Grade: cite.C, What: "wanted chance of either error of the stop rule"}
	stopLeaves = cite.Value{V: 75, Lo: 50, Hi: 100, Unit: "leaves", Source: "assumption", Grade: cite.C, What: "leaves after which the stop rule ends undecided"}

	// secondsLeaf and secondsPlant price a walk.
	secondsLeaf  = cite.Value{V: 6, Lo: 3, Hi: 15, Unit: "s", Source: "assumption", Grade: cite.C, What: "time to look at both faces of a leaf"}
	secondsPlant = cite.Value{V: 12, Lo: 5, Hi: 30, Unit: "s", Source: "assumption", Grade: cite.C, What: "time to reach the next plant and note it"}
)

// Constants lists the constants of this room with their sources, for print.
func Constants() []cite.Value {
	return []cite.Value{
		rhoPrior, seesEye, seesLens, seesWetBag, falseSure, falseLikely, loosePlant,
		ruleLeaves, ruleInfected, raterSD, raterOutlier, readingStep, readingLeast,
		incidenceMost, stopClean, stopBad, stopError, stopLeaves, secondsLeaf, secondsPlant,
	}
}
