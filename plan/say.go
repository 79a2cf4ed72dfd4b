package plan

import (
	_ "embed" // the sentences
	"fmt"
	"math"
	"strconv"
	"strings"

	"oidium/belief"
	"oidium/words"
)

//go:embed data/words.tsv
var wordsText string

var sentences = words.Lazy(&wordsText)

// say returns the sentence with the given key; pairs are names of gaps and what
// goes there.
func say(key string, pairs ...string) string { return sentences().Fill(key, pairs) }

// Words are the sentences of a decision; an empty one has nothing to say.
type Words struct {
	Headline string   // the verdict
	Reason   string   // why, in one sentence
	Sure     string   // how sure
	Second   string   // runner-up and margin
	Waiting  string   // what some days of waiting cost
	Flip     string   // what find would turn it over
	Missing  string   // what an answer would open up
	Due      string   // the look that is due
	DueWhy   string   // and why
	Notes    []string // what is assumed, and that nobody has looked
}

// Words puts a decision into sentences; money is the name of the user's money.
func (d Decision) Words(money string) Words {
	cash := func(v float64) string { return amount(v) + " " + money }
	l := d.Look
	size := []string{"leaves", strconv.Itoa(l.Leaves), "per", strconv.Itoa(l.PerPlant), "plants", strconv.Itoa(l.Plants)}
	days := strconv.Itoa(d.WaitDays)
	var w Words
	switch d.Verdict {
	case DoNothing:
		w.Headline = say("head.nothing", "next", fmt.Sprintf("%s, %s", d.NextLook.Weekday(), d.NextLook))
		w.Reason = say("why.nothing", "alone", cash(d.Alone.Mean))
		switch {
		case d.bed.Found && d.Due == nil && bestAction(d.tried()) >= 0:
			w.Reason = say("why.nothing-found", "passed", percent(belief.Exceed(d.bed.Incidence, d.bed.Weights, lookShare.V)), "alone", cash(d.Alone.Mean))
		case d.Alone.Mean < 1:
			w.Reason = say("why.nothing-small", "money", money)
		case len(d.bed.Candidates) > 0 && bestAction(d.tried()) < 0:
			w.Reason = say("why.barred", "alone", cash(d.Alone.Mean))
		}
	case DoLook, CannotTell:
		w.Headline = say("head."+string(d.Verdict), size...)
		w.Reason = say("why.look", "leaves", strconv.Itoa(l.Leaves), "minutes", amount(math.Ceil(l.Minutes)), "gain", cash(l.Gain))
		if d.bed.Doubt {
			w.Reason = say("why.doubt")
		}
	case PastRescue:
		saved := 0.0
		for i := range d.Ranked {
			saved = math.Max(saved, d.Ranked[i].Saved.Mean)
		}
		w.Headline = say("head.past-rescue")
		w.Reason = say("why.past-rescue", "covered", percent(d.Covered.Mid), "saved", cash(saved), "alone", cash(d.Alone.Mean))
	case SeasonOver:
		w.Headline = say("head.season-over")
		w.Reason = say("why.season-over", "left", strconv.Itoa(d.bed.DaysLeft))
	case DoWait:
		today := d.Best.Candidate
		today.InDays = 0
		in := strconv.Itoa(d.Best.InDays)
		w.Headline = say("head.wait", "act", act(&today), "days", in)
		w.Reason = say("why.wait", "days", in, "wait", cash(-d.Waiting.Mean))
		if d.Best.NotNow != "" {
			w.Reason = say("why.not-now", "why", d.Best.NotNow, "days", in, "saved", cash(d.Best.Saved.Mean), "alone", cash(d.Alone.Mean))
		}
	default:
		w.Headline = say("head.act", "act", act(&d.Best.Candidate))
		w.Reason = say("why.act", "saved", cash(d.Best.Saved.Mean), "alone", cash(d.Alone.Mean), "cost", cash(d.Best.Cost+d.Best.Labour))
	}
	right := 1 - d.Wrong
	key := "sure.low"
	switch {
	case right >= 0.9: // numerical: the words of the three steps
		key = "sure.high"
	case right >= 1-wrongEnough.V:
		key = "sure.fair"
	}
	hundred := func(p float64) string { return strconv.Itoa(int(math.Round(100 * p))) }
	w.Sure = say(key, "right", hundred(right))
	switch {
	case d.bed.Doubt:
		w.Sure = say("sure.doubt")
	case bestAction(d.tried()) < 0:
		w.Sure = ""
	case d.Best.Kind == Look:
		w.Sure = say("sure.look", "right", hundred(right), "after", hundred(1-l.WrongAfter))
	}
	switch {
	case d.Second == nil && !d.bed.Doubt:
		w.Second = say("second.none")
	case d.Second != nil:
		w.Second = say("second", "act", act(&d.Second.Candidate), "margin", cash(d.Margin))
	}
	if i := bestAction(d.tried()); d.Waiting != nil && i >= 0 {
		best := act(&d.tried()[i].Candidate)
		w.Waiting = say("wait.free", "days", days, "act", best)
		if d.Waiting.Mean >= 0.05 { // numerical: less is printed as nothing
			w.Waiting = say("wait.cost", "days", days, "act", best, "wait", cash(d.Waiting.Mean), "low", cash(d.Waiting.Low), "high", cash(d.Waiting.High))
		}
	}
	if l := d.Due; l != nil {
		key := "why.routine"
		switch {
		case !d.LooksSeen:
			key = "why.first"
		case d.bed.Found:
			key = "why.again"
		}
		leaves := strconv.Itoa(l.Leaves)
		w.Due = say("head.look", "leaves", leaves, "per", strconv.Itoa(l.PerPlant), "plants", strconv.Itoa(l.Plants))
		w.DueWhy = say(key, "last", d.bed.LastLook.String(), "passed", percent(l.Passed), "most", percent(l.NoneMeans), "leaves", leaves)
	}
	w.Flip = d.flip()
	if m := d.Missing; m != nil {
		w.Missing = say("missing", "more", cash(m.Net.Mean-math.Max(0, d.Best.Net.Mean)), "act", act(&m.Candidate))
	}
	if !d.LooksSeen {
		w.Notes = append(w.Notes, say("unseen"))
	}
	if d.Assumed {
		w.Notes = append(w.Notes, say("assumed.wage", "wage", amount(d.Wage), "money", money))
	}
	return w
}

// tried are the actions of today that were run, best first, looks left out.
func (d Decision) tried() []Scored {
	var out []Scored
	for _, s := range d.Ranked {
		if !s.Barred && s.Kind != Look && s.InDays == 0 {
			out = append(out, s)
		}
	}
	return out
}

func act(c *Candidate) string {
	s := say("act."+string(c.Kind), "name", c.Name, "leaves", strconv.Itoa(c.Leaves))
	if c.First != nil {
		s = say("act.pair", "first", act(c.First), "act", s)
	}
	if c.InDays > 0 {
		return say("act.wait", "act", s, "days", strconv.Itoa(c.InDays))
	}
	return s
}

// Words are the step in a few words, and what is to be minded about it; money is
// the name of the user's money.
func (s Step) Words(money string) (title string, notes []string) {
	note := func(key string, pairs ...string) { notes = append(notes, say(key, pairs...)) }
	if w := s.Switched; w != nil {
		name := func(n string) string {
			if n == "" {
				return say("act.nothing")
			}
			return n
		}
		note("switch."+w.Why, "from", name(w.From), "to", name(w.To), "gain", amount(w.Gain)+" "+money)
	}
	if s.PickFirst {
		note("step.pick")
	}
	if s.Load > 0 {
		note("step.load", "load", strconv.Itoa(s.Load))
	}
	if s.Shares {
		note("step.shares")
	}
	if s.Marked > 0 {
		note("step.marked", "leaves", strconv.Itoa(s.Marked))
	}
	return act(&s.Candidate), notes
}

func (d Decision) flip() string {
	f := d.Flip
	leaves := strconv.Itoa(f.Leaves)
	if f.None {
		return say("flip.none", "leaves", leaves)
	}
	key := "flip.most"
	if f.AtLeast {
		key = "flip.least"
	}
	return say(key, "found", strconv.Itoa(f.Found), "leaves", leaves, "act", act(&f.To), "chance", percent(f.Chance))
}

// amount prints a sum so that it can be read: whole above ten, one decimal below.
func amount(v float64) string {
	if math.Abs(v) >= 10 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	s := strconv.FormatFloat(v, 'f', 1, 64)
	if s == "-0.0" {
		s = "0.0"
	}
	return strings.TrimSuffix(s, ".0")
}

func percent(share float64) string {
	if share > 0 && share < 0.01 {
		return "below 1 %"
	}
	return strconv.FormatFloat(100*share, 'f', 0, 64) + " %"
}
