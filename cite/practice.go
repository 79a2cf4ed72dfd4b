package cite

// practice lists the sources on practice: law of records, codes and formats.
var practice = []Source{
	{ID: "eu-1107-2009", Text: "Regulation (EC) No 1107/2009, article 67 (through secondary sources)"},
	{ID: "eu-2023-564", Text: "Implementing Regulation (EU) 2023/564, articles 1 and 3 read; list of fields through secondary sources"},
	{ID: "eu-2025-2203", Text: "Implementing Regulation (EU) 2025/2203 of 31 October 2025, amending (EU) 2023/564 (through secondary sources)"},
	{ID: "gb-1107-retained", Text: "Article 67 of Regulation (EC) No 1107/2009 as retained in Great Britain (from memory)"},
	{ID: "us-40cfr170-311", Text: "40 CFR 170.311(b), worker protection (from memory; 24 hours and 2 years through a secondary source; older text 170.122 read)"},
	{ID: "us-40cfr171-303", Text: "40 CFR 171.303(b)(7), certified commercial applicators (through a secondary source)"},
	{ID: "us-7cfr110", Text: "7 CFR 110.3, restricted-use records (text of 2006; rescission of 12 May 2025 through a secondary source)"},
	{ID: "us-7cfr205-103", Text: "7 CFR 205.103, records of certified organic operations (through a secondary source)"},
	{ID: "eppo-codes-2011", Text: "EPPO 2011 and 2017, presentations on EPPO codes; codes found in a national register and in PP 1/31"},
	{ID: "eppo-pp1-4", Text: "EPPO standard PP 1/4(4), efficacy evaluation of fungicides, Erysiphe necator"},
	{ID: "feller-1995", Text: "Feller et al. 1995, growth stages of cucurbits on the BBCH scale (through secondary sources)"},
	{ID: "osu-downy", Text: "Ohio State University Extension, cucurbit downy mildew basics"},
	{ID: "uf-silver-leaf", Text: "UF/IFAS Plant Pathology, silver leaf of cucurbits; University of Kentucky ENTFACT-319; EPPO Reporting Service on Costa et al. 1993, Phytopathology 83:763-766"},
	{ID: "czech-mildews", Text: "Survey 1995-2001 of the mildews of Czech cucurbits, Plant Protection Science 38; Lebeda et al. 2009, Plant Protection Science 45:S41-S47", DOI: "10.17221/2807-PPS"},
}
