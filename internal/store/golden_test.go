package store

import (
	"context"
	"database/sql"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/pressly/goose/v3"

	"oidium/internal/ledger"
)

// testdata/v1.oidium is a book as schema 1 made it, and testdata/v1.jsonl what
// is in it. They are kept for ever: every later program must open the one and
// find the other. When the schema changes, a book of the new schema is added.
func TestGoldenBook(t *testing.T) {
	ctx := context.Background()
	raw, err := os.ReadFile(filepath.Join("testdata", "v1.oidium"))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "copy.oidium")
	if err := os.WriteFile(path, raw, 0o600); err != nil {
		t.Fatal(err)
	}
	b, err := OpenExisting(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	got, err := b.Entries(ctx, Filter{Photos: true})
	if err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile(filepath.Join("testdata", "v1.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	out := ""
	for _, l := range lines(got) {
		out += l + "\n"
	}
	if d := cmp.Diff(string(want), out); d != "" {
		t.Error(d)
	}
	if r, err := b.Check(ctx); err != nil || len(r.Problems) > 0 || r.Chain != "c8e9ccda8e98c5daa0a79161b3bb4d394f025efdcf1a30d8ef3e7a14f0849c0c" {
		t.Errorf("%+v, %v", r, err)
	}
}

// A migration that comes later keeps what is in the book.
func TestMigrationKeepsEntries(t *testing.T) {
	ctx := context.Background()
	b := newBook(t)
	in := parse(t, note(1, "a"), withWho(note(2, "b"), "me"))
	if _, _, err := b.Append(ctx, in); err != nil {
		t.Fatal(err)
	}
	all := fstest.MapFS{"00002_more.sql": {Data: []byte("-- +goose Up\nALTER TABLE entry ADD COLUMN more TEXT;\n")}}
	first, err := fs.ReadFile(migrations, "migrations/00001_ledger.sql")
	if err != nil {
		t.Fatal(err)
	}
	all["00001_ledger.sql"] = &fstest.MapFile{Data: first}
	p, err := goose.NewProvider(goose.DialectSQLite3, b.file.write, all, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		t.Fatal(err)
	}
	done, err := p.Up(ctx)
	if err != nil || len(done) != 1 {
		t.Fatalf("%d migrations ran, %v", len(done), err)
	}
	got, err := b.Entries(ctx, Filter{})
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(lines(in), lines(got)); d != "" {
		t.Error(d)
	}
	// This program, which does not know it, leaves the file alone.
	if _, err := OpenExisting(ctx, b.file.path); err == nil {
		t.Error("a book of a later schema was opened")
	}
}

// BenchmarkOpen opens one garden of a book of 10 000.
func BenchmarkOpen(b *testing.B) {
	ctx := context.Background()
	path := filepath.Join(b.TempDir(), "b.oidium")
	book, err := Open(ctx, path)
	if err != nil {
		b.Fatal(err)
	}
	const gardens = 10000
	fill(b, book, gardens)
	if err := book.Close(); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		one, err := OpenExisting(ctx, path)
		if err != nil {
			b.Fatal(err)
		}
		one = one.Garden("garden 4711")
		if there, err := one.Begun(ctx); err != nil || !there {
			b.Fatal(there, err)
		}
		got, err := one.Entries(ctx, Filter{})
		if err != nil || len(got) != perGarden {
			b.Fatalf("%d entries, %v", len(got), err)
		}
		if err := one.Close(); err != nil {
			b.Fatal(err)
		}
	}
}

const perGarden = 20

// fill writes the same entries into many gardens, in one transaction.
func fill(b *testing.B, book *Book, gardens int) {
	b.Helper()
	ctx := context.Background()
	var in []string
	for i := range perGarden {
		in = append(in, note(i, "x"))
	}
	entries := parse(b, in...)
	tx, err := book.file.write.BeginTx(ctx, nil)
	if err != nil {
		b.Fatal(err)
	}
	for g := range gardens {
		one := book.Garden(fmt.Sprintf("garden %d", g))
		if err := one.appendIn(ctx, tx, entries); err != nil {
			b.Fatal(err)
		}
	}
	if err := tx.Commit(); err != nil {
		b.Fatal(err)
	}
}

func (b *Book) appendIn(ctx context.Context, tx *sql.Tx, entries []ledger.Entry) error {
	w := writer{ctx: ctx, tx: tx}
	var err error
	if w.garden, err = b.gardenID(ctx, tx); err != nil {
		return err
	}
	if err := w.prepare(); err != nil {
		return err
	}
	defer w.close()
	for _, e := range entries {
		if _, err := w.put(e); err != nil {
			return err
		}
	}
	return nil
}

// BenchmarkAppend writes one entry, synced to the disk.
func BenchmarkAppend(b *testing.B) {
	book := newBook(b)
	ctx := context.Background()
	for n := 0; b.Loop(); n++ {
		if _, _, err := book.Append(ctx, parse(b, note(n, "x"))); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkEntries reads a season: 200 entries and 180 days of hourly weather.
func BenchmarkEntries(b *testing.B) {
	book := newBook(b)
	ctx := context.Background()
	var in []string
	for n := range 200 {
		in = append(in, note(n, "x"))
	}
	for n := range 180 {
		in = append(in, weatherOf(1000+n, n))
	}
	if _, _, err := book.Append(ctx, parse(b, in...)); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		got, err := book.Entries(ctx, Filter{})
		if err != nil || len(got) != 380 {
			b.Fatalf("%d, %v", len(got), err)
		}
	}
}

func weatherOf(n, day int) string {
	return weatherLine(n, time.Date(2000, 4, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, day),
		`"t":[`+strings.Repeat("12.5,", 23)+`13],"rh":[`+strings.Repeat("80,", 23)+`81],"wind":[`+strings.Repeat("2.5,", 23)+`3],"rain":[`+strings.Repeat("0,", 23)+`0.2],"rad":[`+strings.Repeat("0,", 23)+`250]`)
}
