package plan

import (
	"slices"

	"oidium/belief"
	"oidium/cite"
	"oidium/garden"
	"oidium/scout"
)

// Kind is what kind of thing a candidate is.
type Kind string

// The kinds.
const (
	Nothing Kind = "nothing" // leave the bed alone
	Look    Kind = "look"
	Remove  Kind = "remove" // take leaves off
	Treat   Kind = "treat"
	Climate Kind = "climate" // vents, water, light, heat
)

// Check is one rule and what it says of a candidate. Outcomes are "ok",
// "caution", "ask" (something unknown must be entered first) and "refused"; the
// last two bar the candidate today.
type Check struct {
	Rule    string
	Outcome string
	Reason  string
	Source  string
	Grade   cite.Grade
}

// Candidate is something that could be done in a bed today.
type Candidate struct {
	Kind     Kind
	Name     string            // as the user reads it
	Material garden.MaterialID // of a treatment
	Effects  []garden.Effect
	Minutes  float64 // of work
	Cost     float64 // of material, in the user's money
	Leaves   int     // to look at or to take off
	InDays   int     // days from today; [Decide] adds the best action put off
	NotNow   string  // why it cannot be done before InDays, such as wind; empty when it can
	Checks   []Check // rules looked at

	// For the pass over the whole garden; zero when not known.
	SetUp   float64 // of Minutes, what is needed once for all beds treated with the material today: mixing, cleaning
	Litres  float64 // of mix
	Amount  float64 // of product, g or mL
	Repeats bool    // uses the mode of action that was used last in the same air, and should not be used again

	// First is done before it on the same day; [Decide] pairs taking leaves off
	// with a treatment where [Bed].Pairs asks for it.
	First *Candidate
}

// barred tells whether a rule refuses the candidate, and whether all that stands
// in its way is something to be entered.
func (c *Candidate) barred() (barred, ask bool) {
	refused := false
	for _, k := range c.Checks { // a pair has the checks of both
		switch k.Outcome {
		case "refused":
			refused = true
		case "ask":
			ask = true
		}
	}
	return refused || ask, ask && !refused
}

// Trial runs the ensemble of a bed with the effects, neighbours as they are, and
// returns for each member what is lost of the harvest from today to the end of
// the season or horizon, in the user's money, and the share of leaf area covered
// at the end of the horizon. Members are the same, under the same chance, at
// every call; nil effects leave the bed alone.
type Trial func(effects []garden.Effect) (lossPerMember, sevPerMember []float64)

// Bed is what is known of a bed this morning.
type Bed struct {
	ID         garden.BedID
	Day        garden.Day
	Trial      Trial
	Weights    []float64 // of the members, sum 1
	Candidates []Candidate

	Worth    float64 // of the harvest still to come, in the user's money
	Wage     float64 // of an hour, in the user's money; 0 not stated
	Burden   string  // "light", "normal", "heavy"; "" normal
	DaysLeft int     // to the last picking; below 0 not known

	// Covered and Incidence are of this morning, by member: share of leaf area
	// with visible mildew, and share of the leaves that a look would choose with
	// mildew on either face. Ahead is Incidence of the coming days, tomorrow
	// first; it may be empty.
	Covered   []float64
	Incidence []float64
	Ahead     [][]float64

	LastLook garden.Day // 0: nobody has looked
	Found    bool       // mildew has been found this season
	NoLeaf   bool       // nothing is in leaf that could be looked at
	Doubt    bool       // spots were seen and nobody could tell what they are
	Plants   int        // in the bed, 0 not known
	Eye      scout.Look // of the look to come; the zero value: plain eye, sure
	Pairs    bool       // try the best removal of leaves together with the best treatment
}

// Scored is a candidate with what it is worth.
type Scored struct {
	Candidate
	Tried  bool        // it was run; a candidate that a rule refuses is not
	Barred bool        // by a rule; see Checks
	Saved  belief.Band // of the harvest, against leaving alone
	Net    belief.Band // expected gain over leaving alone is Net.Mean
	Labour float64     // minutes x wage x burden
	Better float64     // chance that it beats leaving alone
	Sev    belief.Band // share of leaf covered at the end of the horizon

	net, saved []float64 // by member
}

func labour(b *Bed, minutes float64) float64 {
	wage := b.Wage
	if wage <= 0 {
		wage = wageAssumed.V
	}
	switch b.Burden {
	case "light":
		wage *= burdenLight.V
	case "heavy":
		wage *= burdenHeavy.V
	}
	return minutes / 60 * wage
}

// score runs a candidate against the losses of leaving alone.
func score(b *Bed, c Candidate, alone []float64, effects []garden.Effect) Scored {
	s := Scored{Candidate: c, Labour: labour(b, c.Minutes)}
	var ask bool
	s.Barred, ask = c.barred()
	if s.Barred && !ask {
		return s
	}
	loss, sev := b.Trial(effects)
	s.Tried = true
	s.net, s.saved = make([]float64, len(alone)), make([]float64, len(alone))
	for m := range alone {
		s.saved[m] = alone[m] - loss[m]
		s.net[m] = s.saved[m] - c.Cost - s.Labour
	}
	s.Saved, s.Net = belief.BandOf(s.saved, b.Weights), belief.BandOf(s.net, b.Weights)
	s.Better = belief.Exceed(s.net, b.Weights, 0)
	s.Sev = belief.BandOf(sev, b.Weights)
	return s
}

// paired puts a removal of leaves before a treatment on the same day.
func paired(remove, treat Candidate) Candidate {
	c := treat
	c.First = &remove
	c.Effects = slices.Concat(remove.Effects, treat.Effects)
	c.Minutes += remove.Minutes
	c.Cost += remove.Cost
	c.Leaves = remove.Leaves
	c.Checks = slices.Concat(remove.Checks, treat.Checks)
	return c
}

// later returns the effects moved by days. A deposit made later also protects
// the leaf that unfolds until then.
func later(effects []garden.Effect, days garden.Day) []garden.Effect {
	out := slices.Clone(effects)
	for i := range out {
		out[i].Day += days
		if out[i].Since != 0 {
			out[i].Since += days
		}
	}
	return out
}
