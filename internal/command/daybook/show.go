package daybook

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"oidium/garden"
	"oidium/internal/command/spoken"
	"oidium/internal/ledger"
)

// Line is one field of an entry for a reader.
type Line struct{ Field, Text string }

// Lines returns the fields of an entry for a reader: dates and times in words,
// shares in percent, numbers with their unit, leaves in the words of a tally.
func (p *Page) Lines(e ledger.Entry) ([]Line, error) {
	d, err := p.Correct(e)
	if err != nil {
		return nil, err
	}
	return d.lines(), nil
}

// lines returns the fields of the draft, those that are asked for first.
func (d *Draft) lines() []Line {
	var order []string
	for _, q := range questionsOf(d.form.kind) {
		order = append(order, q.field)
	}
	for i := range d.form.fields {
		if n := d.form.fields[i].name; !slices.Contains(order, n) {
			order = append(order, n)
		}
	}
	var out []Line
	for _, name := range order {
		f, ok := find(d.form.fields, name)
		if v := get(d.Body, name); ok && v != nil {
			out = append(out, d.page.show(name, f, v)...)
		}
	}
	return out
}

// show prints a value, a group as one line for each of its fields.
func (p *Page) show(name string, f *field, v any) []Line {
	if f.shape == group {
		inner, _ := v.(map[string]any)
		var out []Line
		for i := range f.fields {
			if x := inner[f.fields[i].name]; x != nil {
				out = append(out, p.show(name+"."+f.fields[i].name, &f.fields[i], x)...)
			}
		}
		return out
	}
	return []Line{{name, p.text(f, v)}}
}

// text prints one value.
func (p *Page) text(f *field, v any) string {
	switch v := v.(type) {
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case json.Number:
		return p.amount(f, v)
	case float64:
		return p.amount(f, json.Number(spoken.Print(v)))
	case []ledger.Count:
		return strings.Join(spoken.Words(v), " ")
	case []any:
		return p.listed(f, v)
	case string:
		switch f.shape {
		case date:
			if d, err := garden.ParseDay(v); err == nil {
				return p.clock().SayDay(d)
			}
		case moment:
			if t, err := time.Parse(time.RFC3339, v); err == nil {
				return p.Moment(t)
			}
		}
		if f.name == "material" || f.name == "crop" {
			for _, n := range append(slices.Clone(p.stuff), p.crops...) {
				if n.id == v && n.name != v {
					return v + " (" + n.name + ")"
				}
			}
		}
		return v
	}
	b, err := json.Marshal(v)
	if err != nil {
		return fmt.Sprint(v)
	}
	return string(b)
}

func (p *Page) amount(f *field, n json.Number) string {
	v, err := n.Float64()
	if err != nil {
		return n.String()
	}
	if f.share() {
		return spoken.Print(spoken.Tidy(100*v)) + " %"
	}
	unit := unitOf(f)
	s := strings.TrimSpace(n.String() + " " + unit)
	if u := p.askedUnit(f); u != unit {
		if x, err := spoken.Convert(v, unit, u, p.system); err == nil {
			s += " (" + strconv.FormatFloat(x, 'g', 4, 64) + " " + u + ")"
		}
	}
	return s
}

func (p *Page) listed(f *field, v []any) string {
	if f.name == "counts" {
		b, err := json.Marshal(v)
		var counts []ledger.Count
		if err == nil && json.Unmarshal(b, &counts) == nil {
			return strings.Join(spoken.Words(counts), " ")
		}
	}
	if f.name == "leaves" {
		return pairsOf(v)
	}
	if f.item.shape == number && len(v) > 8 {
		return fmt.Sprintf("%d values", len(v))
	}
	var parts []string
	for _, x := range v {
		item := *f.item
		item.name = ""
		parts = append(parts, p.text(&item, x))
	}
	return strings.Join(parts, "; ")
}

// pairsOf writes leaves of known cover as they are typed.
func pairsOf(v []any) string {
	var out []string
	for _, x := range v {
		one, _ := x.(map[string]any)
		percent := func(name string) string {
			n, _ := one[name].(json.Number)
			share, err := n.Float64()
			if err != nil {
				return "?"
			}
			return spoken.Print(spoken.Tidy(100 * share))
		}
		out = append(out, percent("truth")+"/"+percent("read"))
	}
	return strings.Join(out, " ")
}

// askedUnit returns the unit in which the user is asked for a field.
func (p *Page) askedUnit(f *field) string {
	u := unitOf(f)
	if p.system != "us" && p.system != "imperial" {
		return u
	}
	switch u {
	case "m":
		return "ft"
	case "m2":
		return "ft2"
	case "L":
		return "gal"
	case "m/s":
		return "mph"
	case "kg":
		return "lb"
	case "L/min":
		return "gal/min"
	case "°C":
		if p.system == "us" {
			return "°F"
		}
	}
	return u
}

// sentence says in one line what the entry is, such as "treatment of tunnel,
// Monday 12 June 20:00, by grower".
func (d *Draft) sentence() string { return d.page.headline(d.form.kind, d.Bed, d.Who, d.At) }

// Sentence says in one line what an entry is.
func (p *Page) Sentence(e ledger.Entry) string {
	return p.headline(e.Kind, string(e.Bed), e.Who, e.Time)
}

func (p *Page) headline(kind, bed, who string, at time.Time) string {
	s := kind
	if kind == "bed" {
		s += " " + bed
	} else if bed != "" {
		s += " of " + p.bedName(bed)
	}
	s += ", " + p.Moment(at)
	if who != "" {
		s += ", by " + who
	}
	return s
}

// Moment returns an instant as people write it, in the garden's zone.
func (p *Page) Moment(t time.Time) string { return p.clock().SayTime(t) }

// DayText returns a date written as 2000-06-14 as people write it; what is not a
// date comes back as it is.
func (p *Page) DayText(date string) string {
	d, err := garden.ParseDay(date)
	if err != nil {
		return date
	}
	return p.clock().SayDay(d)
}

func (p *Page) bedName(id string) string {
	for _, b := range p.beds() {
		if b.id == id && b.name != "" && b.name != id {
			return id + " (" + b.name + ")"
		}
	}
	return id
}

// Wrong returns what is wrong with an entry as lines for the person who typed it.
func Wrong(err error) []string {
	var ps ledger.Problems
	var one ledger.Problem
	switch {
	case errors.As(err, &ps):
	case errors.As(err, &one):
		ps = ledger.Problems{one}
	default:
		return []string{err.Error()}
	}
	var out []string
	for _, p := range ps {
		if p.What == "is missing" && p.Hint != "" {
			out = append(out, fmt.Sprintf("%s is missing: %s; give it as %s=...", p.Field, p.Hint, p.Field))
			continue
		}
		s := p.What
		if p.Field != "" {
			s = p.Field + ": " + s
		}
		switch {
		case strings.HasSuffix(p.What, "is not a known crop") && strings.HasPrefix(p.Hint, "known: "):
			s += " (oidium names crops lists them)"
		case strings.HasSuffix(p.What, "is not a known material") && strings.HasPrefix(p.Hint, "known: "):
			s += " (oidium names materials lists them)"
		case p.Hint != "" && !strings.HasPrefix(p.Hint, "known: "):
			s += " (" + p.Hint + ")"
		}
		out = append(out, s)
	}
	return out
}
