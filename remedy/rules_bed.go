package remedy

import (
	"slices"
	"strconv"
	"strings"

	"oidium/cite"
	"oidium/garden"
)

var (
	bySafety = from("label-law", cite.B)
	byDesign = from("assumption", cite.C)
)

// judgeDiagnosis never lets a spray begin on "cannot tell": powdery and downy
// mildew need different materials.
func judgeDiagnosis(c *look, m *Material) []Check {
	src := from("cornell-lookalikes", cite.B)
	switch c.Diagnosis {
	case "sure":
		return one(check(ruleDiagnosis, OK, "sure", src))
	case "likely":
		return one(check(ruleDiagnosis, Caution, "likely", src))
	case "cannot tell":
		return one(check(ruleDiagnosis, Refused, "cannot-tell", src))
	}
	if c.CoveredKnown && c.Covered == 0 && !m.Knockdown && c.Family == "grape" {
		return one(check(ruleDiagnosis, OK, "ahead", src))
	}
	return one(check(ruleDiagnosis, Ask, "nobody", src))
}

// judgeVapour keeps heated sulfur out of every plan. It can be recorded.
func judgeVapour(_ *look, m *Material) []Check {
	src := from("cdpr-enf-20-08", cite.A)
	if m.Form == "vapour" {
		return one(check(ruleVapour, Refused, "never", src))
	}
	return one(check(ruleVapour, OK, "not", src))
}

// judgeCrop holds what a crop cannot take, whatever the label.
func judgeCrop(c *look, m *Material) []Check {
	crop := string(c.Planting.Crop)
	switch {
	case m.Sulfur && crop == "apricot":
		return one(check(ruleCrop, Refused, "apricot", heatCeiling))
	case m.Sulfur && c.sulfurShy():
		return one(check(ruleCrop, Caution, "sulfur-shy", from("caldwell-2013", cite.B), "crop", crop))
	case m.Sulfur && c.Family == "cucurbit":
		return one(check(ruleCrop, Caution, "sulfur-cucurbit", from("caldwell-2013", cite.B)))
	case m.Sulfur && c.Family == "grape":
		return one(check(ruleCrop, Caution, "wine", wineSulfurDays, "days", num(wineSulfurDays.V, 0)))
	case m.ID == "ksi_root" && c.Bed.Soil != "" && !soilless(c.Bed.Soil):
		return one(check(ruleCrop, Caution, "root-soil", from("menzies-1992", cite.C)))
	}
	return one(check(ruleCrop, OK, "fits", bySafety))
}

func soilless(soil string) bool {
	for _, w := range []string{"rockwool", "coir", "peat", "hydro", "perlite", "substrate"} {
		if strings.Contains(strings.ToLower(soil), w) {
			return true
		}
	}
	return false
}

// judgeStanding refuses when there is nothing left to protect.
func judgeStanding(c *look, _ *Material) []Check {
	p := c.Planting
	switch {
	case p.Cleared != 0 && p.Cleared <= c.today():
		return one(check(ruleStanding, Refused, "cleared", byDesign, "day", p.Cleared.String()))
	case p.LastPick != 0 && p.LastPick < c.today() && !c.Ornamental:
		return one(check(ruleStanding, Caution, "last-pick", byDesign, "day", p.LastPick.String()))
	}
	return one(check(ruleStanding, OK, "stands", byDesign))
}

// judgeCovered keeps preventives off a bed that is past prevention.
func judgeCovered(c *look, m *Material) []Check {
	limit := percent(preventiveCeiling.V)
	switch {
	case m.Knockdown:
		return one(check(ruleCovered, OK, "acts-on-colonies", preventiveCeiling))
	case !c.CoveredKnown:
		return one(check(ruleCovered, Ask, "unknown", preventiveCeiling, "limit", limit))
	case c.Covered >= preventiveCeiling.V:
		return one(check(ruleCovered, Refused, "past", preventiveCeiling, "covered", percent(c.Covered), "limit", limit))
	}
	return one(check(ruleCovered, OK, "early", preventiveCeiling, "covered", percent(c.Covered), "limit", limit))
}

func judgeStressed(c *look, m *Material) []Check {
	src := from("uc-ipm-7406", cite.B)
	switch {
	case m.Oil && c.Stressed:
		return one(check(ruleStressed, Refused, "oil", src))
	case c.Stressed:
		return one(check(ruleStressed, Caution, "stressed", src))
	}
	return one(check(ruleStressed, OK, "fit", src))
}

// judgeSoil counts what stays in the ground: copper against its limit over
// seven years, sodium and potassium so that the grower sees them.
func judgeSoil(c *look, m *Material) []Check {
	switch m.element {
	case "":
		return one(check(ruleSoil, OK, "none", byDesign))
	case "Cu":
		return one(judgeCopper(c, m))
	}
	grams, unknown := 0.0, 0
	for _, t := range c.past {
		x, ok := Get(t.Material)
		if !ok || x.element != m.element {
			continue
		}
		if t.Grams == 0 {
			unknown++
		}
		grams += t.Grams * x.share.V
	}
	area := c.Bed.Area()
	if area <= 0 {
		return one(check(ruleSoil, Ask, "area", byDesign))
	}
	what := "potassium"
	if m.element == "Na" {
		what = "sodium"
		if c.Bed.Shelter == garden.Tunnel || c.Bed.Role == "tray" || c.Bed.Role == "quarantine" {
			what = "sodium-tunnel"
		}
	}
	return one(check(ruleSoil, Caution, what, from("attra-2001", cite.C), "grams", num(grams/area, 1), "unknown", strconv.Itoa(unknown)))
}

func judgeCopper(c *look, m *Material) Check {
	content := func(id garden.MaterialID) (float64, bool) {
		for _, l := range slices.Backward(c.Labels) {
			if l.Material == id && l.Content != nil && !l.Read.After(c.Now) {
				return *l.Content, true
			}
		}
		return 0, false
	}
	area := c.Bed.Area()
	if area <= 0 {
		return check(ruleSoil, Ask, "area", copperLimit)
	}
	share, known := content(m.ID)
	mix := MixFor(c.Case, m)
	if !known || !mix.RateKnown {
		return check(ruleSoil, Ask, "copper-unknown", copperLimit)
	}
	grams := mix.Amount * share
	first := c.today() - garden.Day(365.25*copperYears.V)
	for _, t := range c.past {
		if x, ok := Get(t.Material); !ok || x.element != "Cu" || garden.DayOf(t.Start.In(c.loc())) < first {
			continue
		}
		s, ok := content(t.Material)
		if !ok || t.Grams == 0 {
			return check(ruleSoil, Ask, "copper-record", copperLimit)
		}
		grams += t.Grams * s
	}
	kgHa := grams / area * 10
	outcome, what := Caution, "copper"
	if kgHa > copperLimit.V {
		outcome, what = Refused, "copper-full"
	}
	return check(ruleSoil, outcome, what, copperLimit, "sum", num(kgHa, 1), "limit", num(copperLimit.V, 0), "years", num(copperYears.V, 0))
}

// judgeOther tells what another disease about means for a spray.
func judgeOther(c *look, _ *Material) []Check {
	if len(c.OtherDisease) > 0 {
		return one(check(ruleOther, Caution, "about", from("cornell-lookalikes", cite.B), "diseases", strings.Join(c.OtherDisease, ", ")))
	}
	return one(check(ruleOther, OK, "none", from("cornell-lookalikes", cite.B)))
}

func judgeStock(c *look, m *Material) []Check {
	for _, s := range c.Stock {
		if s.Material == m.ID {
			return one(check(ruleStock, OK, "there", byDesign))
		}
	}
	if len(c.Stock) == 0 {
		return one(check(ruleStock, OK, "not-stated", byDesign))
	}
	return one(check(ruleStock, Caution, "missing", byDesign))
}
