package command

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	_ "image/jpeg" // sizes of pictures
	_ "image/png"
	"io"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/mattn/go-isatty"

	"oidium/garden"
	"oidium/internal/command/daybook"
	"oidium/internal/command/spoken"
	"oidium/internal/ledger"
	"oidium/internal/store"
	"oidium/internal/work"
)

type writeCmd struct {
	book
	Kind     string   `arg:"" optional:"" help:"What it is about, such as tally, treatment, harvest, note; oidium write --kinds lists them."`
	Words    []string `arg:"" optional:"" name:"word" help:"The bed, then field=value. Words without a name go to the field that matters most: 3,2 for a harvest, 0/5 0/5 1/5 for a tally."`
	At       string   `help:"Time it speaks of: now, 7:30, yesterday 18:00, 14 June 7:30, 20 min ago." placeholder:"TIME"`
	Who      string   `help:"Who did it." env:"OIDIUM_WHO" placeholder:"NAME"`
	Device   string   `help:"Which device writes it." env:"OIDIUM_DEVICE" placeholder:"NAME"`
	Replaces string   `help:"Entry that this one corrects; see: oidium book correct." placeholder:"ID"`
	File     string   `help:"Fields as one JSON object, from a file or - for standard input." placeholder:"FILE"`
	Picture  string   `help:"Picture of a photo entry, JPEG or PNG." placeholder:"FILE"`
	Show     bool     `help:"Show the entry and keep nothing."`
	JSON     bool     `help:"Print what was kept as JSON (its schema: oidium schema kept)."`
	Kinds    bool     `help:"List the kinds of entry."`
	Fields   bool     `help:"List the fields of the kind."`
	Counting bool     `help:"Tell how the leaves of a tally are typed."`
}

func (c *writeCmd) Run(s *streams) error {
	switch {
	case c.Counting:
		_, err := fmt.Fprint(s.out, spoken.Help)
		return err
	case c.Kinds, c.Kind == "":
		return daybook.WriteKinds(s.out)
	case c.Fields:
		return daybook.WriteFields(s.out, c.Kind)
	}
	db, entries, err := c.begin(s)
	if err != nil {
		return err
	}
	if db != nil {
		defer db.Close()
	}
	now := s.now()
	page, err := daybook.Open(entries, now)
	if err != nil {
		return err
	}
	d, err := page.New(c.Kind)
	if err != nil {
		return fmt.Errorf("%w\nThe kinds are listed by: oidium write --kinds", err)
	}
	d.Who, d.Device = c.Who, c.Device
	if err := c.fill(s, page, d); err != nil {
		return wrong(s, c.Kind, err)
	}
	asked := s.interactive() && c.File == "" && d.Lacks()
	if asked {
		kept, err := page.Ask(&patient{s.ctx, s.in}, s.err, d, minding(entries, now))
		if err != nil || !kept {
			return err
		}
	}
	if !asked {
		d.NamePlanting()
	}
	e, err := d.Entry(newID(now), now)
	if err != nil {
		return wrong(s, c.Kind, err)
	}
	if c.Show {
		db = nil
	} else if db == nil {
		if db, err = c.anew(s.ctx); err != nil {
			return err
		}
		defer db.Close()
	}
	return finish(s, db, entries, e, now, form{json: c.JSON, seen: asked})
}

// form says how what was kept is printed.
type form struct {
	json bool
	seen bool // the entry and what is to be minded were shown before
}

// begin opens the book and reads what a page needs. A book that is not there is
// begun by a site only, so that a slip in its name makes no second garden.
func (c *writeCmd) begin(s *streams) (*store.Book, []ledger.Entry, error) {
	if _, err := os.Stat(c.Book); errors.Is(err, fs.ErrNotExist) {
		if c.Kind != "site" {
			return nil, nil, fmt.Errorf("there is no book %s; begin it with: oidium write site --book %s", c.Book, c.Book)
		}
		return nil, nil, nil
	}
	if c.Kind == "site" && c.Garden != "" {
		db, err := store.OpenExisting(s.ctx, c.Book)
		if err != nil {
			return nil, nil, err
		}
		there, err := db.Garden(c.Garden).Begun(s.ctx)
		if err = errors.Join(err, db.Close()); err != nil || !there {
			return nil, nil, err // a garden is begun like a book
		}
	}
	return c.openBook(s.ctx)
}

// openBook opens the book and reads its entries, the rows of weather left out.
func (b *book) openBook(ctx context.Context) (*store.Book, []ledger.Entry, error) {
	db, err := b.existing(ctx)
	if err != nil {
		return nil, nil, fmt.Errorf("%w\nBegin one with: oidium write site --book %s", err, b.Book)
	}
	var kinds []string
	for _, k := range ledger.Kinds() {
		if k != "weather" && k != "forecast" && k != "log" {
			kinds = append(kinds, k)
		}
	}
	entries, err := db.Entries(ctx, store.Filter{Kinds: kinds})
	if err != nil {
		return nil, nil, errors.Join(err, db.Close())
	}
	return db, entries, nil
}

// fill takes what the command line and files say.
func (c *writeCmd) fill(s *streams, page *daybook.Page, d *daybook.Draft) error {
	if c.At != "" {
		if err := d.When(c.At); err != nil {
			return err
		}
	}
	if c.Replaces != "" {
		e, err := page.Find(c.Replaces)
		if err != nil {
			return err
		}
		d.Replaces = string(e.ID)
		if d.Bed == "" {
			d.Bed = string(e.Bed)
		}
	}
	if err := d.Say(c.Words); err != nil {
		return err
	}
	if c.Picture != "" {
		if err := picture(c.Picture, d); err != nil {
			return err
		}
	}
	name := c.File
	if name == "" && d.Empty() && !s.interactive() {
		name = "-"
	}
	if name == "" {
		return nil
	}
	f, err := s.open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, mostBody))
	if err != nil {
		return fmt.Errorf("reading %s: %w", name, err)
	}
	if c.File == "" && len(strings.TrimSpace(string(data))) == 0 {
		return nil // nothing came through the pipe: what is missing is said below
	}
	return d.Fill(data)
}

// finish keeps an entry and says what was kept and what is to be minded. With no
// book it only shows.
func finish(s *streams, db *store.Book, entries []ledger.Entry, e ledger.Entry, now time.Time, how form) error {
	k, err := work.Keeping(entries, now, e)
	if err != nil {
		return err
	}
	k.Kept = db != nil
	if db != nil {
		if _, _, err := db.Append(s.ctx, []ledger.Entry{e}); err != nil {
			return fmt.Errorf("nothing was kept: %w", err)
		}
	}
	if how.json {
		return writeJSON(s.out, k)
	}
	// A site may have stated the zone in which times are said.
	page, err := daybook.Open(append(slices.Clone(entries), e), now)
	if err != nil {
		return err
	}
	p := &plainText{out: s.out}
	word := "Kept"
	if db == nil {
		word = "Not kept, only shown"
	}
	p.line("%s: %s", word, page.Sentence(e))
	if !how.seen {
		if err := p.fields(page, e); err != nil {
			return err
		}
	}
	p.line("  id %s", e.ID)
	p.freed(page, k.Clock)
	p.gaps(k.Missing)
	for _, w := range k.Warnings {
		p.para("  Note: ", w.Text)
	}
	if !how.seen {
		p.cautions(k.Cautions)
	}
	if next := daybook.Next(e); next != "" && db != nil {
		p.para("  ", next)
	}
	if how.seen && db != nil {
		p.para("  ", "Wrong after all? oidium book correct last, or oidium book withdraw last.")
	}
	return p.err
}

// minding returns what is said of an entry before it is kept.
func minding(entries []ledger.Entry, now time.Time) func(ledger.Entry) []string {
	return func(e ledger.Entry) []string {
		k, err := work.Keeping(entries, now, e)
		if err != nil {
			return []string{err.Error()}
		}
		var out []string
		for _, g := range k.Missing {
			var fields []string
			for _, f := range g.Fields {
				fields = append(fields, f.Field)
			}
			out = append(out, fmt.Sprintf("Missing for %s: %s.", g.Rule, strings.Join(fields, ", ")))
		}
		for _, c := range k.Cautions {
			out = append(out, "Mind: "+c)
		}
		return out
	}
}

// wrong shows what is wrong with an entry.
func wrong(s *streams, kind string, err error) error {
	for _, l := range daybook.Wrong(err) {
		fmt.Fprintf(s.err, "%s: %s\n", kind, l)
	}
	fmt.Fprintf(s.err, "Nothing was kept. The fields of a %s: oidium write %s --fields\n", kind, kind)
	return &reported{"wrong entry"}
}

// interactive tells whether somebody is at the keyboard.
func (s *streams) interactive() bool {
	f, ok := s.in.(*os.File)
	return ok && isatty.IsTerminal(f.Fd())
}

// clockVar sets the clock of the program in tests, RFC 3339.
const clockVar = "OIDIUM_CLOCK"

// now is the clock of this machine, in the zone it is in.
func (s *streams) now() time.Time {
	now := time.Now()
	if t, err := time.Parse(time.RFC3339, os.Getenv(clockVar)); err == nil {
		now = t
	}
	return now.In(localZone())
}

// localZone is the zone of this machine by its name, so that it can be written
// down.
func localZone() *time.Location {
	if time.Local.String() != "Local" {
		return time.Local
	}
	if path, err := os.Readlink("/etc/localtime"); err == nil {
		if _, name, ok := strings.Cut(filepath.ToSlash(path), "/zoneinfo/"); ok {
			if loc, err := time.LoadLocation(name); err == nil {
				return loc
			}
		}
	}
	return time.Local
}

// newID makes a UUID of version 7 (RFC 9562) with the time of the clock.
func newID(now time.Time) garden.EntryID {
	var u uuid.UUID
	rand.Read(u[:]) // never fails
	ms := uint64(now.UnixMilli())
	for i := range 6 {
		u[i] = byte(ms >> (40 - 8*i))
	}
	u[6] = 0x70 | u[6]&0x0f
	u[8] = 0x80 | u[8]&0x3f
	return garden.EntryID(u.String())
}

// mostBody is the longest body read from a file, bytes.
const mostBody = 8 << 20

// mostPicture is the largest picture an entry holds, bytes.
const mostPicture = 6_000_000

// picture puts a picture into the draft of a photo.
func picture(name string, d *daybook.Draft) error {
	b, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("there is no file %q", name)
	}
	if err != nil {
		return err
	}
	kind := http.DetectContentType(b)
	switch {
	case kind != "image/jpeg" && kind != "image/png" && kind != "image/webp":
		return fmt.Errorf("%s is not a picture in JPEG, PNG or WebP", name)
	case len(b) > mostPicture:
		return fmt.Errorf("%s has %d bytes, more than %d; make it smaller first", name, len(b), mostPicture)
	}
	sum := sha256.Sum256(b)
	d.Body["sha256"], d.Body["type"], d.Body["bytes"] = hex.EncodeToString(sum[:]), kind, len(b)
	d.Body["data"] = base64.StdEncoding.EncodeToString(b)
	if c, _, err := image.DecodeConfig(strings.NewReader(string(b))); err == nil {
		d.Body["width"], d.Body["height"] = c.Width, c.Height
	}
	return nil
}
