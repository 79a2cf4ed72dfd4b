package check

import (
	"go/ast"
	"go/types"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// outsideTable are the packages of the module that are no rooms of the program.
func outsideTable(name string) bool {
	return name == "internal/check" || strings.HasPrefix(name, "internal/check/")
}

// badName are names that say nothing about the subject.
var badName = []string{"util", "utils", "common", "helper", "helpers", "core", "model", "models", "misc", "base"}

// quietImports may not be imported by rooms of layers 0 to 4: they do input or
// output, ask the machine, or bring a second kind of chance.
var quietImports = []string{
	"os", "net", "net/http", "net/rpc", "database/sql", "log", "syscall", "io/ioutil",
	"math/rand", "crypto/rand", "testing",
}

// quietCalls may not be called there.
var quietCalls = map[string][]string{
	"time": {"Now", "Since", "Until", "Sleep", "After", "Tick", "NewTimer", "NewTicker"},
	"fmt":  {"Print", "Println", "Printf", "Scan", "Scanln", "Scanf"},
}

// layers checks that every room stands in the table, that every row is a room,
// and that imports go down or along a named arrow.
func layers(t *tree) []finding {
	var found []finding
	seen := make(map[string]bool)
	for _, r := range t.rooms {
		seen[r.name] = true
		if outsideTable(r.name) {
			continue
		}
		own, ok := t.table[r.name]
		if !ok {
			found = append(found, finding{file: r.name, text: "this package is not in the table of docs/layers.md"})
			continue
		}
		if slices.Contains(badName, r.Name) {
			found = append(found, finding{file: r.name, text: "the name says nothing about the subject"})
		}
		for _, f := range r.Syntax {
			for _, imp := range f.Imports {
				path, err := strconv.Unquote(imp.Path.Value)
				if err != nil || !strings.HasPrefix(path, t.module+"/") {
					continue
				}
				other := strings.TrimPrefix(path, t.module+"/")
				l, ok := t.table[other]
				switch {
				case !ok && outsideTable(other):
					found = append(found, t.at(r.Fset, imp.Pos(), "%s (layer %d) imports %s, which is no room of the program", r.name, own.number, other))
				case !ok: // reported where it stands
				case l.number > own.number:
					found = append(found, t.at(r.Fset, imp.Pos(), "%s (layer %d) imports %s of the higher layer %d", r.name, own.number, other, l.number))
				case l.number == own.number && !slices.Contains(own.beside, other):
					found = append(found, t.at(r.Fset, imp.Pos(), "%s imports %s of the same layer %d without an arrow in docs/layers.md", r.name, other, own.number))
				}
			}
		}
	}
	for name, l := range t.table {
		if !seen[name] {
			found = append(found, finding{file: "docs/layers.md", line: l.line, text: "room " + name + " is in the table but not in the tree"})
		}
		for _, b := range l.beside {
			if o, ok := t.table[b]; !ok || o.number != l.number {
				found = append(found, finding{file: "docs/layers.md", line: l.line, text: "the arrow from " + name + " to " + b + " does not stay in the layer"})
			}
		}
	}
	return found
}

// quiet checks that rooms of layers 0 to 4 do no input or output, ask no clock,
// take no chance but their own and keep no state between calls, and that no
// package works in init.
func quiet(t *tree) []finding {
	var found []finding
	for _, r := range t.rooms {
		n := t.layerOf(r.name)
		low := n >= 0 && n <= 4
		for _, f := range r.Syntax {
			for _, d := range f.Decls {
				if fn, ok := d.(*ast.FuncDecl); ok && fn.Recv == nil && fn.Name.Name == "init" {
					found = append(found, t.at(r.Fset, fn.Pos(), "func init: no work in init"))
				}
			}
			if !low {
				continue
			}
			for _, imp := range f.Imports {
				path, err := strconv.Unquote(imp.Path.Value)
				if err != nil || r.name == "chance" && strings.HasPrefix(path, "math/rand") {
					continue
				}
				for _, q := range quietImports {
					if path == q || q != "net" && strings.HasPrefix(path, q+"/") {
						found = append(found, t.at(r.Fset, imp.Pos(), "%s (layer %d) imports %s", r.name, n, path))
						break
					}
				}
			}
			ast.Inspect(f, func(node ast.Node) bool {
				for _, v := range written(node) {
					if o := r.global(v); o != nil {
						found = append(found, t.at(r.Fset, v.Pos(), "%s (layer %d) changes the package's variable %s", r.name, n, o.Name()))
					}
				}
				id, ok := node.(*ast.Ident)
				if !ok {
					return true
				}
				switch o := r.TypesInfo.Uses[id].(type) {
				case *types.Func:
					if o.Pkg() != nil && o.Signature().Recv() == nil && slices.Contains(quietCalls[o.Pkg().Path()], o.Name()) {
						found = append(found, t.at(r.Fset, id.Pos(), "%s (layer %d) uses %s.%s", r.name, n, o.Pkg().Path(), o.Name()))
					}
				case *types.Builtin:
					if o.Name() == "print" || o.Name() == "println" {
						found = append(found, t.at(r.Fset, id.Pos(), "%s (layer %d) uses the builtin %s", r.name, n, o.Name()))
					}
				}
				return true
			})
		}
	}
	return found
}

// written returns what a statement assigns to.
func written(n ast.Node) []ast.Expr {
	switch n := n.(type) {
	case *ast.AssignStmt:
		return n.Lhs
	case *ast.IncDecStmt:
		return []ast.Expr{n.X}
	}
	return nil
}

// global returns the package's variable that e is, is a field of, or is an
// element of; nil when it is none.
func (r *room) global(e ast.Expr) types.Object {
	for {
		switch x := e.(type) {
		case *ast.ParenExpr:
			e = x.X
		case *ast.SelectorExpr:
			e = x.X
		case *ast.IndexExpr:
			e = x.X
		case *ast.StarExpr:
			e = x.X
		case *ast.Ident:
			if o := r.TypesInfo.Uses[x]; o != nil && o.Parent() == r.Types.Scope() {
				return o
			}
			return nil
		default:
			return nil
		}
	}
}

func TestLayers(t *testing.T) { report(t, layers(own(t))) }

func TestQuiet(t *testing.T) { report(t, quiet(own(t))) }
