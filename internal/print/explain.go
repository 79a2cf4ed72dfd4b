package print

import (
	"fmt"
	"io"
	"strings"

	"oidium/garden"
	"oidium/internal/work"
)

// Explain writes how the answer for one bed came about, as plain text of at
// most 80 columns: what is believed, the days ahead, every candidate with the
// rules that refused it, and the values that were taken as usual with their
// origin. It is an error when the round has no such bed.
func Explain(w io.Writer, r *work.Round, bed garden.BedID) error {
	s, err := newSheet(r)
	if err != nil {
		return err
	}
	var b *work.BedReport
	var have []string
	for i := range s.Beds {
		if s.Beds[i].Bed == bed || strings.EqualFold(s.Beds[i].Name, string(bed)) {
			b = &s.Beds[i]
		}
		have = append(have, fmt.Sprintf("%q", s.Beds[i].Bed))
	}
	if b == nil {
		if len(have) == 0 {
			return fmt.Errorf("explaining bed %q: the garden has no beds yet; enter one first", bed)
		}
		return fmt.Errorf("explaining bed %q: there is no such bed; the beds are %s", bed, strings.Join(have, ", "))
	}
	p := &paper{out: w}
	p.ends("", s.bedName(b.Bed), s.day(s.Date, true))
	p.line(strings.Repeat("-", textWidth))
	p.para("", s.say("explain.verdict", "verdict", s.word("verdict", b.Verdict), "reason", s.prose(b.Reason)))
	s.explainBelief(p, b)
	s.explainDays(p, b)
	s.explainTried(p, b)
	s.textAssumed(p, true)
	p.title(s.say("title.weather"))
	for _, text := range s.weatherNotes() {
		p.para("  ", text)
	}
	p.title(s.say("title.cautions"))
	for _, c := range s.cautions {
		p.para("  - ", c)
	}
	s.textSources(p)
	return p.err
}

// factWidth is the room of the words in front of a fact.
const factWidth = 28

func (p *paper) fact(name, text string) {
	if text != "" {
		p.para("  "+pad(name, factWidth)+" ", text)
	}
}

// facts are the numbers of a bed, each with its name.
func (s *sheet) facts(b *work.BedReport) [][2]string {
	if b.Crop == "" {
		return [][2]string{
			{s.say("fact.crop"), s.crop(b)},
			{s.say("fact.ground"), s.say("ground", "area", short(b.AreaM2), "shelter", s.word("shelter", b.Shelter))},
		}
	}
	return [][2]string{
		{s.say("fact.crop"), s.crop(b)},
		{s.say("fact.ground"), s.say("ground", "area", short(b.AreaM2), "shelter", s.word("shelter", b.Shelter))},
		{s.say("fact.leaf"), s.band(b.LeafArea, "m²")},
		{s.say("fact.look"), s.lastLook(b)},
		{s.say("fact.covered"), s.shares(b.Covered)},
		{s.say("fact.upper"), s.shares(b.Upper)},
		{s.say("fact.lower"), s.shares(b.Lower)},
		{s.say("fact.incidence"), s.shares(b.Incidence)},
		{s.say("fact.doubling"), s.doubling(b)},
		{s.say("fact.waiting"), s.waiting(b)},
		{s.say("fact.pick"), s.picking(b)},
	}
}

func (s *sheet) waiting(b *work.BedReport) string {
	if b.Waiting == nil {
		return ""
	}
	return s.band(*b.Waiting, s.money(s.Round))
}

// belief is one mildew of a bed in a line.
func (s *sheet) belief(m work.Belief) string {
	text := s.say("belief", "name", clean(m.Name), "probability", s.share(m.Probability),
		"covered", s.shares(m.Covered), "ess", fixed(m.ESS, 0))
	if m.Temper != 0 && m.Temper < 1 {
		text += " " + s.say("belief.tempered", "raw", fixed(m.RawESS, 0), "temper", short(m.Temper))
	}
	return text
}

func (s *sheet) explainBelief(p *paper, b *work.BedReport) {
	p.title(s.say("title.belief"))
	p.para("  ", s.prose(b.Looked))
	for _, f := range s.facts(b) {
		p.fact(f[0], f[1])
	}
	for _, m := range b.Mildews {
		p.para("  - ", s.belief(m))
		s.explainLearned(p, m)
	}
}

// explainLearned writes what the looks say about the parameters of a mildew: those
// they told something of, and the names of the others.
func (s *sheet) explainLearned(p *paper, m work.Belief) {
	if len(m.Learned) == 0 {
		return
	}
	var silent []string
	for _, l := range m.Learned {
		if !l.Told {
			silent = append(silent, s.prose(l.Name))
			continue
		}
		unit := clean(l.Unit)
		if unit == "1" {
			unit = ""
		}
		text := s.say("learned", "name", s.prose(l.Name), "what", s.prose(l.What), "before", s.band(l.Before, unit), "now", s.band(l.Now, unit))
		if l.Strained {
			text += " " + s.say("learned.strained")
		}
		p.para("    - ", text)
	}
	if len(silent) > 0 {
		p.para("    - ", s.say("learned.silent", "names", strings.Join(silent, ", ")))
	}
}

func (s *sheet) explainDays(p *paper, b *work.BedReport) {
	if len(b.Alone) == 0 {
		return
	}
	p.title(s.say("title.days"))
	if flat := s.flat(b); flat != "" {
		p.para("  ", flat)
		return
	}
	two := planned(b)
	row := func(day, alone, plan string) {
		p.line("  " + pad(day, 14) + pad(alone, 30) + cut(plan, textWidth-2-14-30))
	}
	plan := ""
	if two {
		plan = s.say("col.planned")
	} else {
		p.para("  ", s.say("days.same"))
	}
	row(s.say("col.day"), s.say("col.alone"), plan)
	for i, d := range b.Alone {
		plan := ""
		if two && i < len(b.Planned) {
			plan = s.shares(b.Planned[i].Band)
		}
		row(s.shortDay(d.Date), s.shares(d.Band), plan)
	}
}

// check is a rule with its reason and origin.
func (s *sheet) check(c work.Check) string {
	text := s.say("check", "outcome", s.word("outcome", c.Outcome), "rule", clean(c.Rule), "reason", s.prose(c.Reason))
	if o := s.origin(c.Source, c.Grade); o != "" {
		text += " [" + o + "]"
	}
	return text
}

// triedLine is a candidate with what it brings and costs.
func (s *sheet) triedLine(t work.Tried) string {
	money := s.money(s.Round)
	text := s.say("tried", "net", s.band(t.Net, money), "minutes", s.minutes(t.Minutes))
	if !t.Run {
		text = s.say("tried.not")
	}
	if t.Cost > 0 {
		text += ", " + s.say("tried.cost", "cost", short(t.Cost)+nb+money)
	}
	return text
}

func (s *sheet) explainTried(p *paper, b *work.BedReport) {
	if len(b.Tried) == 0 {
		return
	}
	p.title(s.say("title.tried"))
	p.para("  ", s.say("tried.note"))
	for i, t := range b.Tried {
		p.para(" "+pad(s.say("number", "n", i+1), 4), clean(t.Name))
		p.para("     ", s.triedLine(t))
		for _, c := range t.Refused {
			p.para("     - ", s.check(c))
		}
		if len(t.Checked) > 0 {
			p.para("     - ", s.met(t))
		}
	}
}

// met names the rules that were looked at and met; what each says is in the
// JSON of the round.
func (s *sheet) met(t work.Tried) string {
	list := make([]string, len(t.Checked))
	for i, c := range t.Checked {
		rule, _, _ := strings.Cut(c, ":")
		list[i] = clean(rule)
	}
	return s.say("tried.met", "rules", strings.Join(list, ", "))
}
