package diagnosis

import (
	"fmt"
	"slices"
	"strings"

	"oidium/garden"
)

// Host is the plant the key is used on.
type Host struct {
	Crop   garden.CropID // "" not known
	Family string        // as room host names it, "" not known
}

// Step is one question answered.
type Step struct {
	Question, Asked string // its id and its text
	Answer, Said    string
}

// Found are the fields of a diagnosis record that the answers settle; "" and nil
// are not settled.
type Found struct {
	Organ, Age, Face, Check          string
	RubsOff, Veins, Spreads, Residue *bool
}

// Result is how far the key has come.
type Result struct {
	Path    []Step
	Ask     *Question // next question; nil at an end
	Outcome *Outcome  // nil while something is to be asked
	Found   Found
}

// Way is the path as a record keeps it: the answers in their order.
func (r Result) Way() string {
	var out []string
	for _, s := range r.Path {
		out = append(out, s.Question+"="+s.Answer)
	}
	return strings.Join(out, " ")
}

// Follow goes through the key with the answers given so far, by id of the
// question, and comes to the next question or to an outcome. Answers to questions
// that the way does not meet are left alone. The error names an answer that the
// question does not have, with those it has.
func Follow(h Host, answers map[string]string) (Result, error) {
	k := theKey()
	if k.err != nil {
		return Result{}, k.err
	}
	var r Result
	surest := "sure"
	for at := k.questions[0].ID; ; {
		q := k.question(at)
		if q == nil {
			o := k.outcome(at, h)
			if !o.firm {
				o.Sure = less(o.Sure, surest)
			}
			r.Outcome = &o
			return r, nil
		}
		fit := q.forHost(h)
		said, ok := answers[at]
		if !ok {
			r.Ask = &fit
			return r, nil
		}
		i := slices.IndexFunc(fit.Answers, func(a Answer) bool { return a.ID == said })
		if i < 0 {
			return Result{}, fmt.Errorf("following the key: %q is no answer to %q (%s); the answers are %s", said, at, q.Text, strings.Join(fit.ids(), ", "))
		}
		a := fit.Answers[i]
		r.Path = append(r.Path, Step{q.ID, q.Text, a.ID, a.Text})
		r.Found.settle(a.sets)
		if a.cap != "" {
			surest = less(surest, a.cap)
		}
		at = a.to
	}
}

// ids returns the ids of the answers.
func (q Question) ids() []string {
	out := make([]string, len(q.Answers))
	for i, a := range q.Answers {
		out[i] = a.ID
	}
	return out
}

// forHost returns the question with the answers that fit the plant. An answer for
// the plant stands in for the one of the same id for all others.
func (q Question) forHost(h Host) Question {
	out := q
	out.Answers = nil
	for _, a := range q.Answers {
		if len(a.hosts) == 0 || h.among(a.hosts) {
			out.Answers = append(out.Answers, a)
		} else if a.hosts[0] == "*" && !slices.ContainsFunc(q.Answers, func(b Answer) bool { return b.ID == a.ID && h.among(b.hosts) }) {
			out.Answers = append(out.Answers, a)
		}
	}
	return out
}

func (h Host) among(hosts []string) bool {
	return slices.ContainsFunc(hosts, func(w string) bool { return w == string(h.Crop) || w == h.Family })
}

// outcome returns the outcome for the plant.
func (k *key) outcome(id string, h Host) Outcome {
	var out Outcome
	for _, o := range k.outcomes {
		if o.ID != id {
			continue
		}
		if len(o.hosts) == 0 || o.hosts[0] == "*" || h.among(o.hosts) {
			return o
		}
		out = o
	}
	return out
}

// settle fills in the fields that an answer settles; what was settled earlier is
// overruled, since later questions look closer.
func (f *Found) settle(sets [][2]string) {
	for _, s := range sets {
		yes := s[1] == "yes"
		switch s[0] {
		case "organ":
			f.Organ = s[1]
		case "age":
			f.Age = s[1]
		case "face":
			f.Face = s[1]
		case "check":
			f.Check = s[1]
		case "rubs_off":
			f.RubsOff = &yes
		case "vein_bounded":
			f.Veins = &yes
		case "spreads_3_days":
			f.Spreads = &yes
		case "residue":
			f.Residue = &yes
		}
	}
}
