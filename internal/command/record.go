package command

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"oidium/internal/command/daybook"
	"oidium/internal/ledger"
	"oidium/internal/record"
	"oidium/internal/work"
)

type recordCmd struct {
	book
	Rules  string `arg:"" optional:"" help:"Id of one set of rules, such as eu-2026. Without it: all that bind by country, role and what the site chose."`
	Date   string `help:"Of this day only." placeholder:"DATE" xor:"days"`
	From   string `help:"From this day on." placeholder:"DATE" xor:"days"`
	To     string `help:"Up to and with this day." placeholder:"DATE"`
	Bed    string `help:"Of this bed only." placeholder:"BED"`
	Entry  string `help:"Of this treatment only, by its id or the last characters of it." placeholder:"ID"`
	Codes  string `help:"List of EPPO codes as CSV with the columns code and name; without it only a few confirmed codes are known. The layout of the official list was not tried." placeholder:"FILE"`
	Notice bool   `help:"Print the notice to hang up for the people who work there." xor:"form"`
	Export string `help:"Print the records for handing out: csv or json." placeholder:"csv|json" xor:"form"`
	JSON   bool   `help:"Print the report as JSON (its schema: oidium schema records)." xor:"form"`
}

func (c *recordCmd) Run(s *streams) error {
	db, entries, err := c.openBook(s.ctx)
	if err != nil {
		return err
	}
	defer db.Close()
	now := s.now()
	page, err := daybook.Open(entries, now)
	if err != nil {
		return err
	}
	w, err := c.wanted(s, page, entries)
	if err != nil {
		return err
	}
	r, err := work.RecordsOf(entries, now, w)
	if err != nil {
		return err
	}
	if c.Rules != "" && len(r.Records) == 0 {
		if err := c.unbound(entries, page, w, r); err != nil {
			return err
		}
	}
	switch {
	case c.JSON:
		return writeJSON(s.out, r)
	case c.Export != "" || c.Notice:
		return c.handOut(s, r)
	}
	return records(s.out, page, r)
}

func (c *recordCmd) wanted(s *streams, page *daybook.Page, entries []ledger.Entry) (w work.RecordsWanted, err error) {
	w.Rule = c.Rules
	from, to := c.From, c.To
	if c.Date != "" {
		if c.To != "" {
			return w, errors.New("--date is one day; give --from and --to for more")
		}
		from, to = c.Date, c.Date
	}
	if w.From, w.To, err = daysOf(page, from, to); err != nil {
		return w, err
	}
	if w.Bed, err = bedOf(page, c.Bed); err != nil {
		return w, err
	}
	if c.Entry != "" {
		e, err := daybook.FindEntry(entries, c.Entry)
		if err != nil {
			return w, err
		}
		if e.Kind != "treatment" {
			return w, fmt.Errorf("%s is a %s; a record is made of a treatment", e.ID, e.Kind)
		}
		w.Entry = e.ID
	}
	if c.Codes != "" {
		f, err := s.open(c.Codes)
		if err != nil {
			return w, err
		}
		defer f.Close()
		if w.Codes, err = record.ReadCodes(f); err != nil {
			return w, fmt.Errorf("reading the codes in %s: %w", c.Codes, err)
		}
	}
	return w, nil
}

// unbound explains why no treatment falls under the rules that were named: there
// are none then, or other rules bind them.
func (c *recordCmd) unbound(entries []ledger.Entry, page *daybook.Page, w work.RecordsWanted, r *work.Records) error {
	w.Rule = ""
	all, err := work.RecordsOf(entries, page.Now(), w)
	if err != nil || len(all.Records) == 0 {
		return err
	}
	var ids []string
	for _, x := range all.Rules {
		ids = append(ids, x.Rule)
	}
	bind := "no rules known here bind them"
	if len(ids) > 0 {
		bind = "these bind: " + strings.Join(ids, ", ")
	}
	return fmt.Errorf("none of the %d treatments falls under the rules %q; %s\nRules bind by country, role and date; to choose others: oidium write site records=%s", len(all.Records), c.Rules, bind, c.Rules)
}

// handOut prints what goes to somebody else.
func (c *recordCmd) handOut(s *streams, r *work.Records) error {
	if len(r.Records) == 0 {
		return errors.New("there is no treatment in these days")
	}
	rule, list, ok := r.Of(c.Rules)
	if !ok {
		var ids []string
		for _, x := range r.Rules {
			ids = append(ids, x.Rule)
		}
		if len(ids) == 0 {
			return errors.New("no rules on records known here bind these treatments, so there is no form for them; choose some with: oidium write site records=ID")
		}
		return fmt.Errorf("more than one set of rules binds these treatments; name one of %s, such as oidium record %s", strings.Join(ids, ", "), ids[0])
	}
	switch c.Export {
	case "", "csv", "json":
	default:
		return fmt.Errorf("--export is csv or json, not %q", c.Export)
	}
	switch c.Export {
	case "csv":
		return record.WriteCSV(s.out, rule, list)
	case "json":
		return record.WriteJSON(s.out, rule, list)
	}
	for i, x := range list {
		if i > 0 {
			fmt.Fprintln(s.out, strings.Repeat("-", plainWidth))
		}
		p := &plainText{out: s.out}
		for _, l := range strings.Split(strings.TrimRight(record.Notice(x, rule), "\n"), "\n") {
			if len([]rune(l)) > plainWidth {
				p.para("", l)
			} else {
				p.line("%s", l)
			}
		}
		if p.err != nil {
			return p.err
		}
	}
	return nil
}

func records(w io.Writer, page *daybook.Page, r *work.Records) error {
	p := &plainText{out: w}
	if len(r.Records) == 0 {
		p.line("There is no treatment in these days.")
	}
	for _, x := range r.Records {
		p.line("%s  %s  %s, %s", short(x.Entry), page.DayText(x.Date), x.Bed, x.Material)
		for _, v := range x.Verdicts {
			switch {
			case v.Complete:
				p.line("  %s: complete", v.Rule)
			default:
				p.line("  %s: missing", v.Rule)
				for _, g := range v.Missing {
					p.para(fmt.Sprintf("    %-16s ", g.Field), gapText(g))
				}
			}
			if v.Late {
				p.line("    made late: it was due by %s", page.DayText(v.Due.String()))
			}
			if len(v.Advised) > 0 {
				p.para("    would help: ", strings.Join(v.Advised, ", "))
			}
		}
		if x.KeepTo != "" {
			p.line("  to be kept until %s", page.DayText(x.KeepTo))
		}
	}
	for _, x := range r.Rules {
		p.line("")
		p.para(x.Rule+": ", x.Origin)
		if x.Note != "" {
			p.para("  ", x.Note)
		}
	}
	for _, x := range r.Warnings {
		p.line("")
		p.para("Look: ", x.Text)
	}
	p.line("")
	p.cautions(r.Cautions)
	if !r.Complete {
		p.para("", "What is missing is added with: oidium book correct ID field=value. The book keeps everything; nothing is deleted when its time is over.")
	}
	return p.err
}
