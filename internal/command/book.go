package command

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"time"

	"oidium/garden"
	"oidium/internal/command/daybook"
	"oidium/internal/ledger"
	"oidium/internal/store"
	"oidium/internal/work"
)

type bookCmd struct {
	List     listCmd     `cmd:"" help:"List entries, the newest last."`
	Show     showCmd     `cmd:"" help:"Show one entry with its corrections."`
	Correct  correctCmd  `cmd:"" help:"Correct an entry: a new entry takes its place, the old one stays in the book."`
	Withdraw withdrawCmd `cmd:"" help:"Take an entry back: what it says never happened."`
	Check    checkCmd    `cmd:"" help:"Look through the whole book: damage, clocks, contradictions."`
	Backup   backupCmd   `cmd:"" help:"Write a copy of the book while it is in use."`
	Restore  restoreCmd  `cmd:"" help:"Make a book from a backup."`
	Export   packCmd     `cmd:"" help:"Write every entry, pictures too, as JSON Lines or as a package of tables."`
	Blank    blankCmd    `cmd:"" help:"Take a person or a picture out of entries for good."`
}

// idWord explains how an entry is named.
const idWord = "Its id, the last characters of it (four or more), or the word last for the entry that came into the book last."

type listCmd struct {
	book
	Bed  string   `help:"Of this bed only." placeholder:"BED"`
	Kind []string `help:"Of these kinds only." placeholder:"KIND"`
	From string   `help:"From this day on." placeholder:"DATE"`
	To   string   `help:"Up to and with this day." placeholder:"DATE"`
	Last int      `help:"Only so many, the newest of them." placeholder:"N"`
	All  bool     `help:"Corrected and withdrawn entries too, and weather."`
	JSON bool     `help:"Print JSON, one entry a line (its schema: oidium schema said)."`
}

func (c *listCmd) Run(s *streams) error {
	db, entries, err := c.all(s)
	if err != nil {
		return err
	}
	defer db.Close()
	now := s.now()
	page, err := daybook.Open(entries, now)
	if err != nil {
		return err
	}
	w := work.Wanted{Kinds: c.Kind, Replaced: c.All}
	for _, k := range c.Kind {
		if !slices.Contains(ledger.Kinds(), k) {
			return fmt.Errorf("listing entries: there is no kind %q; oidium write --kinds lists them", k)
		}
	}
	if w.Bed, err = bedOf(page, c.Bed); err != nil {
		return err
	}
	if w.From, w.To, err = daysOf(page, c.From, c.To); err != nil {
		return err
	}
	said, err := work.Listed(entries, now, w)
	if err != nil {
		return err
	}
	hidden := 0
	if !c.All && len(c.Kind) == 0 {
		n := len(said)
		said = slices.DeleteFunc(said, func(e work.Said) bool { return slices.Contains(fromFiles, e.Kind) })
		hidden = n - len(said)
	}
	if c.Last < 0 {
		return fmt.Errorf("--last %d: how many entries are wanted?", c.Last)
	}
	if c.Last > 0 {
		said = said[max(0, len(said)-c.Last):]
	}
	if c.JSON {
		enc := json.NewEncoder(s.out)
		enc.SetEscapeHTML(false)
		for _, e := range said {
			if err := enc.Encode(e); err != nil {
				return err
			}
		}
		return nil
	}
	return listing(s, page, entries, said, hidden)
}

// short is the end of an id, by which an entry is named.
func short(id string) string { return id[max(0, len(id)-6):] }

func counted(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return strconv.Itoa(n) + " entries"
}

// fromFiles are the kinds that files bring in by the hundred.
var fromFiles = []string{"weather", "forecast", "log"}

func listing(s *streams, page *daybook.Page, entries []ledger.Entry, said []work.Said, hidden int) error {
	p := &plainText{out: s.out}
	byID := map[string]ledger.Entry{}
	for _, e := range entries {
		byID[string(e.ID)] = e
	}
	people := map[string]bool{}
	for _, x := range said {
		people[x.Who] = true
	}
	day := ""
	for _, x := range said {
		e := byID[x.ID]
		t, err := time.Parse(time.RFC3339, x.Time)
		if err != nil {
			return err
		}
		if d := t.Format("Mon 2 Jan 2006"); d != day {
			day = d
			p.line("%s", day)
		}
		text := page.Brief(e)
		if x.Who != "" && len(people) > 1 {
			text += " (" + x.Who + ")"
		}
		if x.State != "holds" {
			text = "[" + x.State + "] " + text
		}
		p.para(fmt.Sprintf("  %s  %s  %-10s %-12s ", t.Format("15:04"), short(x.ID), x.Kind, x.Bed), text)
	}
	switch {
	case len(said) == 0:
		p.line("No entry fits.")
	default:
		p.line("%s. The six characters behind the time name an entry: oidium book show %s", counted(len(said)), short(said[len(said)-1].ID))
	}
	if hidden > 0 {
		p.line("%s of weather and loggers not listed; --all or --kind weather lists them.", counted(hidden))
	}
	return p.err
}

// all opens the book and reads every entry.
func (b *book) all(s *streams) (*store.Book, []ledger.Entry, error) {
	db, err := b.existing(s.ctx)
	if err != nil {
		return nil, nil, fmt.Errorf("%w\nBegin one with: oidium write site --book %s", err, b.Book)
	}
	entries, err := db.Entries(s.ctx, store.Filter{})
	if err != nil {
		return nil, nil, errors.Join(err, db.Close())
	}
	return db, entries, nil
}

func bedOf(page *daybook.Page, text string) (garden.BedID, error) {
	if text == "" {
		return "", nil
	}
	id, ok := page.Bed(text)
	if !ok {
		return "", page.NoBed(text)
	}
	return garden.BedID(id), nil
}

func daysOf(page *daybook.Page, from, to string) (a, b garden.Day, err error) {
	if from != "" {
		if a, err = page.Day(from); err != nil {
			return 0, 0, fmt.Errorf("--from: %w", err)
		}
	}
	if to != "" {
		if b, err = page.Day(to); err != nil {
			return 0, 0, fmt.Errorf("--to: %w", err)
		}
	}
	if a != 0 && b != 0 && b < a {
		return 0, 0, fmt.Errorf("--to %s is before --from %s; are the two exchanged?", b, a)
	}
	return a, b, nil
}

type showCmd struct {
	book
	ID   string `arg:"" help:"${entry}"`
	JSON bool   `help:"Print JSON (its schema: oidium schema shown)."`
}

func (c *showCmd) Run(s *streams) error {
	db, entries, err := c.all(s)
	if err != nil {
		return err
	}
	defer db.Close()
	now := s.now()
	e, err := daybook.FindEntry(entries, c.ID)
	if err != nil {
		return err
	}
	shown, err := work.Show(entries, now, e)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s.out, shown)
	}
	page, err := daybook.Open(entries, now)
	if err != nil {
		return err
	}
	p := &plainText{out: s.out}
	p.line("%s", page.Sentence(e))
	if e.Body == nil {
		p.line("  Written by a newer program: kept as it is and not understood here.")
		p.line("  %s", e.Line())
	} else if err := p.fields(page, e); err != nil {
		return err
	}
	p.line("  id %s", e.ID)
	p.line("  written %s%s", page.Moment(e.Written), onDevice(e.Device))
	if e.Blanked {
		p.line("  A person or a picture was taken out of it.")
	}
	p.freed(page, shown.Clock)
	p.history(page, shown)
	p.cautions(shown.Cautions)
	return p.err
}

func onDevice(d string) string {
	if d == "" {
		return ""
	}
	return " on " + d
}

// history writes what corrects an entry and what it corrects.
func (p *plainText) history(page *daybook.Page, shown *work.Shown) {
	if len(shown.History) < 2 {
		p.line("  It holds as it was written.")
		if shown.Entry.State != "holds" {
			p.line("  State: %s.", shown.Entry.State)
		}
		return
	}
	p.line("  Its history, as it was written:")
	for _, h := range shown.History {
		t, err := time.Parse(time.RFC3339, h.Written)
		if err != nil {
			continue
		}
		who := h.Who
		if who == "" {
			who = "nobody named"
		}
		mark := ""
		if h.ID == shown.Entry.ID {
			mark = " (this one)"
		}
		p.line("    %s  %s, %s: %s, %s%s", short(h.ID), page.Moment(t), who, h.Kind, h.State, mark)
	}
	if shown.Holds == "" {
		p.line("  It was withdrawn: it never happened.")
	}
}
