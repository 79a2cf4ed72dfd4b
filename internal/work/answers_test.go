package work_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/internal/work"
	"oidium/scout/diagram"
)

// small keeps the ensembles small where no number depends on them.
func small(t testing.TB, date string) work.Options {
	return work.Options{Day: day(t, date), Members: 10}
}

// answer is one question asked of the garden of the example.
type answer struct {
	schema string
	ask    func([]ledger.Entry, work.Options) (any, error)
}

func answers() map[string]answer {
	ctx := context.Background()
	return map[string]answer{
		"walk": {"walk", func(e []ledger.Entry, o work.Options) (any, error) {
			return work.Walking(ctx, e, o, work.WalkAsk{Counted: []int{0, 1}, Minutes: 40})
		}},
		"seen": {"seen", func(e []ledger.Entry, o work.Options) (any, error) { return work.Seeing(e, o, "tunnel") }},
		"key": {"key", func(e []ledger.Entry, o work.Options) (any, error) {
			return work.Telling(e, o, work.KeyAskedFor{Bed: "rose", Answers: map[string]string{"part": "leaf", "seen": "unsure", "bag": "waiting"}})
		}},
		"key, asking": {"key", func(e []ledger.Entry, o work.Options) (any, error) {
			return work.Telling(e, o, work.KeyAskedFor{Crop: "pumpkin"})
		}},
		"materials": {"materials", func(e []ledger.Entry, o work.Options) (any, error) {
			return work.Listing(ctx, e, o, work.MaterialsAsk{Bed: "tunnel", RainMM: 5, RainRate: 2})
		}},
		"rules": {"rules", func(e []ledger.Entry, o work.Options) (any, error) {
			return work.Judging(ctx, e, o, "courgette", "khco3", work.Facts{})
		}},
		"mix": {"mix", func(e []ledger.Entry, o work.Options) (any, error) {
			return work.Mixing(ctx, e, o, work.MixAsk{Bed: "tunnel", Material: "sulfur_wg"})
		}},
		"mix, closed": {"mix", func(e []ledger.Entry, o work.Options) (any, error) {
			return work.Mixing(ctx, e, o, work.MixAsk{Bed: "tunnel", Material: "sulfur_vapor"})
		}},
		"hours": {"hours", func(e []ledger.Entry, o work.Options) (any, error) {
			return work.Timing(ctx, e, o, "tunnel", "sulfur_wg", work.Facts{})
		}},
		"clock": {"clock", func(e []ledger.Entry, o work.Options) (any, error) {
			return work.Clocking(e, work.ClockAsk{Day: o.Day})
		}},
		"leaves": {"leaves", func(e []ledger.Entry, o work.Options) (any, error) {
			return work.Sparing(ctx, e, o, "tunnel", work.Facts{})
		}},
		"actions": {"actions", func(e []ledger.Entry, o work.Options) (any, error) {
			return work.Acting(ctx, e, o, "tunnel", "", work.Facts{Interlock: true})
		}},
		"drawn":         {"drawn", func([]ledger.Entry, work.Options) (any, error) { return work.Drawing("rose", 0.1, 1, true) }},
		"drawn, secret": {"drawn", func([]ledger.Entry, work.Options) (any, error) { return work.Training("grape", 1, false) }},
		"practice": {"practice", func([]ledger.Entry, work.Options) (any, error) {
			return work.Practising("cucurbit", 1, "", readings(1.5), "Ann")
		}},
		"measured": {"measured", func([]ledger.Entry, work.Options) (any, error) { return work.Parting("1:10", "", "") }},
	}
}

// readings are those of somebody who reads every leaf of the set so many times too
// large.
func readings(times float64) []float64 {
	leaves, err := diagram.Training("cucurbit", 1, false)
	if err != nil {
		return nil // then there are too few readings, which is an error
	}
	out := make([]float64, len(leaves))
	for i, l := range leaves {
		out[i] = math.Min(100, 100*l.Share*times)
	}
	return out
}

func asJSON(t testing.TB, v any) []byte {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Every answer obeys its published schema, on a morning in the season and on one
// on which nothing stands yet where a bed is not asked for.
func TestAnswersObeyTheirSchemas(t *testing.T) {
	e := entries(t)
	for name, a := range answers() {
		t.Run(name, func(t *testing.T) {
			v, err := a.ask(e, small(t, "2000-07-12"))
			if err != nil {
				t.Fatal(err)
			}
			obeys(t, a.schema, asJSON(t, v))
		})
	}
	for _, name := range []string{"walk", "clock"} {
		v, err := answers()[name].ask(e, small(t, "2000-02-10"))
		if err != nil {
			t.Fatal(err)
		}
		obeys(t, name, asJSON(t, v))
	}
}

func obeys(t *testing.T, schema string, doc []byte) {
	t.Helper()
	raw, err := work.Schema(schema)
	if err != nil {
		t.Fatal(err)
	}
	s, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("s.json", s); err != nil {
		t.Fatal(err)
	}
	compiled, err := c.Compile("s.json")
	if err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(doc))
	if err != nil {
		t.Fatal(err)
	}
	if err := compiled.Validate(v); err != nil {
		t.Errorf("%v\n%.600s", err, doc)
	}
}

// Nothing later than the morning influences an answer: without the later entries
// the bytes are the same.
func TestNothingLaterCountsInAnswers(t *testing.T) {
	all := entries(t)
	loc, err := time.LoadLocation("Europe/Amsterdam")
	if err != nil {
		t.Fatal(err)
	}
	asOf := day(t, "2000-07-12").At(6, loc)
	var known []ledger.Entry
	for _, e := range all {
		if !e.Time.After(asOf) && !e.Written.After(asOf) {
			known = append(known, e)
		}
	}
	for name, a := range answers() {
		if a.schema == "drawn" || a.schema == "practice" || a.schema == "measured" {
			continue // no garden in them
		}
		whole, err := a.ask(all, small(t, "2000-07-12"))
		if err != nil {
			t.Fatal(name, err)
		}
		cut, err := a.ask(known, small(t, "2000-07-12"))
		if err != nil {
			t.Fatal(name, err)
		}
		if d := cmp.Diff(string(asJSON(t, whole)), string(asJSON(t, cut))); d != "" {
			t.Errorf("%s: later entries count\n%.500s", name, d)
		}
	}
}

// add appends entries to those of the example; the lines leave out what is alike.
func add(t *testing.T, lines ...string) []ledger.Entry {
	t.Helper()
	all := entries(t)
	for i, l := range lines {
		l = fmt.Sprintf(`{"id":"00e0dc6c-%04x-7000-8000-000000000001","v":1,%s}`, i+1, l)
		e, err := ledger.ParseLine([]byte(l), work.Vocabulary())
		if err != nil {
			t.Fatalf("%s: %v", l, err)
		}
		all = append(all, e)
	}
	return all
}

const at11 = `"time":"2000-07-11T20:00:00+02:00","written":"2000-07-11T20:01:00+02:00",`

func judge(t *testing.T, e []ledger.Entry, bed garden.BedID, material string, f work.Facts) *work.Rules {
	t.Helper()
	r, err := work.Judging(context.Background(), e, small(t, "2000-07-12"), bed, material, f)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Of the verdicts on a material there is each: allowed, a test leaf first, an
// answer first, refused; a bed that is cleared needs nothing, and what cannot be
// told opens nothing.
func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		name     string
		entries  []ledger.Entry
		bed      garden.BedID
		material string
		facts    work.Facts
		verdict  string
		reason   string
	}{
		{"tried, labelled, told", entries(t), "tunnel", "sulfur_wg", work.Facts{}, "allowed", "No rule stands in the way"},
		{
			"never used on this cultivar", add(t, `"kind":"diagnosis","bed":"courgette",`+at11+`"body":{"verdict":"powdery mildew","sure":"sure"}`),
			"courgette", "sulfur_wg",
			work.Facts{},
			"test-leaf", "test leaf comes first",
		},
		{"half a label", entries(t), "tunnel", "khco3", work.Facts{}, "ask", ""},
		{"nobody has looked at spots", entries(t), "pumpkin", "sulfur_wg", work.Facts{}, "ask", "Nobody has said yet"},
		{
			"cannot tell", add(t, `"kind":"diagnosis","bed":"tunnel",`+at11+`"body":{"verdict":"cannot tell","sure":"cannot tell"}`),
			"tunnel", "sulfur_wg",
			work.Facts{},
			"refused", "Nobody can tell yet",
		},
		{"heated sulfur", entries(t), "tunnel", "sulfur_vapor", work.Facts{}, "refused", "never planned"},
		{"an adviser's home-made mix", entries(t), "tunnel", "nahco3_soap", work.Facts{Role: garden.Adviser}, "refused", "no home-made mix"},
	} {
		r := judge(t, c.entries, c.bed, c.material, c.facts)
		if r.Verdict != c.verdict || !strings.Contains(r.Reason, c.reason) {
			t.Errorf("%s: %s (%s), want %s (%s)", c.name, r.Verdict, r.Reason, c.verdict, c.reason)
		}
		if len(r.Checks) < 25 || len(r.Cautions) == 0 {
			t.Errorf("%s: %d rules looked at, %d cautions", c.name, len(r.Checks), len(r.Cautions))
		}
		for _, k := range r.Checks {
			if k.Reason == "" || k.Source == "" || k.Grade == "" {
				t.Errorf("%s: rule %s without reason, source or grade", c.name, k.Rule)
			}
		}
	}
}

// While it cannot be told what the spots are, and while law or role keep a
// material from whoever asks, no amount is given.
func TestNothingIsWeighedOut(t *testing.T) {
	unsure := add(t, `"kind":"diagnosis","bed":"tunnel",`+at11+`"body":{"verdict":"cannot tell","sure":"cannot tell"}`)
	for _, c := range []struct {
		name     string
		entries  []ledger.Entry
		material string
		facts    work.Facts
	}{
		{"cannot tell", unsure, "sulfur_wg", work.Facts{}},
		{"adviser, home-made", entries(t), "khco3_oil", work.Facts{Role: garden.Adviser, Country: "US"}},
		{"hired hand, home-made", entries(t), "milk_10", work.Facts{Role: garden.HiredHand}},
		{"place without a profile", entries(t), "milk_10", work.Facts{Country: "NZ", Role: garden.Grower}},
		{"heated sulfur", entries(t), "sulfur_vapor", work.Facts{}},
	} {
		m, err := work.Mixing(context.Background(), c.entries, small(t, "2000-07-12"), work.MixAsk{Bed: "tunnel", Material: c.material, Facts: c.facts})
		if err != nil {
			t.Fatal(err)
		}
		if !m.Closed || m.Litres != 0 || m.Amount != 0 || len(m.Steps)+len(m.Loads)+len(m.Lasts) > 0 || len(m.Blocks) == 0 || len(m.Cautions) == 0 {
			t.Errorf("%s: %+v", c.name, m)
		}
	}
	m, err := work.Mixing(context.Background(), entries(t), small(t, "2000-07-12"), work.MixAsk{Bed: "tunnel", Material: "sulfur_wg"})
	if err != nil {
		t.Fatal(err)
	}
	// The leaf holds 66 mL on a square metre before it runs off (cucumber leaf 6.6
	// µL/cm2, doi 10.3389/fpls.2023.1175939); 3 g/L by the label of the example.
	if m.Closed || math.Abs(m.Amount/m.Litres-3) > 0.02 || len(m.Steps) < 4 {
		t.Errorf("%+v", m)
	}
}

// A diagnosis counts where it is later than the tally, and a disease that was
// named keeps water off the leaves.
func TestDiagnosisCounts(t *testing.T) {
	outcome := func(r *work.Rules, rule string) string {
		i := slices.IndexFunc(r.Checks, func(k work.Check) bool { return k.Rule == rule })
		return r.Checks[i].Outcome
	}
	downy := add(t, `"kind":"diagnosis","bed":"tunnel",`+at11+`"body":{"verdict":"downy mildew","sure":"likely"}`)
	r := judge(t, downy, "tunnel", "sulfur_wg", work.Facts{})
	if got := outcome(r, "diagnosis"); got != "ok" {
		t.Errorf("a second disease makes the first %s", got)
	}
	if got := outcome(r, "other-disease"); got != "caution" {
		t.Errorf("downy mildew about: %s", got)
	}
	acts, err := work.Acting(context.Background(), downy, small(t, "2000-07-12"), "tunnel", "mist_pulse", work.Facts{})
	if err != nil {
		t.Fatal(err)
	}
	if a := acts.Acts[0]; a.Verdict != "refused" || !strings.Contains(a.Reason, "downy mildew") {
		t.Errorf("misting while downy mildew is about: %s, %s", a.Verdict, a.Reason)
	}
	// An older doubt does not stand against a later look that was sure.
	early := strings.ReplaceAll(at11, "2000-07-11", "2000-06-20")
	r = judge(t, add(t, `"kind":"diagnosis","bed":"tunnel",`+early+`"body":{"verdict":"cannot tell","sure":"cannot tell"}`), "tunnel", "sulfur_wg", work.Facts{})
	if got := outcome(r, "diagnosis"); got != "ok" {
		t.Errorf("a doubt of June in July: %s", got)
	}
}

// How somebody reads leaves of known cover turns their readings, and theirs only,
// into what they stand for.
func TestOwnEye(t *testing.T) {
	p, err := work.Practising("cucurbit", 1, "", readings(2), "grower")
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(p.Times-2) > 0.1 || p.Over <= 0 {
		t.Errorf("small patches read %.2f times too large, bias %.3f; want 2, above 0", p.Times, p.Over)
	}
	if m := p.Means[1]; m.Read != 0.05 || m.Band.Mid < 0.02 || m.Band.Mid > 0.032 || m.Band.Low >= m.Band.Mid || m.Band.High <= m.Band.Mid {
		t.Errorf("5 %% stands for %+v, want about 2.5 %%", m)
	}
	body := string(asJSON(t, p.Entry))
	eye := `"time":"2000-05-01T20:00:00+02:00","written":"2000-05-01T20:01:00+02:00",`
	for who, want := range map[string]bool{"grower": true, "somebody else": false} {
		s, err := work.Seeing(add(t, `"kind":"eye-check","who":"`+who+`",`+eye+`"body":`+body), small(t, "2000-07-12"), "rose")
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Readings) < 4 {
			t.Fatalf("%d readings", len(s.Readings))
		}
		for _, r := range s.Readings {
			if (r.Corrected != nil) != want {
				t.Errorf("the eye of %s corrects a reading of %s: %v", who, r.Who, r.Corrected != nil)
			}
			if r.Corrected != nil && r.Corrected.Mid >= r.Share {
				t.Errorf("%g read twice too large stands for %g", r.Share, r.Corrected.Mid)
			}
		}
	}
}

// What the looks of the example say, against the closed forms.
func TestSeen(t *testing.T) {
	s, err := work.Seeing(entries(t), small(t, "2000-07-12"), "tunnel")
	if err != nil {
		t.Fatal(err)
	}
	last := s.Looks[len(s.Looks)-1]
	// Clopper-Pearson of 9 in 80, R 4.2.2 binom.test: 0.0527947 to 0.2027624.
	if u := last.Upper; u.Infected != 9 || u.Inspected != 80 || math.Abs(u.ExactLow-0.0528) > 1e-3 || math.Abs(u.ExactHigh-0.203) > 1e-3 {
		t.Errorf("upper %+v", u)
	}
	if r := last.Threshold; !r.Reached || r.Leaves != 50 || r.Short != 0 {
		t.Errorf("threshold %+v", r)
	}
	first := s.Looks[0]
	if r := first.Threshold; r.Reached || r.Short != 50-r.Leaves {
		t.Errorf("a look at %d old leaves: %+v", r.Leaves, r)
	}
	if len(s.Paces) < 3 || s.Paces[0].Doubling <= 0 || s.Paces[0].Soonest >= s.Paces[0].Doubling {
		t.Errorf("paces %+v", s.Paces)
	}
	if s.Severity == nil || s.Severity.Allowed || !strings.Contains(s.Severity.Reason, "six looks") {
		t.Errorf("severity from incidence %+v", s.Severity)
	}
	var clamped int
	for _, c := range s.Curves {
		clamped = max(clamped, c.Clamped)
	}
	if clamped != 3 { // the looks of 30 May, 8 and 16 June found none
		t.Errorf("%d looks moved inside, want 3", clamped)
	}
	// Area by hand from the counts of the upper face: none until 16 June, then 1 of
	// 70 on the 24th, 2 of 70 on the 29th, 5 of 80 on 4 July, 9 of 80 on the 11th.
	a, b, c, d := 1.0/70, 2.0/70, 5.0/80, 9.0/80
	want := a/2*8 + (a+b)/2*5 + (b+c)/2*5 + (c+d)/2*7
	if got := s.Progress[0]; got.Of != "incidence upper" || math.Abs(got.Area-want) > 0.005 {
		t.Errorf("area %+v, want %.4f", got, want)
	}
	// Nobody has looked: said, with what to do.
	s, err = work.Seeing(entries(t), small(t, "2000-06-01"), "pumpkin")
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Looks) != 0 || !strings.Contains(s.Words[0], "Nobody has looked") || !strings.Contains(s.NextRound, "oidium walk pumpkin") {
		t.Errorf("%v, %s", s.Words, s.NextRound)
	}
}

// Severity follows from incidence only within what was met, and only where six
// looks of the crop and shelter gave both.
func TestSeverityFromIncidence(t *testing.T) {
	var lines []string
	for i, k := range []int{2, 5, 9, 14, 20, 26} { // of 50 leaves
		when := fmt.Sprintf(`"time":"2000-07-0%dT08:00:00+02:00","written":"2000-07-0%dT08:01:00+02:00",`, i+1, i+1)
		lines = append(lines,
			fmt.Sprintf(`"kind":"tally","bed":"pumpkin",%s"body":{"sure":"sure","counts":[{"plant":1,"age":"old","face":"upper","inspected":50,"infected":%d}]}`, when, k),
			fmt.Sprintf(`"kind":"severity","bed":"pumpkin",%s"body":{"age":"old","face":"upper","share":%.4f}`, when, 0.002*float64(k)))
	}
	s, err := work.Seeing(add(t, lines...), small(t, "2000-07-07"), "pumpkin")
	if err != nil {
		t.Fatal(err)
	}
	f := s.Severity
	if !f.Allowed || f.Pairs != 6 || math.Abs(f.Severity.Mid-0.052) > 0.015 || f.Severity.Low >= f.Severity.Mid || f.Severity.High <= f.Severity.Mid {
		t.Errorf("%+v %+v", f, f.Severity)
	}
	// Above 65 % severity runs away from incidence (James & Shih 1973).
	lines = append(lines, `"kind":"tally","bed":"pumpkin","time":"2000-07-08T08:00:00+02:00","written":"2000-07-08T08:01:00+02:00","body":{"sure":"sure","counts":[{"plant":1,"age":"old","face":"upper","inspected":50,"infected":40}]}`)
	if s, err = work.Seeing(add(t, lines...), small(t, "2000-07-09"), "pumpkin"); err != nil {
		t.Fatal(err)
	}
	if s.Severity.Allowed || !strings.Contains(s.Severity.Reason, "65 %") {
		t.Errorf("80 %% of the leaves: %+v", s.Severity)
	}
}

// A walk goes from clean to worst, looks at both faces, and says what it buys.
func TestWalk(t *testing.T) {
	ask := func(a work.WalkAsk) *work.Walk {
		w, err := work.Walking(context.Background(), entries(t), small(t, "2000-07-12"), a)
		if err != nil {
			t.Fatal(err)
		}
		return w
	}
	w := ask(work.WalkAsk{})
	if len(w.Beds) != 4 {
		t.Fatalf("%d beds", len(w.Beds))
	}
	purpose := map[garden.BedID]string{"pumpkin": "find", "courgette": "find", "tunnel": "estimate", "rose": "estimate"}
	for i, b := range w.Beds {
		if b.Purpose != purpose[b.Bed] {
			t.Errorf("%s: to %s, want to %s", b.Bed, b.Purpose, purpose[b.Bed])
		}
		if d := cmp.Diff([]string{"upper", "lower"}, b.Faces); d != "" {
			t.Error(d)
		}
		if i > 0 && purpose[w.Beds[i-1].Bed] == "estimate" && b.Purpose == "find" {
			t.Errorf("a clean bed (%s) after a mildewed one", b.Bed)
		}
		if b.Purpose == "find" && (b.Leaves != 50 || b.AtMost < 0.0582 || b.AtMost > 0.12) {
			// 0 of 50 independent leaves means at most 5.82 % (1-0.05^(1/50)); clumping and
			// an eye that misses some make it more.
			t.Errorf("%s: %d leaves, none means at most %.3f", b.Bed, b.Leaves, b.AtMost)
		}
	}
	sure := ask(work.WalkAsk{Confidence: 0.95, Purpose: "find"})
	short := ask(work.WalkAsk{Confidence: 0.95, Purpose: "find", Minutes: 20})
	if sure.Minutes <= 20 || short.Minutes > 20 || len(short.Warnings) == 0 {
		t.Errorf("%g minutes, cut to %g", sure.Minutes, short.Minutes)
	}
	for i, b := range sure.Beds {
		if b.Chance < 0.95 && b.Limit != "bed" {
			t.Errorf("%s: chance %.3f", b.Bed, b.Chance)
		}
		if s := short.Beds[i]; s.AtMost < b.AtMost || s.Limit != "time" {
			t.Errorf("%s: a shorter walk promises more: %.3f, %.3f, %q", b.Bed, s.AtMost, b.AtMost, s.Limit)
		}
	}
	// The printed errors of the stop rule are chances, and the rule tells clean from
	// bad.
	for _, e := range w.Stop.Ends {
		if math.Abs(e.Clean+e.Bad+e.Undecided-1) > 0.01 {
			t.Errorf("%+v", e)
		}
	}
	if e := w.Stop.Ends; e[1].Bad > 0.1 || e[3].Clean > 0.1 {
		t.Errorf("at %g %% bad in %g, at %g %% clean in %g", 100*e[1].Share, e[1].Bad, 100*e[3].Share, e[3].Clean)
	}
	// Seven clean plants of five leaves end the walk at rho 0.1 (check S3 of the
	// method of Madden & Hughes 1999); the usual rho is a little less.
	for counts, want := range map[string]string{"0": "walk on", "0000000": "clean", "3": "bad", "02": "walk on", "000010001000100": "undecided"} {
		var c []int
		for _, r := range counts {
			c = append(c, int(r-'0'))
		}
		if got := ask(work.WalkAsk{Counted: c}).Stop.Outcome; string(got) != want {
			t.Errorf("after %s: %s, want %s", counts, got, want)
		}
	}
	if _, err := work.Walking(context.Background(), entries(t), small(t, "2000-07-12"), work.WalkAsk{Counted: []int{6}}); err == nil {
		t.Error("six mildewed leaves of five")
	}
	// On the day after a spray nobody goes in.
	wet := ask(work.WalkAsk{Beds: []garden.BedID{"rose"}})
	if wet.Beds[0].Closed != "" {
		t.Errorf("six days after the spray: %s", wet.Beds[0].Closed)
	}
	x, err := work.Walking(context.Background(), entries(t), small(t, "2000-07-07"), work.WalkAsk{Beds: []garden.BedID{"rose"}})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(x.Beds[0].Closed, "2000-07-07 20:22") {
		t.Errorf("the morning after the spray: %q", x.Beds[0].Closed)
	}
}

// The clocks run from the recorded end, to the minute, over the change of clocks
// in spring, and an unknown label value blocks.
func TestClock(t *testing.T) {
	line := func(kind, bed, when, body string) string {
		if bed != "" {
			bed = `"bed":"` + bed + `",`
		}
		return fmt.Sprintf(`"kind":%q,%s"time":%q,"written":%q,"body":%s`, kind, bed, when, when, body)
	}
	base := []string{
		line("planting", "tunnel", "2000-03-01T08:00:00+01:00", `{"planting":"lettuce-2000","crop":"lettuce","planted":"2000-03-01","cleared":"2000-05-01"}`),
		line("label", "", "2000-03-02T08:00:00+01:00", `{"material":"khco3","crop":"lettuce","harvest_days":7,"reentry_hours":24}`),
	}
	ask := func(at string, lines ...string) work.BedClock {
		t.Helper()
		c, err := work.Clocking(add(t, append(slices.Clone(base), lines...)...), work.ClockAsk{Bed: "tunnel", Day: day(t, "2000-03-27"), At: at})
		if err != nil {
			t.Fatal(err)
		}
		return c.Beds[0]
	}
	treated := line("treatment", "tunnel", "2000-03-25T17:50:00+01:00", `{"material":"khco3","end":"2000-03-25T18:30:00+01:00"}`)
	// By hand: clocks go forward on 26 March at 2. 24 h after 18:30 is 19:30 summer
	// time; seven days of 24 hours end on 1 April at 19:30, the later reading.
	b := ask("2000-03-25T20:00", treated)
	if b.Enter != "2000-03-26T19:30:00+02:00" || b.Pick != "2000-04-01T19:30:00+02:00" {
		t.Errorf("enter %s, pick %s", b.Enter, b.Pick)
	}
	if b = ask("2000-03-26T19:31", treated); b.Enter != "now" || b.Pick == "now" {
		t.Errorf("a minute later: enter %s, pick %s", b.Enter, b.Pick)
	}
	// No end recorded: 23:59 of its day.
	b = ask("2000-03-25T20:00", line("treatment", "tunnel", "2000-03-25T17:50:00+01:00", `{"material":"khco3"}`))
	if b.Enter != "2000-03-27T00:59:00+02:00" || b.Counted[0].EndStated {
		t.Errorf("without an end: enter %s", b.Enter)
	}
	// A material without a label: nobody goes in, nothing is picked.
	b = ask("2000-03-27T20:00", treated, line("treatment", "tunnel", "2000-03-26T17:50:00+02:00", `{"material":"oil_mineral","end":"2000-03-26T18:00:00+02:00"}`))
	if b.Enter != "unknown" || b.Pick != "unknown" || !slices.Contains(b.MissingOf, "oil_mineral") {
		t.Errorf("label not read: %+v", b)
	}
	// Before the treatment was entered it does not count; nothing was done, nothing
	// stands in the way.
	if b = ask("2000-03-25T12:00", treated); b.Enter != "now" || b.Pick != "now" || len(b.Counted) != 0 {
		t.Errorf("before: %+v", b)
	}
	if _, err := work.Clocking(entries(t), work.ClockAsk{Bed: "nowhere", Day: day(t, "2000-07-12")}); err == nil || !strings.Contains(err.Error(), "tunnel") {
		t.Errorf("a bed that is not there: %v", err)
	}
}

// The published rows are the limit of leaf removal, practice is shown beside them,
// and taking leaves that carry nothing does not pay.
func TestLeaves(t *testing.T) {
	spare := func(e []ledger.Entry, bed garden.BedID, f work.Facts) *work.Leaves {
		t.Helper()
		l, err := work.Sparing(context.Background(), e, small(t, "2000-07-12"), bed, f)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	l := spare(entries(t), "tunnel", work.Facts{})
	// 25 % over any 21 days (Burkness & Hutchison 1998), 7 % taken on 6 July.
	if math.Abs(l.Left-0.18) > 1e-9 || math.Abs(l.Used-0.07) > 1e-9 || l.Once != 0 {
		t.Errorf("left %g, used %g, once %g", l.Left, l.Used, l.Once)
	}
	// Taken off 7 percent on 6 July, so that another cut is not the only one.
	if l.Verdict != "allowed" || l.Which[0].Age != "old" || slices.ContainsFunc(l.Which, func(r work.LeafRank) bool { return r.Age == "young" }) {
		t.Errorf("%s, %+v", l.Verdict, l.Which)
	}
	if !strings.Contains(l.Dispute, "The trade disagrees") || !strings.Contains(l.Dispute, "dry") || !strings.Contains(l.Dispute, "damp") {
		t.Error(l.Dispute)
	}
	sum := 0.0
	for _, r := range l.Which {
		sum += r.Take * r.OfLeaf
	}
	if sum > l.Left+0.01 {
		t.Errorf("%g of the leaf in the list, %g in the budget", sum, l.Left)
	}
	clean := spare(entries(t), "pumpkin", work.Facts{})
	if clean.Once != 0.33 || !strings.Contains(clean.Pays, "leave them on") {
		t.Errorf("a clean bed: %g once, %s", clean.Once, clean.Pays)
	}
	spent := spare(add(t, `"kind":"removal","bed":"tunnel",`+at11+`"body":{"share":0.2,"ages":["old"]}`), "tunnel", work.Facts{})
	if spent.Verdict != "refused" || spent.Left != 0 || spent.Count != 0 {
		t.Errorf("after 27 %%: %s, %g", spent.Verdict, spent.Left)
	}
	grape := add(
		t,
		`"kind":"bed","bed":"vine","time":"2000-04-02T19:00:00+02:00","written":"2000-04-02T19:00:00+02:00","body":{"length_m":20,"width_m":2,"order":9}`,
		`"kind":"planting","bed":"vine","time":"2000-04-02T19:00:00+02:00","written":"2000-04-02T19:00:00+02:00","body":{"planting":"vine","crop":"grape","planted":"1995-04-01"}`,
	)
	if v := spare(grape, "vine", work.Facts{}); v.Verdict != "ask" || v.Left != 0 {
		t.Errorf("grape without its crop: %s, %g", v.Verdict, v.Left)
	}
	if v := spare(grape, "vine", work.Facts{CropKg: 1000}); v.Verdict != "refused" || v.Left != 0 {
		t.Errorf("grape with a heavy crop: %s, %g", v.Verdict, v.Left)
	}
	if v := spare(grape, "vine", work.Facts{CropKg: 1}); v.Verdict != "allowed" || v.Left != 0.25 {
		t.Errorf("grape with a light crop: %s, %g", v.Verdict, v.Left)
	}
}

// Lamps want an interlock, mist a dry midday; open ground has no tunnel to close;
// what works on a season is no act of today.
func TestActions(t *testing.T) {
	act := func(bed garden.BedID, id string, f work.Facts) work.Act {
		t.Helper()
		a, err := work.Acting(context.Background(), entries(t), small(t, "2000-07-12"), bed, id, f)
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Acts[0].Cautions) == 0 {
			t.Errorf("%s without cautions", id)
		}
		return a.Acts[0]
	}
	for _, c := range []struct {
		bed     garden.BedID
		action  string
		facts   work.Facts
		verdict string
	}{
		{"tunnel", "uvc_night", work.Facts{}, "ask"},
		{"tunnel", "uvc_night", work.Facts{Interlock: true}, "allowed"},
		{"pumpkin", "heat_close", work.Facts{}, "refused"},
		{"pumpkin", "mist_pulse", work.Facts{}, "refused"},
		{"tunnel", "heat_close", work.Facts{Stressed: true}, "refused"},
		{"tunnel", "canopy_open", work.Facts{}, "refused"},
		{"tunnel", "resistant_cv", work.Facts{}, "season"},
	} {
		if a := act(c.bed, c.action, c.facts); a.Verdict != c.verdict {
			t.Errorf("%s in %s with %+v: %s (%s), want %s", c.action, c.bed, c.facts, a.Verdict, a.Reason, c.verdict)
		}
	}
	if a := act("tunnel", "uvc_night", work.Facts{Interlock: true}); a.Stops[0] <= a.Stops[1] || a.Days != 7 {
		t.Errorf("%+v", a) // light does not reach the underside
	}
}

// The hours of a flowering crop are those from sunset to midnight, and why the
// others are closed is said of each.
func TestHours(t *testing.T) {
	h, err := work.Timing(context.Background(), entries(t), small(t, "2000-07-12"), "tunnel", "sulfur_wg", work.Facts{})
	if err != nil {
		t.Fatal(err)
	}
	open := 0
	for i, s := range h.Spans {
		from, err := time.Parse(time.RFC3339, s.From)
		if err != nil {
			t.Fatal(err)
		}
		to, err := time.Parse(time.RFC3339, s.To)
		if err != nil {
			t.Fatal(err)
		}
		if i > 0 && h.Spans[i-1].To != s.From {
			t.Errorf("a hole before %s", s.From)
		}
		if !s.Open {
			if len(s.Why) == 0 {
				t.Errorf("%s closed for no reason", s.From)
			}
			continue
		}
		open++
		// Sunset at De Bilt on 12 July is 21:54 summer time (from memory of an almanac,
		// within a few minutes).
		if from.Hour() < 21 || to.Sub(from) > 3*time.Hour {
			t.Errorf("open from %s to %s while in flower", s.From, s.To)
		}
		// 24 h to re-entry by the label of the example, none to harvest.
		if enter, err := time.Parse(time.RFC3339, s.Enter); err != nil || enter.Sub(to) != 24*time.Hour {
			t.Errorf("in again from %s after %s", s.Enter, s.To)
		}
	}
	if open == 0 {
		t.Error("no hour is open")
	}
	// A label of which half is torn off: the hours are told, and that they alone
	// allow nothing.
	h, err = work.Timing(context.Background(), entries(t), small(t, "2000-07-12"), "tunnel", "khco3", work.Facts{})
	if err != nil {
		t.Fatal(err)
	}
	if h.Verdict == "allowed" || len(h.Blocks) == 0 {
		t.Errorf("%s, %d blocks", h.Verdict, len(h.Blocks))
	}
	for _, s := range h.Spans {
		if s.Open && (s.Enter != "unknown" || s.Pick != "unknown") {
			t.Errorf("without a label: enter %s, pick %s", s.Enter, s.Pick)
		}
	}
}

// The facts below are common practice, no source; what the program says must go
// with them.
func TestFactsOfTheTrade(t *testing.T) {
	e := entries(t)
	ctx := context.Background()
	list, err := work.Listing(ctx, e, small(t, "2000-07-12"), work.MaterialsAsk{})
	if err != nil {
		t.Fatal(err)
	}
	m := make(map[string]work.MaterialRow)
	for _, r := range list.Materials {
		m[r.Material] = r
	}
	// Milk 1 part to 10 parts of water: 9.1 %, told apart from 1 in 10.
	milk, err := work.Parting("1 part to 10 parts", "11 L", "")
	if err != nil {
		t.Fatal(err)
	}
	if milk.Figures[0].Value != 1 || milk.Figures[1].Value != 10 || milk.Asks != "" {
		t.Errorf("milk 1 part to 10 parts: %+v", milk.Figures)
	}
	if r := m["milk_10"]; r.RateLow != 100 {
		t.Errorf("milk in the table: %g %s", r.RateLow, r.RateUnit)
	}
	// Potassium bicarbonate: about 60 % fewer infections.
	if p := m["khco3"].Protects; math.Abs(p.Mean-0.6) > p.SD {
		t.Errorf("potassium bicarbonate stops %.2f ± %.2f", p.Mean, p.SD)
	}
	// Leaves are looked at on both sides.
	w, err := work.Walking(ctx, e, small(t, "2000-07-12"), work.WalkAsk{})
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range w.Beds {
		if len(b.Faces) != 2 {
			t.Errorf("%s: sides %v", b.Bed, b.Faces)
		}
	}
	// Sulfur, milk and potassium bicarbonate: before and during an infection.
	for _, id := range []string{"sulfur_wg", "milk_10", "khco3"} {
		if r := m[id]; r.Protects.Mean <= 0 || r.Cures.Mean <= 0 {
			t.Errorf("%s protects %.2f and cures %.2f", id, r.Protects.Mean, r.Cures.Mean)
		}
	}
	// Neem, and baking soda with soap: thought less dependable.
	for _, id := range []string{"oil_neem", "nahco3_soap"} {
		a, b := m[id].Protects, m["sulfur_wg"].Protects
		if a.Mean >= b.Mean || a.SD/a.Mean <= b.SD/b.Mean {
			t.Errorf("%s: %.2f ± %.2f against sulfur %.2f ± %.2f", id, a.Mean, a.SD, b.Mean, b.SD)
		}
	}
	// Not more than 30 % of the plant's leaf is taken.
	l, err := work.Sparing(ctx, e, small(t, "2000-07-12"), "tunnel", work.Facts{})
	if err != nil {
		t.Fatal(err)
	}
	if l.Trade != 0.3 || l.Left > l.Trade {
		t.Errorf("practice %g, left %g", l.Trade, l.Left)
	}
}
