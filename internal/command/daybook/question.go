package daybook

import (
	_ "embed" // the questions
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"oidium/garden"
	"oidium/internal/ledger"
)

// question is what is asked of a field when somebody is at the keyboard. The
// other fields of a kind are there for field=value.
type question struct {
	field, words string
	// start tells where the value in brackets comes from, the first that gives one:
	// "last", the last time's value in that bed; "standing", the value that holds;
	// "=x", the word x; "next", "here", "planting", "walk" of their own making. "must"
	// wants an answer where the ledger alone would do without.
	start []string
	// only limits the question: "field=value" as answered before, "field" if
	// answered with more than 0, "!field" if not answered, "tunnel" for a bed in a tunnel, "found" when the
	// tally found mildew.
	only string
}

//go:embed questions.tsv
var questionsTSV string

// questionsOf returns the questions of a kind in their order.
func questionsOf(kind string) []question {
	var out []question
	for _, line := range strings.Split(questionsTSV, "\n")[1:] {
		c := strings.Split(line, "\t")
		if len(c) == 5 && c[0] == kind {
			q := question{field: c[1], words: c[2], only: c[4]}
			if c[3] != "" {
				q.start = strings.Split(c[3], "|")
			}
			out = append(out, q)
		}
	}
	return out
}

// asked tells whether the question makes sense after the answers so far.
func (d *Draft) asked(q question) bool {
	name, value, ok := strings.Cut(q.only, "=")
	without, not := strings.CutPrefix(q.only, "!")
	switch {
	case not:
		return get(d.Body, without) == nil
	case q.only == "":
		return true
	case q.only == "tunnel":
		return slices.ContainsFunc(d.page.garden.Beds, func(b garden.Bed) bool { return string(b.ID) == d.Bed && b.Shelter == "tunnel" })
	case q.only == "found":
		counts, err := d.counts()
		return err == nil && slices.ContainsFunc(counts, func(c ledger.Count) bool { return c.Infected > 0 })
	case ok:
		return get(d.Body, name) == value
	}
	n, _ := get(d.Body, name).(json.Number)
	v, err := n.Float64()
	return err == nil && v > 0
}

// must tells whether an answer is wanted.
func (q question) must(f *field) bool { return f.required || slices.Contains(q.start, "must") }

// begins returns the value in brackets, nil when there is none. holds tells that
// it holds already and need not be stated again.
func (d *Draft) begins(q question, f *field) (v any, holds bool) {
	for _, s := range q.start {
		v = nil
		word, literal := strings.CutPrefix(s, "=")
		switch {
		case literal:
			v, _ = d.value(f, word)
		case s == "last":
			v = d.lastOf(q.field)
		case s == "standing":
			v = d.standing()[q.field]
		default:
			v = d.made(s)
		}
		if v != nil {
			return v, s == "standing"
		}
	}
	return nil, false
}

// lastOf returns the value a field had last time: of words in that bed or else
// anywhere, of numbers in that bed only and with that material only, for amounts
// go with both.
func (d *Draft) lastOf(name string) any {
	f, _ := find(d.form.fields, name)
	amount := f != nil && (f.shape == number || f.shape == integer)
	for _, here := range []bool{true, false} {
		if !here && amount {
			break
		}
		for _, e := range slices.Backward(d.page.held) {
			if e.Kind != d.form.kind || e.Body == nil || here && string(e.Bed) != d.Bed {
				continue
			}
			before, err := d.page.Correct(e)
			if err != nil || amount && d.Body["material"] != before.Body["material"] || name == "batch" && d.Body["material"] != before.Body["material"] {
				continue
			}
			if v := get(before.Body, name); v != nil {
				return v
			}
			break
		}
	}
	return nil
}

// keys are the fields that tell one thing of a kind from another.
var keys = map[string][]string{
	"planting": {"planting"}, "host": {"host"}, "heap": {"heap"}, "trial": {"trial"},
	"stock": {"material", "batch"}, "label": {"material", "crop"},
}

// standing returns the values that hold for the thing the draft is about: the
// last word of each field.
func (d *Draft) standing() map[string]any {
	out := map[string]any{}
	for _, e := range d.page.held {
		if e.Kind != d.form.kind || e.Body == nil || string(e.Bed) != d.Bed {
			continue
		}
		before, err := d.page.Correct(e)
		if err != nil || slices.ContainsFunc(keys[d.form.kind], func(k string) bool {
			return before.Body[k] != d.Body[k]
		}) {
			continue
		}
		for k, v := range before.Body {
			out[k] = v
		}
	}
	return out
}

// made returns a default that the page makes.
func (d *Draft) made(what string) any {
	p := d.page
	switch what {
	case "here":
		if name := p.loc.String(); name != "Local" && name != "" {
			return name
		}
	case "next":
		n := 0
		for _, b := range p.garden.Beds {
			n = max(n, b.Order)
		}
		return json.Number(fmt.Sprint(n + 1))
	case "planting":
		for _, x := range slices.Backward(p.garden.Plantings) {
			if string(x.Bed) == d.Bed && x.Cleared == 0 {
				return string(x.ID)
			}
		}
		if d.form.kind == "planting" {
			return fmt.Sprintf("%s-%d", d.Bed, p.today().Year())
		}
	}
	return nil
}
