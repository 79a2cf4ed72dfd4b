package ledger

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"time"

	"oidium/garden"
)

// maxLine is the longest line that is read, bytes.
const maxLine = 8 << 20

// ParseLine reads one line. The error is of type [Problems]. known may be the
// zero value: crops and materials are then not checked.
func ParseLine(line []byte, known Vocabulary) (Entry, error) {
	line = bytes.TrimSpace(line)
	if len(line) > maxLine {
		return Entry{}, Problems{{What: fmt.Sprintf("the line is longer than %d bytes", maxLine), Hint: "split the entry"}}
	}
	tree, err := parseTree(line)
	if err != nil {
		return Entry{}, Problems{{What: err.Error(), Hint: "one JSON object a line, in UTF-8"}}
	}
	o, ok := tree.(*object)
	if !ok {
		return Entry{}, Problems{{What: "the line is " + describeAny(tree), Hint: "an entry is one JSON object, { ... }"}}
	}
	e, ps := parseEntry(line, o, known)
	if len(ps) > 0 {
		id, _ := o.get("id")
		for i := range ps {
			ps[i].ID, _ = id.(string)
		}
		return Entry{}, ps
	}
	return e, nil
}

func describeAny(v any) string {
	if v == nil {
		return "null"
	}
	return describe(v)
}

func parseEntry(line []byte, o *object, known Vocabulary) (Entry, Problems) {
	c := &checker{known: known}
	k, newer := checkHead(c, o)
	if len(c.found) > 0 {
		return Entry{}, c.found
	}
	e := headEntry(o)
	if newer {
		e.line = bytes.Clone(line)
		e.sum = sha256.Sum256(appendCanonical(nil, o))
		e.open = e.sum
		return e, nil
	}
	body, _ := o.get("body")
	e.Body = k.make()
	r := groupRule(reflect.TypeOf(e.Body).Elem())
	c.in(step{field: "body"}, &r, body)
	if len(c.found) > 0 {
		return Entry{}, c.found
	}
	if bo := body.(*object); len(bo.names) == 0 && len(r.fields) > 0 && k.replaces != must {
		c.addTo("body", mean("", r.ordered), "is empty")
		return Entry{}, c.found
	}
	canonical := appendCanonical(nil, body)
	if err := json.Unmarshal(canonical, e.Body); err != nil {
		c.addTo("body", "", "%v", err)
		return Entry{}, c.found
	}
	if ps := e.Body.check(&e); len(ps) > 0 {
		return Entry{}, ps
	}
	e.line = canonicalLine(o, canonical)
	e.seal(o, body.(*object), canonical)
	return e, nil
}

// checkHead checks the envelope. For a line of a newer program it asks only for
// what is needed to keep and order it.
func checkHead(c *checker, o *object) (k kind, newer bool) {
	r := headRule()
	if v, ok := o.get("v"); ok {
		n, isNumber := v.(number)
		newer = isNumber && n.v > version
	}
	name, _ := o.get("kind")
	if s, ok := name.(string); ok && !newer {
		if k, ok = kindOf(s); !ok {
			c.addTo("kind", mean(s, Kinds()), "%.40q is not a known kind", s)
		}
	}
	for i, n := range o.names {
		if n == "body" {
			continue
		}
		j := slices.IndexFunc(r.fields, func(f rule) bool { return f.name == n })
		switch {
		case j >= 0:
			c.in(step{field: n}, &r.fields[j], o.values[i])
		case !newer:
			c.addTo(n, mean(n, append(slices.Clone(r.ordered), "body")), "is not a field of an entry")
		}
	}
	for _, f := range r.fields {
		if _, ok := o.get(f.name); !ok && f.required {
			c.addTo(f.name, f.doc, "is missing")
		}
	}
	if newer {
		return k, true
	}
	if _, ok := o.get("body"); !ok {
		c.addTo("body", "what the entry says stands in body", "is missing")
	}
	checkNeed(c, o, k.name, "bed", k.bed)
	checkNeed(c, o, k.name, "replaces", k.replaces)
	id, _ := o.get("id")
	if rep, ok := o.get("replaces"); ok && rep == id {
		c.addTo("replaces", "name the entry that this one corrects", "an entry cannot replace itself")
	}
	return k, false
}

func checkNeed(c *checker, o *object, kind, field string, n need) {
	_, ok := o.get(field)
	switch {
	case kind == "":
	case n == must && !ok:
		c.addTo(field, "", "is missing: a %s needs it", kind)
	case n == mustNot && ok:
		c.addTo(field, "leave it out", "does not belong to a %s", kind)
	}
}

// headRule is the rule of the envelope: that of [Head], with the times as times.
func headRule() rule {
	r := groupRule(reflect.TypeFor[Head]())
	r.fields = slices.Clone(r.fields)
	for i := range r.fields {
		if n := r.fields[i].name; n == "time" || n == "written" {
			r.fields[i].shape = instant
		}
	}
	return r
}

func headEntry(o *object) Entry {
	str := func(name string) string {
		v, _ := o.get(name)
		s, _ := v.(string)
		return s
	}
	at := func(name string) time.Time {
		t, _, _ := parseInstant(str(name))
		return t
	}
	v, _ := o.get("v")
	n, _ := v.(number)
	blanked, _ := o.get("blanked")
	return Entry{
		Blanked: blanked == true,
		ID:      garden.EntryID(str("id")), Kind: str("kind"), V: int(n.v),
		Time: at("time"), Written: at("written"), Who: str("who"), Device: str("device"),
		Bed: garden.BedID(str("bed")), Replaces: garden.EntryID(str("replaces")),
	}
}

// canonicalLine is the envelope in the order of [Head], then the body.
func canonicalLine(o *object, body []byte) []byte {
	b := []byte{'{'}
	for _, f := range groupRule(reflect.TypeFor[Head]()).fields {
		if v, ok := o.get(f.name); ok {
			b = append(appendString(b, f.name), ':')
			b = append(appendCanonical(b, v), ',')
		}
	}
	b = append(b, `"body":`...)
	b = append(b, body...)
	return append(b, '}')
}

// Read reads lines until the end and checks each. Lines that are right come
// back as entries in the order of the file; each thing that is wrong comes back
// as a problem with the number of its line, and its line gives no entry. A line
// that was there before and says the same is passed over; one with an id that
// was there before and says something else is a problem. The error is of the
// reader, or says that the whole is not UTF-8 text.
func Read(r io.Reader, known Vocabulary) (entries []Entry, problems []Problem, err error) {
	br := bufio.NewReaderSize(r, 64<<10)
	if err := checkStart(br); err != nil {
		return nil, nil, err
	}
	type seen struct{ line, entry int }
	first := make(map[garden.EntryID]seen)
	for n := 1; ; n++ {
		line, long, err := readLine(br)
		if err != nil && !errors.Is(err, io.EOF) {
			return entries, problems, fmt.Errorf("reading line %d: %w", n, err)
		}
		end := err != nil
		switch {
		case long:
			problems = append(problems, Problem{Line: n, What: fmt.Sprintf("the line is longer than %d bytes", maxLine), Hint: "one entry a line; split the entry"})
		case len(bytes.TrimSpace(line)) > 0:
			e, err := ParseLine(line, known)
			var ps Problems
			if errors.As(err, &ps) {
				for _, p := range ps {
					p.Line = n
					problems = append(problems, p)
				}
				break
			}
			if before, ok := first[e.ID]; ok {
				if !e.SameAs(entries[before.entry]) {
					problems = append(problems, Problem{
						Line: n, ID: string(e.ID), Field: "id",
						What: fmt.Sprintf("%s is the id of line %d too, which says something else", e.ID, before.line),
						Hint: "make a new id for each entry; to correct one, write a new entry with replaces",
					})
				} else if e.Blanked {
					entries[before.entry] = e
				}
				break
			}
			e.FromLine = n
			first[e.ID] = seen{n, len(entries)}
			entries = append(entries, e)
		}
		if end {
			return entries, problems, nil
		}
	}
}

// checkStart passes over a UTF-8 byte order mark and refuses other encodings.
func checkStart(br *bufio.Reader) error {
	b, err := br.Peek(4)
	if err != nil && !errors.Is(err, io.EOF) {
		return fmt.Errorf("reading entries: %w", err)
	}
	const hint = "save the file as UTF-8"
	switch {
	case bytes.HasPrefix(b, []byte{0xef, 0xbb, 0xbf}):
		_, err := br.Discard(3)
		return err
	case bytes.HasPrefix(b, []byte{0xff, 0xfe}), bytes.HasPrefix(b, []byte{0xfe, 0xff}):
		return Problem{Line: 1, What: "the file is UTF-16, not UTF-8", Hint: hint}
	case len(b) >= 2 && (b[0] == 0 || b[1] == 0):
		return Problem{Line: 1, What: "the file is not text in UTF-8 (it holds zero bytes)", Hint: hint}
	case bytes.HasPrefix(b, []byte{0x1f, 0x8b}):
		return Problem{Line: 1, What: "the file is compressed", Hint: "unpack it first"}
	}
	return nil
}

// readLine returns the next line, or tells that it is too long and passes over it.
func readLine(br *bufio.Reader) (line []byte, long bool, err error) {
	for {
		part, err := br.ReadSlice('\n')
		if !long {
			line = append(line, part...)
		}
		if len(line) > maxLine {
			long, line = true, nil
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return line, long, err
		}
	}
}
