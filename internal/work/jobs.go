package work

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"oidium/belief"
	"oidium/cite"
	"oidium/garden"
	"oidium/plan"
	"oidium/remedy"
)

// jobs turns the decision on a plot into its report and into jobs.
func (p *plot) jobs(b *BedReport, c *chosen, s *sky, g *garden.Garden, r *Round) []Job {
	d := &c.decision
	words := d.Words(moneyOf(g.Site))
	b.Verdict, b.Reason = string(d.Verdict), words.Reason
	if d.Waiting != nil {
		w := band(*d.Waiting)
		b.Waiting = &w
	}
	b.PickFrom = pickFrom(c, s.loc, s.asOf)
	for i := 1; i <= shownDays; i++ {
		day := s.today + garden.Day(i)
		f := b.Alone[i-1]
		if c.best != nil {
			f.Band = c.best.cloud.band(day, severity)
		}
		b.Planned = append(b.Planned, f)
	}
	for _, x := range d.Ranked {
		b.Tried = append(b.Tried, tried(x))
	}
	job := Job{
		Bed: p.bed.ID, BedName: nameOf(p.bed), Title: words.Headline, Minutes: math.Ceil(d.Best.Minutes),
		Reason: words.Reason, Sure: words.Sure, Flip: words.Flip, Net: mean(d.Best.Net),
		Source: "mcgrath-1996", Grade: cite.Calc,
	}
	var out []Job
	switch d.Verdict {
	case plan.DoTreat:
		job.Kind = "treat"
		p.treat(&job, c, d.Best.Material, s)
	case plan.DoRemove:
		job.Kind, job.Leaves, job.Which = "remove", d.Best.Leaves, "old leaves first, the most covered of them"
		job.Source = sourceOf(d.Best.Checks, "burkness-1998")
		job.Until = (s.today + 2).String()
		job.Cautions = c.budget.Cautions
	case plan.DoLook, plan.CannotTell:
		job.Kind, job.Leaves, job.Which = "look", d.Look.Leaves, fmt.Sprintf("%d old leaves on each of %d plants, both faces", d.Look.PerPlant, d.Look.Plants)
		job.Until = (s.today + 1).String()
	default:
		job.Kind = "wait"
		if d.Verdict == plan.DoNothing {
			job.Title = "leave it alone and look again"
		}
		job.Until = d.NextLook.String()
		job.Minutes = 0
	}
	if d.Due != nil && d.Verdict != plan.DoLook && d.Verdict != plan.CannotTell && d.Verdict != plan.PastRescue && d.Verdict != plan.SeasonOver {
		// Whatever is decided, the bed wants a look; a bed that would be left alone
		// has that as its answer.
		out = append(out, Job{
			Bed: p.bed.ID, BedName: nameOf(p.bed), Kind: "look", Title: words.Due, Minutes: math.Ceil(d.Due.Minutes),
			Leaves: d.Due.Leaves, Which: fmt.Sprintf("%d old leaves on each of %d plants, both faces", d.Due.PerPlant, d.Due.Plants),
			Reason: words.DueWhy, Source: "mcgrath-1996", Grade: cite.A, Sure: "what is found decides",
			Until: s.today.String(),
		})
		if job.Kind == "wait" {
			b.Verdict, b.Reason = "look", words.DueWhy
			job.Until = ""
		}
	}
	if job.Kind != "wait" || job.Until != "" {
		out = append(out, job)
	}
	if m := d.Missing; m != nil {
		out = append(out, p.enter(m, words.Missing, s))
	}
	for _, n := range words.Notes {
		r.Warnings = append(r.Warnings, garden.Warning{Code: "plan-note", Bed: p.bed.ID, Text: n})
	}
	return out
}

// enter is the job of typing in what stands in the way of a better choice.
func (p *plot) enter(m *plan.Scored, why string, s *sky) Job {
	j := Job{
		Bed: p.bed.ID, BedName: nameOf(p.bed), Kind: "enter", Minutes: 3, Material: string(m.Material), Name: m.Name,
		Title: "Before " + m.Name + " can be used", Reason: why, Sure: "what is not known is not guessed",
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
	j.Which = strings.Join(asks, " ")
	return j
}

// treat fills in mix, windows and cautions of a treatment.
func (p *plot) treat(j *Job, c *chosen, id garden.MaterialID, s *sky) {
	o := c.offers[id]
	j.Material, j.Name = string(id), o.material.Name
	j.Mix = mixOf(o.mix)
	j.Cautions = slices.Clone(o.mix.Cautions)
	for _, k := range o.checks {
		if k.Outcome == remedy.Caution && !slices.Contains(j.Cautions, k.Reason) {
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
	t := Tried{Name: x.Name, Kind: string(x.Kind), Net: mean(x.Net), Minutes: math.Ceil(x.Minutes), Cost: round3(x.Cost)}
	if x.InDays > 0 {
		t.Name += fmt.Sprintf(", %d days later", x.InDays)
	}
	if t.Name == "" {
		t.Name = map[plan.Kind]string{plan.Nothing: "leave it alone", plan.Look: fmt.Sprintf("look at %d leaves first", x.Leaves)}[x.Kind]
	}
	for _, k := range x.Checks {
		switch k.Outcome {
		case remedy.OK:
			t.Checked = append(t.Checked, k.Rule+": "+k.Reason)
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

// schedule puts the jobs in one order and cuts them at today's minutes and
// hands: what must be entered first, then looks from the cleanest bed to the
// worst, then work by what it is worth for a minute.
func (r *Round) schedule(jobs []Job, site garden.Site, today garden.Day) {
	minutes, hands := site.Minutes, float64(site.Hands)
	if minutes <= 0 {
		minutes = usualMinutes.V
	}
	if hands <= 0 {
		hands = usualHands.V
	}
	r.Budget = minutes * hands
	covered := make(map[garden.BedID]float64, len(r.Beds))
	order := make(map[garden.BedID]int, len(r.Beds))
	for _, b := range r.Beds {
		covered[b.Bed], order[b.Bed] = b.Covered.Mid, b.Order
	}
	rank := map[string]int{"enter": 0, "look": 1, "remove": 2, "treat": 2, "wait": 3}
	slices.SortStableFunc(jobs, func(a, b Job) int {
		if c := cmp.Compare(rank[a.Kind], rank[b.Kind]); c != 0 {
			return c
		}
		if a.Kind == "look" {
			return cmp.Or(cmp.Compare(covered[a.Bed], covered[b.Bed]), cmp.Compare(order[a.Bed], order[b.Bed]))
		}
		return cmp.Or(cmp.Compare(worth(b), worth(a)), cmp.Compare(order[a.Bed], order[b.Bed]))
	})
	steps := make(map[garden.BedID]int)
	for _, j := range jobs {
		switch {
		case j.Kind == "wait" || j.Until > today.String() && j.Kind != "look" && j.Kind != "remove" && j.Kind != "treat":
			r.Later = append(r.Later, j)
		case steps[j.Bed] >= 3 || r.Minutes+j.Minutes > r.Budget:
			r.Later = append(r.Later, j)
		default:
			steps[j.Bed]++
			r.Minutes += j.Minutes
			r.Jobs = append(r.Jobs, j)
		}
	}
	r.Headline = headline(r, today)
}

func worth(j Job) float64 { return j.Net.Mid / math.Max(1, j.Minutes) }

// headline is the morning in one sentence.
func headline(r *Round, today garden.Day) string {
	if len(r.Beds) == 0 {
		return "No bed has been entered yet. Enter a site, a bed and a planting, and the next round has an answer."
	}
	if len(r.Jobs) == 0 {
		next := ""
		for _, j := range r.Later {
			if j.Until > today.String() && (next == "" || j.Until < next) {
				next = j.Until
			}
		}
		if next == "" {
			return "Nothing today."
		}
		d, err := garden.ParseDay(next)
		if err != nil {
			return "Nothing today."
		}
		return fmt.Sprintf("Nothing today; look again on %s, %s.", d.Weekday(), d)
	}
	first := r.Jobs[0]
	if len(r.Jobs) == 1 {
		return fmt.Sprintf("One job: %s: %s", first.BedName, first.Title)
	}
	return fmt.Sprintf("%d jobs; first %s: %s", len(r.Jobs), first.BedName, first.Title)
}
