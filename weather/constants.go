package weather

import "oidium/cite"

// Moisture of the air. One curve everywhere, so that round trips are exact.
var (
	tetensScale  = cite.Value{V: 0.6108, Lo: 0.6108, Hi: 0.6108, Unit: "kPa", Source: "fao-56", Grade: cite.A, What: "saturation vapour pressure at 0 °C"}
	tetensSlope  = cite.Value{V: 17.27, Lo: 17.27, Hi: 17.27, Unit: "1", Source: "fao-56", Grade: cite.A, What: "saturation vapour pressure, slope over water"}
	tetensOffset = cite.Value{V: 237.3, Lo: 237.3, Hi: 237.3, Unit: "°C", Source: "fao-56", Grade: cite.A, What: "saturation vapour pressure, offset over water"}
	psychroFan   = cite.Value{V: 0.000662, Lo: 0.000662, Hi: 0.0012, Unit: "1/K", Source: "fao-56", Grade: cite.A, What: "psychrometer coefficient, ventilated"}
)

// Wetness of leaves.
var (
	wetRain     = cite.Value{V: 0.2, Lo: 0.1, Hi: 0.5, Unit: "mm/h", Source: "assumption", Grade: cite.C, What: "rain in an hour that leaves foliage wet (convention)"}
	wetRH       = cite.Value{V: 90, Lo: 83, Hi: 95, Unit: "%", Source: "sentelhas-2008", Grade: cite.B, What: "relative humidity from which leaves are counted as wet, without tuning to the site"}
	treeDry     = cite.Value{V: 3.7, Lo: 3.7, Hi: 3.7, Unit: "K", Source: "kim-2002", Grade: cite.A, What: "dew point depression from which leaves are dry"}
	treeCalm    = cite.Value{V: 2.5, Lo: 2.5, Hi: 2.5, Unit: "m/s", Source: "kim-2002", Grade: cite.A, What: "wind below which the calm branch of the tree holds"}
	treeBound   = cite.Value{V: 14.4674, Lo: 14.4674, Hi: 14.4674, Unit: "1", Source: "kim-2002", Grade: cite.A, What: "calm branch, bound"}
	treeRootT   = cite.Value{V: 1.6064, Lo: 1.6064, Hi: 1.6064, Unit: "1", Source: "kim-2002", Grade: cite.A, What: "calm branch, root of temperature"}
	treeT2      = cite.Value{V: 0.0036, Lo: 0.0036, Hi: 0.0036, Unit: "1", Source: "kim-2002", Grade: cite.A, What: "calm branch, square of temperature"}
	treeRH      = cite.Value{V: 0.1531, Lo: 0.1531, Hi: 0.1531, Unit: "1", Source: "kim-2002", Grade: cite.A, What: "calm branch, humidity"}
	treeWind    = cite.Value{V: 0.4599, Lo: 0.4599, Hi: 0.4599, Unit: "1", Source: "kim-2002", Grade: cite.A, What: "calm branch, wind by depression"}
	treeTRH     = cite.Value{V: 0.0035, Lo: 0.0035, Hi: 0.0035, Unit: "1", Source: "kim-2002", Grade: cite.A, What: "calm branch, temperature by humidity"}
	windProfile = cite.Value{V: 4.87, Lo: 4.87, Hi: 4.87, Unit: "1", Source: "fao-56", Grade: cite.A, What: "logarithmic wind profile over short grass"}
)

// Radiation.
var (
	hargreavesK = cite.Value{V: 0.16, Lo: 0.14, Hi: 0.19, Unit: "K^-0.5", Source: "fao-56", Grade: cite.A, What: "radiation from temperature range, away from the very coast"}
	clearLimit  = cite.Value{V: 0.75, Lo: 0.72, Hi: 0.78, Unit: "1", Source: "fao-56", Grade: cite.A, What: "largest share of extraterrestrial radiation that reaches the ground in a day"}
	cloudFloor  = cite.Value{V: 0.05, Lo: 0.02, Hi: 0.08, Unit: "1", Source: "richardson-1981", Grade: cite.B, What: "smallest share of extraterrestrial radiation that reaches the ground in a day"}
)

// From days to hours.
var (
	plMax        = cite.Value{V: 1.86, Lo: 1.52, Hi: 1.86, Unit: "h", Source: "parton-logan-1981", Grade: cite.A, What: "lag of the maximum after noon, air at 150 cm"}
	plNight      = cite.Value{V: 2.20, Lo: 2.00, Hi: 2.20, Unit: "1", Source: "parton-logan-1981", Grade: cite.A, What: "decay through the night, air at 150 cm"}
	plMin        = cite.Value{V: -0.17, Lo: -0.18, Hi: -0.17, Unit: "h", Source: "parton-logan-1981", Grade: cite.A, What: "lag of the minimum after sunrise, air at 150 cm"}
	windDayNight = cite.Value{V: 2, Lo: 1, Hi: 3, Unit: "1", Source: "fao-56", Grade: cite.C, What: "wind by day over wind by night where only the mean is known"}
	rainRate     = cite.Value{V: 1.5, Lo: 0.5, Hi: 5, Unit: "mm/h", Source: "assumption", Grade: cite.C, What: "rate of rain used to spread a day's sum over hours"}
)

// Climate without data.
var (
	coarseSwingInland = cite.Value{V: 0.32, Lo: 0.22, Hi: 0.40, Unit: "K/degree", Source: "assumption", Grade: cite.C, What: "half the yearly range of monthly means by latitude, inland"}
	coarseSwingCoast  = cite.Value{V: 0.135, Lo: 0.08, Hi: 0.2, Unit: "K/degree", Source: "assumption", Grade: cite.C, What: "half the yearly range of monthly means by latitude, near a sea"}
	coarseRangeInland = cite.Value{V: 10, Lo: 7, Hi: 15, Unit: "K", Source: "assumption", Grade: cite.C, What: "mean daily range, inland"}
	coarseRangeCoast  = cite.Value{V: 7, Lo: 5, Hi: 10, Unit: "K", Source: "assumption", Grade: cite.C, What: "mean daily range, near a sea"}
	coarseLapse       = cite.Value{V: 5.5, Lo: 4, Hi: 6.5, Unit: "K/km", Source: "assumption", Grade: cite.C, What: "fall of the yearly mean with altitude"}
	coarseNorth       = cite.Value{V: 0.25, Lo: 0.1, Hi: 0.4, Unit: "K/degree", Source: "assumption", Grade: cite.C, What: "doubt of the yearly mean that coasts beyond 60° have more, up to 70°"}
	coarseWarmest     = cite.Value{V: 6.3, Lo: 6, Hi: 6.8, Unit: "month", Source: "assumption", Grade: cite.C, What: "warmest time of the northern year, months after mid January"}
)

// Drawn weather.
var (
	wetDay     = cite.Value{V: 0.2, Lo: 0.1, Hi: 1, Unit: "mm", Source: "common-practice", Grade: cite.C, What: "least rain of a wet day"}
	rainShape  = cite.Value{V: 0.75, Lo: 0.5, Hi: 1, Unit: "1", Source: "richardson-1981", Grade: cite.C, What: "shape of the gamma distribution of rain on wet days (below 1)"}
	rainRH     = cite.Value{V: 88, Lo: 80, Hi: 95, Unit: "%", Source: "assumption", Grade: cite.C, What: "least humidity in an hour of drawn rain"}
	monthDoubt = cite.Value{V: 1.2, Lo: 0.8, Hi: 2, Unit: "K", Source: "assumption", Grade: cite.C, What: "spread of the level of some weeks about the climate of a place"}
	tempMemory = cite.Value{V: 0.65, Lo: 0.55, Hi: 0.75, Unit: "1", Source: "richardson-1981", Grade: cite.B, What: "day-to-day correlation of the temperature of a day"}
	dewMemory  = cite.Value{V: 0.4, Lo: 0.2, Hi: 0.6, Unit: "1", Source: "assumption", Grade: cite.C, What: "day-to-day correlation of the dryness of the air"}
	windSpread = cite.Value{V: 0.4, Lo: 0.3, Hi: 0.5, Unit: "1", Source: "assumption", Grade: cite.C, What: "spread of the logarithm of a day's wind"}
)

// Gaps.
var (
	shortGap   = cite.Value{V: 3, Lo: 2, Hi: 6, Unit: "h", Source: "assumption", Grade: cite.C, What: "longest gap that is closed from the hours around it"}
	edgeMemory = cite.Value{V: 72, Lo: 24, Hi: 120, Unit: "h", Source: "assumption", Grade: cite.C, What: "fading of the measured edge into a gap filled from climate"}
)

// Radiation balance and water use of grass.
var (
	angstromA   = cite.Value{V: 0.25, Lo: 0.2, Hi: 0.3, Unit: "1", Source: "fao-56", Grade: cite.A, What: "share of radiation on a sunless day"}
	angstromB   = cite.Value{V: 0.50, Lo: 0.45, Hi: 0.55, Unit: "1", Source: "fao-56", Grade: cite.A, What: "share of radiation added by full sunshine"}
	cloudDepth  = cite.Value{V: 0.75, Lo: 0.7, Hi: 0.8, Unit: "1", Source: "kasten-czeplak-1980", Grade: cite.C, What: "share of clear-sky radiation that a covered sky keeps off"}
	cloudPower  = cite.Value{V: 3.4, Lo: 3, Hi: 4, Unit: "1", Source: "kasten-czeplak-1980", Grade: cite.C, What: "power of the cloud cover in that share"}
	clearRise   = cite.Value{V: 2e-5, Lo: 2e-5, Hi: 2e-5, Unit: "1/m", Source: "fao-56", Grade: cite.A, What: "rise of the clear-sky share with altitude"}
	cloudDark   = cite.Value{V: 0.25, Lo: 0.2, Hi: 0.35, Unit: "1", Source: "assumption", Grade: cite.C, What: "clearness under a sky wholly covered"}
	skyScale    = cite.Value{V: 1.24, Lo: 1.2, Hi: 1.28, Unit: "1", Source: "brutsaert-1975", Grade: cite.C, What: "emissivity of a clear sky, scale"}
	skyCloud    = cite.Value{V: 0.22, Lo: 0.17, Hi: 0.26, Unit: "1", Source: "bondville-1998", Grade: cite.C, What: "rise of the emissivity under cloud, middle of published coefficients; measured at Bondville within 27 W/m²"}
	skyPower    = cite.Value{V: 2.75, Lo: 1, Hi: 3, Unit: "1", Source: "bondville-1998", Grade: cite.C, What: "power of the cloud cover in that rise"}
	perLatent   = cite.Value{V: 0.408, Lo: 0.408, Hi: 0.408, Unit: "mm per MJ/m²", Source: "fao-56", Grade: cite.A, What: "water evaporated by a megajoule"}
	grassWind   = cite.Value{V: 0.34, Lo: 0.34, Hi: 0.34, Unit: "s/m", Source: "fao-56", Grade: cite.A, What: "resistance of short grass against wind"}
	grassAlbedo = cite.Value{V: 0.23, Lo: 0.2, Hi: 0.25, Unit: "1", Source: "fao-56", Grade: cite.A, What: "light thrown back by short grass"}
	netA        = cite.Value{V: 0.34, Lo: 0.34, Hi: 0.34, Unit: "1", Source: "fao-56", Grade: cite.A, What: "net long-wave, dry air"}
	netB        = cite.Value{V: 0.14, Lo: 0.14, Hi: 0.14, Unit: "kPa^-0.5", Source: "fao-56", Grade: cite.A, What: "net long-wave, moisture"}
	netC        = cite.Value{V: 1.35, Lo: 1.35, Hi: 1.35, Unit: "1", Source: "fao-56", Grade: cite.A, What: "net long-wave, clear sky"}
	netD        = cite.Value{V: 0.35, Lo: 0.35, Hi: 0.35, Unit: "1", Source: "fao-56", Grade: cite.A, What: "net long-wave, cloud"}
	stefanDay   = cite.Value{V: 4.903e-9, Lo: 4.903e-9, Hi: 4.903e-9, Unit: "MJ/K⁴/m²/d", Source: "fao-56", Grade: cite.A, What: "Stefan-Boltzmann constant for a day"}
	groundDay   = cite.Value{V: 0.1, Lo: 0.1, Hi: 0.1, Unit: "1", Source: "fao-56", Grade: cite.A, What: "share of net radiation into the ground by day"}
	groundNight = cite.Value{V: 0.5, Lo: 0.5, Hi: 0.5, Unit: "1", Source: "fao-56", Grade: cite.A, What: "share of net radiation out of the ground by night"}
	nightClear  = cite.Value{V: 0.7, Lo: 0.4, Hi: 0.8, Unit: "1", Source: "fao-56", Grade: cite.B, What: "clearness of a night before which nothing is known"}
	psychroK    = cite.Value{V: 0.000665, Lo: 0.000665, Hi: 0.000665, Unit: "1/K", Source: "fao-56", Grade: cite.A, What: "psychrometric constant over air pressure"}
	airSea      = cite.Value{V: 101.3, Lo: 101.3, Hi: 101.3, Unit: "kPa", Source: "fao-56", Grade: cite.A, What: "air pressure at sea level"}
)

// A leaf in the air.
var (
	leafAbsorbs = cite.Value{V: 0.5, Lo: 0.45, Hi: 0.6, Unit: "1", Source: "campbell-norman-1998", Grade: cite.C, What: "share of sunlight that a leaf absorbs"}
	leafWidth   = cite.Value{V: 0.1, Lo: 0.03, Hi: 0.25, Unit: "m", Source: "assumption", Grade: cite.C, What: "width of a leaf"}
	leafOpen    = cite.Value{V: 0.3, Lo: 0.1, Hi: 0.6, Unit: "mol/m²/s", Source: "assumption", Grade: cite.C, What: "conductance of a leaf for vapour in light, watered"}
	leafNight   = cite.Value{V: 0.03, Lo: 0.01, Hi: 0.05, Unit: "mol/m²/s", Source: "assumption", Grade: cite.C, What: "conductance of a leaf for vapour in the dark"}
	molarHeat   = cite.Value{V: 29.3, Lo: 29.1, Hi: 29.3, Unit: "J/mol/K", Source: "campbell-norman-1998", Grade: cite.C, What: "molar heat of air"}
	molarGamma  = cite.Value{V: 6.66e-4, Lo: 6.6e-4, Hi: 6.7e-4, Unit: "1/K", Source: "campbell-norman-1998", Grade: cite.C, What: "psychrometric constant in mole fractions"}
)

// Quality control.
var (
	spikeStep   = cite.Value{V: 7, Lo: 5, Hi: 10, Unit: "K", Source: "assumption", Grade: cite.C, What: "step of an hour, up and down again, from which a temperature is doubted"}
	blockedDays = cite.Value{V: 60, Lo: 30, Hi: 120, Unit: "d", Source: "assumption", Grade: cite.C, What: "days without any rain after which the gauge is doubted"}
	clockOff    = cite.Value{V: 0.6, Lo: 0.4, Hi: 0.8, Unit: "h", Source: "assumption", Grade: cite.C, What: "difference to the sun from which a clock is called wrong; two measured years stay within 0.5 h"}
	heatedRange = cite.Value{V: 15, Lo: 12, Hi: 20, Unit: "K", Source: "assumption", Grade: cite.C, What: "usual daily range from which a warmest hour at noon points to a sensor in the sun"}
	heatedPer   = cite.Value{V: 5, Lo: 3, Hi: 8, Unit: "K", Source: "assumption", Grade: cite.C, What: "excess in full sun over a screened thermometer beside it"}
)
