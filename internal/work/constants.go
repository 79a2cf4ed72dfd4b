package work

import (
	"oidium/belief"
	"oidium/cite"
	"oidium/garden"
)

// What a round takes as usual where the user has not said. Each is shown to the
// user with the round when it was used.
var (
	usualMinutes = cite.Value{V: 60, Lo: 15, Hi: 480, Unit: "min", Source: "assumption", Grade: cite.C, What: "minutes a pair of hands has for the round"}
	usualHands   = cite.Value{V: 1, Lo: 1, Hi: 10, Unit: "1", Source: "assumption", Grade: cite.C, What: "pairs of hands"}
	usualWage    = cite.Value{V: 20, Lo: 0, Hi: 60, Unit: "money/h", Source: "assumption", Grade: cite.C, What: "value of an hour of work"}
	usualValue   = cite.Value{V: 0.3, Lo: 0.05, Hi: 2, Unit: "money/m2/d", Source: "assumption", Grade: cite.C, What: "value of a square metre on a day of picking or looking well"}
	usualPrice   = cite.Value{V: 8, Lo: 1, Hi: 60, Unit: "money/kg", Source: "assumption", Grade: cite.C, What: "price of a kilogram or litre of product"}
	usualSeason  = cite.Value{V: 120, Lo: 80, Hi: 200, Unit: "d", Source: "assumption", Grade: cite.C, What: "days from planting to the last picking"}
	usualFirst   = cite.Value{V: 50, Lo: 30, Hi: 90, Unit: "d", Source: "assumption", Grade: cite.C, What: "days from planting to the first picking"}
	usualWater   = cite.Value{V: 4, Lo: 2, Hi: 10, Unit: "mm", Source: "assumption", Grade: cite.C, What: "water of one overhead watering, given at seven each morning"}

	// priorXanthii is the prior share of Podosphaera xanthii among mildews of
	// cucurbits. The Czech surveys found the other species in most fields, warm
	// regions mostly this one; a season's temperature moves it through the
	// evidence.
	priorXanthii = cite.Value{V: 0.6, Lo: 0.2, Hi: 0.95, Unit: "1", Source: "assumption", Grade: cite.C, What: "chance that mildew of a cucurbit is Podosphaera xanthii, before any look"}

	clumping     = cite.Value{V: 0.5, Lo: 0.3, Hi: 2, Unit: "1", Source: "rouse-1981", Grade: cite.C, What: "exponent k of the negative binomial of colonies on leaves, early epidemic"}
	leafLarge    = cite.Value{V: 150, Lo: 60, Hi: 400, Unit: "cm2", Source: "assumption", Grade: cite.C, What: "area of one face of a leaf of cucurbits and vines"}
	leafSmall    = cite.Value{V: 40, Lo: 10, Hi: 100, Unit: "cm2", Source: "assumption", Grade: cite.C, What: "area of one face of a leaf of other crops"}
	colonyCm2    = cite.Value{V: 1, Lo: 0.3, Hi: 3, Unit: "cm2", Source: "assumption", Grade: cite.C, What: "area of one visible colony"}
	enterMinutes = cite.Value{V: 3, Lo: 1, Hi: 10, Unit: "min", Source: "assumption", Grade: cite.C, What: "time to read a label and type in what it says"}
	flowerDays   = cite.Value{V: 28, Lo: 20, Hi: 50, Unit: "d", Source: "assumption", Grade: cite.C, What: "days from planting until a fruit crop may be in flower"}
	overDays     = cite.Value{V: 60, Lo: 30, Hi: 120, Unit: "d", Source: "assumption", Grade: cite.C, What: "days after the last picking from which a crop of one season counts as over"}
	slipShare    = cite.Value{V: 0.1, Lo: 0.05, Hi: 0.2, Unit: "1", Source: "assumption", Grade: cite.C, What: "share above the highest rate of the label from which a slip is asked about"}
	leastLeaf    = cite.Value{V: 0.05, Lo: 0.02, Hi: 0.2, Unit: "m2/m2", Source: "assumption", Grade: cite.C, What: "leaf area below which there is nothing to look at"}
	showing      = cite.Value{V: 0.8, Lo: 0.15, Hi: 2, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of the modelled cover that a bed shows, the same on every day"}
	discrepancy  = cite.Value{V: 0.5, Lo: 0.2, Hi: 1, Unit: "1", Source: "assumption", Grade: cite.C, What: "standard deviation of ln(true covered share / the model's) on a day"}

	stuckHours  = cite.Value{V: 48, Lo: 24, Hi: 120, Unit: "h", Source: "assumption", Grade: cite.C, What: "how long a sensor may stand still before what it says is set aside"}
	poreVPD     = cite.Value{V: 1.5, Lo: 0.7, Hi: 3, Unit: "kPa", Source: "leuning-1995", Grade: cite.C, What: "deficit of the air at which the pores of a leaf are half closed"}
	poreWide    = cite.Value{V: 0.3, Lo: 0.1, Hi: 0.6, Unit: "mol/m2/s", Source: "assumption", Grade: cite.C, What: "conductance of a leaf for vapour in light with wide open pores"}
	stillWind   = cite.Value{V: 0.3, Lo: 0.05, Hi: 1, Unit: "m/s", Source: "assumption", Grade: cite.C, What: "movement of the air among plants under cover"}
	cheapGrowth = cite.Value{V: 0.8, Lo: 0.7, Hi: 0.9, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of the best growth by warmth from which a pair is called cheap for the plant"}
	cheapPores  = cite.Value{V: 0.5, Lo: 0.4, Hi: 0.7, Unit: "1", Source: "assumption", Grade: cite.C, What: "how far pores must stay open for a pair to be called cheap for the plant"}
	nearKm      = cite.Value{V: 50, Lo: 20, Hi: 100, Unit: "km", Source: "assumption", Grade: cite.C, What: "how far a typical year may be from elsewhere without a warning"}
	habitDays   = cite.Value{V: 14, Lo: 7, Hi: 30, Unit: "d", Source: "assumption", Grade: cite.C, What: "days over which a bed's logger is compared with the weather outside"}

	tailDays       = cite.Value{V: 21, Lo: 0, Hi: 60, Unit: "d", Source: "assumption", Grade: cite.C, What: "days beyond the horizon for which its last state is taken to count"}
	secondsPerLeaf = cite.Value{V: 6, Lo: 3, Hi: 15, Unit: "s", Source: "assumption", Grade: cite.C, What: "time to find, cut and bag a leaf"}
	minutesToMix   = cite.Value{V: 15, Lo: 8, Hi: 30, Unit: "min", Source: "assumption", Grade: cite.C, What: "time to mix, put on protection, rinse and write it down"}
	usualOutput    = cite.Value{V: 0.8, Lo: 0.3, Hi: 3, Unit: "L/min", Source: "assumption", Grade: cite.C, What: "output of a hand sprayer that was not measured"}
)

// How well untrained people read the cover of leaves, for comparison.
var (
	eyeBare  = cite.Value{V: 0.734, Lo: 0.734, Hi: 0.734, Unit: "1", Source: "nascimento-watermelon", Grade: cite.A, What: "concordance of untrained readers without diagrams"}
	eyeAided = cite.Value{V: 0.952, Lo: 0.952, Hi: 0.952, Unit: "1", Source: "nascimento-watermelon", Grade: cite.A, What: "concordance of untrained readers with diagrams beside the leaf"}
)

// Sizes of the computation: numerical, not facts.
const (
	aheadRuns   = 40 // scenarios of weather; members share them in turn
	aheadDays   = 42 // days over which consequences are followed; actions are weighed for today and the days just ahead
	horizon     = garden.Day(aheadDays)
	shownDays   = 14 // days of the forecast that are printed
	fewMembers  = belief.LeastESS
	conditioned = 3   // times as many members where there are looks to agree with
	recentrings = 4   // how often members are drawn anew, in all
	triedDraws  = 120 // truths a plan is tried on
)
