package store

import (
	"bufio"
	"context"
	"encoding/base64"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"oidium/internal/ledger"
)

// Ways in which the child writes.
const (
	oneByOne   = "one-by-one"  // an entry a transaction
	inBatches  = "in-batches"  // a few entries and a day of weather a transaction
	wholeFiles = "whole-files" // as an import does: read a file of lines, write it
	blankings  = "blankings"   // names and pictures, taken out by the next batch
	backups    = "backups"     // entries, and a copy of the book after each
)

// crashSize is how many entries one batch of each way has.
var crashSize = map[string]int{oneByOne: 1, inBatches: 7, wholeFiles: 60, blankings: 4, backups: 3}

// crashName stands in what the next batch of the way blankings takes out.
func crashName(n int) string { return fmt.Sprintf("somebody-%d-of-the-garden", n) }

// crashBatch makes batch n of a way. The ids of batches do not overlap.
func crashBatch(way string, n int) string {
	var b strings.Builder
	size := crashSize[way]
	if way == blankings {
		k := (n + 1) * size
		for _, l := range []string{
			withWho(note(k, "x"), crashName(n)),
			photo(k+1, crashName(n), true),
			blanking(k+2, "person", "", k-size, k-size+1),
			blanking(k+3, "photo", "", k-size+1),
		} {
			b.WriteString(l + "\n")
		}
		return b.String()
	}
	for i := range size {
		k := n*size + i
		if i%7 == 6 {
			b.WriteString(weatherLine(k, time.Date(2000, 4, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, k%100),
				`"t":[`+strings.Repeat("12.5,", 47)+`13],"rh":[`+strings.Repeat("80,", 47)+`81]`))
		} else {
			b.WriteString(note(k, way+strings.Repeat(" leaf", k%50)))
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// TestCrash kills a process that writes, over and over, at random moments. What
// the process said was written must be there, once; a batch is there whole or
// not at all; the file is sound.
func TestCrash(t *testing.T) {
	kills := 200 // .ci/run asks for more
	if s := os.Getenv("OIDIUM_CRASHES"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil {
			t.Fatalf("OIDIUM_CRASHES: %v", err)
		}
		kills = n
	} else if testing.Short() {
		kills = 20
	}
	ways := []string{oneByOne, inBatches, wholeFiles, blankings, backups}
	rng := rand.New(rand.NewPCG(1, 2))
	for k, perBook, book := 0, 0, 0; k < kills; k, book = k+perBook, book+1 {
		perBook = min(2+rng.IntN(8), kills-k) // kills in a row on one book
		way := ways[book%len(ways)]
		dir := t.TempDir()
		path := filepath.Join(dir, "b.oidium")
		acknowledged := -1
		for range perBook {
			acknowledged = max(acknowledged, crashOnce(t, path, way, acknowledged+1, rng))
			checkAfterCrash(t, path, way, acknowledged)
			if t.Failed() {
				t.Fatalf("way %s, kill %d", way, k)
			}
		}
	}
}

// crashOnce starts a writer at a batch, kills it and returns the last batch it
// acknowledged, -1 for none.
func crashOnce(t *testing.T, path, way string, from int, rng *rand.Rand) int {
	t.Helper()
	c := exec.Command(os.Args[0], "-test.run=^TestCrashChild$")
	c.Env = append(os.Environ(), "OIDIUM_TEST_CRASH="+way+" "+strconv.Itoa(from)+" "+path)
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	last := -1
	wait := rng.IntN(12) // acknowledgements to wait for; 0: killed while opening
	pause := time.Duration(rng.IntN(4000)) * time.Microsecond
	if wait == 0 {
		pause *= 10
	}
	if wait == 0 {
		time.Sleep(pause)
	}
	killed := false
	s := bufio.NewScanner(out)
	if wait == 0 {
		killed = true
		if err := c.Process.Kill(); err != nil {
			t.Fatal(err)
		}
	}
	for n := 1; s.Scan(); n++ {
		if b, ok := strings.CutPrefix(s.Text(), "written "); ok {
			if last, err = strconv.Atoi(b); err != nil {
				t.Fatal(err)
			}
		} else if strings.HasPrefix(s.Text(), "failed ") {
			t.Errorf("the writer: %s", s.Text())
		}
		if n >= wait && !killed {
			killed = true
			time.Sleep(pause)
			if err := c.Process.Kill(); err != nil {
				t.Fatal(err)
			}
		}
	}
	_ = c.Wait() // it was killed
	if !killed {
		t.Error("the writer ended by itself")
	}
	return last
}

func checkAfterCrash(t *testing.T, path, way string, acknowledged int) {
	t.Helper()
	ctx := context.Background()
	b, err := Open(ctx, path)
	if err != nil {
		t.Errorf("opening after the kill: %v", err)
		return
	}
	defer b.Close()
	if r, err := b.Check(ctx); err != nil || len(r.Problems) > 0 {
		t.Errorf("not sound: %v, %v", r.Problems, err)
	}
	got, err := b.Entries(ctx, Filter{Photos: true})
	if err != nil {
		t.Errorf("reading after the kill: %v", err)
		return
	}
	size := crashSize[way]
	if len(got)%size != 0 {
		t.Errorf("%d entries: a batch of %d is there in part", len(got), size)
	}
	if len(got) < (acknowledged+1)*size {
		t.Errorf("%d entries, but %d were acknowledged", len(got), (acknowledged+1)*size)
	}
	seen := map[string]bool{}
	for _, e := range got {
		if seen[string(e.ID)] {
			t.Errorf("%s is there twice", e.ID)
		}
		seen[string(e.ID)] = true
	}
	for n := 0; n <= acknowledged; n++ {
		for _, e := range parse(t, crashBatch(way, n)) {
			if !seen[string(e.ID)] {
				t.Errorf("%s was acknowledged and is lost", e.ID)
			}
		}
	}
	if way == blankings {
		checkBlanked(t, got, acknowledged)
	}
	if way == backups {
		checkCopies(t, path, lines(got))
	}
	// The import again: what is there is passed over.
	if acknowledged >= 0 {
		batch := parse(t, crashBatch(way, acknowledged))
		if added, same, err := b.Append(ctx, batch); added != 0 || same != size || err != nil {
			t.Errorf("importing again: added %d, same %d, %v", added, same, err)
		}
	}
}

// checkBlanked sees that what an acknowledged batch took out stays out.
func checkBlanked(t *testing.T, got []ledger.Entry, acknowledged int) {
	t.Helper()
	all := strings.Join(lines(got), "\n")
	for n := range acknowledged { // batch n+1 took out the name in batch n
		if strings.Contains(all, crashName(n)+`"`) || strings.Contains(all, base64.StdEncoding.EncodeToString([]byte(crashName(n)))) {
			t.Errorf("the name of batch %d is back", n)
		}
	}
}

// checkCopies sees that every file with the name of a backup is a whole one.
func checkCopies(t *testing.T, path string, in []string) {
	t.Helper()
	ctx := context.Background()
	copies, err := filepath.Glob(path + ".copy-*")
	if err != nil {
		t.Error(err)
	}
	for _, c := range copies {
		if strings.Contains(c, ".part") {
			continue // the copy was not acknowledged and does not have its name
		}
		b, err := OpenExisting(ctx, c)
		if err != nil {
			t.Error(err)
			return
		}
		r, err := b.Check(ctx)
		got, err2 := b.Entries(ctx, Filter{Photos: true})
		if err := errors.Join(err, err2, b.Close()); err != nil || len(r.Problems) > 0 {
			t.Errorf("the copy %s is not sound: %v %v", c, r.Problems, err)
			return
		}
		if len(got) > len(in) || strings.Join(lines(got), "\n") != strings.Join(in[:len(got)], "\n") {
			t.Errorf("the copy %s says something else than the book", c)
		}
		if err := os.Remove(c); err != nil {
			t.Error(err)
		}
	}
}

// TestCrashChild is the writer that [TestCrash] kills.
func TestCrashChild(t *testing.T) {
	words := strings.SplitN(os.Getenv("OIDIUM_TEST_CRASH"), " ", 3)
	if len(words) != 3 {
		t.Skip("only as a child")
	}
	way, path := words[0], words[2]
	from, err := strconv.Atoi(words[1])
	if err != nil {
		t.Fatal(err)
	}
	fail := func(err error) {
		fmt.Println("failed", err)
		os.Exit(1)
	}
	b, err := Open(context.Background(), path)
	if err != nil {
		fail(err)
	}
	for n := from; n < from+100000; n++ {
		entries, problems, err := ledger.Read(strings.NewReader(crashBatch(way, n)), ledger.Vocabulary{})
		if err != nil || len(problems) > 0 {
			fail(fmt.Errorf("%v %v", problems, err))
		}
		if _, _, err := b.Append(context.Background(), entries); err != nil {
			fail(err)
		}
		if way == backups {
			if err := b.Backup(context.Background(), fmt.Sprintf("%s.copy-%d-%d", path, os.Getpid(), n)); err != nil {
				fail(err)
			}
		}
		fmt.Println("written", n)
	}
}
