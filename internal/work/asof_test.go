package work_test

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"oidium/garden"
	"oidium/internal/command/demo"
	"oidium/internal/ledger"
	"oidium/internal/work"
)

// few members are enough where bytes are compared and not numbers; the race
// detector makes each ten times as dear.
var few = 24

func TestMain(m *testing.M) {
	flag.Parse()
	if testing.Short() {
		few = 12
	}
	os.Exit(m.Run())
}

var example = sync.OnceValues(demo.Entries)

func entries(t testing.TB) []ledger.Entry {
	t.Helper()
	e, err := example()
	if err != nil {
		t.Fatal(err)
	}
	return slices.Clone(e)
}

func day(t testing.TB, s string) garden.Day {
	t.Helper()
	d, err := garden.ParseDay(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func round(t testing.TB, e []ledger.Entry, opt work.Options) *work.Round {
	t.Helper()
	r, err := work.Morning(context.Background(), e, opt)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func bytesOf(t testing.TB, v any) []byte {
	t.Helper()
	b, err := json.MarshalIndent(v, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// mornings of the example: before anything is planted out, early, in the heat of
// the season, at its end, and in winter.
var mornings = []string{"2000-02-10", "2000-05-20", "2000-06-14", "2000-07-06", "2000-08-15", "2000-10-03"}

// Nothing later than the morning may influence the round: without the later
// entries, and with later hours of weather cut off, the bytes are the same.
func TestNothingLaterCounts(t *testing.T) {
	all := entries(t)
	for _, m := range mornings {
		d := day(t, m)
		loc, err := time.LoadLocation("Europe/Amsterdam")
		if err != nil {
			t.Fatal(err)
		}
		asOf := d.At(6, loc)
		var known []ledger.Entry
		for _, e := range all {
			if !e.Time.After(asOf) && !e.Written.After(asOf) {
				known = append(known, e)
			}
		}
		if len(known) == len(all) {
			t.Fatalf("%s: nothing was cut off; the test would prove nothing", m)
		}
		opt := work.Options{Day: d, Members: few}
		whole, cut := bytesOf(t, round(t, all, opt)), bytesOf(t, round(t, known, opt))
		if !bytes.Equal(whole, cut) {
			t.Errorf("%s: later entries changed the round: %s", m, cmp.Diff(string(cut), string(whole)))
		}
	}
}

// A later entry that contradicts the past must not be felt before it was written.
func TestAnEntryCountsFromWhenItWasWritten(t *testing.T) {
	all := entries(t)
	late, err := ledger.Compose(ledger.Head{
		ID: "00de0000-0000-7000-8000-000000000001", Kind: "tally", Bed: "tunnel",
		Time: "2000-07-05T07:00:00+02:00", Written: "2000-07-06T06:00:01+02:00",
	}, &ledger.Tally{Sure: "sure", Check: "eye", Counts: []ledger.Count{{Plant: 1, Age: "old", Face: "upper", Inspected: 20, Infected: 20}}}, work.Vocabulary())
	if err != nil {
		t.Fatal(err)
	}
	opt := work.Options{Day: day(t, "2000-07-06"), Members: few}
	before := bytesOf(t, round(t, all, opt))
	if got := bytesOf(t, round(t, append(slices.Clone(all), late), opt)); !bytes.Equal(before, got) {
		t.Error("a tally written one second after the morning was used")
	}
	opt.Day++
	before = bytesOf(t, round(t, all, opt))
	if got := bytesOf(t, round(t, append(slices.Clone(all), late), opt)); bytes.Equal(before, got) {
		t.Error("a tally written the day before was not used")
	}
}

func TestWorkersChangeNothing(t *testing.T) {
	all := entries(t)
	opt := work.Options{Day: day(t, "2000-07-06"), Members: few, Workers: 1}
	want := bytesOf(t, round(t, all, opt))
	for _, n := range []int{2, 3, 7} {
		opt.Workers = n
		if got := bytesOf(t, round(t, all, opt)); !bytes.Equal(want, got) {
			t.Errorf("%d workers: %s", n, cmp.Diff(string(want), string(got)))
		}
	}
}

// The order in which entries arrived, and repetition, change nothing.
func TestOrderOfArrivalChangesNothing(t *testing.T) {
	all := entries(t)
	opt := work.Options{Day: day(t, "2000-07-06"), Members: few}
	want := bytesOf(t, round(t, all, opt))
	slices.Reverse(all)
	if got := bytesOf(t, round(t, append(all, all[:40]...), opt)); !bytes.Equal(want, got) {
		t.Error(cmp.Diff(string(want), string(got)))
	}
}

// A look at the roses is no business of the cucumbers: no number of theirs moves.
// The courgettes share their mildew and may move.
func TestAnUnrelatedBedDoesNotMove(t *testing.T) {
	all := entries(t)
	opt := work.Options{Day: day(t, "2000-07-06"), Members: few}
	tally := func(bed string) ledger.Entry {
		e, err := ledger.Compose(ledger.Head{
			ID: "00de0000-0000-7000-8000-000000000002", Kind: "tally", Bed: bed,
			Time: "2000-07-05T07:00:00+02:00", Written: "2000-07-05T07:01:00+02:00",
		}, &ledger.Tally{Sure: "sure", Check: "eye", Counts: []ledger.Count{{Plant: 1, Age: "old", Face: "upper", Inspected: 20, Infected: 20}}}, work.Vocabulary())
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	beds := func(r *work.Round) map[garden.BedID]string {
		m := make(map[garden.BedID]string)
		for _, b := range r.Beds {
			m[b.Bed] = string(bytesOf(t, b))
		}
		return m
	}
	before := beds(round(t, all, opt))
	after := beds(round(t, append(slices.Clone(all), tally("rose")), opt))
	for id, b := range before {
		if moved := after[id] != b; moved != (id == "rose") {
			t.Errorf("a look at the roses: bed %s moved: %v", id, moved)
		}
	}
	after = beds(round(t, append(slices.Clone(all), tally("tunnel")), opt))
	if after["rose"] != before["rose"] || after["tunnel"] == before["tunnel"] {
		t.Error("a look at the cucumbers must move their bed and not the roses")
	}
}

// Every round obeys the published schema, those of empty and broken gardens too.
func TestRoundsObeyTheSchema(t *testing.T) {
	b, err := work.Schema("round")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("round.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("round.json")
	if err != nil {
		t.Fatal(err)
	}
	check := func(name string, r *work.Round) {
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(bytesOf(t, r)))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, m := range mornings {
		check(m, round(t, entries(t), work.Options{Day: day(t, m), Members: few}))
	}
	check("no entries", round(t, nil, work.Options{Day: day(t, "2000-07-06"), Members: few}))
	broken, err := jsonschema.UnmarshalJSON(strings.NewReader(`{"version":"oidium-round-1"}`))
	if err != nil {
		t.Fatal(err)
	}
	if schema.Validate(broken) == nil {
		t.Error("the schema accepts a round without jobs")
	}
}

func TestZoneThatDoesNotExist(t *testing.T) {
	site, err := ledger.ParseLine([]byte(`{"id":"00de0000-0000-7000-8000-000000000003","kind":"site","v":1,"time":"2000-01-01T00:00:00Z","written":"2000-01-01T00:00:00Z","body":{"name":"x","latitude":50,"longitude":5,"zone":"Nowhere/Land"}}`), work.Vocabulary())
	if err == nil {
		_, err = work.Morning(context.Background(), []ledger.Entry{site}, work.Options{Day: day(t, "2000-07-06")})
	}
	if err == nil || !strings.Contains(err.Error(), "zone") {
		t.Errorf("error %v does not name the zone", err)
	}
}

func BenchmarkMorning(b *testing.B) {
	all := entries(b)
	for b.Loop() {
		round(b, all, work.Options{Day: day(b, "2000-08-15")})
	}
}
