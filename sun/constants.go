package sun

import "oidium/cite"

var (
	// solarConstant is FAO-56's 0.0820 MJ m⁻² min⁻¹ in W/m².
	solarConstant = cite.Value{V: 0.0820e6 / 60, Lo: 1360, Hi: 1368, Unit: "W/m²", Source: "fao-56", Grade: cite.B, What: "radiation of the sun outside the atmosphere"}
	riseZenith    = cite.Value{V: 90.833, Lo: 90.7, Hi: 91.0, Unit: "degree", Source: "meeus-1998", Grade: cite.B, What: "zenith of the sun's centre when its upper edge meets a flat horizon"}
	haurwitzScale = cite.Value{V: 1098, Lo: 1098, Hi: 1098, Unit: "W/m²", Source: "haurwitz-1945", Grade: cite.A, What: "clear-sky irradiance, scale"}
	haurwitzDepth = cite.Value{V: 0.059, Lo: 0.057, Hi: 0.059, Unit: "1", Source: "haurwitz-1945", Grade: cite.A, What: "clear-sky irradiance, depth of the air"}
	clearDay      = cite.Value{V: 0.705, Lo: 0.69, Hi: 0.72, Unit: "1", Source: "debilt-2000", Grade: cite.Calc, What: "share of extraterrestrial radiation that reaches the ground on a real clear day (De Bilt 2000 and Bondville 1998)"}
)
