package epidemic

import (
	"oidium/host"
)

// rates are a member's parameters in the form the step needs.
type rates struct {
	crop      *host.Crop
	rate      float64 // 1/d, transmission × cultivar
	latent    float64 // stages of latency passed in a day of share 1
	ageing    float64 // stages of the infectious period passed in a day of share 1
	humid     float64
	heat      float64
	efficacy  float64
	vigour    float64
	arrival   float64 // colonies a day and m² of leaf
	onset     float64
	carried   float64 // colonies a m² of bed
	cultivar  float64
	ground    float64 // m²
	perColony float64 // m² of leaf per m² of ground that one colony takes
}

func (st *Stand) rates(p Params) rates {
	m := st.Mildew
	best := m.LatentBest.V
	return rates{
		crop:      st.Crop,
		rate:      p[transmission] * p[cultivar],
		latent:    latents * best / max(0.5*best, best+p[latentShift]),
		ageing:    infects / p[infectious],
		humid:     p[humidity],
		heat:      p[heat],
		efficacy:  p[efficacy],
		vigour:    p[vigour],
		arrival:   p[arrival],
		onset:     p[onset],
		carried:   p[carried],
		cultivar:  p[cultivar],
		ground:    st.Ground,
		perColony: m.Colony.V / st.Ground,
	}
}

// luck is a member's chance of one day: how many colonies come in.
type luck struct {
	outside, carried float64 // uniform
}

// step moves the member over one day. Written plainly; every rate comes from
// tables or is a short closed form, and nothing is allocated.
//
// Order: leaf cohorts, actions, heat and water, ageing of colonies, infection,
// leaf growth and fall. Infection works with the infectious area of the middle
// of the day, and what it gives has passed half a day of latency by evening, so
// that a daily step keeps the pace of a fine one.
func (s *state) step(r *rates, d *day, l luck) {
	if d.opens {
		s.shift()
	}
	if d.planted > 0 {
		s.unfold(cohorts-1, d.planted/2)
		s.unfold(cohorts-2, d.planted/2)
	}
	if d.acts {
		s.act(r, d)
	}

	latent := min(2, r.latent*d.Latent)
	ageing := min(1, r.ageing*d.Ageing)
	before, after, standing, working := 0.0, 0.0, 0.0, 0.0
	var weight [cohorts][faces]float64
	var infect [faces]float64
	for f := range infect {
		infect[f] = d.Infect[f] + r.humid*(d.InfectAny[f]-d.Infect[f])
	}
	open := 0.0
	for c := range s.leaf {
		if s.sick && d.hurt {
			keep, keepLatent := survival(r, d, c)
			for f := range s.leaf[c] {
				s.leaf[c][f].thin(keepLatent[f], keep[f])
			}
		}
		for f := range s.leaf[c] {
			x := &s.leaf[c][f]
			if s.sick {
				before += x.infectious()
				x.advance(latent, ageing)
				after += x.infectious()
				standing += x.area()
			} else {
				standing += x[healthy]
			}
			working += x[healthy]
			stop := min(1, r.efficacy*d.stop[c][f])
			w := d.susceptible[c] * infect[f] * (1 - stop)
			weight[c][f] = w
			open += w * x[healthy]
		}
	}
	standing /= faces
	working /= faces

	// Colonies from outside and from what was carried over, whole ones.
	come := 0.0
	if open > 0 {
		leafy := open / faces * r.cultivar
		out := r.arrival * d.Outside * r.ground * leafy
		if d.since < r.onset {
			out *= onsetBefore.V
		}
		old := r.carried * r.ground * d.Primary * leafy / (leafy + bareLeaf.V)
		come = float64(count(l.outside, out)+count(l.carried, old)) * r.perColony
	}

	force := 0.0
	if standing > 0 {
		caught := seized(standing / capture.V)
		force = r.rate * d.Emit * caught * ((before+after)/2 + d.inflow) / (faces * standing)
	}
	if open > 0 {
		force += come / open
	}
	if force > 0 {
		s.sick = true
		part := min(2, latent/2)
		for c := range s.leaf {
			for f := range s.leaf[c] {
				x := &s.leaf[c][f]
				fresh := x[healthy] * seized(force*weight[c][f])
				x[healthy] -= fresh
				if part <= 1 {
					x[latent0] += fresh * (1 - part)
					x[latent0+1] += fresh * part
				} else {
					x[latent0+1] += fresh * (2 - part)
					x[latent0+2] += fresh * (part - 1)
				}
			}
		}
	}

	// Leaf falls and unfolds.
	for c := range s.leaf {
		share := d.fall[c]
		if s.sick {
			up, down := &s.leaf[c][0], &s.leaf[c][1]
			if a := up.area(); a > 0 {
				share = min(1, share+hasten.V*(up[spent]+down[spent])/(2*a))
			}
		}
		if share > 0 {
			s.fallen += s.lose(c, share)
		}
	}
	if d.alive {
		s.unfold(cohorts-1, r.vigour*r.crop.Unfold(standing, working, d.Warmth, d.since))
	}
}

// survival returns the share of infectious and of latent colonies of a cohort
// that heat, water and lamps leave alive, by face. Heat works on leaf in the sun
// and in the shade by the light the cohort has.
func survival(r *rates, d *day, c int) (infectious, latent [faces]float64) {
	mix := func(h *[2][2]float64) float64 {
		shade := h[0][0] + r.heat*(h[1][0]-h[0][0])
		sun := h[0][1] + r.heat*(h[1][1]-h[0][1])
		return 1 - ((1-d.sun[c])*seized(shade) + d.sun[c]*seized(sun))
	}
	a, b := mix(&d.Heat), mix(&d.HeatLatent)
	for f := range infectious {
		infectious[f] = a * (1 - d.Wash[f]) * (1 - d.Rays[f])
		latent[f] = b * (1 - d.Rays[f])
	}
	return infectious, latent
}

// act applies removals and the killing of colonies.
func (s *state) act(r *rates, d *day) {
	for c := range s.leaf {
		if d.remove[c] > 0 {
			s.taken += s.lose(c, d.remove[c])
		}
		if !s.sick {
			continue
		}
		for f := range s.leaf[c] {
			if k := min(1, r.efficacy*d.kill[c][f]); k > 0 {
				s.leaf[c][f].thin(1-k, 1-k)
			}
		}
	}
}

// thin keeps the shares of latent and infectious colonies. What dies latent
// leaves the leaf healthy, what dies infectious leaves it spent.
func (f *face) thin(latent, infectious float64) {
	if latent < 1 {
		for i := latent0; i < infect0; i++ {
			gone := f[i] * (1 - latent)
			f[i] -= gone
			f[healthy] += gone
		}
	}
	if infectious < 1 {
		for i := infect0; i < spent; i++ {
			gone := f[i] * (1 - infectious)
			f[i] -= gone
			f[spent] += gone
		}
	}
}

// advance moves colonies through the stages: latent by l stages (0 to 2),
// infectious by g stages (0 to 1). A stage's content moves on by whole stages
// and the rest in proportion, which keeps the mean time through all stages exact
// at any rate (the fractional boxcar train).
func (f *face) advance(l, g float64) {
	// Infectious first, so that what becomes infectious today stays in place.
	x := f[spent-1] * g
	f[spent] += x
	for i := spent - 1; i > infect0; i-- {
		f[i] += f[i-1]*g - f[i]*g
	}
	f[infect0] -= f[infect0] * g

	if l <= 1 {
		ripe := f[infect0-1] * l
		for i := infect0 - 1; i > latent0; i-- {
			f[i] += f[i-1]*l - f[i]*l
		}
		f[latent0] -= f[latent0] * l
		f[infect0] += ripe
		return
	}
	two := l - 1 // share that moves two stages, the rest moves one
	one := 1 - two
	ripe := f[infect0-1] + f[infect0-2]*two
	for i := infect0 - 1; i > latent0+1; i-- {
		f[i] = f[i-1]*one + f[i-2]*two
	}
	f[latent0+1] = f[latent0] * one
	f[latent0] = 0
	f[infect0] += ripe
}
