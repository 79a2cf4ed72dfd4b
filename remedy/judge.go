package remedy

import (
	"slices"

	"oidium/cite"
	"oidium/garden"
)

// Judge looks at every rule for one material on one bed and says of each what
// came out of it and why. No rule is left out because another has refused, and
// nothing unknown is guessed: a rule that needs a number that has not been
// entered says "ask".
func Judge(c *Case, m *Material) []Check {
	l := newLook(c, m)
	var out []Check
	for _, rule := range judges {
		out = append(out, rule(l, m)...)
	}
	return append(out, l.weatherChecks()...)
}

// Allowed tells whether nothing refuses and nothing has to be asked.
func Allowed(checks []Check) bool {
	return !slices.ContainsFunc(checks, blocks)
}

// TestLeafFirst tells whether the test leaf is all that stands in the way: then
// a test leaf may be treated today and the bed after two days.
func TestLeafFirst(checks []Check) bool {
	due := false
	for _, k := range checks {
		if k.Rule == ruleTestLeaf && k.Outcome == Refused {
			due = true
		} else if blocks(k) {
			return false
		}
	}
	return due
}

func blocks(k Check) bool { return k.Outcome == Refused || k.Outcome == Ask }

// look is a case with what the rules look up again and again for one material.
type look struct {
	*Case
	m            *Material
	label        garden.Label // last read for the crop; without numbers when not found
	found, other bool         // a label was entered for the crop, for other crops
	rate         cite.Value   // strength to mix at
	rateKnown    bool
	assumed      bool
	past         []garden.Treatment // of the bed up to now, no test leaves
	onPlanting   []garden.Treatment // the part of past on the planting
	clock        Clock
	hour         []verdict         // of the hour last judged
	unknownEntry garden.MaterialID // an earlier treatment whose re-entry time is unknown
}

func newLook(c *Case, m *Material) *look {
	l := &look{Case: c, m: m, past: c.past(), clock: ClockOf(c)}
	l.label, l.found, l.other = c.label(m.ID)
	l.rate, l.rateKnown, l.assumed = strength(l.label, m)
	i := 0
	for i < len(l.past) && garden.DayOf(l.past[i].Start.In(c.loc())) < c.season() {
		i++
	}
	l.onPlanting = l.past[i:]
	for _, t := range l.past {
		if x, _, _ := c.label(t.Material); x.ReentryHours == nil && float64(c.daysSince(t)) < labelConflictDays.V {
			l.unknownEntry = t.Material
		}
	}
	return l
}

// The names of the rules, in the order in which Judge looks at them.
const (
	ruleDiagnosis  = "diagnosis"
	ruleVapour     = "heated-sulfur"
	ruleRole       = "role"
	ruleCrop       = "crop"
	ruleLabelCrop  = "label-crop"
	ruleLabelStage = "label-stage"
	ruleUse        = "printed-use"
	ruleDose       = "dose"
	ruleStanding   = "standing"
	ruleCovered    = "covered"
	ruleStressed   = "stressed"
	ruleSeparation = "separation"
	ruleInterval   = "interval"
	ruleCount      = "season-count"
	ruleRotation   = "rotation"
	ruleSoil       = "accumulation"
	ruleTestLeaf   = "test-leaf"
	ruleHarvest    = "days-to-harvest"
	ruleReentry    = "re-entry"
	ruleAllergen   = "allergen"
	ruleBloom      = "bloom"
	ruleOther      = "other-disease"
	ruleStock      = "stock"

	ruleHeat   = "heat"
	ruleCold   = "cold"
	ruleRain   = "drying"
	ruleWet    = "wet-leaf"
	ruleWind   = "wind"
	ruleBees   = "bees"
	ruleWorker = "worker"
	ruleHours  = "hours"
)

// judges are all the rules that do not depend on the hour.
var judges = []func(*look, *Material) []Check{
	judgeDiagnosis, judgeVapour, judgeRole, judgeCrop, judgeLabelCrop, judgeLabelStage, judgeUse, judgeDose,
	judgeStanding, judgeCovered, judgeStressed, judgeSeparation, judgeInterval, judgeCount,
	judgeRotation, judgeSoil, judgeTestLeaf, judgeHarvest, judgeReentry, judgeAllergen,
	judgeBloom, judgeOther, judgeStock,
}

// check makes one check; the sentence has the key "rule.what".
func check(rule, outcome, what string, v cite.Value, pairs ...string) Check {
	return Check{Rule: rule, Outcome: outcome, Reason: say(rule+"."+what, pairs...), Source: v.Source, Grade: v.Grade}
}

// from is the origin of a rule that has no number.
func from(source string, grade cite.Grade) cite.Value {
	return cite.Value{Source: source, Grade: grade}
}

func one(k Check) []Check { return []Check{k} }
