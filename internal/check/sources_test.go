package check

import (
	"fmt"
	"go/ast"
	"go/token"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// source is one entry of the register as it stands in the code of cite.
type source struct {
	file       string
	line       int
	background bool // read for the whole, behind no single number
}

// sources reads the register from the source lists of cite, with what is wrong
// in it. An entry whose line ends in the comment "background" need not be used.
func sources(t *tree) (map[string]source, []finding) {
	register := make(map[string]source)
	var found []finding
	for _, r := range t.rooms {
		if r.name != "cite" {
			continue
		}
		for _, f := range r.Syntax {
			background := make(map[int]bool)
			for _, g := range f.Comments {
				for _, c := range g.List {
					if strings.TrimSpace(strings.TrimPrefix(c.Text, "//")) == "background" {
						background[r.Fset.Position(c.Pos()).Line] = true
					}
				}
			}
			ast.Inspect(f, func(n ast.Node) bool {
				lit, ok := n.(*ast.CompositeLit)
				if !ok || len(lit.Elts) == 0 {
					return true
				}
				typ := r.TypesInfo.TypeOf(lit)
				if typ == nil || typ.String() != t.module+"/cite.Source" {
					return true
				}
				fs := fields(lit, typ)
				id, _ := r.text(fs["ID"])
				text, _ := r.text(fs["Text"])
				p := r.Fset.Position(lit.Pos())
				switch {
				case id == "" || text == "":
					found = append(found, t.at(r.Fset, lit.Pos(), "source without id or text"))
					return true
				case word.FindString(id) != id:
					found = append(found, t.at(r.Fset, lit.Pos(), "source id %q is not of letters, digits and hyphens", id))
				}
				if first, ok := register[id]; ok {
					found = append(found, t.at(r.Fset, lit.Pos(), "source %q stands twice, first in %s:%d", id, first.file, first.line))
				}
				register[id] = source{t.rel(p.Filename), p.Line, background[p.Line]}
				return true
			})
		}
	}
	return register, found
}

// dataFiles end in one of these and may carry source ids in their cells.
var dataFiles = []string{".csv", ".tsv", ".json", ".jsonl", ".toml", ".txt", ".tmpl"}

// citations checks that what is cited is registered and what is registered is
// cited: in a string or comment of the code, or in a data file beside it.
func citations(t *tree) []finding {
	register, found := sources(t)
	used := make(map[string]bool)
	mark := func(text string) {
		for _, id := range cited(text, register) {
			used[id] = true
		}
	}
	dirs := make(map[string]bool)
	for _, r := range t.rooms {
		if r.name == "cite" {
			continue
		}
		dirs[r.name] = true
		for _, f := range r.Syntax {
			for _, g := range f.Comments {
				mark(g.Text())
			}
			ast.Inspect(f, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.BasicLit:
					if n.Kind == token.STRING {
						if s, err := strconv.Unquote(n.Value); err == nil {
							mark(s)
						}
					}
				case *ast.CompositeLit:
					typ := r.TypesInfo.TypeOf(n)
					if typ == nil || t.isValue(typ) {
						return true // see values
					}
					for _, name := range []string{"Source", "source"} {
						e := fields(n, typ)[name]
						if s, ok := r.text(e); ok && word.FindString(s) == s && s != "" && r.TypesInfo.TypeOf(e).String() == "string" {
							if _, ok := register[s]; !ok {
								found = append(found, t.at(r.Fset, e.Pos(), "the source %q is not in the register", s))
							}
						}
					}
				case *ast.CallExpr:
					if sel, ok := n.Fun.(*ast.SelectorExpr); ok && len(n.Args) == 1 {
						if o := r.TypesInfo.Uses[sel.Sel]; o != nil && o.Pkg() != nil && o.Pkg().Path() == t.module+"/cite" && o.Name() == "Lookup" {
							if s, ok := r.text(n.Args[0]); ok {
								if _, ok := register[s]; !ok {
									found = append(found, t.at(r.Fset, n.Pos(), "the source %q is not in the register", s))
								}
							}
						}
					}
				}
				return true
			})
		}
	}
	for _, name := range t.files {
		dir := path.Dir(name)
		if strings.Contains(name, "testdata/") || !slices.Contains(dataFiles, path.Ext(name)) || !dirs[dir] && !dirs[path.Dir(dir)] {
			continue
		}
		if b, err := t.read(name); err == nil {
			mark(string(b))
		}
	}
	for id, s := range register {
		if !used[id] && !s.background {
			found = append(found, finding{file: s.file, line: s.line, text: fmt.Sprintf("source %q is used nowhere; use it, remove it, or end its line with // background", id)})
		}
	}
	return found
}

func TestCitations(t *testing.T) { report(t, citations(own(t))) }
