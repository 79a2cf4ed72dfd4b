package print

import (
	"io"
	"strings"

	"oidium/internal/work"
)

// answer is the answer to one question, made ready to print as plain text of at
// most 80 columns.
type answer struct {
	*sheet
	*paper
}

func newAnswer(w io.Writer, about work.About) (*answer, error) {
	p, err := load()
	if err != nil {
		return nil, err
	}
	// A sheet without jobs lends its words for dates, shares and sources.
	s := &sheet{phrases: p, Round: &work.Round{Date: about.Date, AsOf: about.AsOf, Garden: about.Garden}}
	if about.Bed != "" {
		s.Beds = []work.BedReport{{Bed: about.Bed, Name: about.BedName, Crop: about.Crop, Cultivar: about.Cultivar}}
	}
	return &answer{sheet: s, paper: &paper{out: w}}, nil
}

// head writes what is asked, for which morning, and of which bed.
func (a *answer) head(title string) {
	a.ends("", title, a.day(a.Date, true))
	a.line(strings.Repeat("-", textWidth))
	switch {
	case len(a.Beds) > 0:
		a.para("", a.say("answer.of-bed", "bed", a.bedName(a.Beds[0].Bed), "crop", a.crop(&a.Beds[0]), "garden", a.gardenName()))
	case a.Garden.Name != "":
		a.para("", a.gardenName())
	}
}

// part writes the name of a part.
func (a *answer) part(name string) { a.paper.title(name) }

// blank leaves a line free.
func (a *answer) blank() { a.line("") }

// texts writes sentences, each on its own lines.
func (a *answer) texts(head string, list []string) {
	for _, t := range list {
		a.para(head, a.prose(t))
	}
}

// foot writes what the answer rests on and what to mind.
func (a *answer) foot(g work.Grounds) error {
	if len(g.Cautions) > 0 {
		a.part(a.say("title.cautions"))
		a.texts("  - ", g.Cautions)
	}
	if len(g.Warnings) > 0 {
		a.part(a.say("title.warnings"))
		for _, w := range g.Warnings {
			a.para("  - ", a.warning(w.Bed, w.Text))
		}
	}
	a.Assumed, a.Sources = g.Assumed, g.Sources
	a.textAssumed(a.paper, true)
	a.textSources(a.paper)
	return a.paper.err
}

// checks writes rules by outcome: what refuses, what asks, what is to be minded,
// and the names of those that are met with their reasons.
func (a *answer) checks(list []work.Check, met bool) {
	for _, outcome := range []string{"refused", "ask", "caution", "ok"} {
		if outcome == "ok" && !met {
			continue
		}
		first := true
		for _, c := range list {
			if c.Outcome != outcome {
				continue
			}
			if first {
				a.part(a.word("checks", outcome))
				first = false
			}
			text := a.say("answer.rule", "rule", clean(c.Rule), "reason", a.prose(c.Reason))
			if o := a.origin(c.Source, c.Grade); o != "" {
				text += " [" + o + "]"
			}
			a.para("  - ", text)
		}
	}
}

// verdict writes the verdict of the rules and its reason.
func (a *answer) verdict(verdict, reason string) {
	a.para("", a.say("answer.verdict", "verdict", a.word("allowed", verdict), "reason", sentence(a.prose(reason))))
}

// recipient writes under whose law and role it was judged.
func (a *answer) recipient(r work.Recipient) {
	country, role := clean(r.Country), clean(string(r.Role))
	if country == "" {
		country = a.say("answer.unknown")
	}
	if role == "" {
		role = a.say("answer.unknown")
	}
	if r.Other {
		a.para("", a.say("answer.recipient-other", "country", country, "role", role))
		return
	}
	a.para("", a.say("answer.recipient", "country", country, "role", role))
}
