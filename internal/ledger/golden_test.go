package ledger

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// The files in testdata/v1 are lines as version 1 wrote them. They are kept for
// ever: a program of any later version must read them and write them alike.
// When a kind gets a new field, a line is added; none is changed.
func TestGoldenLines(t *testing.T) {
	for _, k := range kinds {
		t.Run(k.name, func(t *testing.T) {
			raw, err := os.ReadFile(filepath.Join("testdata", "v1", k.name+".jsonl"))
			if err != nil {
				t.Fatal(err)
			}
			schema := compile(t, k.name)
			seen := map[string]bool{}
			for l := range strings.Lines(string(raw)) {
				l = strings.TrimSuffix(l, "\n")
				e, err := ParseLine([]byte(l), vocabulary)
				if err != nil {
					t.Fatal(err)
				}
				if e.Kind != k.name || string(e.Line()) != l {
					t.Errorf("written otherwise:\n%s\n%s", l, e.Line())
				}
				v, err := jsonschema.UnmarshalJSON(strings.NewReader(l))
				if err != nil {
					t.Fatal(err)
				}
				if err := schema.Validate(v); err != nil {
					t.Error(err)
				}
				o, body, err := lineTree([]byte(l))
				if err != nil {
					t.Fatal(err)
				}
				for _, n := range o.names {
					seen[n] = true
				}
				note(seen, "body", body)
				// The Go type holds all that the line says.
				again, err := Compose(headOf(o), e.Body, vocabulary)
				if err != nil {
					t.Fatal(err)
				}
				if !sayLess(again.Line(), e.Line()) {
					t.Errorf("through the Go type it becomes\n%s\n%s", again.Line(), e.Line())
				}
			}
			r := groupRule(reflect.TypeOf(k.make()).Elem())
			for _, f := range fieldPaths("body", &r) {
				if !seen[f] {
					t.Errorf("no golden line has %s", f)
				}
			}
		})
	}
	files, err := filepath.Glob(filepath.Join("testdata", "v1", "*.jsonl"))
	if err != nil || len(files) != len(kinds) {
		t.Errorf("%d files for %d kinds, %v", len(files), len(kinds), err)
	}
}

func note(seen map[string]bool, path string, v any) {
	switch v := v.(type) {
	case *object:
		for i, n := range v.names {
			seen[path+"."+n] = true
			note(seen, path+"."+n, v.values[i])
		}
	case []any:
		for _, e := range v {
			note(seen, path, e)
		}
	}
}

func fieldPaths(path string, r *rule) []string {
	var out []string
	for i := range r.fields {
		f := &r.fields[i]
		p := path + "." + f.name
		out = append(out, p)
		out = append(out, fieldPaths(p, f)...)
		if f.elem != nil {
			out = append(out, fieldPaths(p, f.elem)...)
		}
	}
	return out
}

func headOf(o *object) Head {
	str := func(n string) string {
		v, _ := o.get(n)
		s, _ := v.(string)
		return s
	}
	return Head{
		ID: str("id"), Kind: str("kind"), Time: str("time"), Written: str("written"), Who: str("who"),
		Device: str("device"), Bed: str("bed"), Replaces: str("replaces"),
	}
}

// sayLess tells whether line a is line b, but for fields that are false or
// nought there and left out in a.
func sayLess(a, b []byte) bool {
	ta, err1 := parseTree(a)
	tb, err2 := parseTree(b)
	return err1 == nil && err2 == nil && bytes.Equal(appendCanonical(nil, stripZero(ta)), appendCanonical(nil, stripZero(tb)))
}

func stripZero(v any) any {
	switch v := v.(type) {
	case *object:
		out := &object{}
		for i, n := range v.names {
			switch x := v.values[i].(type) {
			case bool:
				if !x {
					continue
				}
			case number:
				if x.v == 0 {
					continue
				}
			}
			out.names, out.values = append(out.names, n), append(out.values, stripZero(v.values[i]))
		}
		return out
	case []any:
		out := []any{}
		for _, e := range v {
			out = append(out, stripZero(e))
		}
		return out
	}
	return v
}
