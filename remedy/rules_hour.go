package remedy

import (
	"math"
	"time"

	"oidium/cite"
	"oidium/sun"
)

var (
	byTiming = from("cornell-timing", cite.B)
	byBloom  = from("msu-bloom", cite.B)
	byOil    = from("uc-ipm-7406", cite.B)
)

// verdict is a check of one hour before its sentence is made, since most hours
// are looked at and only few are shown.
type verdict struct {
	rule, outcome, what string
	origin              *cite.Value
	figures             [2]figure
	word, value         string // one more place in the sentence
}

// figure is a number in a sentence.
type figure struct {
	name     string
	v        float64
	decimals int
}

func (v verdict) blocks() bool { return v.outcome == Refused || v.outcome == Ask }

// same tells whether two hours are closed, or open, for the same reason.
func (v verdict) same(w verdict) bool {
	return v.rule == w.rule && v.outcome == w.outcome && v.what == w.what && v.value == w.value
}

func (v verdict) check() Check {
	pairs := []string{v.word, v.value}
	for _, f := range v.figures {
		pairs = append(pairs, f.name, num(f.v, f.decimals))
	}
	return check(v.rule, v.outcome, v.what, *v.origin, pairs...)
}

// judgeHour looks at the rules of the hour with index i. Nothing put on through
// the root is touched by the air. The result is good until the next call.
func (c *look) judgeHour(i int) []verdict {
	if c.m.Form == "root" {
		c.hour = append(c.hour[:0], c.hourWorker(i), c.hourEntry(i))
		return c.hour
	}
	c.hour = append(c.hour[:0],
		c.hourHeat(i), c.hourCold(i), c.hourRain(i), c.hourWet(i),
		c.hourWind(i), c.hourBees(i), c.hourWorker(i), c.hourEntry(i),
	)
	return c.hour
}

// hourHeat holds the heat ceiling: of sulfur and oil over the next 24 hours,
// of all else in the hour itself.
func (c *look) hourHeat(i int) verdict {
	v := verdict{rule: ruleHeat}
	set := func(outcome, what string, origin *cite.Value, figures ...figure) verdict {
		v.outcome, v.what, v.origin = outcome, what, origin
		copy(v.figures[:], figures)
		return v
	}
	if !c.m.Sulfur && !c.m.Oil {
		limit := figure{"limit", c.m.TMax.V, 0}
		switch t := c.Hours[i].T; {
		case math.IsNaN(t):
			return set(Ask, "unknown", &c.m.TMax, limit)
		case t >= c.m.TMax.V:
			return set(Refused, "hot", &c.m.TMax, figure{"t", t, 1}, limit)
		}
		return set(OK, "fine", &c.m.TMax, limit)
	}
	ceiling := &heatCeiling
	if c.isBerry() {
		ceiling = &heatCeilingBerry
	}
	limit := figure{"limit", ceiling.V, 0}
	span := c.ahead(i, heatSpan)
	top, missing := peak(span)
	humid, unsure := false, false
	for k := range span {
		if h := &span[k]; h.T > humidHeatT.V {
			humid = humid || h.RH > humidHeatRH.V
			unsure = unsure || math.IsNaN(h.RH)
		}
	}
	switch {
	case top >= ceiling.V:
		return set(Refused, "ceiling", ceiling, figure{"t", top, 1}, limit)
	case humid:
		return set(Refused, "humid", &humidHeatT, figure{"t", humidHeatT.V, 0}, figure{"rh", humidHeatRH.V, 0})
	case missing || unsure:
		return set(Ask, "unknown", ceiling, limit)
	case time.Duration(len(span))*time.Hour < heatSpan:
		return set(Ask, "short", ceiling, figure{"hours", float64(len(span)), 0})
	}
	if later, _ := peak(c.ahead(i, warningSpan)); later >= ceiling.V {
		return set(Caution, "coming", &heatWarningHours, limit)
	}
	return set(OK, "below", ceiling, figure{"t", top, 1}, limit)
}

func (c *look) hourCold(i int) verdict {
	if t := c.Hours[i].T; t < c.m.TMin.V {
		return verdict{rule: ruleCold, outcome: Caution, what: "cold", origin: &c.m.TMin, figures: [2]figure{{"t", t, 1}, {"limit", c.m.TMin.V, 0}}}
	}
	return verdict{rule: ruleCold, outcome: OK, what: "fine", origin: &c.m.TMin}
}

// hourRain keeps the drying time free of rain.
func (c *look) hourRain(i int) verdict {
	dry := figure{"hours", dryingHours.V, 0}
	v := verdict{rule: ruleRain, outcome: OK, what: "dry", origin: &dryingHours, figures: [2]figure{dry}}
	if c.roofed() {
		v.what = "roof"
		return v
	}
	span := c.ahead(i, dryingSpan)
	missing := time.Duration(len(span))*time.Hour < dryingSpan
	for k := range span {
		switch h := &span[k]; {
		case h.Rain >= rainTrace.V:
			v.outcome, v.what, v.figures[1] = Refused, "rain", figure{"mm", h.Rain, 1}
			return v
		case h.RainChance >= rainChanceLimit.V:
			v.outcome, v.what, v.origin, v.figures[1] = Refused, "chance", &rainChanceLimit, figure{"chance", 100 * h.RainChance, 0}
			return v
		case math.IsNaN(h.Rain):
			missing = true
		}
	}
	if missing {
		v.outcome, v.what = Ask, "short"
		return v
	}
	if c.m.Rain == Soluble {
		sum := 0.0
		for _, h := range c.ahead(i, heatSpan) {
			if h.Rain > 0 {
				sum += h.Rain
			}
		}
		if sum >= solubleGone.V {
			v.outcome, v.what, v.origin, v.figures[1] = Caution, "wash", &solubleGone, figure{"mm", sum, 1}
		}
	}
	return v
}

func (c *look) hourWet(i int) verdict {
	switch {
	case c.Hours[i].Wet && c.m.Oil:
		return verdict{rule: ruleWet, outcome: Refused, what: "oil", origin: &byOil}
	case c.Hours[i].Wet && c.m.Form != "dust":
		return verdict{rule: ruleWet, outcome: Refused, what: "wet", origin: &byTiming}
	}
	return verdict{rule: ruleWet, outcome: OK, what: "dry", origin: &byTiming}
}

func (c *look) hourWind(i int) verdict {
	w := c.Hours[i].Wind
	v := verdict{rule: ruleWind, outcome: OK, what: "fine", origin: &windLimit, figures: [2]figure{{"wind", w, 1}, {"limit", windLimit.V, 1}}}
	switch {
	case c.roofed():
		v.what = "roof"
	case math.IsNaN(w):
		v.outcome, v.what = Ask, "unknown"
	case w > windLimit.V:
		v.outcome, v.what = Refused, "windy"
	case w < windCalm.V && c.dark(c.Hours[i].Time):
		v.outcome, v.what, v.origin = Caution, "inversion", &windCalm
	}
	return v
}

// dark tells whether the sun's upper edge is below the horizon.
func (c *Case) dark(t time.Time) bool {
	elevation, _ := sun.Position(t, c.Site.Latitude, c.Site.Longitude)
	return elevation < sunset.V
}

// hourBees opens a flowering bed from sunset to midnight only.
func (c *look) hourBees(i int) verdict {
	t := c.Hours[i].Time
	switch {
	case !c.InFlower:
		return verdict{rule: ruleBees, outcome: OK, what: "no-flower", origin: &byBloom}
	case t.In(c.loc()).Hour() >= 12 && c.dark(t):
		return verdict{rule: ruleBees, outcome: OK, what: "dusk", origin: &byBloom}
	}
	return verdict{rule: ruleBees, outcome: Refused, what: "flying", origin: &byBloom}
}

// hourWorker keeps to hours in which somebody works in a garden; a flowering
// bed is treated up to midnight.
func (c *look) hourWorker(i int) verdict {
	h := float64(c.Hours[i].Time.In(c.loc()).Hour())
	if h < workFrom.V || h >= workTo.V && !c.InFlower {
		return verdict{rule: ruleWorker, outcome: Refused, what: "night", origin: &workFrom}
	}
	return verdict{rule: ruleWorker, outcome: OK, what: "day", origin: &workFrom}
}

// hourEntry keeps people out of a bed until the re-entry time of an earlier
// treatment is over.
func (c *look) hourEntry(i int) verdict {
	v := verdict{rule: ruleReentry, outcome: OK, what: "open", origin: &byLabel}
	switch {
	case c.Hours[i].Time.Before(c.clock.Enter):
		v.outcome, v.what = Refused, "closed"
		v.word, v.value = "until", c.clock.Enter.Format(clockLayout)
	case c.unknownEntry != "":
		v.outcome, v.what = Ask, "earlier"
		v.word, v.value = "other", string(c.unknownEntry)
	}
	return v
}

// clockLayout is how an instant is printed in a sentence, local time.
const clockLayout = "2006-01-02 15:04"
