package check

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"os"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// reflected are methods that libraries find by name at run time.
var reflected = []string{
	"String", "GoString", "Error", "Unwrap", "Is", "As", "Format",
	"MarshalText", "UnmarshalText", "AppendText", "MarshalJSON", "UnmarshalJSON",
	"Scan", "Value", // database/sql
	"Run", "Validate", "Help", "AfterApply", "BeforeApply", "BeforeReset", "Decode", // command line
	"Schema", "TransformSchema", "Resolve", // schemas
}

var field = regexp.MustCompile(`\.([A-Z]\w*)`)

// exported finds the exported names without a use outside their room. Uses in
// tests do not count. Fields are exempt; a method that an interface asks for is
// used; a type is used when a used name has it in its signature or fields, or when
// it is one of the values of a used interface of the room; a constant is used when its type is a used type of the same room, for the
// constants are then the type's values.
func exported(t *tree) []finding {
	used := make(map[types.Object]bool)
	var faces []*types.Interface
	templates := make(map[string]bool)
	seen := make(map[*types.Package]bool)
	gather := func(p *types.Package) {
		if seen[p] {
			return
		}
		seen[p] = true
		for _, name := range p.Scope().Names() {
			if tn, ok := p.Scope().Lookup(name).(*types.TypeName); ok {
				if n, ok := tn.Type().(*types.Named); ok && n.TypeParams().Len() > 0 {
					continue
				}
				if i, ok := tn.Type().Underlying().(*types.Interface); ok && i.NumMethods() > 0 {
					faces = append(faces, i)
				}
			}
		}
	}
	for _, r := range t.rooms {
		if r.Types == nil {
			continue
		}
		gather(r.Types)
		for _, p := range r.Types.Imports() {
			gather(p)
		}
		for _, o := range r.TypesInfo.Uses {
			if o.Pkg() != nil && o.Pkg() != r.Types {
				used[origin(o)] = true
			}
		}
		for _, f := range r.Syntax {
			ast.Inspect(f, func(n ast.Node) bool {
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING && strings.Contains(lit.Value, "{{") {
					if s, err := strconv.Unquote(lit.Value); err == nil {
						names(s, templates)
					}
				}
				return true
			})
		}
	}
	for _, name := range t.files {
		if slices.Contains([]string{".tmpl", ".html", ".gohtml"}, path.Ext(name)) {
			if b, err := t.read(name); err == nil {
				names(string(b), templates)
			}
		}
	}
	// What a used name shows in its type is used with it.
	reach := &reach{used: used, done: make(map[types.Type]bool)}
	for _, o := range objects(used) {
		reach.object(o)
	}
	for _, r := range t.rooms {
		if r.Types != nil {
			reach.kinds(r.Types)
		}
	}
	var found []finding
	for _, r := range t.rooms {
		if r.Types == nil || r.Name == "main" {
			continue
		}
		missing := func(o types.Object, kind string) {
			f := t.at(r.Fset, o.Pos(), "%s %s has no use outside %s", kind, label(o), r.name)
			f.name = r.name + "." + label(o)
			found = append(found, f)
		}
		scope := r.Types.Scope()
		for _, name := range scope.Names() {
			o := scope.Lookup(name)
			if o.Exported() && !used[o] {
				switch o := o.(type) {
				case *types.Const:
					n, ok := types.Unalias(o.Type()).(*types.Named)
					if !ok || n.Obj().Pkg() != r.Types || !used[n.Obj()] {
						missing(o, "const")
					}
				case *types.Var:
					missing(o, "var")
				case *types.Func:
					missing(o, "func")
				case *types.TypeName:
					missing(o, "type")
				}
			}
			tn, ok := o.(*types.TypeName)
			if !ok || tn.IsAlias() || !o.Exported() {
				continue
			}
			n, ok := tn.Type().(*types.Named)
			if !ok {
				continue
			}
			for m := range n.Methods() {
				if m.Exported() && !used[m] && !slices.Contains(reflected, m.Name()) && !templates[m.Name()] && !asked(n, m, faces) {
					missing(m, "method")
				}
			}
		}
	}
	return found
}

func names(text string, into map[string]bool) {
	for _, m := range field.FindAllStringSubmatch(text, -1) {
		into[m[1]] = true
	}
}

func objects(set map[types.Object]bool) []types.Object {
	out := make([]types.Object, 0, len(set))
	for o := range set {
		out = append(out, o)
	}
	return out
}

// origin returns the generic declaration of an instantiated object.
func origin(o types.Object) types.Object {
	switch o := o.(type) {
	case *types.Func:
		return o.Origin()
	case *types.Var:
		return o.Origin()
	}
	return o
}

// label names an object, methods with their type.
func label(o types.Object) string {
	if f, ok := o.(*types.Func); ok && f.Signature().Recv() != nil {
		t := f.Signature().Recv().Type()
		if p, ok := t.(*types.Pointer); ok {
			t = p.Elem()
		}
		if n, ok := t.(*types.Named); ok {
			return fmt.Sprintf("%s.%s", n.Obj().Name(), f.Name())
		}
	}
	return o.Name()
}

// asked tells whether an interface that n or *n satisfies has the method m.
func asked(n *types.Named, m *types.Func, faces []*types.Interface) bool {
	if n.TypeParams().Len() > 0 {
		return false
	}
	for _, i := range faces {
		for im := range i.Methods() {
			if im.Name() == m.Name() && (types.Implements(n, i) || types.Implements(types.NewPointer(n), i)) {
				return true
			}
		}
	}
	return false
}

// reach marks the named types that show in the type of a used object.
type reach struct {
	used map[types.Object]bool
	done map[types.Type]bool
}

func (r *reach) object(o types.Object) {
	switch o := o.(type) {
	case *types.TypeName:
		r.typ(o.Type())
	case *types.Func, *types.Var, *types.Const:
		r.typ(o.Type())
	}
}

// kinds marks the types of a package that make up a used interface of that same
// package: they are its values.
func (r *reach) kinds(p *types.Package) {
	var faces []*types.Interface
	for _, name := range p.Scope().Names() {
		if tn, ok := p.Scope().Lookup(name).(*types.TypeName); ok && r.used[tn] {
			if i, ok := tn.Type().Underlying().(*types.Interface); ok && i.NumMethods() > 0 {
				faces = append(faces, i)
			}
		}
	}
	for _, name := range p.Scope().Names() {
		tn, ok := p.Scope().Lookup(name).(*types.TypeName)
		if !ok || tn.IsAlias() {
			continue
		}
		for _, i := range faces {
			if types.Implements(tn.Type(), i) || types.Implements(types.NewPointer(tn.Type()), i) {
				r.typ(tn.Type())
			}
		}
	}
}

func (r *reach) typ(t types.Type) {
	if r.done[t] {
		return
	}
	r.done[t] = true
	switch t := t.(type) {
	case *types.Alias:
		r.used[t.Obj()] = true
		r.typ(t.Rhs())
	case *types.Named:
		r.used[t.Origin().Obj()] = true
		for a := range t.TypeArgs().Types() {
			r.typ(a)
		}
		r.typ(t.Origin().Underlying())
	case *types.Pointer:
		r.typ(t.Elem())
	case *types.Slice:
		r.typ(t.Elem())
	case *types.Array:
		r.typ(t.Elem())
	case *types.Chan:
		r.typ(t.Elem())
	case *types.Map:
		r.typ(t.Key())
		r.typ(t.Elem())
	case *types.Signature:
		for v := range t.Params().Variables() {
			r.typ(v.Type())
		}
		for v := range t.Results().Variables() {
			r.typ(v.Type())
		}
	case *types.Struct:
		for f := range t.Fields() {
			if f.Exported() {
				r.typ(f.Type())
			}
		}
	case *types.Interface:
		for m := range t.Methods() {
			r.typ(m.Type())
		}
	}
}

// waiting lists names that are offered to whoever imports a room while the
// program itself does not use them yet: one "room.Name" or "room.Type.Method" a
// line, # for comments. A line whose name has found its user, or is gone, fails.
const waiting = "testdata/waiting.txt"

func TestExported(t *testing.T) {
	tr := own(t)
	b, err := os.ReadFile(waiting)
	if err != nil {
		t.Fatal(err)
	}
	listed := make(map[string]int)
	for i, line := range strings.Split(string(b), "\n") {
		line, _, _ = strings.Cut(line, "#")
		if line = strings.TrimSpace(line); line != "" {
			listed[line] = i + 1
		}
	}
	found := exported(tr)
	var left []finding
	for _, f := range found {
		if _, ok := listed[f.name]; !ok {
			left = append(left, f)
		}
		delete(listed, f.name)
	}
	for name, line := range listed {
		left = append(left, finding{file: "internal/check/" + waiting, line: line, text: name + " does not wait for a user"})
	}
	report(t, left)
}
