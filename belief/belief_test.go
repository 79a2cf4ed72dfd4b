package belief

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"oidium/garden"
	"oidium/scout"
)

func drawLogLik(t *rapid.T) []float64 {
	n := rapid.IntRange(1, 300).Draw(t, "n")
	scale := rapid.Float64Range(0, 400).Draw(t, "scale")
	out := make([]float64, n)
	r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 7))
	for i := range out {
		out[i] = -scale * r.Float64()
		if r.Float64() < 0.02 {
			out[i] = math.Inf(-1)
		}
	}
	return out
}

func TestWeightsAreLawful(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLogLik(t)
		w := Weigh(l, LeastESS)
		sum, possible := 0.0, 0
		for i, x := range w.W {
			if x < 0 || math.IsNaN(x) {
				t.Fatalf("weight %v", x)
			}
			if !math.IsInf(l[i], -1) {
				possible++
			}
			sum += x
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Fatalf("weights sum to %v", sum)
		}
		n := float64(len(l))
		if w.ESS < 1-1e-9 || w.ESS > n+1e-6 || w.RawESS > w.ESS+1e-6 {
			t.Fatalf("effective size %v, raw %v of %v", w.ESS, w.RawESS, n)
		}
		if possible > LeastESS && w.ESS < LeastESS-1e-3 {
			t.Fatalf("effective size %v of %d possible members", w.ESS, possible)
		}
		if w.Temper < 0 || w.Temper > 1 {
			t.Fatalf("exponent %v", w.Temper)
		}
		if (w.Temper < 1) != (len(w.Warnings) > 0) {
			t.Fatalf("exponent %v with %d warnings", w.Temper, len(w.Warnings))
		}
		// Better members never weigh less.
		for i := 1; i < len(l); i++ {
			if l[i] > l[i-1] && w.W[i] < w.W[i-1]-1e-15 {
				t.Fatalf("member %d is likelier and lighter", i)
			}
		}
	})
}

func TestWeightsKnowNoOrderAndNoScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLogLik(t)
		w := Weigh(l, LeastESS)
		back := slices.Clone(l)
		slices.Reverse(back)
		shift := rapid.Float64Range(-1000, 1000).Draw(t, "shift")
		for i := range back {
			back[i] += shift
		}
		v := Weigh(back, LeastESS)
		for i := range l {
			if d := math.Abs(w.W[i] - v.W[len(l)-1-i]); d > 1e-8 {
				t.Fatalf("member %d: %v and %v", i, w.W[i], v.W[len(l)-1-i])
			}
		}
		if !math.IsInf(w.Evidence, -1) && math.Abs(w.Evidence+shift-v.Evidence) > 1e-6 {
			t.Fatalf("evidence %v shifted %v: %v", w.Evidence, shift, v.Evidence)
		}
	})
}

func TestTemperingIsExact(t *testing.T) {
	l := make([]float64, 200)
	for i := range l {
		l[i] = -float64(i * i)
	}
	w := Weigh(l, 50)
	if math.Abs(w.ESS-50) > 1e-6 || w.RawESS > 3 || len(w.Warnings) != 1 || w.Warnings[0].Code != "tempered" {
		t.Errorf("effective size %v, raw %v, warnings %v", w.ESS, w.RawESS, w.Warnings)
	}
	if w = Weigh(make([]float64, 200), 50); w.Temper != 1 || w.ESS < 199.99 || len(w.Warnings) != 0 || w.Evidence != 0 {
		t.Errorf("nothing seen: %+v", w.Temper)
	}
}

func TestNoMemberExplains(t *testing.T) {
	w := Weigh([]float64{math.Inf(-1), math.NaN(), math.Inf(1)}, 50)
	if w.Temper != 0 || math.Abs(w.W[0]-1.0/3) > 1e-12 || w.Warnings[0].Code != "no-member-explains" || !math.IsInf(w.Evidence, -1) {
		t.Errorf("%+v", w)
	}
	if w := Weigh(nil, 50); len(w.W) != 0 {
		t.Errorf("no members: %+v", w)
	}
}

// The evidence of a conjugate model against its closed form: members drawn from a
// uniform prior of incidence, k of n seen, evidence 1/(n+1) (Bayes 1763).
func TestEvidenceOfACount(t *testing.T) {
	const n, k, members = 10, 3, 4000
	l := make([]float64, members)
	for i := range l {
		p := (float64(i) + 0.5) / members
		l[i] = distuv.Binomial{N: n, P: p}.LogProb(k)
	}
	w := Weigh(l, 50)
	if want := -math.Log(n + 1); math.Abs(w.Evidence-want) > 1e-5 {
		t.Errorf("evidence %v, want %v", w.Evidence, want)
	}
	x := make([]float64, members)
	for i := range x {
		x[i] = (float64(i) + 0.5) / members
	}
	post := distuv.Beta{Alpha: k + 1, Beta: n - k + 1}
	b := BandOf(x, w.W)
	for _, c := range []struct{ got, want float64 }{
		{b.Low, post.Quantile(0.1)},
		{b.Mid, post.Quantile(0.5)},
		{b.High, post.Quantile(0.9)},
		{b.Mean, post.Mean()},
		{Exceed(x, w.W, 0.5), 1 - post.CDF(0.5)},
	} {
		if math.Abs(c.got-c.want) > 1e-3 {
			t.Errorf("%v, want %v", c.got, c.want)
		}
	}
}

func TestMix(t *testing.T) {
	got := Mix([]float64{0.7, 0.3}, []float64{-10, -10 + math.Log(7.0/3)})
	if math.Abs(got[0]-0.5) > 1e-12 || math.Abs(got[1]-0.5) > 1e-12 {
		t.Errorf("%v", got)
	}
	if got = Mix([]float64{2, 2}, []float64{math.Inf(-1), math.Inf(-1)}); got[0] != 0.5 {
		t.Errorf("nothing explains: %v", got)
	}
	if got = Mix([]float64{1, 1}, []float64{math.Inf(-1), -5000}); got[1] != 1 {
		t.Errorf("one explains: %v", got)
	}
	if got = Mix([]float64{0, 1}, []float64{0, -9000}); got[0] != 0 || got[1] != 1 {
		t.Errorf("a prior of none: %v", got)
	}
}

// Against gonum's quantiles on many equally heavy members.
func TestBandAgainstGonum(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	const n = 20000
	x, w := make([]float64, n), make([]float64, n)
	for i := range x {
		x[i], w[i] = r.NormFloat64(), 1
	}
	b := BandOf(x, w)
	slices.Sort(x)
	for p, got := range map[float64]float64{0.1: b.Low, 0.5: b.Mid, 0.9: b.High} {
		if want := stat.Quantile(p, stat.LinInterp, x, nil); math.Abs(got-want) > 1e-3 {
			t.Errorf("quantile %v: %v, want %v", p, got, want)
		}
	}
	if z := BandOf(nil, nil); z != (Band{}) {
		t.Errorf("no members: %+v", z)
	}
}

func TestLearnSaysWhatWasLearned(t *testing.T) {
	const n = 2000
	z := make([][]float64, n)
	r := rand.New(rand.NewPCG(5, 6))
	for i := range z {
		z[i] = []float64{r.NormFloat64(), r.NormFloat64()}
	}
	weigh := func(ll func(x float64) float64) Weights {
		l := make([]float64, n)
		for i := range l {
			l[i] = ll(z[i][1])
		}
		return Weigh(l, LeastESS)
	}
	// Normal prior and normal look: posterior mean 0.5/(1+0.16), variance
	// 0.16/(1+0.16) (closed form).
	got := Learn(z, weigh(func(x float64) float64 { return -0.5 * (x - 0.5) * (x - 0.5) / 0.16 }))
	if math.Abs(got[1].Mean-0.5/1.16) > 0.05 || math.Abs(got[1].Spread-0.4/math.Sqrt(1.16)) > 0.04 || !got[1].Told || got[1].Strained {
		t.Errorf("learned %+v", got[1])
	}
	if got[0].Told || got[0].Strained || math.Abs(got[0].Mean) > 0.12 {
		t.Errorf("of what was not looked at: %+v", got[0])
	}
	if got = Learn(z, weigh(func(float64) float64 { return 0 })); got[0].Told || got[1].Told {
		t.Errorf("nothing was seen: %+v", got)
	}
	if got = Learn(z, weigh(func(x float64) float64 { return 4 * x })); !got[1].Strained {
		t.Errorf("a strained prior is not seen: %+v", got[1])
	}
	if got = Learn(nil, Weights{}); got != nil {
		t.Errorf("no members: %+v", got)
	}
}

// Calibration: truths drawn from the prior of a logistic epidemic, looked at on
// three days plant by plant, and 200 members weighed by the likelihood of the
// tallies. The 80 % band of today's and of the coming severity must hold the
// truth about 80 times in 100.
func TestBandsAreCalibrated(t *testing.T) {
	const runs, members, k = 400, 200, 1.0
	r := rand.New(rand.NewPCG(11, 12))
	type course struct{ start, rate float64 }
	draw := func() course {
		return course{start: -7 + 1.5*r.NormFloat64(), rate: 0.18 * math.Exp(0.4*r.NormFloat64())}
	}
	at := func(c course, day float64) float64 { return 1 / (1 + math.Exp(-c.start-c.rate*day)) }
	expect := func(c course, day float64) scout.Expect {
		var e scout.Expect
		for a := range garden.LeafAges {
			s := at(c, day) * []float64{0.1, 0.7, 1.5}[a]
			e.Incidence[a][garden.Upper] = scout.Incidence(0.6*s, 120, 1, k)
			e.Incidence[a][garden.Lower] = scout.Incidence(s, 120, 1, k)
		}
		return e
	}
	look := scout.LookOf("eye", "sure")
	hitNow, hitAhead, tempered := 0, 0, 0
	for range runs {
		truth := draw()
		pool := make([]course, members)
		for i := range pool {
			pool[i] = draw()
		}
		l := make([]float64, members)
		for _, day := range []float64{8, 14, 20} {
			e := expect(truth, day)
			var tl garden.Tally
			for plant := range 8 {
				n := 4
				// A plant's own share, by a beta of the look's clumping.
				p := e.Incidence[garden.Old][garden.Lower]
				q := p*look.Sees + (1-p)*look.False
				th := look.Rho / (1 - look.Rho)
				own := distuv.Beta{Alpha: q / th, Beta: (1 - q) / th, Src: r}.Rand()
				tl.Counts = append(tl.Counts, garden.Count{
					Plant: plant + 1, Age: garden.Old, Face: garden.Lower, Inspected: n,
					Infected: int(distuv.Binomial{N: float64(n), P: own, Src: r}.Rand()),
				})
			}
			ready := scout.Prepare(tl)
			for i, c := range pool {
				l[i] += ready.LogLik(expect(c, day), look)
			}
		}
		w := Weigh(l, LeastESS)
		if w.Temper < 1 {
			tempered++
		}
		x := make([]float64, members)
		for _, c := range []struct {
			day float64
			hit *int
		}{{20, &hitNow}, {34, &hitAhead}} {
			for i := range pool {
				x[i] = at(pool[i], c.day)
			}
			if b := BandOf(x, w.W); b.Low <= at(truth, c.day) && at(truth, c.day) <= b.High {
				*c.hit++
			}
		}
	}
	now, ahead := float64(hitNow)/runs, float64(hitAhead)/runs
	t.Logf("80 %% band holds the truth today in %.3f, in 14 days in %.3f; tempered %.2f", now, ahead, float64(tempered)/runs)
	if now < 0.74 || now > 0.93 || ahead < 0.74 || ahead > 0.92 {
		t.Errorf("80 %% band holds the truth today in %.3f, in 14 days in %.3f", now, ahead)
	}
}

func BenchmarkWeigh(b *testing.B) {
	l := make([]float64, 500)
	for i := range l {
		l[i] = -float64(i)
	}
	for b.Loop() {
		Weigh(l, LeastESS)
	}
}
