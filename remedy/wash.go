package remedy

import (
	"math"

	"oidium/cite"
)

// washed returns what rain has left of a deposit: fresh millimetres fell within
// a day of the treatment, later ones after that.
func washed(class RainClass, fresh, later float64) float64 {
	if class == Particulate {
		return (1 - freshLoss(fresh, heavyRain.V)) * weathered(class, later)
	}
	return weathered(class, fresh+later)
}

// weathered returns what is left of a dried deposit of the rain class after the
// given rain in mm.
//
//	particulate   W = 0.18 + 0.82 exp(−0.052 mm)   (fit to ziram on grape)
//	others        W = exp(−k mm)
func weathered(class RainClass, mm float64) float64 {
	switch class {
	case Particulate:
		return particleFloor.V + (1-particleFloor.V)*math.Exp(-particleRate.V*mm)
	case Soluble:
		return math.Exp(-solubleRate.V * mm)
	case Film:
		return math.Exp(-filmRate.V * mm)
	case Translaminar:
		return math.Exp(-translamRate.V * mm)
	case Microbe:
		return math.Exp(-microbeRate.V * mm)
	}
	return 1
}

// freshLoss returns the share of a particulate deposit less than a day old that
// rain of the given amount and intensity (mm/h) takes, by the curves of mancozeb
// on apple seedlings.
//
//	light (below 1 mm/h)      0.10 mm
//	heavy (5 mm/h and more)   min(0.95, 1.070 mm/(0.946+mm))
//	torrential (20 and more)  0.80 with the first millimetre
//
// Between light and heavy the two are mixed in proportion.
func freshLoss(mm, rate float64) float64 {
	if mm <= 0 {
		return 0
	}
	light := freshLight.V * mm
	heavy := freshHeavyMax.V * mm / (freshHeavyHalf.V + mm)
	loss := heavy
	switch {
	case rate >= torrentialRain.V:
		loss = max(heavy, freshTorrent.V*min(1, mm))
	case rate < lightRain.V:
		loss = light
	case rate < heavyRain.V:
		w := (rate - lightRain.V) / (heavyRain.V - lightRain.V)
		loss = (1-w)*light + w*heavy
	}
	return min(freshLossCap.V, loss)
}

// Washing is what one published experiment says of a rain.
type Washing struct {
	What   string     `json:"what" doc:"material, crop and conditions"`
	Lost   float64    `json:"lost" doc:"share of the deposit lost, 0 to 1"`
	Source string     `json:"source"`
	Grade  cite.Grade `json:"grade"`
}

// Washings returns what each published experiment on particulate deposits says
// of a rain of the given amount (mm) and intensity (mm/h). They disagree: on
// apple half of the captan was gone with 1 mm and no more after that (xu-2008),
// on grape ziram stood 12 mm with a third lost (schilder-2010), and mancozeb less
// than a day old lost half with 1 mm of heavy rain (hunsche-2007). A rule of the
// trade halves the life of a deposit with 25 mm (lanthier-rain). The program uses
// the first curve on the day of the treatment and the second from then on.
func Washings(mm, rate float64) []Washing {
	mm = max(0, mm)
	captan := 0.0
	if mm >= captanFrom.V {
		captan = captanLoss.V
	}
	return []Washing{
		{say("wash.mancozeb"), freshLoss(mm, rate), freshHeavyMax.Source, freshHeavyMax.Grade},
		{say("wash.ziram"), 1 - weathered(Particulate, mm), particleRate.Source, particleRate.Grade},
		{say("wash.captan"), captan, captanLoss.Source, captanLoss.Grade},
		{say("wash.halving"), 1 - math.Exp2(-mm/halvingRain.V), halvingRain.Source, halvingRain.Grade},
	}
}
