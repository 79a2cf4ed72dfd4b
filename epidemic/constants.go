package epidemic

import (
	"oidium/cite"
	"oidium/garden"
)

var (
	gregoryPower  = cite.Value{V: 2.5, Lo: 2.05, Hi: 2.5, Unit: "1", Source: "mundt-leonard", Grade: cite.C, What: "exponent of the fall of conidia with distance; measured for a rust, taken over"}
	gregoryNear   = cite.Value{V: 0.5, Lo: 0.3, Hi: 0.5, Unit: "m", Source: "mundt-leonard", Grade: cite.C, What: "length that flattens the fall near the source, about the radius of a plant"}
	ownShare      = cite.Value{V: 0.8, Lo: 0.6, Hi: 0.95, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of a bed's conidia that come down in the bed"}
	crowding      = cite.Value{V: 0.5, Lo: 0.5, Hi: 2, Unit: "1", Source: "rouse-1981", Grade: cite.C, What: "exponent k of the negative binomial of colonies on leaf, early in an epidemic and taken for all of it, though colonies of wheat mildew stood at random from the fifth week on; the step is written for one half"}
	capture       = cite.Value{V: 1.0, Lo: 0.6, Hi: 1.5, Unit: "m²/m²", Source: "assumption", Grade: cite.C, What: "leaf area that catches 63 % of the conidia over the bed"}
	visibleLatent = cite.Value{V: 1, Lo: 0, Hi: 1, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of colonies in the last fifth of the latent period that the eye sees"}
	hasten        = cite.Value{V: 0.04, Lo: 0.01, Hi: 0.1, Unit: "1/d", Source: "assumption", Grade: cite.C, What: "fall of leaf that is wholly spent, in a day"}
	onsetWarm     = cite.Value{V: 200, Lo: 0, Hi: 450, Unit: "°C d", Source: "assumption", Grade: cite.C, What: "thermal time from planting or bud break until conidia come in from outside in number"}
	bareLeaf      = cite.Value{V: 0.05, Lo: 0.02, Hi: 0.2, Unit: "m²/m²", Source: "assumption", Grade: cite.C, What: "susceptible leaf that catches half of what was carried over"}
	onsetBefore   = cite.Value{V: 0.05, Lo: 0.01, Hi: 0.2, Unit: "1", Source: "assumption", Grade: cite.C, What: "arrival before that day against after it"}

	spreadInfectious = cite.Value{V: 1, Lo: 0.75, Hi: 1.33, Unit: "1", Source: "assumption", Grade: cite.C, What: "infectious period against the row's"}
	spreadEfficacy   = cite.Value{V: 1, Lo: 0.6, Hi: 1.15, Unit: "1", Source: "assumption", Grade: cite.C, What: "efficacy of actions as applied here against the published"}
	spreadVigour     = cite.Value{V: 1, Lo: 0.8, Hi: 1.25, Unit: "1", Source: "assumption", Grade: cite.C, What: "growth of this planting against the crop's"}
	spreadCultivar   = cite.Value{V: 1, Lo: 0.7, Hi: 1.43, Unit: "1", Source: "assumption", Grade: cite.C, What: "susceptibility of the cultivar against its rating"}
)

// rated is the susceptibility of a cultivar by its rating, as a share of new
// infection. Resistant is not immune.
func rated(r garden.Resistance) cite.Value {
	switch r {
	case garden.High:
		return cite.Value{V: 0.5, Lo: 0.3, Hi: 0.7, Unit: "1", Source: "mcgrath-staniszewska-1996", Grade: cite.C, What: "infection on a highly resistant cultivar, set so that severity in September is lower by the 67 to 93 % measured"}
	case garden.Intermediate:
		return cite.Value{V: 0.75, Lo: 0.55, Hi: 0.95, Unit: "1", Source: "assumption", Grade: cite.C, What: "infection on an intermediate cultivar"}
	case garden.Susceptible:
		return cite.Value{V: 1, Lo: 1, Hi: 1, Unit: "1", Source: "assumption", Grade: cite.Calc, What: "infection on a susceptible cultivar, the measure of the others"}
	}
	return cite.Value{V: 0.85, Lo: 0.5, Hi: 1, Unit: "1", Source: "assumption", Grade: cite.C, What: "infection on a cultivar of unknown rating"}
}
