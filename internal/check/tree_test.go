package check

import (
	"cmp"
	"fmt"
	"go/ast"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"golang.org/x/tools/go/packages"
)

// tree is a module as the checks see it: its packages with syntax and types,
// tests left out, and its table of layers.
type tree struct {
	root   string // directory of go.mod
	module string // path of the module
	rooms  []*room
	table  map[string]layer // by name of the room
	files  []string         // tracked files, slash separated, relative to root
}

// room is one package of the module.
type room struct {
	*packages.Package
	name string // path without the module's
}

// layer is one row of the table of layers.
type layer struct {
	number int
	beside []string // rooms of the same layer it may use
	line   int
}

// finding is one thing that is wrong and where.
type finding struct {
	file string // relative to the root
	line int    // 0 when the whole file or room is meant
	text string
	name string // of the exported name it is about, if it is about one
}

func (f finding) String() string {
	if f.line == 0 {
		return f.file + ": " + f.text
	}
	return fmt.Sprintf("%s:%d: %s", f.file, f.line, f.text)
}

// at makes a finding at a position of the tree.
func (t *tree) at(fset *token.FileSet, pos token.Pos, format string, args ...any) finding {
	p := fset.Position(pos)
	return finding{file: t.rel(p.Filename), line: p.Line, text: fmt.Sprintf(format, args...)}
}

func (t *tree) rel(file string) string {
	r, err := filepath.Rel(t.root, file)
	if err != nil {
		return file
	}
	return filepath.ToSlash(r)
}

// read returns a file of the tree.
func (t *tree) read(name string) ([]byte, error) {
	return os.ReadFile(filepath.Join(t.root, filepath.FromSlash(name)))
}

// layerOf returns the number of the room's layer, -1 when it is not in the table.
func (t *tree) layerOf(name string) int {
	if l, ok := t.table[name]; ok {
		return l.number
	}
	return -1
}

// science tells whether the room is of layers 1 to 4, where numbers need sources.
func (t *tree) science(name string) bool {
	n := t.layerOf(name)
	return n >= 1 && n <= 4
}

// load reads the module whose go.mod is in root.
func load(root string) (*tree, error) {
	cfg := &packages.Config{
		Dir: root,
		Mode: packages.NeedName | packages.NeedFiles | packages.NeedImports | packages.NeedModule |
			packages.NeedSyntax | packages.NeedTypes | packages.NeedTypesInfo,
		Fset: token.NewFileSet(),
	}
	pkgs, err := packages.Load(cfg, "./...")
	if err != nil {
		return nil, fmt.Errorf("loading the packages of %s: %w", root, err)
	}
	t := &tree{root: root}
	for _, p := range pkgs {
		if p.Module != nil {
			t.module = p.Module.Path
		}
	}
	for _, p := range pkgs {
		if len(p.GoFiles) == 0 {
			continue // tests only
		}
		name := strings.TrimPrefix(strings.TrimPrefix(p.PkgPath, t.module), "/")
		t.rooms = append(t.rooms, &room{p, name})
	}
	slices.SortFunc(t.rooms, func(a, b *room) int { return cmp.Compare(a.name, b.name) })
	if t.table, err = readLayers(filepath.Join(root, "docs", "layers.md")); err != nil {
		return nil, err
	}
	t.files, err = tracked(root)
	return t, err
}

var row = regexp.MustCompile("^\\|\\s*(\\d+)\\s*\\|\\s*`([^`]+)`\\s*\\|([^|]*)\\|")

var quoted = regexp.MustCompile("`([^`]+)`")

// readLayers reads the table: | layer | `room` | `room`, `room` | words |.
func readLayers(file string) (map[string]layer, error) {
	b, err := os.ReadFile(file)
	if err != nil {
		return nil, fmt.Errorf("reading the table of layers: %w", err)
	}
	table := make(map[string]layer)
	for i, line := range strings.Split(string(b), "\n") {
		m := row.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		n, err := strconv.Atoi(m[1])
		if err != nil {
			return nil, fmt.Errorf("%s:%d: layer %q is not a number", file, i+1, m[1])
		}
		if _, ok := table[m[2]]; ok {
			return nil, fmt.Errorf("%s:%d: room %s stands twice in the table", file, i+1, m[2])
		}
		l := layer{number: n, line: i + 1}
		for _, a := range quoted.FindAllStringSubmatch(m[3], -1) {
			l.beside = append(l.beside, a[1])
		}
		table[m[2]] = l
	}
	if len(table) == 0 {
		return nil, fmt.Errorf("%s holds no table of layers", file)
	}
	return table, nil
}

// tracked lists the files that are or would be published: those git knows and
// those it does not ignore. Without a repository it lists every file. Folders
// are walked in any case, so that a cached test result falls when one changes.
func tracked(root string) ([]string, error) {
	cmd := exec.Command("git", "ls-files", "-z", "--cached", "--others", "--exclude-standard")
	cmd.Dir = root
	known := make(map[string]bool)
	out, gitErr := cmd.Output()
	for _, f := range strings.Split(string(out), "\x00") {
		known[f] = true
	}
	var files []string
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && d.Name() == ".git" {
			return fs.SkipDir
		}
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		if d.Type().IsRegular() && (known[rel] || gitErr != nil) {
			files = append(files, rel)
		}
		return nil
	})
	slices.Sort(files)
	return files, err
}

// here is the tree these tests stand in, loaded once for all of them.
var here = sync.OnceValues(func() (*tree, error) {
	dir, err := os.Getwd()
	if err != nil {
		return nil, err
	}
	return load(filepath.Dir(filepath.Dir(dir)))
})

// own returns the project's tree.
func own(t *testing.T) *tree {
	t.Helper()
	tr, err := here()
	if err != nil {
		t.Fatal(err)
	}
	return tr
}

// report fails the test for each finding, in order of place.
func report(t *testing.T, found []finding) {
	t.Helper()
	order(found)
	for _, f := range found {
		t.Error(f)
	}
}

func order(found []finding) {
	slices.SortFunc(found, func(a, b finding) int {
		return cmp.Or(cmp.Compare(a.file, b.file), cmp.Compare(a.line, b.line), cmp.Compare(a.text, b.text))
	})
}

// parents calls f for every node of file with the nodes above it, outermost
// first.
func parents(file *ast.File, f func(n ast.Node, above []ast.Node)) {
	var stack []ast.Node
	ast.Inspect(file, func(n ast.Node) bool {
		if n == nil {
			stack = stack[:len(stack)-1]
			return true
		}
		f(n, stack)
		stack = append(stack, n)
		return true
	})
}

func TestTreeCompiles(t *testing.T) {
	tr := own(t)
	if len(tr.rooms) == 0 {
		t.Fatal("no package found")
	}
	for _, r := range tr.rooms {
		for _, e := range r.Errors {
			t.Errorf("%s: %v", r.name, e)
		}
	}
}
