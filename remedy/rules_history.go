package remedy

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"oidium/cite"
	"oidium/garden"
)

// names tells whether the word of a conflict list means the material.
func names(word string, m *Material) bool {
	switch word {
	case "oil":
		return m.Oil
	case "neem":
		return m.ID == "oil_neem"
	case "sulfur":
		return m.Sulfur
	case "copper":
		return m.element == "Cu"
	case "khco3":
		return m.Active == "potassium bicarbonate"
	case "bacillus":
		return m.Active == "Bacillus"
	case "biologicals":
		return m.Living
	case "peroxide":
		return m.Active == "peroxide"
	case "fungicides":
		return !m.Living && (singleSite(m) || m.Sulfur || m.element == "Cu")
	case "acid products", "acids", "acid pH<6.5":
		return m.Active == "peroxide"
	case "fosetyl":
		return m.Active == "potassium phosphonate"
	}
	return false // captan, lime, calcium, hard water: no row of the table
}

// judgeSeparation holds materials apart that burn or spoil each other on the
// leaves of the planting. It looks at the list of both, so that it works either
// way round. What is in no table is asked about as long as the longest of the
// separations known lasts. Days of 0 mean that
// the two never share a tank, which one material at a time keeps.
func judgeSeparation(c *look, m *Material) []Check {
	var out []Check
	seen := make(map[garden.MaterialID]bool)
	for _, t := range slices.Backward(c.onPlanting) {
		x, ok := Get(t.Material)
		if !ok {
			if !seen[t.Material] && float64(c.daysSince(t)) < sulfurOilDaysShy.V {
				out = append(out, check(ruleSeparation, Ask, "stranger", bySafety, "other", string(t.Material)))
			}
			seen[t.Material] = true
			continue
		}
		if seen[x.ID] || x.ID == m.ID {
			continue
		}
		seen[x.ID] = true
		since := c.daysSince(t)
		apart, read := separation(c, m, x)
		switch {
		case float64(since) < apart.V:
			out = append(out, check(ruleSeparation, Refused, "too-close", apart, "other", x.Name, "since", strconv.Itoa(since), "days", num(apart.V, 0)))
		case read && float64(since) < labelConflictDays.V:
			out = append(out, check(ruleSeparation, Ask, "label", labelConflictDays, "other", x.Name, "since", strconv.Itoa(since)))
		}
	}
	if len(out) == 0 {
		out = one(check(ruleSeparation, OK, "apart", sulfurOilDays))
	}
	return out
}

// separation returns the days that must lie between two materials, and whether
// the label decides.
func separation(c *look, a, b *Material) (apart cite.Value, read bool) {
	apart = sulfurOilDays
	apart.V = 0
	if a.Sulfur && b.Oil || a.Oil && b.Sulfur {
		apart = sulfurOilDays
		if c.sulfurShy() {
			apart = sulfurOilDaysShy
		}
	}
	for _, pair := range [][2]*Material{{a, b}, {b, a}} {
		for _, k := range pair[0].conflicts {
			if !names(k.with, pair[1]) {
				continue
			}
			read = read || k.read
			if d := float64(k.days); d > apart.V {
				apart = exact(d, "d", pair[0].Sources[0], pair[0].Grade, "days between two materials")
			}
		}
	}
	return apart, read
}

// singleSite tells whether resistance to the material's mode of action is a
// matter for rotation.
func singleSite(m *Material) bool {
	switch m.FRAC {
	case "NC", "none", "M01", "M02", "BM02", "P05", "P07":
		return false
	}
	return true
}

// groups returns the modes of action; a mixture counts for each of its parts.
func groups(m *Material) []string { return strings.Split(m.FRAC, "+") }

// sprays returns the distinct sprays of the season in the garden: one for each
// day and material, however many beds. The beds of a garden share their air.
func (c *look) sprays() []*Material {
	from := c.season()
	type spray struct {
		day garden.Day
		id  garden.MaterialID
	}
	seen := make(map[spray]bool)
	var out []*Material
	for _, t := range c.Treatments {
		s := spray{garden.DayOf(t.Start.In(c.loc())), t.Material}
		x, ok := Get(t.Material)
		if !ok || t.Test || s.day < from || t.Start.After(c.Now) || seen[s] {
			continue
		}
		seen[s] = true
		out = append(out, x)
	}
	return out
}

// judgeRotation holds the rules R1 to R10 against resistance.
func judgeRotation(c *look, m *Material) []Check {
	if !singleSite(m) {
		return one(check(ruleRotation, OK, "free", ruleTwoModes, "group", m.FRAC)) // R8
	}
	var out []Check
	season, bed := c.sprays(), materialsOf(c.onPlanting)
	for _, g := range groups(m) {
		out = append(out, rotateGroup(c, g, season, bed)...)
	}
	if modes, protectant := modesOf(bed, m); len(bed) > 0 && (modes < int(ruleTwoModes.V) || modes < int(ruleThreeModes.V) && !protectant) {
		out = append(out, check(ruleRotation, Caution, "few-modes", ruleTwoModes, "modes", strconv.Itoa(modes))) // R1
	}
	return append(out, check(ruleRotation, Caution, "when", from("croplife-cucurbit", cite.A))) // R10
}

// modesOf counts the modes of action on the planting with m, and tells whether a
// multi-site protectant or another material without a single site is among them.
func modesOf(bed []*Material, m *Material) (modes int, protectant bool) {
	var seen []string
	for _, x := range append([]*Material{m}, bed...) {
		protectant = protectant || !singleSite(x)
		for _, g := range groups(x) {
			if !slices.Contains(seen, g) {
				seen = append(seen, g)
			}
		}
	}
	return len(seen), protectant
}

func materialsOf(ts []garden.Treatment) []*Material {
	var out []*Material
	for _, t := range ts {
		if x, ok := Get(t.Material); ok {
			out = append(out, x)
		}
	}
	return out
}

func rotateGroup(c *look, g string, season, bed []*Material) []Check {
	var out []Check
	has := func(x *Material) bool { return slices.Contains(groups(x), g) }
	count := 0
	for _, x := range season {
		if has(x) {
			count++
		}
	}
	n := strconv.Itoa(count)
	if g == "7" || g == "11" || g == "21" { // R2
		switch {
		case !c.CoveredKnown:
			out = append(out, check(ruleRotation, Ask, "seen", preventiveOnly, "group", g))
		case c.Covered > preventiveOnly.V:
			out = append(out, check(ruleRotation, Refused, "preventive", preventiveOnly, "group", g, "covered", num(100*c.Covered, 1)))
		}
	}
	strict := g == "11" || g == "21"
	if strict { // R3: none of the last two
		window := int(ruleOneInThree.V) - 1
		last := bed[max(0, len(bed)-window):]
		if slices.ContainsFunc(last, func(x *Material) bool {
			return slices.Contains(groups(x), "11") || slices.Contains(groups(x), "21")
		}) {
			out = append(out, check(ruleRotation, Refused, "one-in-three", ruleOneInThree, "group", g))
		}
	}
	if (g == "11" || g == "U06") && len(bed) > 0 && has(bed[len(bed)-1]) { // R4
		out = append(out, check(ruleRotation, Refused, "consecutive", ruleMaxQoI, "group", g))
	}
	most := 0.0 // R5
	switch g {
	case "11", "U06":
		most = ruleMaxQoI.V
	case "21":
		most = ruleMaxGroup21.V
	}
	switch {
	case most > 0 && float64(count) >= most:
		out = append(out, check(ruleRotation, Refused, "count", ruleMaxQoI, "group", g, "used", n, "most", num(most, 0)))
	case float64(count) >= ruleRegionalSeason.V: // R7
		out = append(out, check(ruleRotation, Caution, "regional", ruleRegionalSeason, "group", g, "used", n))
	}
	return out
}

// judgeTestLeaf asks for a test leaf before a bed is treated for the first time
// with a material, on a new cultivar or at a greater strength.
func judgeTestLeaf(c *look, m *Material) []Check {
	var tested time.Time // end of the latest test leaf
	strongest, used, unknown := 0.0, false, false
	for _, t := range c.Treatments {
		if t.Material != m.ID || t.Start.After(c.Now) || !c.sameCultivar(t) {
			continue
		}
		end := c.endOf(t)
		if t.Test {
			if end.After(tested) {
				tested = end
			}
			continue
		}
		used = true
		if t.Grams > 0 && t.Litres > 0 {
			strongest = max(strongest, t.Grams/t.Litres)
		} else {
			unknown = true
		}
	}
	ready := tested.Add(time.Duration(testLeafHours.V * float64(time.Hour)))
	stronger := used && !unknown && c.rateKnown && c.rate.V > strengthStep.V*strongest
	switch {
	case !tested.IsZero() && ready.After(c.Now):
		if used && !stronger {
			break
		}
		return one(check(ruleTestLeaf, Refused, "wait", testLeafHours, "until", ready.In(c.loc()).Format(clockLayout)))
	case !tested.IsZero():
		return one(check(ruleTestLeaf, OK, "tested", testLeafHours))
	case stronger:
		return one(check(ruleTestLeaf, Refused, "stronger", strengthStep, "rate", num(c.rate.V, 2), "before", num(strongest, 2)))
	case !used:
		return one(check(ruleTestLeaf, Refused, "new", testLeafHours, "hours", num(testLeafHours.V, 0)))
	case unknown:
		return one(check(ruleTestLeaf, Caution, "strength-unknown", strengthStep))
	}
	return one(check(ruleTestLeaf, OK, "used", testLeafHours))
}

// sameCultivar tells whether the treatment fell on this planting or on another
// of the same crop and named cultivar.
func (c *look) sameCultivar(t garden.Treatment) bool {
	day := garden.DayOf(t.Start.In(c.loc()))
	on := func(p garden.Planting) bool {
		return p.Bed == t.Bed && p.Planted <= day && (p.Cleared == 0 || day <= p.Cleared)
	}
	if t.Bed == c.Bed.ID && day >= c.Planting.Planted {
		return true
	}
	if c.Planting.Cultivar == "" {
		return false
	}
	return slices.ContainsFunc(c.Plantings, func(p garden.Planting) bool {
		return on(p) && p.Crop == c.Planting.Crop && p.Cultivar == c.Planting.Cultivar
	})
}

// judgeAllergen keeps milk and whey off what is eaten.
func judgeAllergen(c *look, m *Material) []Check {
	if m.Active != "milk" && m.Active != "whey" {
		return one(check(ruleAllergen, OK, "none", allergenDays))
	}
	if c.Ornamental {
		return one(check(ruleAllergen, OK, "ornamental", allergenDays))
	}
	next := c.PickNext
	if next == 0 {
		next = c.Planting.FirstPick
	}
	switch {
	case c.LeafEaten && next == 0:
		return one(check(ruleAllergen, Ask, "which-day", allergenDays, "days", num(allergenDays.V, 0)))
	case c.LeafEaten && float64(next-c.today()) < allergenDays.V:
		return one(check(ruleAllergen, Refused, "leaf", allergenDays, "days", num(allergenDays.V, 0)))
	}
	return one(check(ruleAllergen, Caution, "fruit", allergenDays))
}

// judgeBloom keeps materials that harm bees off open flowers; the hours for all
// others are judged hour by hour.
func judgeBloom(c *look, m *Material) []Check {
	src := from("msu-bloom", cite.B)
	switch {
	case !c.InFlower || m.Form == "root":
		return one(check(ruleBloom, OK, "no-flower", src))
	case m.Active == "neem oil":
		return one(check(ruleBloom, Refused, "neem", from("cornell-timing", cite.B)))
	}
	return one(check(ruleBloom, Caution, "dusk", src))
}
