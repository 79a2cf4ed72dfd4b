package work

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"oidium/belief"
	"oidium/cite"
	"oidium/epidemic"
	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/remedy"
	"oidium/scout"
)

const walkVersion = "oidium-walk-1"

// Walk is how to look at the beds of a garden, and what that buys.
type Walk struct {
	Version string `json:"version" enum:"oidium-walk-1" doc:"shape of this document"`
	About
	Share      float64   `json:"share" doc:"share of mildewed leaves that is not to be missed"`
	Confidence float64   `json:"confidence" doc:"chance with which it is not to be missed"`
	Within     float64   `json:"within_minutes" doc:"minutes at hand for all beds; 0: no limit"`
	Minutes    float64   `json:"minutes" doc:"minutes that the walk takes"`
	Beds       []WalkBed `json:"beds" doc:"in the order of the walk, clean to worst"`
	Stop       StopRule  `json:"stop" doc:"a rule for walking on or stopping, plant by plant"`
	Grounds
}

// WalkBed is the walk through one bed. Each leaf is looked at on both faces.
type WalkBed struct {
	Bed       garden.BedID `json:"bed"`
	BedName   string       `json:"bed_name"`
	Crop      string       `json:"crop"`
	Purpose   string       `json:"purpose" enum:"find,estimate" doc:"to find mildew, or to estimate how much there is"`
	Covered   Band         `json:"covered" doc:"share of leaf expected to show mildew"`
	Expected  float64      `json:"expected,omitempty" doc:"to estimate: share of leaves of the first age named expected to have any mildew"`
	Plants    int          `json:"plants"`
	PerPlant  int          `json:"per_plant" doc:"leaves on each plant"`
	Leaves    int          `json:"leaves"`
	Ages      []string     `json:"ages" doc:"young, middle or old leaves; most at risk first"`
	Faces     []string     `json:"faces" doc:"sides of each leaf to look at"`
	Minutes   float64      `json:"minutes"`
	Chance    float64      `json:"chance" doc:"of finding any when the share is mildewed"`
	AtMost    float64      `json:"at_most" doc:"share that none found still leaves possible, at the confidence"`
	Precision float64      `json:"precision,omitempty" doc:"to estimate: standard error over the share"`
	Limit     string       `json:"limit,omitempty" enum:"time,bed" doc:"what cut the walk short"`
	Closed    string       `json:"closed,omitempty" doc:"why nobody may go in now"`
	Words     []string     `json:"words"`
}

// StopRule is a rule for walking on or stopping, with the errors it makes.
type StopRule struct {
	Clean      float64       `json:"clean" doc:"share up to which a bed counts as clean"`
	Bad        float64       `json:"bad" doc:"share from which a bed counts as bad"`
	FalseAlarm float64       `json:"false_alarm" doc:"wanted chance of calling a clean bed bad"`
	Miss       float64       `json:"miss" doc:"wanted chance of calling a bad bed clean"`
	PerPlant   int           `json:"per_plant"`
	MostPlants int           `json:"most_plants" doc:"after these the walk ends undecided"`
	Rho        float64       `json:"rho" doc:"resemblance of leaves of a plant"`
	Ends       []StopEnd     `json:"ends" doc:"how the rule ends at several true shares"`
	Counted    []int         `json:"counted,omitempty" doc:"mildewed leaves on the plants counted so far"`
	Outcome    scout.Outcome `json:"outcome,omitempty" enum:"walk on,clean,bad,undecided" doc:"what the counts have come to"`
	Words      []string      `json:"words"`
}

// StopEnd is how a stop rule ends in a bed whose true share is Share.
type StopEnd struct {
	Share     float64 `json:"share"`
	Clean     float64 `json:"clean" doc:"chance"`
	Bad       float64 `json:"bad" doc:"chance"`
	Undecided float64 `json:"undecided" doc:"chance"`
	Plants    float64 `json:"plants" doc:"looked at, on average"`
}

// WalkAsk says what walk is asked for. The zero value asks for all beds: for the 50
// leaves of the threshold where nothing has been found, for an estimate where
// something has.
type WalkAsk struct {
	Beds       []garden.BedID
	Purpose    string  // "find", "estimate", "" as each bed needs
	Share      float64 // not to be missed; 0: 1 in 50
	Confidence float64 // 0: 0.95
	Minutes    float64 // 0: no limit
	PerPlant   int     // 0: 5
	Precision  float64 // to estimate; 0: 0.25
	Check      string  // "eye", "lens", "wet-bag"
	Clean, Bad float64 // of the stop rule; 0: as usual
	Counted    []int   // mildewed leaves on each plant so far
}

// Walking returns how many leaves to look at on how many plants of which beds.
func Walking(ctx context.Context, entries []ledger.Entry, opt Options, ask WalkAsk) (*Walk, error) {
	sc, err := setScene(ctx, entries, opt)
	if err != nil {
		return nil, err
	}
	w := &Walk{Version: walkVersion, About: sc.about(nil), Share: ask.Share, Confidence: ask.Confidence, Within: ask.Minutes}
	usual := ask.Share <= 0 && ask.Confidence <= 0
	if w.Share <= 0 {
		w.Share = 0.02 // 1 in 50
	}
	if w.Confidence <= 0 {
		w.Confidence = 0.95
	}
	if w.Share >= 1 || w.Confidence >= 1 {
		return nil, fmt.Errorf("planning a walk: share and confidence lie between 0 and 100 %%, neither included")
	}
	if w.Stop, err = stopping(ask); err != nil {
		return nil, err
	}
	var plots []*plot
	for _, id := range ask.Beds {
		p, err := sc.plot(id)
		if err != nil {
			return nil, err
		}
		plots = append(plots, p)
	}
	if len(plots) == 0 {
		plots = sc.plots
	}
	byID := make(map[garden.BedID]*plot, len(plots))
	var states []scout.BedState
	for _, p := range plots {
		if len(p.stands) == 0 {
			w.Warnings = append(w.Warnings, garden.Warning{Code: "no-mildew", Bed: p.bed.ID, Text: say("bed.no-mildew", "crop", p.crop.Name)})
			continue
		}
		byID[p.bed.ID] = p
		c := cloudOf(p)
		worst := math.Max(belief.BandOf(c.oldLeaves(sc.opt.Day), c.w).Mean, p.lastSeen())
		states = append(states, scout.BedState{ID: p.bed.ID, Covered: worst, Order: p.bed.Order})
	}
	order := scout.CleanFirst(states)
	plan := func(minutes func(garden.BedID) float64) []WalkBed {
		var out []WalkBed
		for _, id := range order {
			out = append(out, sc.walkThrough(byID[id], ask, w.Share, w.Confidence, minutes(id), usual))
		}
		return out
	}
	w.Beds = plan(func(garden.BedID) float64 { return 0 })
	whole := total(w.Beds)
	if ask.Minutes > 0 && whole > ask.Minutes {
		// Each bed gives up the same part of its walk.
		full := make(map[garden.BedID]float64)
		for _, b := range w.Beds {
			full[b.Bed] = b.Minutes
		}
		w.Beds = plan(func(id garden.BedID) float64 { return ask.Minutes * full[id] / whole })
		w.Warnings = append(w.Warnings, garden.Warning{Code: "short-walk", Text: phrase("walk.short", "whole", math.Ceil(whole), "have", math.Ceil(ask.Minutes))})
	}
	w.Minutes = math.Ceil(total(w.Beds))
	w.mind(phrase("walk.order"), phrase("walk.hands"), phrase("caution.moulds"))
	for _, v := range scout.Constants() {
		if v.Grade == cite.C && slices.Contains(walkConstants, v.What) {
			w.assume(v)
		}
	}
	for _, p := range plots {
		w.assume(leafOf(p.crop))
	}
	complete(w, &w.Sources)
	return w, nil
}

// walkConstants are the assumptions of scout that a walk rests on.
var walkConstants = []string{
	"share of mildewed faces noticed with the naked eye", "time to look at both faces of a leaf", "time to reach the next plant and note it",
	"share of mildewed leaves up to which a bed counts as clean in the stop rule", "share of mildewed leaves from which a bed counts as bad in the stop rule",
}

func total(beds []WalkBed) float64 {
	sum := 0.0
	for _, b := range beds {
		sum += b.Minutes
	}
	return sum
}

// walkThrough plans the walk through one bed within the minutes, 0 for any.
func (sc *scene) walkThrough(p *plot, ask WalkAsk, share, confidence, minutes float64, usual bool) WalkBed {
	c := cloudOf(p)
	ages := p.ages(c, sc.opt.Day)
	area := belief.BandOf(c.of(sc.opt.Day, func(r epidemic.Record) float64 { return r.Area[ages[0]] }), c.w).Mid
	look := scout.LookOf(ask.Check, "sure")
	look.Rho = p.rho(look.Rho)
	w := scout.Walk{
		Share: share, Confidence: confidence, Plants: p.planting.Plants, PerPlant: ask.PerPlant,
		Leaves: int(area * p.bed.Area() / (leafOf(p.crop).V / 1e4)), Minutes: minutes, Ages: ages, Look: look,
	}
	out := WalkBed{
		Bed: p.bed.ID, BedName: nameOf(p.bed), Crop: string(p.crop.ID), Purpose: ask.Purpose,
		Covered: c.band(sc.opt.Day, severity), Faces: []string{garden.Upper.String(), garden.Lower.String()},
	}
	if out.Purpose == "" {
		out.Purpose = "find"
		if p.found() {
			out.Purpose = "estimate"
		}
	}
	var s scout.Sample
	switch {
	case out.Purpose == "estimate":
		out.Expected = round3(belief.BandOf(c.withMildew(sc.opt.Day, ages[0]), c.w).Mean)
		w.Share = math.Max(out.Expected, share)
		s, out.Precision = scout.PlanEstimate(w, ask.Precision)
		// What it would take to find any is of no interest where some was found.
		out.Words = []string{s.Words(w.Share)[0], scout.WordsOfCV(out.Precision), phrase("walk.expected", "share", percentOf(w.Share), "age", ages[0])}
		out.Precision = round3(out.Precision)
	case usual && minutes == 0:
		s = ruleWalk(w)
		out.Words = s.Words(share)
		if full := scout.PlanWalk(w); full.Leaves > s.Leaves {
			out.Words = append(out.Words, phrase("walk.surer", "sure", percentOf(confidence), "leaves", full.Leaves, "minutes", math.Ceil(full.Minutes)))
		}
	default:
		w.Minutes = 0
		if s = scout.PlanWalk(w); usual {
			s = ruleWalk(w)
		}
		if minutes > 0 && s.Minutes > minutes {
			s = fitted(w, minutes)
		}
		out.Words = s.Words(share)
	}
	out.Plants, out.PerPlant, out.Leaves, out.Limit = s.Plants, s.PerPlant, s.Leaves, s.Limit
	out.Minutes, out.Chance, out.AtMost = round3(s.Minutes), round3(s.Chance), round3(s.AtMost)
	for _, a := range ages {
		out.Ages = append(out.Ages, a.String())
	}
	if k := remedy.ClockOf(sc.caseOf(p, Facts{})); sc.asOf.Before(k.Enter) {
		out.Closed = phrase("walk.closed", "when", k.Enter.Format(clockLayout))
	} else if !k.EnterKnown {
		out.Closed = phrase("walk.closed-unknown", "materials", materialNames(k.Missing))
	}
	return out
}

// ruleWalk is the walk of the cucurbit threshold, which serves elsewhere too: 50
// leaves, five on each of ten plants, more on each where there are fewer plants.
func ruleWalk(w scout.Walk) scout.Sample {
	const leaves, plants = 50, 10 // mcgrath-1996; cornell text through a secondary page
	w.PerPlant = cmp.Or(w.PerPlant, leaves/plants)
	n := (leaves + w.PerPlant - 1) / w.PerPlant
	if w.Plants > 0 && n > w.Plants {
		n = w.Plants
		w.PerPlant = (leaves + n - 1) / n
	}
	s := justThis(w, n, w.PerPlant)
	s.Limit = ""
	return s
}

// fitted is the walk that fits into the minutes: five leaves on as many plants as
// there is time for, since leaves of several plants tell more than leaves of one;
// more leaves on each only where every plant is looked at.
func fitted(w scout.Walk, minutes float64) scout.Sample {
	per := cmp.Or(w.PerPlant, 5)
	n := max(1, int(minutes/scout.WalkMinutes(1, per)))
	if w.Plants > 0 && n > w.Plants {
		n = w.Plants
		for scout.WalkMinutes(n, per+1) <= minutes {
			per++
		}
	}
	return justThis(w, n, per)
}

// justThis is what a walk past n plants with per leaves each buys.
func justThis(w scout.Walk, n, per int) scout.Sample {
	look := w.Look
	look.False = 0 // a healthy leaf called mildewed is no find
	return scout.Sample{
		Plants: n, PerPlant: per, Leaves: n * per, Ages: w.Ages, Minutes: scout.WalkMinutes(n, per), Limit: "time",
		Chance: 1 - scout.CountChances(n, per, w.Share, look)[0],
		AtMost: scout.AtMost(n, per, w.Confidence, w.Look),
	}
}

// clockLayout is how an instant is printed in a sentence, local time.
const clockLayout = "2006-01-02 15:04"

func materialNames(ids []garden.MaterialID) string {
	var out []string
	for _, id := range ids {
		name := string(id)
		if m, ok := remedy.Get(id); ok {
			name = m.Name
		}
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return strings.Join(out, ", ")
}

// ages returns the leaf ages to look at: old ones on cucurbits, for which the
// threshold is made; on others those on which most mildew is expected.
func (p *plot) ages(c cloud, today garden.Day) []garden.LeafAge {
	if isCucurbit(p.crop) {
		return []garden.LeafAge{garden.Old}
	}
	var shown [garden.LeafAges]float64
	for _, d := range c.draws {
		r := d.st.at(d.member, today)
		for a := range shown {
			if r.Area[a] > 0 {
				shown[a] += r.Mildewed[a][garden.Upper] + r.Mildewed[a][garden.Lower]
			}
		}
	}
	out := []garden.LeafAge{garden.Young, garden.Middle, garden.Old}
	slices.SortStableFunc(out, func(a, b garden.LeafAge) int {
		switch {
		case shown[a] > shown[b]:
			return -1
		case shown[a] < shown[b]:
			return 1
		}
		return 0
	})
	return out[:1]
}

// lastSeen is the share of leaves with mildew at the last look, the worse face.
func (p *plot) lastSeen() float64 {
	told := p.told()
	if len(told) == 0 {
		return 0
	}
	worst := 0.0
	for _, e := range scout.Assess(told[len(told)-1], 0).Face {
		worst = math.Max(worst, e.Share)
	}
	return worst
}

// rho is the resemblance of leaves of a plant from the last look that could tell,
// else the one given.
func (p *plot) rho(otherwise float64) float64 {
	for _, t := range slices.Backward(p.tallies) {
		if a := scout.Assess(t, -1); a.Fitted {
			return a.Rho
		}
	}
	return otherwise
}

// stopping returns the stop rule with its errors, and what the counts so far come
// to.
func stopping(ask WalkAsk) (StopRule, error) {
	s := scout.UsualStop()
	if ask.Clean > 0 {
		s.Clean = ask.Clean
	}
	if ask.Bad > 0 {
		s.Bad = ask.Bad
	}
	if ask.PerPlant > 0 {
		s.MostPlants = max(1, s.MostPlants*s.PerPlant/ask.PerPlant)
		s.PerPlant = ask.PerPlant
	}
	if !(s.Clean > 0 && s.Clean < s.Bad && s.Bad < 1) {
		return StopRule{}, fmt.Errorf("making a stop rule: clean (%g %%) must lie below bad (%g %%), both between 0 and 100 %%", 100*s.Clean, 100*s.Bad)
	}
	shares := []float64{s.Clean / 2, s.Clean, math.Sqrt(s.Clean * s.Bad), s.Bad, math.Min(2*s.Bad, (1+s.Bad)/2)}
	out := StopRule{
		Clean: s.Clean, Bad: s.Bad, FalseAlarm: s.FalseAlarm, Miss: s.Miss, PerPlant: s.PerPlant, MostPlants: s.MostPlants,
		Rho: s.Rho, Counted: ask.Counted, Words: s.Words(shares...),
	}
	for _, x := range shares {
		e := s.Performance(x)
		out.Ends = append(out.Ends, StopEnd{Share: round3(x), Clean: round3(e.Clean), Bad: round3(e.Bad), Undecided: round3(e.Undecided), Plants: round3(e.Plants)})
	}
	for i, k := range ask.Counted {
		if k < 0 || k > s.PerPlant {
			return StopRule{}, fmt.Errorf("following the stop rule: plant %d has %d mildewed leaves of %d looked at", i+1, k, s.PerPlant)
		}
	}
	if len(ask.Counted) > 0 {
		out.Outcome = s.Decide(ask.Counted)
		n := len(ask.Counted)
		switch out.Outcome {
		case scout.Clean:
			out.Words = append(out.Words, phrase("stop.clean", "n", n, "clean", percentOf(s.Clean)))
		case scout.Bad:
			out.Words = append(out.Words, phrase("stop.bad", "n", n, "bad", percentOf(s.Bad)))
		case scout.Undecided:
			out.Words = append(out.Words, phrase("stop.undecided", "n", n))
		case scout.WalkOn:
			out.Words = append(out.Words, phrase("stop.on", "n", n))
		}
	}
	return out, nil
}

// percentOf prints a share with two digits that count.
func percentOf(share float64) string {
	p := 100 * share
	if p > 0 && p < 10 {
		return fmt.Sprintf("%.2g %%", p)
	}
	return fmt.Sprintf("%.0f %%", p)
}
