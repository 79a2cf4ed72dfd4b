package work

import (
	"slices"
	"strings"
	"testing"

	"oidium/internal/ledger"
)

// Every row of the table of other names is of something the program knows, and
// none stands twice or is the id or name of another thing.
func TestOtherNames(t *testing.T) {
	all := AllNames()
	rows := 0
	for what, list := range map[string][]Named{"crop": all.Crops, "material": all.Materials} {
		known := map[string]string{}
		for _, n := range list {
			known[strings.ToLower(n.ID)], known[strings.ToLower(n.Name)] = n.ID, n.ID
		}
		names, ids := otherNames(what)
		for i, name := range names {
			if slices.Contains(names[:i], name) {
				t.Errorf("%s %q stands twice", what, name)
			}
			if len(ids[name]) == 0 {
				t.Errorf("%s %q means nothing", what, name)
			}
			for _, id := range ids[name] {
				if known[id] != id {
					t.Errorf("%s %q: there is no %q", what, name, id)
				}
			}
			if id := known[strings.ToLower(name)]; id != "" && !slices.Contains(ids[name], id) {
				t.Errorf("%s %q is the name of %q", what, name, id)
			}
		}
		rows += len(names)
	}
	if want := strings.Count(otherNamesTSV, "\n") - 1; rows != want {
		t.Errorf("%d rows were read of %d", rows, want)
	}
}

// A line with another name of a crop or material is told which id is meant.
func TestOtherNamesAreHints(t *testing.T) {
	line := func(kind, body string) string {
		bed := ""
		if kind == "planting" {
			bed = `"bed":"one",`
		}
		return `{"id":"00dc6c2a-1000-7000-8000-000000000001","kind":"` + kind + `","v":1,"time":"2000-04-01T08:00:00Z","written":"2000-04-01T08:00:00Z",` + bed + `"body":` + body + `}`
	}
	for _, c := range []struct{ line, hint string }{
		{line("planting", `{"planting":"p","crop":"zucchini"}`), `did you mean "courgette"?`},
		{line("planting", `{"planting":"p","crop":"Zucchini"}`), `did you mean "courgette"?`},
		{line("planting", `{"planting":"p","crop":"curgette"}`), `did you mean "courgette"?`},
		{line("stock", `{"material":"sulphur"}`), `did you mean "sulfur_wg", "sulfur_dust" or "sulfur_vapor"?`},
		{line("stock", `{"material":"baking soda"}`), `did you mean "nahco3_oil" or "nahco3_soap"?`},
	} {
		_, err := ledger.ParseLine([]byte(c.line), Vocabulary())
		if err == nil || !strings.Contains(err.Error(), c.hint) {
			t.Errorf("got %v, want %s", err, c.hint)
		}
	}
}
