package work

import (
	"cmp"
	"encoding/json"
	"slices"
	"strings"
	"time"

	"oidium/garden"
	"oidium/internal/ledger"
)

// Said is one entry as it is shown: what it says and whether it still holds.
type Said struct {
	Version  string         `json:"version" enum:"oidium-said-1" doc:"shape of this document"`
	ID       string         `json:"id"`
	Kind     string         `json:"kind"`
	Time     string         `json:"time" format:"date-time" doc:"the time it speaks of, in the zone of the garden"`
	Written  string         `json:"written" format:"date-time"`
	Who      string         `json:"who,omitempty"`
	Device   string         `json:"device,omitempty"`
	Bed      string         `json:"bed,omitempty"`
	Replaces string         `json:"replaces,omitempty" doc:"id of the entry it corrects"`
	Blanked  bool           `json:"blanked,omitempty" doc:"a person or a picture was taken out of it"`
	State    string         `json:"state" enum:"holds,replaced,withdrawn,to come,newer" doc:"newer: written by a newer program, kept and not understood"`
	Body     map[string]any `json:"body,omitempty" doc:"its fields, as in the schema of the kind"`
}

// saidVersion names the shape of [Said].
const saidVersion = "oidium-said-1"

// Wanted says which entries are asked for. The zero value asks for all.
type Wanted struct {
	Bed      garden.BedID
	Kinds    []string
	From, To garden.Day // of the time they speak of, in the garden's zone; 0: open
	Replaced bool       // those too that were corrected or withdrawn
}

// Listed returns the entries asked for in the order of the time they speak of,
// the newest last.
func Listed(entries []ledger.Entry, now time.Time, w Wanted) ([]Said, error) {
	b, err := openBook(entries, now)
	if err != nil {
		return nil, err
	}
	out := []Said{}
	for _, e := range b.inOrder() {
		day := garden.DayOf(e.Time.In(b.loc))
		switch {
		case w.Bed != "" && e.Bed != w.Bed,
			len(w.Kinds) > 0 && !slices.Contains(w.Kinds, e.Kind),
			w.From != 0 && day < w.From, w.To != 0 && day > w.To:
			continue
		}
		s := b.said(e)
		if !w.Replaced && (s.State == "replaced" || s.State == "withdrawn") {
			continue
		}
		out = append(out, s)
	}
	return out, nil
}

// Shown is one entry with all that corrects it and that it corrects.
type Shown struct {
	Version  string   `json:"version" enum:"oidium-shown-1" doc:"shape of this document"`
	Entry    Said     `json:"entry"`
	History  []Said   `json:"history" doc:"the entry, what it corrects and what corrects it, in the order of writing"`
	Holds    string   `json:"holds,omitempty" doc:"id of the one among them that holds now; absent when it was withdrawn"`
	Clock    *Freed   `json:"clock,omitempty" doc:"of a treatment: from when the bed may be entered and picked"`
	Cautions []string `json:"cautions" doc:"what to mind; empty where nothing was done that can hurt somebody"`
}

// Show returns an entry with its history.
func Show(entries []ledger.Entry, now time.Time, e ledger.Entry) (*Shown, error) {
	b, err := openBook(entries, now)
	if err != nil {
		return nil, err
	}
	out := &Shown{Version: "oidium-shown-1", Entry: b.said(e), History: []Said{}, Cautions: cautionsOf(e)}
	for _, x := range b.tied(e) {
		s := b.said(x)
		out.History = append(out.History, s)
		if s.State == "holds" && s.Kind != "withdrawal" {
			out.Holds = s.ID
		}
	}
	if t, ok := e.Body.(*ledger.Treatment); ok {
		if out.Clock, err = freed(entries, e, t, now); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// Kept is an entry that was just written.
type Kept struct {
	Version  string           `json:"version" enum:"oidium-kept-1" doc:"shape of this document"`
	Kept     bool             `json:"kept" doc:"false: it was only shown"`
	Entry    Said             `json:"entry"`
	Clock    *Freed           `json:"clock,omitempty" doc:"of a treatment: from when the bed may be entered and picked"`
	Missing  []Gaps           `json:"missing" doc:"of a treatment: what the rules on records ask for and the entry does not have"`
	Warnings []garden.Warning `json:"warnings" doc:"what the book has against it"`
	Cautions []string         `json:"cautions" doc:"what to mind; empty where nothing was done that can hurt somebody"`
}

// Keeping returns what is to be said of an entry that joins the others.
func Keeping(entries []ledger.Entry, now time.Time, e ledger.Entry) (*Kept, error) {
	all := append(slices.Clone(entries), e)
	b, err := openBook(all, lastOf(now, e.Written))
	if err != nil {
		return nil, err
	}
	out := &Kept{Version: "oidium-kept-1", Entry: b.said(e), Missing: []Gaps{}, Warnings: []garden.Warning{}, Cautions: cautionsOf(e)}
	for _, w := range b.garden.Warnings {
		if strings.Contains(w.Text, string(e.ID)) {
			out.Warnings = append(out.Warnings, w)
		}
	}
	out.Warnings = append(out.Warnings, doubts(b.garden, b.loc, e)...)
	if t, ok := e.Body.(*ledger.Treatment); ok {
		if out.Clock, err = freed(all, e, t, now); err != nil {
			return nil, err
		}
		if out.Missing, err = gaps(all, e.ID, lastOf(now, e.Written)); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func lastOf(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

// folded is a book looked at as a whole at one instant.
type folded struct {
	entries []ledger.Entry
	now     time.Time
	loc     *time.Location
	garden  *garden.Garden
	holds   map[garden.EntryID]bool
	by      map[garden.EntryID]ledger.Entry   // by id
	next    map[garden.EntryID][]ledger.Entry // that replace it
}

func openBook(entries []ledger.Entry, now time.Time) (*folded, error) {
	g, err := ledger.Fold(entries, now)
	if err != nil {
		return nil, err
	}
	loc, err := zoneOf(g.Site)
	if err != nil {
		return nil, err
	}
	held, err := ledger.Standing(entries, now)
	if err != nil {
		return nil, err
	}
	b := &folded{
		entries: entries, now: now, loc: loc, garden: g,
		holds: map[garden.EntryID]bool{}, by: map[garden.EntryID]ledger.Entry{}, next: map[garden.EntryID][]ledger.Entry{},
	}
	for _, e := range held {
		b.holds[e.ID] = true
	}
	for _, e := range entries {
		b.by[e.ID] = e
		if e.Replaces != "" {
			b.next[e.Replaces] = append(b.next[e.Replaces], e)
		}
	}
	return b, nil
}

// inOrder returns the entries by the time they speak of, then as they were
// written.
func (b *folded) inOrder() []ledger.Entry {
	out := slices.Clone(b.entries)
	slices.SortFunc(out, func(x, y ledger.Entry) int {
		return cmp.Or(x.Time.Compare(y.Time), x.Written.Compare(y.Written), cmp.Compare(x.ID, y.ID))
	})
	return out
}

// tied returns the entries that correct one another with e, as they were written.
func (b *folded) tied(e ledger.Entry) []ledger.Entry {
	seen := map[garden.EntryID]bool{}
	var out []ledger.Entry
	var visit func(x ledger.Entry)
	visit = func(x ledger.Entry) {
		if seen[x.ID] {
			return
		}
		seen[x.ID] = true
		out = append(out, x)
		if before, ok := b.by[x.Replaces]; ok {
			visit(before)
		}
		for _, y := range b.next[x.ID] {
			visit(y)
		}
	}
	visit(e)
	slices.SortFunc(out, func(x, y ledger.Entry) int {
		return cmp.Or(x.Written.Compare(y.Written), cmp.Compare(x.ID, y.ID))
	})
	return out
}

// state tells whether an entry holds.
func (b *folded) state(e ledger.Entry) string {
	switch {
	case !e.Known(b.now):
		return "to come"
	case e.Kind == "withdrawal" && len(b.next[e.ID]) == 0:
		return "holds"
	case b.holds[e.ID] && e.Body == nil:
		return "newer"
	case b.holds[e.ID]:
		return "holds"
	}
	for _, x := range b.tied(e) {
		if b.holds[x.ID] {
			return "replaced"
		}
	}
	return "withdrawn"
}

func (b *folded) said(e ledger.Entry) Said {
	s := Said{
		Version: saidVersion, ID: string(e.ID), Kind: e.Kind, Time: e.Time.In(b.loc).Format(time.RFC3339), Written: e.Written.In(b.loc).Format(time.RFC3339),
		Who: e.Who, Device: e.Device, Bed: string(e.Bed), Replaces: string(e.Replaces), Blanked: e.Blanked,
		State: b.state(e),
	}
	var line struct {
		Body map[string]any `json:"body"`
	}
	if err := json.Unmarshal(e.Line(), &line); err == nil { // a newer line may have another body
		s.Body = line.Body
	}
	return s
}
