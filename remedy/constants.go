package remedy

import "oidium/cite"

// exact is a value without a range.
func exact(v float64, unit, source string, grade cite.Grade, what string) cite.Value {
	return cite.Value{V: v, Lo: v, Hi: v, Unit: unit, Source: source, Grade: grade, What: what}
}

// ranged is a value with the range thought possible.
func ranged(v, lo, hi float64, unit, source string, grade cite.Grade, what string) cite.Value {
	return cite.Value{V: v, Lo: lo, Hi: hi, Unit: unit, Source: source, Grade: grade, What: what}
}

// Limits of the rules.
var (
	heatCeiling      = exact(32, "°C", "uc-ipm-7406", cite.B, "heat ceiling for sulfur and oil within the next 24 h")
	heatCeilingBerry = exact(27, "°C", "uc-ipm-7406", cite.B, "heat ceiling for sulfur and oil on strawberry and caneberry")
	humidHeatT       = exact(30, "°C", "awri-2021", cite.B, "temperature above which humid heat burns under sulfur")
	humidHeatRH      = exact(70, "%", "awri-2021", cite.B, "humidity above which heat burns under sulfur")

	sulfurOilDays     = exact(14, "d", "uc-ipm-7406", cite.B, "days between sulfur and oil, either way")
	sulfurOilDaysShy  = exact(30, "d", "uc-ipm-7406", cite.B, "days between sulfur and oil on a sensitive crop")
	labelConflictDays = exact(14, "d", "assumption", cite.C, "days for which a label-decided conflict with an earlier material is asked about")

	preventiveCeiling = exact(0.20, "1", "assumption", cite.C, "share of leaf area covered from which a preventive is not offered")

	preventiveOnly = exact(0.01, "1", "assumption", cite.C, "share of leaf area covered from which groups 7, 11 and 21 are no longer preventive (R2)")

	dryingHours     = exact(4, "h", "cornell-timing", cite.B, "dry hours a deposit needs before rain")
	rainTrace       = exact(0.2, "mm", "assumption", cite.C, "rain from which an hour counts as rainy")
	rainChanceLimit = exact(0.3, "1", "assumption", cite.C, "chance of rain in an hour from which it counts as rainy")
	solubleGone     = exact(3, "mm", "assumption", cite.C, "rain after which a soluble deposit counts as gone")

	windLimit = exact(2.24, "m/s", "cornell-timing", cite.B, "wind at 2 m above which a spray is put off (5 mph)")
	windCalm  = exact(0.5, "m/s", "assumption", cite.C, "wind at 2 m below which an inversion is likely at night")
	sunset    = exact(-0.833, "°", "assumption", cite.Calc, "elevation of the sun's centre at sunset, with refraction (from memory)")
	workFrom  = exact(5, "h", "assumption", cite.C, "local hour before which nobody works in the garden")
	workTo    = exact(22, "h", "assumption", cite.C, "local hour after which nobody works in the garden")

	testLeafHours = exact(48, "h", "uc-ipm-7406", cite.B, "hours to wait after a test leaf (48 to 72)")
	strengthStep  = exact(1.1, "1", "assumption", cite.C, "times the strongest mix used before, above which a test leaf is due")

	copperLimit      = exact(28, "kg/ha", "eu-copper", cite.C, "copper metal in seven years")
	copperYears      = exact(7, "a", "eu-copper", cite.C, "years over which copper is counted")
	wineSulfurDays   = exact(35, "d", "kwasniewski-2014", cite.A, "days before harvest to stop sulfur on wine grape for less than 10 µg/g")
	allergenDays     = exact(7, "d", "assumption", cite.C, "days before picking in which milk and whey are kept off parts that are eaten")
	airPulse         = exact(24, "h", "awri-2021", cite.B, "hours ahead over which the heat ceiling is looked at")
	heatWarningHours = exact(72, "h", "uga-viticulture-2017", cite.B, "hours ahead over which a first hot spell is warned of")
)

// Rotation.
var (
	ruleTwoModes       = exact(2, "1", "croplife-cucurbit", cite.A, "modes of action a crop should see (R1)")
	ruleThreeModes     = exact(3, "1", "croplife-cucurbit", cite.A, "modes of action a crop should see without a protectant in the programme (R1)")
	ruleOneInThree     = exact(3, "1", "croplife-cucurbit", cite.A, "sprays among which at most one may be of group 11 or 21 (R3)")
	ruleMaxQoI         = exact(2, "1", "croplife-cucurbit", cite.A, "sprays of group 11 or U06 on a crop (R5)")
	ruleMaxGroup21     = exact(3, "1", "croplife-cucurbit", cite.A, "sprays of group 21 on a crop (R5)")
	ruleRegionalSeason = exact(1, "1", "uconn-pumpkin", cite.B, "uses of a systemic group in a season, stricter regional habit (R7)")
)

// Deposit and weathering.
var (
	depositHalf     = ranged(0.25, 0.1, 0.5, "1", "assumption", cite.C, "share of a fresh deposit at which the control is little over half, D50")
	resistWeight    = exact(0.9, "1", "assumption", cite.C, "loss of effect for each resistant share of the mildew")
	coverBoom       = [2]cite.Value{ranged(0.90, 0.8, 1, "1", "assumption", cite.C, "share of a full deposit on the upper face, boom"), ranged(0.35, 0.2, 0.5, "1", "mcgrath-landers", cite.C, "share of a full deposit on the lower face, boom or from above")}
	coverLance      = [2]cite.Value{ranged(0.90, 0.8, 1, "1", "assumption", cite.C, "share of a full deposit on the upper face, lance"), ranged(0.70, 0.5, 0.85, "1", "assumption", cite.C, "share of a full deposit on the lower face, lance or knapsack from below")}
	coverAir        = [2]cite.Value{ranged(0.90, 0.8, 1, "1", "assumption", cite.C, "share of a full deposit on the upper face, air-assisted"), ranged(0.55, 0.4, 0.7, "1", "assumption", cite.C, "share of a full deposit on the lower face, air-assisted")}
	coverDustBonus  = exact(0.15, "1", "assumption", cite.C, "added to the lower face for dust and sulfur vapour above 18 °C")
	particleFloor   = exact(0.18, "1", "schilder-2010", cite.B, "share of a particulate deposit that rain does not take (own fit to ziram)")
	particleRate    = exact(0.052, "1/mm", "schilder-2010", cite.B, "loss of the rest of a particulate deposit with rain (own fit to ziram)")
	freshHeavyMax   = exact(1.070, "1", "hunsche-2007", cite.A, "heavy rain on a deposit of less than a day: limit of the loss")
	freshHeavyHalf  = exact(0.946, "mm", "hunsche-2007", cite.A, "heavy rain on a deposit of less than a day: rain at half of it")
	freshLossCap    = exact(0.95, "1", "hunsche-2007", cite.A, "greatest loss from a deposit of less than a day")
	freshLight      = exact(0.10, "1/mm", "hunsche-2007", cite.A, "light rain on a deposit of less than a day: loss with rain")
	freshTorrent    = exact(0.80, "1", "hunsche-2007", cite.A, "torrential rain on a deposit of less than a day: loss with the first millimetre")
	heavyRain       = exact(5, "mm/h", "hunsche-2007", cite.A, "rain that counts as heavy")
	lightRain       = exact(1, "mm/h", "hunsche-2007", cite.A, "rain below which it counts as light")
	torrentialRain  = exact(20, "mm/h", "hunsche-2007", cite.A, "rain that counts as torrential")
	captanLoss      = exact(0.50, "1", "xu-2008", cite.A, "captan on apple: loss with 1 mm or more, whatever the amount")
	captanFrom      = exact(1, "mm", "xu-2008", cite.A, "captan on apple: rain from which the loss is complete")
	halvingRain     = exact(25, "mm", "lanthier-rain", cite.B, "rain that halves the remaining life of a deposit, rule of the trade")
	solubleRate     = ranged(0.4, 0.3, 0.5, "1/mm", "assumption", cite.C, "loss of a soluble deposit with rain")
	filmRate        = ranged(0.04, 0.03, 0.05, "1/mm", "assumption", cite.C, "loss of an oil film with rain")
	translamRate    = ranged(0.02, 0.01, 0.04, "1/mm", "assumption", cite.C, "loss of a translaminar material with rain once dry")
	microbeRate     = ranged(0.1, 0.05, 0.2, "1/mm", "assumption", cite.C, "loss of a microbe with rain")
	leafHolds       = ranged(66, 50, 66, "mL/m2", "cucumber-retention-2023", cite.A, "mix a square metre of one-sided leaf holds before it runs off")
	boomVolume      = exact(0.0748, "L/m2", "uconn-pumpkin", cite.B, "spray volume on a full pumpkin canopy (80 gal/acre)")
	bicarbonateCap  = exact(0.56, "g/m2", "cornell-bicarbonate", cite.B, "potassium bicarbonate, most on the ground area (5.6 kg/ha)")
	bicarbonateMost = exact(5, "g/L", "cornell-bicarbonate", cite.B, "potassium bicarbonate, strongest mix")
)

// Leaf removal.
var (
	removeRepeated = exact(0.25, "1", "burkness-1998", cite.A, "share of leaf that may be taken over any 21 days")
	removeOnce     = exact(0.33, "1", "rangarajan-2003", cite.A, "share of leaf that may be taken once")
	removeDays     = exact(21, "d", "assumption", cite.C, "days over which removals add up")
	removeTrade    = exact(0.30, "1", "common-practice", cite.C, "share of the plant's leaf that practice does not exceed")
	removeSlope    = exact(0.58, "1", "bottle-gourd-defoliation", cite.Calc, "loss of yield for each share of leaf beyond the budget")
	youngDays      = exact(14, "d", "assumption", cite.C, "age below which cucurbit leaves stay on")
	grapeSingle    = ranged(1.2, 0.8, 1.2, "m2/kg", "kliewer-2005", cite.A, "leaf a kilogram of grapes needs, single canopy (the safe end)")
	grapeDivided   = ranged(0.8, 0.5, 0.8, "m2/kg", "kliewer-2005", cite.A, "leaf a kilogram of grapes needs, divided canopy (the safe end)")
)

// Water, light and heat.
var (
	trialGenerations = ranged(3, 2, 6, "1", "assumption", cite.C, "generations of mildew in a trial whose severity was measured at its end")
	lethalA          = exact(6.984, "1", "peduto-2013", cite.Calc, "logarithm of the lethal hours of grape mildew at 0 °C, own fit over 36 to 44 °C")
	lethalB          = exact(0.1607, "1/K", "peduto-2013", cite.Calc, "fall of that logarithm with each degree, own fit")
	lethalFrom       = exact(36, "°C", "peduto-2013", cite.B, "temperature from which heat counts; 30 to 34 °C for a day is survived")
	lethalTo         = exact(44, "°C", "peduto-2013", cite.B, "temperature above which no faster killing is counted")
	heatAfterSpray   = exact(7, "d", "assumption", cite.C, "days after sulfur or oil in which a tunnel is not closed for heat")
	cropHeat         = exact(45, "°C", "cucumber-heat", cite.C, "temperature a watered crop is not taken to")
	pollenHeat       = exact(35, "°C", "assumption", cite.C, "temperature from which pollen and fruit set of tomato and squash suffer")
	mistHumidity     = exact(70, "%", "assumption", cite.C, "midday humidity above which misted leaves do not dry within an hour")
)
