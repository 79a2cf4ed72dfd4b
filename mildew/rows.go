package mildew

import (
	"oidium/cite"
)

// pathosystems returns the data, one row a mildew. Cardinal temperatures and
// periods follow the sheet of each row; a C marks what has no source.
func pathosystems() []Pathosystem {
	cucurbits := []Host{{Crop: "cucumber"}, {Crop: "courgette"}, {Crop: "melon"}, {Crop: "pumpkin"}, {Crop: "winter-squash"}}
	return []Pathosystem{
		{
			ID: "podosphaera-xanthii", Name: "Podosphaera xanthii", Common: "cucurbit mildew, warm species", Code: "PODOXA",
			Hosts:      append([]Host{{Crop: "zinnia", Low: true}}, cucurbits...),
			LatentBest: row(5, 4, 6, "d", "assumption", cite.C, "shortest latent period; infection to symptom 3 to 7 d by extension services"),
			Latency:    cardinal(4, 25, 35, "assumption", cite.C, "latency"),
			Infection:  cardinal(6, 25.7, 33, "trecate-2019", cite.A, "infection; optimum read, ends from germination counts"),
			Sporing:    cardinal(6, 22.3, 35, "trecate-2019", cite.A, "sporulation; optimum read, tested 10 to 35 °C"),
			Deficit:    true,
			Infectious: row(20, 14, 21, "d", "wyenandt", cite.C, "infectious period at 20 °C; a lesion sporulates up to three weeks"),
			Rate:       row(1.9, 1.27, 2.85, "1/d", "assumption", cite.C, "transmission on the best day on the worst leaf, such that r reaches 0.20 to 0.30 a day in a warm canopy"),
			HeatShift:  row(0, -1, 1, "K", "assumption", cite.C, "heat curve of grape mildew taken over"),
			Ramp:       cucurbitRamp(),
			Colony:     colony(),
			Arrival:    row(0.02, 0.002, 0.2, "1/(m² d)", "assumption", cite.C, "colonies from outside on susceptible leaf"),
			Debris:     row(0.002, 0.0002, 0.02, "1/m²", "assumption", cite.C, "colonies from debris; its role is disputed"),
			Source:     "conidia from afar in most accounts; debris disputed",
		},
		{
			ID: "golovinomyces-orontii", Name: "Golovinomyces orontii", Common: "cucurbit mildew, cool species",
			Hosts:      cucurbits,
			LatentBest: row(6, 5, 7, "d", "assumption", cite.C, "shortest latent period"),
			Latency:    cardinal(2, 20, 32, "assumption", cite.C, "latency"),
			Infection:  cardinal(4, 17.3, 31, "trecate-2019", cite.A, "infection; optimum read"),
			Sporing:    cardinal(3, 14.9, 31, "trecate-2019", cite.A, "sporulation; optimum read"),
			Humidity: []Point{
				{50, row(0.5, 0.3, 0.8, "1", "inrae-cucurbits", cite.C, "germination at 50 % humidity is possible")},
				{95, row(1, 1, 1, "1", "inrae-cucurbits", cite.B, "germination at 95 to 98 % humidity")},
			},
			Infectious: row(18, 12, 24, "d", "assumption", cite.C, "infectious period at 20 °C"),
			Rate:       row(1.6, 1.07, 2.4, "1/d", "assumption", cite.C, "transmission on the best day on the worst leaf"),
			HeatShift:  row(-2, -3, 0, "K", "assumption", cite.C, "a cool species dies at lower heat"),
			Ramp:       cucurbitRamp(),
			Colony:     colony(),
			Arrival:    row(0.01, 0.001, 0.1, "1/(m² d)", "assumption", cite.C, "colonies from outside on susceptible leaf"),
			Debris:     row(0.002, 0.0002, 0.02, "1/m²", "assumption", cite.C, "colonies from debris; its role is disputed"),
			Source:     "weeds and relay crops; debris disputed",
		},
		{
			ID: "podosphaera-pannosa", Name: "Podosphaera pannosa", Common: "rose mildew",
			Hosts:      []Host{{Crop: "rose"}, {Crop: "peach"}},
			LatentBest: row(4, 3.5, 5, "d", "xu-1999", cite.A, "shortest latent period; 4 to 10 d over 10 to 28 °C"),
			Latency:    cardinal(0, 22, 32, "xu-1999", cite.C, "latency; optimum read, shape assumed"),
			Infection:  cardinal(4, 21, 32, "extension", cite.B, "germination"),
			Sporing:    cardinal(3, 22, 32, "assumption", cite.C, "sporulation"),
			Humidity: []Point{
				{50, row(0.25, 0.1, 0.5, "1", "assumption", cite.C, "germination at 50 % humidity")},
				{75, row(0.4, 0.2, 0.6, "1", "extension", cite.C, "germination is low below 75 % humidity")},
				{97, row(1, 1, 1, "1", "extension", cite.B, "germination is best near 98 % humidity")},
				{99.5, row(0.9, 0.6, 1, "1", "assumption", cite.C, "germination at the edge of free water")},
			},
			Infectious: row(14, 9, 20, "d", "assumption", cite.C, "infectious period at 20 °C"),
			Rate:       row(4.5, 3, 6.75, "1/d", "assumption", cite.C, "transmission on the best day on the youngest leaf; few leaves are young, which makes the canopy's rate a fifth of it"),
			HeatShift:  row(-1, -2, 0, "K", "assumption", cite.C, "heat curve of grape mildew, a little lower"),
			YoungWorst: true,
			Decay:      row(0.10, 0.06, 0.147, "1/d", "calonnec-2008", cite.C, "fall of susceptibility with age; grape 0.147, rose assumed slower"),
			Colony:     colony(),
			Arrival:    row(0.02, 0.002, 0.2, "1/(m² d)", "assumption", cite.C, "colonies from outside on susceptible leaf"),
			Debris:     row(0.2, 0.02, 2, "1/m²", "assumption", cite.C, "colonies from buds and stems that carried the mildew over"),
			Source:     "buds and evergreen canes, some from stems",
		},
	}
}

// row is one number of a row with its origin.
func row(v, lo, hi float64, unit, source string, g cite.Grade, what string) cite.Value {
	return cite.Value{V: v, Lo: lo, Hi: hi, Unit: unit, Source: source, Grade: g, What: what}
}

func cardinal(lo, best, hi float64, source string, g cite.Grade, what string) Cardinal {
	return Cardinal{
		Min:  row(lo, lo-2, lo+2, "°C", source, cite.C, "least temperature of "+what),
		Best: row(best, best-2, best+2, "°C", source, g, "best temperature of "+what),
		Max:  row(hi, hi-2, hi+2, "°C", source, cite.C, "highest temperature of "+what),
	}
}

// cucurbitRamp is the susceptibility of cucurbit leaf by age: young leaf nearly
// immune, the worst at 16 to 23 days.
func cucurbitRamp() []Point {
	return []Point{
		{5, row(0.1, 0.05, 0.3, "1", "texas-extension", cite.B, "susceptibility of leaf up to five days old")},
		{16, row(1, 1, 1, "1", "texas-extension", cite.B, "most susceptible from 16 days")},
		{23, row(1, 1, 1, "1", "texas-extension", cite.B, "most susceptible to 23 days")},
		{35, row(0.7, 0.4, 1, "1", "assumption", cite.C, "susceptibility of leaf older than 35 days")},
	}
}

// colony is the leaf an established colony takes.
func colony() cite.Value {
	return row(1e-4, 0.3e-4, 2e-4, "m²", "assumption", cite.C, "leaf taken by one established colony, about a square centimetre")
}
