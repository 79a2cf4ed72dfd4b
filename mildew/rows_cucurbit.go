package mildew

import (
	"slices"

	"oidium/cite"
)

var cucurbits = []string{"courgette", "cucumber", "melon", "pumpkin", "watermelon", "winter-squash"}

// cucurbitRamp is the susceptibility of cucurbit leaf by age: young leaf nearly
// immune, the worst at 16 to 23 days.
func cucurbitRamp() []point {
	return []point{
		{5, row(0.1, 0.05, 0.3, "1", "texas-extension", cite.B, "susceptibility of leaf up to five days old")},
		{16, row(1, 1, 1, "1", "texas-extension", cite.B, "most susceptible from 16 days")},
		{23, row(1, 1, 1, "1", "texas-extension", cite.B, "most susceptible to 23 days")},
		{35, row(0.7, 0.4, 1, "1", "assumption", cite.C, "susceptibility of leaf older than 35 days")},
	}
}

// cucurbitRows are the two mildews of cucurbits that nobody tells apart by eye.
func cucurbitRows() []Pathosystem {
	return []Pathosystem{
		{
			ID: "podosphaera-xanthii", Name: "Podosphaera xanthii", Common: "cucurbit mildew, warm species", Code: "PODOXA",
			hosts:      slices.Concat(sure(cucurbits...), unsure("zinnia")),
			LatentBest: row(5, 4, 6, "d", "extension", cite.C, "shortest latent period; infection to symptom 3 to 7 d by extension services"),
			latency:    beta3(4, 25, 35, "assumption", cite.C, "latency"),
			infection: cardinal{
				low: germLow, high: germHigh,
				best: germBest,
			},
			sporing:    beta3(6, 22.3, 35, "trecate-2019", cite.A, "sporulation, tested 10 to 35 °C"),
			deficit:    true,
			Infectious: row(20, 14, 21, "d", "wyenandt", cite.C, "infectious period at 20 °C; a lesion sporulates up to three weeks"),
			Rate:       pace(2.6),
			heatShift:  shift(0, "heat curve of grape mildew taken over"),
			refuge:     onDebris,
			ramp:       cucurbitRamp(),
			Colony:     colony(),
			Arrival:    from(0.04, "P. xanthii"),
			Debris:     left(0.002, "disputed for cucurbits"),
			Source:     "conidia from afar in most accounts; relay crops under cover; debris disputed",
		},
		{
			ID: "golovinomyces-orontii", Name: "Golovinomyces orontii", Common: "cucurbit mildew, cool species",
			hosts:      sure(cucurbits...),
			LatentBest: row(6, 5, 7, "d", "assumption", cite.C, "shortest latent period"),
			latency:    beta3(2, 20, 32, "assumption", cite.C, "latency"),
			infection:  beta3(4, 17.3, 31, "trecate-2019", cite.A, "infection"),
			sporing:    beta3(3, 14.9, 31, "trecate-2019", cite.A, "sporulation"),
			humidity: []point{
				at(50, 0.5, 0.3, 0.8, "inrae-cucurbits", cite.C),
				at(95, 1, 1, 1, "inrae-cucurbits", cite.B),
			},
			Infectious: row(18, 12, 24, "d", "assumption", cite.C, "infectious period at 20 °C"),
			Rate:       pace(1.4),
			heatShift:  shift(-2, "a cool species dies at lower heat"),
			refuge:     onDebris,
			ramp:       cucurbitRamp(),
			Colony:     colony(),
			Arrival:    from(0.04, "G. orontii"),
			Debris:     left(0.002, "disputed for cucurbits"),
			Source:     "weeds and relay crops; debris disputed",
		},
	}
}
