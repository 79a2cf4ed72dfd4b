package tables

import (
	"encoding/json"
	"fmt"
	"slices"
	"sort"

	"oidium/internal/ledger"
)

// node is what is used of the JSON Schema of a line.
type node struct {
	Type        any              `json:"type"` // a word, or a word and "null"
	Description string           `json:"description"`
	Format      string           `json:"format"`
	Enum        []string         `json:"enum"`
	Minimum     *float64         `json:"minimum"`
	Maximum     *float64         `json:"maximum"`
	MaxLength   *int             `json:"maxLength"`
	Required    []string         `json:"required"`
	Properties  map[string]*node `json:"properties"`
	Items       *node            `json:"items"`
}

func (n *node) is(word string) bool {
	if list, ok := n.Type.([]any); ok {
		return slices.ContainsFunc(list, func(x any) bool { return x == word })
	}
	return n.Type == word
}

// nullable tells whether a value may be missing in a row of values.
func (n *node) nullable() bool { return n.is("null") }

// column is a column of a table.
type column struct {
	name     string
	node     *node
	required bool
}

// kindTables are the tables of one kind.
type kindTables struct {
	kind  string
	head  []column          // envelope
	body  []column          // of the body, groups as group.field
	lists map[string]*table // lists of objects, by field of the body
	names []string          // of lists, in order
	rows  []column          // values in a row (hours, a logger), together in one table
}

// table is a table of the items of a list.
type table struct{ columns []column }

// headOrder are the fields of the envelope that are columns. The kind is the
// name of the table.
var headOrder = []string{"id", "v", "time", "written", "who", "device", "bed", "replaces", "blanked"}

// photoData is not a column: pictures are files.
const photoData = "data"

// tablesOf makes the tables of a kind from the schema of its lines.
func tablesOf(kind string) (*kindTables, error) {
	raw, err := ledger.Schema(kind)
	if err != nil {
		return nil, err
	}
	var line node
	if err := json.Unmarshal(raw, &line); err != nil {
		return nil, fmt.Errorf("schema of %s: %w", kind, err)
	}
	t := &kindTables{kind: kind, lists: map[string]*table{}}
	for _, n := range headOrder {
		if p := line.Properties[n]; p != nil {
			if n == "v" {
				p = &node{Type: "integer", Description: p.Description}
			}
			t.head = append(t.head, column{n, p, slices.Contains(line.Required, n)})
		}
	}
	t.addGroup("", line.Properties["body"])
	return t, nil
}

func (t *kindTables) addGroup(prefix string, g *node) {
	for _, n := range sortedNames(g.Properties) {
		p := g.Properties[n]
		c := column{prefix + n, p, slices.Contains(g.Required, n) && prefix == ""}
		switch {
		case t.kind == "photo" && n == photoData:
		case p.is("object"):
			t.addGroup(prefix+n+".", p)
		case p.is("array") && p.Items.is("object"):
			l := &table{}
			for _, m := range sortedNames(p.Items.Properties) {
				l.columns = append(l.columns, column{m, p.Items.Properties[m], slices.Contains(p.Items.Required, m)})
			}
			t.lists[n] = l
			t.names = append(t.names, n)
		case p.is("array") && p.Items.nullable():
			t.rows = append(t.rows, c)
		default:
			t.body = append(t.body, c)
		}
	}
}

func sortedNames(m map[string]*node) []string {
	out := make([]string, 0, len(m))
	for n := range m {
		out = append(out, n)
	}
	sort.Strings(out)
	return out
}

// Names of the tables of a kind.
func (t *kindTables) main() string             { return t.kind }
func (t *kindTables) list(field string) string { return t.kind + "-" + field }
func (t *kindTables) values() string           { return t.kind + "-values" }

// valuesColumn names, in the table of the kind, which rows of values are stated;
// a column of the values that is empty all over may be stated or not.
const valuesColumn = "values"
