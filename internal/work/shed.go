package work

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/remedy"
)

// Shed is what stands in the shed on a morning, and what is known of its labels.
type Shed struct {
	Version  string           `json:"version" enum:"oidium-shed-1" doc:"shape of this document"`
	Date     string           `json:"date" format:"date"`
	AsOf     string           `json:"as_of" format:"date-time" doc:"nothing later than this instant was used"`
	Garden   string           `json:"garden" doc:"name of the garden"`
	Money    string           `json:"money" doc:"the user's money; prices are in it"`
	Items    []Item           `json:"items" doc:"by material"`
	Cautions []string         `json:"cautions"`
	Warnings []garden.Warning `json:"warnings"`
}

// Item is one material: its packs and its labels.
type Item struct {
	Material string    `json:"material" doc:"active ingredient and form, by its id in the program"`
	Name     string    `json:"name"`
	FRAC     string    `json:"frac" doc:"resistance group in the program's table"`
	Packs    []Pack    `json:"packs" doc:"empty: a label was read, but nothing stands here"`
	Labels   []Reading `json:"labels" doc:"one for each crop the label was read for; empty: no label was read"`
	Missing  []string  `json:"missing" doc:"what nobody has read on the label yet, in words; unknown blocks, it is never guessed"`
	Cautions []string  `json:"cautions"`
}

// Pack is a pack in the shed.
type Pack struct {
	Product string   `json:"product,omitempty"`
	Batch   string   `json:"batch,omitempty"`
	Amount  *float64 `json:"amount,omitempty" doc:"left when it was last stated, in unit"`
	Unit    string   `json:"unit" enum:"kg,L,kg or L"`
	Stated  string   `json:"stated" format:"date" doc:"day on which it was last stated"`
	Used    float64  `json:"used_since" doc:"of all packs of the material, by the treatments entered since, in unit"`
	Opened  string   `json:"opened,omitempty" format:"date"`
	Expires string   `json:"expires,omitempty" format:"date"`
	Expired bool     `json:"expired"`
	Price   *float64 `json:"price,omitempty" doc:"of a kilogram or litre"`
}

// Reading is what was read on a label for one crop.
type Reading struct {
	Crop   string  `json:"crop,omitempty" doc:"absent: for every crop on the label"`
	Read   string  `json:"read" format:"date" doc:"day on which it was last read"`
	Values []Value `json:"values"`
}

// Value is one value of a label.
type Value struct {
	Field string `json:"field" doc:"name of the field in the entry"`
	What  string `json:"what" doc:"what it is"`
	Known bool   `json:"known"`
	Text  string `json:"text" doc:"as it was read, with its unit; unknown when it was not"`
}

// labelValues are the values that decide, in the order of print: the field, its
// key in the catalogue, its unit.
var labelValues = []struct{ field, unit string }{
	{"registration", ""},
	{"rate_low_g_per_l", "g/L"},
	{"rate_high_g_per_l", "g/L"},
	{"harvest_days", "d"},
	{"reentry_hours", "h"},
	{"interval_days", "d"},
	{"max_season", ""},
	{"stages", ""},
	{"hour_limited", ""},
	{"stage_limited", ""},
}

func labelWords(field string) string {
	switch field {
	case "registration":
		return tell("label.registration")
	case "rate_low_g_per_l":
		return tell("label.rate_low")
	case "rate_high_g_per_l":
		return tell("label.rate_high")
	case "harvest_days":
		return tell("label.harvest_days")
	case "reentry_hours":
		return tell("label.reentry_hours")
	case "interval_days":
		return tell("label.interval_days")
	case "max_season":
		return tell("label.max_season")
	case "stages":
		return tell("label.stages")
	case "hour_limited":
		return tell("label.hour_limited")
	}
	return tell("label.stage_limited")
}

// mayLack are the values of a label that need not be printed on it.
var mayLack = []string{"stages", "hour_limited", "stage_limited", "rate_low_g_per_l"}

// ShedOf returns the shed as known on the morning of the day, 06:00 there.
func ShedOf(entries []ledger.Entry, day garden.Day) (*Shed, error) {
	loc, asOf, err := instant(entries, day)
	if err != nil {
		return nil, err
	}
	g, err := ledger.Fold(entries, asOf)
	if err != nil {
		return nil, err
	}
	out := &Shed{
		Version: "oidium-shed-1", Date: day.String(), AsOf: asOf.Format(time.RFC3339), Garden: g.Site.Name, Money: moneyOf(g.Site),
		Items: []Item{}, Cautions: []string{tell("caution.store"), say("caution.treat")}, Warnings: []garden.Warning{},
	}
	packs, err := thingsOf(entries, asOf, "stock", "material", "batch")
	if err != nil {
		return nil, err
	}
	labels, err := thingsOf(entries, asOf, "label", "material", "crop")
	if err != nil {
		return nil, err
	}
	var ids []string
	for _, t := range slices.Concat(packs, labels) {
		if !slices.Contains(ids, t.text("material")) {
			ids = append(ids, t.text("material"))
		}
	}
	slices.Sort(ids)
	for _, id := range ids {
		it := Item{Material: id, Name: id, Packs: []Pack{}, Labels: []Reading{}, Missing: []string{}, Cautions: []string{}}
		if m, ok := remedy.Get(garden.MaterialID(id)); ok {
			it.Name, it.FRAC = m.Name, m.FRAC
			it.Cautions = append(it.Cautions, m.Cautions...)
		}
		for _, t := range packs {
			if t.text("material") == id {
				it.Packs = append(it.Packs, packOf(t, g, day, loc))
			}
		}
		for _, t := range labels {
			if t.text("material") == id {
				it.Labels = append(it.Labels, readingOf(t, loc))
			}
		}
		it.Missing = append(it.Missing, missing(it.Labels)...)
		out.Items = append(out.Items, it)
		out.warn(it)
	}
	return out, nil
}

// thing is what was stated of one thing: the last word of each field.
type thing struct {
	fields map[string]any
	at     time.Time // of the last statement
}

func (t *thing) text(name string) string {
	s, _ := t.fields[name].(string)
	return s
}

func (t *thing) number(name string) *float64 {
	v, ok := t.fields[name].(float64)
	if !ok {
		return nil
	}
	return &v
}

// thingsOf folds the entries of a kind into the things they are of, told apart by
// two fields, in the order of those. A label with another registration number
// begins anew.
func thingsOf(entries []ledger.Entry, asOf time.Time, kind, key, second string) ([]*thing, error) {
	held, err := ledger.Standing(entries, asOf, kind)
	if err != nil {
		return nil, err
	}
	var out []*thing
	for _, e := range held {
		var line struct {
			Body map[string]any `json:"body"`
		}
		if e.Body == nil {
			continue
		}
		if err := json.Unmarshal(e.Line(), &line); err != nil {
			return nil, fmt.Errorf("reading %s: %w", e.ID, err)
		}
		i := slices.IndexFunc(out, func(t *thing) bool { return t.fields[key] == line.Body[key] && t.fields[second] == line.Body[second] })
		if i < 0 {
			out = append(out, &thing{fields: map[string]any{}})
			i = len(out) - 1
		}
		t := out[i]
		if r := line.Body["registration"]; r != nil && t.fields["registration"] != nil && r != t.fields["registration"] {
			t.fields = map[string]any{}
		}
		for k, v := range line.Body {
			t.fields[k] = v
		}
		t.at = e.Time
	}
	slices.SortStableFunc(out, func(a, b *thing) int {
		return cmp.Or(cmp.Compare(a.text(key), b.text(key)), cmp.Compare(a.text(second), b.text(second)))
	})
	return out, nil
}

func packOf(t *thing, g *garden.Garden, day garden.Day, loc *time.Location) Pack {
	p := Pack{
		Product: t.text("product"), Batch: t.text("batch"), Amount: t.number("amount"), Unit: cmp.Or(t.text("unit"), "kg or L"),
		Stated: garden.DayOf(t.at.In(loc)).String(), Opened: t.text("opened"), Expires: t.text("expires"), Price: t.number("price"),
	}
	if d, err := garden.ParseDay(p.Expires); err == nil {
		p.Expired = day > d
	}
	for _, x := range g.Treatments {
		if string(x.Material) == t.text("material") && x.Start.After(t.at) {
			p.Used += x.Grams / 1000
		}
	}
	p.Used = round3(p.Used)
	return p
}

func readingOf(t *thing, loc *time.Location) Reading {
	r := Reading{Crop: t.text("crop"), Read: garden.DayOf(t.at.In(loc)).String()}
	for _, v := range labelValues {
		x := Value{Field: v.field, What: labelWords(v.field), Text: unknown}
		switch y := t.fields[v.field].(type) {
		case string:
			x.Known, x.Text = true, y
		case float64:
			x.Known, x.Text = true, strings.TrimSpace(fmt.Sprintf("%g %s", y, v.unit))
		case bool:
			x.Known, x.Text = true, map[bool]string{true: "yes", false: "no"}[y]
		}
		r.Values = append(r.Values, x)
	}
	return r
}

// missing lists what is to be read on the labels of a material.
func missing(labels []Reading) []string {
	if len(labels) == 0 {
		return []string{tell("label.none")}
	}
	var out []string
	for _, r := range labels {
		for _, v := range r.Values {
			if v.Known || slices.Contains(mayLack, v.Field) {
				continue
			}
			if r.Crop != "" {
				out = append(out, tell("label.missing-for", "what", v.What, "crop", r.Crop))
			} else {
				out = append(out, tell("label.missing", "what", v.What))
			}
		}
	}
	return out
}

func (s *Shed) warn(it Item) {
	for _, p := range it.Packs {
		if p.Expired {
			s.Warnings = append(s.Warnings, garden.Warning{Code: "expired", Text: tell("shed.expired", "material", it.Name, "batch", cmp.Or(p.Batch, "?"), "day", p.Expires)})
		}
		if p.Amount != nil && p.Used > *p.Amount {
			s.Warnings = append(s.Warnings, garden.Warning{Code: "used-up", Text: tell("shed.used-up", "material", it.Name, "used", p.Used, "had", *p.Amount)})
		}
	}
}
