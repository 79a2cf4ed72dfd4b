package remedy

import (
	"strconv"
	"time"

	"oidium/cite"
	"oidium/garden"
)

var byLabel = from("label-law", cite.A)

// judgeLabelCrop asks for the label until one that covers the crop was entered.
func judgeLabelCrop(c *look, m *Material) []Check {
	l, found, other := c.label, c.found, c.other
	switch {
	case found && l.Registration == "" && c.Site.Role != garden.Private && !m.HomeMade:
		return one(check(ruleLabelCrop, Caution, "no-number", byLabel))
	case found:
		return one(check(ruleLabelCrop, OK, "entered", byLabel))
	case m.HomeMade:
		return one(check(ruleLabelCrop, OK, "home-made", byLabel))
	case other:
		return one(check(ruleLabelCrop, Ask, "other-crop", byLabel, "crop", string(c.Planting.Crop)))
	}
	return one(check(ruleLabelCrop, Ask, "none", byLabel))
}

// judgeDose looks at the strength of the mix: the label's where it was entered,
// else the strength of the trials, shown as an assumption.
func judgeDose(c *look, m *Material) []Check {
	switch {
	case !c.rateKnown:
		return one(check(ruleDose, Ask, "unknown", byLabel))
	case m.Active == "potassium bicarbonate" && c.rate.V > bicarbonateMost.V:
		return one(check(ruleDose, Caution, "too-strong", bicarbonateMost, "rate", num(c.rate.V, 2), "most", num(bicarbonateMost.V, 0)))
	case c.assumed:
		return one(check(ruleDose, Caution, "trials", c.rate, "rate", num(c.rate.V, 2), "unit", c.rate.Unit))
	}
	return one(check(ruleDose, OK, "label", byLabel, "rate", num(c.rate.V, 2), "unit", c.rate.Unit))
}

// sameActive returns the earlier treatments with the same active ingredient.
func sameActive(ts []garden.Treatment, m *Material) []garden.Treatment {
	var out []garden.Treatment
	for _, t := range ts {
		if x, ok := Get(t.Material); ok && x.Active == m.Active {
			out = append(out, t)
		}
	}
	return out
}

// judgeInterval holds the least time between two uses of an active ingredient.
func judgeInterval(c *look, m *Material) []Check {
	used := sameActive(c.past, m)
	if len(used) == 0 {
		return one(check(ruleInterval, OK, "first", m.MinInterval))
	}
	since := c.daysSince(used[len(used)-1])
	l := c.label
	least, v, what := m.MinInterval.V, m.MinInterval, "assumed"
	outcome := Caution
	if l.IntervalDays != nil {
		least, v, what, outcome = *l.IntervalDays, byLabel, "passed", OK
	}
	if float64(since) < least {
		outcome, what = Refused, "too-soon"
	}
	return one(check(ruleInterval, outcome, what, v, "since", strconv.Itoa(since), "least", num(least, 1)))
}

// judgeCount holds the greatest number of uses on a crop. The first use is
// within any maximum; from the second on an unknown maximum is asked for,
// unless the table has a number, which is shown as an assumption.
func judgeCount(c *look, m *Material) []Check {
	used := len(sameActive(c.onPlanting, m))
	l := c.label
	n := strconv.Itoa(used)
	if l.MaxSeason != nil {
		most := strconv.Itoa(*l.MaxSeason)
		if used >= *l.MaxSeason {
			return one(check(ruleCount, Refused, "full", byLabel, "used", n, "most", most))
		}
		return one(check(ruleCount, OK, "left", byLabel, "used", n, "most", most))
	}
	table, err := strconv.Atoi(m.MaxSeason)
	src := from(m.Sources[0], cite.C)
	switch {
	case err == nil && used >= table:
		return one(check(ruleCount, Refused, "full-assumed", src, "used", n, "most", m.MaxSeason))
	case used == 0:
		return one(check(ruleCount, OK, "first", src))
	case err == nil:
		return one(check(ruleCount, Caution, "left-assumed", src, "used", n, "most", m.MaxSeason))
	case m.MaxSeason == "none":
		return one(check(ruleCount, Caution, "none", src, "used", n))
	}
	return one(check(ruleCount, Ask, "unknown", byLabel, "used", n))
}

// judgeHarvest compares the label's days to harvest with the next picking day,
// for a treatment that ends at the end of today.
func judgeHarvest(c *look, m *Material) []Check {
	if c.Ornamental {
		return one(check(ruleHarvest, OK, "ornamental", byLabel))
	}
	l, found := c.label, c.found
	if l.HarvestDays == nil {
		what := "unknown"
		if m.HomeMade && !found {
			what = "unknown-home-made"
		}
		return one(check(ruleHarvest, Ask, what, byLabel))
	}
	end := c.today().At(24, c.loc()).Add(-time.Minute)
	clear := pickFrom(end, *l.HarvestDays, c.loc())
	if l.ReentryHours != nil {
		if e := enterFrom(end, *l.ReentryHours); e.After(clear) {
			clear = e.In(c.loc())
		}
	}
	// The first day that is clear from its first minute on.
	day := garden.DayOf(clear.Add(24*time.Hour - time.Minute))
	say := func(outcome, what string) []Check {
		return one(check(ruleHarvest, outcome, what, byLabel, "days", num(*l.HarvestDays, 1), "clear", clear.Format(clockLayout), "day", day.String(), "pick", c.PickNext.String()))
	}
	p := c.Planting
	picking := p.FirstPick != 0 && p.FirstPick <= c.today() && (p.LastPick == 0 || c.today() <= p.LastPick)
	switch {
	case c.PickNext != 0 && c.PickNext == c.today() && *l.HarvestDays == 0:
		return say(Caution, "pick-first")
	case c.PickNext != 0 && c.PickNext < day:
		return say(Refused, "too-late")
	case c.PickNext != 0:
		return say(OK, "clear")
	case p.FirstPick >= day && p.FirstPick != 0:
		return say(OK, "before-first")
	case picking && *l.HarvestDays > 0:
		return say(Ask, "which-day")
	}
	return say(Caution, "no-day")
}

// judgeReentry asks for the label's re-entry time and says when it ends.
func judgeReentry(c *look, m *Material) []Check {
	l, found := c.label, c.found
	if l.ReentryHours == nil {
		what := "unknown"
		if m.HomeMade && !found {
			what = "unknown-home-made"
		}
		return one(check(ruleReentry, Ask, what, byLabel))
	}
	return one(check(ruleReentry, OK, "known", byLabel, "hours", num(*l.ReentryHours, 1)))
}
