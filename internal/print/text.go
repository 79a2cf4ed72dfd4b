package print

import (
	"io"
	"strings"

	"oidium/internal/work"
)

// textWidth is the most columns a line of text takes.
const textWidth = 80

// Text writes the round as plain text of at most 80 columns, without colour:
// the headline, the jobs of today in their order, what can wait, one line for
// each bed, and what all of it rests on. Errors are those of w.
func Text(w io.Writer, r *work.Round) error {
	s, err := newSheet(r)
	if err != nil {
		return err
	}
	p := &paper{out: w}
	s.textHead(p)
	s.textJobs(p)
	s.textLater(p)
	s.textBeds(p)
	s.textNotes(p)
	return p.err
}

// paper writes lines and keeps the first error.
type paper struct {
	out io.Writer
	err error
}

func (p *paper) line(s string) {
	if p.err != nil {
		return
	}
	s = strings.TrimRight(strings.ReplaceAll(s, nb, " "), " ")
	_, p.err = io.WriteString(p.out, s+"\n")
}

// para writes text broken to the width: the first line after head, the others
// under the text of the first.
func (p *paper) para(head, text string) {
	indent := strings.Repeat(" ", columns(head))
	for i, l := range fill(text, textWidth-len(indent)) {
		if i == 0 {
			p.line(head + l)
		} else {
			p.line(indent + l)
		}
	}
}

// title writes the name of a part.
func (p *paper) title(s string) {
	p.line("")
	p.line(cut(strings.ToUpper(s), textWidth))
}

// ends writes one text at the left and one at the right of its first line.
func (p *paper) ends(head, left, right string) {
	right = cut(right, textWidth/2)
	room := textWidth - columns(head)
	if right != "" {
		room -= columns(right) + 2
	}
	for i, l := range fill(left, room) {
		if i == 0 && right != "" {
			l += strings.Repeat(" ", room-columns(l)+2) + right
		}
		if i > 0 {
			head = strings.Repeat(" ", columns(head))
		}
		p.line(head + l)
	}
}

// labelWidth is the room of the words in front of the lines of a job.
const labelWidth = 9

// item writes a word and what it is about, indented under a job; nothing where
// there is nothing to say.
func (p *paper) item(label, text string) {
	if text == "" {
		return
	}
	p.para("    "+pad(label, labelWidth-1)+" ", text)
}

func (s *sheet) textHead(p *paper) {
	p.ends("", s.gardenName(), s.day(s.Date, true))
	p.line(strings.Repeat("-", textWidth))
	p.para("", s.prose(s.Headline))
	p.line("")
	if sky := s.sky(); sky != "" {
		p.para("", sky)
	}
	if effort := s.effort(); effort != "" {
		p.para("", effort)
	}
	p.para("", s.say("law"))
}

func (s *sheet) textJobs(p *paper) {
	if len(s.today) == 0 {
		return
	}
	p.title(s.say("title.today"))
	for i, j := range s.today {
		p.line("")
		head := pad(s.say("number", "n", i+1), 4)
		p.ends(head, s.jobTitle(j), s.spent(j))
		s.textJob(p, j)
	}
}

func (s *sheet) jobTitle(j work.Job) string {
	bed := s.jobBed(j)
	if bed == "" {
		return s.title(j)
	}
	return s.say("job.title", "bed", bed, "title", s.title(j))
}

func (s *sheet) textJob(p *paper, j work.Job) {
	p.item(s.say("label.hours"), s.windows(j.Windows, s.Date))
	if len(j.Windows) == 0 && j.Until != "" {
		p.item(s.say("label.until"), s.day(j.Until, false))
	}
	p.item(s.which(j), s.leaves(j))
	if j.Mix != nil {
		p.item(s.say("label.mix"), s.mix(j)+" ["+s.origin(j.Mix.Source, j.Mix.Grade)+"]")
		p.item("", sentence(s.prose(j.Mix.Comment)))
	}
	why := sentence(s.prose(j.Reason))
	if o := s.origin(j.Source, j.Grade); o != "" {
		why += " [" + o + "]"
	}
	p.item(s.say("label.why"), why)
	p.item(s.say("label.sure"), sentence(s.prose(j.Sure)))
	p.item(s.say("label.flip"), sentence(s.prose(j.Flip)))
	p.item(s.say("label.worth"), s.worth(j.Net))
	p.item(s.say("label.notes"), s.notes(j))
	for i, c := range s.once(j.Cautions) {
		label := ""
		if i == 0 {
			label = s.say("label.mind")
		}
		p.item(label, c)
	}
}

func (s *sheet) textLater(p *paper) {
	if len(s.later) == 0 {
		return
	}
	p.title(s.say("title.later"))
	for _, j := range s.later {
		p.para("  ", s.laterLine(j))
		p.item("", s.prose(j.Reason))
	}
}

// laterLine is a job that can wait: until when, where, what, how long.
func (s *sheet) laterLine(j work.Job) string {
	job := s.jobTitle(j)
	if m := s.spent(j); m != "" {
		job = s.say("later.job", "job", job, "minutes", m)
	}
	if j.Until == "" {
		return s.say("later.any", "job", job)
	}
	return s.say("later.until", "day", s.day(j.Until, false), "job", job)
}

// The columns of the table of beds; one space stands between them.
const (
	colOrder   = 3
	colBed     = 26
	colCovered = 25
	colLook    = 10
	colVerdict = textWidth - colOrder - colBed - colCovered - colLook - 4
)

func (s *sheet) textBeds(p *paper) {
	p.title(s.say("title.beds"))
	if len(s.Beds) == 0 {
		p.para("  ", s.say("beds.none"))
		return
	}
	row := func(order, bed, covered, look, verdict string) {
		p.line(strings.Join([]string{
			strings.Repeat(" ", max(0, colOrder-1-columns(order))) + order + " ",
			pad(bed, colBed), pad(covered, colCovered), pad(look, colLook), cut(verdict, colVerdict),
		}, " "))
	}
	row("", s.say("col.bed"), s.say("col.covered"), s.say("col.look"), s.say("col.verdict"))
	for i := range s.Beds {
		b := &s.Beds[i]
		row(cut(fixed(float64(b.Order), 0), colOrder-1), s.bedName(b.Bed), s.covered(b), s.lastLook(b), s.word("verdict", b.Verdict))
	}
	p.para("  ", s.say("beds.note"))
	for i := range s.Beds {
		if pick := s.picking(&s.Beds[i]); pick != "" {
			p.para("  ", s.say("bed.says", "bed", s.bedName(s.Beds[i].Bed), "text", pick))
		}
	}
}

func (s *sheet) textNotes(p *paper) {
	if len(s.Warnings) > 0 {
		p.title(s.say("title.warnings"))
		for _, w := range s.Warnings {
			p.para("  - ", s.warning(w.Bed, w.Text))
		}
	}
	s.textAssumed(p, false)
	p.title(s.say("title.weather"))
	for _, text := range s.weatherNotes() {
		p.para("  ", text)
	}
	p.title(s.say("title.cautions"))
	for _, c := range s.cautions {
		p.para("  - ", c)
	}
	s.textSources(p)
	p.line("")
	p.para("", s.foot())
}

func (s *sheet) textAssumed(p *paper, all bool) {
	list := s.taken(all)
	if len(list) == 0 {
		return
	}
	p.title(s.say("title.assumed"))
	for _, a := range list {
		p.para("  - ", s.assumed(a))
	}
}

func (s *sheet) textSources(p *paper) {
	if len(s.Sources) == 0 {
		return
	}
	p.title(s.say("title.sources"))
	for _, c := range s.Sources {
		p.para("  ", s.source(c.ID, c.Text, c.DOI))
	}
}
