package tunnel

import "oidium/cite"

var (
	passes       = cite.Value{V: 0.75, Lo: 0.65, Hi: 0.85, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of the light outside that a single film lets in"}
	passesSecond = cite.Value{V: 0.88, Lo: 0.8, Hi: 0.92, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of the light under one film that a second one lets in"}
	reflects     = cite.Value{V: 0.2, Lo: 0.15, Hi: 0.25, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of the light inside that floor or crop throws back"}
	lossStill    = cite.Value{V: 6, Lo: 5, Hi: 7, Unit: "W/m²/K", Source: "rasheed-2017", Grade: cite.C, What: "heat loss through a single film in still air, for a square metre of film"}
	lossWind     = cite.Value{V: 0.5, Lo: 0.3, Hi: 0.9, Unit: "W/m²/K per m/s", Source: "rasheed-2017", Grade: cite.A, What: "rise of the heat loss with wind"}
	lossDouble   = cite.Value{V: 0.66, Lo: 0.6, Hi: 0.75, Unit: "1", Source: "rasheed-2017", Grade: cite.A, What: "heat loss of a double film over that of a single one"}
	coverRatio   = cite.Value{V: 1.6, Lo: 1.3, Hi: 1.8, Unit: "1", Source: "assumption", Grade: cite.C, What: "area of the film over the area of the floor"}
	meanHeight   = cite.Value{V: 2.2, Lo: 1.5, Hi: 3, Unit: "m", Source: "assumption", Grade: cite.C, What: "mean height of a walk-in tunnel"}
	airClosed    = cite.Value{V: 1, Lo: 0.5, Hi: 2, Unit: "1/h", Source: "assumption", Grade: cite.C, What: "changes of air with everything closed"}
	airOpen      = cite.Value{V: 30, Lo: 20, Hi: 40, Unit: "1/h", Source: "assumption", Grade: cite.C, What: "changes of air with the sides open, in still air"}
	airWind      = cite.Value{V: 10, Lo: 5, Hi: 15, Unit: "1/h per m/s", Source: "assumption", Grade: cite.C, What: "rise of the changes of air with wind, sides open"}
	airMost      = cite.Value{V: 60, Lo: 50, Hi: 90, Unit: "1/h", Source: "assumption", Grade: cite.C, What: "most changes of air with the sides open"}
	airHeat      = cite.Value{V: 1200, Lo: 1150, Hi: 1250, Unit: "J/m³/K", Source: "fao-56", Grade: cite.B, What: "heat capacity of air by volume"}
	gamma        = cite.Value{V: 0.067, Lo: 0.064, Hi: 0.067, Unit: "kPa/K", Source: "fao-56", Grade: cite.A, What: "psychrometric constant near sea level"}
	sensEmpty    = cite.Value{V: 1, Lo: 0.8, Hi: 1, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of the absorbed light that warms the air, dry and empty"}
	sensCrop     = cite.Value{V: 0.4, Lo: 0.3, Hi: 0.5, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of the absorbed light that warms the air, full wet crop"}
	soilEmpty    = cite.Value{V: 0.2, Lo: 0.1, Hi: 0.3, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of the absorbed light that goes into bare ground by day"}
	soilCrop     = cite.Value{V: 0.1, Lo: 0.05, Hi: 0.2, Unit: "1", Source: "assumption", Grade: cite.C, What: "share of the absorbed light that goes into the ground under a crop by day"}
	nightGround  = cite.Value{V: 15, Lo: 5, Hi: 25, Unit: "W/m²", Source: "savage-1980", Grade: cite.C, What: "heat the ground gives back by night; chosen so that a closed tunnel stays 1.3 K above the air as measured"}
	nightWater   = cite.Value{V: 8, Lo: 3, Hi: 15, Unit: "W/m²", Source: "assumption", Grade: cite.C, What: "latent heat of water lost by crop and ground by night"}
	filmInside   = cite.Value{V: 5, Lo: 3, Hi: 8, Unit: "W/m²/K", Source: "assumption", Grade: cite.C, What: "exchange between inside air and film, heat and vapour alike"}
	filmOutside  = cite.Value{V: 5.7, Lo: 5, Hi: 7, Unit: "W/m²/K", Source: "assumption", Grade: cite.C, What: "exchange between film and outside air in still air (flat plate)"}
	filmWind     = cite.Value{V: 3.8, Lo: 3, Hi: 4.5, Unit: "W/m²/K per m/s", Source: "assumption", Grade: cite.C, What: "rise of that exchange with wind"}
	filmSky      = cite.Value{V: 1.5, Lo: 0, Hi: 3, Unit: "K", Source: "assumption", Grade: cite.C, What: "how much the film cools below its balance towards the night sky"}
	windOpen     = cite.Value{V: 0.25, Lo: 0.1, Hi: 0.4, Unit: "1", Source: "assumption", Grade: cite.C, What: "wind inside over wind outside, sides open"}
	windClosed   = cite.Value{V: 0.05, Lo: 0.02, Hi: 0.1, Unit: "m/s", Source: "assumption", Grade: cite.C, What: "movement of air inside, closed"}
)
