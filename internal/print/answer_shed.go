package print

import (
	"io"
	"regexp"
	"strings"

	"oidium/cite"
	"oidium/internal/work"
)

// Rules writes every rule that was looked at, with all that are met when met is
// set. Errors are those of w.
func Rules(w io.Writer, r *work.Rules, met bool) error {
	a, err := newAnswer(w, r.About)
	if err != nil {
		return err
	}
	a.head(a.say("rules.title", "material", clean(r.Name)))
	a.verdict(r.Verdict, r.Reason)
	a.recipient(r.Recipient)
	a.checks(r.Checks, met)
	if !met {
		n := 0
		for _, c := range r.Checks {
			if c.Outcome == "ok" {
				n++
			}
		}
		a.blank()
		a.para("  ", a.say("rules.more", "n", n))
	}
	return a.foot(r.Grounds)
}

// Materials writes the table of materials. Errors are those of w.
func Materials(w io.Writer, r *work.Materials) error {
	a, err := newAnswer(w, r.About)
	if err != nil {
		return err
	}
	a.head(a.say("materials.title"))
	a.recipient(r.Recipient)
	if len(r.Materials) == 1 {
		a.material(r.Materials[0])
	} else {
		a.blank()
		a.line(pad(a.say("materials.id"), 15) + pad(a.say("materials.name"), 30) + pad(a.say("materials.protects"), 10) + pad(a.say("materials.cures"), 10) + a.say("materials.may"))
		for _, m := range r.Materials {
			may := a.word("handed", m.HandedOut.Outcome)
			if m.Verdict != "" {
				may = a.word("allowed", m.Verdict)
			}
			a.line(pad(m.Material, 14) + " " + pad(clean(m.Name), 29) + " " + pad(a.prior(m.Protects), 9) + " " + pad(a.prior(m.Cures), 9) + " " + cut(may, 15))
		}
		a.blank()
		a.para("", a.say("materials.note"))
	}
	if len(r.Washings) > 0 {
		a.part(a.say("materials.rain", "mm", short(r.RainMM), "rate", short(r.RainRate)))
		for _, x := range r.Washings {
			a.para("  - ", a.say("materials.wash", "what", a.prose(x.What), "lost", a.share(x.Lost), "origin", a.origin(x.Source, x.Grade)))
		}
		a.para("  ", a.say("materials.wash-note"))
	}
	return a.foot(r.Grounds)
}

// prior is a share with its spread from trial to trial.
func (a *answer) prior(p work.Prior) string {
	return fixed(100*p.Mean, 0) + " ±" + fixed(100*p.SD, 0)
}

func (a *answer) material(m work.MaterialRow) {
	a.blank()
	a.para("", clean(m.Name)+" ["+a.origin(m.Source, m.Grade)+"]")
	a.fact(a.say("fact.frac"), clean(m.FRAC))
	a.fact(a.say("fact.protects"), a.prior(m.Protects)+nb+"%")
	a.fact(a.say("fact.cures"), a.prior(m.Cures)+nb+"%")
	if m.RateUnit != "" {
		rate := short(m.RateLow)
		if m.RateHigh > m.RateLow {
			rate += a.say("answer.to") + short(m.RateHigh)
		}
		a.fact(a.say("fact.rate"), rate+nb+m.RateUnit)
	} else {
		a.fact(a.say("fact.rate"), a.say("answer.label-only"))
	}
	a.fact(a.say("fact.half-life"), short(m.HalfLife)+nb+a.say("days"))
	a.fact(a.say("fact.rain"), a.prose(m.RainWords))
	a.fact(a.say("fact.temperature"), short(m.TMin)+a.say("answer.to")+short(m.TMax)+nb+"°C")
	a.fact(a.say("fact.interval"), short(m.Interval)+nb+a.say("days"))
	a.fact(a.say("fact.season"), clean(m.MaxSeason))
	a.fact(a.say("fact.handed"), a.prose(m.HandedOut.Reason))
	if m.Verdict != "" {
		a.fact(a.say("fact.here"), a.say("answer.verdict", "verdict", a.word("allowed", m.Verdict), "reason", a.prose(m.FirstReason)))
	}
	a.texts("  - ", m.Cautions)
}

// Mixed writes how much to make up. Errors are those of w.
func Mixed(w io.Writer, r *work.Mixed) error {
	a, err := newAnswer(w, r.About)
	if err != nil {
		return err
	}
	a.head(a.say("mixed.title", "material", clean(r.Name)))
	a.verdict(r.Verdict, r.Reason)
	a.recipient(r.Recipient)
	if r.Closed {
		a.blank()
		a.para("", a.say("mixed.closed"))
		a.checks(r.Blocks, false)
		return a.foot(r.Grounds)
	}
	if len(r.Blocks) > 0 {
		a.para("", a.say("mixed.not-yet"))
	}
	a.blank()
	switch {
	case r.Amount > 0 && r.Litres > 0:
		a.para("  ", a.say("mix", "litres", short3(r.Litres), "amount", short3(r.Amount), "unit", r.Unit, "material", clean(r.Name), "rate", short(r.Rate), "unit", r.Unit))
	case r.Amount > 0:
		a.para("  ", a.say("mixed.dust", "amount", short3(r.Amount), "unit", r.Unit))
	case r.Litres > 0:
		a.para("  ", a.say("mixed.water", "litres", short3(r.Litres)))
	}
	a.fact(a.say("fact.basis"), a.prose(r.Basis))
	if r.Rate > 0 {
		o := cite.Grade("")
		if r.Assumed {
			o = cite.C
		}
		a.fact(a.say("fact.rate"), strings.TrimSpace(short(r.Rate)+nb+r.RateUnit+" "+a.assumedMark(o)))
	}
	if r.Ceiling > 0 {
		a.fact(a.say("fact.ceiling"), short(r.Ceiling)+nb+"L")
	}
	a.fact(a.say("fact.yours"), strings.Join(r.Yours, ", "))
	a.fact(a.say("fact.spoons"), a.prose(r.Spoons))
	for _, e := range r.Extras {
		if e.ML > 0 {
			a.fact(a.say("fact.extra"), short(e.ML)+nb+"mL "+clean(e.Name))
		} else {
			a.fact(a.say("fact.extra"), a.say("mixed.extra-label", "name", clean(e.Name)))
		}
	}
	if len(r.Loads) > 1 {
		for i, l := range r.Loads {
			a.fact(a.say("fact.load", "n", i+1), a.say("mixed.load", "litres", short3(l.Litres), "amount", short3(l.Amount), "unit", r.Unit))
		}
	}
	if r.Minutes > 0 {
		a.fact(a.say("fact.spraying"), a.minutes(r.Minutes))
	}
	if len(r.Steps) > 0 {
		a.part(a.say("mixed.steps"))
		for i, s := range r.Steps {
			a.para(" "+pad(a.say("number", "n", i+1), 4), a.prose(s))
		}
	}
	if len(r.Lasts) > 0 {
		a.part(a.say("mixed.lasts"))
		row := func(c ...string) {
			a.line("  " + pad(c[0], 10) + pad(c[1], 18) + pad(c[2], 18) + c[3])
		}
		row(a.say("col.days"), a.say("col.upper"), a.say("col.lower"), a.say("col.new-leaf"))
		for _, l := range r.Lasts {
			row(fixed(float64(l.Days), 0), fixed(100*l.Upper, 0)+" %", fixed(100*l.Lower, 0)+" %", fixed(100*l.New, 0)+" %")
		}
		a.para("  ", a.say("mixed.lasts-note"))
	}
	a.checks(r.Blocks, false)
	return a.foot(r.Grounds)
}

func (a *answer) assumedMark(g cite.Grade) string {
	if g == "" {
		return ""
	}
	return "[" + a.grade(g) + "]"
}

// Hours writes the coming hours for a treatment. Errors are those of w.
func Hours(w io.Writer, r *work.Hours) error {
	a, err := newAnswer(w, r.About)
	if err != nil {
		return err
	}
	a.head(a.say("hours.title", "material", clean(r.Name)))
	a.verdict(r.Verdict, r.Reason)
	a.recipient(r.Recipient)
	if r.Open == 0 {
		a.para("", a.say("hours.none"))
	} else {
		a.para("", a.say("hours.sum", "hours", short(r.Open)))
		a.blank()
	}
	for _, s := range r.Spans {
		if !s.Open {
			continue
		}
		var mind []string
		for _, c := range s.Why {
			mind = append(mind, a.prose(c.Reason))
		}
		switch s.Enter {
		case "":
		case notKnown:
			mind = append(mind, a.say("hours.enter-unknown"))
		default:
			mind = append(mind, a.say("hours.enter", "when", a.moment(s.Enter)))
		}
		switch s.Pick {
		case "":
		case notKnown:
			mind = append(mind, a.say("hours.pick-unknown"))
		default:
			mind = append(mind, a.say("hours.pick", "when", a.moment(s.Pick)))
		}
		a.para("  "+pad(a.window(work.Window{From: s.From, To: s.To}, a.Date), 29)+" ", strings.Join(mind, " "))
	}
	a.why(r)
	a.checks(r.Blocks, false)
	return a.foot(r.Grounds)
}

// notKnown stands in place of an instant where a label value was not entered.
const notKnown = "unknown"

// figures are what tells two hours apart that are closed for the same reason.
var figures = regexp.MustCompile(`[0-9.,]+`)

// why writes what closes the other hours, each reason once with its hours, with
// the figures of the first of them.
func (a *answer) why(r *work.Hours) {
	type reason struct {
		text  string
		spans []work.Window
	}
	var keys []string
	all := make(map[string]*reason)
	for _, s := range r.Spans {
		if s.Open {
			continue
		}
		for _, c := range s.Why {
			key := figures.ReplaceAllString(c.Reason, "")
			x := all[key]
			if x == nil {
				x = &reason{text: c.Reason}
				all[key], keys = x, append(keys, key)
			}
			if n := len(x.spans); n > 0 && x.spans[n-1].To == s.From {
				x.spans[n-1].To = s.To
				continue
			}
			x.spans = append(x.spans, work.Window{From: s.From, To: s.To})
		}
	}
	if len(keys) == 0 {
		return
	}
	a.part(a.say("hours.why"))
	for _, key := range keys {
		var when []string
		for _, w := range all[key].spans {
			when = append(when, a.window(w, a.Date))
		}
		a.para("  - ", a.say("hours.because", "reason", strings.TrimSuffix(a.prose(all[key].text), "."), "hours", strings.Join(when, "; ")))
	}
}

// Measured writes something worked out for the shed. Errors are those of w.
func Measured(w io.Writer, r *work.Measured) error {
	a, err := newAnswer(w, work.About{})
	if err != nil {
		return err
	}
	var given []string
	for _, g := range r.Given {
		if g != "" {
			given = append(given, clean(g))
		}
	}
	a.para("", a.say("measured.head", "what", capital(r.What), "given", strings.Join(given, ", ")))
	for _, f := range r.Figures {
		value := short4(f.Value)
		if f.Unit != "1" {
			value += nb + clean(f.Unit)
		}
		if f.Note != "" {
			value += " (" + clean(f.Note) + ")"
		}
		a.fact(clean(f.Name), value)
	}
	for _, w := range r.Words {
		text := a.prose(w)
		if r.Source != "" {
			text += " [" + clean(r.Source) + "]"
		}
		a.para("  ", text)
	}
	if r.Asks != "" {
		a.para("  ", a.prose(r.Asks))
	}
	return a.foot(r.Grounds)
}
