package daybook

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"oidium/garden"
	"oidium/host"
	"oidium/internal/command/spoken"
	"oidium/internal/ledger"
	"oidium/internal/work"
	"oidium/remedy"
	"oidium/remedy/mixing"
)

// Page is what is known while an entry is typed: the entries so far, the beds,
// the zone and units of the site, and the time.
type Page struct {
	now    time.Time
	loc    *time.Location
	system mixing.System
	garden *garden.Garden
	held   []ledger.Entry // that stand now, in order of time
	all    []ledger.Entry
	crops  []named
	stuff  []named
	words  ledger.Vocabulary
	forms  map[string]*form
	asking bool // numbers are typed in the units of the site
}

// named is something of a list, by its id and its name for a reader.
type named struct{ id, name string }

// Open makes a page from the entries so far. now is in the zone the garden has
// when its site states none. The error is that the entries contradict each other.
func Open(entries []ledger.Entry, now time.Time) (*Page, error) {
	g, err := ledger.Fold(entries, now)
	if err != nil {
		return nil, err
	}
	held, err := ledger.Standing(entries, now)
	if err != nil {
		return nil, err
	}
	p := &Page{forms: map[string]*form{}, now: now, loc: now.Location(), system: mixing.System(g.Site.Units), garden: g, held: held, all: entries}
	if g.Site.Zone != "" {
		if p.loc, err = time.LoadLocation(g.Site.Zone); err != nil {
			return nil, fmt.Errorf("the zone %q of the site is not known: %w", g.Site.Zone, err)
		}
	}
	p.now = now.In(p.loc)
	p.words = work.Vocabulary()
	for _, c := range host.All() {
		p.crops = append(p.crops, named{string(c.ID), c.Name})
	}
	for _, m := range remedy.Materials() {
		p.stuff = append(p.stuff, named{string(m.ID), m.Name})
	}
	return p, nil
}

// Now returns the time of the page, in the zone of the garden.
func (p *Page) Now() time.Time { return p.now }

// Day reads a date as people say it, as seen from today.
func (p *Page) Day(text string) (garden.Day, error) { return p.clock().Day(text, spoken.Nearest) }

func (p *Page) clock() spoken.Clock { return spoken.Clock{Now: p.now} }

func (p *Page) today() garden.Day { return garden.DayOf(p.now) }

// beds returns the beds in walking order, named for a reader.
func (p *Page) beds() []named {
	var out []named
	for _, b := range p.garden.Beds {
		out = append(out, named{string(b.ID), b.Name})
	}
	return out
}

// Bed returns the id of the bed that is meant: an id, a name or the beginning of
// one that fits no other. ok is false when there is no such bed.
func (p *Page) Bed(text string) (id string, ok bool) {
	got := pick(p.beds(), text)
	if len(got) != 1 {
		return "", false
	}
	return got[0].id, true
}

// pick returns what is meant by a text: the thing with that id or name, else
// those whose id or name begins with it, else those that hold it.
func pick(list []named, text string) []named {
	t := strings.ToLower(strings.TrimSpace(text))
	for _, fits := range []func(n string) bool{
		func(n string) bool { return n == t },
		func(n string) bool { return len(t) >= 2 && strings.HasPrefix(n, t) },
		func(n string) bool { return len(t) >= 4 && strings.Contains(n, t) },
	} {
		var out []named
		for _, n := range list {
			if fits(strings.ToLower(n.id)) || fits(strings.ToLower(n.name)) {
				out = append(out, n)
			}
		}
		if len(out) > 0 {
			return out
		}
	}
	return nil
}

// Find returns the entry meant by an id, the beginning or the end of one (four
// characters or more), or "last", the entry that came into the book last, weather
// left out. Entries are in the order in which they came.
func (p *Page) Find(text string) (ledger.Entry, error) { return FindEntry(p.all, text) }

// fromFiles are the kinds that files bring in by the hundred.
var fromFiles = []string{"weather", "forecast", "log"}

// FindEntry is [Page.Find] among the given entries.
func FindEntry(entries []ledger.Entry, text string) (ledger.Entry, error) {
	if len(entries) == 0 {
		return ledger.Entry{}, fmt.Errorf("looking for the entry %q: the book is empty", text)
	}
	if strings.EqualFold(text, "last") {
		for _, e := range slices.Backward(entries) {
			if !slices.Contains(fromFiles, e.Kind) {
				return e, nil
			}
		}
		return entries[len(entries)-1], nil
	}
	t := strings.ToLower(strings.TrimPrefix(strings.TrimSpace(text), "…"))
	var got []ledger.Entry
	for _, e := range entries {
		if string(e.ID) == t {
			return e, nil
		}
		if len(t) >= 4 && (strings.HasPrefix(string(e.ID), t) || strings.HasSuffix(string(e.ID), t)) {
			got = append(got, e)
		}
	}
	switch len(got) {
	case 1:
		return got[0], nil
	case 0:
		return ledger.Entry{}, fmt.Errorf("there is no entry %q; give its id, the last characters of it (four or more), or the word last; oidium book list shows them", text)
	}
	var ids []string
	for _, e := range got[:min(5, len(got))] {
		ids = append(ids, string(e.ID)+" ("+e.Kind+")")
	}
	return ledger.Entry{}, fmt.Errorf("%d entries fit %q, such as %s; give more of the id", len(got), text, strings.Join(ids, ", "))
}

// last returns the latest standing entry of the kind, of the bed when there is
// one there, else of any.
func (p *Page) last(kind, bed string) (ledger.Entry, bool) {
	for _, here := range []bool{true, false} {
		for _, e := range slices.Backward(p.held) {
			if e.Kind == kind && e.Body != nil && (!here || string(e.Bed) == bed) {
				return e, true
			}
		}
	}
	return ledger.Entry{}, false
}

// lastWho returns who wrote last.
func (p *Page) lastWho() string {
	for _, e := range slices.Backward(p.held) {
		if e.Who != "" {
			return e.Who
		}
	}
	return ""
}
