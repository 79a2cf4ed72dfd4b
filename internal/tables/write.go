package tables

import (
	"archive/zip"
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/base64"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"oidium/internal/ledger"
)

// Write writes the entries as a Data Package, a zip file. The same entries in
// any order give the same bytes. title is for the reader of the package.
func Write(w io.Writer, entries []ledger.Entry, title string) error {
	p := &packer{d: descriptor{
		Profile: "data-package", Name: "oidium-ledger", Title: title, Version: tablesVersion,
		Description: "The entries of a garden, one table for each kind; a table named kind-list holds the items of a list in an entry.",
	}}
	if err := p.all(entries); err != nil {
		return fmt.Errorf("writing tables: %w", err)
	}
	z := zip.NewWriter(w)
	desc, err := json.MarshalIndent(p.d, "", "  ")
	if err != nil {
		return fmt.Errorf("writing tables: %w", err)
	}
	for _, f := range append([]file{{"datapackage.json", append(desc, '\n')}}, p.files...) {
		to, err := z.CreateHeader(&zip.FileHeader{Name: f.path, Method: zip.Deflate, Modified: noDate})
		if err != nil {
			return fmt.Errorf("writing tables: %w", err)
		}
		if _, err := to.Write(f.data); err != nil {
			return fmt.Errorf("writing tables: %w", err)
		}
	}
	if err := z.Close(); err != nil {
		return fmt.Errorf("writing tables: %w", err)
	}
	return nil
}

// noDate stands for when a file was written, which would make other bytes of the
// same entries: the first day that a zip file can name.
var noDate = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

type file struct {
	path string
	data []byte
}

type packer struct {
	d     descriptor
	files []file
}

func (p *packer) add(f file, r resource) {
	sum := sha256.Sum256(f.data)
	r.Path, r.Bytes, r.Hash = f.path, len(f.data), fmt.Sprintf("sha256:%x", sum)
	p.files = append(p.files, f)
	p.d.Resources = append(p.d.Resources, r)
}

// line is a line of the ledger taken apart.
type line struct {
	head map[string]any
	body map[string]any
}

func (p *packer) all(entries []ledger.Entry) error {
	entries = slices.Clone(entries)
	slices.SortFunc(entries, func(a, b ledger.Entry) int {
		return cmp.Or(a.Time.Compare(b.Time), a.Written.Compare(b.Written), cmp.Compare(a.ID, b.ID))
	})
	byKind := map[string][]line{}
	var newer []byte
	photos := map[string]file{}
	for _, e := range entries {
		if e.Body == nil { // of a newer program
			newer = append(append(newer, e.Line()...), '\n')
			continue
		}
		var l line
		d := json.NewDecoder(bytes.NewReader(e.Line()))
		d.UseNumber()
		if err := d.Decode(&l.head); err != nil {
			return fmt.Errorf("entry %s: %w", e.ID, err)
		}
		l.body, _ = l.head["body"].(map[string]any)
		if ph, ok := e.Body.(*ledger.Photo); ok && ph.Data != "" {
			raw, err := base64.StdEncoding.DecodeString(ph.Data)
			if err != nil {
				return fmt.Errorf("entry %s: %w", e.ID, err)
			}
			photos[ph.SHA256] = file{"photos/" + ph.SHA256 + extensions[ph.Type], raw}
		}
		byKind[e.Kind] = append(byKind[e.Kind], l)
	}
	for _, k := range ledger.Kinds() {
		if len(byKind[k]) == 0 {
			continue
		}
		t, err := tablesOf(k)
		if err != nil {
			return err
		}
		if err := p.kind(t, byKind[k]); err != nil {
			return err
		}
	}
	for _, sum := range sortedKeys(photos) {
		p.add(photos[sum], resource{Profile: "data-resource", Name: "photo-" + sum[:16], Description: "picture"})
	}
	if newer != nil {
		p.add(file{"newer.jsonl", newer}, resource{Profile: "data-resource", Name: "newer", Format: "jsonl", Encoding: "utf-8", Description: "lines written by a newer program, kept as they came"})
	}
	if len(p.d.Resources) == 0 { // a package must have one
		p.add(file{"newer.jsonl", []byte{}}, resource{Profile: "data-resource", Name: "newer", Format: "jsonl", Encoding: "utf-8", Description: "there are no entries"})
	}
	return nil
}

var extensions = map[string]string{"image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp"}

func sortedKeys[V any](m map[string]V) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

func (p *packer) kind(t *kindTables, lines []line) error {
	columns := t.mainColumns()
	rows := [][]string{header(columns)}
	for _, l := range lines {
		row := make([]string, len(columns))
		for i, c := range columns {
			v, ok := l.value(t, c.name)
			if !ok {
				continue
			}
			s, err := cell(v)
			if err != nil {
				return err
			}
			row[i] = s
		}
		rows = append(rows, row)
	}
	if err := p.table(t.main(), rows, t.mainSchema()); err != nil {
		return err
	}
	for _, n := range t.names {
		if err := p.list(t, n, lines); err != nil {
			return err
		}
	}
	if len(t.rows) > 0 {
		return p.values(t, lines)
	}
	return nil
}

func header(columns []column) []string {
	out := make([]string, len(columns))
	for i, c := range columns {
		out[i] = c.name
	}
	return out
}

// value finds what a column of the table of the kind holds.
func (l line) value(t *kindTables, name string) (any, bool) {
	if slices.Contains(headOrder, name) {
		v, ok := l.head[name]
		return v, ok
	}
	if name == valuesColumn && len(t.rows) > 0 {
		stated := []any{}
		for _, c := range t.rows {
			if _, ok := l.body[c.name]; ok {
				stated = append(stated, c.name)
			}
		}
		return stated, true
	}
	at := l.body
	for {
		group, rest, deeper := strings.Cut(name, ".")
		if !deeper {
			v, ok := at[name]
			return v, ok
		}
		next, ok := at[group].(map[string]any)
		if !ok {
			return nil, false
		}
		at, name = next, rest
	}
}

// cell prints a value: texts as they are, numbers as in the line, lists as JSON.
func cell(v any) (string, error) {
	switch v := v.(type) {
	case nil:
		return "", nil
	case string:
		return v, nil
	case json.Number:
		return v.String(), nil
	case bool:
		return strconv.FormatBool(v), nil
	}
	b, err := json.Marshal(v)
	return string(b), err
}

func (p *packer) list(t *kindTables, name string, lines []line) error {
	columns := t.lists[name].columns
	rows := [][]string{append([]string{"id", "n"}, header(columns)...)}
	for _, l := range lines {
		items, _ := l.body[name].([]any)
		for i, it := range items {
			o, _ := it.(map[string]any)
			id, _ := l.head["id"].(string)
			row := []string{id, strconv.Itoa(i + 1)}
			for _, c := range columns {
				s, err := cell(o[c.name])
				if err != nil {
					return err
				}
				row = append(row, s)
			}
			rows = append(rows, row)
		}
	}
	if len(rows) == 1 {
		return nil
	}
	return p.table(t.list(name), rows, t.itemSchema(columns))
}

func (p *packer) values(t *kindTables, lines []line) error {
	columns := t.valueColumns()
	rows := [][]string{append([]string{"id", "n"}, header(columns)...)}
	for _, l := range lines {
		n := 0
		for _, c := range columns {
			v, _ := l.body[c.name].([]any)
			n = max(n, len(v))
		}
		id, _ := l.head["id"].(string)
		for i := range n {
			row := []string{id, strconv.Itoa(i + 1)}
			for _, c := range columns {
				s := ""
				if v, _ := l.body[c.name].([]any); i < len(v) {
					var err error
					if s, err = cell(v[i]); err != nil {
						return err
					}
				}
				row = append(row, s)
			}
			rows = append(rows, row)
		}
	}
	return p.table(t.values(), rows, t.itemSchema(columns))
}

func (p *packer) table(name string, rows [][]string, s *schema) error {
	var b bytes.Buffer
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		return err
	}
	p.add(file{"data/" + name + ".csv", b.Bytes()}, resource{
		Profile: "tabular-data-resource", Name: name, Format: "csv", MediaType: "text/csv", Encoding: "utf-8", Schema: s,
	})
	return nil
}
