package diagnosis

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// hosts are the kinds of plant whose ways through the key differ.
var hosts = []Host{
	{},
	{"courgette", "cucurbit"},
	{"grape", "grape"},
	{"rose", "rose"},
	{"tomato", "solanum"},
	{"onion", "allium"},
	{"artichoke", "daisy"},
	{"zinnia", "daisy"},
	{"pea", "legume"},
}

// ways calls f at the end of every way through the key.
func ways(t *testing.T, h Host, f func(Result, map[string]string)) {
	t.Helper()
	var walk func(map[string]string)
	walk = func(answers map[string]string) {
		r, err := Follow(h, answers)
		if err != nil {
			t.Fatalf("%v: %v", answers, err)
		}
		if len(r.Path) > 12 {
			t.Fatalf("%v: no end", answers)
		}
		if r.Ask == nil {
			f(r, answers)
			return
		}
		for _, a := range r.Ask.Answers {
			next := maps.Clone(answers)
			next[r.Ask.ID] = a.ID
			walk(next)
		}
	}
	walk(map[string]string{})
}

// Every way through the key ends, within few questions, in an outcome that says
// what to look at next; treatment is opened by powdery mildew that is sure or
// likely and by nothing else; every outcome and every answer can be reached.
func TestEveryWayEnds(t *testing.T) {
	k := theKey()
	if k.err != nil {
		t.Fatal(k.err)
	}
	reached, said := make(map[string]bool), make(map[string]bool)
	n := 0
	for _, h := range hosts {
		ways(t, h, func(r Result, answers map[string]string) {
			n++
			o := r.Outcome
			reached[o.ID+strings.Join(o.hosts, " ")] = true
			for _, s := range r.Path {
				said[s.Question+"="+s.Answer] = true
			}
			if o.Name == "" || o.Text == "" || o.Next == "" || o.Photo == "" {
				t.Fatalf("%v ends in %q without words", answers, o.ID)
			}
			if want := o.Verdict == "powdery mildew" && o.Sure != "cannot tell"; o.Opens() != want {
				t.Errorf("%v: %s, %s opens treatment: %v", answers, o.Verdict, o.Sure, o.Opens())
			}
			if (o.Verdict == "cannot tell") != (o.Sure == "cannot tell") {
				t.Errorf("%v: %s is %s", answers, o.Verdict, o.Sure)
			}
			if r.Found.Organ == "" {
				t.Errorf("%v: no part of the plant recorded", answers)
			}
		})
	}
	if n < 500 {
		t.Errorf("%d ways, too few to be all", n)
	}
	for _, o := range k.outcomes {
		if !reached[o.ID+strings.Join(o.hosts, " ")] {
			t.Errorf("no way leads to %q for %v", o.ID, o.hosts)
		}
	}
	for _, q := range k.questions {
		for _, a := range q.Answers {
			if !said[q.ID+"="+a.ID] {
				t.Errorf("the answer %q to %q is never offered", a.ID, q.ID)
			}
		}
	}
}

// Residue on the leaf, or nothing waited for, never leads to sure without a lens.
func TestResidueAndHaste(t *testing.T) {
	for _, h := range hosts {
		ways(t, h, func(r Result, answers map[string]string) {
			lens := r.Found.Check != ""
			if !lens && r.Outcome.Opens() && answers["residue"] == "yes" {
				t.Errorf("%v: residue was put on, and %s is %s", answers, r.Outcome.Name, r.Outcome.Sure)
			}
			if !lens && answers["grown"] == "waiting" && r.Outcome.Sure == "sure" && r.Outcome.Verdict == "powdery mildew" {
				t.Errorf("%v: three days were not waited, and it is sure", answers)
			}
		})
	}
}

// Cases as they are described in print, answered from the description alone.
func TestPrintedCases(t *testing.T) {
	type answers = map[string]string
	for _, c := range []struct {
		name, source  string
		host          Host
		answers       answers
		outcome, sure string
	}{
		{
			"squash leaf silvery between the veins from the first day, smooth, both halves alike", "uf-silver-leaf",
			Host{"courgette", "cucurbit"},
			answers{"part": "leaf", "seen": "silver", "fixed": "yes"},
			"variegation", "sure",
		},
		{
			"the same pattern, seen once", "uf-silver-leaf",
			Host{"courgette", "cucurbit"},
			answers{"part": "leaf", "seen": "silver", "fixed": "waiting"},
			"variegation", "likely",
		},
		{
			"silver from the veins outward, whitefly nymphs underneath", "uf-silver-leaf",
			Host{"pumpkin", "cucurbit"},
			answers{"part": "leaf", "seen": "silver", "fixed": "spreading", "nymphs": "yes"},
			"silverleaf", "likely",
		},
		{
			"angular yellow spots stopped by veins, grey-purple fuzz underneath after dew", "osu-downy",
			Host{"cucumber", "cucurbit"},
			answers{"part": "leaf", "seen": "spots", "below": "fuzz"},
			"downy", "likely",
		},
		{
			"the same after a night in the damp bag: branched trees", "cornell-lookalikes",
			Host{"watermelon", "cucurbit"},
			answers{"part": "leaf", "seen": "spots", "below": "unsure", "bag": "trees"},
			"downy-lens", "sure",
		},
		{
			"yellow spots on top, white exactly below, top side was sprayed", "cornell-lookalikes",
			Host{"pumpkin", "cucurbit"},
			answers{"part": "leaf", "seen": "spots", "below": "white"},
			"hidden", "likely",
		},
		{
			"dark spores on old patches, no spot on the upper side", "cornell-lookalikes",
			Host{"pumpkin", "cucurbit"},
			answers{"part": "leaf", "seen": "dark"},
			"saprophytes", "likely",
		},
		{
			"pepper, yellow patches, sparse white below only", "inrae-taurica",
			Host{"pepper", "solanum"},
			answers{"part": "leaf", "seen": "spots", "below": "white"},
			"leveillula", "likely",
		},
		{
			"white patches on cucumber, soft, back after three days, both sides", "cornell-lookalikes",
			Host{"cucumber", "cucurbit"},
			answers{"part": "leaf", "seen": "white", "rub": "soft", "round": "yes", "grown": "yes", "habit": "both", "lens": "nothing"},
			"powdery", "sure",
		},
		{
			"vine leaf, blister with felt below", "common practice, no source",
			Host{"grape", "grape"},
			answers{"part": "leaf", "seen": "spots", "below": "felt"},
			"erineum", "likely",
		},
		{
			"pins with black heads on wilted squash flowers", "common practice, no source",
			Host{"courgette", "cucurbit"},
			answers{"part": "flower", "pins": "pins"},
			"blossom-rot", "likely",
		},
		{
			"milky leaves that do not wash off, drop rings of one day", "common practice, no source",
			Host{"courgette", "cucurbit"},
			answers{"part": "leaf", "seen": "white", "rub": "no", "crystals": "yes"},
			"crust", "likely",
		},
		{
			"milky leaves three days after a bicarbonate spray", "common practice, no source",
			Host{"courgette", "cucurbit"},
			answers{"part": "leaf", "seen": "white", "rub": "soft", "round": "film", "grown": "waiting", "residue": "yes", "bag": "waiting"},
			"undecided", "cannot tell",
		},
	} {
		r, err := Follow(c.host, c.answers)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if r.Outcome == nil {
			t.Errorf("%s (%s): still asks %q", c.name, c.source, r.Ask.Text)
			continue
		}
		if r.Outcome.ID != c.outcome || r.Outcome.Sure != c.sure {
			t.Errorf("%s (%s): %s, %s; want %s, %s", c.name, c.source, r.Outcome.ID, r.Outcome.Sure, c.outcome, c.sure)
		}
	}
}

func TestAsksNext(t *testing.T) {
	r, err := Follow(Host{"rose", "rose"}, map[string]string{"part": "leaf", "lens": "chains"})
	if err != nil || r.Ask == nil || r.Ask.ID != "seen" {
		t.Fatalf("%+v, %v", r, err)
	}
	if !slices.Contains(r.Ask.ids(), "crimped") {
		t.Error("a rose is not asked for crimped leaves")
	}
	_, err = Follow(Host{}, map[string]string{"part": "leaf", "seen": "crimped"})
	if err == nil || !strings.Contains(err.Error(), "the answers are white, silver, spots") {
		t.Errorf("an answer for roses on another plant: %v", err)
	}
}

func TestFields(t *testing.T) {
	yes, no := true, false
	r, err := Follow(Host{"pumpkin", "cucurbit"}, map[string]string{
		"part": "leaf", "seen": "white", "rub": "soft", "round": "yes", "grown": "waiting", "residue": "no", "habit": "lower", "lens": "chains",
	})
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(Found{Organ: "leaf", Face: "lower", Check: "lens", RubsOff: &yes, Residue: &no}, r.Found); d != "" {
		t.Error(d)
	}
	if r.Outcome.Sure != "sure" {
		t.Errorf("chains under the lens are %s", r.Outcome.Sure)
	}
	if want := "part=leaf seen=white rub=soft round=yes grown=waiting residue=no habit=lower lens=chains"; r.Way() != want {
		t.Errorf("way %q", r.Way())
	}
}

func TestDamagedTables(t *testing.T) {
	q := "id,text,help\na,A?,\n"
	o := "id,hosts,verdict,sure,firm,name,text,next,photo,source,grade\nend,,downy mildew,likely,,n,t,x,p,assumption,C\n"
	a := "question,answer,text,to,hosts,sets,cap\na,yes,y,end,,,\na,no,n,end,,,\n"
	if _, err := read(strings.NewReader(q), strings.NewReader(a), strings.NewReader(o)); err != nil {
		t.Fatal(err)
	}
	for name, bad := range map[string][3]string{
		"leads nowhere":     {q, strings.Replace(a, "n,end", "n,nowhere", 1), o},
		"unknown question":  {q, a + "b,yes,y,end,,,\n", o},
		"one answer":        {q, "question,answer,text,to,hosts,sets,cap\na,yes,y,end,,,\n", o},
		"settles nothing":   {q, strings.Replace(a, "n,end,,,", "n,end,,organ,", 1), o},
		"unknown source":    {q, a, strings.Replace(o, "assumption", "nobody", 1)},
		"unknown verdict":   {q, a, strings.Replace(o, "downy mildew", "rust", 1)},
		"cannot tell, sure": {q, a, strings.Replace(o, "downy mildew,likely", "cannot tell,sure", 1)},
		"column missing":    {"id,text\na,A?\n", a, o},
	} {
		if _, err := read(strings.NewReader(bad[0]), strings.NewReader(bad[1]), strings.NewReader(bad[2])); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
