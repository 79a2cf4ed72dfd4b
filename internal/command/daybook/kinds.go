package daybook

import (
	"fmt"
	"io"
	"strings"

	"oidium/internal/ledger"
)

// WriteKinds lists the kinds of entry with what they are about.
func WriteKinds(w io.Writer) error {
	for _, k := range ledger.Kinds() {
		f, err := formOf(k)
		if err != nil {
			return err
		}
		if err := listed(w, k, f.doc); err != nil {
			return err
		}
	}
	_, err := fmt.Fprintln(w, "\nTyped at a terminal, oidium write KIND asks for what is needed. The fields of one:\noidium write KIND --fields")
	return err
}

// WriteFields lists the fields of a kind with what they are. The error is that
// there is no such kind.
func WriteFields(w io.Writer, kind string) error {
	f, err := formOf(kind)
	if err != nil {
		return err
	}
	if f.bed {
		need := "may be left out"
		if f.bedNeeded {
			need = "must be there"
		}
		if err := listed(w, "BED", "the bed, first and without a name; "+need); err != nil {
			return err
		}
	}
	return writeFields(w, "", f.fields)
}

func writeFields(w io.Writer, before string, fields []field) error {
	for i := range fields {
		x := &fields[i]
		doc := x.doc
		if x.required {
			doc += "; must be there"
		}
		choices := x.enum
		if x.item != nil {
			choices = x.item.enum
		}
		if choices != nil {
			doc += ": " + strings.Join(choices, ", ")
		}
		if x.shape == list && x.item.shape == group && x.name != "counts" && x.name != "actives" {
			doc += "; a list in JSON"
		}
		if err := listed(w, before+x.name, doc); err != nil {
			return err
		}
		if x.shape == group {
			if err := writeFields(w, before+x.name+".", x.fields); err != nil {
				return err
			}
		}
	}
	return nil
}

func listed(w io.Writer, name, doc string) error {
	for i, l := range Wrap(doc, 54) {
		if i > 0 {
			name = ""
		}
		if _, err := fmt.Fprintf(w, "%-24s %s\n", name, l); err != nil {
			return err
		}
	}
	return nil
}

// Next says what goes with an entry that was just written, "" for most.
func Next(e ledger.Entry) string {
	switch e.Kind {
	case "site":
		return "Next: oidium write bed NAME, then oidium write planting NAME; then oidium round has an answer."
	case "bed":
		return "Next: oidium write planting " + string(e.Bed) + "; how it is watered: oidium write setting " + string(e.Bed) + "."
	}
	return ""
}
