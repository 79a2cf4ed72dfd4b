package epidemic

import "oidium/host"

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
		latent:    latents * best / max(best/2, best+p[latentShift]),
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

// step moves the member over one day and notes the evening in out. Every rate
// comes from a table or is a short closed form, and nothing is allocated. The
// tests hold it against a plain version of the same model.
//
// Order: leaf cohorts, actions, heat and water, ageing of colonies, infection,
// fall and growth of leaf. Infection works with the infectious area of the middle
// of the day, and what it gives has passed half a day of latency by evening, so
// that a daily step keeps the pace of a fine one.
func (s *state) step(r *rates, d *day, l luck, out *record) {
	if d.opens {
		s.shift()
	}
	if d.planted > 0 {
		s.unfold(cohorts-1, d.planted/2)
		s.unfold(cohorts-2, d.planted/2)
		s.free += d.planted
	}
	if d.acts {
		s.act(r, d)
	}
	if d.hurt && s.any {
		s.hurt(r, d)
	}

	latent := min(2, r.latent*d.Latent)
	move := moves(latent, min(1, r.ageing*d.Ageing))
	var infect [faces]float64
	for f := range infect {
		infect[f] = d.Infect[f] + r.humid*(d.InfectAny[f]-d.Infect[f])
	}
	shedding, standing, working, open := 0.0, 0.0, 0.0, 0.0
	var weight [cohorts][faces]float64
	for c := range s.leaf {
		up, down := &s.leaf[c][0], &s.leaf[c][1]
		if s.sick[c] {
			shedding += up.advance(&move) + down.advance(&move)
		}
		standing += s.area[c]
		working += up[healthy] + down[healthy]
		w := d.susceptible[c]
		weight[c][0] = w * infect[0] * (1 - min(1, r.efficacy*d.stop[c][0]))
		weight[c][1] = w * infect[1] * (1 - min(1, r.efficacy*d.stop[c][1]))
		open += weight[c][0]*up[healthy] + weight[c][1]*down[healthy]
	}
	working /= faces

	force := s.force(r, d, l, shedding/2, standing, open)
	if force > 0 {
		s.infect(force, min(2, latent/2), &weight)
	}

	for c := range s.leaf {
		share := d.fall[c]
		if s.sick[c] && s.area[c] > 0 {
			if x := hasten.V * (s.leaf[c][0][spent] + s.leaf[c][1][spent]) / (faces * s.area[c]); x > negligible {
				share = min(1, share+x)
			}
		}
		if share > 0 {
			s.fallen += s.lose(c, share)
		}
	}
	s.free *= 1 - d.freeFall
	if d.alive {
		s.unfold(cohorts-1, r.vigour*r.crop.Unfold(standing, working, d.Warmth, d.since))
		s.free += r.vigour * r.crop.Unfold(s.free, s.free, d.Warmth, d.since)
	}
	s.note(d, out)
}

// negligible is a fall of leaf by disease not worth the work (numerical).
const negligible = 1e-7

// force returns the hazard of infection on leaf of weight 1: from the bed's own
// conidia and its neighbours', and from the colonies that come from outside or
// were carried over, which are whole numbers. shedding is the infectious area in
// the middle of the day, open the healthy area by weight.
func (s *state) force(r *rates, d *day, l luck, shedding, standing, open float64) float64 {
	if open <= 0 {
		return 0
	}
	leafy := open / faces * r.cultivar
	outside := r.arrival * d.Outside * r.ground * leafy
	if d.since < r.onset {
		outside *= onsetBefore.V
	}
	carried := r.carried * r.ground * d.Primary * leafy / (leafy + bareLeaf.V)
	come := count(l.outside, outside) + count(l.carried, carried)
	force := come * r.perColony / open
	if j := shedding + d.inflow; j > 0 && standing > 0 {
		force += r.rate * d.Emit * seized(standing/capture.V) * j / (faces * standing)
	}
	return force
}

// infect moves healthy leaf into latency; part is the stages already passed by
// the evening.
func (s *state) infect(force float64, part float64, weight *[cohorts][faces]float64) {
	s.any = true
	at := latent0
	if part > 1 {
		at, part = at+1, part-1
	}
	for c := range s.leaf {
		if s.area[c] <= 0 {
			continue
		}
		for f := range s.leaf[c] {
			x := &s.leaf[c][f]
			fresh := x[healthy] * seized(force*weight[c][f])
			if fresh <= 0 {
				continue
			}
			s.sick[c] = true
			x[healthy] -= fresh
			x[at] += fresh * (1 - part)
			x[at+1] += fresh * part
		}
	}
}

// act applies removals and the killing of colonies.
func (s *state) act(r *rates, d *day) {
	for c := range s.leaf {
		if d.remove[c] > 0 {
			s.taken += s.lose(c, d.remove[c])
		}
		if !s.sick[c] {
			continue
		}
		for f := range s.leaf[c] {
			if k := min(1, r.efficacy*d.kill[c][f]); k > 0 {
				s.leaf[c][f].thin(1-k, 1-k)
			}
		}
	}
}

// hurt applies what heat, water and lamps kill. Heat works on leaf in the sun and
// in the shade by the light the cohort has.
func (s *state) hurt(r *rates, d *day) {
	mix := func(h *[2][2]float64) (shade, sun float64) {
		shade = seized(h[0][0] + r.heat*(h[1][0]-h[0][0]))
		sun = seized(h[0][1] + r.heat*(h[1][1]-h[0][1]))
		return shade, sun
	}
	shade, sun := mix(&d.Heat)
	shadeL, sunL := mix(&d.HeatLatent)
	for c := range s.leaf {
		if !s.sick[c] {
			continue
		}
		keep := 1 - (shade + d.sun[c]*(sun-shade))
		keepL := 1 - (shadeL + d.sun[c]*(sunL-shadeL))
		for f := range s.leaf[c] {
			rays := 1 - d.Rays[f]
			s.leaf[c][f].thin(keepL*rays, keep*(1-d.Wash[f])*rays)
		}
	}
}

// move is how far colonies move on in a day: the share of a stage's content that
// stays, goes one stage on, goes two.
type move struct {
	stay, one, two float64 // latent
	age            float64 // infectious, the share that goes one stage on
}

// moves returns the move of l latent stages (0 to 2) and g infectious stages (0
// to 1). A stage's content moves on by whole stages and the rest in proportion,
// which keeps the mean time through all stages exact at any pace (a fractional
// boxcar train).
func moves(l, g float64) move {
	if l <= 1 {
		return move{stay: 1 - l, one: l, age: g}
	}
	return move{one: 2 - l, two: l - 1, age: g}
}

// advance moves the colonies of a face on and returns the sum of its infectious
// area before and after.
func (f *face) advance(m *move) float64 {
	l0, l1, l2, l3, l4 := f[latent0], f[latent0+1], f[latent0+2], f[latent0+3], f[latent0+4]
	i0, i1, i2 := f[infect0], f[infect0+1], f[infect0+2]
	ripe := (m.one+m.two)*l4 + m.two*l3
	f[latent0+4] = m.stay*l4 + m.one*l3 + m.two*l2
	f[latent0+3] = m.stay*l3 + m.one*l2 + m.two*l1
	f[latent0+2] = m.stay*l2 + m.one*l1 + m.two*l0
	f[latent0+1] = m.stay*l1 + m.one*l0
	f[latent0] = m.stay * l0
	done, past, on := m.age*i2, m.age*i1, m.age*i0
	f[spent] += done
	f[infect0+2] = i2 - done + past
	f[infect0+1] = i1 - past + on
	f[infect0] = i0 - on + ripe
	return 2*(i0+i1+i2) + ripe - done
}
