package print

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"oidium/internal/work"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares got with a file of testdata.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), string(got)); d != "" {
		t.Errorf("%s differs (-want +got):\n%s", name, d)
	}
}

func text(t *testing.T, r *work.Round) string {
	t.Helper()
	var b bytes.Buffer
	if err := Text(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestTextGolden(t *testing.T) {
	for _, f := range rounds() {
		golden(t, f.name+".txt", []byte(text(t, f.r)))
	}
}

func TestExplainGolden(t *testing.T) {
	var b bytes.Buffer
	if err := Explain(&b, juneDay(), "tunnel"); err != nil {
		t.Fatal(err)
	}
	golden(t, "june-day-tunnel.txt", b.Bytes())
	b.Reset()
	if err := Explain(&b, juneDay(), "north"); err != nil {
		t.Fatal(err)
	}
	golden(t, "june-day-north.txt", b.Bytes())
}

func TestExplainNamesTheBedsWhenThereIsNoSuch(t *testing.T) {
	err := Explain(&bytes.Buffer{}, juneDay(), "tunel")
	if err == nil || !strings.Contains(err.Error(), `"tunnel"`) {
		t.Errorf("error %v does not name the beds there are", err)
	}
	if err := Explain(&bytes.Buffer{}, emptyGarden(), "tunnel"); err == nil {
		t.Error("no error for a bed of an empty garden")
	}
}

func TestNoRoundIsAnError(t *testing.T) {
	if err := Text(&bytes.Buffer{}, nil); err == nil {
		t.Error("no error for no round")
	}
}

type full struct{ room int }

func (f *full) Write(b []byte) (int, error) {
	if f.room -= len(b); f.room < 0 {
		return 0, os.ErrClosed
	}
	return len(b), nil
}

func TestTextGivesBackTheErrorOfTheWriter(t *testing.T) {
	if err := Text(&full{room: 300}, juneDay()); err == nil {
		t.Error("a full disk went unnoticed")
	}
}

// scribble puts a text into every string of v, and for lists of no entries one
// entry, so that every line of the print is made.
func scribble(v reflect.Value, next func() string) {
	switch v.Kind() {
	case reflect.String:
		if v.Type().Name() == "Grade" || !v.CanSet() {
			return
		}
		v.SetString(next())
	case reflect.Struct:
		for i := range v.NumField() {
			scribble(v.Field(i), next)
		}
	case reflect.Slice:
		for i := range v.Len() {
			scribble(v.Index(i), next)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			scribble(v.Elem(), next)
		}
	}
}

func TestNoLineIsWiderThan80Columns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := rounds()
		r := all[rapid.IntRange(0, len(all)-1).Draw(t, "round")].r
		word := rapid.OneOf(
			rapid.String(),
			rapid.StringN(60, 200, -1),
			rapid.SampledFrom([]string{
				"", "Kürbis im großen Beet hinter dem alten Gewächshaus an der Südmauer, dritte Reihe von links",
				"温室のきゅうり温室のきゅうり温室のきゅうり温室のきゅうり温室のきゅうり温室のきゅうり温室のきゅうり",
				"e\u0301e\u0301e\u0301", strings.Repeat("x", 300), "a\x1b[31mred\x1b[0m\tb\nc", "\u202eabc", "\xff\xfe",
			}),
		)
		scribble(reflect.ValueOf(r), func() string { return word.Draw(t, "word") })
		check := func(out string) {
			for _, l := range strings.Split(out, "\n") {
				if c := columns(l); c > textWidth {
					t.Fatalf("%d columns: %q", c, l)
				}
				for _, x := range l {
					if x < ' ' || x == 0x7f || x >= 0x202a && x <= 0x202e {
						t.Fatalf("control character %U in %q", x, l)
					}
				}
			}
		}
		var b bytes.Buffer
		if err := Text(&b, r); err != nil {
			t.Fatal(err)
		}
		check(b.String())
		for i := range r.Beds {
			b.Reset()
			if err := Explain(&b, r, r.Beds[i].Bed); err != nil {
				t.Fatal(err)
			}
			check(b.String())
		}
	})
}

func TestAtMostThreeStepsABed(t *testing.T) {
	r := juneDay()
	j := r.Jobs[0]
	r.Jobs = nil
	for _, title := range []string{"first", "second", "third", "fourth"} {
		j.Title = title
		r.Jobs = append(r.Jobs, j)
	}
	today, later, _ := strings.Cut(text(t, r), "CAN WAIT")
	for _, title := range []string{"first", "second", "third"} {
		if !strings.Contains(today, title) {
			t.Errorf("the %s step is missing", title)
		}
	}
	if strings.Contains(today, "fourth") || !strings.Contains(later, "fourth") {
		t.Error("the fourth step of a bed is not among what can wait")
	}
}

func TestAnAssumptionIsCalledOne(t *testing.T) {
	out := text(t, juneDay())
	if !strings.Contains(out, "awri-2021: assumption") {
		t.Errorf("a number of grade C is not called an assumption:\n%s", out)
	}
}

func TestLabelAndLawComeFirst(t *testing.T) {
	for _, f := range rounds() {
		out := text(t, f.r)
		_, cautions, ok := strings.Cut(out, "BEFORE ANYTHING IS DONE\n")
		if !ok || !strings.HasPrefix(cautions, "  - The label in force") {
			t.Errorf("%s: the label does not come first", f.name)
		}
		if !strings.Contains(out, "Label and local law come first.") {
			t.Errorf("%s: not said at the top", f.name)
		}
	}
}

func TestColumns(t *testing.T) {
	// Widths as in Unicode Standard Annex 11, East Asian Width.
	for _, c := range []struct {
		s string
		n int
	}{{"abc", 3}, {"é", 1}, {"e\u0301", 1}, {"きゅ", 4}, {"Ａ", 2}, {"ｱ", 1}, {"", 0}} {
		if n := columns(c.s); n != c.n {
			t.Errorf("%q takes %d columns, want %d", c.s, n, c.n)
		}
	}
}

func TestNumbers(t *testing.T) {
	w, err := load()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		share float64
		want  string
	}{{0, "0"}, {0.0004, "under 0.1"}, {0.001, "0.1"}, {0.0324, "3.2"}, {0.0994, "9.9"}, {0.0996, "10"}, {0.114, "11"}, {0.999, "100"}, {1, "100"}, {-0.1, "0"}} {
		if got := w.percent(c.share); got != c.want {
			t.Errorf("%v is printed as %q, want %q", c.share, got, c.want)
		}
	}
	for _, c := range []struct {
		x    float64
		want string
	}{{0, "0"}, {2.4, "2.4"}, {9.96, "10"}, {12.4, "12"}, {0.35, "0.35"}, {0.5, "0.5"}, {-1.2, "-1.2"}, {-0.001, "0"}, {4, "4"}, {1234.5, "1234"}} {
		if got := short(c.x); got != c.want {
			t.Errorf("%v is printed as %q, want %q", c.x, got, c.want)
		}
	}
}

func TestWindows(t *testing.T) {
	w, err := load()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ from, to, want string }{
		{"2000-07-06T19:30:00+02:00", "2000-07-06T21:30:00+02:00", "today 19:30 to 21:30"},
		{"2000-07-06T23:00:00+02:00", "2000-07-07T00:00:00+02:00", "today 23:00 to 24:00"},
		{"2000-07-06T23:00:00+02:00", "2000-07-07T01:00:00+02:00", "today 23:00 to tomorrow 01:00"},
		{"2000-07-07T05:00:00+02:00", "2000-07-07T07:00:00+02:00", "tomorrow 05:00 to 07:00"},
		{"2000-07-09T05:00:00+02:00", "2000-07-09T07:00:00+02:00", "Sun 9 Jul 05:00 to 07:00"},
		{"at dusk", "at dark", " at dusk to at dark"},
	} {
		got := strings.ReplaceAll(w.window(work.Window{From: c.from, To: c.to}, "2000-07-06"), nb, " ")
		if got != c.want {
			t.Errorf("%s to %s is printed as %q, want %q", c.from, c.to, got, c.want)
		}
	}
}

func TestDatesInSentences(t *testing.T) {
	s, err := newSheet(juneDay())
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]string{
		"look again on Thursday, 2000-07-13.": "look again on Thursday, 13 July.",
		"from 1999-12-31 23:00Z":              "from 31 December 1999 23:00Z",
		"batch 2000-99-99 and 12000-01-01":    "batch 2000-99-99 and 12000-01-01",
	} {
		if got := strings.ReplaceAll(s.prose(text), nb, " "); got != want {
			t.Errorf("%q is printed as %q, want %q", text, got, want)
		}
	}
}
