package print

import (
	"io"
	"slices"
	"strconv"
	"strings"

	"oidium/internal/work"
)

// Walk writes how to look at the beds. Errors are those of w.
func Walk(w io.Writer, r *work.Walk) error {
	a, err := newAnswer(w, r.About)
	if err != nil {
		return err
	}
	a.head(a.say("walk.title"))
	leaves := 0
	for _, b := range r.Beds {
		leaves += b.Leaves
	}
	a.para("", a.say("walk.sum", "leaves", a.count("leaves", leaves), "beds", a.count("walk.beds", len(r.Beds)), "minutes", a.minutes(r.Minutes)))
	for i, b := range r.Beds {
		a.blank()
		a.ends(pad(a.say("number", "n", i+1), 4), a.say("walk.bed", "bed", clean(b.BedName), "crop", clean(b.Crop), "purpose", a.word("purpose", b.Purpose)), a.minutes(b.Minutes))
		if b.Closed != "" {
			a.para("    ", a.prose(b.Closed))
		}
		a.texts("    ", b.Words)
		a.para("    ", a.say("walk.covered", "covered", a.shares(b.Covered)))
	}
	a.part(a.say("walk.stop"))
	a.texts("  ", r.Stop.Words)
	return a.foot(r.Grounds)
}

// Seen writes what the looks at a bed say.
func Seen(w io.Writer, r *work.Seen) error {
	a, err := newAnswer(w, r.About)
	if err != nil {
		return err
	}
	a.head(a.say("seen.title"))
	a.blank()
	a.texts("  ", r.Words)
	if len(r.Looks) > 1 {
		a.looks(r.Looks)
	}
	if len(r.Readings) > 0 {
		a.part(a.say("seen.readings"))
		for _, x := range r.Readings {
			text := a.say("seen.reading", "day", a.shortDay(x.Date), "age", a.word("age", x.Age), "face", a.word("face", x.Face), "share", a.share(x.Share))
			if x.Scale != "" {
				text += " " + a.say("seen.grade", "grade", short(x.Grade), "scale", clean(x.Scale))
			}
			if x.Corrected != nil {
				text += " " + a.say("seen.corrected", "share", a.shares(*x.Corrected))
			}
			a.para("  - ", text)
		}
	}
	if len(r.Paces) > 0 {
		a.part(a.say("seen.pace"))
		for _, x := range r.Paces {
			a.para("  ", a.say("seen.pace-of", "of", a.word("of", x.Of), "words", a.prose(x.Sentences),
				"rate", short3(x.Rate), "low", short3(x.RateLow), "high", short3(x.RateHigh), "days", x.Days))
		}
	}
	if len(r.Progress) > 0 {
		a.part(a.say("seen.progress"))
		for _, x := range r.Progress {
			text := a.say("seen.area", "of", a.word("of", x.Of), "from", a.shortDay(x.From), "to", a.shortDay(x.To),
				"area", short3(100*x.Area), "rel", a.share(x.RelativeArea), "stairs", short3(100*x.Stairs), "relstairs", a.share(x.RelativeStairs))
			if x.TwoPoint > 0 {
				text += " " + a.say("seen.two-point", "area", short3(100*x.TwoPoint))
			}
			a.para("  ", text)
		}
	}
	if len(r.Curves) > 0 {
		a.part(a.say("seen.curves"))
		a.para("  ", a.say("seen.curves-of", "of", a.word("of", r.CurvesOf)))
		for _, x := range r.Curves {
			a.para("  - ", a.say("seen.curve", "shape", clean(string(x.Shape)), "rate", short3(x.Rate), "se", short3(x.SE),
				"error", a.share(x.Error), "ahead", a.share(x.In7Days), "clamped", a.clamped(x.Clamped)))
		}
	}
	if f := r.Severity; f != nil {
		a.part(a.say("seen.severity"))
		if f.Allowed {
			a.para("  ", a.say("seen.allowed", "incidence", a.share(f.Incidence), "severity", a.shares(*f.Severity), "reason", a.prose(f.Reason)))
		} else {
			a.para("  ", a.say("seen.refused", "reason", a.prose(f.Reason)))
		}
	}
	a.blank()
	a.para("", a.prose(r.NextRound))
	return a.foot(r.Grounds)
}

// clamped says how many looks were moved inside, nothing where none was.
func (a *answer) clamped(n int) string {
	if n == 0 {
		return ""
	}
	return a.count("seen.clamped", n)
}

// looks is a table of the looks, newest first.
func (a *answer) looks(list []work.LookSaid) {
	a.part(a.say("seen.looks"))
	row := func(day, check, upper, lower, old string) {
		a.line("  " + pad(day, 12) + pad(check, 9) + pad(upper, 19) + pad(lower, 19) + cut(old, textWidth-61))
	}
	row(a.say("col.day"), a.say("col.check"), a.say("col.upper"), a.say("col.lower"), a.say("col.old"))
	of := func(c work.CountSaid) string {
		if c.Inspected == 0 {
			return "-"
		}
		return a.say("seen.count", "k", c.Infected, "n", c.Inspected, "share", a.share(c.Share))
	}
	for _, l := range slices.Backward(list) {
		check := a.word("check", l.Check)
		if l.Sure == "cannot tell" {
			check += "?"
		}
		row(a.shortDay(l.Date), check, of(l.Upper), of(l.Lower), of(l.Old))
	}
}

// short3 returns x to about three figures, without zeros at the end.
func short3(x float64) string { return strconv.FormatFloat(x, 'g', 3, 64) }

// short4 returns x to four figures.
func short4(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

// Key writes how far the key has come. Errors are those of w.
func Key(w io.Writer, r *work.Key) error {
	a, err := newAnswer(w, r.About)
	if err != nil {
		return err
	}
	a.head(a.say("key.title"))
	for i, s := range r.Path {
		a.para(pad(a.say("number", "n", i+1), 4), a.say("key.said", "asked", s.Asked, "said", capital(s.Said)))
	}
	a.texts("    ", r.Notes)
	if r.Ask != nil {
		if len(r.Path) > 0 {
			a.blank()
		}
		a.question(r.Ask)
		a.blank()
		a.para("", a.say("key.how", "question", r.Ask.Question, "answer", r.Ask.Answers[0].Answer))
	}
	if r.Outcome != nil {
		a.outcome(r)
	}
	return a.foot(r.Grounds)
}

func (a *answer) question(q *work.KeyAsk) {
	a.para("", q.Text)
	if q.Help != "" {
		a.para("  ", q.Help)
	}
	for _, x := range q.Answers {
		a.para("  "+pad(x.Answer, 10)+" ", x.Text)
	}
}

func (a *answer) outcome(r *work.Key) {
	o := r.Outcome
	a.blank()
	a.para("", a.say("key.outcome", "sure", strings.ToUpper(a.word("sure", o.Sure)), "name", o.Name))
	why := a.prose(o.Reason)
	if g := a.origin(o.Source, o.Grade); g != "" {
		why += " [" + g + "]"
	}
	a.item(a.say("label.why"), why)
	a.item(a.say("label.next"), a.prose(o.Next))
	a.item(a.say("label.photo"), sentence(o.Photo))
	a.item(a.say("label.record"), a.record(r))
	switch {
	case r.Kept != "":
		a.item("", a.say("key.kept", "id", string(r.Kept)))
	case r.Bed != "":
		a.item("", a.say("key.keep"))
	}
}

// record lists the fields of a diagnosis that are settled.
func (a *answer) record(r *work.Key) string {
	d := r.Record
	var out []string
	add := func(name, value string) {
		if value != "" {
			out = append(out, a.say("key.field", "name", name, "value", clean(value)))
		}
	}
	yes := func(v *bool) string {
		switch {
		case v == nil:
			return ""
		case *v:
			return a.say("answer.yes")
		}
		return a.say("answer.no")
	}
	add(a.say("record.organ"), d.Organ)
	add(a.say("record.age"), d.Age)
	add(a.say("record.face"), d.Face)
	add(a.say("record.rubs"), yes(d.RubsOff))
	add(a.say("record.veins"), yes(d.Veins))
	if d.Colony != nil {
		add(a.say("record.colony"), short(*d.Colony)+nb+"mm")
	}
	add(a.say("record.spreads"), yes(d.Spreads))
	add(a.say("record.residue"), yes(d.Residue))
	add(a.say("record.check"), d.Check)
	add(a.say("record.verdict"), d.Verdict)
	add(a.say("record.sure"), d.Sure)
	add(a.say("record.second"), d.Second)
	return strings.Join(out, "; ")
}

// Question writes one question of the key, for a person at a terminal.
func Question(w io.Writer, q *work.KeyAsk) error {
	a, err := newAnswer(w, work.About{})
	if err != nil {
		return err
	}
	a.blank()
	a.question(q)
	return a.paper.err
}

// Practice writes how somebody reads severity. Errors are those of w.
func Practice(w io.Writer, r *work.Practice) error {
	a, err := newAnswer(w, work.About{})
	if err != nil {
		return err
	}
	a.line(a.say("practise.title", "shape", clean(r.Shape), "seed", r.Seed))
	a.line(strings.Repeat("-", textWidth))
	a.texts("", r.Words)
	a.para("", a.say("practise.others", "without", fixed(r.Others.Without, 2), "with", fixed(r.Others.With, 2), "origin", a.origin(r.Others.Source, r.Others.Grade)))
	a.part(a.say("practise.leaves"))
	cell := func(s string) string { return strings.Repeat(" ", max(0, 9-columns(s))) + s }
	a.line("  " + cell(a.say("practise.leaf")) + cell(a.say("practise.truth")) + cell(a.say("practise.read")) + cell(a.say("practise.over")))
	for _, l := range r.Leaves {
		sign := ""
		if l.Read > l.Truth {
			sign = "+"
		}
		a.line("  " + cell(strconv.Itoa(l.Number)) + cell(fixed(100*l.Truth, 1)) + cell(fixed(100*l.Read, 1)) + cell(sign+fixed(100*(l.Read-l.Truth), 1)))
	}
	a.part(a.say("practise.means"))
	for _, m := range r.Means {
		a.para("  ", a.say("practise.mean", "read", a.share(m.Read), "share", a.shares(m.Band)))
	}
	if r.Kept != "" {
		a.para("  ", a.say("practise.kept", "id", string(r.Kept)))
	} else {
		a.para("  ", a.say("practise.keep"))
	}
	return a.foot(r.Grounds)
}

// Drawn writes what was drawn and where it was put. Errors are those of w.
func Drawn(w io.Writer, r *work.Drawn) error {
	a, err := newAnswer(w, work.About{})
	if err != nil {
		return err
	}
	for _, l := range r.Leaves {
		if r.Secret {
			a.para("", a.say("drawn.secret", "n", l.Number, "file", clean(l.File)))
		} else {
			a.para("", a.say("drawn.leaf", "share", strconv.FormatFloat(100*l.Share, 'f', 2, 64)+nb+"%", "file", clean(l.File)))
		}
	}
	return a.foot(r.Grounds)
}
