package remedy

import (
	"math"
	"slices"
	"strings"

	"oidium/cite"
	"oidium/garden"
)

const (
	ruleShelter  = "shelter"
	ruleTried    = "tried-on"
	ruleInter    = "interlock"
	ruleSun      = "sunny-midday"
	ruleDeposit  = "deposit"
	ruleCropHeat = "crop-heat"
	ruleStageAct = "stage"
)

// JudgeAction looks at every rule for an action other than a material. Leaf
// removal has its budget, see RemovalBudget.
func JudgeAction(c *Case, a *Action) []Check {
	l := newLook(c, &Material{})
	out := []Check{l.actDiagnosis(a), l.actOther(a), l.actShelter(a), l.actTried(a)}
	switch {
	case a.uv:
		out = append(out, l.actInterlock())
	case a.ID == "mist_pulse":
		out = append(out, l.actSun())
	case a.acts == "kills":
		out = append(out, l.actDeposit(), l.actCropHeat())
	case a.ID == "canopy_open":
		out = append(out, l.actStage())
	}
	if a.Season {
		return out // not an action of today
	}
	return append(out, l.actEntry())
}

// actDiagnosis keeps water off leaves that may have downy mildew.
func (c *look) actDiagnosis(a *Action) Check {
	src := from("cornell-lookalikes", cite.B)
	switch {
	case a.Wets && c.Diagnosis == "cannot tell":
		return check(ruleDiagnosis, Refused, "cannot-tell", src)
	case a.Wets && c.Diagnosis == "":
		return check(ruleDiagnosis, Ask, "nobody", src)
	case c.Diagnosis == "cannot tell" || c.Diagnosis == "":
		return check(ruleDiagnosis, Caution, "no-harm", src)
	}
	return check(ruleDiagnosis, OK, "sure", src)
}

func (c *look) actOther(a *Action) Check {
	src := from("lage-2019", cite.A)
	switch about := strings.Join(c.OtherDisease, ", "); {
	case a.Wets && about != "":
		return check(ruleOther, Refused, "wetting", src, "diseases", about)
	case about != "":
		return check(ruleOther, Caution, "about", src, "diseases", about)
	}
	return check(ruleOther, OK, "none", src)
}

func (c *look) actShelter(a *Action) Check {
	if a.roof && c.Bed.Shelter != garden.Tunnel {
		return check(ruleShelter, Refused, "open", a.Effect)
	}
	return check(ruleShelter, OK, "fits", a.Effect)
}

func (c *look) actTried(a *Action) Check {
	tried := strings.Join(a.families, ", ")
	switch {
	case slices.Contains(a.families, "*") || slices.Contains(a.families, c.Family):
		return check(ruleTried, OK, "this", a.Effect, "families", tried)
	case a.ID == "canopy_open":
		return check(ruleTried, Refused, "only", a.Effect, "families", tried)
	}
	return check(ruleTried, Caution, "others", a.Effect, "families", tried)
}

// actInterlock lets lamps be planned only where it was stated that they cut off
// when somebody comes near.
func (c *look) actInterlock() Check {
	src := from("icnirp-2004", cite.A)
	if !c.Interlock {
		return check(ruleInter, Ask, "not-stated", src)
	}
	return check(ruleInter, Caution, "stated", src)
}

// actSun asks for a dry, rainless midday, so that leaves dry within the hour.
func (c *look) actSun() Check {
	seen := false
	for _, h := range c.Hours {
		local := h.Time.In(c.loc())
		if garden.DayOf(local) != c.today() || local.Hour() < 11 || local.Hour() >= 15 {
			continue
		}
		seen = true
		switch {
		case math.IsNaN(h.RH) || math.IsNaN(h.Rain):
			return check(ruleSun, Ask, "unknown", mistHumidity)
		case h.RH > mistHumidity.V || h.Rain >= rainTrace.V:
			return check(ruleSun, Refused, "damp", mistHumidity, "rh", num(mistHumidity.V, 0))
		}
	}
	if !seen {
		return check(ruleSun, Ask, "unknown", mistHumidity)
	}
	return check(ruleSun, OK, "dry", mistHumidity, "rh", num(mistHumidity.V, 0))
}

// actDeposit keeps heat away from leaves with sulfur or oil on them.
func (c *look) actDeposit() Check {
	for _, t := range slices.Backward(c.past) {
		if x, ok := Get(t.Material); ok && (x.Sulfur || x.Oil) && float64(c.daysSince(t)) < heatAfterSpray.V {
			return check(ruleDeposit, Refused, "there", heatAfterSpray, "other", x.Name, "days", num(heatAfterSpray.V, 0))
		}
	}
	return check(ruleDeposit, OK, "none", heatAfterSpray, "days", num(heatAfterSpray.V, 0))
}

func (c *look) actCropHeat() Check {
	top := math.Inf(-1)
	for _, h := range c.Hours {
		if garden.DayOf(h.Time.In(c.loc())) == c.today() && h.T > top {
			top = h.T
		}
	}
	limit := num(cropHeat.V, 0)
	switch {
	case c.Stressed:
		return check(ruleCropHeat, Refused, "dry", cropHeat)
	case math.IsInf(top, -1):
		return check(ruleCropHeat, Ask, "unknown", cropHeat, "limit", limit)
	case top >= cropHeat.V:
		return check(ruleCropHeat, Refused, "too-hot", cropHeat, "t", num(top, 1), "limit", limit)
	case c.InFlower:
		return check(ruleCropHeat, Caution, "pollen", pollenHeat, "t", num(pollenHeat.V, 0))
	case c.Family != "grape":
		return check(ruleCropHeat, Caution, "other-mildew", cropHeat, "limit", limit)
	}
	return check(ruleCropHeat, OK, "below", cropHeat, "limit", limit)
}

// actStage lets the fruit zone be opened about two weeks after bloom; five weeks
// after bloom it had no effect.
func (c *look) actStage() Check {
	src := from("austin-wilcox-2011", cite.A)
	low, high, known := c.stage()
	switch {
	case !known || c.Stage == "":
		return check(ruleStageAct, Ask, "unknown", src)
	case low >= 69 && high <= 74:
		return check(ruleStageAct, OK, "after-bloom", src)
	case low >= 75:
		return check(ruleStageAct, Refused, "late", src)
	}
	return check(ruleStageAct, Caution, "early", src)
}

func (c *look) actEntry() Check {
	if c.Now.Before(c.clock.Enter) {
		return check(ruleReentry, Refused, "closed", byLabel, "until", c.clock.Enter.Format(clockLayout))
	}
	return check(ruleReentry, OK, "open", byLabel)
}

// CautionsOf returns what is printed with the action.
func CautionsOf(a *Action) []string {
	out := []string{say("caution.label")}
	for _, s := range append([]string{a.Limit, a.Conditions}, a.Cautions...) {
		if s != "" && s != "-" && s != "none" {
			out = append(out, s)
		}
	}
	switch {
	case a.uv:
		out = append(out, say("caution.uv"), say("caution.uv-night"))
	case a.acts == "kills":
		out = append(out, say("caution.closing"), say("caution.closing-mildew"))
	case a.Wets:
		out = append(out, say("caution.wetting"))
	}
	return out
}
