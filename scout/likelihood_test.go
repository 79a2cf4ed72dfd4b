package scout

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"oidium/garden"
)

// The product form against the definition, the integral of the binomial over the
// beta distribution of the plants' incidence (gonum as reference library).
func TestBetaBinomialIsTheIntegral(t *testing.T) {
	for _, c := range []struct {
		k, n   int
		p, rho float64
	}{{0, 5, 0.2, 0.1}, {2, 10, 0.3, 0.2}, {9, 10, 0.7, 0.25}, {3, 12, 0.4, 0.05}} {
		th := thetaOf(c.rho)
		b := distuv.Beta{Alpha: c.p / th, Beta: (1 - c.p) / th}
		want := quad.Fixed(func(q float64) float64 {
			return b.Prob(q) * distuv.Binomial{N: float64(c.n), P: q}.Prob(float64(c.k))
		}, 0, 1, 4000, nil, 0)
		near(t, "beta-binomial", math.Exp(logBetaBinomial(c.k, c.n, c.p, c.rho)), want, 1e-6)
	}
	near(t, "no clumping", math.Exp(logBetaBinomial(3, 10, 0.2, 0)), distuv.Binomial{N: 10, P: 0.2}.Prob(3), 1e-12)
}

func TestBetaBinomialSumsToOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 40).Draw(t, "n")
		p := rapid.Float64Range(0, 1).Draw(t, "p")
		rho := rapid.Float64Range(0, 0.9).Draw(t, "rho")
		sum, mean := 0.0, 0.0
		for k, c := range betaBinomial(n, p, rho) {
			sum, mean = sum+c, mean+c*float64(k)
		}
		if math.Abs(sum-1) > 1e-9 || math.Abs(mean-float64(n)*p) > 1e-8*float64(n+1) {
			t.Fatalf("n %d p %v rho %v: sum %v mean %v", n, p, rho, sum, mean)
		}
	})
}

func TestIncidence(t *testing.T) {
	// One colony a leaf on average, k = 1: half the leaves have one.
	near(t, "k 1", Incidence(0.01, 100, 1, 1), 0.5, 1e-12)
	near(t, "random", Incidence(0.01, 100, 1, math.Inf(1)), 1-1/math.E, 1e-12)
	near(t, "large k is random", Incidence(0.01, 100, 1, 1e9), 1-1/math.E, 1e-6)
	for _, z := range []float64{Incidence(0, 100, 1, 1), Incidence(0.1, 0, 0, 1), Incidence(math.NaN(), 1, 1, 1)} {
		if z != 0 {
			t.Errorf("nothing to see gives %v", z)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.Float64Range(0, 1).Draw(t, "s")
		k := rapid.Float64Range(0.05, 50).Draw(t, "k")
		a := Incidence(s, 150, 1, k)
		if a < 0 || a > 1 || Incidence(s+0.01, 150, 1, k) < a || Incidence(s, 150, 1, k*2) < a-1e-12 {
			t.Fatalf("incidence %v not within bounds or not rising", a)
		}
	})
}

func flat(p float64) Expect {
	var e Expect
	for a := range garden.LeafAges {
		for f := range garden.Faces {
			e.Incidence[a][f] = p
		}
	}
	return e
}

func drawTally(t *rapid.T) garden.Tally {
	var tl garden.Tally
	for p := range rapid.IntRange(1, 6).Draw(t, "plants") {
		for range rapid.IntRange(1, 4).Draw(t, "lines") {
			n := rapid.IntRange(1, 6).Draw(t, "n")
			tl.Counts = append(tl.Counts, garden.Count{
				Plant: p + 1, Inspected: n, Infected: rapid.IntRange(0, n).Draw(t, "k"),
				Age: garden.LeafAge(rapid.IntRange(0, 2).Draw(t, "age")), Face: garden.Face(rapid.IntRange(0, 1).Draw(t, "face")),
			})
		}
	}
	return tl
}

func drawExpect(t *rapid.T) Expect {
	var e Expect
	for a := range garden.LeafAges {
		for f := range garden.Faces {
			e.Incidence[a][f] = rapid.Float64Range(0, 1).Draw(t, "p")
		}
	}
	return e
}

func TestTallyLikelihoodKnowsNoOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tl, e := drawTally(t), drawExpect(t)
		look := LookOf("eye", "sure")
		a := logLik(tl, e, look)
		if math.IsNaN(a) || math.IsInf(a, 0) || a > 1e-9 {
			t.Fatalf("log-likelihood %v", a)
		}
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		r.Shuffle(len(tl.Counts), func(i, j int) { tl.Counts[i], tl.Counts[j] = tl.Counts[j], tl.Counts[i] })
		// Plants renamed.
		for i := range tl.Counts {
			tl.Counts[i].Plant = 100 - tl.Counts[i].Plant
		}
		if b := logLik(tl, e, look); a != b {
			t.Fatalf("%v, shuffled %v", a, b)
		}
	})
}

// Summed over every possible tally of one plant the chances are 1, whatever is
// expected of ages and faces.
func TestTallyLikelihoodSumsToOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := drawExpect(t)
		look := Look{Rho: rapid.Float64Range(0, 0.5).Draw(t, "rho"), Sees: 0.9, False: 0.001}
		sum := 0.0
		for i := range 4 {
			for j := range 3 {
				for k := range 3 {
					sum += math.Exp(logLik(garden.Tally{Counts: []garden.Count{
						{Plant: 1, Age: garden.Old, Face: garden.Upper, Inspected: 3, Infected: i},
						{Plant: 1, Age: garden.Old, Face: garden.Lower, Inspected: 2, Infected: j},
						{Plant: 1, Age: garden.Young, Face: garden.Upper, Inspected: 2, Infected: k},
					}}, e, look))
				}
			}
		}
		// logLik is that of the counts, in which every arrangement of the leaves
		// is already counted.
		if math.Abs(sum-1) > 1e-9 {
			t.Fatalf("chances sum to %v", sum)
		}
	})
}

// Where all faces are expected alike the split must not matter: the tally is
// beta-binomial in its total, shared out by the hypergeometric.
func TestTallyLikelihoodOfEqualFaces(t *testing.T) {
	tl := garden.Tally{Counts: []garden.Count{
		{Plant: 1, Age: garden.Old, Face: garden.Upper, Inspected: 5, Infected: 2},
		{Plant: 1, Age: garden.Old, Face: garden.Lower, Inspected: 4, Infected: 1},
	}}
	look := Look{Rho: 0.1, Sees: 1}
	want := logBetaBinomial(3, 9, 0.3, 0.1) + logChoose(5, 2) + logChoose(4, 1) - logChoose(9, 3)
	near(t, "log-likelihood", logLik(tl, flat(0.3), look), want, 1e-10)
}

// A second mildewed leaf on the same plant is worth less than one elsewhere.
func TestClumpedLeavesTellLess(t *testing.T) {
	one := func(k1, k2 int) garden.Tally {
		return garden.Tally{Counts: []garden.Count{
			{Plant: 1, Age: garden.Old, Inspected: 5, Infected: k1},
			{Plant: 2, Age: garden.Old, Inspected: 5, Infected: k2},
		}}
	}
	look := Look{Rho: 0.1, Sees: 1}
	gain := func(tl garden.Tally) float64 { return logLik(tl, flat(0.1), look) - logLik(tl, flat(0.02), look) }
	if gain(one(2, 0)) >= gain(one(1, 1)) {
		t.Errorf("two leaves of one plant: %v, of two plants: %v", gain(one(2, 0)), gain(one(1, 1)))
	}
}

func TestLookOf(t *testing.T) {
	spots := garden.Tally{Counts: []garden.Count{{Plant: 1, Age: garden.Old, Inspected: 5, Infected: 3}}}
	if l := logLik(spots, flat(0.01), LookOf("eye", "cannot tell")); l != 0 {
		t.Errorf("spots that nobody could tell were given %v", l)
	}
	clean := garden.Tally{Counts: []garden.Count{{Plant: 1, Age: garden.Old, Inspected: 5}}}
	if l := logLik(clean, flat(0.5), LookOf("eye", "cannot tell")); l >= 0 {
		t.Errorf("clean leaves say nothing: %v", l)
	}
	// A spot under a forecast of none is a false call, not an impossibility.
	if l := logLik(spots, flat(0), LookOf("eye", "sure")); math.IsInf(l, 0) || l > -5 {
		t.Errorf("three spots where none are expected: %v", l)
	}
	if LookOf("lens", "sure").Sees <= LookOf("eye", "sure").Sees {
		t.Error("a lens sees no more than the eye")
	}
}

// Fifty leaves whose plants were not told apart weigh like ten plants of five,
// not like one plant of fifty and not like fifty plants.
func TestPlantsNotToldApart(t *testing.T) {
	look := LookOf("eye", "sure")
	clean := func(plants, per int, number func(int) int) float64 {
		var tl garden.Tally
		for p := range plants {
			tl.Counts = append(tl.Counts, garden.Count{Plant: number(p), Age: garden.Old, Inspected: per})
		}
		return logLik(tl, flat(0.2), look)
	}
	one := func(p int) int { return p + 1 }
	loose := clean(1, 50, func(int) int { return 0 })
	if apart, clumped := clean(50, 1, one), clean(1, 50, one); !(apart < loose && loose < clumped) {
		t.Errorf("apart %v, not told %v, one plant %v", apart, loose, clumped)
	}
}

func TestLargeTallyStaysFinite(t *testing.T) {
	e := flat(0.2)
	e.Incidence[garden.Old][garden.Lower] = 0.6
	l := logLik(garden.Tally{Counts: []garden.Count{
		{Plant: 1, Age: garden.Old, Face: garden.Upper, Inspected: 3000, Infected: 700},
		{Plant: 1, Age: garden.Old, Face: garden.Lower, Inspected: 3000, Infected: 1800},
	}}, e, LookOf("eye", "sure"))
	if math.IsNaN(l) || math.IsInf(l, 0) {
		t.Errorf("log-likelihood %v", l)
	}
}

func TestSeverityLikelihood(t *testing.T) {
	r := PlainReader()
	best := func(reading float64) float64 {
		at, top := 0.0, math.Inf(-1)
		for x := 0.0; x < 1; x += 0.001 {
			if l := SeverityLogLik(garden.Severity{Share: reading}, x, r); l > top {
				at, top = x, l
			}
		}
		return at
	}
	for _, x := range []float64{0.02, 0.1, 0.4, 0.8} {
		if b := best(x); math.Abs(b-x) > 0.02 {
			t.Errorf("reading %v is most likely at %v", x, b)
		}
	}
	if b := best(0); b > 0.001 {
		t.Errorf("a reading of none is most likely at %v", b)
	}
	rapid.Check(t, func(t *rapid.T) {
		s := garden.Severity{Share: rapid.Float64Range(0, 1).Draw(t, "reading")}
		l := SeverityLogLik(s, rapid.Float64Range(0, 1).Draw(t, "truth"), r)
		if math.IsNaN(l) || math.IsInf(l, 0) || l > 1e-12 {
			t.Fatalf("log-likelihood %v", l)
		}
	})
	// A reader known to see double is corrected for.
	over := Reader{Bias: math.Ln2, SD: 0.2}
	if SeverityLogLik(garden.Severity{Share: 0.2}, 0.1, over) <= SeverityLogLik(garden.Severity{Share: 0.2}, 0.2, over) {
		t.Error("the bias of the reader is not taken off")
	}
}

// The exact interval holds at least its confidence, the score interval about it
// (simulated through all counts, not by chance).
func TestIntervalsCover(t *testing.T) {
	for _, n := range []int{10, 50, 100} {
		for p := 0.01; p < 1; p += 0.037 {
			exact, score := 0.0, 0.0
			for k, c := range betaBinomial(n, p, 0) {
				if i := Exact(k, n, 0.95); i.Lo <= p && p <= i.Hi {
					exact += c
				}
				if i := Wilson(k, n, 0.95); i.Lo <= p && p <= i.Hi {
					score += c
				}
			}
			if exact < 0.95-1e-9 {
				t.Errorf("n %d p %.3f: exact interval covers %.4f", n, p, exact)
			}
			if score < 0.82 {
				t.Errorf("n %d p %.3f: score interval covers %.4f", n, p, score)
			}
		}
	}
}

// With clumped leaves the interval of an assessment still covers, where the plain
// one would not.
func TestClumpedIntervalCovers(t *testing.T) {
	const plants, per, p, rho = 10, 5, 0.2, 0.3
	chance := CountChances(plants, per, p, Look{Rho: rho, Sees: 1})
	clumped, plain := 0.0, 0.0
	for k, c := range chance {
		if i := estimate(k, plants*per, plants, rho).Likely; i.Lo <= p && p <= i.Hi {
			clumped += c
		}
		if i := Wilson(k, plants*per, 0.95); i.Lo <= p && p <= i.Hi {
			plain += c
		}
	}
	if clumped < 0.92 || plain > 0.9 {
		t.Errorf("coverage with clumping %.3f, without %.3f", clumped, plain)
	}
}

// At the shares it was made for the rule keeps its errors, when nothing ends the
// walk early, and its chances sum to one.
func TestStopKeepsItsErrors(t *testing.T) {
	s := UsualStop()
	s.MostPlants = 200
	clean, bad := s.Performance(s.Clean), s.Performance(s.Bad)
	if clean.Bad > s.FalseAlarm || bad.Clean > s.Miss {
		t.Errorf("false alarm %v, miss %v", clean.Bad, bad.Clean)
	}
	last := 1.1
	for _, p := range []float64{0, 0.01, 0.02, 0.05, 0.1, 0.3, 1} {
		q := UsualStop().Performance(p)
		near(t, "sum", q.Clean+q.Bad+q.Undecided, 1, 1e-9)
		if q.Clean > last+1e-12 {
			t.Errorf("chance of clean rises at %v", p)
		}
		last = q.Clean
	}
}

func TestPlanWalk(t *testing.T) {
	s := PlanWalk(Walk{Share: 0.05, Confidence: 0.95, PerPlant: 1, Look: Look{Sees: 1}})
	if s.Leaves != 59 || s.Limit != "" {
		t.Errorf("59 leaves find 5 %%: %+v", s)
	}
	clumped := PlanWalk(Walk{Share: 0.05})
	if clumped.Leaves <= 59 || clumped.Chance < 0.95 || clumped.AtMost > 0.05+1e-6 {
		t.Errorf("clumped: %+v", clumped)
	}
	short := PlanWalk(Walk{Share: 0.05, Minutes: 2})
	if short.Limit != "time" || short.Minutes > 2 || short.Chance >= 0.95 {
		t.Errorf("two minutes: %+v", short)
	}
	few := PlanWalk(Walk{Share: 0.02, Plants: 3, Leaves: 30})
	if few.Leaves > 30 || few.Limit != "bed" {
		t.Errorf("three plants: %+v", few)
	}
	if r := PlanWalk(Walk{}); r.Leaves == 0 || r.Ages[0] != garden.Old {
		t.Errorf("default: %+v", r)
	}
}

func TestPlanEstimate(t *testing.T) {
	// Hughes, Madden & Munkvold 1996: 72 plants of 10 leaves at 5 %, rho 0.15.
	s, cv := PlanEstimate(Walk{Share: 0.05, PerPlant: 10, Look: Look{Rho: 0.15, Sees: 1}}, 0.25)
	if s.Plants != 72 || cv > 0.25 {
		t.Errorf("%+v reaches %v", s, cv)
	}
	// In a bed of 60 plants fewer do, and at every plant there is no error left.
	small, cv := PlanEstimate(Walk{Share: 0.05, PerPlant: 10, Plants: 60, Look: Look{Rho: 0.15, Sees: 1}}, 0.25)
	if small.Plants >= 60 || math.Abs(cv-0.25) > 0.01 {
		t.Errorf("%+v reaches %v", small, cv)
	}
	short, cv := PlanEstimate(Walk{Share: 0.05, Minutes: 3}, 0.25)
	if short.Limit != "time" || short.Minutes > 3 || cv < 0.25 {
		t.Errorf("%+v reaches %v", short, cv)
	}
}

func TestCleanFirst(t *testing.T) {
	got := CleanFirst([]BedState{{"worst", 0.4, 1}, {"b", 0.00004, 4}, {"a", 0, 3}, {"some", 0.05, 2}})
	if want := []garden.BedID{"a", "b", "some", "worst"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// A grade is taken for the span between its cuts.
func TestSeverityLikelihoodOfAGrade(t *testing.T) {
	r, err := ReadOn("horsfall-barratt", 6)
	if err != nil {
		t.Fatal(err)
	}
	g := garden.Severity{Share: r.Share, Low: r.Low, High: r.High}
	inside, plain := SeverityLogLik(g, 0.28, PlainReader()), SeverityLogLik(garden.Severity{Share: r.Share}, 0.28, PlainReader())
	if inside <= plain || SeverityLogLik(g, 0.05, PlainReader()) >= inside {
		t.Errorf("grade 25-50 %%: at 28 %% %v, as 37.5 %% %v", inside, plain)
	}
}

func TestPace(t *testing.T) {
	d := garden.DayOf(time.Date(2001, 7, 1, 0, 0, 0, 0, time.UTC))
	logistic := func(day garden.Day, rate float64) Seen {
		x := -3 + rate*float64(day-d)
		return Seen{Day: day, Share: 1 / (1 + math.Exp(-x)), SD: 0.2}
	}
	var seen []Seen
	for i := range garden.Day(5) {
		seen = append(seen, logistic(d+3*i, 0.2))
	}
	g, err := Pace(seen)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "rate", g.Rate, 0.2, 1e-9)
	near(t, "doubling", g.Doubling, math.Ln2/0.2, 1e-6)
	if !(g.DoublingBand.Lo < g.Doubling && g.Doubling < g.DoublingBand.Hi) {
		t.Errorf("band %+v", g)
	}
	if _, err := Pace(seen[:1]); err == nil {
		t.Error("one day gave a rate")
	}
	if g, err := Pace([]Seen{logistic(d, -0.1), logistic(d+4, -0.1)}); err != nil || g.Doubling != 0 {
		t.Errorf("shrinking: %+v %v", g, err)
	}
}

// The 80 % band of the rate covers about 80 % in simulation: tallies of ten
// plants drawn from a known logistic epidemic.
func TestPaceCovers(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	const runs, rate, rho = 2000, 0.15, 0.08
	hit := 0
	for range runs {
		var seen []Seen
		for day := garden.Day(1); day <= 13; day += 4 {
			p := 1 / (1 + math.Exp(2-rate*float64(day)))
			b := distuv.Beta{Alpha: p / thetaOf(rho), Beta: (1 - p) / thetaOf(rho), Src: r}
			var tl garden.Tally
			for plant := range 10 {
				q, k := b.Rand(), 0
				for range 5 {
					if r.Float64() < q {
						k++
					}
				}
				tl.Counts = append(tl.Counts, garden.Count{Plant: plant + 1, Age: garden.Old, Inspected: 5, Infected: k})
			}
			s, ok := SeenInTally(tl, day, rho)
			if !ok {
				t.Fatal("no leaves")
			}
			seen = append(seen, s)
		}
		g, err := Pace(seen)
		if err != nil {
			t.Fatal(err)
		}
		if g.Band.Lo <= rate && rate <= g.Band.Hi {
			hit++
		}
	}
	if c := float64(hit) / runs; c < 0.77 || c > 0.92 {
		t.Errorf("80 %% band covers %.3f", c)
	}
}

func BenchmarkLogLik(b *testing.B) {
	var tl garden.Tally
	for p := range 10 {
		for a := range garden.LeafAges {
			for f := range garden.Faces {
				tl.Counts = append(tl.Counts, garden.Count{Plant: p + 1, Age: garden.LeafAge(a), Face: garden.Face(f), Inspected: 4, Infected: (p * a) % 4})
			}
		}
	}
	ready, e, look := Prepare(tl), flat(0.2), LookOf("eye", "sure")
	for b.Loop() {
		ready.LogLik(e, look)
	}
}

func logLik(t garden.Tally, e Expect, p Look) float64 { return Prepare(t).LogLik(e, p) }
