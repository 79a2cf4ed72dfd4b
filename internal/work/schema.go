package work

import (
	"encoding/json"
	"fmt"
	"reflect"

	"github.com/danielgtaylor/huma/v2"
)

func schemaOf(t reflect.Type, id, title string) ([]byte, error) {
	reg := huma.NewMapRegistry("#/$defs/", huma.DefaultSchemaNamer)
	root := reg.Schema(t, false, "")
	body, err := json.Marshal(root)
	if err != nil {
		return nil, fmt.Errorf("schema of %s: %w", id, err)
	}
	var doc map[string]any
	if err := json.Unmarshal(body, &doc); err != nil {
		return nil, fmt.Errorf("schema of %s: %w", id, err)
	}
	doc["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	doc["$id"] = "urn:oidium:" + id
	doc["title"] = title
	defs := reg.Map()
	delete(defs, t.Name())
	plain, err := json.Marshal(defs)
	if err != nil {
		return nil, fmt.Errorf("schema of %s: %w", id, err)
	}
	var d any
	if err := json.Unmarshal(plain, &d); err != nil {
		return nil, fmt.Errorf("schema of %s: %w", id, err)
	}
	doc["$defs"] = d
	listsAreLists(doc)
	return json.MarshalIndent(doc, "", "  ")
}

// listsAreLists takes "or null" from arrays: the results never hold a nil list
// where a list is promised (see [Round.complete]).
func listsAreLists(x any) {
	switch x := x.(type) {
	case map[string]any:
		if t, ok := x["type"].([]any); ok && len(t) == 2 && t[0] == "array" {
			x["type"] = "array"
		}
		// New fields may come without a new version; a reader passes over them.
		if x["additionalProperties"] == false {
			delete(x, "additionalProperties")
		}
		for _, v := range x {
			listsAreLists(v)
		}
	case []any:
		for _, v := range x {
			listsAreLists(v)
		}
	}
}
