package daybook

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strings"

	"oidium/internal/command/spoken"
	"oidium/internal/ledger"
)

// value turns what was typed into the value of a field. It converts; whether the
// value is allowed is for the ledger's reader to say.
func (d *Draft) value(f *field, text string) (any, error) {
	bad := func(err error) error { return ledger.Problem{Field: f.name, What: err.Error(), Hint: f.doc} }
	s := strings.TrimSpace(text)
	switch f.shape {
	case number, integer:
		v, err := d.number(f, s)
		if err != nil {
			return nil, bad(err)
		}
		return v, nil
	case yesNo:
		switch strings.ToLower(s) {
		case "yes", "y", "true":
			return true, nil
		case "no", "n", "false":
			return false, nil
		}
		return nil, bad(fmt.Errorf("%q is neither yes nor no", s))
	case date:
		day, err := d.page.clock().Day(s, sideOf(f.name))
		if err != nil {
			return nil, bad(err)
		}
		return day.String(), nil
	case moment:
		t, err := d.page.clock().Instant(s, d.At, f.name == "end" || f.name == "reentry" || f.name == "harvest_from", sideOf(f.name))
		if err != nil {
			return nil, bad(err)
		}
		return t.In(d.page.loc).Format("2006-01-02T15:04:05Z07:00"), nil
	case list:
		v, err := d.list(f, s)
		if err != nil {
			return nil, bad(err)
		}
		return v, nil
	case group:
		v, err := asJSON(s)
		if err != nil {
			return nil, bad(fmt.Errorf("%w; its fields can be given apart, such as %s.%s=VALUE", err, f.name, f.fields[0].name))
		}
		return v, nil
	}
	v, err := d.word(f, s)
	if err != nil {
		return nil, bad(err)
	}
	return v, nil
}

// word reads a text: free, one of a list, the id of an entry, or something that
// has a name and an id.
func (d *Draft) word(f *field, s string) (string, error) {
	switch {
	case f.enum != nil:
		return among(f.enum, s), nil
	case f.uuid:
		e, err := d.page.Find(s)
		if err != nil {
			return "", err
		}
		return string(e.ID), nil
	}
	switch f.name {
	case "material", "with":
		return one(d.page.stuff, d.page.words.MaterialNames, s, "material")
	case "crop":
		return one(d.page.crops, d.page.words.CropNames, s, "crop")
	case "near", "to", "bed", "parent":
		if id, ok := d.page.Bed(s); ok {
			return id, nil
		}
	}
	return s, nil
}

// among returns the word of the list that is meant, or what was typed when none
// is or several are.
func among(list []string, s string) string {
	t := strings.ToLower(s)
	var got []string
	for _, w := range list {
		low := strings.ToLower(w)
		if low == t || strings.NewReplacer("-", " ", "_", " ").Replace(low) == t {
			return w
		}
		if strings.HasPrefix(low, t) {
			got = append(got, w)
		}
	}
	if len(got) == 1 {
		return got[0]
	}
	return s
}

// one returns the id of the thing that is meant, by id, name or another name.
// Several that fit are an error that lists them; none is left to the ledger's
// reader, which knows what is near.
func one(list []named, others map[string][]string, s, what string) (string, error) {
	var all []string
	for _, n := range pick(list, s) {
		all = append(all, n.id)
	}
	if also := others[strings.ToLower(strings.TrimSpace(s))]; len(all) != 1 && len(also) > 0 {
		all = also
	}
	switch len(all) {
	case 0:
		return s, nil
	case 1:
		return all[0], nil
	}
	return "", fmt.Errorf("%q fits more than one %s: %s", s, what, strings.Join(all, ", "))
}

var compass = regexp.MustCompile(`(?i)^(\d+(?:[.,]\d+)?)\s*°?\s*(?:(\d+(?:[.,]\d+)?)\s*['′]\s*)?(?:(\d+(?:[.,]\d+)?)\s*["″]\s*)?\s*([NSEW])$`)

// number reads a number in the unit of the field.
func (d *Draft) number(f *field, s string) (any, error) {
	if f.name == "latitude" || f.name == "longitude" {
		if m := compass.FindStringSubmatch(s); m != nil {
			return degrees(f.name, m)
		}
		s = strings.TrimSuffix(s, "°")
	}
	v, unit, err := spoken.Number(s)
	if err != nil {
		return nil, err
	}
	want := unitOf(f)
	switch {
	case unit == "":
		if u := d.page.askedUnit(f); d.page.asking && u != want {
			if v, err = spoken.Convert(v, u, want, d.page.system); err != nil {
				return nil, err
			}
		}
	case f.share() && (unit == "%" || unit == "percent" || unit == "per cent"):
		v /= 100
	case f.shape == integer && strings.HasPrefix(strings.ToLower(f.name), strings.ToLower(unit)):
		// "40 plants" for plants.
	default:
		if v, err = spoken.Convert(v, unit, want, d.page.system); err != nil {
			return nil, err
		}
	}
	return json.Number(spoken.Print(spoken.Tidy(v))), nil
}

// degrees reads "52°06' N".
func degrees(name string, m []string) (any, error) {
	v := 0.0
	for i, part := range m[1:4] {
		if part == "" {
			continue
		}
		x, _, err := spoken.Number(part)
		if err != nil {
			return nil, err
		}
		v += x / []float64{1, 60, 3600}[i]
	}
	c := strings.ToUpper(m[4])
	if (name == "latitude") != (c == "N" || c == "S") {
		return nil, fmt.Errorf("%s is not a %s", c, name)
	}
	if c == "S" || c == "W" {
		v = -v
	}
	return json.Number(spoken.Print(spoken.Tidy(v))), nil
}

// list reads a list: JSON, the words of a tally, active ingredients, or values
// parted by commas or semicolons.
func (d *Draft) list(f *field, s string) (any, error) {
	if strings.HasPrefix(s, "[") {
		return asJSON(s)
	}
	switch {
	case f.name == "counts":
		return spoken.Tally(strings.Fields(s))
	case f.name == "actives":
		return actives(s)
	case f.name == "leaves":
		return pairs(s)
	case f.item.shape == group:
		return nil, fmt.Errorf("%q is not a list of things; write it as JSON, such as [{\"%s\":...}]", s, f.item.fields[0].name)
	}
	parts := strings.FieldsFunc(s, func(r rune) bool { return r == ';' || r == ',' && f.item.shape == words })
	var out []any
	for _, part := range parts {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		item := *f.item
		item.name = f.name
		v, err := d.value(&item, part)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("nothing is listed")
	}
	return out, nil
}

var active = regexp.MustCompile(`^(.*\S)\s+([\d.,]+)\s*(g/L|g/l|g/kg|%|CFU/g|CFU/mL)$`)

// actives reads "sulfur 800 g/kg; something 5 %".
func actives(s string) (any, error) {
	var out []any
	for _, part := range strings.Split(s, ";") {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		one := map[string]any{"name": part}
		if m := active.FindStringSubmatch(part); m != nil {
			v, _, err := spoken.Number(m[2])
			if err != nil {
				return nil, err
			}
			one = map[string]any{"name": m[1], "content": json.Number(spoken.Print(v)), "unit": strings.Replace(m[3], "g/l", "g/L", 1)}
		}
		out = append(out, one)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("nothing is listed")
	}
	return out, nil
}

// pairs reads leaves of known cover, "3/5 15/20": what the leaf has and what was
// read, in percent.
func pairs(s string) (any, error) {
	var out []any
	for _, w := range strings.Fields(s) {
		truth, read, ok := strings.Cut(w, "/")
		one := map[string]any{}
		for name, text := range map[string]string{"truth": truth, "read": read} {
			v, unit, err := spoken.Number(text)
			if !ok || err != nil || unit != "" && unit != "%" {
				return nil, fmt.Errorf("%q is not what the leaf has and what was read, in percent, such as 3/5", w)
			}
			one[name] = json.Number(spoken.Print(spoken.Tidy(v / 100)))
		}
		out = append(out, one)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("nothing is listed")
	}
	return out, nil
}

func asJSON(s string) (any, error) {
	dec := json.NewDecoder(strings.NewReader(s))
	dec.UseNumber()
	var v any
	if err := dec.Decode(&v); err != nil {
		return nil, fmt.Errorf("%q is not JSON", s)
	}
	return v, nil
}
