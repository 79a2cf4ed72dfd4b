package mildew

import (
	"oidium/cite"
	"oidium/garden"
)

// flowerRows are the mildews of ornamentals. No latent period was found for any
// of them: one generic row, each form bound to its hosts.
func flowerRows() []Pathosystem {
	var out []Pathosystem
	for _, f := range []struct {
		id, name, common string
		hosts            []hostCrop
	}{
		{"golovinomyces-spadiceus", "Golovinomyces spadiceus", "mildew of zinnia and sunflower", sure("zinnia", "sunflower", "cosmos", "rudbeckia")},
		{"golovinomyces-magnicellulatus", "Golovinomyces magnicellulatus", "phlox mildew", sure("phlox")},
		{"golovinomyces-monardae", "Golovinomyces monardae", "monarda mildew", sure("monarda")},
	} {
		out = append(out, Pathosystem{
			ID: garden.MildewID(f.id), Name: f.name, Common: f.common,
			hosts:      f.hosts,
			LatentBest: row(6, 5, 8, "d", "assumption", cite.C, "shortest latent period; none published"),
			latency:    beta3(5, 22, 32, "assumption", cite.C, "latency"),
			infection:  beta3(5, 21, 31, "assumption", cite.C, "infection"),
			sporing:    beta3(5, 21, 31, "assumption", cite.C, "sporulation"),
			humidity: []point{
				at(50, 0.6, 0.3, 0.9, "assumption", cite.C),
				at(95, 1, 1, 1, "assumption", cite.C),
			},
			Infectious: row(16, 10, 22, "d", "assumption", cite.C, "infectious period at 20 °C"),
			Rate:       pace(1.3),
			heatShift:  row(-2, -5, 0, "K", "uvm-coh-39", cite.C, "above 30 °C conidia die except in moist air"),
			refuge:     onDebris,
			ramp:       evenRamp(1, "assumption", "susceptibility of leaf older than 40 days"),
			Colony:     colony(),
			Arrival:    from(0.02, f.common),
			Debris:     left(0.05, "old stems and leaves"),
			Source:     "old stems and leaves, conidia from near by",
		})
	}
	return out
}
