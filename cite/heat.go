package cite

// heat lists the sources on weather, heat and tunnels.
var heat = []Source{
	{ID: "meeus-1998", Text: "Meeus 1998, Astronomical Algorithms, 2nd ed., chapter 25 (low accuracy sun), as used in the public NOAA solar calculation sheets"},
	{ID: "reda-andreas-2004", Text: "Reda & Andreas 2004, Solar Energy 76:577-589 and NREL/TP-560-34302", DOI: "10.1016/j.solener.2003.12.003"}, // background
	{ID: "haurwitz-1945", Text: "Haurwitz 1945, Journal of Meteorology 2:154-166, clear-sky irradiance"},
	{ID: "parton-logan-1981", Text: "Parton & Logan 1981, Agricultural Meteorology 23:205-216", DOI: "10.1016/0002-1571(81)90105-9"},
	{ID: "brutsaert-1975", Text: "Brutsaert 1975, Water Resources Research 11:742-744, clear-sky emissivity (form from memory)"},
	{ID: "kasten-czeplak-1980", Text: "Kasten & Czeplak 1980, Solar Energy 24:177-189, radiation under cloud (from memory)"},
	{ID: "campbell-norman-1998", Text: "Campbell & Norman 1998, An Introduction to Environmental Biophysics, 2nd ed. (from memory)"},
	{ID: "leuning-1995", Text: "Leuning 1995, Plant, Cell and Environment 18:339-355, pores of a leaf against the deficit of the air (from memory)"},
	{ID: "vanderplank-1963", Text: "van der Plank 1963, Plant Diseases: Epidemics and Control, the equation with latent and infectious period (from memory)"},
	{ID: "gneiting-raftery-2007", Text: "Gneiting & Raftery 2007, Journal of the American Statistical Association 102:359-378, continuous ranked probability score (from memory)", DOI: "10.1198/016214506000001437"},
	{ID: "sentelhas-2008", Text: "Sentelhas et al. 2008, Agricultural and Forest Meteorology 148:392-400, leaf wetness from relative humidity"},
	{ID: "kim-2002", Text: "Kim, Taylor, Gleason & Koehler 2002, Plant Disease 86:179-185; after Gleason et al. 1994, Plant Disease 78:1011-1016", DOI: "10.1094/PDIS.2002.86.2.179"},
	{ID: "richardson-1981", Text: "Richardson 1981, Water Resources Research 17:182-190; Richardson & Wright 1984, USDA ARS-8"},
	{ID: "debilt-2000", Text: "Hourly weather of De Bilt (station 260), 2000, Royal Netherlands Meteorological Institute (KNMI), CC BY 4.0"},
	{ID: "bondville-1998", Text: "Half-hourly flux-site data of Bondville, Illinois, 1998, NOAA/ARL (T. Meyers), US government work"},
	{ID: "oakpark-2017", Text: "Hourly weather of Oak Park, 2017, Copyright Met Eireann, source www.met.ie, CC BY 4.0 (rewritten as CSV)"}, // background
	{ID: "newark-2013", Text: "Hourly weather of Newark Airport, 2013, ASOS through the Iowa Environmental Mesonet, CC0 package"},          // background
	{ID: "savage-1980", Text: "Savage 1980, Agrochemophysica 12:5-13, climate of a plastic tunnel"},
	{ID: "rasheed-2017", Text: "Rasheed, Lee & Lee 2017, Spanish Journal of Agricultural Research 15, heat loss of greenhouse covers"},
	{ID: "wmo-8", Text: "World Meteorological Organization, Guide to Instruments and Methods of Observation (WMO-No. 8), quality control and siting (from memory)"},
}
