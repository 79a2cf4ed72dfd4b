package ledger

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the tables of docs/format-ledger.md")

// The tables of the page are made from the body types.
func TestPageNamesEveryField(t *testing.T) {
	const begin, end = "<!-- fields: made by the test of internal/ledger -->\n", "<!-- fields: end -->"
	path := filepath.Join("..", "..", "docs", "format-ledger.md")
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(raw), begin)
	have, after, ok2 := strings.Cut(rest, end)
	if !ok || !ok2 {
		t.Fatal("the page has lost its marks")
	}
	var b strings.Builder
	for _, k := range kinds {
		fmt.Fprintf(&b, "\n### %s\n\n%s. Bed: %s.\n\n| field | is | meaning |\n|---|---|---|\n", k.name, strings.ToUpper(k.doc[:1])+k.doc[1:], [...]string{"may be named", "must be named", "not named"}[k.bed])
		r := groupRule(reflect.TypeOf(k.make()).Elem())
		writeFields(&b, "", &r)
	}
	want := b.String() + "\n"
	if *update {
		if err := os.WriteFile(path, []byte(before+begin+want+end+after), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if have != want {
		t.Error("docs/format-ledger.md does not agree with the types; run: go test ./internal/ledger -run Page -update")
	}
}

func writeFields(b *strings.Builder, path string, r *rule) {
	for i := range r.fields {
		f := &r.fields[i]
		star := ""
		if f.required {
			star = " *"
		}
		doc := f.doc
		if f.personal {
			doc += " (personal)"
		}
		fmt.Fprintf(b, "| `%s%s`%s | %s | %s |\n", path, f.name, star, fieldWords(f), strings.ReplaceAll(doc, "|", "\\|"))
		if f.shape == group {
			writeFields(b, path+f.name+".", f)
		}
		if f.elem != nil && f.elem.shape == group {
			writeFields(b, path+f.name+"[].", f.elem)
		}
	}
}

func fieldWords(f *rule) string {
	if f.shape == list {
		w := fieldWords(f.elem)
		if f.elem.holes {
			w += " or null"
		}
		return "list: " + w
	}
	var w string
	switch f.shape {
	case text:
		w = "text"
		if f.enum != nil {
			w = "`" + strings.Join(f.enum, "`, `") + "`"
		} else if f.uuid {
			w = "id of an entry"
		} else if f.vocab != "" {
			w = "id of a " + f.vocab
		}
	case numeral:
		w = "number"
	case integer:
		w = "whole number"
	case truth:
		w = "true or false"
	case date:
		w = "date"
	case instant:
		w = "time"
	case group:
		w = "object"
	}
	switch {
	case f.over != nil && f.max != nil:
		w += fmt.Sprintf(" above %g, to %g", *f.over, *f.max)
	case f.over != nil:
		w += fmt.Sprintf(" above %g", *f.over)
	case f.min != nil && f.max != nil:
		w += fmt.Sprintf(" from %g to %g", *f.min, *f.max)
	case f.min != nil:
		w += fmt.Sprintf(" from %g", *f.min)
	}
	return w
}
