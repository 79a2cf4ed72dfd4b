package print

import (
	"io"
	"strings"

	"oidium/internal/work"
)

// Clocks writes from when beds may be entered and picked. Errors are those of w.
func Clocks(w io.Writer, r *work.Clocks) error {
	a, err := newAnswer(w, work.About{Date: first(r.AsOf, 10), AsOf: r.AsOf, Garden: r.Garden})
	if err != nil {
		return err
	}
	a.head(a.say("clock.title"))
	a.para("", a.say("clock.asof", "when", a.moment(r.AsOf)))
	for _, b := range r.Beds {
		a.blank()
		name := clean(b.BedName)
		if b.Crop != "" {
			name = a.say("clock.bed", "bed", name, "crop", clean(b.Crop))
		}
		a.para("", name)
		a.texts("  ", b.Words)
		for _, t := range b.Counted {
			text := a.say("clock.counted", "material", clean(t.Name), "end", a.moment(t.End), "days", a.known(t.HarvestDays), "hours", a.known(t.ReentryHours))
			if !t.EndStated {
				text += " " + a.say("clock.unstated")
			}
			a.para("  - ", text)
		}
	}
	return a.foot(r.Grounds)
}

func (a *answer) known(v *float64) string {
	if v == nil {
		return a.say("answer.unknown")
	}
	return short(*v)
}

// Leaves writes how much leaf a bed can spare, and which. Errors are those of w.
func Leaves(w io.Writer, r *work.Leaves) error {
	a, err := newAnswer(w, r.About)
	if err != nil {
		return err
	}
	a.head(a.say("leaves.title"))
	a.verdict(r.Verdict, r.Reason)
	a.para("", a.prose(r.Pays))
	a.blank()
	count := a.say("leaves.count", "n", r.Count)
	if r.PerPlant > 0 {
		count = a.say("leaves.count-plant", "n", r.Count, "plant", short(r.PerPlant))
	}
	a.fact(a.say("fact.left"), a.say("leaves.left", "share", a.share(r.Left), "count", count))
	if r.Once > 0 {
		a.fact(a.say("fact.once"), a.share(r.Once))
	}
	a.fact(a.say("fact.used"), a.share(r.Used))
	a.fact(a.say("fact.practice"), a.share(r.Trade))
	a.fact(a.say("fact.leaf"), a.band(r.LeafArea, "m²"))
	a.fact(a.say("fact.cutting"), a.minutes(r.Minutes))
	a.part(a.say("leaves.order"))
	for i, x := range r.Which {
		a.para(" "+pad(a.say("number", "n", i+1), 4), a.say("leaves.age", "age", a.word("age", x.Age), "leaf", a.share(x.OfLeaf),
			"mildew", a.share(x.OfMildew), "light", a.share(x.OfLight), "covered", a.shares(x.Covered), "take", a.share(x.Take)))
	}
	a.para("  ", a.prose(r.Dispute))
	a.checks(r.Checks, true)
	return a.foot(r.Grounds)
}

// Acts writes what can be done on a bed with water, light, heat, air and hygiene;
// one action in full. Errors are those of w.
func Acts(w io.Writer, r *work.Acts) error {
	a, err := newAnswer(w, r.About)
	if err != nil {
		return err
	}
	a.head(a.say("acts.title"))
	one := len(r.Acts) == 1
	for _, x := range r.Acts {
		a.blank()
		a.ends("", a.say("acts.name", "name", clean(x.Name), "id", clean(x.Action)), a.word("allowed", x.Verdict))
		if x.Verdict != "allowed" {
			a.para("    ", a.prose(x.Reason))
		}
		switch {
		case x.Kills != [2]float64{}:
			a.para("    ", a.say("acts.kills", "upper", a.share(x.Kills[0]), "lower", a.share(x.Kills[1])))
		case x.Stops != [2]float64{}:
			a.para("    ", a.say("acts.stops", "upper", a.share(x.Stops[0]), "lower", a.share(x.Stops[1]), "days", a.count("acts.days", x.Days)))
		}
		if x.Comment != "" {
			a.para("    ", a.prose(x.Comment))
		}
		a.para("    ", a.say("acts.fell", "on", clean(x.On), "fell", a.prior(x.Fell), "origin", a.origin(x.Source, x.Grade)))
		for _, c := range x.Checks {
			if one || c.Outcome != "ok" && c.Reason != x.Reason {
				a.para("    - ", a.say("answer.check", "outcome", a.word("outcome", c.Outcome), "reason", a.prose(c.Reason), "origin", a.origin(c.Source, c.Grade)))
			}
		}
		var mind []string
		for i, c := range x.Cautions {
			if i > 0 || one { // the first holds for all and stands below
				mind = append(mind, sentence(a.prose(c)))
			}
		}
		if len(mind) > 0 {
			a.para("    ", a.say("acts.mind", "cautions", strings.Join(mind, " ")))
		}
	}
	if !one {
		a.blank()
		a.para("", a.say("acts.more"))
	}
	return a.foot(r.Grounds)
}
