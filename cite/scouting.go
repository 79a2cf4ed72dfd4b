package cite

// scouting lists the sources on scouting.
var scouting = []Source{
	{ID: "hop-leaf-counts", Text: "open counts of powdery mildew on hop leaves, 2020 and 2022, 270 plants of 10 leaves; beta-binomial fitted here"},
	{ID: "rouse-1981", Text: "Rouse 1981, Phytopathology 71:1015, incidence and severity of wheat powdery mildew"},
	{ID: "james-shih-1973", Text: "James & Shih 1973, Phytopathology 63:183-187, severity of wheat powdery mildew linear in incidence up to 65 %"},
	{ID: "horsfall-barratt-1945", Text: "Horsfall & Barratt 1945, twelve grades of diseased area (cuts through a public implementation)"},
	{ID: "redman-king-brown", Text: "Redman, King & Brown, Elanco conversion tables for the grades of Horsfall & Barratt (from memory)"},
	{ID: "jenkins-wehner-1983", Text: "Jenkins & Wehner 1983, Cucurbit Genetics Cooperative Report 6:10-12, 0 to 9 grades for cucumber (cuts from memory)"},
	{ID: "mcgrath-1996", Text: "McGrath 1996, Plant Disease 80:910-916, 1 mildewed leaf in 50 old leaves as the start of treatment of cucurbits", DOI: "10.1094/PD-80-0910"},
	{ID: "nascimento-watermelon", Text: "Nascimento et al., diagrams for reading Podosphaera xanthii on watermelon, 16 untrained readers (abstract; year not seen)"},
	{ID: "bock-2013", Text: "Bock et al. 2013, Plant Disease 97:797-806, readings on Horsfall-Barratt classes against the nearest percent; Chiang et al. 2016, Plant Pathology 65:523-535"},
}
