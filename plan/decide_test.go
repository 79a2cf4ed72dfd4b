package plan

import (
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"oidium/belief"
	"oidium/garden"
	"oidium/scout"
)

const today = garden.Day(11500)

// course is a member of an invented epidemic: the logit of the covered share
// grows in a straight line.
type course struct{ start, rate float64 }

// toy is a bed whose mildew follows courses over horizon days; a day's harvest
// is worth a part of worth and is lost in proportion to the cover.
type toy struct {
	courses []course
	horizon int
	worth   float64
}

// run returns losses and final cover: Stop slows the growth of the following
// days on leaf that had unfolded, Kill takes a share of what stands, Remove takes
// leaf with and without mildew, of which the crop misses what exceeds a quarter.
func (y toy) run(effects []garden.Effect) (loss, sev []float64) {
	for _, c := range y.courses {
		x, lost, gone := c.start, 0.0, 0.0
		for d := range y.horizon {
			slow := 0.0
			for _, e := range effects {
				if e.Day != today+garden.Day(d) {
					continue
				}
				slow = math.Max(slow, (e.Stop[garden.Upper]+e.Stop[garden.Lower])/2)
				if k := (e.Kill[garden.Upper] + e.Kill[garden.Lower]) / 2; k > 0 {
					x += math.Log(1 - k)
				}
				if e.Remove[garden.Old] > 0 {
					x += math.Log(1 - e.Remove[garden.Old])
					gone = math.Max(gone, e.Remove[garden.Old]/3)
				}
			}
			x += c.rate * (1 - slow)
			s := 1 / (1 + math.Exp(-x))
			lost += y.worth / float64(y.horizon) * math.Min(1, s+math.Max(0, gone-0.25))
		}
		loss, sev = append(loss, lost), append(sev, 1/(1+math.Exp(-x)))
	}
	return loss, sev
}

func spray(name string, stop, kill float64, days int, minutes, cost float64) Candidate {
	c := Candidate{Kind: Treat, Name: name, Material: garden.MaterialID(name), Minutes: minutes, Cost: cost}
	for d := range days {
		e := garden.Effect{Day: today + garden.Day(d), Stop: [garden.Faces]float64{stop, stop}, Since: today}
		if d == 0 {
			e.Kill = [garden.Faces]float64{kill, kill}
		}
		c.Effects = append(c.Effects, e)
	}
	return c
}

func takeOff(share, minutes float64) Candidate {
	return Candidate{
		Kind: Remove, Name: "the oldest leaves", Minutes: minutes, Leaves: 20,
		Effects: []garden.Effect{{Day: today, Remove: [garden.LeafAges]float64{0, 0, share}}},
	}
}

// bedOf makes a bed of the toy with incidences that follow the cover.
func bedOf(y toy, candidates ...Candidate) *Bed {
	n := len(y.courses)
	b := &Bed{
		ID: "a", Day: today, Trial: y.run, Candidates: candidates, Worth: y.worth, Wage: 20,
		DaysLeft: 40, LastLook: today - 3, Plants: 60,
	}
	for range n {
		b.Weights = append(b.Weights, 1/float64(n))
	}
	day := func(d float64) []float64 {
		var inc []float64
		for _, c := range y.courses {
			inc = append(inc, scout.Incidence(1/(1+math.Exp(-c.start-c.rate*d)), 120, 1, 1))
		}
		return inc
	}
	for _, c := range y.courses {
		b.Covered = append(b.Covered, 1/(1+math.Exp(-c.start)))
	}
	b.Incidence = day(0)
	for d := range 14 {
		b.Ahead = append(b.Ahead, day(float64(d+1)))
	}
	return b
}

// courses spreads starts about a mean logit.
func courses(n int, start, sd, rate float64) []course {
	r := rand.New(rand.NewPCG(uint64(n), 9))
	var out []course
	for range n {
		out = append(out, course{start + sd*r.NormFloat64(), rate * math.Exp(0.2*r.NormFloat64())})
	}
	return out
}

func decide(t *testing.T, b *Bed) Decision {
	t.Helper()
	d, err := Decide(b)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestVerdicts(t *testing.T) {
	sulfur := spray("sulfur", 0.8, 0.2, 8, 20, 3)
	milk := spray("milk", 0.5, 0, 6, 25, 2)
	for _, c := range []struct {
		name string
		bed  func() *Bed
		want Verdict
		best string
	}{
		{
			"a young epidemic in a dear crop is treated, with the better of two materials",
			func() *Bed { return bedOf(toy{courses(200, -4, 0.3, 0.2), 30, 600}, milk, sulfur) }, DoTreat, "sulfur",
		},
		{
			"the same bed, where the cheap material does as well",
			func() *Bed {
				return bedOf(toy{courses(200, -4, 0.3, 0.2), 30, 600}, spray("milk", 0.8, 0.2, 8, 20, 2), sulfur)
			},
			DoTreat, "milk",
		},
		{
			"few leaves carry the mildew: taking them off beats treating",
			func() *Bed {
				return bedOf(toy{courses(200, -4, 0.3, 0.2), 30, 600}, milk, takeOff(0.6, 10))
			},
			DoRemove, "the oldest leaves",
		},
		{
			"hardly any mildew and little to lose: nothing",
			func() *Bed { return bedOf(toy{courses(200, -9, 0.5, 0.1), 30, 60}, milk, sulfur) }, DoNothing, "",
		},
		{
			"a cheap crop: nothing, though it will be mildewed",
			func() *Bed { return bedOf(toy{courses(200, -4, 0.3, 0.2), 30, 5}, milk, sulfur) }, DoNothing, "",
		},
		{
			"mildewed or clean, nobody knows: cannot tell",
			func() *Bed {
				half := append(courses(100, -9, 0.3, 0.2), courses(100, -3, 0.3, 0.2)...)
				return bedOf(toy{half, 30, 300}, spray("sulfur", 0.6, 0.3, 8, 45, 5))
			},
			CannotTell, "",
		},
		{
			"most likely clean, but a look is cheap and could save much",
			func() *Bed {
				few := append(courses(180, -9, 0.3, 0.2), courses(20, -2, 0.3, 0.2)...)
				return bedOf(toy{few, 30, 600}, spray("sulfur", 0.6, 0.3, 8, 60, 30))
			},
			DoLook, "",
		},
		{
			"spots that nobody could tell: cannot tell, whatever the gain",
			func() *Bed {
				b := bedOf(toy{courses(200, -4, 0.3, 0.2), 30, 600}, sulfur)
				b.Doubt = true
				return b
			},
			CannotTell, "",
		},
		{
			"white all over and nothing helps: past rescue",
			func() *Bed {
				return bedOf(toy{courses(200, 2, 0.3, 0.2), 30, 600}, spray("milk", 0.1, 0, 6, 25, 40))
			},
			PastRescue, "",
		},
		{
			"five days of picking left: the season is nearly over",
			func() *Bed {
				b := bedOf(toy{courses(200, -3, 0.3, 0.2), 5, 60}, sulfur, milk)
				b.DaysLeft = 5
				return b
			},
			SeasonOver, "",
		},
		{
			"a deposit that lasts is better used once the mildew moves: wait",
			func() *Bed {
				b := bedOf(toy{courses(200, -4, 0.1, 0.2), 30, 600}, sulfur)
				quiet := b.Trial
				// Nothing grows before day 3: what is put on today is wasted till then.
				b.Trial = func(effects []garden.Effect) ([]float64, []float64) {
					var moved []garden.Effect
					for _, e := range effects {
						if e.Day >= today+3 {
							e.Day -= 3
							moved = append(moved, e)
						}
					}
					return quiet(moved)
				}
				return b
			},
			DoWait, "sulfur",
		},
		{
			"every material is refused: nothing, however much is at stake",
			func() *Bed {
				s := sulfur
				s.Checks = []Check{{Rule: "heat", Outcome: "refused", Reason: "too hot"}}
				return bedOf(toy{courses(200, -4, 0.3, 0.2), 30, 600}, s)
			},
			DoNothing, "",
		},
	} {
		d := decide(t, c.bed())
		if d.Verdict != c.want || d.Best.Name != c.best {
			t.Errorf("%s: %s %q (net %.2f, look %+v, wrong %.2f), want %s %q", c.name, d.Verdict, d.Best.Name, d.Best.Net.Mean, d.Look, d.Wrong, c.want, c.best)
		}
		w := d.Words("EUR")
		t.Logf("%s\n   %s %s %s %s %s %s %s %s", c.name, w.Headline, w.Reason, w.Sure, w.Second, w.Waiting, w.Flip, w.Missing, strings.Join(w.Notes, " "))
		for _, s := range append(w.Notes, w.Headline, w.Reason, w.Sure, w.Second, w.Waiting, w.Flip, w.Missing) {
			if strings.ContainsAny(s, "{}") || strings.Contains(s, "NaN") {
				t.Errorf("%s: %q", c.name, s)
			}
		}
	}
}

func TestNothingIsBetterWhereTheCureCostsMore(t *testing.T) {
	y := toy{courses(200, -4, 0.3, 0.2), 30, 600}
	dear := spray("sulfur", 0.8, 0.2, 8, 20, 10000)
	if d := decide(t, bedOf(y, dear)); d.Verdict != DoNothing {
		t.Errorf("a cure for 10000: %s", d.Verdict)
	}
	work := spray("sulfur", 0.8, 0.2, 8, 1200, 1)
	b := bedOf(y, work)
	light := decide(t, b)
	b.Burden = "heavy"
	heavy := decide(t, b)
	if !(heavy.Ranked[slices.IndexFunc(heavy.Ranked, func(s Scored) bool { return s.Kind == Treat && s.InDays == 0 })].Labour > light.Ranked[slices.IndexFunc(light.Ranked, func(s Scored) bool { return s.Kind == Treat && s.InDays == 0 })].Labour) {
		t.Error("a heavy burden weighs no more")
	}
}

// What only waits for an answer is named with what it is worth, and not chosen.
func TestMissingAnswer(t *testing.T) {
	s := spray("sulfur", 0.8, 0.2, 8, 20, 3)
	s.Checks = []Check{{Rule: "label", Outcome: "ask", Reason: "The days to harvest on the label have not been entered."}}
	d := decide(t, bedOf(toy{courses(200, -4, 0.3, 0.2), 30, 600}, s))
	if d.Best.Kind != Nothing || d.Missing == nil || d.Missing.Name != "sulfur" || d.Missing.Net.Mean <= 0 {
		t.Errorf("%s, missing %+v", d.Verdict, d.Missing)
	}
	if m := d.Words("EUR").Missing; !strings.Contains(m, "sulfur") || !strings.Contains(m, "EUR more") {
		t.Errorf("%q", m)
	}
	s.Checks = append(s.Checks, Check{Rule: "heat", Outcome: "refused"})
	if d = decide(t, bedOf(toy{courses(200, -4, 0.3, 0.2), 30, 600}, s)); d.Missing != nil {
		t.Error("an answer is asked for that would not help")
	}
}

func TestFlip(t *testing.T) {
	// Nothing, because most likely clean: many mildewed leaves turn it over.
	few := append(courses(195, -9, 0.3, 0.2), courses(5, -2, 0.3, 0.2)...)
	d := decide(t, bedOf(toy{few, 30, 300}, spray("sulfur", 0.6, 0.3, 8, 45, 5)))
	if d.Flip.None || !d.Flip.AtLeast || d.Flip.To.Kind != Treat || d.Flip.Found < 1 {
		t.Errorf("%s: %+v", d.Verdict, d.Flip)
	}
	// Treated, because most likely mildewed: a clean look turns it over.
	many := append(courses(20, -9, 0.3, 0.1), courses(180, -3, 0.3, 0.2)...)
	d = decide(t, bedOf(toy{many, 30, 600}, spray("sulfur", 0.6, 0.3, 8, 60, 25)))
	if d.Flip.None || d.Flip.AtLeast || d.Flip.To.Kind != Nothing {
		t.Errorf("%s: %+v", d.Verdict, d.Flip)
	}
	// All members agree: nothing would.
	d = decide(t, bedOf(toy{courses(200, -4, 0.1, 0.2), 30, 6000}, spray("sulfur", 0.8, 0.3, 8, 10, 1)))
	if !d.Flip.None {
		t.Errorf("%+v", d.Flip)
	}
}

func TestNextLook(t *testing.T) {
	if d := decide(t, bedOf(toy{courses(200, -12, 0.1, 0.1), 30, 60})); d.NextLook != today-3+7 || d.Due != nil {
		t.Errorf("quiet bed, looked at three days ago: %v", d.NextLook)
	}
	if d := decide(t, bedOf(toy{courses(200, -6, 0.1, 0.3), 30, 60})); d.NextLook != today || d.Due == nil || d.Due.Leaves != 50 || d.Due.Passed < 0.2 {
		t.Errorf("fast bed, looked at three days ago: %v %+v", d.NextLook, d.Due)
	}
	b := bedOf(toy{courses(200, -12, 0.1, 0.1), 30, 60})
	b.LastLook = 0
	if d := decide(t, b); d.Due == nil || d.NextLook != today {
		t.Errorf("a bed nobody has looked at wants a look today: %+v", d.Due)
	}
	b.NoLeaf = true
	if d := decide(t, b); d.Due != nil {
		t.Errorf("a bed without leaf wants no look: %+v", d.Due)
	}
	if w := decide(t, b).Words("EUR"); !slices.Contains(w.Notes, say("unseen")) {
		t.Errorf("nobody has looked, and nothing says so: %v", w.Notes)
	}
}

func TestDecideRefusesWhatDoesNotFit(t *testing.T) {
	if _, err := Decide(&Bed{ID: "a"}); err == nil {
		t.Error("no ensemble")
	}
	b := bedOf(toy{courses(20, -4, 0.3, 0.2), 30, 600})
	b.Covered = b.Covered[1:]
	if _, err := Decide(b); err == nil {
		t.Error("a member without cover")
	}
}

func drawBed(t *rapid.T) *Bed {
	n := rapid.IntRange(2, 60).Draw(t, "members")
	r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 3))
	y := toy{horizon: rapid.IntRange(3, 40).Draw(t, "horizon"), worth: rapid.Float64Range(0, 900).Draw(t, "worth")}
	for range n {
		y.courses = append(y.courses, course{-10 * r.Float64(), 0.4 * r.Float64()})
	}
	var cs []Candidate
	for i := range rapid.IntRange(0, 4).Draw(t, "candidates") {
		c := spray(string(rune('a'+i)), r.Float64(), r.Float64()*0.9, 1+r.IntN(10), 60*r.Float64(), 30*r.Float64())
		switch rapid.IntRange(0, 3).Draw(t, "check") {
		case 0:
			c.Checks = []Check{{Outcome: "refused"}}
		case 1:
			c.Checks = []Check{{Outcome: "ask"}}
		}
		cs = append(cs, c)
	}
	b := bedOf(y, cs...)
	sum := 0.0
	for i := range b.Weights {
		b.Weights[i] = r.Float64()
		sum += b.Weights[i]
	}
	for i := range b.Weights {
		b.Weights[i] /= sum
	}
	b.DaysLeft = rapid.IntRange(-1, 60).Draw(t, "left")
	b.Plants = rapid.IntRange(0, 40).Draw(t, "plants")
	return b
}

func TestDecisionsAreLawful(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBed(t)
		d, err := Decide(b)
		if err != nil {
			t.Fatal(err)
		}
		if d.Best.Barred {
			t.Fatalf("%q is barred and chosen", d.Best.Name)
		}
		for _, s := range d.Ranked {
			// A little more for doing the same some days later is passed over.
			if !s.Barred && s.Kind != Look && s.Net.Mean > d.Best.Net.Mean*(1+waitMargin.V)+1e-9 {
				t.Fatalf("%q is worth %v, more than the best %v", s.Name, s.Net.Mean, d.Best.Net.Mean)
			}
		}
		if d.Best.Kind != Look && d.Best.Net.Mean < -1e-9 {
			t.Fatalf("what is worth %v is worse than nothing", d.Best.Net.Mean)
		}
		l := d.Look
		if l.Gain < 0 || l.Gain > l.Perfect+1e-6*(1+b.Worth) {
			t.Fatalf("a look gains %v, the truth itself %v", l.Gain, l.Perfect)
		}
		for _, p := range []float64{d.Wrong, l.WrongAfter, d.Flip.Chance} {
			if p < -1e-9 || p > 1+1e-9 {
				t.Fatalf("chance %v", p)
			}
		}
		if b.Plants > 0 && l.Plants > b.Plants {
			t.Fatalf("%d of %d plants looked at", l.Plants, b.Plants)
		}
		if d.Second != nil && d.Verdict != CannotTell && d.Margin < -1e-9 {
			t.Fatalf("the second is ahead by %v", -d.Margin)
		}
	})
}

// Neither the order of candidates nor that of members matters.
func TestDecisionsKnowNoOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBed(t)
		d, err := Decide(b)
		if err != nil {
			t.Fatal(err)
		}
		slices.Reverse(b.Candidates)
		n := len(b.Weights)
		slices.Reverse(b.Weights)
		slices.Reverse(b.Covered)
		slices.Reverse(b.Incidence)
		for _, x := range b.Ahead {
			slices.Reverse(x)
		}
		run := b.Trial
		b.Trial = func(e []garden.Effect) ([]float64, []float64) {
			loss, sev := run(e)
			slices.Reverse(loss)
			slices.Reverse(sev)
			return loss, sev
		}
		back, err := Decide(b)
		if err != nil {
			t.Fatal(err)
		}
		tol := 1e-7 * (1 + b.Worth) * float64(n)
		if math.Abs(d.Best.Net.Mean-back.Best.Net.Mean) > tol || math.Abs(d.Look.Gain-back.Look.Gain) > tol {
			t.Fatalf("%v %v, the other way round %v %v", d.Verdict, d.Best.Net.Mean, back.Verdict, back.Best.Net.Mean)
		}
	})
}

// The gain of a look worked out by bins of members against the plain definition,
// member by member.
func TestValueOfLookAgainstThePlainSum(t *testing.T) {
	few := append(courses(90, -9, 0.5, 0.2), courses(30, -3, 0.5, 0.2)...)
	b := bedOf(toy{few, 30, 200}, spray("sulfur", 0.6, 0.3, 8, 60, 15))
	alone, _ := b.Trial(nil)
	s := score(b, b.Candidates[0], alone, b.Candidates[0].Effects)
	plants, per := 10, 5
	gain := 0.0
	n := plants * per
	act, let := make([]float64, n+1), 0.0
	for m, w := range b.Weights {
		for k, q := range scout.CountChances(plants, per, b.Incidence[m], b.eye()) {
			act[k] += w * q * s.net[m]
		}
		let += w * s.net[m]
	}
	for _, x := range act {
		gain += math.Max(0, x)
	}
	gain -= math.Max(0, let)
	choices := []Scored{{Candidate: Candidate{Kind: Nothing}, net: make([]float64, len(alone))}, s}
	rank(choices)
	got := 0.0
	for _, x := range look(bin(b, choices), plants, per, b.eye()).worth {
		got += x
	}
	got -= math.Max(0, let)
	if math.Abs(got-gain) > 0.02*gain+1e-6 {
		t.Errorf("gain %v by bins, %v member by member", got, gain)
	}
}

// More knowledge is never worth less: a larger look of the same kind gains at
// least as much.
func TestLargerLooksGainMore(t *testing.T) {
	half := append(courses(100, -8, 0.5, 0.2), courses(100, -4, 0.5, 0.2)...)
	b := bedOf(toy{half, 30, 150}, spray("sulfur", 0.6, 0.3, 8, 60, 15))
	alone, _ := b.Trial(nil)
	choices := []Scored{score(b, b.Candidates[0], alone, b.Candidates[0].Effects), {Candidate: Candidate{Kind: Nothing}, net: make([]float64, len(alone))}}
	for i := range choices {
		choices[i].Net.Mean = belief.BandOf(choices[i].net, b.Weights).Mean
	}
	rank(choices)
	g := bin(b, choices)
	last := math.Inf(-1)
	for plants := 1; plants <= 30; plants += 3 {
		sum := 0.0
		for _, x := range look(g, plants, 5, b.eye()).worth {
			sum += x
		}
		if sum < last-1e-9 {
			t.Errorf("%d plants gain less than fewer: %v after %v", plants, sum, last)
		}
		last = sum
	}
}

// Every key of the catalogue is used and every key used is there.
func TestCatalogue(t *testing.T) {
	if len(keysOf(wordsText)) == 0 {
		t.Fatal("the catalogue cannot be read")
	}
	code, err := os.ReadFile("say.go")
	if err != nil {
		t.Fatal(err)
	}
	used := regexp.MustCompile(`"([a-z]+\.[a-z.-]+|missing|unseen|second)"`)
	for _, m := range used.FindAllStringSubmatch(string(code), -1) {
		if !sentences().Has(strings.TrimSuffix(m[1], ".")) && !strings.HasSuffix(m[1], ".") {
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

func BenchmarkDecide(b *testing.B) {
	half := append(courses(100, -9, 0.3, 0.2), courses(100, -3, 0.3, 0.2)...)
	bed := bedOf(toy{half, 30, 150}, spray("sulfur", 0.6, 0.3, 8, 60, 15), spray("milk", 0.4, 0, 8, 60, 15), takeOff(0.5, 10))
	loss, sev := bed.Trial(nil)
	bed.Trial = func([]garden.Effect) ([]float64, []float64) { return loss, sev }
	for b.Loop() {
		if _, err := Decide(bed); err != nil {
			b.Fatal(err)
		}
	}
}
