package tables

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"oidium/internal/ledger"
)

// largest is how much one file of a package may unpack to, bytes.
const largest = 1 << 30

// Read reads what [Write] wrote, or tables of the same layout that were made or
// changed elsewhere: the columns may stand in any order, empty ones may be left
// out. Each thing that is wrong comes back as a problem with its table and row
// (the line numbers count rows, the heading is row 1). The error is that the file
// is no such package.
func Read(r io.ReaderAt, size int64, known ledger.Vocabulary) ([]ledger.Entry, []ledger.Problem, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, nil, fmt.Errorf("reading tables: this is no zip file: %w", err)
	}
	u := &unpacker{zip: z, known: known, items: map[string]map[string][]item{}}
	raw, err := u.open("datapackage.json")
	if err != nil {
		return nil, nil, fmt.Errorf("reading tables: %w", err)
	}
	var d descriptor
	if err := json.Unmarshal(raw, &d); err != nil {
		return nil, nil, fmt.Errorf("reading tables: datapackage.json: %w", err)
	}
	if err := u.all(d); err != nil {
		return nil, nil, fmt.Errorf("reading tables: %w", err)
	}
	return u.entries, u.problems, nil
}

// item is a row of a table of a list, or of values.
type item struct {
	n, row int
	cells  map[string]string
}

type unpacker struct {
	zip      *zip.Reader
	known    ledger.Vocabulary
	items    map[string]map[string][]item // by table, then id
	photos   map[string][]byte            // by sum
	entries  []ledger.Entry
	problems []ledger.Problem
}

func (u *unpacker) open(name string) ([]byte, error) {
	f, err := u.zip.Open(name)
	if err != nil {
		return nil, fmt.Errorf("the package has no %s", name)
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, largest+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(b) > largest {
		return nil, fmt.Errorf("%s is larger than %d bytes", name, largest)
	}
	return b, nil
}

func (u *unpacker) wrong(table string, row int, format string, args ...any) {
	u.problems = append(u.problems, ledger.Problem{Line: row, Field: table, What: fmt.Sprintf(format, args...)})
}

func (u *unpacker) all(d descriptor) error {
	u.photos = map[string][]byte{}
	paths := map[string]string{}
	var newer []byte
	for _, r := range d.Resources {
		switch {
		case r.Name == "newer" || strings.HasPrefix(r.Path, "photos/"):
			raw, err := u.open(r.Path)
			if err != nil {
				return err
			}
			if r.Name == "newer" {
				newer = raw
			} else {
				u.photos[fmt.Sprintf("%x", sha256.Sum256(raw))] = raw
			}
		default:
			paths[r.Name] = r.Path
		}
	}
	for _, k := range ledger.Kinds() {
		if _, ok := paths[k]; !ok {
			continue
		}
		t, err := tablesOf(k)
		if err != nil {
			return err
		}
		if err := u.kind(t, paths); err != nil {
			return err
		}
	}
	for name := range paths { // what is left is unknown
		u.wrong(name, 0, "is not a table this program knows")
	}
	slices.SortStableFunc(u.problems, func(a, b ledger.Problem) int {
		return strings.Compare(a.Field, b.Field)
	})
	entries, problems, err := ledger.Read(bytes.NewReader(newer), u.known)
	u.entries = append(u.entries, entries...)
	u.problems = append(u.problems, problems...)
	return err
}

// rows reads a CSV table with its heading.
func (u *unpacker) rows(name, path string, columns []column) ([]map[string]string, error) {
	raw, err := u.open(path)
	if err != nil {
		return nil, err
	}
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(raw, []byte("\ufeff"))))
	all, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("%s is empty: it needs a heading", path)
	}
	var known []string
	for _, c := range columns {
		known = append(known, c.name)
	}
	for i, h := range all[0] {
		if !slices.Contains(known, h) {
			u.wrong(name, 1, "the column %q is not known; known: %s", h, strings.Join(known, ", "))
		}
		if slices.Contains(all[0][:i], h) {
			u.wrong(name, 1, "the column %q is there twice", h)
		}
	}
	var out []map[string]string
	for _, row := range all[1:] {
		m := map[string]string{}
		for i, h := range all[0] {
			if row[i] != "" {
				m[h] = row[i]
			}
		}
		out = append(out, m)
	}
	return out, nil
}

func (u *unpacker) kind(t *kindTables, paths map[string]string) error {
	take := func(name string, columns []column) ([]map[string]string, error) {
		path, ok := paths[name]
		if !ok {
			return nil, nil
		}
		delete(paths, name)
		return u.rows(name, path, columns)
	}
	for _, n := range t.names {
		if err := u.list(t.list(n), append([]column{owner, place}, t.lists[n].columns...), take); err != nil {
			return err
		}
	}
	if len(t.rows) > 0 {
		if err := u.list(t.values(), append([]column{owner, place}, t.valueColumns()...), take); err != nil {
			return err
		}
	}
	rows, err := take(t.main(), t.mainColumns())
	if err != nil {
		return err
	}
	for i, row := range rows {
		u.entry(t, row, i+2)
	}
	for _, name := range append(itemTables(t), t.values()) {
		for _, id := range sortedKeys(u.items[name]) {
			u.wrong(name, u.items[name][id][0].row, "belongs to entry %q, which is not in table %s", id, t.main())
		}
	}
	return nil
}

func itemTables(t *kindTables) []string {
	var out []string
	for _, n := range t.names {
		out = append(out, t.list(n))
	}
	return out
}

func (u *unpacker) list(name string, columns []column, take func(string, []column) ([]map[string]string, error)) error {
	rows, err := take(name, columns)
	if err != nil {
		return err
	}
	u.items[name] = map[string][]item{}
	for i, row := range rows {
		n, err := strconv.Atoi(row["n"])
		if err != nil || n < 1 {
			u.wrong(name, i+2, "column n: %q is not a place in a list, from 1", row["n"])
			continue
		}
		u.items[name][row["id"]] = append(u.items[name][row["id"]], item{n, i + 2, row})
	}
	for _, id := range sortedKeys(u.items[name]) {
		list := u.items[name][id]
		slices.SortStableFunc(list, func(a, b item) int { return a.n - b.n })
		for i, it := range list {
			if it.n != i+1 {
				u.wrong(name, it.row, "entry %s: place %d is missing or there twice", id, i+1)
				break
			}
		}
	}
	return nil
}

// entry puts a line together from its row and its items and reads it.
func (u *unpacker) entry(t *kindTables, row map[string]string, at int) {
	head := map[string]any{"kind": t.kind}
	body := map[string]any{}
	bad := false
	put := func(to map[string]any, c column, s string) {
		v, err := parse(c, s)
		if err != nil {
			u.wrong(t.main(), at, "column %s: %v", c.name, err)
			bad = true
			return
		}
		to[c.name[strings.LastIndexByte(c.name, '.')+1:]] = v
	}
	for _, c := range t.head {
		if s, ok := row[c.name]; ok {
			put(head, c, s)
		}
	}
	for _, c := range t.body {
		s, ok := row[c.name]
		if !ok {
			continue
		}
		to := body
		for rest := c.name; ; {
			group, deeper, ok := strings.Cut(rest, ".")
			if !ok {
				break
			}
			next, _ := to[group].(map[string]any)
			if next == nil {
				next = map[string]any{}
				to[group] = next
			}
			to, rest = next, deeper
		}
		put(to, c, s)
	}
	id := row["id"]
	for _, n := range t.names {
		if list := u.listOf(t.list(n), id, t.lists[n].columns); list != nil {
			body[n] = list
		}
	}
	if len(t.rows) > 0 {
		u.valuesOf(t, row, body, at)
	}
	if raw := u.photos[row["sha256"]]; t.kind == "photo" && raw != nil {
		body[photoData] = base64.StdEncoding.EncodeToString(raw)
	}
	if bad {
		return
	}
	head["body"] = body
	raw, err := json.Marshal(head)
	if err != nil {
		u.wrong(t.main(), at, "%v", err)
		return
	}
	e, err := ledger.ParseLine(raw, u.known)
	var ps ledger.Problems
	if errors.As(err, &ps) {
		for _, p := range ps {
			p.Line, p.Field = at, strings.TrimSpace(t.main()+" "+p.Field)
			u.problems = append(u.problems, p)
		}
		return
	}
	u.entries = append(u.entries, e)
}

func (u *unpacker) listOf(name, id string, columns []column) []any {
	var out []any
	for _, it := range u.items[name][id] {
		o := map[string]any{}
		for _, c := range columns {
			s, ok := it.cells[c.name]
			if !ok {
				continue
			}
			v, err := parse(c, s)
			if err != nil {
				u.wrong(name, it.row, "column %s: %v", c.name, err)
				continue
			}
			o[c.name] = v
		}
		out = append(out, o)
	}
	delete(u.items[name], id)
	return out
}

func (u *unpacker) valuesOf(t *kindTables, row map[string]string, body map[string]any, at int) {
	var stated []string
	if s, ok := row[valuesColumn]; ok {
		if err := json.Unmarshal([]byte(s), &stated); err != nil {
			u.wrong(t.main(), at, "column %s: %q is not a list of names", valuesColumn, s)
			return
		}
	}
	items := u.items[t.values()][row["id"]]
	delete(u.items[t.values()], row["id"])
	for _, c := range t.valueColumns() {
		if !slices.Contains(stated, c.name) {
			continue
		}
		list := make([]any, len(items))
		for i, it := range items {
			if s, ok := it.cells[c.name]; ok {
				v, err := parse(c, s)
				if err != nil {
					u.wrong(t.values(), it.row, "column %s: %v", c.name, err)
					continue
				}
				list[i] = v
			}
		}
		body[c.name] = list
	}
}

// parse makes the JSON value of a cell.
func parse(c column, s string) (any, error) {
	switch {
	case c.node.is("array"):
		var v []any
		d := json.NewDecoder(strings.NewReader(s))
		d.UseNumber()
		if err := d.Decode(&v); err != nil {
			return nil, fmt.Errorf("%.40q is not a list in JSON", s)
		}
		return v, nil
	case c.node.is("number"), c.node.is("integer"):
		var n json.Number
		if err := json.Unmarshal([]byte(s), &n); err != nil || strings.HasPrefix(s, `"`) {
			return nil, fmt.Errorf("%.40q is not a number", s)
		}
		return n, nil
	case c.node.is("boolean"):
		b, err := strconv.ParseBool(strings.ToLower(s))
		if err != nil {
			return nil, fmt.Errorf("%.40q is not true or false", s)
		}
		return b, nil
	}
	return s, nil
}
