package command

import (
	"fmt"
	"strings"
	"time"

	"oidium/internal/command/daybook"
	"oidium/internal/ledger"
	"oidium/internal/work"
)

type correctCmd struct {
	book
	ID    string   `arg:"" help:"${entry}"`
	Words []string `arg:"" optional:"" name:"word" help:"field=value; field= takes a field out. Plants of a tally: 3:1/5 counts plant 3 anew."`
	At    string   `help:"Another time it speaks of." placeholder:"TIME"`
	Bed   string   `help:"Another bed." placeholder:"BED"`
	Who   string   `help:"Who did what the entry is of, if that was wrong." placeholder:"NAME"`
	JSON  bool     `help:"Print what was kept as JSON (its schema: oidium schema kept)."`
}

func (c *correctCmd) Run(s *streams) error {
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
	e, err := page.Find(c.ID)
	if err != nil {
		return err
	}
	if e, err = lastWord(s, entries, now, e); err != nil {
		return err
	}
	d, err := page.Correct(e)
	if err != nil {
		return err
	}
	if err := c.change(page, d); err != nil {
		return wrong(s, e.Kind, err)
	}
	if len(c.Words) == 0 && c.At == "" && c.Bed == "" && c.Who == "" {
		if !s.interactive() {
			return fmt.Errorf("correcting %s: say what is to be another, such as oidium book correct %s field=value", e.ID, c.ID)
		}
		if kept, err := page.Review(&patient{s.ctx, s.in}, s.err, d, minding(entries, now)); err != nil || !kept {
			return err
		}
	}
	fresh, err := d.Entry(newID(now), now)
	if err != nil {
		return wrong(s, e.Kind, err)
	}
	return finish(s, db, entries, fresh, now, form{json: c.JSON})
}

func (c *correctCmd) change(page *daybook.Page, d *daybook.Draft) error {
	if c.At != "" {
		if err := d.When(c.At); err != nil {
			return err
		}
	}
	if c.Bed != "" {
		id, err := bedOf(page, c.Bed)
		if err != nil {
			return err
		}
		d.Bed = string(id)
	}
	if c.Who != "" {
		d.Who = c.Who
	}
	return d.Say(c.Words)
}

// lastWord returns what holds of an entry that was corrected before, and says so.
func lastWord(s *streams, entries []ledger.Entry, now time.Time, e ledger.Entry) (ledger.Entry, error) {
	shown, err := work.Show(entries, now, e)
	if err != nil {
		return e, err
	}
	if shown.Holds == "" || shown.Holds == string(e.ID) {
		return e, nil
	}
	fmt.Fprintf(s.err, "%s was corrected before; its last word is %s, and that is taken.\n", e.ID, shown.Holds)
	return daybook.FindEntry(entries, shown.Holds)
}

type withdrawCmd struct {
	book
	ID     string   `arg:"" help:"${entry}"`
	Reason []string `arg:"" optional:"" help:"Why."`
	Who    string   `help:"Who withdraws it." env:"OIDIUM_WHO" placeholder:"NAME"`
	Device string   `help:"Which device writes it." env:"OIDIUM_DEVICE" placeholder:"NAME"`
	JSON   bool     `help:"Print what was kept as JSON (its schema: oidium schema kept)."`
}

func (c *withdrawCmd) Run(s *streams) error {
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
	e, err := page.Find(c.ID)
	if err != nil {
		return err
	}
	if e, err = lastWord(s, entries, now, e); err != nil {
		return err
	}
	if e.Kind == "withdrawal" || e.Kind == "blanking" {
		return fmt.Errorf("withdrawing %s: a %s cannot be taken back; what a withdrawal took back can be written anew", e.ID, e.Kind)
	}
	d, err := page.New("withdrawal")
	if err != nil {
		return err
	}
	d.Replaces, d.Bed, d.Who, d.Device, d.At = string(e.ID), string(e.Bed), c.Who, c.Device, e.Time
	if r := strings.Join(c.Reason, " "); r != "" {
		d.Body["reason"] = r
	}
	fresh, err := d.Entry(newID(now), now)
	if err != nil {
		return wrong(s, "withdrawal", err)
	}
	if !c.JSON {
		fmt.Fprintf(s.out, "Withdrawn: %s\n", page.Sentence(e))
	}
	return finish(s, db, entries, fresh, now, form{json: c.JSON})
}
