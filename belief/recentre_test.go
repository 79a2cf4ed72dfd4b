package belief

import (
	"math"
	"testing"

	"oidium/chance"
)

// A likelihood whose posterior is known in closed form: standard normal prior,
// normal observation of the sum of two directions. The posterior of a+b given
// y with variance v is normal with mean y·2/(2+v) and variance 2v/(2+v), and the
// evidence is N(y; 0, 2+v) (conjugate normal model, textbook result).
func TestRecentreFindsTheConjugatePosterior(t *testing.T) {
	const n, dim, y, v = 400, 6, 4.5, 0.05
	ll := func(z []float64) float64 {
		d := z[0] + z[1] - y
		return -d*d/(2*v) - 0.5*math.Log(2*math.Pi*v)
	}
	stream := func(round int) func(int) *chance.Stream {
		return func(m int) *chance.Stream {
			return chance.New(chance.Key{Garden: 11, Member: m, Day: round, Process: chance.Observe})
		}
	}
	z := make([][]float64, n)
	l := make([]float64, n)
	for m := range z {
		s := stream(0)(m)
		z[m] = make([]float64, dim)
		for j := range z[m] {
			z[m][j] = s.Normal()
		}
		l[m] = ll(z[m])
	}
	w := Weigh(l, 50)
	first := w.RawESS
	for round := 1; round <= 4; round++ {
		var ratio []float64
		z, ratio = Recentre(z, w.W, stream(round))
		for m := range z {
			l[m] = ll(z[m]) + ratio[m]
		}
		w = Weigh(l, 50)
	}
	if w.RawESS < 100 || w.RawESS < 5*first {
		t.Errorf("effective members %.1f, from %.1f", w.RawESS, first)
	}
	x := make([]float64, n)
	for m := range z {
		x[m] = z[m][0] + z[m][1]
	}
	exact, sd := y*2/(2+v), math.Sqrt(2*v/(2+v))
	se := sd / math.Sqrt(w.RawESS)
	if got := mean(x, w.W); math.Abs(got-exact) > 4*se {
		t.Errorf("mean %.3f, exact %.3f (se %.3f)", got, exact, se)
	}
	want := -y*y/(2*(2+v)) - 0.5*math.Log(2*math.Pi*(2+v))
	if math.Abs(w.Evidence-want) > 0.3 {
		t.Errorf("evidence %.3f, exact %.3f", w.Evidence, want)
	}
}

// Where the looks say nothing the new members are still worth the prior.
func TestRecentreKeepsThePrior(t *testing.T) {
	const n = 500
	z := make([][]float64, n)
	even := make([]float64, n)
	for m := range z {
		s := chance.New(chance.Key{Garden: 3, Member: m})
		z[m] = []float64{s.Normal(), s.Normal()}
		even[m] = 1. / n
	}
	next, ratio := Recentre(z, even, func(m int) *chance.Stream { return chance.New(chance.Key{Garden: 4, Member: m}) })
	w := Weigh(ratio, 50)
	if w.RawESS < 0.8*n {
		t.Errorf("effective members %.0f of %d", w.RawESS, n)
	}
	x := make([]float64, n)
	for m := range next {
		x[m] = next[m][0]
	}
	if m := mean(x, w.W); math.Abs(m) > 0.2 {
		t.Errorf("mean %.3f of a standard normal prior", m)
	}
}
