package check

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"
)

// TestChecksFind runs every check on a small tree in which everything is wrong
// once. The part "want" of the archive lists what must be found, and nothing
// else may be.
func TestChecksFind(t *testing.T) {
	archive, err := txtar.ParseFile(filepath.Join("testdata", "wrong.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	root := t.TempDir()
	var want []string
	for _, f := range archive.Files {
		// Words that no tracked file may hold are written with a gap.
		data := strings.ReplaceAll(string(f.Data), "‸", "")
		if f.Name == "want" {
			want = strings.Split(strings.TrimSpace(data), "\n")
			continue
		}
		file := filepath.Join(root, filepath.FromSlash(f.Name))
		if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(data), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	big := "package sun\n" + strings.Repeat("// a line\n", roomLines)
	for name, data := range map[string]string{
		"sun/big.go": big,
		"leaf.jpg":   "any bytes",
		"leaf.dat":   "\xff\xd8\xff\xe0",
		"leaf.png":   "\x89PNG" + strings.Repeat("x", pngLimit),
	} {
		if err := os.WriteFile(filepath.Join(root, name), []byte(data), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	tr, err := load(root)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range tr.rooms {
		for _, e := range r.Errors {
			t.Fatalf("the wrong tree must compile: %v", e)
		}
	}
	var got []string
	for _, check := range []struct {
		name  string
		found []finding
	}{
		{"layers", layers(tr)},
		{"quiet", quiet(tr)},
		{"values", values(tr)},
		{"naked", naked(tr)},
		{"citations", citations(tr)},
		{"exported", exported(tr)},
		{"sizes", sizes(tr)},
		{"docs", docs(tr)},
		{"words", words(tr)},
		{"photographs", photographs(tr)},
		{"links", links(tr)},
	} {
		order(check.found)
		for _, f := range check.found {
			got = append(got, check.name+" "+f.String())
		}
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("findings (-want +got):\n%s", d)
	}
}
