package remedy

import "oidium/garden"

// Budget is how much leaf a bed can spare today.
type Budget struct {
	Left     float64 // share of the leaf area that may be taken now, 0 to 1
	LeftOnce float64 // share that may be taken in one cut if it stays the only one
	Used     float64 // share taken over the last 21 days
	Trade    float64 // what practice does not exceed on a plant, for comparison
	// Ages are the ages of leaf that may be taken, in the order to take them.
	Ages     []garden.LeafAge
	Checks   []Check
	Cautions []string
}

const (
	ruleRemoval = "removal-budget"
	ruleLeafAge = "leaf-age"
)

// RemovalBudget returns what may be taken off the bed today. The published crop
// rows are the hard limit: 25 % over any 21 days, 33 % in one cut that stays the
// only one, on grape what leaves enough leaf for each kilogram of fruit. What
// was taken within the 21 days counts against it.
func RemovalBudget(c *Case) Budget {
	b := Budget{Trade: removeTrade.V, Ages: []garden.LeafAge{garden.Old, garden.Middle, garden.Young}}
	b.Cautions = []string{
		say("removal.order"), say("removal.bag"), say("removal.wounds"), say("removal.sun"), say("removal.damp"), say("removal.not-after-spray"),
	}
	ever := false
	for _, r := range c.Removals {
		day := garden.DayOf(r.Time.In(c.loc()))
		if r.Bed != c.Bed.ID || r.Time.After(c.Now) || day < c.season() {
			continue
		}
		ever = true
		if float64(c.today()-day) < removeDays.V {
			b.Used += r.Share
		}
	}
	b.Left = max(0, removeRepeated.V-b.Used)
	if !ever {
		b.LeftOnce = removeOnce.V
	}
	add := func(k Check) { b.Checks = append(b.Checks, k) }
	if b.Left == 0 {
		add(check(ruleRemoval, Refused, "spent", removeRepeated, "used", percent(b.Used), "limit", percent(removeRepeated.V), "days", num(removeDays.V, 0)))
	} else {
		add(check(ruleRemoval, OK, "left", removeRepeated, "left", percent(b.Left), "used", percent(b.Used), "limit", percent(removeRepeated.V), "days", num(removeDays.V, 0)))
	}
	add(check(ruleRemoval, Caution, "trade", removeTrade, "trade", percent(removeTrade.V), "loss", percent(removalLoss(removeTrade.V))))
	switch c.Family {
	case "cucurbit":
		b.Ages = b.Ages[:2]
		add(check(ruleLeafAge, Refused, "young", youngDays, "days", num(youngDays.V, 0)))
	case "grape":
		b.grape(c)
		b.Cautions = append(b.Cautions, say("removal.grape"))
	case "solanum":
		b.Cautions = append(b.Cautions, say("removal.truss"))
	}
	if crop := c.Planting.Crop; crop == "pumpkin" || crop == "winter-squash" {
		b.Cautions = append(b.Cautions, say("removal.squash"))
	}
	k := ClockOf(c)
	if c.Now.Before(k.Enter) {
		b.Left, b.LeftOnce = 0, 0
		add(check(ruleReentry, Refused, "closed", byLabel, "until", k.Enter.Format(clockLayout)))
	}
	return b
}

// grape bounds the budget by the leaf a kilogram of fruit needs.
func (b *Budget) grape(c *Case) {
	need := grapeSingle
	if c.Divided {
		need = grapeDivided
	}
	if c.CropKg <= 0 || c.LeafArea <= 0 {
		b.Left, b.LeftOnce = 0, 0
		b.Checks = append(b.Checks, check(ruleRemoval, Ask, "grape-unknown", need))
		return
	}
	spare := max(0, 1-need.V*c.CropKg/c.LeafArea)
	outcome, what := OK, "grape-spare"
	if spare == 0 {
		outcome, what = Refused, "grape-none"
	}
	b.Left, b.LeftOnce = min(b.Left, spare), min(b.LeftOnce, spare)
	b.Checks = append(b.Checks, check(ruleRemoval, outcome, what, need, "need", num(need.V, 1), "have", num(c.LeafArea/c.CropKg, 2), "spare", percent(spare)))
}

// RemovalEffect returns the effect of taking the given share of the leaves of
// each age off the bed on the day.
func RemovalEffect(bed garden.BedID, day garden.Day, shares [garden.LeafAges]float64) garden.Effect {
	return garden.Effect{Bed: bed, Day: day, Remove: shares}
}

// removalLoss returns the share of yield expected to be lost when the given
// share of leaf is taken: nothing up to the budget, then along the slope of the
// bottle gourd trial.
func removalLoss(share float64) float64 {
	return removeSlope.V * max(0, share-removeRepeated.V)
}
