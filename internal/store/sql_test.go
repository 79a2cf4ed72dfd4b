package store

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// ofOneEngine are the words of SQLite in SQL that PostgreSQL does not take or
// takes otherwise (the documentation of both on SELECT, INSERT and data types,
// from memory), and parameters without a number.
var ofOneEngine = regexp.MustCompile(`(?i)\binsert or\b|\breplace into\b|\browid\b|\bifnull\b|\bstrftime\b|\bdatetime\s*\(|\bjulianday\b|\bglob\b|\bautoincrement\b|\bwithout rowid\b|\btotal\s*\(|\bgroup_concat\b|\?|\[|\x60|==|"`)

func engineBound(sql string) string { return ofOneEngine.FindString(sql) }

var statement = regexp.MustCompile(`^\s*(SELECT|INSERT|UPDATE|DELETE)\b`)

// What reads and writes entries is SQL of no one engine.
func TestSQLIsPortable(t *testing.T) {
	names, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	look := func(n ast.Node) bool {
		lit, ok := n.(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING {
			return true
		}
		sql, err := strconv.Unquote(lit.Value)
		if err != nil || !statement.MatchString(sql) {
			return true
		}
		found++
		if strings.Contains(sql, "sqlite_master") { // which program made the file
			return true
		}
		if w := engineBound(sql); w != "" {
			t.Errorf("%q in: %s", w, sql)
		}
		return true
	}
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, look)
	}
	if found < 15 {
		t.Errorf("only %d statements were found", found)
	}
	for _, bad := range []string{"INSERT OR IGNORE INTO a VALUES ($1)", "SELECT rowid FROM a", "SELECT a FROM b WHERE c = ?", `SELECT a FROM b WHERE c = "d"`} {
		if engineBound(bad) == "" {
			t.Errorf("taken for portable: %s", bad)
		}
	}
}
