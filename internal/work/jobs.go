package work

import (
	"math"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"oidium/belief"
	"oidium/cite"
	"oidium/garden"
	"oidium/plan"
	"oidium/remedy"
)

// decided is a plot with what the plan says of it, before the garden is looked at
// as a whole.
type decided struct {
	p     *plot
	c     *chosen
	words plan.Words
}

// conclude puts what was decided on a plot into its report.
func (p *plot) conclude(b *BedReport, c *chosen, s *sky, g *garden.Garden, r *Round) plan.Words {
	d := &c.decision
	w := d.Words(moneyOf(g.Site))
	b.Verdict, b.Reason = string(d.Verdict), w.Reason
	if (d.Verdict == plan.DoNothing || d.Verdict == plan.DoWait) && d.Due != nil {
		b.Verdict, b.Reason = string(plan.DoLook), w.DueWhy
	}
	if d.Waiting != nil {
		x := band(*d.Waiting)
		b.Waiting = &x
	}
	b.PickFrom = pickFrom(c, s.loc, s.asOf)
	switch {
	case !c.clock.EnterKnown:
		b.EnterFrom = "unknown"
	case c.clock.Enter.After(s.asOf):
		b.EnterFrom = c.clock.Enter.In(s.loc).Format(time.RFC3339)
	}
	for i := 1; i <= shownDays; i++ {
		f := b.Alone[i-1]
		if c.best != nil {
			f.Band = c.best.cloud.band(s.today+garden.Day(i), severity)
		}
		b.Planned = append(b.Planned, f)
	}
	for _, x := range d.Ranked {
		b.Tried = append(b.Tried, tried(x))
	}
	for _, n := range w.Notes {
		r.Warnings = append(r.Warnings, garden.Warning{Code: "plan-note", Bed: p.bed.ID, Text: n})
	}
	return w
}

// jobOf turns a step of the day's pass into a job.
func (x *decided) jobOf(st plan.Step, s *sky, money string) Job {
	d := &x.c.decision
	title, notes := st.Words(money)
	j := Job{
		Bed: x.p.bed.ID, BedName: nameOf(x.p.bed), Title: sentence(title), Minutes: math.Ceil(st.Minutes),
		Until: st.Until.String(), Reason: x.words.Reason, Sure: x.words.Sure, Flip: x.words.Flip, Notes: notes,
		Source: "mcgrath-1996", Grade: cite.Calc,
	}
	if st.Switched == nil {
		j.Net = mean(d.Best.Net)
	} else {
		j.Net = Band{Low: round3(st.Worth), Mid: round3(st.Worth), High: round3(st.Worth)}
	}
	switch st.Kind {
	case plan.Treat:
		j.Kind = "treat"
		x.p.treat(&j, x.c, st.Candidate.Material, s)
	case plan.Remove:
		j.Kind, j.Leaves, j.Which = "remove", st.Candidate.Leaves, say("job.oldest")
		j.Source = sourceOf(st.Candidate.Checks, "burkness-1998")
		j.Cautions = x.c.budget.Cautions
	case plan.Look:
		j.Kind = "look"
		plants, per := d.Look.Plants, d.Look.PerPlant
		if st.Due {
			plants, per = d.Due.Plants, d.Due.PerPlant
			j.Reason, j.Sure, j.Net, j.Grade = x.words.DueWhy, "", Band{}, cite.A
		}
		j.Leaves = st.Candidate.Leaves
		if j.Leaves == 0 { // the next look of a bed that is left alone
			j.Kind, j.Minutes, j.Title, j.Net = "wait", 0, x.words.Headline, Band{}
			switch d.Verdict {
			case plan.DoNothing:
				j.Title = say("job.alone")
			case plan.PastRescue, plan.SeasonOver:
				j.Until = ""
			case plan.DoTreat, plan.DoRemove, plan.DoClimate:
				j.Title, j.Reason, j.Sure, j.Flip = say("job.again"), say("job.again.why"), say("job.find"), ""
			}
			break
		}
		j.Which = say("job.which", "n", per, "plants", plants)
		if !st.Due {
			// A look is worth the better choice after it, not the choice itself.
			net := round3(d.Look.Gain - d.Look.Cost)
			j.Net = Band{Low: net, Mid: net, High: net}
		}
		if x.p.crop.Family != "cucurbit" {
			j.Source, j.Grade = "assumption", cite.C // the threshold was found on cucurbits
		}
	default:
		j.Kind, j.Title = "wait", x.words.Headline
	}
	return j
}

// sentence begins with a capital.
func sentence(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// testing tells whether a test leaf of the material hangs in the bed: treated
// within the last days and not yet to be judged.
func (x *decided) testing(id garden.MaterialID, s *sky) bool {
	for _, t := range x.c.kase.Treatments {
		if t.Test && t.Bed == x.p.bed.ID && t.Material == id && s.asOf.Sub(t.Start) < 72*time.Hour {
			return true
		}
	}
	return false
}

// question is what should be entered or tried first so that something better can
// be done: what stands in the way of the best choice, or, where mildew has been
// found, a test leaf that costs little and takes two days.
func (x *decided) question(s *sky) (Job, bool) {
	if m := x.c.decision.Missing; m != nil && !x.testing(m.Material, s) {
		return x.p.enter(m, x.words.Missing, s), true
	}
	if !x.p.found() || x.c.decision.Verdict == plan.PastRescue || x.c.decision.Verdict == plan.SeasonOver {
		return Job{}, false
	}
	for i := range x.c.decision.Ranked {
		r := &x.c.decision.Ranked[i]
		if x.testing(r.Material, s) {
			continue
		}
		if o, ok := x.c.offers[r.Material]; ok && o.stocked && remedy.TestLeafFirst(o.checks) {
			j := x.p.enter(r, say("job.test-leaf.why"), s)
			j.Net = Band{}
			return j, true
		}
	}
	return Job{}, false
}

// enter is the job of typing in what stands in the way of a better choice.
func (p *plot) enter(m *plan.Scored, why string, s *sky) Job {
	j := Job{
		Bed: p.bed.ID, BedName: nameOf(p.bed), Kind: "enter", Minutes: enterMinutes.V, Material: string(m.Material), Name: m.Name,
		Title: say("job.answer", "material", m.Name), Reason: why, Sure: say("job.unknown"),
		Net: mean(m.Net), Until: s.today.String(), Grade: cite.C, Source: "assumption",
	}
	var asks []string
	for _, k := range m.Checks {
		if k.Outcome != remedy.Ask {
			continue
		}
		if len(asks) == 0 {
			j.Source, j.Grade = k.Source, k.Grade
		}
		asks = append(asks, k.Reason)
	}
	j.Which, j.Sure = strings.Join(asks, " "), ""
	label := map[string]bool{"label-crop": true, "days-to-harvest": true, "re-entry": true, "dose": true, "interval": true, "season-count": true}
	var fromLabel, leaf bool
	for _, k := range m.Checks {
		if k.Outcome == remedy.Ask {
			fromLabel = fromLabel || label[k.Rule]
			leaf = leaf || k.Rule == "test-leaf"
		}
	}
	switch {
	case fromLabel:
		j.Title = say("job.label", "material", m.Name)
	case leaf && len(asks) == 1:
		j.Title, j.Which, j.Minutes = say("job.test-leaf", "material", m.Name), say("job.test-leaf.which"), 5
	}
	return j
}

// treat fills in mix, windows and cautions of a treatment.
func (p *plot) treat(j *Job, c *chosen, id garden.MaterialID, s *sky) {
	o := c.offers[id]
	j.Material, j.Name = string(id), o.material.Name
	j.Mix = mixOf(o.mix)
	j.Cautions = slices.Clone(o.mix.Cautions)
	for _, k := range o.checks {
		if k.Outcome == remedy.Caution && k.Rule != "bloom" && !slices.Contains(j.Cautions, k.Reason) { // bloom stands with the mix
			j.Cautions = append(j.Cautions, k.Reason)
		}
	}
	j.Source, j.Grade = firstOf(o.material.Sources, "assumption"), o.material.Grade
	for _, w := range o.windows {
		if w.Open && len(j.Windows) < 3 {
			j.Windows = append(j.Windows, Window{From: w.From.In(s.loc).Format(time.RFC3339), To: w.To.In(s.loc).Format(time.RFC3339)})
			j.Until = garden.DayOf(w.To.In(s.loc)).String()
		}
	}
}

func firstOf(x []string, or string) string {
	if len(x) > 0 {
		return x[0]
	}
	return or
}

func mixOf(m remedy.Mix) *Mix {
	out := &Mix{
		Litres: round3(m.Litres), Grams: round3(m.Amount), Unit: m.Unit, RateGL: round3(m.Rate.V),
		Tanks: float64(len(m.Loads)), Source: m.Rate.Source, Grade: m.Rate.Grade, Comment: m.Basis,
	}
	if out.Unit != "mL" {
		out.Unit = "g"
	}
	if out.Source == "" {
		out.Source, out.Grade = "assumption", cite.C
	}
	return out
}

// pickFrom says from when the bed may be picked after its treatments.
func pickFrom(c *chosen, loc *time.Location, asOf time.Time) string {
	switch {
	case !c.clock.PickKnown:
		return "unknown"
	case c.clock.Pick.After(asOf):
		return c.clock.Pick.In(loc).Format(time.RFC3339)
	}
	return ""
}

func tried(x plan.Scored) Tried {
	t := Tried{Name: x.Name, Kind: string(x.Kind), Run: x.Tried, Net: mean(x.Net), Minutes: math.Ceil(x.Minutes), Cost: round3(x.Cost)}
	if x.First != nil {
		t.Name = say("both", "first", x.First.Name, "then", x.Name)
	}
	if x.InDays > 0 {
		t.Name = say("later", "what", t.Name, "n", x.InDays)
	}
	if t.Name == "" {
		t.Name = map[plan.Kind]string{plan.Nothing: say("alone"), plan.Look: say("look-first", "n", x.Leaves)}[x.Kind]
	}
	for _, k := range x.Checks {
		switch k.Outcome {
		case remedy.OK:
			if c := k.Rule + ": " + k.Reason; !slices.Contains(t.Checked, c) {
				t.Checked = append(t.Checked, c)
			}
		default:
			t.Refused = append(t.Refused, Check(k))
		}
	}
	return t
}

// mean is a band around an expected value.
func mean(b belief.Band) Band {
	out := band(b)
	out.Mid = round3(b.Mean)
	return out
}

func sourceOf(checks []plan.Check, or string) string {
	for _, k := range checks {
		if k.Source != "" {
			return k.Source
		}
	}
	return or
}

// schedule fits the decisions together: what must be entered comes first, then
// the day's pass over the garden, cut at the minutes and hands that are left.
func (r *Round) schedule(all []*decided, g *garden.Garden, s *sky) {
	minutes, hands := g.Site.Minutes, g.Site.Hands
	if minutes <= 0 {
		minutes = usualMinutes.V
	}
	if hands <= 0 {
		hands = int(usualHands.V)
	}
	r.Budget = minutes * float64(hands)
	plots := make([]plan.Plot, len(all))
	at := make(map[garden.BedID]*decided, len(all))
	for i, x := range all {
		plots[i] = plan.Plot{Decision: x.c.decision, Order: x.p.bed.Order, PickToday: x.p.pickToday(g, s)}
		at[x.p.bed.ID] = x
	}
	h := plan.Hands{Minutes: minutes, Hands: hands, TankL: g.Site.Sprayer.TankL, Shed: make(map[garden.MaterialID]float64)}
	for _, st := range g.Stock {
		if st.Amount > 0 {
			h.Shed[st.Material] += st.Amount * 1000 // kg or L to g or mL
		}
	}
	pass := plan.WholeGarden(plots, s.today, h)
	money := moneyOf(g.Site)
	for _, st := range pass.Today {
		j := at[st.Bed].jobOf(st, s, money)
		if j.Kind == "wait" {
			r.Later = append(r.Later, j)
			continue
		}
		r.Minutes += j.Minutes
		r.Jobs = append(r.Jobs, j)
	}
	for _, st := range pass.Later {
		if st.Switched != nil && st.Worth <= 0 {
			continue // it paid only together with the mix of another bed today
		}
		r.Later = append(r.Later, at[st.Bed].jobOf(st, s, money))
	}
	// Questions are answered at the shed or the desk; they come last and never
	// push a job out of the day.
	for _, x := range all {
		if j, ok := x.question(s); ok {
			if r.Minutes+j.Minutes <= r.Budget {
				r.Minutes += j.Minutes
				r.Jobs = append(r.Jobs, j)
			} else {
				r.Later = append(r.Later, j)
			}
		}
	}
	r.Headline = headline(r, s.today)
}

// headline is the morning in one sentence.
func headline(r *Round, today garden.Day) string {
	if len(r.Beds) == 0 {
		return say("head.empty")
	}
	if len(r.Jobs) == 0 {
		next := ""
		for _, j := range r.Later {
			if j.Until > today.String() && (next == "" || j.Until < next) {
				next = j.Until
			}
		}
		if next == "" {
			return say("head.nothing")
		}
		d, err := garden.ParseDay(next)
		if err != nil {
			return say("head.nothing")
		}
		return say("head.again", "weekday", d.Weekday(), "day", d)
	}
	// What is done to leaves first, then looks, then what is to be found out.
	var parts []string
	for _, kind := range []string{"treat", "remove", "clear", "look", "enter"} {
		var names []string
		for _, j := range r.Jobs {
			if j.Kind == kind && !slices.Contains(names, j.BedName) {
				names = append(names, j.BedName)
			}
		}
		if len(names) > 0 {
			parts = append(parts, say("head."+kind, "beds", list(names)))
		}
	}
	return sentence(strings.Join(parts, "; ")) + "."
}

// list joins names as a sentence does; more than four are counted.
func list(names []string) string {
	switch n := len(names); {
	case n == 1:
		return names[0]
	case n > 4:
		return say("list.beds", "n", n)
	default:
		return strings.Join(names[:n-1], ", ") + say("list.and") + names[n-1]
	}
}
