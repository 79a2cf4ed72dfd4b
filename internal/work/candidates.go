package work

import (
	"context"
	"math"
	"slices"
	"strings"
	"time"

	"oidium/belief"
	"oidium/epidemic"
	"oidium/garden"
	"oidium/host"
	"oidium/plan"
	"oidium/remedy"
	"oidium/weather"
)

// chosen is what the plan says of a plot, with what the round needs to print it.
type chosen struct {
	decision plan.Decision
	cloud    cloud
	best     *epidemicPair // forecast of the thinned cloud under the winner; nil when left alone
	kase     *remedy.Case
	clock    remedy.Clock
	budget   remedy.Budget
	offers   map[garden.MaterialID]offer
}

// epidemicPair is the thinned cloud run again under an action.
type epidemicPair struct {
	cloud cloud
}

// offer is one material as it could be used on a plot today.
type offer struct {
	material *remedy.Material
	mix      remedy.Mix
	windows  []remedy.Window
	checks   []remedy.Check
	price    float64
	stocked  bool // stands in the shed
}

// twoMaterials are considered even when the shed is empty: the protectant and
// the salt with the best evidence that a garden can get.
var twoMaterials = []garden.MaterialID{"sulfur_wg", "khco3"}

// decide tries the candidates of a plot.
func (p *plot) decide(ctx context.Context, g *garden.Garden, s *sky, workers int) (*chosen, error) {
	out := &chosen{cloud: cloudOf(p), offers: make(map[garden.MaterialID]offer)}
	thin := out.cloud.thin(triedDraws)
	covered := belief.BandOf(out.cloud.of(s.today, severity), out.cloud.w)
	area := belief.BandOf(out.cloud.of(s.today, leafArea), out.cloud.w).Mid * p.bed.Area()
	out.kase = p.kase(g, s, covered.Mean, area)
	out.clock = remedy.ClockOf(out.kase)
	out.budget = remedy.RemovalBudget(out.kase)

	value := p.planting.ValueM2Day
	if value <= 0 {
		value = usualValue.V
	}
	first, last := p.picking(s.today)
	trial := func(effects []garden.Effect) (loss, sev []float64) {
		c, err := p.try(ctx, thin, s.today, effects, workers)
		if err != nil {
			return nil, nil
		}
		loss, sev = make([]float64, len(c.draws)), make([]float64, len(c.draws))
		for i, d := range c.draws {
			for day := s.today; day < s.today+horizon; day++ {
				if day >= first && day <= last {
					loss[i] += p.crop.Loss(d.st.at(d.member, day+1).View()) * value * p.bed.Area()
				}
			}
			end := d.st.at(d.member, s.today+horizon)
			if rest := float64(last - (s.today + aheadDays)); rest > 0 {
				loss[i] += p.crop.Loss(end.View()) * value * p.bed.Area() * math.Min(rest, tailDays.V)
			}
			sev[i] = end.Severity
		}
		return loss, sev
	}

	b := &plan.Bed{
		ID: p.bed.ID, Day: s.today, Trial: trial, Weights: thin.w,
		Wage: g.Site.WageHour, Burden: p.planting.Burden,
		DaysLeft: int(max(0, last-s.today)), Plants: p.planting.Plants,
		Worth:     value * p.bed.Area() * float64(max(0, last-max(first, s.today)+1)),
		Covered:   thin.of(s.today, severity),
		Incidence: thin.oldLeaves(s.today),
		Doubt:     p.doubt(),
		Pairs:     true,
		Found:     p.found(),
		NoLeaf:    p.noLeaf(out.cloud, s.today),
	}
	if b.Wage <= 0 {
		b.Wage = usualWage.V
	}
	for i := 1; i <= shownDays; i++ {
		b.Ahead = append(b.Ahead, thin.oldLeaves(s.today+garden.Day(i)))
	}
	if look, _ := p.looked(s); look != "" {
		b.LastLook, _ = garden.ParseDay(look)
	}
	p.addRemoval(b, out, s, area)
	p.addMaterials(b, out, g, s)

	var err error
	if out.decision, err = plan.Decide(b); err != nil {
		return nil, err
	}
	if w := out.decision.Best; len(w.Effects) > 0 && w.Kind != plan.Nothing {
		c, err := p.try(ctx, thin, s.today, w.Effects, workers)
		if err != nil {
			return nil, err
		}
		out.best = &epidemicPair{cloud: c}
	}
	return out, nil
}

// try runs the truths of c again from today with further effects; nil effects
// return c itself.
func (p *plot) try(ctx context.Context, c cloud, today garden.Day, effects []garden.Effect, workers int) (cloud, error) {
	if len(effects) == 0 {
		return c, nil
	}
	again := make(map[*stand]*stand, len(p.stands))
	for _, st := range p.stands {
		var members []int
		for _, d := range c.draws {
			if d.st == st && (len(members) == 0 || members[len(members)-1] != d.member) {
				members = append(members, d.member)
			}
		}
		if len(members) == 0 {
			continue
		}
		ens, err := st.ens.Try(ctx, today, effects, members, workers)
		if err != nil {
			return cloud{}, err
		}
		x := *st
		x.ens = ens
		again[st] = &x
	}
	out := cloud{w: c.w, draws: make([]draw, len(c.draws))}
	for i, d := range c.draws {
		out.draws[i] = draw{again[d.st], d.member}
	}
	return out, nil
}

// picking returns the first and last day on which the bed has value, as stated
// or as usual. What is kept for its looks has value from planting on.
func (p *plot) picking(today garden.Day) (first, last garden.Day) {
	first, last = p.planting.FirstPick, p.planting.LastPick
	if first == 0 {
		first = p.start
		if p.crop.Currency != host.Looks {
			first += garden.Day(usualFirst.V)
		}
	}
	if last == 0 {
		last = p.start + garden.Day(usualSeason.V)
		if p.crop.Perennial {
			last = p.start + 300
		}
	}
	return first, last
}

// noLeaf tells whether there is nothing to look at: hardly any leaf, or on young
// plants none old enough to show mildew.
func (p *plot) noLeaf(c cloud, today garden.Day) bool {
	all := belief.BandOf(c.of(today, leafArea), c.w).Mid
	if all < leastLeaf.V {
		return true
	}
	if p.crop.Perennial {
		return false
	}
	old := belief.BandOf(c.of(today, func(r epidemic.Record) float64 { return r.Area[garden.Old] + r.Area[garden.Middle] }), c.w).Mid
	return old < leastLeaf.V/2
}

// found tells whether mildew has been seen on the plot this season.
func (p *plot) found() bool {
	for _, t := range p.tallies {
		for _, x := range t.Counts {
			if x.Infected > 0 && t.Sure != "cannot tell" {
				return true
			}
		}
	}
	for _, r := range p.readings {
		if r.Share > 0 {
			return true
		}
	}
	return false
}

// doubt tells whether the last look met spots that nobody could name.
func (p *plot) doubt() bool {
	n := len(p.tallies)
	return n > 0 && p.tallies[n-1].Sure == "cannot tell"
}

// kase is the plot as the rules see it.
func (p *plot) kase(g *garden.Garden, s *sky, covered, area float64) *remedy.Case {
	first, _ := p.picking(s.today)
	c := &remedy.Case{
		Now: s.asOf, Loc: s.loc, Today: s.today, Site: g.Site, Bed: p.bed, Planting: p.planting,
		Family: p.crop.Family, Ornamental: p.crop.Currency == host.Looks, LeafEaten: p.crop.Currency == host.Clean,
		InFlower: p.inFlower(s.today),
		Covered:  covered, CoveredKnown: len(p.tallies)+len(p.readings) > 0, LeafArea: round2(area),
		Treatments: g.Treatments, Removals: g.Removals, Plantings: g.Plantings, Beds: g.Beds, Labels: g.Labels, Stock: g.Stock,
		Diagnosis: p.diagnosis(), OtherDisease: p.others(s.today, s.loc),
	}
	if !c.Ornamental && s.today < first {
		c.PickNext = first
	}
	c.Hours = s.hoursAhead(p)
	return c
}

// inFlower tells whether the plants may be in flower. It errs on the side of the
// bees: fruit crops from some weeks after planting on, what stands for years while
// it is in full leaf.
func (p *plot) inFlower(today garden.Day) bool {
	if p.crop.Currency == host.Clean {
		return false
	}
	_, last := p.picking(today)
	if p.crop.Perennial {
		return true
	}
	return today >= p.planting.Planted+garden.Day(flowerDays.V) && today <= last
}

// diagnosis is what the last look that found anything, or the last diagnosis of
// powdery mildew or of what cannot be told, says it is. A diagnosis of something
// else leaves open whether powdery mildew is there too.
func (p *plot) diagnosis() string {
	sure, when := "", time.Time{}
	for i := len(p.tallies) - 1; i >= 0 && when.IsZero(); i-- {
		for _, x := range p.tallies[i].Counts {
			if x.Infected > 0 {
				sure, when = p.tallies[i].Sure, p.tallies[i].Time
				if sure == "" {
					sure = "likely" // counted as mildew, without a word on how sure
				}
				break
			}
		}
	}
	for _, d := range p.named {
		if (d.Verdict == "powdery mildew" || d.Verdict == "cannot tell") && !d.Time.Before(when) {
			sure, when = d.Sure, d.Time
		}
	}
	return sure
}

// aboutDays is how long a disease that was named counts as being about;
// numerical.
const aboutDays = 21

// others are the other diseases that were named here lately.
func (p *plot) others(today garden.Day, loc *time.Location) []string {
	var out []string
	for _, d := range p.named {
		if d.Verdict == "downy mildew" && today-garden.DayOf(d.Time.In(loc)) <= aboutDays && !slices.Contains(out, d.Verdict) {
			out = append(out, d.Verdict)
		}
	}
	return out
}

// hoursAhead gives the next four days at the bed as the rules need them: the
// median of the scenarios, the warm end for temperature, and the share of
// scenarios with rain.
func (s *sky) hoursAhead(p *plot) []remedy.Hour {
	const hours = 96
	out := make([]remedy.Hour, 0, hours)
	n := len(p.air.ahead)
	var temp, rh, wind, rain []float64
	even := make([]float64, n)
	for i := range even {
		even[i] = 1
	}
	var sort belief.Sorter
	for h := range hours {
		t := s.asOf.Truncate(time.Hour).Add(time.Duration(h) * time.Hour)
		temp, rh, wind, rain = temp[:0], rh[:0], wind[:0], rain[:0]
		wet := 0
		for _, a := range p.air.ahead {
			i := a.Index(t)
			if i < 0 || i >= a.Len() {
				return out
			}
			r := float64(a.V[weather.Rain][i])
			if p.bed.Shelter == garden.Tunnel || math.IsNaN(r) {
				r = 0
			}
			temp = append(temp, float64(a.V[weather.Temp][i]))
			rh = append(rh, float64(a.V[weather.RH][i]))
			wind = append(wind, float64(a.V[weather.Wind][i]))
			rain = append(rain, r)
			if r >= 0.2 || a.V[weather.RH][i] >= 90 {
				wet++
			}
		}
		chance := belief.Exceed(rain, even, 0.1)
		out = append(out, remedy.Hour{
			Time: t, T: sort.Band(temp, even).High, RH: sort.Band(rh, even).Mid, Wind: sort.Band(wind, even).Mid,
			Rain: sort.Band(rain, even).Mid, Wet: 2*wet > n, RainChance: chance,
		})
	}
	return out
}

// addRemoval offers taking off the leaves that carry most and yield least, as far
// as the budget goes.
func (p *plot) addRemoval(b *plan.Bed, out *chosen, s *sky, area float64) {
	checks := planChecks(out.budget.Checks, false)
	for i := range checks {
		// Which leaves may not be taken does not forbid taking the others.
		if checks[i].Rule == "leaf-age" && len(out.budget.Ages) > 0 {
			checks[i].Outcome = remedy.Caution
		}
	}
	if out.budget.Left <= 0 || len(out.budget.Ages) == 0 {
		b.Candidates = append(b.Candidates, plan.Candidate{Kind: plan.Remove, Name: say("take-off", "age", garden.Old), Checks: checks})
		return
	}
	age := out.budget.Ages[0]
	share := belief.BandOf(out.cloud.of(s.today, func(r epidemic.Record) float64 {
		if a := leafArea(r); a > 0 {
			return r.Area[age] / a
		}
		return 0
	}), out.cloud.w).Mid
	if share <= 0 || area <= 0 {
		b.Candidates = append(b.Candidates, plan.Candidate{Kind: plan.Remove, Name: say("take-off", "age", garden.Old), Checks: append(checks, plan.Check{
			Rule: "old-leaves", Outcome: "refused", Reason: say("take-off.none"), Source: "assumption", Grade: "C",
		})})
		return
	}
	of := math.Min(1, out.budget.Left/share)
	var shares [garden.LeafAges]float64
	shares[age] = of
	leaves := int(math.Round(of * share * area / (leafOf(p.crop).V / 1e4)))
	if leaves == 0 {
		return
	}
	b.Candidates = append(b.Candidates, plan.Candidate{
		Kind: plan.Remove, Name: say("take-off", "age", age),
		Effects: []garden.Effect{remedy.RemovalEffect(p.bed.ID, s.today, shares)},
		Minutes: float64(leaves) * secondsPerLeaf.V / 60, Leaves: leaves, Checks: checks,
	})
}

// addMaterials offers what stands in the shed, and two materials in any case.
func (p *plot) addMaterials(b *plan.Bed, out *chosen, g *garden.Garden, s *sky) {
	var ids []garden.MaterialID
	seen := make(map[garden.MaterialID]bool)
	add := func(id garden.MaterialID) {
		if !seen[id] {
			seen[id] = true
			ids = append(ids, id)
		}
	}
	for _, x := range g.Stock {
		add(x.Material)
	}
	for _, id := range twoMaterials {
		add(id)
	}
	for _, id := range ids {
		m, ok := remedy.Get(id)
		if !ok {
			continue
		}
		o := offer{material: m, mix: remedy.MixFor(out.kase, m), windows: remedy.Windows(out.kase, m), checks: remedy.Judge(out.kase, m), price: usualPrice.V}
		for _, x := range g.Stock {
			if x.Material == id {
				o.stocked = true
				if x.Price > 0 {
					o.price = x.Price
				}
			}
		}
		out.offers[id] = o
		start, open := s.asOf, false
		for _, w := range o.windows {
			if w.Open {
				start, open = w.From, true
				break
			}
		}
		day := garden.DayOf(start.In(s.loc))
		checks, in, why := planChecks(o.checks, harvestKnown(out.kase.Labels, id, p.planting.Crop)), int(day-s.today), ""
		if in > 0 && open {
			// No hour of today will do, but one of the coming days has some: the
			// treatment is tried on that day.
			checks, why = p.putOff(checks)
		}
		tr := garden.Treatment{Bed: p.bed.ID, Material: id, Start: start, End: start, Below: true}
		dry := make([]float64, aheadDays)
		for i := range dry {
			dry[i] = p.expectedRain(s, day+garden.Day(i))
		}
		b.Candidates = append(b.Candidates, plan.Candidate{
			Kind: plan.Treat, Name: m.Name, Material: id,
			Effects: remedy.Deposit(m, tr, dry, aheadDays, true, g.Site.Sprayer),
			Minutes: o.mix.Minutes + minutesToMix.V + sprayMinutes(o.mix),
			Cost:    o.mix.Amount / 1000 * o.price,
			InDays:  in, NotNow: why,
			SetUp: minutesToMix.V, Litres: o.mix.Litres, Amount: o.mix.Amount, Repeats: p.repeats(m, g, s),
			Checks: checks,
		})
	}
}

// putOff makes what only the hours of the coming day forbid a caution, and says
// in one sentence which rules these are.
func (p *plot) putOff(checks []plan.Check) ([]plan.Check, string) {
	hourly := map[string]bool{"hours": true, "heat": true, "cold": true, "drying": true, "wet-leaf": true, "wind": true, "bees": true, "worker": true}
	var why []string
	for i, c := range checks {
		if hourly[c.Rule] && c.Outcome == remedy.Refused {
			checks[i].Outcome = remedy.Caution
			if c.Rule != "hours" {
				why = append(why, c.Reason)
			}
		}
	}
	if len(why) == 0 {
		why = append(why, say("no-hour"))
	}
	return checks, strings.Join(why, " ")
}

// repeats tells whether the material has the mode of action of the last treatment
// in the same air: in the same tunnel, or anywhere outdoors.
func (p *plot) repeats(m *remedy.Material, g *garden.Garden, s *sky) bool {
	if m.FRAC == "NC" || m.FRAC == "none" || strings.HasPrefix(m.FRAC, "M") {
		return false // multi-site and unspecific materials may be repeated
	}
	for i := len(g.Treatments) - 1; i >= 0; i-- {
		t := g.Treatments[i]
		if t.Bed != p.bed.ID && (p.bed.Shelter == garden.Tunnel || shelterOf(g, t.Bed) == garden.Tunnel) {
			continue
		}
		last, ok := remedy.Get(t.Material)
		return ok && last.FRAC == m.FRAC && garden.DayOf(t.Start.In(s.loc)) >= p.start
	}
	return false
}

func shelterOf(g *garden.Garden, id garden.BedID) garden.Shelter {
	for _, b := range g.Beds {
		if b.ID == id {
			return b.Shelter
		}
	}
	return ""
}

// pickToday tells whether the bed is being picked and was not picked yesterday.
func (p *plot) pickToday(g *garden.Garden, s *sky) bool {
	first, last := p.picking(s.today)
	if p.crop.Currency == host.Looks || s.today < first || s.today > last {
		return false
	}
	for i := len(g.Harvests) - 1; i >= 0; i-- {
		if h := g.Harvests[i]; h.Bed == p.bed.ID {
			return garden.DayOf(h.Time.In(s.loc)) < s.today-1
		}
	}
	return true
}

// sprayMinutes is the time of spraying where the output was not measured.
func sprayMinutes(m remedy.Mix) float64 {
	if m.Minutes > 0 {
		return 0
	}
	return m.Litres / usualOutput.V
}

// expectedRain is the median rain of a day ahead that reaches the leaves, mm.
func (p *plot) expectedRain(s *sky, d garden.Day) float64 {
	if p.bed.Shelter == garden.Tunnel {
		return 0
	}
	x := make([]float64, len(p.air.ahead))
	w := make([]float64, len(p.air.ahead))
	for k, a := range p.air.ahead {
		x[k], w[k] = s.rainOf(a, d, 1)[0], 1
	}
	return belief.BandOf(x, w).Mid
}

// harvestKnown tells whether the days to harvest have been read off the label.
func harvestKnown(labels []garden.Label, id garden.MaterialID, crop garden.CropID) bool {
	for _, l := range labels {
		if l.Material == id && (l.Crop == "" || l.Crop == crop) && l.HarvestDays != nil {
			return true
		}
	}
	return false
}

// planChecks hands the rules' verdicts to the plan. A test leaf that has not been
// tried yet is something to do first, like a label value to enter.
func planChecks(in []remedy.Check, known bool) []plan.Check {
	out := make([]plan.Check, len(in))
	for i, c := range in {
		out[i] = plan.Check(c)
		switch {
		case c.Rule == "test-leaf" && c.Outcome == remedy.Refused:
			out[i].Outcome = remedy.Ask
		case c.Rule == "days-to-harvest" && c.Outcome == remedy.Ask && known:
			// The label is in: the bed may be picked from a day that is told.
			out[i].Outcome = remedy.Caution
		}
	}
	return out
}
