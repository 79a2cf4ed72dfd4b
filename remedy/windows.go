package remedy

import (
	"slices"
	"strconv"
	"time"

	"oidium/cite"
	"oidium/garden"
	"oidium/sun"
)

// Window is a run of hours with one verdict.
type Window struct {
	From, To time.Time
	Open     bool
	// Checks are the rules that block, each once; of an open window the
	// cautions.
	Checks []Check
	// Enter and Pick say from when the bed may be entered and picked if the
	// treatment ends at To; zero when the label values are unknown.
	Enter, Pick time.Time
}

// Windows returns the coming hours from now on, in order, as runs in which the
// material may and may not be put on, with the reasons. Rules that do not depend
// on the hour are not looked at; see Judge.
func Windows(c *Case, m *Material) []Window {
	var out []Window
	l, _, _ := c.label(m)
	for i, h := range c.Hours {
		if h.Time.Add(time.Hour).Sub(c.Now) <= 0 {
			continue
		}
		var bad, soft []Check
		for _, k := range judgeHour(c, m, i) {
			switch {
			case blocks(k):
				bad = append(bad, k)
			case k.Outcome == Caution:
				soft = append(soft, k)
			}
		}
		open := len(bad) == 0
		show := bad
		if open {
			show = soft
		}
		start, end := h.Time.In(c.loc()), h.Time.Add(time.Hour).In(c.loc())
		if start.Before(c.Now) {
			start = c.Now.In(c.loc())
		}
		if n := len(out); n > 0 && out[n-1].Open == open && out[n-1].To.Equal(start) && sameRules(out[n-1].Checks, show) {
			out[n-1].To = end
			continue
		}
		out = append(out, Window{From: start, To: end, Open: open, Checks: show})
	}
	for i := range out {
		w := &out[i]
		if w.Open && l.ReentryHours != nil {
			w.Enter = enterFrom(w.To, *l.ReentryHours)
		}
		if w.Open && l.HarvestDays != nil && !c.Ornamental {
			w.Pick = pickFrom(w.To, *l.HarvestDays, c.loc())
		}
	}
	return out
}

func sameRules(a, b []Check) bool {
	return slices.EqualFunc(a, b, func(x, y Check) bool { return x.Rule == y.Rule && x.Outcome == y.Outcome })
}

// judgeHour looks at the rules of the hour with index i. Nothing put on through
// the root is touched by the air.
func judgeHour(c *Case, m *Material, i int) []Check {
	if m.Form == "root" {
		return []Check{hourWorker(c, i), hourEntry(c, i)}
	}
	return []Check{
		hourHeat(c, m, i), hourCold(c, m, i), hourRain(c, m, i), hourWet(c, m, i),
		hourWind(c, i), hourBees(c, m, i), hourWorker(c, i), hourEntry(c, i),
	}
}

// hourHeat holds the heat ceiling: of sulfur and oil over the next 24 hours,
// of all else in the hour itself.
func hourHeat(c *Case, m *Material, i int) Check {
	if !m.Sulfur && !m.Oil {
		if t := c.Hours[i].T; t >= m.TMax.V {
			return check(ruleHeat, Refused, "hot", m.TMax, "t", num(t, 1), "limit", num(m.TMax.V, 0))
		}
		return check(ruleHeat, OK, "fine", m.TMax)
	}
	ceiling := heatCeiling
	if c.isBerry() {
		ceiling = heatCeilingBerry
	}
	span := c.ahead(c.Hours[i].Time, airPulse.V)
	top, humid := -100.0, false
	for _, h := range span {
		top = max(top, h.T)
		humid = humid || h.RH > humidHeatRH.V && h.T > humidHeatT.V
	}
	limit := num(ceiling.V, 0)
	switch {
	case top >= ceiling.V:
		return check(ruleHeat, Refused, "ceiling", ceiling, "t", num(top, 1), "limit", limit)
	case humid:
		return check(ruleHeat, Refused, "humid", humidHeatT, "t", num(humidHeatT.V, 0), "rh", num(humidHeatRH.V, 0))
	case len(span) < int(airPulse.V):
		return check(ruleHeat, Ask, "short", ceiling, "hours", strconv.Itoa(len(span)))
	}
	for _, h := range c.ahead(c.Hours[i].Time, heatWarningHours.V) {
		if h.T >= ceiling.V {
			return check(ruleHeat, Caution, "coming", heatWarningHours, "limit", limit)
		}
	}
	return check(ruleHeat, OK, "below", ceiling, "t", num(top, 1), "limit", limit)
}

func hourCold(c *Case, m *Material, i int) Check {
	if t := c.Hours[i].T; t < m.TMin.V {
		return check(ruleCold, Caution, "cold", m.TMin, "t", num(t, 1), "limit", num(m.TMin.V, 0))
	}
	return check(ruleCold, OK, "fine", m.TMin)
}

// hourRain keeps the drying time free of rain.
func hourRain(c *Case, m *Material, i int) Check {
	dry := num(dryingHours.V, 0)
	if c.Bed.Shelter == garden.Tunnel {
		return check(ruleRain, OK, "roof", dryingHours)
	}
	span := c.ahead(c.Hours[i].Time, dryingHours.V)
	for _, h := range span {
		switch {
		case h.Rain >= rainTrace.V:
			return check(ruleRain, Refused, "rain", dryingHours, "hours", dry, "mm", num(h.Rain, 1), "at", h.Time.In(c.loc()).Format("15:04"))
		case h.RainChance >= rainChanceLimit.V:
			return check(ruleRain, Refused, "chance", rainChanceLimit, "hours", dry, "chance", percent(h.RainChance))
		}
	}
	if len(span) < int(dryingHours.V) {
		return check(ruleRain, Ask, "short", dryingHours, "hours", dry)
	}
	if m.Rain == Soluble {
		sum := 0.0
		for _, h := range c.ahead(c.Hours[i].Time, airPulse.V) {
			sum += h.Rain
		}
		if sum >= solubleGone.V {
			return check(ruleRain, Caution, "wash", solubleGone, "mm", num(sum, 1))
		}
	}
	return check(ruleRain, OK, "dry", dryingHours, "hours", dry)
}

func hourWet(c *Case, m *Material, i int) Check {
	src := from("cornell-timing", cite.B)
	switch {
	case c.Hours[i].Wet && m.Oil:
		return check(ruleWet, Refused, "oil", from("uc-ipm-7406", cite.B))
	case c.Hours[i].Wet && m.Form != "dust":
		return check(ruleWet, Refused, "wet", src)
	}
	return check(ruleWet, OK, "dry", src)
}

func hourWind(c *Case, i int) Check {
	if c.Bed.Shelter == garden.Tunnel {
		return check(ruleWind, OK, "roof", windLimit)
	}
	w := c.Hours[i].Wind * windNozzle.V
	switch {
	case w > windLimit.V:
		return check(ruleWind, Refused, "windy", windLimit, "wind", num(w, 1), "ten", num(c.Hours[i].Wind, 1), "limit", num(windLimit.V, 1))
	case w < windCalm.V && c.dark(c.Hours[i].Time):
		return check(ruleWind, Caution, "inversion", windCalm)
	}
	return check(ruleWind, OK, "fine", windLimit, "wind", num(w, 1))
}

// dark tells whether the sun's upper edge is below the horizon.
func (c *Case) dark(t time.Time) bool {
	elevation, _ := sun.Position(t, c.Site.Latitude, c.Site.Longitude)
	return elevation < sunset.V
}

// hourBees opens a flowering bed from sunset to midnight only.
func hourBees(c *Case, m *Material, i int) Check {
	t := c.Hours[i].Time
	src := from("msu-bloom", cite.B)
	if !c.InFlower {
		return check(ruleBees, OK, "no-flower", src)
	}
	if c.dark(t) && t.In(c.loc()).Hour() >= 12 {
		return check(ruleBees, OK, "dusk", src)
	}
	return check(ruleBees, Refused, "flying", src)
}

// hourWorker keeps to hours in which somebody works in a garden; a flowering
// bed is treated up to midnight.
func hourWorker(c *Case, i int) Check {
	h := float64(c.Hours[i].Time.In(c.loc()).Hour())
	if h < workFrom.V || h >= workTo.V && !c.InFlower {
		return check(ruleWorker, Refused, "night", workFrom)
	}
	return check(ruleWorker, OK, "day", workFrom)
}

// hourEntry keeps people out of a bed until the re-entry time of an earlier
// treatment is over.
func hourEntry(c *Case, i int) Check {
	k := ClockOf(c)
	t := c.Hours[i].Time
	if t.Before(k.Enter) {
		return check(ruleReentry, Refused, "closed", byLabel, "until", k.Enter.Format("2006-01-02 15:04"))
	}
	if !k.EnterKnown {
		for _, tr := range c.past() {
			l, _, _ := c.label(&Material{ID: tr.Material})
			if l.ReentryHours == nil && float64(c.daysSince(tr)) < labelConflictDays.V {
				return check(ruleReentry, Ask, "earlier", byLabel, "other", string(tr.Material))
			}
		}
	}
	return check(ruleReentry, OK, "open", byLabel)
}

// weatherChecks sums up the hours of the coming day for Judge: of each rule the
// best that any hour offers, and whether one hour passes all of them.
func weatherChecks(c *Case, m *Material) []Check {
	src := from("cornell-timing", cite.B)
	var best []Check
	open := 0
	first := -1
	for i, h := range c.Hours {
		if h.Time.Before(c.Now) || h.Time.Sub(c.Now) >= 24*time.Hour {
			continue
		}
		if first < 0 {
			first = i
		}
		ks := judgeHour(c, m, i)
		if !slices.ContainsFunc(ks, blocks) {
			open++
		}
		if best == nil {
			best = ks
			continue
		}
		for j, k := range ks {
			if rank(k.Outcome) < rank(best[j].Outcome) {
				best[j] = k
			}
		}
	}
	switch {
	case first < 0:
		return one(check(ruleHours, Ask, "no-weather", src))
	case open == 0:
		return append(best, check(ruleHours, Refused, "none", src))
	}
	return append(best, check(ruleHours, OK, "some", src, "hours", strconv.Itoa(open)))
}

func rank(outcome string) int {
	return slices.Index([]string{OK, Caution, Ask, Refused}, outcome)
}
