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
	if d.acts || d.hurt && s.any {
		s.act(r, d)
	}

	// Healthy leaf by its weight: how readily it is infected. Where colonies stand
	// in clumps, conidia fall on mildewed leaf more often than its share tells: with
	// colonies in a negative binomial of exponent k the healthy share h falls by
	// h^(1+1/k) instead of h. k is one half (crowding), so the weight has a factor h².
	var infect [faces]float64
	for f := range infect {
		infect[f] = d.Infect[f] + r.humid*(d.InfectAny[f]-d.Infect[f])
	}
	var weight [cohorts][faces]float64
	var part [cohorts]float64 // 1/area where there are colonies
	standing, working, open := 0.0, 0.0, 0.0
	for c := range s.leaf {
		x := &s.leaf[c]
		w0, w1 := d.susceptible[c]*infect[0], d.susceptible[c]*infect[1]
		if d.stops {
			w0 *= 1 - min(1, r.efficacy*d.stop[c][0])
			w1 *= 1 - min(1, r.efficacy*d.stop[c][1])
		}
		if x.sick && x.area > 0 {
			part[c] = 1 / x.area
			u0, u1 := x.face[0][healthy]*part[c], x.face[1][healthy]*part[c]
			w0 *= u0 * u0
			w1 *= u1 * u1
		}
		weight[c][0], weight[c][1] = w0, w1
		h0, h1 := x.left*x.face[0][healthy], x.left*x.face[1][healthy]
		standing += x.left * x.area
		working += h0 + h1
		open += w0*h0 + w1*h1
	}
	working /= faces

	m := moves(min(2, r.latent*d.Latent), min(1, r.ageing*d.Ageing))
	// The infectious area of the morning and of the evening, halved.
	shedding := s.now.shedding + ((m.one+m.two)*s.now.ripe+m.two*s.now.next-m.age*s.now.last)/2
	force := s.force(r, d, l, shedding, standing, open)

	var t tally
	s.now = sums{}
	if s.any || force > 0 {
		s.any = true
		for c := range s.leaf {
			s.leaf[c].pass(&m, force, &weight[c])
		}
	}
	for c := range s.leaf {
		x := &s.leaf[c]
		share := d.fall[c]
		if part[c] > 0 {
			if y := hasten.V / faces * (x.face[0][spent] + x.face[1][spent]) * part[c]; y > negligible {
				share = min(1, share+y)
			}
		}
		if share > 0 {
			s.fallen += x.left * x.area * share
			x.left *= 1 - share
		}
		if c < cohorts-1 {
			t.add(d.age[c], x, &s.now)
		}
	}
	s.free *= 1 - d.freeFall
	if d.alive {
		s.unfold(cohorts-1, r.vigour*r.crop.Unfold(standing, working, d.Warmth, d.fruit))
		s.free += r.vigour * r.crop.Unfold(s.free, s.free, d.Warmth, d.fruit)
	}
	t.add(d.age[cohorts-1], &s.leaf[cohorts-1], &s.now)
	t.write(s, out)
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
	force := 0.0
	if come := count(l.outside, outside) + count(l.carried, carried); come > 0 {
		force = come * r.perColony / open
	}
	if j := shedding + d.inflow; j > 0 && standing > 0 {
		force += r.rate * d.Emit * seized(standing/capture.V) * j / (faces * standing)
	}
	return force
}

// act applies removals, the killing of colonies by actions, and what heat, water
// and lamps kill. Heat works on leaf in the sun and in the shade by the light the
// cohort has.
func (s *state) act(r *rates, d *day) {
	mix := func(h *[2][2]float64) (shade, sun float64) {
		shade = seized(h[0][0] + r.heat*(h[1][0]-h[0][0]))
		sun = seized(h[0][1] + r.heat*(h[1][1]-h[0][1]))
		return shade, sun
	}
	shade, sun := mix(&d.Heat)
	shadeL, sunL := mix(&d.HeatLatent)
	s.now = sums{}
	for c := range s.leaf {
		x := &s.leaf[c]
		if d.remove[c] > 0 {
			s.taken += x.left * x.area * d.remove[c]
			x.left *= 1 - d.remove[c]
		}
		if !x.sick {
			continue
		}
		keep := 1 - (shade + d.sun[c]*(sun-shade))
		keepL := 1 - (shadeL + d.sun[c]*(sunL-shadeL))
		for f := range x.face {
			spared := (1 - d.Rays[f]) * (1 - min(1, r.efficacy*d.kill[c][f]))
			x.face[f].thin(keepL*spared, keep*(1-d.Wash[f])*spared)
			s.now.add(&x.face[f], x.left)
		}
	}
}

// move is how far colonies move on in a day: the share of a stage's content that
// stays, goes one stage on, goes two.
type move struct {
	stay, one, two float64 // latent
	age            float64 // infectious, the share that goes one stage on
	first, second  float64 // share of a fresh infection that is in the first and second stage by evening
}

// moves returns the move of l latent stages (0 to 2) and g infectious stages (0
// to 1). A stage's content moves on by whole stages and the rest in proportion,
// which keeps the mean time through all stages exact at any pace (a fractional
// boxcar train). A fresh infection has passed half of the day.
func moves(l, g float64) move {
	m := move{age: g, first: 1 - l/2, second: l / 2}
	if l <= 1 {
		m.stay, m.one = 1-l, l
	} else {
		m.one, m.two = 2-l, l-1
	}
	return m
}

// pass moves the colonies of a cohort on and adds fresh infections.
func (x *cohort) pass(m *move, force float64, weight *[faces]float64) {
	if x.area <= 0 || !x.sick && force <= 0 {
		return
	}
	x.sick = true
	for f := range x.face {
		y := &x.face[f]
		l0, l1, l2, l3, l4 := y[latent0], y[latent0+1], y[latent0+2], y[latent0+3], y[latent0+4]
		i0, i1, i2 := y[infect0], y[infect0+1], y[infect0+2]
		fresh := y[healthy] * seized(force*weight[f])
		y[healthy] -= fresh
		y[latent0] = m.stay*l0 + m.first*fresh
		y[latent0+1] = m.stay*l1 + m.one*l0 + m.second*fresh
		y[latent0+2] = m.stay*l2 + m.one*l1 + m.two*l0
		y[latent0+3] = m.stay*l3 + m.one*l2 + m.two*l1
		y[latent0+4] = m.stay*l4 + m.one*l3 + m.two*l2
		ripe := (m.one+m.two)*l4 + m.two*l3
		on, past, done := m.age*i0, m.age*i1, m.age*i2
		y[infect0] = i0 - on + ripe
		y[infect0+1] = i1 - past + on
		y[infect0+2] = i2 - done + past
		y[spent] += done
	}
}
