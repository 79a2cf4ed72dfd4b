package tables

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"oidium/internal/ledger"
)

func read(t testing.TB, text string) []ledger.Entry {
	t.Helper()
	entries, problems, err := ledger.Read(strings.NewReader(text), ledger.Vocabulary{})
	if err != nil || len(problems) > 0 {
		t.Fatal(problems, err)
	}
	return entries
}

// every returns the golden lines of every kind, a line of a newer program, and
// texts that are hard on CSV.
func every(t testing.TB) []ledger.Entry {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "ledger", "testdata", "v1", "*.jsonl"))
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	var b strings.Builder
	for _, f := range files {
		raw, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		b.Write(raw)
	}
	b.WriteString(`{"v":2, "kind":"later","id":"00dcfa3d-0900-7000-8000-000000000001","time":"2000-06-14T08:00:00Z","written":"2000-06-14T08:00:00Z","x":[1.0,12345678901234567890]}` + "\n")
	for i, text := range []string{`a "quoted", comma`, "two\nlines\n", "\ttab", " blank before and behind ", "=1+1", `\.`, "#", "é😀", `[1,2]`, "true", "1e3"} {
		fmt.Fprintf(&b, `{"v":1,"kind":"note","id":"00dcfa3d-0901-7000-8000-%012x","time":"2000-06-14T08:00:00Z","written":"2000-06-14T08:00:00Z","body":{"text":%q}}`+"\n", i, text)
	}
	b.WriteString(`{"v":1,"kind":"weather","id":"00dcfa3d-0902-7000-8000-000000000001","time":"2000-06-14T08:00:00Z","written":"2000-06-14T08:00:00Z","body":{"start":"2000-06-14T08:00:00Z","t":[null,null],"rh":[1e-171,100]}}` + "\n")
	return read(t, b.String())
}

func pack(t testing.TB, entries []ledger.Entry) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, entries, "an example"); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func byID(entries []ledger.Entry) map[string]string {
	out := map[string]string{}
	for _, e := range entries {
		out[string(e.ID)] = string(e.Line())
	}
	return out
}

func TestRoundTrip(t *testing.T) {
	in := every(t)
	raw := pack(t, in)
	out, problems, err := Read(bytes.NewReader(raw), int64(len(raw)), ledger.Vocabulary{})
	if err != nil || len(problems) > 0 {
		t.Fatal(problems, err)
	}
	if d := cmp.Diff(byID(in), byID(out)); d != "" {
		t.Errorf("(-in +out):\n%s", d)
	}
	if len(in) != len(out) {
		t.Errorf("%d entries became %d", len(in), len(out))
	}
}

func TestSameBytesInAnyOrder(t *testing.T) {
	in := every(t)
	want := pack(t, in)
	rapid.Check(t, func(rt *rapid.T) {
		if got := pack(t, rapid.Permutation(in).Draw(rt, "order")); !bytes.Equal(want, got) {
			rt.Fatal("other bytes")
		}
	})
}

func TestNoEntries(t *testing.T) {
	raw := pack(t, nil)
	out, problems, err := Read(bytes.NewReader(raw), int64(len(raw)), ledger.Vocabulary{})
	if len(out) != 0 || len(problems) != 0 || err != nil {
		t.Error(out, problems, err)
	}
	validate(t, unzip(t, raw))
}

func unzip(t testing.TB, raw []byte) map[string]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		b, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		out[f.Name] = string(b)
	}
	return out
}

func zipped(t testing.TB, files map[string]string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	var names []string
	for n := range files {
		names = append(names, n)
	}
	slices.Sort(names)
	for _, n := range names {
		w, err := z.Create(n)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(w, files[n]); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The descriptor is valid by the published profiles of the Data Package
// specification, version 1 (testdata/profiles).
func TestPublishedProfiles(t *testing.T) { validate(t, unzip(t, pack(t, every(t)))) }

func validate(t *testing.T, files map[string]string) {
	t.Helper()
	profile := func(name string) *jsonschema.Schema {
		s, err := jsonschema.NewCompiler().Compile(filepath.Join("testdata", "profiles", name))
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(files["datapackage.json"]))
	if err != nil {
		t.Fatal(err)
	}
	if err := profile("data-package.json").Validate(doc); err != nil {
		t.Error(err)
	}
	tabular := profile("tabular-data-resource.json")
	paths := map[string]bool{"datapackage.json": true}
	for _, r := range doc.(map[string]any)["resources"].([]any) {
		res := r.(map[string]any)
		paths[res["path"].(string)] = true
		if res["profile"] == "tabular-data-resource" {
			if err := tabular.Validate(res); err != nil {
				t.Errorf("%v: %v", res["name"], err)
			}
		}
	}
	for n := range files {
		if !paths[n] {
			t.Errorf("%s is not in the descriptor", n)
		}
	}
	// The profile can fail: a resource without a name.
	broken := map[string]any{"resources": []any{map[string]any{"path": "x.csv"}}}
	if profile("data-package.json").Validate(broken) == nil {
		t.Error("the profile takes anything")
	}
}

// What is wrong is named with its table and row.
func TestReadNamesTheRow(t *testing.T) {
	good := unzip(t, pack(t, every(t)))
	for _, c := range []struct{ name, file, old, new, want string }{
		{"a bad number", "data/harvest.csv", "6.25", "six", "harvest row 2: column kg"},
		{"a bad value", "data/harvest.csv", "6.25", "-6.25", "harvest body.kg row 2: -6.25 is below 0"},
		{"an unknown column", "data/harvest.csv", "kg,", "weight,", `harvest row 1: the column "weight" is not known`},
		{"a lost item", "data/tally-counts.csv", "00dcfa3d-0108-7000-8000-000000000001,2,", "00dcfa3d-0108-7000-8000-000000000001,7,", "place 2 is missing"},
		{"an orphan", "data/tally-counts.csv", "00dcfa3d-0108-7000-8000-000000000001,2,", "00dcfa3d-0999-7000-8000-000000000001,1,", "which is not in table tally"},
		{"a bad date", "data/planting.csv", "2000-05-12", "2000-02-30", "body.planted row 2"},
		{"a list", "data/removal.csv", `[""middle"",""old""]`, `middle`, "is not a list in JSON"},
	} {
		files := map[string]string{}
		for n, s := range good {
			files[n] = s
		}
		if !strings.Contains(files[c.file], c.old) {
			t.Fatalf("%s: %s has no %q:\n%s", c.name, c.file, c.old, files[c.file])
		}
		files[c.file] = strings.Replace(files[c.file], c.old, c.new, 1)
		raw := zipped(t, files)
		_, problems, err := Read(bytes.NewReader(raw), int64(len(raw)), ledger.Vocabulary{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var got []string
		for _, p := range problems {
			got = append(got, fmt.Sprintf("%s row %d: %s", p.Field, p.Line, p.What))
		}
		if !strings.Contains(strings.Join(got, "\n"), c.want) {
			t.Errorf("%s: no %q in %q", c.name, c.want, got)
		}
	}
	for name, raw := range map[string][]byte{
		"no zip":        []byte("hello"),
		"no descriptor": zipped(t, map[string]string{"x": "y"}),
		"no table":      zipped(t, map[string]string{"datapackage.json": good["datapackage.json"]}),
		"no JSON":       zipped(t, map[string]string{"datapackage.json": "{"}),
	} {
		if _, _, err := Read(bytes.NewReader(raw), int64(len(raw)), ledger.Vocabulary{}); err == nil {
			t.Errorf("%s: was read", name)
		}
	}
}

// The picture goes as a file, and comes back into its line.
func TestPicturesAreFiles(t *testing.T) {
	files := unzip(t, pack(t, every(t)))
	const sum = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" // SHA-256 of "abc" (FIPS 180-4, appendix)
	if files["photos/"+sum+".jpg"] != "abc" || strings.Contains(files["data/photo.csv"], "YWJj") {
		t.Errorf("pictures: %v", files["data/photo.csv"])
	}
}

// No field of a body has the name of a column of the envelope.
func TestColumnsAreDistinct(t *testing.T) {
	for _, k := range ledger.Kinds() {
		tb, err := tablesOf(k)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]bool{}
		for _, c := range tb.mainColumns() {
			if seen[c.name] {
				t.Errorf("%s: column %s twice", k, c.name)
			}
			seen[c.name] = true
		}
		for _, n := range append(itemTables(tb), tb.values()) {
			if slices.Contains(ledger.Kinds(), n) {
				t.Errorf("table %s has the name of a kind", n)
			}
		}
	}
}

func FuzzRead(f *testing.F) {
	files := unzip(f, pack(f, every(f)))
	f.Add("tally", files["data/tally.csv"], files["data/tally-counts.csv"])
	f.Add("weather", files["data/weather.csv"], files["data/weather-values.csv"])
	f.Fuzz(func(t *testing.T, kind, table, items string) {
		desc := fmt.Sprintf(`{"resources":[{"name":%q,"path":"a"},{"name":"tally-counts","path":"b"},{"name":"weather-values","path":"b"}]}`, kind)
		raw := zipped(t, map[string]string{"datapackage.json": desc, "a": table, "b": items})
		entries, _, err := Read(bytes.NewReader(raw), int64(len(raw)), ledger.Vocabulary{})
		if err != nil {
			return
		}
		for _, e := range entries {
			if _, err := ledger.ParseLine(e.Line(), ledger.Vocabulary{}); err != nil {
				t.Error(err)
			}
		}
	})
}
