package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"oidium/internal/ledger"
)

// id makes a UUID of version 7 for a test.
func id(n int) string { return fmt.Sprintf("00dcfa3d-0000-7000-8000-%012x", n) }

func note(n int, text string) string {
	return fmt.Sprintf(`{"id":%q,"kind":"note","v":1,"time":"2000-06-14T08:00:00+02:00","written":"2000-06-14T08:01:00+02:00","body":{"text":%q}}`, id(n), text)
}

func weatherLine(n int, start time.Time, body string) string {
	return fmt.Sprintf(`{"id":%q,"kind":"weather","v":1,"time":%q,"written":%q,"body":{"start":%q,"station":"s",%s}}`,
		id(n), start.Format(time.RFC3339), start.Format(time.RFC3339), start.Format(time.RFC3339), body)
}

func parse(t testing.TB, lines ...string) []ledger.Entry {
	t.Helper()
	entries, problems, err := ledger.Read(strings.NewReader(strings.Join(lines, "\n")), ledger.Vocabulary{})
	if err != nil || len(problems) > 0 {
		t.Fatalf("reading: %v %v", problems, err)
	}
	return entries
}

func newBook(t testing.TB) *Book {
	t.Helper()
	b, err := Open(context.Background(), filepath.Join(t.TempDir(), "garden 1?#%.oidium"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := b.Close(); err != nil {
			t.Error(err)
		}
	})
	return b
}

func lines(entries []ledger.Entry) []string {
	var out []string
	for _, e := range entries {
		out = append(out, string(e.Line()))
	}
	return out
}

func TestAppend(t *testing.T) {
	ctx := context.Background()
	b := newBook(t)
	first := parse(t, note(1, "a"), note(2, "b"))
	check := func(entries []ledger.Entry, wantAdded, wantSame int) {
		t.Helper()
		added, same, err := b.Append(ctx, entries)
		if err != nil || added != wantAdded || same != wantSame {
			t.Fatalf("added %d, same %d, error %v; want %d, %d", added, same, err, wantAdded, wantSame)
		}
	}
	check(first, 2, 0)
	check(first, 0, 2)
	check(parse(t, note(3, "c"), note(1, "a")), 1, 1)

	// One entry that says something else: nothing of the batch is written.
	_, _, err := b.Append(ctx, parse(t, note(4, "d"), note(2, "changed")))
	var c *conflict
	if !errors.As(err, &c) || !strings.HasPrefix(err.Error(), "line 2: ") || c.ID != id(2) || !strings.Contains(c.Have, `"b"`) || !strings.Contains(c.New, `"changed"`) {
		t.Fatalf("got error %v", err)
	}
	got, err := b.Entries(ctx, Filter{})
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff([]string{note(1, "a"), note(2, "b"), note(3, "c")}, lines(got)); d != "" {
		t.Errorf("in the book (-want +got):\n%s", d)
	}
}

func TestFilter(t *testing.T) {
	ctx := context.Background()
	b := newBook(t)
	late := strings.Replace(note(2, "late"), `"written":"2000-06-14`, `"written":"2000-06-20`, 1)
	start := time.Date(2000, 6, 10, 0, 0, 0, 0, time.UTC)
	if _, _, err := b.Append(ctx, parse(t, note(1, "a"), late, weatherLine(3, start, `"t":[1]`))); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		f    Filter
		want int
	}{
		{Filter{}, 3},
		{Filter{Kinds: []string{"note"}}, 2},
		{Filter{Kinds: []string{"weather", "note"}}, 3},
		{Filter{Kinds: []string{"tally"}}, 0},
		{Filter{AsOf: time.Date(2000, 6, 15, 0, 0, 0, 0, time.UTC)}, 2},
		{Filter{Kinds: []string{"note"}, AsOf: time.Date(2000, 6, 15, 0, 0, 0, 0, time.UTC)}, 1},
	} {
		got, err := b.Entries(ctx, c.f)
		if err != nil || len(got) != c.want {
			t.Errorf("%+v: %d entries, %v; want %d", c.f, len(got), err, c.want)
		}
	}
}

// What comes out is what went in, to the byte, weather and lines of a newer
// program included, after closing and opening again.
func TestRoundTrip(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "b.oidium")
	start := time.Date(2000, 3, 25, 22, 0, 0, 0, time.FixedZone("", 3600))
	in := parse(
		t,
		weatherLine(1, start, `"t":[1.5,-0.25,null,3,4],"rain":[0,0,0,0.1,0]`),
		weatherLine(2, start.Add(17*time.Minute), `"rh":[50,null,99.123456789]`),
		`{"v":9,"id":"`+id(3)+`","kind":"later","time":"2000-06-14T08:00:00Z","written":"2000-06-14T08:00:00Z",  "x":[1.0]}`,
		note(4, "é\t\"x\" 😀"),
	)
	b, err := Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := b.Append(ctx, in); err != nil {
		t.Fatal(err)
	}
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	if b, err = OpenExisting(ctx, path); err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	out, err := b.Entries(ctx, Filter{})
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(lines(in), lines(out)); d != "" {
		t.Error(d)
	}
	if added, same, err := b.Append(ctx, in); added != 0 || same != 4 || err != nil {
		t.Errorf("once more: added %d, same %d, %v", added, same, err)
	}
}

func TestPackLosesNothing(t *testing.T) {
	value := rapid.OneOf(
		rapid.Map(rapid.IntRange(-60000, 60000), func(k int) float64 { return float64(k) / 1000 }),
		rapid.Map(rapid.IntRange(-600, 600), func(k int) float64 { return float64(k) / 10 }),
		rapid.Just(math.NaN()),
		rapid.Float64Range(-60, 60),
	)
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 80).Draw(t, "hours")
		h := &ledger.Hours{Start: time.Unix(int64(rapid.IntRange(-1e6, 1e8).Draw(t, "minute"))*60, 0).UTC()}
		some := false
		for _, c := range columns(h) {
			if rapid.Bool().Draw(t, "stated") || !some {
				*c = rapid.SliceOfN(value, n, n).Draw(t, "values")
				some = true
			}
		}
		got, err := unpackDays(packDays(h))
		if err != nil {
			t.Fatal(err)
		}
		for i, c := range columns(got) {
			for k, x := range *c {
				if w := (*columns(h)[i])[k]; x != w && !(x != x && w != w) {
					t.Fatalf("column %d hour %d: %v, want %v", i, k, x, w)
				}
			}
		}
		if d := cmp.Diff(h, got, cmpopts.EquateNaNs(), cmpopts.EquateEmpty()); d != "" {
			t.Fatal(d)
		}
	})
}

func FuzzUnpack(f *testing.F) {
	h := &ledger.Hours{T: ledger.Values{1, 2.5, math.NaN()}, RH: ledger.Values{math.Pi, 1, 2}}
	for _, d := range packDays(h) {
		f.Add(d.data)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		h, err := unpackDays([]dayHours{{0, b}})
		if err == nil && hoursLen(h) > 25 {
			t.Errorf("%d hours in a day", hoursLen(h))
		}
	})
}

func TestOpenRefusesOtherFiles(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	text := filepath.Join(dir, "text")
	if err := os.WriteFile(text, []byte(strings.Repeat("this is no database\n", 100)), 0o600); err != nil {
		t.Fatal(err)
	}
	foreign := filepath.Join(dir, "foreign")
	db, err := sql.Open("sqlite", foreign)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec("CREATE TABLE song (name TEXT)"); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	newer := filepath.Join(dir, "newer")
	b, err := Open(ctx, newer)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.file.write.Exec("INSERT INTO goose_db_version (version_id, is_applied) VALUES (99, true)"); err != nil {
		t.Fatal(err)
	}
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		text:                              "this file is not a book",
		foreign:                           "SQLite file of another program",
		newer:                             "a newer program made it",
		filepath.Join(dir, "no", "where"): "its folder is not there",
		"":                                "no path given",
	} {
		b, err := Open(ctx, path)
		if err == nil {
			b.Close()
			t.Errorf("%s was opened", path)
			continue
		}
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v; want %q", path, err, want)
		}
	}
	if _, err := OpenExisting(ctx, filepath.Join(dir, "missing")); err == nil || !strings.Contains(err.Error(), "there is no file") {
		t.Errorf("missing: %v", err)
	}
	if _, err := os.Stat(filepath.Join(dir, "missing")); !errors.Is(err, os.ErrNotExist) {
		t.Error("OpenExisting made a file")
	}
}

// A byte changed behind the program's back is noticed.
func TestDamageIsNoticed(t *testing.T) {
	ctx := context.Background()
	b := newBook(t)
	if _, _, err := b.Append(ctx, parse(t, note(1, "a"))); err != nil {
		t.Fatal(err)
	}
	if _, err := b.file.write.Exec("UPDATE entry SET line = $1", []byte(note(1, "b"))); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Entries(ctx, Filter{}); err == nil || !strings.Contains(err.Error(), id(1)+" in the book is damaged") {
		t.Errorf("got error %v", err)
	}
}

// The gardens of a file know nothing of each other: the same id may be in both,
// and a line that differs is no conflict.
func TestGardensApart(t *testing.T) {
	ctx := context.Background()
	b := newBook(t)
	other := b.Garden("up the hill")
	for _, x := range []struct {
		of   *Book
		line string
	}{{b, note(1, "a")}, {other, note(1, "b")}, {other, note(2, "c")}} {
		if added, _, err := x.of.Append(ctx, parse(t, x.line)); err != nil || added != 1 {
			t.Fatal(added, err)
		}
	}
	for _, x := range []struct {
		of   *Book
		want []string
	}{
		{b, []string{note(1, "a")}},
		{other, []string{note(1, "b"), note(2, "c")}},
		{b.Garden("nowhere"), nil},
	} {
		got, err := x.of.Entries(ctx, Filter{})
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(x.want, lines(got)); d != "" {
			t.Error(d)
		}
	}
	names, err := b.Gardens(ctx)
	if d := cmp.Diff([]string{"", "up the hill"}, names); d != "" || err != nil {
		t.Error(d, err)
	}
}

// Several processes open a new book at once and write to it at once.
func TestSeveralProcesses(t *testing.T) {
	if os.Getenv("OIDIUM_TEST_WRITER") != "" {
		t.Skip("this is the child")
	}
	const processes, each = 6, 20
	path := filepath.Join(t.TempDir(), "b.oidium")
	var wg sync.WaitGroup
	for p := range processes {
		wg.Add(1)
		go func() {
			defer wg.Done()
			c := exec.Command(os.Args[0], "-test.run=^TestWriterChild$", "-test.v")
			c.Env = append(os.Environ(), fmt.Sprintf("OIDIUM_TEST_WRITER=%d %d %s", p*each, each, path))
			if out, err := c.CombinedOutput(); err != nil {
				t.Errorf("process %d: %v\n%s", p, err, out)
			}
		}()
	}
	wg.Wait()
	b, err := OpenExisting(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	got, err := b.Entries(context.Background(), Filter{})
	if err != nil || len(got) != processes*each {
		t.Errorf("%d entries, %v; want %d", len(got), err, processes*each)
	}
}

// TestWriterChild is the other process of [TestSeveralProcesses].
func TestWriterChild(t *testing.T) {
	var from, n int
	var path string
	if _, err := fmt.Sscanf(os.Getenv("OIDIUM_TEST_WRITER"), "%d %d %s", &from, &n, &path); err != nil {
		t.Skip("only as a child")
	}
	b, err := Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	for i := range n {
		if _, _, err := b.Append(context.Background(), parse(t, note(from+i, "x"))); err != nil {
			t.Fatal(err)
		}
	}
}
