package command

import (
	"fmt"
	"slices"

	"oidium/internal/command/daybook"
	"oidium/internal/ledger"
	"oidium/internal/store"
	"oidium/internal/work"
)

type blankCmd struct {
	book
	Entries []string `arg:"" optional:"" name:"id" help:"Entries, by id or the last characters of it."`
	What    string   `help:"person or photo." enum:"person,photo" default:"person"`
	Name    string   `help:"Every entry that this person wrote, instead of ids." placeholder:"NAME"`
	As      string   `help:"A word that stands for the person from now on, such as scout-2, so that looks of the same eyes still go together." placeholder:"WORD"`
	Reason  string   `help:"Why; without the name." placeholder:"TEXT"`
	Sure    bool     `help:"Do it. Without this it is only said what would be taken out; it cannot be undone."`
	JSON    bool     `help:"Print JSON (its schema: oidium schema blanked)."`
}

func (c *blankCmd) Run(s *streams) error {
	db, err := c.existing(s.ctx)
	if err != nil {
		return err
	}
	defer db.Close()
	entries, err := db.Entries(s.ctx, store.Filter{})
	if err != nil {
		return err
	}
	now := s.now()
	page, err := daybook.Open(entries, now)
	if err != nil {
		return err
	}
	ids, err := c.meant(entries)
	if err != nil {
		return err
	}
	d, err := page.New("blanking")
	if err != nil {
		return err
	}
	d.Body["entries"], d.Body["what"] = ids, c.What
	if c.As != "" {
		d.Body["as"] = c.As
	}
	if c.Reason != "" {
		d.Body["reason"] = c.Reason
	}
	e, err := d.Entry(newID(now), now)
	if err != nil {
		return wrong(s, "blanking", err)
	}
	if c.Sure {
		if _, _, err := db.Append(s.ctx, []ledger.Entry{e}); err != nil {
			return fmt.Errorf("nothing was taken out: %w", err)
		}
	}
	if c.JSON {
		return writeJSON(s.out, work.Blanked{Version: work.BlankedVersion, Done: c.Sure, What: c.What, Entries: ids})
	}
	return c.say(s, page, entries, ids)
}

// meant returns the ids of the entries to be blanked.
func (c *blankCmd) meant(entries []ledger.Entry) ([]string, error) {
	ids := []string{}
	for _, text := range c.Entries {
		e, err := daybook.FindEntry(entries, text)
		if err != nil {
			return nil, err
		}
		if c.What == "photo" && e.Kind != "photo" {
			return nil, fmt.Errorf("blanking %s: it is a %s and has no picture; the entry of kind photo holds it", e.ID, e.Kind)
		}
		ids = append(ids, string(e.ID))
	}
	for _, e := range entries {
		if c.Name != "" && e.Who == c.Name && !slices.Contains(ids, string(e.ID)) {
			ids = append(ids, string(e.ID))
		}
	}
	switch {
	case len(ids) == 0 && c.Name != "":
		return nil, fmt.Errorf("blanking: no entry was written by %q; names are taken letter by letter", c.Name)
	case len(ids) == 0:
		return nil, fmt.Errorf("blanking: say of which entries, by id or with --name NAME")
	case c.Name != "" && c.What == "photo":
		return nil, fmt.Errorf("blanking: --name finds what a person wrote; pictures are named by the id of their entry")
	}
	return ids, nil
}

func (c *blankCmd) say(s *streams, page *daybook.Page, entries []ledger.Entry, ids []string) error {
	p := &plainText{out: s.out}
	what := "who did it, licence, customer, address and second opinion"
	if c.What == "photo" {
		what = "picture and caption"
	}
	if !c.Sure {
		p.para("", fmt.Sprintf("From these %d entries %s would be taken out for good:", len(ids), what))
		for _, e := range entries {
			if slices.Contains(ids, string(e.ID)) {
				p.line("  %s  %s", short(string(e.ID)), page.Sentence(e))
			}
		}
		p.para("", "Nothing was done yet. It cannot be undone; add --sure to do it.")
		return p.err
	}
	p.para("", fmt.Sprintf("From %d entries %s was taken out for good. What happened stays, and the chain of the book still holds.", len(ids), what))
	p.para("", "Not reached: backups and files exported before (delete them), other books until this blanking reaches them (oidium ledger export and import), and names inside free text, which are taken out with oidium book correct before blanking.")
	return p.err
}
