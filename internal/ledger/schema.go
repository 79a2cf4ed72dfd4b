package ledger

import (
	"encoding/json"
	"fmt"
	"reflect"
)

// Schema returns the JSON Schema (2020-12) of a line of the given kind, or, for
// the empty kind, of any line. It is made from the Go types the reader checks
// against. Beyond it the reader checks what a schema cannot say: that a date
// exists, that fields do not contradict each other, that crop and material are
// known.
func Schema(kind string) ([]byte, error) {
	if kind == "" {
		var all []any
		for _, k := range kinds {
			all = append(all, lineSchema(k))
		}
		return json.MarshalIndent(map[string]any{
			"$schema":     "https://json-schema.org/draft/2020-12/schema",
			"$id":         fmt.Sprintf("urn:oidium:ledger:%d", version),
			"title":       "a line of the ledger",
			"description": "one entry a line, UTF-8",
			"oneOf":       all,
		}, "", "  ")
	}
	k, ok := kindOf(kind)
	if !ok {
		return nil, fmt.Errorf("schema of kind %q: there is no such kind; %s", kind, mean(kind, Kinds()))
	}
	s := lineSchema(k)
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["$id"] = fmt.Sprintf("urn:oidium:ledger:%d:%s", version, kind)
	return json.MarshalIndent(s, "", "  ")
}

func lineSchema(k kind) map[string]any {
	head := headRule()
	s := ruleSchema(&head)
	props := s["properties"].(map[string]any)
	props["kind"] = map[string]any{"const": k.name, "description": k.doc}
	props["v"] = map[string]any{"const": version, "description": "version of the line"}
	required := s["required"].([]string)
	for field, n := range map[string]need{"bed": k.bed, "replaces": k.replaces} {
		if n == mustNot {
			delete(props, field)
		}
	}
	for _, f := range []struct {
		name string
		n    need
	}{{"bed", k.bed}, {"replaces", k.replaces}} {
		if f.n == must {
			required = append(required, f.name)
		}
	}
	r := groupRule(reflect.TypeOf(k.make()).Elem())
	body := ruleSchema(&r)
	if k.replaces != must {
		body["minProperties"] = 1
	}
	props["body"] = body
	s["required"] = append(required, "body")
	s["title"] = k.name
	return s
}

func ruleSchema(r *rule) map[string]any {
	s := map[string]any{}
	if r.doc != "" {
		s["description"] = r.doc
	}
	kind := ""
	switch r.shape {
	case text:
		kind = "string"
		textSchema(s, r)
	case date:
		kind = "string"
		s["format"] = "date"
	case instant:
		kind = "string"
		s["format"] = "date-time"
	case numeral, integer:
		kind = "number"
		bounds := map[string]*float64{"minimum": r.min, "maximum": r.max, "exclusiveMinimum": r.over}
		if r.shape == integer {
			kind = "integer"
			limit, low := float64(maxInteger), -float64(maxInteger)
			if r.max == nil {
				bounds["maximum"] = &limit
			}
			if r.min == nil && r.over == nil {
				bounds["minimum"] = &low
			}
		}
		for name, b := range bounds {
			if b != nil {
				s[name] = *b
			}
		}
	case truth:
		kind = "boolean"
	case list:
		kind = "array"
		s["items"] = ruleSchema(r.elem)
		s["maxItems"] = r.items
		s["minItems"] = 1
	case group:
		kind = "object"
		props := map[string]any{}
		required := []string{}
		for i := range r.fields {
			f := &r.fields[i]
			props[f.name] = ruleSchema(f)
			if f.required {
				required = append(required, f.name)
			}
		}
		s["properties"] = props
		s["required"] = required
		s["additionalProperties"] = false
	}
	s["type"] = kind
	if r.holes {
		s["type"] = []string{kind, "null"}
	}
	return s
}

func textSchema(s map[string]any, r *rule) {
	if r.enum != nil {
		s["enum"] = r.enum
		return
	}
	if r.uuid {
		s["format"] = "uuid"
		s["pattern"] = "^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$"
		return
	}
	s["maxLength"] = r.longest
	if r.word {
		s["maxLength"] = min(r.longest, 100)
		s["pattern"] = `^\S(.*\S)?$`
	}
	s["minLength"] = 1
}
