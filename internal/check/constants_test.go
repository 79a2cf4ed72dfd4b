package check

import (
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// A number of the science needs an origin. A cite.Value carries it in its
// fields, made as a literal or by a function of the room that takes them; a row
// of a data table may carry it in a field named Source; any other float names it
// in a comment: on its line, above its statement, or in the documentation of its
// declaration. What a comment must hold is a registered source, by its id or as
// name and year (xu-1999, Xu 1999), or one of the reasons below.

// reasons free a float from naming a source.
var reasons = []string{
	"exact",     // true by definition: units, geometry, calendars
	"numerical", // of the method and not of nature: tolerances, grids, quantiles
}

// plain are the numbers that need no reason: counts, halves, turns and the
// units of time and of metric prefixes. Powers of ten are plain too.
var plain = []float64{0, 0.25, 0.5, 1, 1.5, 2, 3, 4, 5, 6, 7, 8, 9, 12, 24, 60, 90, 180, 360, 365, 365.25, 366, 3600, 86400}

// isPlain tells whether v needs no reason.
func isPlain(v float64) bool {
	if slices.Contains(plain, v) {
		return true
	}
	for e := -300; e <= 300; e++ {
		if p := math.Pow10(e); math.Abs(v-p) <= 1e-12*p {
			return true
		}
	}
	return false
}

var (
	word = regexp.MustCompile(`[A-Za-z0-9]+(?:[-_][A-Za-z0-9]+)*`)
	// Up to six words and signs before a year, as in Horsfall & Barratt (1945).
	nameYear = regexp.MustCompile(`((?:[\w.&,-]+\s+){1,6})\(?(\d{4})\b`)
)

// cited returns the ids of the registered sources that a text names.
func cited(text string, register map[string]source) []string {
	var ids []string
	try := func(id string) {
		if _, ok := register[id]; ok {
			ids = append(ids, id)
		}
	}
	for _, w := range word.FindAllString(text, -1) {
		try(w)
		if l := strings.ToLower(w); l != w {
			try(l)
		}
	}
	for _, m := range nameYear.FindAllStringSubmatch(text, -1) {
		for _, w := range word.FindAllString(m[1], -1) {
			try(strings.ToLower(w) + "-" + m[2])
		}
	}
	return ids
}

// gives tells whether a comment names a registered source or a reason.
func gives(text string, register map[string]source) bool {
	if len(cited(text, register)) > 0 {
		return true
	}
	return slices.ContainsFunc(word.FindAllString(text, -1), func(w string) bool {
		return slices.Contains(reasons, strings.ToLower(w))
	})
}

// isValue tells whether typ is cite.Value of the module.
func (t *tree) isValue(typ types.Type) bool {
	n, ok := types.Unalias(typ).(*types.Named)
	return ok && n.Obj().Name() == "Value" && n.Obj().Pkg() != nil && n.Obj().Pkg().Path() == t.module+"/cite"
}

// fields returns the expressions of a struct literal by name of the field.
func fields(lit *ast.CompositeLit, typ types.Type) map[string]ast.Expr {
	st, ok := typ.Underlying().(*types.Struct)
	if !ok {
		return nil
	}
	out := make(map[string]ast.Expr)
	for i, e := range lit.Elts {
		if kv, ok := e.(*ast.KeyValueExpr); ok {
			if id, ok := kv.Key.(*ast.Ident); ok {
				out[id.Name] = kv.Value
			}
		} else if i < st.NumFields() {
			out[st.Field(i).Name()] = e
		}
	}
	return out
}

// valueParts returns the parts of a cite.Value by name of the field when n makes
// one, as a literal or by a call of a function whose parameters are named like
// the fields; nil when n does not.
func (t *tree) valueParts(r *room, n ast.Node) map[string]ast.Expr {
	switch n := n.(type) {
	case *ast.CompositeLit:
		if len(n.Elts) > 0 && t.isValue(r.TypesInfo.TypeOf(n)) {
			return fields(n, r.TypesInfo.TypeOf(n))
		}
	case *ast.CallExpr:
		sig, ok := r.TypesInfo.TypeOf(n.Fun).(*types.Signature)
		if !ok || sig.Variadic() || !t.isValue(r.TypesInfo.TypeOf(n)) {
			return nil
		}
		out := make(map[string]ast.Expr)
		for i, e := range n.Args {
			for _, name := range []string{"V", "Lo", "Hi", "Unit", "Source", "Grade", "What"} {
				if i < sig.Params().Len() && strings.EqualFold(sig.Params().At(i).Name(), name) {
					out[name] = e
				}
			}
		}
		if out["V"] != nil {
			return out
		}
	}
	return nil
}

// text returns the constant string of e.
func (r *room) text(e ast.Expr) (string, bool) {
	if e == nil {
		return "", false
	}
	v := r.TypesInfo.Types[e].Value
	if v == nil || v.Kind() != constant.String {
		return "", false
	}
	return constant.StringVal(v), true
}

// number returns the constant number of e; a field left out is 0.
func (r *room) number(e ast.Expr) (float64, bool) {
	if e == nil {
		return 0, true
	}
	v := r.TypesInfo.Types[e].Value
	if v == nil {
		return 0, false
	}
	f, ok := constant.Float64Val(constant.ToFloat(v))
	return f, ok || f != 0
}

// values checks every literal of cite.Value.
func values(t *tree) []finding {
	register, _ := sources(t)
	var found []finding
	for _, r := range t.rooms {
		if r.name == "cite" {
			continue
		}
		for _, f := range r.Syntax {
			ast.Inspect(f, func(n ast.Node) bool {
				fs := t.valueParts(r, n)
				if fs == nil {
					return true
				}
				bad := func(format string, args ...any) {
					found = append(found, t.at(r.Fset, n.Pos(), "cite.Value "+format, args...))
				}
				_, call := n.(*ast.CallExpr) // what it does not take, it fills in
				if fs["V"] == nil && fs["Lo"] == nil && fs["Hi"] == nil && fs["Unit"] == nil {
					return true // the origin of something that is no number
				}
				for _, name := range []string{"Unit", "Source", "Grade", "What"} {
					if fs[name] == nil {
						if !call {
							bad("without %s", name)
						}
					} else if s, ok := r.text(fs[name]); ok && strings.TrimSpace(s) == "" {
						bad("with an empty %s", name)
					}
				}
				if s, ok := r.text(fs["Source"]); ok && s != "" {
					if _, ok := register[s]; !ok {
						bad("with the source %q, which is not in the register", s)
					}
				}
				if g, ok := r.text(fs["Grade"]); ok && !slices.Contains([]string{"A", "B", "C", "calc", ""}, g) {
					bad("with the unknown grade %q", g)
				}
				if call && (fs["Lo"] == nil || fs["Hi"] == nil) {
					return true
				}
				v, okV := r.number(fs["V"])
				lo, okLo := r.number(fs["Lo"])
				hi, okHi := r.number(fs["Hi"])
				if okV && okLo && okHi && (lo > v || v > hi) {
					bad("with V %g outside Lo %g to Hi %g", v, lo, hi)
				}
				return true
			})
		}
	}
	return found
}

// naked finds the floats of the science rooms that have no origin.
func naked(t *tree) []finding {
	register, _ := sources(t)
	var found []finding
	for _, r := range t.rooms {
		if !t.science(r.name) {
			continue
		}
		for _, f := range r.Syntax {
			said := reasoned(r.Fset, f, register)
			parents(f, func(n ast.Node, above []ast.Node) {
				lit, ok := n.(*ast.BasicLit)
				if !ok || lit.Kind != token.FLOAT && lit.Kind != token.INT {
					return
				}
				tv := r.TypesInfo.Types[lit]
				if tv.Type == nil || tv.Value == nil {
					return
				}
				b, ok := tv.Type.Underlying().(*types.Basic)
				if !ok || b.Info()&types.IsFloat == 0 {
					return
				}
				v, _ := constant.Float64Val(constant.ToFloat(tv.Value))
				if isPlain(v) || t.covered(r, lit, above, said, register) {
					return
				}
				found = append(found, t.at(r.Fset, lit.Pos(), "the number %s has no source: make it a cite.Value, or name a registered source (or why it is exact or numerical) in a comment", lit.Value))
			})
		}
	}
	return found
}

// reasoned returns the lines of the file on which a comment that gives an
// origin stands, and those just below such a comment.
func reasoned(fset *token.FileSet, f *ast.File, register map[string]source) map[int]bool {
	lines := make(map[int]bool)
	for _, g := range f.Comments {
		if !gives(g.Text(), register) {
			continue
		}
		last := fset.Position(g.End()).Line
		for l := fset.Position(g.Pos()).Line; l <= last+1; l++ {
			lines[l] = true
		}
	}
	return lines
}

// covered tells whether a number's origin is given around it.
func (t *tree) covered(r *room, lit ast.Node, above []ast.Node, said map[int]bool, register map[string]source) bool {
	if said[r.Fset.Position(lit.Pos()).Line] {
		return true
	}
	inner := true // until the innermost statement is passed
	for _, n := range slices.Backward(above) {
		switch n := n.(type) {
		case *ast.CallExpr:
			if t.valueParts(r, n) != nil {
				return true
			}
			for _, e := range n.Args {
				if s, ok := r.text(e); ok {
					if _, ok := register[s]; ok {
						return true // handed over together with its source
					}
				}
			}
		case *ast.CompositeLit:
			typ := r.TypesInfo.TypeOf(n)
			if t.isValue(typ) {
				return true
			}
			fs := fields(n, typ)
			for _, e := range fs {
				if e != lit && t.isValue(r.TypesInfo.TypeOf(e)) {
					return true // the place of a value, as in a curve drawn by points
				}
			}
			for _, name := range []string{"Source", "source"} {
				if s, ok := r.text(fs[name]); ok {
					if _, ok := register[s]; ok {
						return true
					}
				}
			}
		case *ast.GenDecl:
			if n.Doc != nil && gives(n.Doc.Text(), register) {
				return true
			}
		case *ast.ValueSpec:
			if n.Doc != nil && gives(n.Doc.Text(), register) || n.Comment != nil && gives(n.Comment.Text(), register) {
				return true
			}
		case *ast.FuncDecl:
			if n.Doc != nil && gives(n.Doc.Text(), register) {
				return true
			}
		case ast.Stmt:
			if _, block := n.(*ast.BlockStmt); inner && !block && said[r.Fset.Position(n.Pos()).Line] {
				return true
			}
			inner = false
		}
	}
	return false
}

func TestValues(t *testing.T) { report(t, values(own(t))) }

func TestNakedNumbers(t *testing.T) { report(t, naked(own(t))) }
