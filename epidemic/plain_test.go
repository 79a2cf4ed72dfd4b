package epidemic

import (
	"math"

	"oidium/chance"
	"oidium/garden"
	"oidium/mildew"
)

// grain is how finely the plain model cuts leaf, colonies and time.
type grain struct {
	cohorts, window  int // cohorts, days of unfolding in each
	latents, infects int // stages
	steps            int // a day
	hit              func(x float64) float64
	still            bool // leaf does not fall for being spent
	even             bool // colonies stand evenly, not in clumps
}

// usual is the grain of the program.
var usual = grain{cohorts: cohorts, window: window, latents: latents, infects: infects, steps: 1, hit: seized}

// plainFace and plainCohort are written without regard to speed.
type plainFace struct {
	healthy float64
	latent  []float64
	infect  []float64
	spent   float64
}

type plainCohort struct {
	face [faces]plainFace
}

func (f *plainFace) all() []*float64 {
	out := []*float64{&f.healthy, &f.spent}
	for i := range f.latent {
		out = append(out, &f.latent[i])
	}
	for i := range f.infect {
		out = append(out, &f.infect[i])
	}
	return out
}

func (f *plainFace) area() float64 {
	sum := 0.0
	for _, x := range f.all() {
		sum += *x
	}
	return sum
}

func (f *plainFace) shedding() float64 {
	sum := 0.0
	for _, x := range f.infect {
		sum += x
	}
	return sum
}

// moveOn moves the contents of stages on by a real number of stages and returns
// what leaves the last.
func moveOn(x []float64, by float64) float64 {
	whole := int(by)
	part := by - float64(whole)
	out := make([]float64, len(x))
	left := 0.0
	for i, v := range x {
		for k, share := range []float64{1 - part, part} {
			if to := i + whole + k; to < len(x) {
				out[to] += share * v
			} else {
				left += share * v
			}
		}
	}
	copy(x, out)
	return left
}

// plain is the whole model for one member, written in the order of its
// description: the reference that the fast step is held against, and the means to
// cut leaf, colonies and time finer.
type plain struct {
	st      *Stand
	g       grain
	p       Params
	member  int
	cohort  []plainCohort
	canopy  []float64 // untreated by mildew, middling vigour; sets the light
	free    []float64
	old     float64
	up      bool
	warm    float64
	since   float64
	fruit   float64
	records []Record
}

func newPlain(st *Stand, member int, g grain) *plain {
	m := &plain{st: st, g: g, p: st.Params(Draw(st, member)), member: member}
	m.cohort = make([]plainCohort, g.cohorts)
	for c := range m.cohort {
		m.clear(c)
	}
	m.canopy = make([]float64, g.cohorts)
	m.free = make([]float64, g.cohorts)
	return m
}

func (m *plain) clear(c int) {
	for f := range m.cohort[c].face {
		m.cohort[c].face[f] = plainFace{latent: make([]float64, m.g.latents), infect: make([]float64, m.g.infects)}
	}
}

// run goes over all known days.
func (m *plain) run() {
	for i := range m.st.Drivers.Known {
		m.day(i, m.st.Drivers.Known[i])
	}
}

func (m *plain) day(i int, w mildew.Daily) {
	g, crop := m.g, m.st.Crop
	last := g.cohorts - 1
	on := m.st.Start + garden.Day(i)
	phase := int(on) % g.window

	// A new cohort opens; the second oldest joins the oldest.
	if phase == 0 {
		if a := m.free[0] + m.free[1]; a > 0 {
			m.old = (m.old*m.free[0] + (float64(g.cohorts-2)+0.5)*float64(g.window)*m.free[1]) / a
		}
		for f := range faces {
			to, from := m.cohort[0].face[f].all(), m.cohort[1].face[f].all()
			for k := range to {
				*to[k] += *from[k]
			}
		}
		copy(m.cohort[1:], m.cohort[2:])
		m.clear(last)
		for _, a := range [][]float64{m.canopy, m.free} {
			a[0] += a[1]
			copy(a[1:], a[2:])
			a[last] = 0
		}
	}
	if !m.up && (crop.Perennial && m.warm >= crop.Bud.V || !crop.Perennial && on >= m.st.Planted) {
		m.up = true
		for _, c := range []int{last, last - 1} {
			for f := range faces {
				m.cohort[c].face[f].healthy += crop.LeafSet.V / 2
			}
			m.canopy[c] += crop.LeafSet.V / 2
			m.free[c] += crop.LeafSet.V / 2
		}
	}

	age := make([]float64, g.cohorts)
	sun := make([]float64, g.cohorts)
	above := 0.0
	for c := last; c >= 0; c-- {
		age[c] = float64((last-c)*g.window+phase) + 0.5 - float64(g.window)/2
		if c == last {
			age[c] = float64(phase+1) / 2
		}
		if c == 0 {
			age[c] = math.Max(m.old, age[c])
		}
		sun[c] = math.Exp(-crop.Light.V * (above + m.canopy[c]/2))
		above += m.canopy[c]
	}

	// Actions of the day.
	for _, e := range m.st.Effects {
		if e.Day == on {
			m.fruit *= 1 - e.Pick
		}
	}
	stop := make([][faces]float64, g.cohorts)
	kill := make([][faces]float64, g.cohorts)
	for _, e := range m.st.Effects {
		if e.Day != on {
			continue
		}
		for c := range m.cohort {
			share := 1.0
			if e.Since != 0 && c > 0 {
				birth := int(on) - phase - (last-c)*g.window
				span := g.window
				if c == last {
					span = phase + 1
				}
				share = math.Min(1, math.Max(0, float64(int(e.Since)-birth+1)/float64(span)))
			}
			for f := range faces {
				stop[c][f] = 1 - (1-stop[c][f])*(1-share*e.Stop[f])
				kill[c][f] = 1 - (1-kill[c][f])*(1-share*e.Kill[f])
			}
			cut := e.Remove[crop.AgeOf(age[c]+0.5)]
			m.scale(c, 1-cut)
			m.canopy[c] *= 1 - cut
		}
	}

	for c := range m.cohort {
		for f := range faces {
			keep := 1 - math.Min(1, m.p[efficacy]*kill[c][f])
			m.cohort[c].face[f].kill(keep, keep)
		}
	}

	// Heat, water, lamps.
	mix := func(h [2][2]float64, light float64) float64 {
		u := m.p[heat]
		return (1-light)*(1-g.hit((1-u)*h[0][0]+u*h[1][0])) + light*(1-g.hit((1-u)*h[0][1]+u*h[1][1]))
	}
	for c := range m.cohort {
		for f := range faces {
			rays := 1 - w.Rays[f]
			m.cohort[c].face[f].kill(mix(w.HeatLatent, sun[c])*rays, mix(w.Heat, sun[c])*(1-w.Wash[f])*rays)
		}
	}

	l := luckOf(m.st, m.member, on)
	falls := make([]float64, g.cohorts)
	for c := range falls {
		falls[c] = crop.Fall(age[c])
	}
	n := float64(g.steps)
	for k := range g.steps {
		var chances *luck
		if k == 0 {
			chances = &l
		}
		inflow := 0.0
		if i < len(m.st.Inflow) {
			inflow = m.st.Inflow[i]
		}
		m.part(w, n, inflow, age, sun, stop, falls, chances)
	}

	for _, a := range [][]float64{m.canopy, m.free} {
		standing := 0.0
		for _, x := range a {
			standing += x
		}
		for c := range a {
			a[c] *= 1 - falls[c]
		}
		if m.up {
			a[last] += crop.Unfold(standing, standing, w.Warmth, m.fruit)
		}
	}
	m.warm += w.Warmth
	if m.up {
		m.fruit = crop.Bear(m.fruit, m.since, w.Warmth)
		m.since += w.Warmth
	}
	m.old++
	m.note(age)
}

// luckOf returns the chances of a member on a date: two numbers for each day of a
// span of dates.
func luckOf(st *Stand, member int, on garden.Day) luck {
	key := st.Key
	key.Member, key.Process, key.Day = member, chance.Arrival, int(on)-int(on)%span
	s := chance.New(key)
	var l luck
	for range int(on)%span + 1 {
		l = luck{outside: s.Uniform(), carried: s.Uniform()}
	}
	return l
}

// part is one of n parts of a day.
func (m *plain) part(w mildew.Daily, n, inflow float64, age, sun []float64, stop [][faces]float64, falls []float64, l *luck) {
	g, crop, mil := m.g, m.st.Crop, m.st.Mildew
	p := m.p
	best := mil.LatentBest.V
	pass := w.Latent * best / math.Max(best/2, best+p[latentShift]) * float64(g.latents) / n
	grow := math.Min(1, w.Ageing/p[infectious]*float64(g.infects)/n)
	if g.steps == 1 {
		pass = math.Min(2, pass)
	}

	shedding, standing, working, open := 0.0, 0.0, 0.0, 0.0
	weight := make([][faces]float64, g.cohorts)
	for c := range m.cohort {
		for f := range faces {
			x := &m.cohort[c].face[f]
			shedding += x.shedding() / 2
			x.spent += moveOn(x.infect, grow)
			x.infect[0] += moveOn(x.latent, pass)
			shedding += x.shedding() / 2
			standing += x.area() / faces
			working += x.healthy / faces
			humid := w.Infect[f]*(1-p[humidity]) + w.InfectAny[f]*p[humidity]
			weight[c][f] = mil.Susceptible(age[c]) * (1 - w.Harm*sun[c]) * humid * (1 - math.Min(1, p[efficacy]*stop[c][f]))
			if a := x.area(); a > 0 && !g.even {
				weight[c][f] *= math.Pow(x.healthy/a, 1/crowding.V)
			}
			open += weight[c][f] * x.healthy
		}
	}

	force := 0.0
	if open > 0 {
		if l != nil {
			leafy := open / faces * p[cultivar]
			outside := p[arrival] * w.Outside * m.st.Ground * leafy
			if m.since < p[onset] {
				outside *= onsetBefore.V
			}
			carry := p[carried] * m.st.Ground * w.Primary * leafy / (leafy + bareLeaf.V)
			colonies := count(l.outside, outside) + count(l.carried, carry)
			force += colonies * mil.Colony.V / m.st.Ground / open
		}
		if standing > 0 {
			force += p[transmission] * p[cultivar] / n * w.Emit * g.hit(standing/capture.V) * (shedding + inflow) / (faces * standing)
		}
	}
	for c := range m.cohort {
		for f := range faces {
			x := &m.cohort[c].face[f]
			fresh := x.healthy * g.hit(force*weight[c][f])
			x.healthy -= fresh
			half := pass / 2
			i := int(half)
			x.latent[i] += fresh * (1 - (half - float64(i)))
			if i+1 < g.latents {
				x.latent[i+1] += fresh * (half - float64(i))
			} else {
				x.infect[0] += fresh * (half - float64(i))
			}
		}
	}

	for c := range m.cohort {
		a := m.cohort[c].face[0].area()
		share := falls[c]
		if a > 0 {
			if x := hasten.V * (m.cohort[c].face[0].spent + m.cohort[c].face[1].spent) / (faces * a); x > negligible && !g.still {
				share = math.Min(1, share+x)
			}
		}
		m.scale(c, 1-share/n)
	}
	if m.up {
		a := p[vigour] * crop.Unfold(standing, working, w.Warmth/n, m.fruit)
		for f := range faces {
			m.cohort[g.cohorts-1].face[f].healthy += a
		}
	}
}

// kill keeps the given shares of latent and infectious colonies.
func (f *plainFace) kill(keepLatent, keepInfectious float64) {
	for i := range f.latent {
		f.healthy += f.latent[i] * (1 - keepLatent)
		f.latent[i] *= keepLatent
	}
	for i := range f.infect {
		f.spent += f.infect[i] * (1 - keepInfectious)
		f.infect[i] *= keepInfectious
	}
}

func (m *plain) scale(c int, keep float64) {
	for f := range faces {
		for _, x := range m.cohort[c].face[f].all() {
			*x *= keep
		}
	}
}

// note keeps the evening's record; Removed and Free are left out.
func (m *plain) note(age []float64) {
	var r Record
	all, sum := 0.0, 0.0
	for c := range m.cohort {
		a := m.st.Crop.AgeOf(age[c] + 0.5)
		for f := range faces {
			x := &m.cohort[c].face[f]
			seen := x.shedding() + x.spent
			// The last fifth of latency is seen.
			for i := range x.latent {
				from := float64(i) / float64(m.g.latents)
				to := float64(i+1) / float64(m.g.latents)
				seen += visibleLatent.V * x.latent[i] * math.Max(0, to-math.Max(from, 0.8)) / (to - from)
			}
			r.Mildewed[a][f] += seen
			r.Area[a] += x.area() / faces
			r.Infectious += x.shedding()
			sum += seen
			all += x.area()
		}
	}
	for a := range r.Area {
		for f := range faces {
			if r.Area[a] > 0 {
				r.Mildewed[a][f] /= r.Area[a]
			}
		}
	}
	if all > 0 {
		r.Severity = sum / all
	}
	m.records = append(m.records, r)
}
