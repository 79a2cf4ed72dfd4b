package scout

import (
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"oidium/garden"
)

// Every key of the catalogue is used and every key used is there.
func TestCatalogue(t *testing.T) {
	if len(keysOf(wordsText)) == 0 {
		t.Fatal("the catalogue cannot be read")
	}
	code, err := os.ReadFile("say.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`"([a-z]+\.[a-z-]+)"`).FindAllStringSubmatch(string(code), -1) {
		if !sentences().Has(m[1]) && m[1] != "data/words.tsv" {
			t.Errorf("key %q is used and not in the catalogue", m[1])
		}
	}
	for _, key := range keysOf(wordsText) {
		group, _, _ := strings.Cut(key, ".")
		if !strings.Contains(string(code), `"`+key+`"`) && !strings.Contains(string(code), `"`+group+`."`) {
			t.Errorf("key %q is used nowhere", key)
		}
	}
}

// All sentences in all their cases are whole.
func TestWords(t *testing.T) {
	tally := func(plants, per, k int, faces ...garden.Face) garden.Tally {
		var tl garden.Tally
		for p := range plants {
			for _, f := range faces {
				n := 0
				if p < k {
					n = 1
				}
				tl.Counts = append(tl.Counts, garden.Count{Plant: p + 1, Age: garden.Old, Face: f, Inspected: per, Infected: n})
			}
		}
		return tl
	}
	day := garden.DayOf(time.Date(2001, 7, 1, 0, 0, 0, 0, time.UTC))
	pace := func(a, b float64) Growth {
		g, err := Pace([]Seen{{day, a, 0.2}, {day + 7, b, 0.2}})
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
	rate := func(f float64) Rating {
		truth := []float64{0.01, 0.02, 0.05, 0.1, 0.2, 0.4}
		var read []float64
		for _, x := range truth {
			read = append(read, x*f)
		}
		r, err := Rate(truth, read)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	for _, c := range []struct {
		name  string
		words []string
		want  string
	}{
		{"clean", Assess(tally(10, 5, 0, garden.Upper, garden.Lower), 0.08).Words(true), "not reached: none of 50"},
		{"one found", Assess(tally(10, 5, 1, garden.Upper, garden.Lower), -1).Words(true), "threshold is reached"},
		{"one of many", Assess(tally(40, 5, 1, garden.Upper, garden.Lower), -1).Words(true), "less than 1 in 50"},
		{"few", Assess(tally(2, 5, 0, garden.Upper, garden.Lower), -1).Words(true), "40 more old leaves"},
		{"one side", Assess(tally(10, 5, 0, garden.Upper), -1).Words(true), "Lower side: not looked at"},
		{"without rule", Assess(tally(10, 5, 3, garden.Upper, garden.Lower), -1).Words(false), "3 of 10 plants"},
		{"walk", PlanWalk(Walk{Minutes: 3}).Words(0), "cut to the time"},
		{"small bed", PlanWalk(Walk{Plants: 2, Leaves: 20}).Words(0.05), "every plant"},
		{"estimate", []string{WordsOfCV(0.25)}, "25 %"},
		{"stop", UsualStop().Words(0.02, 0.1), "True share 10 %"},
		{"grows", []string{pace(0.02, 0.1).Words()}, "doubles in about 2.9 days"},
		{"may not grow", []string{pace(0.02, 0.022).Words()}, "may also not be growing"},
		{"shrinks", []string{pace(0.1, 0.05).Words()}, "not growing"},
		{"reads high", rate(1.8).Words(), "1.8 times too large"},
		{"reads low", rate(0.5).Words(), "too small, 50 %"},
		{"reads right", rate(1).Words(), "as they are"},
	} {
		all := strings.Join(c.words, " ")
		if !strings.Contains(all, c.want) || strings.ContainsAny(all, "{}") || strings.Contains(all, "NaN") {
			t.Errorf("%s: %q lacks %q or is not whole", c.name, all, c.want)
		}
	}
}
