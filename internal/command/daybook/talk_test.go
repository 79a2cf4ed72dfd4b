package daybook

import (
	"bytes"
	"flag"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"

	"oidium/internal/ledger"
)

var update = flag.Bool("update", false, "write the conversations in testdata anew")

// typist answers a conversation line by line and shows in it what was typed.
type typist struct {
	answers []string
	out     *bytes.Buffer
}

func (t *typist) Read(b []byte) (int, error) {
	if len(t.answers) == 0 {
		return 0, io.EOF
	}
	n := copy(b, t.answers[0]+"\n")
	t.out.WriteString("«" + t.answers[0] + "»\n")
	t.answers = t.answers[1:]
	return n, nil
}

// Each file in testdata/talk holds a call, the conversation with what was typed
// between « and », and what was kept. The garden is that of the other tests, or
// the part entries.
func TestTalks(t *testing.T) {
	files, err := filepath.Glob("testdata/talk/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, f := range files {
		t.Run(strings.TrimSuffix(filepath.Base(f), ".txtar"), func(t *testing.T) { oneTalk(t, f) })
	}
}

func oneTalk(t *testing.T, file string) {
	a, err := txtar.ParseFile(file)
	if err != nil {
		t.Fatal(err)
	}
	part := func(name string) string {
		i := slices.IndexFunc(a.Files, func(f txtar.File) bool { return f.Name == name })
		if i < 0 {
			return ""
		}
		return string(a.Files[i].Data)
	}
	entries := part("entries")
	if entries == "" {
		entries = someGarden
	}
	p := pageOf(t, entries)
	call := strings.Split(strings.TrimSpace(part("call")), "|")
	d, err := p.New(call[0])
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Say(call[1:]); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	in := &typist{out: &out}
	for _, l := range strings.Split(part("talk"), "\n") {
		if _, typed, ok := strings.Cut(l, "«"); ok {
			in.answers = append(in.answers, strings.TrimSuffix(typed, "»"))
		}
	}
	kept, err := p.Ask(in, &out, d, func(e ledger.Entry) []string { return []string{"Mind: this is said of a " + e.Kind + "."} })
	if err != nil {
		out.WriteString("error: " + err.Error() + "\n")
	}
	if len(in.answers) > 0 {
		t.Errorf("never asked for: %q", in.answers)
	}
	got := "nothing\n"
	if kept {
		e, err := d.Entry(anyID, p.now)
		if err != nil {
			t.Fatal(err)
		}
		got = string(e.Line()) + "\n"
	}
	said := strings.ReplaceAll(out.String(), " \n", "\n")
	if *update {
		a.Files = slices.DeleteFunc(a.Files, func(f txtar.File) bool { return f.Name == "talk" || f.Name == "kept" })
		a.Files = append(a.Files, txtar.File{Name: "talk", Data: []byte(said)}, txtar.File{Name: "kept", Data: []byte(got)})
		if err := os.WriteFile(file, txtar.Format(a), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if d := cmp.Diff(part("talk"), said); d != "" {
		t.Errorf("the conversation went otherwise (-want +got)\n%s", d)
	}
	if d := cmp.Diff(part("kept"), got); d != "" {
		t.Errorf("what was kept (-want +got)\n%s", d)
	}
}

// Every question is about a field of its kind, every field that must be there is
// asked for, and every kind is asked for or said to come from elsewhere.
func TestQuestions(t *testing.T) {
	rows := 0
	for _, k := range ledger.Kinds() {
		f, err := formOf(k)
		if err != nil {
			t.Fatal(err)
		}
		qs := questionsOf(k)
		rows += len(qs)
		if len(qs) == 0 {
			if elsewhere(k) == elsewhere("") {
				t.Errorf("nothing is asked for a %s, and nothing says where it comes from", k)
			}
			continue
		}
		for _, q := range qs {
			if x, ok := find(f.fields, q.field); !ok {
				t.Errorf("%s: %q is not a field", k, q.field)
			} else if without, ok := strings.CutPrefix(q.only, "!"); ok {
				if _, known := find(f.fields, without); !known {
					t.Errorf("%s.%s: asked only without %s, which is no field", k, x.name, without)
				}
			} else if name, value, ok := strings.Cut(q.only, "="); ok {
				y, known := find(f.fields, name)
				if !known || !slices.Contains(y.enum, value) {
					t.Errorf("%s.%s: asked only if %s, which cannot be", k, x.name, q.only)
				}
			}
			for _, s := range q.start {
				if !strings.HasPrefix(s, "=") && !slices.Contains([]string{"last", "standing", "next", "here", "planting", "walk", "must"}, s) {
					t.Errorf("%s.%s: %q is no beginning", k, q.field, s)
				}
			}
		}
		for _, x := range f.fields {
			if x.required && !slices.ContainsFunc(qs, func(q question) bool { return q.field == x.name && q.only == "" }) {
				t.Errorf("%s: %s must be there and is not asked for", k, x.name)
			}
		}
	}
	if lines := strings.Count(questionsTSV, "\n") - 1; rows != lines {
		t.Errorf("%d questions in %d lines: some are of no kind or not of five columns", rows, lines)
	}
	for k, name := range main {
		f, err := formOf(k)
		if err != nil {
			t.Error(err)
			continue
		}
		if _, ok := find(f.fields, name); !ok {
			t.Errorf("the main field of a %s is %q, which it does not have", k, name)
		}
	}
}
