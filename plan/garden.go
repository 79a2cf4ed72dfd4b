package plan

import (
	"cmp"
	"math"
	"slices"

	"oidium/garden"
	"oidium/scout"
)

// Plot is a decided bed as the pass over the garden sees it.
type Plot struct {
	Decision  Decision
	Order     int  // place in the walk
	PickToday bool // is to be picked today, before anything is put on it
}

// Hands are what the user has today.
type Hands struct {
	Minutes float64                       // of each pair of hands; 0 no limit
	Hands   int                           // 0 counts as 1
	Shed    map[garden.MaterialID]float64 // product left, g or mL; a material that is not in it is taken as enough
	TankL   float64                       // litres of a tank load; 0 not known
}

// Step is one thing to do in one bed.
type Step struct {
	Bed       garden.BedID
	Kind      Kind
	Candidate Candidate
	Minutes   float64    // with what is shared counted where it is first needed
	Worth     float64    // expected net benefit, user's money
	Urgency   float64    // what is lost by putting it off, a day
	Until     garden.Day // can wait until
	Load      int        // number of the filling of the tank among today's, from 1; 0 none
	Shares    bool       // uses the mix made for a bed before it
	PickFirst bool       // the bed is picked before this
	Marked    int        // leaves to mark and leave untreated
	Due       bool       // a look that is due because time has passed
	Switched  *Switch    // the pass chose otherwise than the bed by itself would

	setUp float64 // what the making of its mix costs
}

// Switch says why a bed was given another action than its own best.
type Switch struct {
	From, To string
	Why      string // "shared": one mix for several beds; "shed": not enough is left; "repeat": the mode of action should change
	Gain     float64
}

// Pass is the day's work of a whole garden.
type Pass struct {
	Today   []Step // in the order in which it is done
	Later   []Step // what can wait, soonest first
	Minutes float64
	Budget  float64 // minutes x hands, 0 no limit
	Loads   int     // fillings of the tank, 0 when the tank is not known
	Net     float64 // expected net benefit of Today, mixes shared
}

// WholeGarden fits the decisions of all beds together: one mix serves all beds
// that get the same material, no more is used than the shed holds, a mode of
// action that should rest costs something, and what does not fit into the minutes
// and hands waits, the least urgent first. The walk goes from the cleanest bed to
// the worst; treatments come after it, material by material.
func WholeGarden(plots []Plot, day garden.Day, h Hands) Pass {
	in := slices.Clone(plots)
	slices.SortStableFunc(in, func(a, b Plot) int {
		return cmp.Or(cmp.Compare(a.Order, b.Order), cmp.Compare(a.Decision.Bed, b.Decision.Bed))
	})
	c := choose(in, h)
	var steps []Step
	for i := range in {
		steps = append(steps, stepsOf(&in[i], c.of[i], c.why[i], day)...)
	}
	sortWalk(steps, in)
	return cutDay(steps, h, day)
}

// stepsOf lists what is to be done in a bed, at most three steps, the action
// first to be kept.
func stepsOf(p *Plot, chosen *Scored, why *Switch, day garden.Day) []Step {
	d := &p.Decision
	var out []Step
	step := func(c Candidate, worth float64) *Step {
		out = append(out, Step{Bed: d.Bed, Kind: c.Kind, Candidate: c, Minutes: c.Minutes, Worth: worth})
		return &out[len(out)-1]
	}
	until := func(worth float64) (perDay float64, last garden.Day) {
		if d.Waiting == nil || d.WaitDays <= 0 {
			return 0, day + garden.Day(putOffMost.V)
		}
		perDay = math.Max(0, d.Waiting.Mean) / float64(d.WaitDays)
		days := putOffMost.V
		if perDay > 0 {
			days = math.Floor(math.Min(days, putOff.V*math.Max(worth, 0)/perDay))
		}
		return perDay, day + garden.Day(math.Max(1, days))
	}
	if chosen != nil && chosen.Kind != Nothing {
		c := chosen.Candidate
		if c.First != nil {
			r := *c.First
			s := step(r, 0)
			s.Urgency, s.Until = until(chosen.Net.Mean)
			c.First, c.Minutes, c.Cost = nil, c.Minutes-r.Minutes, c.Cost-r.Cost
		}
		s := step(c, chosen.Net.Mean)
		s.Urgency, s.Until = until(chosen.Net.Mean)
		s.Switched, s.setUp = why, chosen.setUp()
		if c.Kind == Treat {
			s.PickFirst = p.PickToday
			if same(&c, &d.Best.Candidate) || c.Material == d.Best.Material {
				s.Marked = d.Marked
			}
		}
	}
	switch {
	case d.Verdict == DoLook || d.Verdict == CannotTell:
		s := step(d.Best.Candidate, math.Max(0, d.Look.Net))
		s.Urgency = (d.Look.Gain - d.Look.Cost) / lookEvery.V
		s.Until = day + 1
	case d.Due != nil:
		s := step(Candidate{Kind: Look, Leaves: d.Due.Leaves, Minutes: d.Due.Minutes}, 0)
		// A bed that may have passed the threshold unseen is losing a part of what
		// it would lose if left alone.
		s.Urgency = d.Due.Passed * math.Max(0, d.Alone.Mean) * putOff.V / lookEvery.V
		s.Due, s.Until = true, day+1
	case d.Verdict == DoWait:
		c := d.Best.Candidate
		s := step(c, d.Best.Net.Mean)
		s.Until = day + garden.Day(c.InDays)
	default:
		s := step(Candidate{Kind: Look}, 0)
		s.Until = d.NextLook
	}
	// The rest of the list is cut, never the action: it was put in first.
	return out[:min(len(out), int(stepsBed.V))]
}

// sortWalk puts steps in the order of the day: the walk with looks and leaves
// taken off, from the cleanest bed to the worst, and then, since treated leaves
// are not walked among, the treatments, one material after another.
func sortWalk(steps []Step, plots []Plot) {
	states := make([]scout.BedState, len(plots))
	for i, p := range plots {
		states[i] = scout.BedState{ID: p.Decision.Bed, Covered: p.Decision.Covered.Mean, Order: p.Order}
	}
	place := make(map[garden.BedID]int, len(plots))
	for i, id := range scout.CleanFirst(states) {
		place[id] = i
	}
	worth := make(map[garden.MaterialID]float64)
	for _, s := range steps {
		if s.Kind == Treat {
			worth[s.Candidate.Material] += s.Worth
		}
	}
	phase := map[Kind]int{Look: 0, Remove: 1, Climate: 1, Treat: 2}
	slices.SortStableFunc(steps, func(a, b Step) int {
		spray := func(s Step) int { return phase[s.Kind] / 2 }
		if c := cmp.Compare(spray(a), spray(b)); c != 0 {
			return c
		}
		if spray(a) == 1 {
			ma, mb := a.Candidate.Material, b.Candidate.Material
			if c := cmp.Or(cmp.Compare(worth[mb], worth[ma]), cmp.Compare(ma, mb)); c != 0 {
				return c
			}
		}
		return cmp.Or(cmp.Compare(place[a.Bed], place[b.Bed]), cmp.Compare(phase[a.Kind], phase[b.Kind]))
	})
}
