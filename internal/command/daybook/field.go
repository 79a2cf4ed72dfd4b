package daybook

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"oidium/internal/ledger"
)

// shape is the form the value of a field has.
type shape uint8

const (
	words shape = iota
	number
	integer
	yesNo
	date
	moment
	list
	group
)

// field is one field of a body, as the published schema describes it.
type field struct {
	name, doc string
	shape     shape
	enum      []string
	min, max  *float64
	uuid      bool // the id of an entry
	required  bool
	item      *field  // of a list
	fields    []field // of a group
}

// share tells whether the field is a share from 0 to 1.
func (f *field) share() bool { return f.shape == number && f.max != nil && *f.max == 1 }

// form is a kind of entry as it is filled in.
type form struct {
	kind, doc       string
	version         int  // of the lines
	bed, bedNeeded  bool // may be of a bed, must be
	replacingNeeded bool
	fields          []field
}

// schema is what is used of a JSON Schema.
type schema struct {
	Type        any                `json:"type"`
	Const       any                `json:"const"`
	Description string             `json:"description"`
	Enum        []string           `json:"enum"`
	Minimum     *float64           `json:"minimum"`
	Maximum     *float64           `json:"maximum"`
	Over        *float64           `json:"exclusiveMinimum"`
	Format      string             `json:"format"`
	Items       *schema            `json:"items"`
	Properties  map[string]*schema `json:"properties"`
	Required    []string           `json:"required"`
}

// formOf reads the form of a kind from the ledger's schema. The error is that
// there is no such kind.
func formOf(kind string) (*form, error) {
	b, err := ledger.Schema(kind)
	if err != nil {
		return nil, err
	}
	var s schema
	if err := json.Unmarshal(b, &s); err != nil {
		return nil, fmt.Errorf("reading the schema of a %s: %w", kind, err)
	}
	f := &form{kind: kind, bedNeeded: slices.Contains(s.Required, "bed"), replacingNeeded: slices.Contains(s.Required, "replaces")}
	_, f.bed = s.Properties["bed"]
	if k := s.Properties["kind"]; k != nil {
		f.doc = k.Description
	}
	if v := s.Properties["v"]; v != nil {
		n, _ := v.Const.(float64)
		f.version = int(n)
	}
	if body := s.Properties["body"]; body != nil {
		f.fields = fieldsOf(body)
	}
	return f, nil
}

// fieldsOf returns the fields of an object, those that must be there first, then
// by name.
func fieldsOf(s *schema) []field {
	var out []field
	for name, p := range s.Properties {
		f := fieldOf(p)
		f.name, f.required = name, slices.Contains(s.Required, name)
		out = append(out, f)
	}
	slices.SortFunc(out, func(a, b field) int {
		if a.required != b.required {
			if a.required {
				return -1
			}
			return 1
		}
		return strings.Compare(a.name, b.name)
	})
	return out
}

func fieldOf(s *schema) field {
	f := field{doc: s.Description, enum: s.Enum, min: s.Minimum, max: s.Maximum, uuid: s.Format == "uuid"}
	if s.Over != nil {
		f.min = s.Over
	}
	kind, _ := s.Type.(string)
	if both, ok := s.Type.([]any); ok && len(both) > 0 { // "or null"
		kind, _ = both[0].(string)
	}
	switch kind {
	case "number":
		f.shape = number
	case "integer":
		f.shape = integer
	case "boolean":
		f.shape = yesNo
	case "array":
		f.shape = list
		item := fieldOf(s.Items)
		f.item = &item
	case "object":
		f.shape = group
		f.fields = fieldsOf(s)
	case "string":
		switch s.Format {
		case "date":
			f.shape = date
		case "date-time":
			f.shape = moment
		}
	}
	return f
}

// find returns the field with the given path, such as kg or sprayer.tank_l.
func find(fields []field, path string) (*field, bool) {
	first, rest, deeper := strings.Cut(path, ".")
	for i := range fields {
		f := &fields[i]
		if f.name != first {
			continue
		}
		if !deeper {
			return f, true
		}
		return find(f.fields, rest)
	}
	return nil, false
}

// full returns the name of the only field that begins with the given letters,
// three or more, and what was given when there is none or more than one.
func full(fields []field, given string) string {
	out := ""
	for i := range fields {
		n := fields[i].name
		switch {
		case n == given:
			return n
		case len(given) >= 3 && strings.HasPrefix(n, given):
			if out != "" {
				return given
			}
			out = n
		}
	}
	if out == "" {
		return given
	}
	return out
}
