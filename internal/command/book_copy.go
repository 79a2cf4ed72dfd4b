package command

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"time"

	"oidium/internal/ledger"
	"oidium/internal/store"
	"oidium/internal/tables"
	"oidium/internal/work"
)

type checkCmd struct {
	book
	JSON bool `help:"Print JSON (its schema: oidium schema checked)."`
}

func (c *checkCmd) Run(s *streams) error {
	db, err := c.existing(s.ctx)
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
		p.line("To look at:")
		shown := map[string]int{}
		for _, x := range r.Warnings {
			if shown[x.Code]++; shown[x.Code] <= mostAlike && x.Code != "newer-entries" {
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
	db, err := c.existing(s.ctx)
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
