package check

import (
	"bytes"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// roomLines is the size of a room, tests left out, above which doc.go says why.
const roomLines = 2500

const why = "This room is larger than 2 500 lines because"

// sizes checks that a large room explains itself.
func sizes(t *tree) []finding {
	var found []finding
	for _, r := range t.rooms {
		lines, explained := 0, false
		for _, file := range r.GoFiles {
			b, err := t.read(t.rel(file))
			if err != nil {
				found = append(found, finding{file: t.rel(file), text: err.Error()})
				continue
			}
			lines += bytes.Count(b, []byte("\n"))
			if filepath.Base(file) == "doc.go" {
				flat := strings.Join(strings.Fields(strings.ReplaceAll(string(b), "//", " ")), " ")
				explained = strings.Contains(flat, why)
			}
		}
		if lines > roomLines && !explained {
			found = append(found, finding{file: r.name, text: "this room is larger than 2 500 lines and doc.go does not say why (" + why + " …)"})
		}
	}
	return found
}

var docStart = regexp.MustCompile(`^(Package|Command) \w+ `)

// docs checks that every package has a doc.go that says what it is, and that no
// other file repeats it.
func docs(t *tree) []finding {
	var found []finding
	for _, r := range t.rooms {
		has := false
		for _, f := range r.Syntax {
			name := filepath.Base(r.Fset.Position(f.Pos()).Filename)
			if f.Doc == nil {
				continue
			}
			switch {
			case name != "doc.go":
				found = append(found, t.at(r.Fset, f.Doc.Pos(), "the package comment belongs in doc.go"))
			case !docStart.MatchString(f.Doc.Text()):
				found = append(found, t.at(r.Fset, f.Doc.Pos(), "the package comment does not start with Package or Command and the name"))
			default:
				has = true
			}
		}
		if !has {
			found = append(found, finding{file: r.name, text: "no doc.go with a package comment"})
		}
	}
	return found
}

func TestSizes(t *testing.T) { report(t, sizes(own(t))) }

func TestDocs(t *testing.T) { report(t, docs(own(t))) }
