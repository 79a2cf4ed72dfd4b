package mildew

import (
	"slices"

	"oidium/cite"
	"oidium/garden"
)

// evenRamp is leaf that is about as susceptible at any age.
func evenRamp(old float64, source, what string) []point {
	return []point{
		{7, row(0.8, 0.6, 1, "1", "assumption", cite.C, "susceptibility of leaf in its first week")},
		{14, row(1, 1, 1, "1", "assumption", cite.C, "susceptibility of full leaf")},
		{40, row(old, old/2, 1, "1", source, cite.C, what)},
	}
}

// fieldRows are the mildews of tomato and pepper, pulses, cereals and lettuce.
func fieldRows() []Pathosystem {
	out := []Pathosystem{
		{
			ID: "pseudoidium-neolycopersici", Name: "Pseudoidium neolycopersici", Common: "tomato mildew, on the surface",
			hosts:      slices.Concat(sure("tomato"), unsure("aubergine")),
			LatentBest: row(5, 4, 6, "d", "assumption", cite.C, "shortest latent period; conidiophores 4 to 5 d after infection"),
			latency:    beta3(5, 22, 31, "jacob-2008", cite.C, "latency"),
			infection:  beta3(8, 24, 28.5, "jacob-2008", cite.A, "infection; germination best at 25 °C, no disease at 28 °C"),
			sporing:    beta3(6, 20, 30, "jacob-2008", cite.A, "sporulation"),
			humidity: []point{
				at(40, 0.6, 0.3, 0.9, "jacob-2008", cite.C),
				at(75, 1, 1, 1, "jacob-2008", cite.A),
				at(90, 1, 1, 1, "jacob-2008", cite.A),
				at(99, 0.8, 0.6, 1, "jacob-2008", cite.C),
			},
			Infectious: row(14, 9, 20, "d", "assumption", cite.C, "infectious period at 20 °C"),
			Rate:       pace(0.62),
			heatShift:  shift(-3, "a mildew that 28 °C stops dies at lower heat"),
			refuge:     inBuds,
			ramp:       evenRamp(0.8, "assumption", "susceptibility of tomato leaf older than 40 days"),
			Colony:     colony(),
			Arrival:    from(0.02, "P. neolycopersici"),
			Debris:     left(0.002, "volunteers; none known from debris"),
			Source:     "volunteers and heated houses",
		},
		{
			ID: "leveillula-taurica", Name: "Leveillula taurica", Common: "inner mildew of pepper, tomato and others",
			// Rare on cucumber outdoors, so it does not count there by itself.
			hosts:      slices.Concat(sure("pepper", "tomato", "aubergine", "artichoke", "onion", "garlic", "leek"), unsure("cucumber")),
			LatentBest: row(18, 14, 21, "d", "inrae-taurica", cite.B, "shortest latent period, hidden in the leaf; about 20 d"),
			latency:    beta3(8, 20, 33, "elad-2007", cite.B, "latency"),
			infection:  beta3(8, 20, 34, "elad-2007", cite.A, "germination, 10 to 37 °C"),
			sporing:    beta3(8, 18, 33, "elad-2007", cite.C, "sporulation"),
			humidity: []point{
				at(30, 0.4, 0.2, 0.6, "guzman-plazola-2003", cite.C),
				at(60, 1, 1, 1, "guzman-plazola-2003", cite.A),
				at(85, 1, 1, 1, "elad-2007", cite.A),
				at(95, 0.8, 0.6, 1, "guzman-plazola-2003", cite.C),
			},
			Infectious: row(25, 15, 35, "d", "assumption", cite.C, "infectious period at 20 °C"),
			Rate:       pace(1.0),
			heatShift:  row(-4, -5, -3, "K", "guzman-plazola-2003", cite.C, "set so that two to three exposures of two hours to 35 °C cut disease by 70 to 92 %"),
			refuge:     inBuds,
			ramp:       evenRamp(1, "assumption", "susceptibility of leaf older than 40 days"),
			Colony:     row(2e-4, 1e-4, 4e-4, "m²", "assumption", cite.C, "leaf taken by one spot"),
			Arrival:    from(0.01, "L. taurica"),
			Debris:     left(0.005, "living hosts of many kinds"),
			Source:     "many living hosts",
		},
		{
			ID: "erysiphe-pisi", Name: "Erysiphe pisi", Common: "pea mildew",
			hosts:      sure("pea", "lentil"),
			LatentBest: row(5, 4, 6, "d", "extension", cite.B, "shortest latent period; incubation 4 to 5 d"),
			latency:    beta3(0, 22, 32, "yarwood-1954", cite.B, "latency; the group's optimum is 23 °C"),
			infection:  beta3(3, 21, 32, "extension", cite.B, "germination"),
			sporing:    beta3(3, 21, 31, "assumption", cite.C, "sporulation"),
			humidity: []point{
				at(50, 0.6, 0.3, 0.9, "assumption", cite.C),
				at(70, 1, 1, 1, "extension", cite.B),
				at(90, 1, 1, 1, "extension", cite.B),
				at(99, 0.8, 0.6, 1, "assumption", cite.C),
			},
			Infectious: row(12, 8, 18, "d", "assumption", cite.C, "infectious period at 20 °C"),
			Rate:       pace(1.5),
			heatShift:  shift(-1, "heat curve of grape mildew, a little lower"),
			refuge:     onDebris,
			ramp:       evenRamp(1, "assumption", "susceptibility of pea leaf older than 40 days"),
			Colony:     colony(),
			Arrival:    from(0.02, "E. pisi"),
			Debris:     left(0.02, "pea straw"),
			Source:     "pea straw, other legumes; by seed of minor importance",
		},
		{
			ID: "erysiphe-trifoliorum", Name: "Erysiphe trifoliorum", Common: "clover mildew",
			hosts:      slices.Concat(sure("clover"), unsure("pea")),
			LatentBest: row(5, 4, 7, "d", "assumption", cite.C, "shortest latent period, as pea"),
			latency:    beta3(0, 22, 32, "yarwood-1954", cite.C, "latency; the group's optimum is 23 °C"),
			infection:  beta3(3, 21, 32, "assumption", cite.C, "germination, as pea"),
			sporing:    beta3(3, 21, 31, "assumption", cite.C, "sporulation"),
			humidity: []point{
				at(50, 0.6, 0.3, 0.9, "assumption", cite.C),
				at(70, 1, 1, 1, "assumption", cite.C),
			},
			Infectious: row(12, 8, 18, "d", "assumption", cite.C, "infectious period at 20 °C"),
			Rate:       pace(1.3),
			heatShift:  shift(-1, "heat curve of grape mildew, a little lower"),
			refuge:     onDebris,
			ramp:       evenRamp(1, "assumption", "susceptibility of clover leaf older than 40 days"),
			Colony:     colony(),
			Arrival:    from(0.02, "E. trifoliorum"),
			Debris:     left(0.02, "old clover leaf"),
			Source:     "other legumes, debris",
		},
		{
			ID: "golovinomyces-cichoracearum", Name: "Golovinomyces cichoracearum, lettuce form", Common: "lettuce mildew",
			hosts:      sure("lettuce"),
			LatentBest: row(6, 5, 7, "d", "assumption", cite.C, "shortest latent period"),
			latency:    beta3(4, 20, 31, "assumption", cite.C, "latency"),
			infection:  beta3(4, 19, 30, "assumption", cite.C, "infection"),
			sporing:    beta3(4, 19, 30, "assumption", cite.C, "sporulation"),
			humidity: []point{
				at(50, 0.6, 0.3, 0.9, "assumption", cite.C),
				at(95, 1, 1, 1, "assumption", cite.C),
			},
			Infectious: row(16, 10, 22, "d", "assumption", cite.C, "infectious period at 20 °C"),
			Rate:       pace(1.1),
			heatShift:  shift(-2, "heat curve of grape mildew, lower"),
			refuge:     onDebris,
			ramp:       evenRamp(1, "assumption", "susceptibility of outer lettuce leaf"),
			Colony:     colony(),
			Arrival:    from(0.01, "lettuce mildew"),
			Debris:     left(0.002, "debris"),
			Source:     "wild and sown lettuce; does not infect cucumber or melon",
		},
	}
	// The forms of cereal mildew are each bound to one cereal.
	for _, f := range []struct{ form, common, crop string }{
		{"tritici", "wheat mildew", "wheat"},
		{"hordei", "barley mildew", "barley"},
		{"avenae", "oat mildew", "oat"},
		{"secalis", "rye mildew", "rye"},
	} {
		out = append(out, Pathosystem{
			ID: garden.MildewID("blumeria-graminis-" + f.form), Name: "Blumeria graminis f. sp. " + f.form, Common: f.common,
			hosts:      sure(f.crop),
			LatentBest: row(5, 4, 7, "d", "hau-1985", cite.B, "shortest latent period, at 20 °C; cycle 5 to 7 d"),
			latency:    beta3(2, 20, 29, "hau-1985", cite.B, "latency"),
			infection:  beta3(2, 17, 29, "yarwood-1954", cite.A, "infection"),
			sporing:    beta3(2, 18, 28, "assumption", cite.C, "sporulation"),
			humidity: []point{
				at(50, 0.4, 0.2, 0.7, "assumption", cite.C),
				at(95, 1, 1, 1, "extension", cite.B),
				at(99.5, 0.8, 0.5, 1, "extension", cite.C),
			},
			Infectious: row(14, 9, 20, "d", "assumption", cite.C, "infectious period at 20 °C"),
			Rate:       pace(1.1),
			heatShift:  shift(-3, "checked above 25 °C"),
			refuge:     inBuds,
			ramp:       evenRamp(0.7, "assumption", "susceptibility of cereal leaf older than 40 days"),
			Colony:     row(0.1e-4, 0.05e-4, 0.3e-4, "m²", "assumption", cite.C, "leaf taken by one colony"),
			Arrival:    from(0.1, "cereal mildew"),
			Debris:     left(0.1, "volunteers and autumn sowings"),
			Source:     "volunteers and autumn sowings; carried up to 100 km",
		})
	}
	return out
}
