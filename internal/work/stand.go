package work

import (
	"context"
	"math"
	"time"

	"oidium/belief"
	"oidium/chance"
	"oidium/cite"
	"oidium/epidemic"
	"oidium/garden"
	"oidium/host"
	"oidium/mildew"
	"oidium/remedy"
	"oidium/scout"
)

// plot is one bed with the crop that stands on it this morning.
type plot struct {
	bed      garden.Bed
	planting garden.Planting
	crop     *host.Crop
	start    garden.Day // first day simulated
	air      inBed
	effects  []garden.Effect
	tallies  []garden.Tally
	readings []garden.Severity
	readers  map[string]scout.Reader // by who reads, of those whose eye was tried
	named    []garden.Diagnosis      // of this planting, in order of time
	stands   []*stand                // one for each mildew that threatens the crop
}

// stand is a plot and one mildew on it, run and weighed.
type stand struct {
	mildew  *mildew.Pathosystem
	epi     epidemic.Stand
	ens     *epidemic.Ensemble
	z       [][]float64 // positions of the members
	ratio   []float64   // logarithm of prior over the density they were drawn with
	eyes    []eye       // of the members
	drawn   int         // how often members were drawn anew
	weights belief.Weights
	prob    float64 // that it is this mildew, among those that look alike
}

// seasonStart returns the first day to simulate: the planting, or for plants
// that stand for years the last turn of the dark season before today.
func seasonStart(p garden.Planting, c *host.Crop, latitude float64, today garden.Day) garden.Day {
	if !c.Perennial {
		return p.Planted
	}
	turn := time.January
	if latitude < 0 {
		turn = time.July
	}
	y := today.Year()
	d := garden.DayOf(time.Date(y, turn, 1, 0, 0, 0, 0, time.UTC))
	if d > today {
		d = garden.DayOf(time.Date(y-1, turn, 1, 0, 0, 0, 0, time.UTC))
	}
	return max(d, p.Planted)
}

// prepare gathers what a plot's stands need: climate, effects of what was done,
// and daily factors for each mildew.
func (p *plot) prepare(g *garden.Garden, s *sky) {
	p.air = s.at(p.bed, g.Site)
	p.effects = done(g, s, p)
	// The hours are shared by the mildews, and kept for effects that change the
	// climate at the leaf.
	var known []mildew.Hours
	for d := p.start; d < s.today; d++ {
		known = append(known, s.hoursOf(p.air.known, p.bed, d))
	}
	ahead := make([][]mildew.Hours, len(p.air.ahead))
	for k, a := range p.air.ahead {
		for d := s.today; d < s.today+horizon; d++ {
			ahead[k] = append(ahead[k], s.hoursOf(a, p.bed, d))
		}
	}
	for _, m := range mildew.Of(p.planting.Crop) {
		st := &stand{mildew: m, prob: 1}
		st.epi = epidemic.Stand{
			Key:        chance.Key{Garden: g.Site.Seed, Season: p.start.Year(), Pathosystem: string(m.ID), Bed: string(p.bed.ID)},
			Crop:       p.crop,
			Mildew:     m,
			Resistance: p.planting.Resistance,
			Ground:     p.bed.Area(),
			Planted:    p.planting.Planted,
			Start:      p.start,
			Effects:    p.effects,
		}
		var carry mildew.Carry
		st.epi.Drivers.KnownAir, st.epi.Drivers.AheadAir = known, ahead
		for _, h := range known {
			st.epi.Drivers.Known = append(st.epi.Drivers.Known, m.Fold(p.crop, h, &carry))
		}
		for _, hours := range ahead {
			c := carry
			days := make([]mildew.Daily, 0, aheadDays)
			for _, h := range hours {
				days = append(days, m.Fold(p.crop, h, &c))
			}
			st.epi.Drivers.Ahead = append(st.epi.Drivers.Ahead, days)
		}
		p.stands = append(p.stands, st)
	}
}

// gather finds the looks at a plot's planting.
func (p *plot) gather(g *garden.Garden, loc *time.Location) {
	for _, t := range g.Tallies {
		if t.Bed == p.bed.ID && garden.DayOf(t.Time.In(loc)) >= p.start {
			p.tallies = append(p.tallies, t)
		}
	}
	for _, r := range g.Severities {
		if r.Bed == p.bed.ID && garden.DayOf(r.Time.In(loc)) >= p.start {
			p.readings = append(p.readings, r)
		}
	}
	for _, d := range g.Diagnoses {
		if d.Bed == p.bed.ID && garden.DayOf(d.Time.In(loc)) >= p.start {
			p.named = append(p.named, d)
		}
	}
	p.readers = make(map[string]scout.Reader)
	for _, e := range g.EyeChecks { // in order of time: the last one of a person holds
		if r, err := scout.Rate(e.Truth, e.Read); err == nil {
			p.readers[e.Who] = r.Reader
		}
	}
}

// readerOf is how a person reads covered leaf area: by their own training leaves
// where these are in the book, else as people do.
func (p *plot) readerOf(who string) scout.Reader {
	if r, ok := p.readers[who]; ok {
		return r
	}
	return scout.PlainReader()
}

// done turns the treatments, removals and pickings of a plot into effects.
func done(g *garden.Garden, s *sky, p *plot) []garden.Effect {
	var out []garden.Effect
	for _, t := range g.Treatments {
		day := garden.DayOf(t.Start.In(s.loc))
		if t.Bed != p.bed.ID || day < p.start {
			continue
		}
		m, ok := remedy.Get(t.Material)
		if !ok {
			continue
		}
		days := int(s.today-day) + aheadDays
		rain := s.rainOn(p, day, int(s.today-day))
		out = append(out, remedy.Deposit(m, t, rain, days, t.Below, g.Site.Sprayer)...)
	}
	for _, r := range g.Removals {
		day := garden.DayOf(r.Time.In(s.loc))
		if r.Bed != p.bed.ID || day < p.start {
			continue
		}
		var shares [garden.LeafAges]float64
		any := false
		for a, yes := range r.Ages {
			if yes {
				shares[a], any = r.Share, true
			}
		}
		if !any {
			shares[garden.Middle], shares[garden.Old] = r.Share, r.Share
		}
		out = append(out, remedy.RemovalEffect(p.bed.ID, day, shares))
	}
	for _, h := range g.Harvests {
		day := garden.DayOf(h.Time.In(s.loc))
		if h.Bed == p.bed.ID && day >= p.start {
			out = append(out, garden.Effect{Bed: p.bed.ID, Day: day, Pick: p.crop.Picked.V})
		}
	}
	return out
}

// rainOn returns the rain and overhead water that reached the leaves of a plot
// on each day from day on.
func (s *sky) rainOn(p *plot, day garden.Day, days int) []float64 {
	out := make([]float64, days)
	if p.bed.Shelter != garden.Tunnel {
		out = s.rainOf(p.air.known, day, days)
	}
	for i := range out {
		if settingOn(p.bed, (day+garden.Day(i)).At(12, s.loc)).Water == "overhead" {
			out[i] += usualWater.V
		}
	}
	return out
}

// eye is how colonies show on the leaves of a bed: uncertain, and the same at
// every look.
type eye struct {
	leaf   float64 // cm² of one face
	colony float64 // cm²
	clump  float64 // k of the negative binomial
	shows  float64 // of the modelled cover what this bed shows
}

// A member's position has the directions of the epidemic's parameters first, then
// those of the eye.
const (
	epiDims = len(epidemic.Position{})
	dims    = epiDims + 3
)

// drawn returns the position of a member drawn from the prior.
func drawn(st *epidemic.Stand, member int) []float64 {
	z := make([]float64, dims)
	e := epidemic.Draw(st, member)
	copy(z, e[:])
	key := st.Key
	key.Member, key.Process = member, chance.Observe
	r := chance.New(key)
	for i := epiDims; i < dims; i++ {
		z[i] = r.Normal()
	}
	return z
}

// eyeAt returns the eye at a position.
func eyeAt(z []float64, leaf float64) eye {
	return eye{leaf: leaf, colony: spread(z[epiDims], colonyCm2), clump: spread(z[epiDims+1], clumping), shows: spread(z[epiDims+2], showing)}
}

// leafOf is the size of a leaf of the crop.
func leafOf(c *host.Crop) cite.Value {
	if c.Family == "cucurbit" || c.Family == "grape" {
		return leafLarge
	}
	return leafSmall
}

// spread is the value at z of a lognormal whose median is V and whose 95 % range
// runs from Lo to Hi.
func spread(z float64, v cite.Value) float64 {
	const wide95 = 2 * 1.959964
	return v.V * math.Exp(z*math.Log(v.Hi/v.Lo)/wide95)
}

// at returns the record of a member as this bed shows it. The model knows no bed:
// how much of its cover is seen here is uncertain, the same on every day, and
// learned from the looks.
func (st *stand) at(member int, day garden.Day) epidemic.Record {
	r := st.ens.At(member, day)
	k := st.eyes[member].shows
	for a := range r.Mildewed {
		for f := range r.Mildewed[a] {
			r.Mildewed[a][f] = min(1, r.Mildewed[a][f]*k)
		}
	}
	r.Severity = min(1, r.Severity*k)
	return r
}

// logLik is the logarithm of how likely the looks at a plot are under a member
// of one of its stands. The model is not the bed: on each day the true share may
// lie beside the member's by a factor of its own (discrepancy), over which the
// likelihood of that day is averaged (three-point Gauss-Hermite). Without this
// several looks together would count for more than they are worth.
func (p *plot) logLik(s *sky, st *stand, member int, tallied []scout.Tallied) float64 {
	e := st.eyes[member]
	sum := 0.0
	for i, t := range p.tallies {
		r := st.at(member, garden.DayOf(t.Time.In(s.loc)))
		look := scout.LookOf(t.Check, t.Sure)
		sum += averaged(func(factor float64) float64 { return tallied[i].LogLik(e.expect(r, factor), look) })
	}
	for _, v := range p.readings {
		r := st.at(member, garden.DayOf(v.Time.In(s.loc)))
		share := r.Mildewed[v.Age][v.Face]
		if v.Whole {
			share = faceShare(r, v.Face)
		}
		sum += averaged(func(factor float64) float64 {
			return scout.SeverityLogLik(v, min(1, share*factor), p.readerOf(v.Who))
		})
	}
	return sum
}

// averaged is the logarithm of the mean likelihood over the discrepancy.
func averaged(ll func(factor float64) float64) float64 {
	up := math.Exp(math.Sqrt(3) * discrepancy.V)
	a, b, c := ll(1/up), ll(1), ll(up)
	top := max(a, b, c)
	if math.IsInf(top, -1) {
		return top
	}
	return top + math.Log((math.Exp(a-top)+4*math.Exp(b-top)+math.Exp(c-top))/6)
}

// expect turns the covered shares of a record, times a factor, into the shares
// of leaves on which a look would find something.
func (e eye) expect(r epidemic.Record, factor float64) scout.Expect {
	var x scout.Expect
	for a := range r.Mildewed {
		for f, y := range r.Mildewed[a] {
			x.Incidence[a][f] = scout.Incidence(min(1, y*factor), e.leaf, e.colony, e.clump)
		}
	}
	return x
}

// faceShare is the share of one face of all leaf that is mildewed.
func faceShare(r epidemic.Record, f garden.Face) float64 {
	sum, area := 0.0, 0.0
	for a, x := range r.Area {
		sum += x * r.Mildewed[a][f]
		area += x
	}
	if area <= 0 {
		return 0
	}
	return sum / area
}

// believe runs every stand, weighs its members by what was seen, lets neighbours
// rain on each other at their mean, and weighs again.
func believe(ctx context.Context, plots []*plot, s *sky, members, workers int) error {
	if err := runAll(ctx, plots, s, members, workers); err != nil {
		return err
	}
	if !setInflow(plots) {
		return nil
	}
	return runAll(ctx, plots, s, members, workers)
}

func runAll(ctx context.Context, plots []*plot, s *sky, members, workers int) error {
	for _, p := range plots {
		tallied := make([]scout.Tallied, len(p.tallies))
		for i, t := range p.tallies {
			tallied[i] = scout.Prepare(t)
		}
		var prior, evidence []float64
		for _, st := range p.stands {
			if err := st.condition(ctx, p, s, tallied, members, workers); err != nil {
				return err
			}
			prior = append(prior, priorOf(st.mildew.ID, len(p.stands)))
			evidence = append(evidence, st.weights.Evidence)
		}
		for i, q := range belief.Mix(prior, evidence) {
			p.stands[i].prob = q
		}
	}
	return nil
}

// condition runs the members of a stand and weighs them by what was seen. A stand
// that was looked at has more of them, since most will disagree; while too few
// agree, new ones are drawn around those that do.
func (st *stand) condition(ctx context.Context, p *plot, s *sky, tallied []scout.Tallied, members, workers int) error {
	if len(p.tallies)+len(p.readings) > 0 {
		members *= conditioned
	}
	if st.z == nil {
		st.z, st.ratio = make([][]float64, members), make([]float64, members)
		for m := range st.z {
			st.z[m] = drawn(&st.epi, m)
		}
	}
	least := float64(min(fewMembers, members))
	for {
		at := make([]epidemic.Position, members)
		st.eyes = make([]eye, members)
		for m, z := range st.z {
			copy(at[m][:], z)
			st.eyes[m] = eyeAt(z, leafOf(p.crop).V)
		}
		var err error
		if st.ens, err = epidemic.RunAt(ctx, &st.epi, at, workers); err != nil {
			return err
		}
		ll := make([]float64, members)
		for m := range ll {
			ll[m] = st.ratio[m] + p.logLik(s, st, m, tallied)
		}
		st.weights = belief.Weigh(ll, least)
		if len(p.tallies)+len(p.readings) == 0 || st.weights.RawESS >= least || st.drawn >= recentrings {
			return nil
		}
		st.drawn++
		key := st.epi.Key
		key.Process, key.Day = chance.Around, st.drawn
		st.z, st.ratio = belief.Recentre(st.z, st.weights.W, func(m int) *chance.Stream {
			key.Member = m
			return chance.New(key)
		})
	}
}

// priorOf is the prior chance of one of n mildews that look alike on a crop.
func priorOf(id garden.MildewID, n int) float64 {
	if n == 1 {
		return 1
	}
	switch id {
	case "podosphaera-xanthii":
		return priorXanthii.V
	case "golovinomyces-orontii":
		return 1 - priorXanthii.V
	}
	return 1 / float64(n)
}

// setInflow gives every stand the conidia of the stands of the same mildew in
// other beds, at their mean; it reports whether there are any.
func setInflow(plots []*plot) bool {
	any := false
	for _, p := range plots {
		for _, st := range p.stands {
			var from []epidemic.Source
			first, last := st.ens.Span()
			for _, q := range plots {
				for _, o := range q.stands {
					if q == p || o.mildew.ID != st.mildew.ID {
						continue
					}
					from = append(from, epidemic.Source{
						Infectious: alignTo(first, last, o, q),
						Ground:     q.bed.Area(),
						Distance:   math.Hypot(p.bed.X-q.bed.X, p.bed.Y-q.bed.Y),
					})
				}
			}
			if len(from) > 0 {
				any = true
				st.epi.Inflow = epidemic.Inflow(from, int(last-first)+1)
			}
		}
	}
	return any
}

// alignTo returns the mean infectious area of a neighbour on the days first to
// last, weighed by the chance that it is this mildew at all.
func alignTo(first, last garden.Day, o *stand, q *plot) []float64 {
	mean := o.ens.MeanInfectious(o.weights.W)
	begin, _ := o.ens.Span()
	out := make([]float64, int(last-first)+1)
	for i := range out {
		if j := int(first-begin) + i; j >= 0 && j < len(mean) {
			out[i] = mean[j] * o.prob
		}
	}
	return out
}
