package daybook

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"oidium/garden"
	"oidium/internal/command/spoken"
	"oidium/internal/ledger"
)

// Draft is an entry that is being filled in.
type Draft struct {
	Bed      string
	Who      string
	Device   string
	Replaces string
	At       time.Time // that it speaks of
	Body     map[string]any

	page *Page
	form *form
}

// New begins an entry of a kind, speaking of now. The error is that there is no
// such kind.
func (p *Page) New(kind string) (*Draft, error) {
	f := p.forms[kind]
	if f == nil {
		var err error
		if f, err = formOf(kind); err != nil {
			return nil, err
		}
		p.forms[kind] = f
	}
	return &Draft{page: p, form: f, At: p.now, Body: map[string]any{}}, nil
}

// Correct begins an entry that corrects another. The error is that it was written
// by a newer program.
func (p *Page) Correct(e ledger.Entry) (*Draft, error) {
	if e.Body == nil {
		return nil, fmt.Errorf("correcting %s: a newer program wrote it; correct it with that program", e.ID)
	}
	d, err := p.New(e.Kind)
	if err != nil {
		return nil, fmt.Errorf("correcting %s: %w", e.ID, err)
	}
	d.Bed, d.Who, d.Device, d.Replaces, d.At = string(e.Bed), e.Who, e.Device, string(e.ID), e.Time
	var line struct{ Body map[string]any }
	dec := json.NewDecoder(strings.NewReader(string(e.Line())))
	dec.UseNumber()
	if err := dec.Decode(&line); err != nil {
		return nil, fmt.Errorf("correcting %s: %w", e.ID, err)
	}
	d.Body = line.Body
	return d, nil
}

// Empty tells whether no field has a value yet.
func (d *Draft) Empty() bool { return len(d.Body) == 0 }

// wanted are fields of which one at least is there in an entry worth keeping,
// beyond what the ledger asks for.
var wanted = map[string][]string{
	"treatment": {"litres", "grams", "dose"},
	"label":     {"registration", "rate_high_g_per_l", "harvest_days", "reentry_hours", "interval_days", "max_season"},
	"stock":     {"amount", "opened", "expires", "batch"},
	"planting":  {"crop", "plants", "cleared", "first_pick", "last_pick"},
}

// Lacks tells whether something is missing that somebody at the keyboard is to be
// asked for.
func (d *Draft) Lacks() bool {
	_, err := d.Entry(anyID, d.page.now)
	w := wanted[d.form.kind]
	return err != nil || d.Empty() || w != nil && !slices.ContainsFunc(w, func(name string) bool { return d.Body[name] != nil })
}

// main names the field that a word without a name goes to.
var main = map[string]string{
	"note": "text", "harvest": "kg", "severity": "share", "removal": "share", "treatment": "material", "label": "material",
	"stock": "material", "planting": "crop", "climate": "act", "plastic": "act", "mulch": "act", "debris": "act",
	"withdrawal": "reason", "tally": "counts", "guess": "text", "diagnosis": "verdict", "check-leaves": "leaves",
	"heap": "heap", "heap-turn": "heap", "heap-fill": "what", "reading": "t_c", "host": "plant", "trial": "trial",
	"eye-check": "leaves",
}

// Say takes the words of a command line: first the bed, where the kind has one,
// then field=value, and words without a name for the field that matters most. A
// field without a value ("end=") is taken out. The error names the field.
func (d *Draft) Say(words []string) error {
	if len(words) > 0 && d.form.bed && d.Bed == "" && !strings.Contains(words[0], "=") {
		id, ok := d.page.Bed(words[0])
		switch {
		case d.form.kind == "bed": // a bed that is like another is another
			d.Bed, words = words[0], words[1:]
		case ok:
			d.Bed, words = id, words[1:]
		case d.form.bedNeeded:
			return d.page.noBed(words[0])
		}
	}
	var bare []string
	for _, w := range words {
		name, value, ok := strings.Cut(w, "=")
		if !ok || strings.ContainsAny(name, " \t") {
			bare = append(bare, w)
			continue
		}
		if err := d.set(name, value); err != nil {
			return err
		}
	}
	if len(bare) == 0 {
		return nil
	}
	field := main[d.form.kind]
	if field == "" {
		return ledger.Problem{Field: bare[0], What: "is not understood", Hint: "write field=value"}
	}
	if d.form.kind == "tally" {
		return d.count(bare)
	}
	return d.set(field, strings.Join(bare, " "))
}

// NoBed says that there is no bed meant by a text, and which there are.
func (p *Page) NoBed(text string) error { return p.noBed(text) }

func (p *Page) noBed(text string) error {
	hint := "there is none yet: oidium write bed " + text
	if ids := p.beds(); len(ids) > 0 {
		var all []string
		for _, b := range ids {
			all = append(all, b.id)
		}
		hint = "the beds are " + strings.Join(all, ", ")
	}
	if several := pick(p.beds(), text); len(several) > 1 {
		return ledger.Problem{Field: "bed", What: fmt.Sprintf("%q fits more than one bed", text), Hint: hint}
	}
	return ledger.Problem{Field: "bed", What: fmt.Sprintf("there is no bed %q", text), Hint: hint}
}

// count takes the words of a tally. In a correction, words that all name their
// plant change these plants only.
func (d *Draft) count(words []string) error {
	counts, err := spoken.Tally(words)
	if err != nil {
		return ledger.Problem{Field: "counts", What: err.Error(), Hint: "oidium write --counting tells how counts are written"}
	}
	if d.Replaces != "" && !slices.ContainsFunc(words, func(w string) bool {
		n, _, ok := strings.Cut(w, ":")
		return !ok || strings.Trim(n, "0123456789") != ""
	}) {
		before, err := d.counts()
		if err != nil {
			return err
		}
		kept := slices.DeleteFunc(before, func(c ledger.Count) bool {
			return slices.ContainsFunc(counts, func(n ledger.Count) bool { return n.Plant == c.Plant })
		})
		counts = append(kept, counts...)
		slices.SortStableFunc(counts, func(a, b ledger.Count) int { return a.Plant - b.Plant })
	}
	d.Body["counts"] = counts
	return nil
}

// counts returns the counts of the draft.
func (d *Draft) counts() ([]ledger.Count, error) {
	if c, ok := d.Body["counts"].([]ledger.Count); ok {
		return slices.Clone(c), nil
	}
	b, err := json.Marshal(d.Body["counts"])
	if err != nil {
		return nil, err
	}
	var out []ledger.Count
	err = json.Unmarshal(b, &out)
	return out, err
}

// set gives a field the value that was typed.
func (d *Draft) set(path, text string) error {
	path = full(d.form.fields, path)
	f, ok := find(d.form.fields, path)
	if !ok {
		hint := "? lists the fields"
		if !d.page.asking {
			hint = "oidium write " + d.form.kind + " --fields lists them"
		}
		switch path {
		case "at", "time", "when", "date":
			hint = "the time it speaks of is given with --at"
		case "who", "by":
			hint = "who did it is given with --who"
		}
		return ledger.Problem{Field: path, What: "is not a field of a " + d.form.kind, Hint: hint}
	}
	if strings.TrimSpace(text) == "" {
		put(d.Body, path, nil)
		return nil
	}
	if d.form.kind == "stock" && path == "amount" { // its unit is a field of its own
		for _, unit := range []string{"kg", "L", "l"} {
			if bare, ok := strings.CutSuffix(strings.TrimSpace(text), unit); ok {
				text = bare
				put(d.Body, "unit", strings.Replace(unit, "l", "L", 1))
				break
			}
		}
	}
	v, err := d.value(f, text)
	if err != nil {
		return err
	}
	put(d.Body, path, v)
	return d.wrong(path)
}

// NamePlanting gives a planting without one a short name: that of the planting of
// this crop which stands in the bed, or else a new one.
func (d *Draft) NamePlanting() {
	if d.form.kind != "planting" || d.Bed == "" || d.Body["planting"] != nil || d.Body["crop"] == nil {
		return
	}
	taken := map[string]bool{}
	for _, p := range d.page.garden.Plantings {
		if string(p.Bed) == d.Bed && p.Cleared == 0 && string(p.Crop) == d.Body["crop"] {
			d.Body["planting"] = string(p.ID)
			return
		}
		taken[string(p.ID)] = true
	}
	name := fmt.Sprintf("%s-%d", d.Bed, d.page.today().Year())
	for n := 2; taken[name]; n++ {
		name = fmt.Sprintf("%s-%d-%d", d.Bed, d.page.today().Year(), n)
	}
	d.Body["planting"] = name
}

// put sets a value in a body, nil takes it out.
func put(body map[string]any, path string, v any) {
	first, rest, deeper := strings.Cut(path, ".")
	if deeper {
		inner, ok := body[first].(map[string]any)
		if !ok {
			inner = map[string]any{}
		}
		put(inner, rest, v)
		v = nil
		if len(inner) > 0 {
			v = inner
		}
	}
	if v == nil {
		delete(body, first)
		return
	}
	body[first] = v
}

// get returns a value of a body, nil when it is not there.
func get(body map[string]any, path string) any {
	first, rest, deeper := strings.Cut(path, ".")
	if !deeper {
		return body[first]
	}
	inner, _ := body[first].(map[string]any)
	return get(inner, rest)
}

// Fill takes a body in JSON, as from a file. Fields that are there already stay.
func (d *Draft) Fill(data []byte) error {
	dec := json.NewDecoder(strings.NewReader(strings.TrimPrefix(string(data), "\ufeff")))
	dec.UseNumber()
	var body map[string]any
	if err := dec.Decode(&body); err != nil {
		return fmt.Errorf("reading the fields of a %s: it is not one JSON object, such as {\"text\":\"...\"}: %w", d.form.kind, err)
	}
	if dec.More() {
		return fmt.Errorf("reading the fields of a %s: something stands behind the object; several entries are brought in with: oidium ledger import", d.form.kind)
	}
	if _, whole := body["body"]; whole {
		return fmt.Errorf("reading the fields of a %s: this is a whole entry; bring it in with: oidium ledger import", d.form.kind)
	}
	for name, v := range body {
		if _, ok := d.Body[name]; !ok {
			d.Body[name] = v
		}
	}
	return nil
}

// When sets the time the entry speaks of, as it was typed.
func (d *Draft) When(text string) error {
	t, err := d.page.clock().Instant(text, d.page.now, false, spoken.Before)
	if err != nil {
		return ledger.Problem{Field: "time", What: err.Error()}
	}
	d.At = t.Time
	_, timed := find(d.form.fields, "clock")
	if _, stated := d.Body["clock"]; timed && !stated && t.DayOnly {
		d.Body["clock"] = "date only"
	}
	return nil
}

// anyID stands for the id while a draft is checked.
const anyID = "00000000-0000-7000-8000-000000000000"

// line is the draft as a line of the ledger.
func (d *Draft) line(id string, written time.Time) ([]byte, error) {
	h := ledger.Head{
		ID: id, Kind: d.form.kind, V: d.form.version,
		Time: d.At.In(d.page.loc).Format(time.RFC3339), Written: written.In(d.page.loc).Format(time.RFC3339),
		Who: d.Who, Device: d.Device, Bed: d.Bed, Replaces: d.Replaces,
	}
	return json.Marshal(struct {
		ledger.Head
		Body map[string]any `json:"body"`
	}{h, d.Body})
}

// Entry returns the finished entry. The error is of type [ledger.Problems] and
// names every field that is missing or wrong.
func (d *Draft) Entry(id garden.EntryID, written time.Time) (ledger.Entry, error) {
	line, err := d.line(string(id), written)
	if err != nil {
		return ledger.Entry{}, err
	}
	e, err := ledger.ParseLine(line, d.page.words)
	var ps ledger.Problems
	if errors.As(err, &ps) {
		return e, plainFields(ps)
	}
	if err != nil {
		return e, err
	}
	if w := ledger.Clocks([]ledger.Entry{e}, written); len(w) > 0 {
		return e, ledger.Problems{{Field: "time", What: fmt.Sprintf("%s has not come yet", d.page.Moment(e.Time)), Hint: "an entry is of what happened; a plan is a note. Is the clock of this machine right?"}}
	}
	if e.Bed != "" && e.Kind != "bed" {
		if _, ok := d.page.Bed(string(e.Bed)); !ok {
			return e, d.page.noBed(string(e.Bed))
		}
	}
	return e, nil
}

// plainFields names fields as they are typed.
func plainFields(ps ledger.Problems) ledger.Problems {
	for i := range ps {
		ps[i].Field = strings.TrimPrefix(ps[i].Field, "body.")
		ps[i].ID = ""
	}
	return ps
}

// wrong returns what the ledger's own reader finds wrong with one field.
func (d *Draft) wrong(path string) error {
	line, err := d.line(anyID, d.page.now)
	if err != nil {
		return err
	}
	_, err = ledger.ParseLine(line, d.page.words)
	var ps ledger.Problems
	if !errors.As(err, &ps) {
		return err
	}
	for _, p := range plainFields(ps) {
		if (p.Field == path || strings.HasPrefix(p.Field, path+"[") || strings.HasPrefix(p.Field, path+".")) && p.What != "is missing" {
			return p
		}
	}
	return nil
}
