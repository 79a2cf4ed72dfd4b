package command

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"oidium/garden"
	"oidium/internal/command/demo"
	"oidium/internal/ledger"
	"oidium/internal/print"
	"oidium/internal/store"
	"oidium/internal/work"
)

// look says how a round is computed and shown; demo and round share it.
type look struct {
	Date    string `help:"Morning to print the round for, such as 2000-07-06: 06:00 there." placeholder:"DATE"`
	JSON    bool   `help:"Print JSON (its schema: oidium schema round)." xor:"form"`
	HTML    bool   `help:"Print one self-contained page for phone or paper." xor:"form"`
	Explain string `help:"Open one bed down to rules, constants and sources." placeholder:"BED" xor:"form"`
	Members int    `help:"Size of the ensemble." default:"200" hidden:""`
	Workers int    `help:"Workers; changes the time it takes and nothing else." hidden:""`
}

func (l *look) print(s *streams, entries []ledger.Entry, day garden.Day, now time.Time) error {
	r, err := work.Morning(s.ctx, entries, work.Options{Day: day, Now: now, Members: l.Members, Workers: l.Workers})
	if err != nil {
		return err
	}
	if len(r.Beds) == 0 {
		// The round itself must not know of what came later; the person may.
		for _, e := range entries {
			if e.Kind == "bed" {
				fmt.Fprintf(s.err, "The book has beds, but they were written down after %s. What is written later than a morning does not count for it.\n", r.AsOf)
				break
			}
		}
	}
	switch {
	case l.JSON:
		return writeJSON(s.out, r)
	case l.HTML:
		return print.HTML(s.out, r)
	case l.Explain != "":
		return print.Explain(s.out, r, garden.BedID(l.Explain))
	}
	return print.Text(s.out, r)
}

func writeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}

type demoCmd struct {
	look
}

func (c *demoCmd) Run(s *streams) error {
	entries, err := demo.Entries()
	if err != nil {
		return err
	}
	day := demo.Day()
	if c.Date != "" {
		if day, err = garden.ParseDay(c.Date); err != nil {
			return err
		}
	}
	return c.print(s, entries, day, time.Time{})
}

// book names the file that holds a garden.
type book struct {
	Book   string `help:"File that holds your garden." default:"garden.oidium" env:"OIDIUM_BOOK" placeholder:"FILE"`
	Garden string `help:"Which garden, when the file holds several." env:"OIDIUM_GARDEN" placeholder:"NAME"`
}

// existing opens the garden in a book that is there.
func (b *book) existing(ctx context.Context) (*store.Book, error) {
	db, err := store.OpenExisting(ctx, b.Book)
	if err != nil {
		return nil, err
	}
	db = db.Garden(b.Garden)
	if b.Garden == "" {
		return db, nil
	}
	there, err := db.Begun(ctx)
	if err == nil && !there {
		err = noGarden(ctx, db, b)
	}
	if err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return db, nil
}

// anew opens the garden in a book; either is made when it is not there.
func (b *book) anew(ctx context.Context) (*store.Book, error) {
	db, err := store.Open(ctx, b.Book)
	if err != nil {
		return nil, err
	}
	return db.Garden(b.Garden), nil
}

// mostGardens is how many gardens of a file are named to somebody who named none
// of them.
const mostGardens = 20

func noGarden(ctx context.Context, db *store.Book, b *book) error {
	names, err := db.Gardens(ctx)
	if err != nil {
		return err
	}
	names = slices.DeleteFunc(names, func(n string) bool { return n == "" })
	hint := "it holds " + strings.Join(names[:min(mostGardens, len(names))], ", ")
	switch {
	case len(names) == 0:
		hint = "it holds one, without a name: leave --garden out"
	case len(names) > mostGardens:
		hint += " and more"
	}
	return fmt.Errorf("there is no garden %q in %s; %s", b.Garden, b.Book, hint)
}

type roundCmd struct {
	book
	look
}

func (c *roundCmd) Run(s *streams) error {
	entries, err := c.entries(s)
	if err != nil {
		return err
	}
	// Without a date the round is for today as things stand now, so that what was
	// typed this afternoon counts at once.
	day, now := garden.Day(0), time.Time{}
	if c.Date != "" {
		day, err = garden.ParseDay(c.Date)
	} else {
		now = s.now()
		day, err = work.Today(entries, now)
	}
	if err != nil {
		return err
	}
	return c.print(s, entries, day, now)
}

// entries reads the whole book; a book that is not there yet is an empty one
// with a hint.
func (b *book) entries(s *streams) ([]ledger.Entry, error) {
	db, err := b.existing(s.ctx)
	if err != nil {
		return nil, fmt.Errorf("%w\nMake one with: oidium ledger import FILE.jsonl --book %s, or type one in: oidium write site --book %s", err, b.Book, b.Book)
	}
	defer db.Close()
	return db.Entries(s.ctx, store.Filter{})
}
