package command

import (
	"cmp"
	"fmt"
	"io"

	"oidium/internal/command/daybook"
	"oidium/internal/work"
)

type shedCmd struct {
	book
	Date string `help:"Morning to look at the shed, 06:00 there; today if not given." placeholder:"DATE"`
	JSON bool   `help:"Print JSON (its schema: oidium schema shed)."`
}

func (c *shedCmd) Run(s *streams) error {
	db, entries, err := c.openBook(s.ctx)
	if err != nil {
		return err
	}
	defer db.Close()
	page, err := daybook.Open(entries, s.now())
	if err != nil {
		return err
	}
	day, err := page.Day(cmp.Or(c.Date, "today"))
	if err != nil {
		return fmt.Errorf("--date: %w", err)
	}
	r, err := work.ShedOf(entries, day)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s.out, r)
	}
	return shed(s.out, page, r)
}

func shed(w io.Writer, page *daybook.Page, r *work.Shed) error {
	p := &plainText{out: w}
	p.line("The shed%s on the morning of %s", of(r.Garden), page.DayText(r.Date))
	if len(r.Items) == 0 {
		p.line("Nothing stands in the shed, and no label was read.")
		p.line("  Enter what stands there: oidium write stock")
	}
	for _, it := range r.Items {
		p.line("")
		name := it.Name
		if name != it.Material {
			name += " [" + it.Material + "]"
		}
		if it.FRAC != "" && it.FRAC != "none" {
			name += ", group " + it.FRAC
		}
		p.para("", name)
		if len(it.Packs) == 0 {
			p.line("  none in the shed")
		}
		for _, pack := range it.Packs {
			p.para("  ", packLine(page, pack, r.Money))
		}
		for _, l := range it.Labels {
			head := "every crop on it"
			if l.Crop != "" {
				head = l.Crop
			}
			p.line("  Label for %s, read %s", head, page.DayText(l.Read))
			for _, v := range l.Values {
				text := v.Text
				if !v.Known {
					text = "unknown: read the label"
				}
				p.para(fmt.Sprintf("    %-42s ", v.What), text)
			}
		}
		if len(it.Labels) == 0 {
			p.para("  ", it.Missing[0])
		}
		p.cautions(it.Cautions)
	}
	for _, x := range r.Warnings {
		p.line("")
		p.para("Look: ", x.Text)
	}
	p.line("")
	p.cautions(r.Cautions)
	if len(r.Items) > 0 {
		p.para("", "What is unknown blocks: it is never guessed. Enter it with: oidium write label MATERIAL")
	}
	return p.err
}

func of(name string) string {
	if name == "" {
		return ""
	}
	return " of " + name
}

// packLine is a pack in one sentence.
func packLine(page *daybook.Page, x work.Pack, money string) string {
	s := "Pack"
	if x.Product != "" {
		s += " " + x.Product
	}
	if x.Batch != "" {
		s += ", batch " + x.Batch
	}
	if x.Amount != nil {
		s += fmt.Sprintf(": %g %s on %s", *x.Amount, x.Unit, page.DayText(x.Stated))
		if x.Used > 0 {
			s += fmt.Sprintf(" (%g g or mL used since, of all packs)", 1000*x.Used)
		}
	} else {
		s += ": how much is left was not stated"
	}
	if x.Opened != "" {
		s += "; opened " + page.DayText(x.Opened)
	}
	switch {
	case x.Expired:
		s += "; NOT TO BE USED after " + page.DayText(x.Expires)
	case x.Expires != "":
		s += "; good until " + page.DayText(x.Expires)
	}
	if x.Price != nil {
		s += fmt.Sprintf("; %g %s for a kg or L", *x.Price, money)
	}
	return s + "."
}
