package tables

// descriptor is datapackage.json.
type descriptor struct {
	Profile     string     `json:"profile"`
	Name        string     `json:"name"`
	Title       string     `json:"title"`
	Description string     `json:"description"`
	Version     string     `json:"version"`
	Resources   []resource `json:"resources"`
}

// resource is a file of the package.
type resource struct {
	Profile     string  `json:"profile"`
	Name        string  `json:"name"`
	Path        string  `json:"path"`
	Description string  `json:"description,omitempty"`
	Format      string  `json:"format,omitempty"`
	MediaType   string  `json:"mediatype,omitempty"`
	Encoding    string  `json:"encoding,omitempty"`
	Bytes       int     `json:"bytes"`
	Hash        string  `json:"hash"`
	Schema      *schema `json:"schema,omitempty"`
}

// schema is a Table Schema.
type schema struct {
	Fields        []field      `json:"fields"`
	MissingValues []string     `json:"missingValues"`
	PrimaryKey    []string     `json:"primaryKey"`
	ForeignKeys   []foreignKey `json:"foreignKeys,omitempty"`
}

type field struct {
	Name        string         `json:"name"`
	Type        string         `json:"type"`
	Format      string         `json:"format,omitempty"`
	Description string         `json:"description,omitempty"`
	Constraints map[string]any `json:"constraints,omitempty"`
}

type foreignKey struct {
	Fields    []string  `json:"fields"`
	Reference reference `json:"reference"`
}

type reference struct {
	Resource string   `json:"resource"`
	Fields   []string `json:"fields"`
}

// tablesVersion is the version of the layout, see docs/format-tables.md.
const tablesVersion = "1.0.0"

// fieldOf makes the field of a column.
func fieldOf(c column) field {
	f := field{Name: c.name, Description: c.node.Description, Constraints: map[string]any{}}
	n := c.node
	switch {
	case n.is("array"):
		f.Type = "array"
	case n.is("integer"):
		f.Type = "integer"
	case n.is("number"):
		f.Type = "number"
	case n.is("boolean"):
		f.Type = "boolean"
	case n.Format == "date":
		f.Type = "date"
	case n.Format == "date-time":
		// With a zone, which the default format of Table Schema does not allow.
		f.Type, f.Format = "datetime", "any"
	default:
		f.Type = "string"
		if n.Format == "uuid" {
			f.Format = "uuid"
		}
		if n.MaxLength != nil {
			f.Constraints["maxLength"] = *n.MaxLength
		}
	}
	if c.required {
		f.Constraints["required"] = true
	}
	if n.Enum != nil && f.Type == "string" {
		f.Constraints["enum"] = n.Enum
	}
	if f.Type == "number" || f.Type == "integer" {
		if n.Minimum != nil {
			f.Constraints["minimum"] = *n.Minimum
		}
		if n.Maximum != nil {
			f.Constraints["maximum"] = *n.Maximum
		}
	}
	if len(f.Constraints) == 0 {
		f.Constraints = nil
	}
	return f
}

// place is the number of an item in its list.
var place = column{"n", &node{Type: "integer", Description: "place in the list, from 1"}, true}

// owner is the entry an item belongs to.
var owner = column{"id", &node{Type: "string", Format: "uuid", Description: "id of the entry"}, true}

func (t *kindTables) mainSchema() *schema {
	s := &schema{MissingValues: []string{""}, PrimaryKey: []string{"id"}}
	for _, c := range t.mainColumns() {
		s.Fields = append(s.Fields, fieldOf(c))
	}
	return s
}

// mainColumns are the columns of the table of the kind.
func (t *kindTables) mainColumns() []column {
	out := append(append([]column{}, t.head...), t.body...)
	if len(t.rows) > 0 {
		out = append(out, column{valuesColumn, &node{Type: "array", Description: "which rows of values are stated in " + t.values()}, true})
	}
	return out
}

func (t *kindTables) itemSchema(columns []column) *schema {
	s := &schema{
		MissingValues: []string{""},
		PrimaryKey:    []string{"id", "n"},
		ForeignKeys:   []foreignKey{{[]string{"id"}, reference{t.main(), []string{"id"}}}},
	}
	for _, c := range append([]column{owner, place}, columns...) {
		s.Fields = append(s.Fields, fieldOf(c))
	}
	return s
}

// valueColumns are the columns of the table of values: numbers that may be missing.
func (t *kindTables) valueColumns() []column {
	var out []column
	for _, c := range t.rows {
		out = append(out, column{c.name, &node{Type: "number", Description: c.node.Description, Minimum: c.node.Items.Minimum, Maximum: c.node.Items.Maximum}, false})
	}
	return out
}
