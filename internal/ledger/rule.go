package ledger

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"oidium/garden"
)

// shape is the JSON form a field has.
type shape uint8

const (
	text shape = iota
	numeral
	integer
	truth
	date    // 2000-06-14
	instant // RFC 3339 with zone
	list
	group // an object
)

func (s shape) String() string {
	return [...]string{
		"a text", "a number", "a whole number", "true or false", "a date such as 2000-06-14",
		"a time with zone such as 2000-06-14T06:00:00+02:00", "a list", "an object",
	}[s]
}

// rule is what a field must be. Rules are read from the Go body types, so that
// the reader, the schema and the code cannot disagree. The struct tags are
//
//	json  the name
//	doc   the meaning, in the schema too
//	rule  words separated by semicolons: required, min=, max=, over= (above, not at),
//	      enum=a|b, len= (longest text), items= (most items), holes (items may be
//	      null), word (an id: no blanks at its ends), uuid, vocab=crop|material,
//	      hint=, personal (may be blanked)
type rule struct {
	name, doc, hint string
	shape           shape
	required        bool
	min, max, over  *float64
	enum            []string
	longest, items  int
	holes           bool
	word, uuid      bool
	personal        bool
	vocab           string
	elem            *rule
	fields          []rule
	ordered         []string // names of the fields, for hints
}

const (
	defaultText  = 2000
	defaultItems = 5000
)

var (
	dayType    = reflect.TypeFor[garden.Day]()
	timeType   = reflect.TypeFor[time.Time]()
	valuesType = reflect.TypeFor[Values]()
	ruleCache  sync.Map // reflect.Type to rule; filled from the types alone
)

// groupRule returns the rule of a struct type.
func groupRule(t reflect.Type) rule {
	if r, ok := ruleCache.Load(t); ok {
		return r.(rule)
	}
	r := rule{shape: group}
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "-" || !f.IsExported() {
			continue
		}
		if f.Anonymous {
			r.fields = append(r.fields, groupRule(f.Type).fields...)
			continue
		}
		e := typeRule(f.Type)
		e.name, e.doc = name, f.Tag.Get("doc")
		e.readTag(f.Tag.Get("rule"))
		r.fields = append(r.fields, e)
	}
	for _, f := range r.fields {
		r.ordered = append(r.ordered, f.name)
	}
	ruleCache.Store(t, r)
	return r
}

func typeRule(t reflect.Type) rule {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch t {
	case dayType:
		return rule{shape: date}
	case timeType:
		return rule{shape: instant}
	case valuesType:
		return rule{shape: list, items: defaultItems, elem: &rule{shape: numeral}}
	}
	switch t.Kind() {
	case reflect.String:
		return rule{shape: text, longest: defaultText}
	case reflect.Float64:
		return rule{shape: numeral}
	case reflect.Int, reflect.Int64, reflect.Uint64:
		return rule{shape: integer}
	case reflect.Bool:
		return rule{shape: truth}
	case reflect.Slice:
		e := typeRule(t.Elem())
		return rule{shape: list, items: defaultItems, elem: &e}
	default: // struct; a test walks every body type
		return groupRule(t)
	}
}

func (r *rule) readTag(tag string) {
	// On a list, the words about one value are meant for each item.
	one := r
	if r.shape == list {
		one = r.elem
	}
	for _, w := range strings.Split(tag, ";") {
		key, val, _ := strings.Cut(w, "=")
		switch key {
		case "required":
			r.required = true
		case "min":
			one.min = parseBound(val)
		case "max":
			one.max = parseBound(val)
		case "over":
			one.over = parseBound(val)
		case "enum":
			one.enum = strings.Split(val, "|")
		case "len":
			one.longest, _ = strconv.Atoi(val)
		case "items":
			r.items, _ = strconv.Atoi(val)
		case "holes":
			one.holes = true
		case "word":
			one.word = true
		case "uuid":
			one.uuid = true
		case "personal":
			r.personal = true
		case "vocab":
			one.vocab, one.word = val, true
		case "hint":
			one.hint = val
		}
	}
}

func parseBound(s string) *float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return nil
	}
	return &v
}

// Vocabulary is what the program knows of crops and materials. An empty list is
// not checked against. It is passed in, so that this room need not know where
// crops and materials live.
type Vocabulary struct {
	Crops     []string
	Materials []string
	// Other names, in lower case, with the ids they may mean: for hints.
	CropNames, MaterialNames map[string][]string
}

// mean gives a hint what may be meant by a word that is not known.
func (v Vocabulary) mean(which, word string) string {
	others := v.CropNames
	if which == "material" {
		others = v.MaterialNames
	}
	ids := others[strings.ToLower(strings.TrimSpace(word))]
	if len(ids) == 0 {
		return mean(word, v.words(which))
	}
	quoted := make([]string, len(ids))
	for i, id := range ids {
		quoted[i] = strconv.Quote(id)
	}
	last := len(quoted) - 1
	if last == 0 {
		return "did you mean " + quoted[0] + "?"
	}
	return "did you mean " + strings.Join(quoted[:last], ", ") + " or " + quoted[last] + "?"
}

func (v Vocabulary) words(which string) []string {
	if which == "crop" {
		return v.Crops
	}
	return v.Materials
}

// checker collects what is wrong with a value.
type checker struct {
	known Vocabulary
	found Problems
	path  []step // to the value looked at
}

// step is one step of a path: into a field, or to a place in a list.
type step struct {
	field string
	place int
}

// in looks at a value one step further in.
func (c *checker) in(s step, r *rule, v any) {
	c.path = append(c.path, s)
	c.value(r, v)
	c.path = c.path[:len(c.path)-1]
}

// at names the value looked at, such as body.counts[2].infected.
func (c *checker) at() string {
	var b strings.Builder
	for _, s := range c.path {
		switch {
		case s.field == "":
			fmt.Fprintf(&b, "[%d]", s.place)
		case b.Len() > 0:
			b.WriteString("." + s.field)
		default:
			b.WriteString(s.field)
		}
	}
	return b.String()
}

func (c *checker) add(hint, format string, args ...any) {
	c.found = append(c.found, Problem{Field: c.at(), What: fmt.Sprintf(format, args...), Hint: hint})
}

// addTo adds a problem of a field of the value looked at.
func (c *checker) addTo(field, hint, format string, args ...any) {
	c.path = append(c.path, step{field: field})
	c.add(hint, format, args...)
	c.path = c.path[:len(c.path)-1]
}

func (c *checker) value(r *rule, v any) {
	if v == nil {
		if !r.holes {
			c.add("leave the field out if it is not known", "is null")
		}
		return
	}
	switch r.shape {
	case text:
		if s, ok := v.(string); ok {
			c.text(r, s)
			return
		}
	case numeral, integer:
		if n, ok := v.(number); ok {
			c.number(r, n)
			return
		}
	case truth:
		if _, ok := v.(bool); ok {
			return
		}
	case date:
		if s, ok := v.(string); ok {
			c.date(s)
			return
		}
	case instant:
		if s, ok := v.(string); ok {
			if _, what, hint := parseInstant(s); what != "" {
				c.add(hint, "%s", what)
			}
			return
		}
	case list:
		if l, ok := v.([]any); ok {
			c.list(r, l)
			return
		}
	case group:
		if o, ok := v.(*object); ok {
			c.group(r, o)
			return
		}
	}
	c.add("", "is %s where %s is expected", describe(v), r.shape)
}

func describe(v any) string {
	switch v := v.(type) {
	case string:
		return fmt.Sprintf("the text %.40q", v)
	case number:
		return "the number " + fmt.Sprintf("%.40s", v.text)
	case bool:
		return strconv.FormatBool(v)
	case []any:
		return "a list"
	default:
		return "an object"
	}
}

func (c *checker) group(r *rule, o *object) {
	for i, name := range o.names {
		k := slices.IndexFunc(r.fields, func(f rule) bool { return f.name == name })
		if k < 0 {
			c.addTo(name, mean(name, r.ordered), "is not a known field here")
			continue
		}
		c.in(step{field: name}, &r.fields[k], o.values[i])
	}
	for i := range r.fields {
		f := &r.fields[i]
		if _, ok := o.get(f.name); !ok && f.required {
			c.addTo(f.name, f.doc, "is missing")
		}
	}
}

func (c *checker) list(r *rule, l []any) {
	if len(l) > r.items {
		c.add("split it into several entries", "has %d items, more than %d", len(l), r.items)
		return
	}
	if len(l) == 0 {
		c.add("leave the field out if there is nothing to list", "is empty")
	}
	for i, v := range l {
		c.in(step{place: i}, r.elem, v)
	}
}

func (c *checker) text(r *rule, s string) {
	switch {
	case len(s) > r.longest:
		c.add("", "is longer than %d bytes", r.longest)
	case strings.ContainsFunc(s, func(q rune) bool { return q < 0x20 && q != '\n' && q != '\t' || q == 0x7f }):
		c.add("", "holds a control character")
	case s == "":
		c.add("leave the field out if it is not known", "is empty")
	case r.word && (strings.TrimSpace(s) != s || strings.ContainsAny(s, "\n\t") || len(s) > 100):
		c.add("no blanks before or behind, at most 100 bytes, one line", "%.40q cannot be a name", s)
	case r.enum != nil && !slices.Contains(r.enum, s):
		c.add(mean(s, r.enum), "%.40q is not one of %s", s, strings.Join(r.enum, ", "))
	case r.uuid:
		if what := badID(s); what != "" {
			c.add(idHint, "%s", what)
		}
	case r.vocab != "":
		if known := c.known.words(r.vocab); len(known) > 0 && !slices.Contains(known, s) {
			c.add(c.known.mean(r.vocab, s), "%.40q is not a known %s", s, r.vocab)
		}
	}
}

// maxInteger is the largest integer a float64 holds exactly, and so the largest
// that every reader of JSON reads alike (RFC 8259 6, RFC 7493 2.2).
const maxInteger = 1<<53 - 1

func (c *checker) number(r *rule, n number) {
	v := n.v
	switch {
	case r.shape == integer && v != float64(int64(v)):
		c.add(r.hint, "%.40s is not a whole number", n.text)
	case r.shape == integer && (v > maxInteger || v < -maxInteger):
		c.add("at most 9007199254740991", "%.40s is too large to be read alike everywhere", n.text)
	case r.over != nil && v <= *r.over:
		c.add(r.hint, "%.40s is not above %g", n.text, *r.over)
	case r.min != nil && v < *r.min:
		c.add(r.hint, "%.40s is below %g", n.text, *r.min)
	case r.max != nil && v > *r.max:
		c.add(r.hint, "%.40s is above %g", n.text, *r.max)
	}
}

const dateHint = "write the date as year-month-day, such as 2000-06-14"

func (c *checker) date(s string) {
	d, err := garden.ParseDay(s)
	switch {
	case err != nil && looksLikeDate(s):
		c.add("look it up in the calendar", "%q is a date that does not exist", s)
	case err != nil:
		c.add(dateHint, "%.40q is not a date", s)
	case d.Year() < firstYear || d.Year() > lastYear:
		c.add("is the year right?", "%q is not between %d and %d", s, firstYear, lastYear)
	}
}

// Years outside these are typing errors.
const firstYear, lastYear = 1900, 2200

func looksLikeDate(s string) bool {
	if len(s) < 10 || s[4] != '-' || s[7] != '-' {
		return false
	}
	for i, q := range s[:10] {
		if i != 4 && i != 7 && (q < '0' || q > '9') {
			return false
		}
	}
	return true
}

// parseInstant reads an RFC 3339 time and says what is wrong with it.
func parseInstant(s string) (t time.Time, what, hint string) {
	const form = "write it as 2000-06-14T06:00:00+02:00, with the zone"
	t, err := time.Parse(time.RFC3339, s)
	switch {
	case err == nil && (t.Year() < firstYear || t.Year() > lastYear):
		return t, fmt.Sprintf("%q is not between %d and %d", s, firstYear, lastYear), "is the year right?"
	case err == nil:
		return t, "", ""
	case looksLikeDate(s):
		if _, err := garden.ParseDay(s[:10]); err != nil {
			return t, fmt.Sprintf("%.40q has a date that does not exist", s), "look it up in the calendar"
		}
		if _, err := time.Parse("2006-01-02T15:04:05", s); err == nil {
			return t, fmt.Sprintf("%q has no zone", s), "add Z or an offset such as +02:00"
		}
		if len(s) == 10 {
			return t, fmt.Sprintf("%q is a date where a time is expected", s), form
		}
	}
	return t, fmt.Sprintf("%.40q is not a time", s), form
}
