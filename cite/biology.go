package cite

// biology lists the sources on mildews, hosts and epidemics.
var biology = []Source{
	{ID: "assumption", Text: "assumption of this program; no source"},
	{ID: "common-practice", Text: "common practice, no source"},
	{ID: "caffi-2011", Text: "Caffi, Rossi, Legler & Bugiani 2011, Plant Pathology 60:522-531 (coefficients through a public re-implementation)", DOI: "10.1111/j.1365-3059.2010.02395.x"},
	{ID: "calonnec-2008", Text: "Calonnec, Cartolaro, Naulin, Bailey & Langlais 2008, Plant Pathology 57:493-508 (coefficients through a re-implementation)"},
	{ID: "xu-1999", Text: "Xu 1999, Plant Pathology 48:662-667, latency of rose mildew"},
	{ID: "sapak-2023", Text: "Sapak, Melloy, Minchinton, Salam & Galea 2023, European Journal of Plant Pathology; raw counts, MIT licence", DOI: "10.1007/s10658-023-02664-5"},
	{ID: "trecate-2019", Text: "Trecate, Sedlakova, Mieslerova, Manstretta, Rossi & Lebeda 2019, Plant Pathology (abstract)"},
	{ID: "yan-hunt-1999", Text: "Yan & Hunt 1999, Annals of Botany 84:607-614, beta function of temperature"},
	{ID: "yarwood-1954", Text: "Yarwood, Sidky, Cohen & Santilli 1954, Hilgardia 22:603-622", DOI: "10.3733/hilg.v22n17p603"},
}
