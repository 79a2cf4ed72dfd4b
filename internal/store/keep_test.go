package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"oidium/internal/ledger"
)

func withWho(l, who string) string {
	return strings.Replace(l, `"body":`, fmt.Sprintf(`"who":%q,"body":`, who), 1)
}

func blanking(n int, what, as string, ids ...int) string {
	var list []string
	for _, i := range ids {
		list = append(list, `"`+id(i)+`"`)
	}
	if as != "" {
		as = `,"as":"` + as + `"`
	}
	return fmt.Sprintf(`{"id":%q,"kind":"blanking","v":1,"time":"2000-07-14T08:00:00+02:00","written":"2000-07-14T08:01:00+02:00","body":{"entries":[%s],"what":%q%s}}`,
		id(n), strings.Join(list, ","), what, as)
}

func photo(n int, data string, with bool) string {
	sum := sha256.Sum256([]byte(data))
	d := ""
	if with {
		d = `,"data":"` + base64.StdEncoding.EncodeToString([]byte(data)) + `"`
	}
	return fmt.Sprintf(`{"id":%q,"kind":"photo","v":1,"time":"2000-06-14T08:00:00+02:00","written":"2000-06-14T08:01:00+02:00","body":{"sha256":"%x","type":"image/jpeg","caption":"somebody"%s}}`,
		id(n), sum, d)
}

func TestBlanking(t *testing.T) {
	ctx := context.Background()
	b := newBook(t)
	const name = "Quirinius Zappelmann" // an invented name, easy to find in a file
	steps := [][]ledger.Entry{
		parse(t, withWho(note(1, "a"), name), note(2, "b"), photo(4, "not really a picture", true)),
		parse(t, blanking(9, "person", "eyes-1", 1, 3)),
		parse(t, withWho(note(3, "c"), name)), // arrives after it was blanked
		parse(t, blanking(10, "photo", "", 4)),
	}
	for _, s := range steps {
		if added, _, err := b.Append(ctx, s); err != nil || added != len(s) {
			t.Fatalf("added %d of %d: %v", added, len(s), err)
		}
	}
	got, err := b.Entries(ctx, Filter{Photos: true})
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(lines(got), "\n")
	for _, gone := range []string{name, "somebody", `"data"`} {
		if strings.Contains(all, gone) {
			t.Errorf("%s is still there:\n%s", gone, all)
		}
	}
	if got[0].Who != "eyes-1" || !got[0].Blanked || got[1].Blanked {
		t.Errorf("entries: %s", all)
	}
	// The old lines come again from a phone that does not know: nothing happens.
	if added, same, err := b.Append(ctx, append(steps[0], steps[2]...)); added != 0 || same != 4 || err != nil {
		t.Errorf("added %d, same %d, %v", added, same, err)
	}
	r, err := b.Check(ctx)
	if err != nil || len(r.Problems) > 0 || r.Blanked != 3 || r.Entries != 6 {
		t.Errorf("after blanking: %+v, %v", r, err)
	}
	// The name is gone from the bytes of the file and of its log.
	for _, suffix := range []string{"", "-wal"} {
		raw, err := os.ReadFile(b.file.path + suffix)
		if err != nil && !os.IsNotExist(err) {
			t.Fatal(err)
		}
		for _, gone := range []string{name, "not really a picture"} {
			if bytes.Contains(raw, []byte(gone)) {
				t.Errorf("%q stands in the file%s", gone, suffix)
			}
		}
	}
}

// A blanked ledger that goes to another book, and the full one that was there,
// end in the same, whichever comes first.
func TestBlankingTravels(t *testing.T) {
	ctx := context.Background()
	full := parse(t, withWho(note(1, "a"), "N"), withWho(note(2, "b"), "N"), photo(4, "p", true))
	all := append(parse(t, blanking(9, "person", "", 1), blanking(10, "photo", "", 4)), full...)
	source := newBook(t)
	if _, _, err := source.Append(ctx, all); err != nil {
		t.Fatal(err)
	}
	exported, err := source.Entries(ctx, Filter{Photos: true})
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(rt *rapid.T) {
		dir, err := os.MkdirTemp(t.TempDir(), "")
		if err != nil {
			rt.Fatal(err)
		}
		b, err := Open(ctx, filepath.Join(dir, "b"))
		if err != nil {
			rt.Fatal(err)
		}
		defer b.Close()
		parts := rapid.Permutation(append(append([]ledger.Entry{}, full...), exported...)).Draw(rt, "order")
		for _, e := range parts {
			if _, _, err := b.Append(ctx, []ledger.Entry{e}); err != nil {
				rt.Fatal(err)
			}
		}
		got, err := b.Entries(ctx, Filter{Photos: true})
		if err != nil {
			rt.Fatal(err)
		}
		want := map[string]string{}
		for _, e := range exported {
			want[string(e.ID)] = string(e.Line())
		}
		for _, e := range got {
			if d := cmp.Diff(want[string(e.ID)], string(e.Line())); d != "" {
				rt.Fatal(d)
			}
		}
		if r, err := b.Check(ctx); err != nil || len(r.Problems) > 0 {
			rt.Fatalf("%+v %v", r, err)
		}
	})
}

func TestPhotoTravelsApart(t *testing.T) {
	ctx := context.Background()
	b := newBook(t)
	light, full := parse(t, photo(1, "p", false)), parse(t, photo(1, "p", true))
	if _, _, err := b.Append(ctx, light); err != nil {
		t.Fatal(err)
	}
	if _, same, err := b.Append(ctx, full); same != 1 || err != nil {
		t.Fatalf("same %d, %v", same, err)
	}
	got, err := b.Entries(ctx, Filter{Photos: true})
	if err != nil || string(got[0].Line()) != string(full[0].Line()) {
		t.Errorf("%v %v", lines(got), err)
	}
	if got, err = b.Entries(ctx, Filter{}); err != nil || string(got[0].Line()) != string(light[0].Line()) {
		t.Errorf("without: %v %v", lines(got), err)
	}
}

func TestCheckFindsTampering(t *testing.T) {
	ctx := context.Background()
	for name, spoil := range map[string]string{
		"a changed line":      "UPDATE entry SET line = replace(CAST(line AS TEXT), 'b-text', 'x-text') WHERE seq = 2",
		"a removed entry":     "DELETE FROM entry WHERE seq = 2",
		"another person":      `UPDATE entry SET personal = CAST('{"who":"other"}' AS BLOB) WHERE seq = 3`,
		"sums computed again": "UPDATE entry SET open_sum = zeroblob(32) WHERE seq = 2",
	} {
		b := newBook(t)
		if _, _, err := b.Append(ctx, parse(t, note(1, "a"), note(2, "b-text"), withWho(note(3, "c"), "me"), note(4, "d"))); err != nil {
			t.Fatal(err)
		}
		before, err := b.Check(ctx)
		if err != nil || len(before.Problems) != 0 || len(before.Chain) != 64 {
			t.Fatalf("%+v %v", before, err)
		}
		if _, err := b.file.write.Exec(spoil); err != nil {
			t.Fatal(err)
		}
		after, err := b.Check(ctx)
		if err != nil || len(after.Problems) == 0 {
			t.Errorf("%s was not found: %+v %v", name, after, err)
		}
	}
}

// A backup made while another goroutine writes is whole and of one moment.
func TestBackupWhileRunning(t *testing.T) {
	ctx := context.Background()
	b := newBook(t)
	var wg sync.WaitGroup
	stop := make(chan struct{})
	wg.Add(1)
	go func() {
		defer wg.Done()
		for n := 0; ; n++ {
			select {
			case <-stop:
				return
			default:
			}
			// Two entries a transaction: a copy must hold both or none.
			if _, _, err := b.Append(ctx, parse(t, note(2*n, "x"), note(2*n+1, "y"))); err != nil {
				t.Error(err)
				return
			}
		}
	}()
	dir := t.TempDir()
	var copies []string
	for i := range 5 {
		time.Sleep(10 * time.Millisecond)
		path := filepath.Join(dir, fmt.Sprintf("copy %d", i))
		if err := b.Backup(ctx, path); err != nil {
			t.Fatal(err)
		}
		copies = append(copies, path)
	}
	close(stop)
	wg.Wait()
	all, err := b.Entries(ctx, Filter{})
	if err != nil {
		t.Fatal(err)
	}
	for i, path := range copies {
		back := filepath.Join(dir, fmt.Sprintf("back %d", i))
		if err := Restore(ctx, path, back); err != nil {
			t.Fatal(err)
		}
		r, err := OpenExisting(ctx, back)
		if err != nil {
			t.Fatal(err)
		}
		got, err := r.Entries(ctx, Filter{})
		if err != nil || len(got)%2 != 0 || len(got) > len(all) {
			t.Errorf("copy %d: %d entries, %v", i, len(got), err)
		}
		if d := cmp.Diff(lines(all[:len(got)]), lines(got)); d != "" {
			t.Error(d)
		}
		if err := r.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if err := b.Backup(ctx, copies[0]); err == nil {
		t.Error("a backup overwrote another")
	}
	if err := Restore(ctx, copies[0], b.file.path); err == nil {
		t.Error("a restore overwrote a book")
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "*.part*")); len(left) > 0 {
		t.Errorf("left over: %v", left)
	}
}
