package command

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"oidium/internal/ledger"
	"oidium/internal/store"
	"oidium/internal/work"
)

type ledgerCmd struct {
	Import importCmd `cmd:"" help:"Bring lines of JSON into the book. The same lines twice add nothing."`
	Export exportCmd `cmd:"" help:"Print every entry of the book, one a line."`
}

type importCmd struct {
	book
	Files     []string `arg:"" name:"file" help:"Files of entries: one JSON object a line, or a package of tables; - for standard input."`
	GoodLines bool     `help:"Bring in the lines that are right even if others are wrong. Without it a file with a wrong line changes nothing."`
}

func (c *importCmd) Run(s *streams) error {
	for _, name := range c.Files {
		if err := c.one(s, name); err != nil {
			return err
		}
	}
	return nil
}

func (c *importCmd) one(s *streams, name string) error {
	entries, problems, err := s.entriesIn(name)
	if err != nil {
		return err
	}
	for _, p := range problems {
		fmt.Fprintf(s.err, "%s: %s\n", name, p.Error())
	}
	if len(problems) > 0 && !c.GoodLines {
		fmt.Fprintf(s.err, "%s: nothing was brought in. Mend the lines named above and import the file again; lines that are in the book already are recognised.\n", name)
		return &reported{"wrong lines"}
	}
	return keep(s, c.book, name, entries, len(problems) > 0)
}

// keep appends entries to the book and says what was done once it is on disk.
func keep(s *streams, b book, name string, entries []ledger.Entry, wrong bool) error {
	db, err := b.anew(s.ctx)
	if err != nil {
		return err
	}
	defer db.Close()
	added, same, err := db.Append(s.ctx, entries)
	if err != nil {
		return fmt.Errorf("%s: nothing was brought in: %w", name, err)
	}
	fmt.Fprintf(s.out, "%s: %d added, %d there already\n", name, added, same)
	if err := unknownBeds(s, db, name, entries); err != nil {
		return err
	}
	fromTheFuture(s, name, entries)
	if wrong {
		return &reported{"wrong lines were left out"}
	}
	return nil
}

// fromTheFuture tells of entries that came before the time they speak of: they are
// kept, and most often the clock of their device is ahead.
func fromTheFuture(s *streams, name string, entries []ledger.Entry) {
	ahead := ledger.Clocks(entries, s.now())
	if len(ahead) == 0 {
		return
	}
	fmt.Fprintf(s.err, "%s: kept, but %s from the future, such as: %s\n", name, counted(len(ahead)), ahead[0].Text)
}

// unknownBeds tells of entries that speak of a bed nobody has entered: they are
// kept, since the bed may follow, but most often it is a slip of the pen.
func unknownBeds(s *streams, db *store.Book, name string, entries []ledger.Entry) error {
	beds, err := db.Entries(s.ctx, store.Filter{Kinds: []string{"bed"}})
	if err != nil {
		return err
	}
	var known []string
	for _, e := range beds {
		known = append(known, string(e.Bed))
	}
	slices.Sort(known)
	known = slices.Compact(known)
	told := make(map[string]bool)
	for _, e := range entries {
		if id := string(e.Bed); id != "" && !told[id] && !slices.Contains(known, id) {
			told[id] = true
			fmt.Fprintf(s.err, "%s: kept, but no bed %q has been entered yet; the beds are: %s\n", name, id, strings.Join(known, ", "))
		}
	}
	return nil
}

type exportCmd struct {
	book
}

func (c *exportCmd) Run(s *streams) error {
	entries, err := c.entries(s)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if _, err := fmt.Fprintf(s.out, "%s\n", e.Line()); err != nil {
			return err
		}
	}
	return nil
}

type schemaCmd struct {
	Name string `arg:"" optional:"" help:"round or another result, entry, or a kind of entry such as tally. Without it the names are listed."`
}

func (c *schemaCmd) Run(s *streams) error {
	var (
		b   []byte
		err error
	)
	switch {
	case c.Name == "":
		fmt.Fprintln(s.out, strings.Join(schemaNames(), "\n"))
		return nil
	case slices.Contains(work.Results(), c.Name):
		b, err = work.Schema(c.Name)
	case c.Name == "entry":
		b, err = ledger.Schema("")
	case slices.Contains(ledger.Kinds(), c.Name):
		b, err = ledger.Schema(c.Name)
	default:
		return errors.New("there is no schema called " + c.Name + "; the names are: " + strings.Join(schemaNames(), ", "))
	}
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(s.out, "%s\n", b)
	return err
}

// schemaNames are the results, then the entries as a whole, then their kinds.
func schemaNames() []string {
	return append(append(work.Results(), "entry"), ledger.Kinds()...)
}

type versionCmd struct{}

func (versionCmd) Run(s *streams) error {
	_, err := fmt.Fprintln(s.out, "oidium", version())
	return err
}
