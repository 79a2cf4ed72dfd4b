package spoken

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"oidium/internal/ledger"
)

func TestTally(t *testing.T) {
	at := func(plant int, age, face string, infected, inspected int) ledger.Count {
		return ledger.Count{Plant: plant, Age: age, Face: face, Infected: infected, Inspected: inspected}
	}
	for _, x := range []struct {
		words string
		want  []ledger.Count
	}{
		{"0/5 1/5", []ledger.Count{at(1, "old", "upper", 0, 5), at(2, "old", "upper", 1, 5)}},
		{"0/5 0/5 1/5/u", []ledger.Count{at(1, "old", "upper", 0, 5), at(2, "old", "upper", 0, 5), at(3, "old", "upper", 1, 5)}},
		{"0/5 2 1", []ledger.Count{at(1, "old", "upper", 0, 5), at(2, "old", "upper", 2, 5), at(3, "old", "upper", 1, 5)}},
		{"0+1/5", []ledger.Count{at(1, "old", "upper", 0, 5), at(1, "old", "lower", 1, 5)}},
		{"2/4yl", []ledger.Count{at(1, "young", "lower", 2, 4)}},
		{"yl: 2/4 0", []ledger.Count{at(1, "young", "lower", 2, 4), at(2, "young", "lower", 0, 4)}},
		{"oul: 0/3", []ledger.Count{at(1, "old", "upper", 0, 3), at(1, "old", "lower", 0, 3)}},
		{"0/5o,1/3y", []ledger.Count{at(1, "old", "upper", 0, 5), at(1, "young", "upper", 1, 3)}},
		{"2x0/2", []ledger.Count{at(1, "old", "upper", 0, 2), at(2, "old", "upper", 0, 2)}},
		{"0/5 - 1", []ledger.Count{at(1, "old", "upper", 0, 5), at(3, "old", "upper", 1, 5)}},
		{"7:1/5 0", []ledger.Count{at(7, "old", "upper", 1, 5), at(8, "old", "upper", 0, 5)}},
		{"0/5 1/2m 0", []ledger.Count{at(1, "old", "upper", 0, 5), at(2, "middle", "upper", 1, 2), at(3, "old", "upper", 0, 2)}},
		{"0/0", []ledger.Count{at(1, "old", "upper", 0, 0)}},
	} {
		got, err := Tally(strings.Fields(x.words))
		if d := cmp.Diff(x.want, got); err != nil || d != "" {
			t.Errorf("%q: %v (-want +got)\n%s", x.words, err, d)
		}
	}
}

func TestTallyRefuses(t *testing.T) {
	for words, part := range map[string]string{
		"":           "no leaf is counted",
		"1":          "of how many leaves",
		"5/1":        "5 leaves with mildew among 1",
		"oul: 1/5":   "on which face",
		"0/5z":       "not a mark",
		"0/5yo":      "two ages",
		"0/5yy":      "twice",
		"0+1+2/5":    "two faces",
		"x0/5":       "number of plants",
		"0x0/5":      "number of plants",
		"99999x0/5":  "number of plants",
		"5000x0+0/5": "more than",
		"0:1/5":      "number of a plant",
		"1/5.5":      "whole number",
		"a lot":      "not a number of leaves",
		"-1/5":       "not a number of leaves",
	} {
		if got, err := Tally(strings.Fields(words)); err == nil || !strings.Contains(err.Error(), part) {
			t.Errorf("%q: %d counts, error %v, want one with %q", words, len(got), err, part)
		}
	}
}

// A tally said in words is read again as the same tally.
func TestTallyAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var counts []ledger.Count
		plant := 0
		for range rapid.IntRange(1, 12).Draw(t, "plants") {
			plant += rapid.SampledFrom([]int{1, 1, 1, 2, 5}).Draw(t, "step")
			for range rapid.IntRange(1, 4).Draw(t, "counts") {
				of := rapid.IntRange(0, 9).Draw(t, "of")
				counts = append(counts, ledger.Count{
					Plant: plant, Inspected: of, Infected: rapid.IntRange(0, of).Draw(t, "infected"),
					Age:  rapid.SampledFrom([]string{"young", "middle", "old"}).Draw(t, "age"),
					Face: rapid.SampledFrom([]string{"upper", "lower"}).Draw(t, "face"),
				})
			}
		}
		said := Words(counts)
		got, err := Tally(said)
		if d := cmp.Diff(counts, got); err != nil || d != "" {
			t.Fatalf("%s: %v (-want +got)\n%s", strings.Join(said, " "), err, d)
		}
	})
}

// Whatever is typed, what is understood can be said and read again, never counts
// more leaves with mildew than leaves, and a word that is refused leaves no count.
func FuzzTally(f *testing.F) {
	for _, s := range []string{"0/5 0/5 1/5/u", "oul: 4x0/5 0+1 0+2 4x0", "7:1/5 -", "0/3y,1/4o", "12x", ":", "1/5/", "3x2x1/5"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		counts, err := Tally(strings.Fields(s))
		if err != nil {
			return
		}
		for _, c := range counts {
			if c.Infected > c.Inspected || c.Infected < 0 || c.Plant < 1 {
				t.Fatalf("%q: %+v", s, c)
			}
		}
		again, err := Tally(Words(counts))
		if err != nil || !slices.Equal(counts, again) {
			t.Fatalf("%q: %v said as %v: %v", s, counts, Words(counts), err)
		}
	})
}

// The help shows words that are understood.
func TestHelp(t *testing.T) {
	n := 0
	for _, l := range strings.Split(Help, "\n") {
		if !strings.HasPrefix(l, "  ") {
			continue
		}
		words := strings.TrimSpace(l)
		if i := strings.Index(words, "  "); i > 0 {
			words = words[:i]
		}
		c := NewCounter()
		for _, w := range strings.Fields(words) {
			if err := c.Word(w); err != nil {
				t.Errorf("%q: %v", words, err)
			}
		}
		n++
	}
	if n < 9 {
		t.Errorf("%d examples in the help", n)
	}
}
