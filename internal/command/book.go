package command

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"
	"time"

	"oidium/garden"
	"oidium/internal/command/daybook"
	"oidium/internal/ledger"
	"oidium/internal/store"
	"oidium/internal/tables"
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
const idWord = "Its id, the last characters of it (four or more), or the word last for the entry written last."

type listCmd struct {
	book
	Bed  string   `help:"Of this bed only." placeholder:"BED"`
	Kind []string `help:"Of these kinds only." placeholder:"KIND"`
	From string   `help:"From this day on." placeholder:"DATE"`
	To   string   `help:"Up to and with this day." placeholder:"DATE"`
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
		p.para(fmt.Sprintf("  %s  %s  %-10s %-12s ", t.Format("15:04"), x.ID[len(x.ID)-6:], x.Kind, x.Bed), text)
	}
	switch {
	case len(said) == 0:
		p.line("No entry fits.")
	default:
		p.line("%d entries. The six characters behind the time name an entry: oidium book show %s", len(said), said[len(said)-1].ID[len(said[0].ID)-6:])
	}
	if hidden > 0 {
		p.line("%d entries of weather and loggers are not listed; --all or --kind weather lists them.", hidden)
	}
	return p.err
}

// all opens the book and reads every entry.
func (b *book) all(s *streams) (*store.Book, []ledger.Entry, error) {
	db, err := store.OpenExisting(s.ctx, b.Book)
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
		p.line("    %s  %s, %s: %s, %s%s", h.ID[len(h.ID)-6:], page.Moment(t), who, h.Kind, h.State, mark)
	}
	if shown.Holds == "" {
		p.line("  It was withdrawn: it never happened.")
	}
}

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
		if kept, err := page.Review(s.in, s.err, d, minding(entries, now)); err != nil || !kept {
			return err
		}
	}
	fresh, err := d.Entry(newID(now), now)
	if err != nil {
		return wrong(s, e.Kind, err)
	}
	return finish(s, db, page, entries, fresh, now, form{json: c.JSON})
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
	return finish(s, db, page, entries, fresh, now, form{json: c.JSON})
}

type checkCmd struct {
	book
	JSON bool `help:"Print JSON (its schema: oidium schema checked)."`
}

func (c *checkCmd) Run(s *streams) error {
	db, err := store.OpenExisting(s.ctx, c.Book)
	if err != nil {
		return err
	}
	defer db.Close()
	file, err := db.Check(s.ctx)
	if err != nil {
		return err
	}
	entries, err := db.Entries(s.ctx, store.Filter{})
	if err != nil {
		file.Problems = append(file.Problems, err.Error())
		entries = nil
	} else if entries == nil {
		entries = []ledger.Entry{}
	}
	r, err := work.Checking(file, entries, s.now())
	if err != nil {
		return err
	}
	if c.JSON {
		err = writeJSON(s.out, r)
	} else {
		err = checked(s.out, c.Book, r)
	}
	if err == nil && !r.Sound {
		return &reported{"the book is not sound"}
	}
	return err
}

// mostAlike is how many warnings of one sort are listed.
const mostAlike = 10

func checked(w io.Writer, name string, r *work.Checked) error {
	p := &plainText{out: w}
	if r.Sound {
		p.line("%s is sound: %d entries, every one as it was written.", name, r.File.Entries)
	} else {
		p.line("%s IS NOT SOUND:", name)
		for _, x := range slices.Compact(r.File.Problems) {
			p.para("  - ", x)
		}
		p.para("  ", "Restore the last backup under another name (oidium book restore), and bring in what is newer with oidium ledger export and oidium ledger import.")
	}
	if r.File.Blanked > 0 {
		p.line("From %d entries a person or a picture was taken out.", r.File.Blanked)
	}
	if len(r.Warnings) > 0 {
		p.line("To look at (%d):", len(r.Warnings))
		shown := map[string]int{}
		for _, x := range r.Warnings {
			if shown[x.Code]++; shown[x.Code] <= mostAlike {
				p.para("  - ", x.Text)
			}
		}
		if len(r.Warnings) > mostAlike {
			p.line("  At most %d of one sort are listed; --json lists all.", mostAlike)
		}
	}
	for _, e := range r.Newer {
		p.para("  - ", fmt.Sprintf("%s, a %s, was written by a newer program: kept and passed on, not understood here", e.ID, e.Kind))
	}
	p.line("Chain: %s", r.File.Chain)
	p.para("  ", "Write this down elsewhere: it shows later that nothing before it was changed or left out.")
	return p.err
}

type backupCmd struct {
	book
	File string `arg:"" help:"File to write; one that is there is not overwritten."`
	JSON bool   `help:"Print JSON (its schema: oidium schema copied)."`
}

func (c *backupCmd) Run(s *streams) error {
	db, err := store.OpenExisting(s.ctx, c.Book)
	if err != nil {
		return err
	}
	defer db.Close()
	if err := db.Backup(s.ctx, c.File); err != nil {
		return err
	}
	return copied(s, c.Book, c.File, c.JSON)
}

type restoreCmd struct {
	book
	File string `arg:"" help:"The backup."`
	JSON bool   `help:"Print JSON (its schema: oidium schema copied)."`
}

func (c *restoreCmd) Run(s *streams) error {
	if err := store.Restore(s.ctx, c.File, c.Book); err != nil {
		return fmt.Errorf("%w\nTo bring a backup into a book that is there: oidium ledger export --book %s, then oidium ledger import", err, c.File)
	}
	return copied(s, c.File, c.Book, c.JSON)
}

// copied says what a copy holds, after looking through it.
func copied(s *streams, from, to string, asJSON bool) error {
	db, err := store.OpenExisting(s.ctx, to)
	if err != nil {
		return err
	}
	defer db.Close()
	r, err := db.Check(s.ctx)
	if err != nil {
		return err
	}
	if asJSON {
		return writeJSON(s.out, work.Copied{Version: work.CopiedVersion, From: from, To: to, Entries: r.Entries, Chain: r.Chain})
	}
	_, err = fmt.Fprintf(s.out, "%s: %d entries copied from %s, checked, on the disk.\n", to, r.Entries, from)
	return err
}

type packCmd struct {
	book
	File string `arg:"" help:"File to write; - for standard output. One that is there is not overwritten."`
	As   string `help:"jsonl: one entry a line; package: tables for spreadsheets and statistics, a zip file." enum:"jsonl,package" default:"jsonl"`
	JSON bool   `help:"Print what was written as JSON (its schema: oidium schema copied)."`
}

func (c *packCmd) Run(s *streams) error {
	db, err := store.OpenExisting(s.ctx, c.Book)
	if err != nil {
		return err
	}
	defer db.Close()
	entries, err := db.Entries(s.ctx, store.Filter{Photos: true})
	if err != nil {
		return err
	}
	write := func(w io.Writer) error {
		if c.As == "package" {
			return tables.Write(w, entries, title(entries, s.now()))
		}
		for _, e := range entries {
			if _, err := fmt.Fprintf(w, "%s\n", e.Line()); err != nil {
				return err
			}
		}
		return nil
	}
	if c.File == "-" {
		return write(s.out)
	}
	if err := writeFile(c.File, write); err != nil {
		return fmt.Errorf("exporting the book %s: %w", c.Book, err)
	}
	if c.JSON {
		return writeJSON(s.out, work.Copied{Version: work.CopiedVersion, From: c.Book, To: c.File, Entries: len(entries)})
	}
	_, err = fmt.Fprintf(s.out, "%s: %d entries written. It holds names and pictures; keep it as you keep the book.\n", c.File, len(entries))
	return err
}

// title is what a package is called: the name of the garden.
func title(entries []ledger.Entry, now time.Time) string {
	if g, err := ledger.Fold(entries, now); err == nil && g.Site.Name != "" {
		return g.Site.Name
	}
	return "Entries of a garden"
}

// writeFile writes a new file; one that is there is not overwritten, one that
// could not be finished is taken away.
func writeFile(name string, write func(io.Writer) error) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("there is something at %s already; give another name", name)
	}
	if err != nil {
		return err
	}
	if err := errors.Join(write(f), f.Sync(), f.Close()); err != nil {
		return errors.Join(err, os.Remove(name))
	}
	return nil
}
