package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"oidium/belief"
	"oidium/garden"
	"oidium/scout"
)

// Verdict is the answer for a bed in one word.
type Verdict string

// The verdicts. An action that wins gives its kind as the verdict.
const (
	DoNothing  Verdict = "nothing"
	DoLook     Verdict = "look"
	DoRemove   Verdict = "remove"
	DoTreat    Verdict = "treat"
	DoClimate  Verdict = "climate"
	DoWait     Verdict = "wait"        // an action pays, but better some days later
	CannotTell Verdict = "cannot-tell" // a look decides
	PastRescue Verdict = "past-rescue"
	SeasonOver Verdict = "season-over"
)

// Decision is what to do in a bed today and why.
type Decision struct {
	Bed     garden.BedID
	Verdict Verdict
	Best    Scored   // what the verdict rests on; Nothing when the bed is left alone
	Ranked  []Scored // everything considered, best first, barred ones last
	Second  *Scored  // runner-up, nil when there is none
	Margin  float64  // expected net benefit of Best over Second
	Wrong   float64  // chance that acting (or leaving alone) is the wrong choice

	Alone   belief.Band // loss if the bed is left alone, user's money
	Covered belief.Band // share of leaf with visible mildew this morning

	// Waiting is the cost of doing the best action some days later instead of
	// today, for Wait days; nil when no action was tried. Its mean may be below
	// 0: then waiting is better.
	Waiting   *belief.Band
	WaitDays  int
	Look      LookValue
	Flip      Flip
	NextLook  garden.Day // when to look next
	Marked    int        // leaves worth marking and leaving untreated, to see whether the treatment works here; 0 none
	Due       *DueLook   // a look is due today whatever is chosen; nil: not yet
	Missing   *Scored    // barred only by something to be entered, and would be worth more than Best
	LooksSeen bool       // somebody has looked
	Wage      float64    // per hour, as used
	Assumed   bool       // the wage was not stated

	bed *Bed
}

// DueLook is a look that is due because time has passed, not because a choice
// hangs on it.
type DueLook struct {
	Leaves, Plants, PerPlant int
	Minutes                  float64
	Passed                   float64 // chance that the threshold, 1 in 50 old leaves, has been passed
	NoneMeans                float64 // share that may still be mildewed if none is found, one-sided 95 %
}

// Decide ranks the candidates of a bed and gives the verdict. Leaving alone and
// looking are always among the candidates. An error means that the trial or the
// weights do not fit together.
func Decide(b *Bed) (Decision, error) {
	if b.Trial == nil || len(b.Weights) == 0 {
		return Decision{}, fmt.Errorf("deciding on bed %s: no ensemble to try candidates on", b.ID)
	}
	alone, sev := b.Trial(nil)
	n := len(b.Weights)
	if len(alone) != n || len(b.Covered) != n || len(b.Incidence) != n {
		return Decision{}, fmt.Errorf("deciding on bed %s: %d weights for %d losses, %d covered shares and %d incidences", b.ID, n, len(alone), len(b.Covered), len(b.Incidence))
	}
	d := Decision{
		Bed: b.ID, bed: b, Alone: belief.BandOf(alone, b.Weights), Covered: belief.BandOf(b.Covered, b.Weights),
		WaitDays: int(waitDays.V), LooksSeen: b.LastLook != 0, Wage: b.Wage, Assumed: b.Wage <= 0,
	}
	if d.Assumed {
		d.Wage = wageAssumed.V
	}
	zeros := make([]float64, n)
	nothing := Scored{Candidate: Candidate{Kind: Nothing}, Tried: true, net: zeros, saved: zeros, Sev: belief.BandOf(sev, b.Weights)}
	open := []Scored{nothing} // may be chosen
	var shut []Scored
	for _, c := range b.Candidates {
		s := score(b, c, alone, c.Effects)
		if s.Barred {
			shut = append(shut, s)
		} else {
			open = append(open, s)
		}
	}
	rank(open)
	if b.Pairs {
		open = pair(b, alone, open)
	}
	d.wait(b, alone, &open)
	best := open[0]
	var g binned
	d.Look, g = valueOfLook(b, open)
	d.Flip = flipOf(b, open, g, d.Look)
	look := Scored{
		Candidate: Candidate{Kind: Look, Minutes: d.Look.Minutes, Leaves: d.Look.Leaves},
		Tried:     true, Labour: d.Look.Cost,
		Net: belief.Band{Mean: d.Look.Net, Low: d.Look.Net, Mid: d.Look.Net, High: d.Look.Net},
	}
	for m, w := range b.Weights {
		if isWrong(open, 0, m) {
			d.Wrong += w
		}
	}
	d.NextLook = nextLook(b)
	d.verdict(b, best, open, shut, look)
	// A bed that is given up, or whose season ends, is not walked for its own sake.
	if d.NextLook <= b.Day && d.Verdict != PastRescue && d.Verdict != SeasonOver {
		d.Due = due(b)
	}
	// The look stands in the list by its own worth, ties after the rest.
	all := append(open, look)
	rank(all)
	d.Ranked = append(all, shut...)
	d.Best = best
	if d.Verdict == DoLook || d.Verdict == CannotTell {
		d.Best = look
	}
	if d.Verdict == DoTreat {
		d.Marked = marked(nothing.Sev.Mean, best.Sev.Mean)
	}
	for i := range d.Ranked {
		if b.Doubt {
			break // nothing stands against finding out
		}
		// The same action on another day is no other choice, nor is a look that
		// could not change it.
		if r := &d.Ranked[i]; !r.Barred && (r.Kind != Look || d.Look.Gain > 0) && !same(&r.Candidate, &d.Best.Candidate) {
			d.Second, d.Margin = r, d.Best.Net.Mean-r.Net.Mean
			break
		}
	}
	for i := range d.Ranked {
		if r := &d.Ranked[i]; r.Barred && r.Tried && r.Net.Mean > math.Max(best.Net.Mean, 0) && (d.Missing == nil || r.Net.Mean > d.Missing.Net.Mean) {
			d.Missing = r
		}
	}
	return d, nil
}

// rank orders by expected net benefit; of two alike the one with less work, then
// the one first handed in, stands first.
func rank(s []Scored) {
	slices.SortStableFunc(s, func(a, b Scored) int {
		return cmp.Or(cmp.Compare(b.Net.Mean, a.Net.Mean), cmp.Compare(a.Minutes, b.Minutes))
	})
}

// pair adds the best removal of leaves together with the best treatment, where
// each saves something by itself.
func pair(b *Bed, alone []float64, open []Scored) []Scored {
	of := func(k Kind) int {
		return slices.IndexFunc(open, func(s Scored) bool { return s.Kind == k && s.Saved.Mean > 0 })
	}
	r, t := of(Remove), of(Treat)
	if r < 0 || t < 0 {
		return open
	}
	c := paired(open[r].Candidate, open[t].Candidate)
	open = append(open, score(b, c, alone, c.Effects))
	rank(open)
	return open
}

// same tells whether two candidates are the same thing to do, on whatever day.
func same(a, b *Candidate) bool {
	return a.Kind == b.Kind && a.Name == b.Name && (a.First == nil) == (b.First == nil)
}

// wait runs the best action some days later and, where that pays more than
// today, puts it first.
func (d *Decision) wait(b *Bed, alone []float64, open *[]Scored) {
	i := bestAction(*open)
	if i < 0 {
		return
	}
	now := (*open)[i]
	c := now.Candidate
	c.InDays = d.WaitDays
	then := score(b, c, alone, later(now.Effects, garden.Day(d.WaitDays)))
	cost := make([]float64, len(alone))
	for m := range cost {
		cost[m] = now.net[m] - then.net[m]
	}
	w := belief.BandOf(cost, b.Weights)
	if now.Net.Mean <= 0 && then.Net.Mean <= 0 {
		w = belief.Band{} // neither would be done
	}
	d.Waiting = &w
	*open = append(*open, then)
	rank(*open)
	// What comes out hardly better some days later is done today: else it would be
	// put off again every morning.
	if first := (*open)[0]; first.InDays == d.WaitDays && first.NotNow == "" && now.InDays == 0 && now.Net.Mean > 0 &&
		first.Net.Mean-now.Net.Mean < waitMargin.V*now.Net.Mean {
		i := slices.IndexFunc(*open, func(s Scored) bool { return s.InDays == 0 && same(&s.Candidate, &now.Candidate) })
		*open = slices.Insert(slices.Delete(*open, i, i+1), 0, now)
	}
}

// verdict says in one word what the ranking comes to.
func (d *Decision) verdict(b *Bed, best Scored, open, shut []Scored, look Scored) {
	switch {
	case b.Doubt:
		d.Verdict = CannotTell
	case d.Look.Leaves > 0 && (look.Net.Mean > best.Net.Mean+justLooked(b, best) || gamble(b, best, look)):
		d.Verdict = DoLook
		if d.Wrong >= wrongEnough.V {
			d.Verdict = CannotTell
		}
	case best.InDays > 0:
		d.Verdict = DoWait
	case best.Kind != Nothing:
		d.Verdict = Verdict(best.Kind)
	default:
		d.Verdict = leave(b, d, append(slices.Clone(open), shut...))
	}
}

// justLooked is by how much a look must beat an action when somebody has looked
// within the last days: one more look of the same kind tells little new.
func justLooked(b *Bed, best Scored) float64 {
	if b.LastLook == 0 || float64(b.Day-b.LastLook) >= lookSoon.V || best.Kind == Nothing {
		return 0
	}
	return waitMargin.V * math.Max(0, best.Net.Mean)
}

// gamble tells whether the best action pays through few courses of the season
// only, while a look is worth nearly as much: then the look comes first, unless
// somebody has just looked.
func gamble(b *Bed, best, look Scored) bool {
	if b.LastLook != 0 && float64(b.Day-b.LastLook) < lookSoon.V {
		return false
	}
	return best.Kind != Nothing && best.Better < gambleChance.V && look.Net.Mean >= gambleShare.V*best.Net.Mean
}

// leave tells the ways of leaving a bed alone apart.
func leave(b *Bed, d *Decision, open []Scored) Verdict {
	if b.DaysLeft >= 0 && float64(b.DaysLeft) <= seasonDays.V {
		return SeasonOver
	}
	// What an answer would open up counts too: a bed is not past rescue while
	// something that only waits for a label value could save it.
	saved := 0.0
	for _, s := range open {
		saved = math.Max(saved, s.Saved.Mean)
	}
	if d.Covered.Mean >= rescueCovered.V && d.Alone.Mean >= rescueLoss.V*b.Worth && saved < rescueSaved.V*d.Alone.Mean {
		return PastRescue
	}
	return DoNothing
}

// nextLook is the day on which the bed wants its next look: the first on which it
// may well have passed the threshold, not sooner and not later after the last
// look than is usual. Where mildew has been found the threshold is behind, and
// the usual time holds. A bed in leaf that nobody has looked at wants one today.
func nextLook(b *Bed) garden.Day {
	if b.NoLeaf {
		return b.Day + garden.Day(lookEvery.V)
	}
	if b.LastLook == 0 {
		return b.Day
	}
	soonest, latest := b.LastLook+garden.Day(lookSoon.V), b.LastLook+garden.Day(lookEvery.V)
	for i := -1; i < len(b.Ahead); i++ {
		inc := b.Incidence
		if i >= 0 {
			inc = b.Ahead[i]
		}
		day := b.Day + garden.Day(i+1)
		if day >= latest {
			break
		}
		if !b.Found && day >= soonest && belief.Exceed(inc, b.Weights, lookShare.V) >= lookChance.V {
			return day
		}
	}
	return max(b.Day, latest)
}

// due is the look that is due because time has passed: enough old leaves for the
// threshold of one in fifty, as far as the plants go.
func due(b *Bed) *DueLook {
	plants, per := int(lookAll.V/perPlant.V), int(perPlant.V)
	if b.Plants > 0 && b.Plants < plants {
		plants = b.Plants
		per = min(int(lookAll.V)/plants, 2*int(perPlant.V))
	}
	return &DueLook{
		Plants: plants, PerPlant: per, Leaves: plants * per, Minutes: scout.WalkMinutes(plants, per),
		Passed:    belief.Exceed(b.Incidence, b.Weights, lookShare.V),
		NoneMeans: scout.AtMost(plants, per, 0.95, b.eye()), // numerical: how sure
	}
}
