package ledger

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"

	"oidium/garden"
)

// An entry has an open part, which stays for ever, and a personal part (who did
// it, licence, customer, caption), which a blanking takes out for good. What an
// entry says is tied to the two apart, so that a ledger still proves what
// happened after it has forgotten who did it.

// photoData is the field of a photo that may be left out of a line: sha256 pins it.
const photoData = "data"

// Parts is an entry taken apart for keeping.
type Parts struct {
	Open     []byte // the line without what follows
	Personal []byte // an object with the personal fields, nil when there are none
	Blanked  bool   // personal fields or the picture were taken out
	Hours    *Hours // hourly values, nil when the kind has none
	Photo    []byte // the picture, nil when the line has none
}

// Parts takes the entry apart; [Parts.Entry] puts it together again.
func (e Entry) Parts() Parts {
	p := Parts{Open: e.line, Blanked: e.Blanked}
	if e.newer() {
		return p
	}
	o, body, err := lineTree(e.line)
	if err != nil { // cannot be: the line was made here
		return p
	}
	var open, personal *object
	open, personal = splitPersonal(o, body, e.Body)
	openBody := &object{}
	if b, ok := open.get("body"); ok {
		openBody = b.(*object)
	}
	switch b := e.Body.(type) {
	case *Weather:
		p.Hours = &b.Hours
	case *Forecast:
		p.Hours = &b.Hours
	case *Photo:
		if b.Data != "" {
			p.Photo, _ = base64.StdEncoding.DecodeString(b.Data) // checked when it was read
		}
	}
	if p.Hours != nil {
		openBody = without(openBody, func(n string) bool { return slices.Contains(hourly, n) })
	}
	p.Open = canonicalLine(open, appendCanonical(nil, openBody))
	if len(personal.names) > 0 {
		p.Personal = appendCanonical(nil, personal)
	}
	return p
}

// Entry puts an entry together. The error is that the parts are no entry.
func (p Parts) Entry() (Entry, error) {
	if p.Personal == nil && !p.Blanked && p.Hours == nil && p.Photo == nil {
		return ParseLine(p.Open, Vocabulary{})
	}
	o, body, err := lineTree(p.Open)
	if err != nil {
		return Entry{}, err
	}
	if p.Personal != nil {
		tree, err := parseTree(p.Personal)
		personal, ok := tree.(*object)
		if err != nil || !ok {
			return Entry{}, fmt.Errorf("the personal part cannot be read")
		}
		for i, n := range personal.names {
			to := body
			if n == "who" {
				to = o
			}
			to.names, to.values = append(to.names, n), append(to.values, personal.values[i])
		}
	}
	if p.Blanked {
		o.names, o.values = append(o.names, "blanked"), append(o.values, true)
	}
	if p.Photo != nil {
		body.names, body.values = append(body.names, photoData), append(body.values, base64.StdEncoding.EncodeToString(p.Photo))
	}
	if p.Hours != nil {
		for i, v := range p.Hours.columns() {
			if *v != nil {
				body.names, body.values = append(body.names, hourly[i]), append(body.values, hourlyTree(*v))
			}
		}
	}
	e, ps := parseEntry(p.Open, o, Vocabulary{})
	if len(ps) > 0 {
		return Entry{}, ps
	}
	return e, nil
}

// hourly are the fields of [Hours] that hold values.
var hourly = []string{"t", "rh", "wind", "rain", "rad"}

// columns returns the values by the names in [hourly].
func (h *Hours) columns() []*Values { return []*Values{&h.T, &h.RH, &h.Wind, &h.Rain, &h.Rad} }

func hourlyTree(v Values) []any {
	vals := make([]any, len(v))
	for k, x := range v {
		if !math.IsNaN(x) {
			vals[k] = number{strconv.FormatFloat(x, 'g', -1, 64), x}
		}
	}
	return vals
}

func lineTree(line []byte) (o, body *object, err error) {
	tree, err := parseTree(line)
	if err != nil {
		return nil, nil, err
	}
	o, ok := tree.(*object)
	if ok {
		b, _ := o.get("body")
		body, ok = b.(*object)
	}
	if !ok {
		return nil, nil, fmt.Errorf("the line has no body")
	}
	return o, body, nil
}

func without(o *object, drop func(string) bool) *object {
	out := &object{}
	for i, n := range o.names {
		if !drop(n) {
			out.names, out.values = append(out.names, n), append(out.values, o.values[i])
		}
	}
	return out
}

// personalFields returns the names of the personal fields of a body type.
func personalFields(b Body) []string {
	var out []string
	for _, f := range groupRule(reflect.TypeOf(b).Elem()).fields {
		if f.personal {
			out = append(out, f.name)
		}
	}
	return out
}

// splitPersonal parts a line into what is open and what is personal. The mark
// of blanking and the picture are in neither.
func splitPersonal(o, body *object, b Body) (open, personal *object) {
	names := personalFields(b)
	_, photo := b.(*Photo)
	personal = &object{}
	if who, ok := o.get("who"); ok {
		personal.names, personal.values = append(personal.names, "who"), append(personal.values, who)
	}
	for i, n := range body.names {
		if slices.Contains(names, n) {
			personal.names, personal.values = append(personal.names, n), append(personal.values, body.values[i])
		}
	}
	openBody := without(body, func(n string) bool { return slices.Contains(names, n) || photo && n == photoData })
	open = without(o, func(n string) bool { return n == "who" || n == "blanked" || n == "body" })
	open.names, open.values = append(open.names, "body"), append(open.values, openBody)
	return open, personal
}

// seal computes what the entry says: of its open part, and of the whole. A
// picture is pinned by its own sum and left out, so that a line with the
// picture and a line without it say the same.
// canonical is the canonical body.
func (e *Entry) seal(o, body *object, canonical []byte) {
	open, personal := splitPersonal(o, body, e.Body)
	if b, _ := open.get("body"); len(b.(*object).names) != len(body.names) {
		canonical = appendCanonical(nil, b) // something of it is not open
	}
	line := canonicalLine(open, canonical)
	e.open = sha256.Sum256(line)
	h := sha256.New()
	h.Write(e.open[:])
	h.Write(appendCanonical(nil, personal))
	if e.Blanked {
		h.Write([]byte("blanked"))
	}
	h.Sum(e.sum[:0])
}

// OpenSum returns the SHA-256 of the open part: what the entry says without the
// personal fields and the picture. A blanking does not change it.
func (e Entry) OpenSum() [sha256.Size]byte { return e.open }

// SameAs tells whether two entries with one id say the same. An entry and the
// same with its personal part blanked do.
func (e Entry) SameAs(other Entry) bool {
	return e.sum == other.sum || e.open == other.open && (e.Blanked || other.Blanked)
}

// Blank returns the entry as the blanking leaves it. Entries that the blanking
// does not name, and entries of a newer program, come back as they are.
func (b *Blanking) Blank(e Entry) (Entry, error) {
	if !slices.Contains(b.Entries, string(e.ID)) || e.newer() {
		return e, nil
	}
	p := e.Parts()
	o, body, err := lineTree(e.line)
	if err != nil {
		return e, err
	}
	_, personal := splitPersonal(o, body, e.Body)
	_, photo := e.Body.(*Photo)
	if b.What == "photo" {
		p.Photo = nil
		personal = without(personal, func(n string) bool { return photo && n != "who" })
	} else {
		personal = &object{}
		if b.As != "" {
			personal.names, personal.values = []string{"who"}, []any{b.As}
		}
	}
	p.Blanked, p.Personal = true, nil
	if len(personal.names) > 0 {
		p.Personal = appendCanonical(nil, personal)
	}
	return p.Entry()
}

// Blankings returns the blankings among the entries, in order of writing. A
// blanking holds whenever it is asked for: no date in the past brings a name back.
func Blankings(entries []Entry) []*Blanking {
	var with []Entry
	for _, e := range entries {
		if _, ok := e.Body.(*Blanking); ok {
			with = append(with, e)
		}
	}
	slices.SortFunc(with, later)
	var out []*Blanking
	for i, e := range with {
		if i == 0 || e.ID != with[i-1].ID {
			out = append(out, e.Body.(*Blanking))
		}
	}
	return out
}

// blanked returns the entries as all blankings among them leave them.
func blanked(entries []Entry) ([]Entry, error) {
	all := Blankings(entries)
	if len(all) == 0 {
		return entries, nil
	}
	by := map[string][]*Blanking{}
	for _, b := range all {
		for _, id := range b.Entries {
			by[id] = append(by[id], b)
		}
	}
	out := slices.Clone(entries)
	for i, e := range out {
		for _, b := range by[string(e.ID)] {
			var err error
			if out[i], err = b.Blank(out[i]); err != nil {
				return nil, fmt.Errorf("blanking %s: %w", e.ID, err)
			}
		}
	}
	return out, nil
}

// unite returns the entries each once, in order of id, as blankings leave them.
// Of an entry that is there both blanked and not, the blanked one is taken. The
// error is that two entries with one id say different things.
func unite(entries []Entry) ([]Entry, error) {
	all, err := blanked(entries)
	if err != nil {
		return nil, err
	}
	out := slices.Clone(all)
	slices.SortFunc(out, func(a, b Entry) int {
		return cmp.Or(cmp.Compare(a.ID, b.ID), -compareBool(a.Blanked, b.Blanked), bytes.Compare(a.sum[:], b.sum[:]), -cmp.Compare(len(a.line), len(b.line)))
	})
	n := 0
	var last garden.EntryID
	for _, e := range out {
		if n > 0 && e.ID == last {
			if !e.SameAs(out[n-1]) {
				return nil, fmt.Errorf("two entries have the id %s and say different things; an id is made once for each entry", e.ID)
			}
			continue
		}
		out[n], last = e, e.ID
		n++
	}
	return out[:n], nil
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}
