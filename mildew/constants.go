package mildew

import "oidium/cite"

// Numbers common to all rows. Those of one mildew stand in its row.
var (
	releaseSlope = cite.Value{V: 0.41, Lo: 0.41, Hi: 0.41, Unit: "s/m", Source: "calonnec-2008", Grade: cite.B, What: "slope of the release of conidia by wind"}
	releaseShift = cite.Value{V: 5.8, Lo: 5.8, Hi: 5.8, Unit: "1", Source: "calonnec-2008", Grade: cite.B, What: "shift of the release of conidia by wind"}
	releaseScale = cite.Value{V: 0.71, Lo: 0.71, Hi: 0.71, Unit: "1", Source: "calonnec-2008", Grade: cite.B, What: "scale of the release of conidia by wind"}
	gust         = cite.Value{V: 1.75, Lo: 1.5, Hi: 2, Unit: "1", Source: "mccartney-1983", Grade: cite.A, What: "gust at the leaf over the hour's mean wind"}
	stillRelease = cite.Value{V: 0.02, Lo: 0.005, Hi: 0.05, Unit: "1/h", Source: "assumption", Grade: cite.C, What: "share of ripe conidia let go in an hour of drying air without wind"}
	nightRelease = cite.Value{V: 0.2, Lo: 0.05, Hi: 0.4, Unit: "1", Source: "assumption", Grade: cite.C, What: "release outside the day and outside drying hours, against the day"}
	stockDeath   = cite.Value{V: 0.15, Lo: 0.05, Hi: 0.35, Unit: "1/d", Source: "yarwood-1954", Grade: cite.C, What: "conidia that die on the colony in a day; attached spores outlive the two days of detached ones"}

	freeShare = cite.Value{V: 0.6, Lo: 0.5, Hi: 0.8, Unit: "1", Source: "calonnec-2008", Grade: cite.Calc, What: "share of conidia that leave a colony over a breezy dry day before they die, by the release curve at 2 m/s; the best day"}
	germLife  = cite.Value{V: 48, Lo: 36, Hi: 60, Unit: "h", Source: "yarwood-1954", Grade: cite.A, What: "life of a detached conidium, about two days in ordinary conditions"}

	infectiousAt   = cite.Value{V: 20, Lo: 20, Hi: 20, Unit: "°C", Source: "calonnec-2008", Grade: cite.B, What: "temperature at which the infectious periods of the rows are given"}
	infectiousRise = cite.Value{V: 0.0762, Lo: 0.06, Hi: 0.09, Unit: "1/K", Source: "calonnec-2008", Grade: cite.B, What: "rise of the progress of the infectious period with temperature; grape, taken for all"}

	humpLow  = cite.Value{V: 5, Lo: 5, Hi: 5, Unit: "°C", Source: "calonnec-2008", Grade: cite.B, What: "least temperature of grape mildew"}
	humpHigh = cite.Value{V: 33, Lo: 33, Hi: 33, Unit: "°C", Source: "calonnec-2008", Grade: cite.B, What: "highest temperature of grape mildew"}
	humpM    = cite.Value{V: 0.338, Lo: 0.338, Hi: 0.338, Unit: "1", Source: "calonnec-2008", Grade: cite.B, What: "infection of grape by temperature: upper exponent"}
	humpN    = cite.Value{V: 1.055, Lo: 1.055, Hi: 1.055, Unit: "1", Source: "calonnec-2008", Grade: cite.B, What: "infection of grape by temperature: lower exponent; the curve peaks at 26 °C, another paper quotes 22 °C"}

	killA1     = cite.Value{V: 6.984, Lo: 6.984, Hi: 6.984, Unit: "log10 h", Source: "peduto-2013", Grade: cite.Calc, What: "heat that kills grape mildew colonies: intercept, fit through published bands"}
	killB1     = cite.Value{V: 0.1607, Lo: 0.1607, Hi: 0.1607, Unit: "1/K", Source: "peduto-2013", Grade: cite.Calc, What: "heat that kills grape mildew colonies: slope"}
	killA2     = cite.Value{V: 7.708, Lo: 7.708, Hi: 7.708, Unit: "log10 h", Source: "peduto-2013", Grade: cite.Calc, What: "the same, second fit through four points: intercept"}
	killB2     = cite.Value{V: 0.1790, Lo: 0.1790, Hi: 0.1790, Unit: "1/K", Source: "peduto-2013", Grade: cite.Calc, What: "the same, second fit: slope"}
	killFrom   = cite.Value{V: 34, Lo: 34, Hi: 36, Unit: "°C", Source: "peduto-2013", Grade: cite.C, What: "leaf temperature from which heat kills; the fit holds from 36 °C"}
	killHits   = cite.Value{V: 10, Lo: 4, Hi: 20, Unit: "1", Source: "choudhury-2014", Grade: cite.C, What: "hits of the heat curve's shoulder: a tenth of the lethal time in a day does nearly nothing, and further days add little"}
	killYoung  = cite.Value{V: -2, Lo: -3, Hi: 0, Unit: "K", Source: "assumption", Grade: cite.C, What: "latent colonies die at lower heat by this much"}
	checkFrom  = cite.Value{V: 31, Lo: 31, Hi: 31, Unit: "°C", Source: "choudhury-2014", Grade: cite.A, What: "leaf temperature from which an hour delays growth"}
	checkHard  = cite.Value{V: 37, Lo: 35, Hi: 37, Unit: "°C", Source: "choudhury-2014", Grade: cite.A, What: "leaf temperature from which an hour delays growth by two days"}
	checkDelay = cite.Value{V: 1, Lo: 1, Hi: 2, Unit: "d", Source: "choudhury-2014", Grade: cite.A, What: "delay by a first hour of heat; further days within three add none"}
	checkPause = cite.Value{V: 72, Lo: 72, Hi: 72, Unit: "h", Source: "choudhury-2014", Grade: cite.A, What: "time without heat after which an hour of heat checks growth anew"}
	checkGrow  = cite.Value{V: 0.8, Lo: 0.69, Hi: 0.91, Unit: "1", Source: "choudhury-2014", Grade: cite.A, What: "growth of colonies after an hour of heat"}

	slowFades = cite.Value{V: 0.85, Lo: 0.7, Hi: 1, Unit: "1/d", Source: "assumption", Grade: cite.C, What: "share of a check by heat that is left a day later"}

	coldBelow  = cite.Value{V: 8, Lo: 6, Hi: 8, Unit: "°C", Source: "moyer-2010", Grade: cite.A, What: "temperature below which two hours harm infection"}
	coldInfect = cite.Value{V: 0.5, Lo: 0.3, Hi: 0.8, Unit: "1", Source: "moyer-2010", Grade: cite.C, What: "infection in the day after a cold night; effect published without a number"}
	coldLatent = cite.Value{V: 0.9, Lo: 0.8, Hi: 1, Unit: "1", Source: "moyer-2010", Grade: cite.C, What: "latent progress in the day after a cold night"}

	rainHard    = cite.Value{V: 2, Lo: 1, Hi: 3, Unit: "mm/h", Source: "assumption", Grade: cite.C, What: "rain or overhead water that washes a leaf"}
	rainStock   = cite.Value{V: 0.66, Lo: 0.47, Hi: 0.95, Unit: "1", Source: "lage-2019", Grade: cite.Calc, What: "ripe conidia left on the colonies after washing water; fitted with the next two so that sprinkling every day gives 0.28 of the disease under drip, the first drops are known to release 53 % of what is dispersed"}
	rainOutside = cite.Value{V: 0.3, Lo: 0.1, Hi: 0.6, Unit: "1", Source: "assumption", Grade: cite.C, What: "conidia still in the air in hours of washing rain"}
	rainInfect  = cite.Value{V: 0.62, Lo: 0.4, Hi: 0.9, Unit: "1", Source: "lage-2019", Grade: cite.Calc, What: "infection in the twelve hours after washing water; fitted, see above"}
	rainColony  = cite.Value{V: 0.01, Lo: 0, Hi: 0.05, Unit: "1", Source: "lage-2019", Grade: cite.Calc, What: "colonies on the upper face that an hour of washing water destroys; fitted, see above"}
	rainBelow   = cite.Value{V: 0.4, Lo: 0.2, Hi: 0.7, Unit: "1", Source: "assumption", Grade: cite.C, What: "action of water on the lower face against the upper"}
	wetSpore    = cite.Value{V: 0.5, Lo: 0.3, Hi: 0.8, Unit: "1", Source: "assumption", Grade: cite.C, What: "sporulation of a wet colony"}

	dayFull = cite.Value{V: 18, Lo: 18, Hi: 18, Unit: "h", Source: "suthaparan-2010", Grade: cite.A, What: "light a day up to which sporulation is whole"}
	dayLeft = cite.Value{V: 0.6, Lo: 0.38, Hi: 0.78, Unit: "1", Source: "suthaparan-2010", Grade: cite.C, What: "sporulation left under 24 hours of light; measured on rose 0.38 to 0.78"}

	sunFull   = cite.Value{V: 900, Lo: 800, Hi: 1000, Unit: "W/m²", Source: "assumption", Grade: cite.C, What: "radiation of full sun"}
	sunWind   = cite.Value{V: 0.35, Lo: 0.2, Hi: 0.5, Unit: "s/m", Source: "assumption", Grade: cite.C, What: "how wind takes the warmth of sun off a leaf"}
	sunMean   = cite.Value{V: 0.35, Lo: 0.2, Hi: 0.5, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of leaf in the sun, for the canopy's mean leaf temperature"}
	airToLeaf = cite.Value{V: 0.5, Lo: 0.3, Hi: 0.8, Unit: "1", Source: "assumption", Grade: cite.C, What: "saturation deficit at the leaf against the air; the layer at the leaf is moister"}

	sunHarm   = cite.Value{V: 0.38, Lo: 0.33, Hi: 0.43, Unit: "1", Source: "austin-wilcox-2012", Grade: cite.Calc, What: "infection prevented on leaf in full sun; severity in the shade was 49 to 75 % higher on grape, taken for all"}
	sunBright = cite.Value{V: 250, Lo: 200, Hi: 320, Unit: "W/m²", Source: "assumption", Grade: cite.C, What: "mean radiation of a bright summer day"}

	rayUVCRate = cite.Value{V: 0.4, Lo: 0.2, Hi: 0.7, Unit: "m²/J", Source: "janisiewicz-2016", Grade: cite.C, What: "kill by UV-C at night followed by dark: 3.1 J/m² harms, 12.4 J/m² kills nearly all"}
	rayUVCHits = cite.Value{V: 3, Lo: 1, Hi: 5, Unit: "1", Source: "janisiewicz-2016", Grade: cite.C, What: "shoulder of the kill by UV-C"}
	rayUVBRate = cite.Value{V: 0.01453, Lo: 0.01453, Hi: 0.01453, Unit: "m²/J", Source: "suthaparan-2012", Grade: cite.Calc, What: "kill by UV-B at night: through two points, severity ÷2.6 at 144 and ÷51 at 360 J/m²"}
	rayUVBHits = cite.Value{V: 3.686, Lo: 3.686, Hi: 3.686, Unit: "1", Source: "suthaparan-2012", Grade: cite.Calc, What: "shoulder of the kill by UV-B, through the same points"}
	rayBelow   = cite.Value{V: 0.3, Lo: 0.1, Hi: 0.6, Unit: "1", Source: "assumption", Grade: cite.C, What: "dose of lamps on the lower face against the upper"}

	budPace   = cite.Value{V: 150, Lo: 75, Hi: 300, Unit: "°C d", Source: "assumption", Grade: cite.C, What: "thermal time over which mildew in buds and on living leaf breaks out"}
	debrisWet = cite.Value{V: 0.1, Lo: 0.03, Hi: 0.3, Unit: "1/d", Source: "assumption", Grade: cite.C, What: "share of what is left on debris that a warm wet day discharges"}
	wetFrom   = cite.Value{V: 90, Lo: 87, Hi: 95, Unit: "%", Source: "assumption", Grade: cite.C, What: "humidity from which debris counts as wet"}
	wetWarm   = cite.Value{V: 10, Lo: 10, Hi: 10, Unit: "°C", Source: "aldrighetti-2026", Grade: cite.A, What: "temperature from which wet hours ripen strawberry ascospores"}
	wetNeed   = cite.Value{V: 20, Lo: 18, Hi: 21, Unit: "h", Source: "aldrighetti-2026", Grade: cite.A, What: "cumulative warm wet hours before ascospores of strawberry mildew infect"}
	wetRun    = cite.Value{V: 2, Lo: 2, Hi: 2, Unit: "h", Source: "aldrighetti-2026", Grade: cite.A, What: "consecutive wet hours that count"}

	noWind     = cite.Value{V: 1.5, Lo: 0.5, Hi: 3, Unit: "m/s", Source: "assumption", Grade: cite.C, What: "wind at the crop where none is known"}
	noHumidity = cite.Value{V: 75, Lo: 55, Hi: 90, Unit: "%", Source: "assumption", Grade: cite.C, What: "relative humidity where none is known"}
)
