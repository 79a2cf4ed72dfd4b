package chance

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

func TestEveryPartOfTheKeyMatters(t *testing.T) {
	base := Key{Garden: 7, Season: 2000, Pathosystem: "podosphaera-xanthii", Bed: "a", Member: 3, Process: Arrival, Day: 5}
	changed := []Key{base, base, base, base, base, base, base}
	changed[0].Garden++
	changed[1].Season++
	changed[2].Pathosystem = "x"
	changed[3].Bed = "b"
	changed[4].Member++
	changed[5].Process = Weather
	changed[6].Day++
	first := New(base).Uint64()
	if again := New(base).Uint64(); again != first {
		t.Fatalf("same key, other number: %d and %d", first, again)
	}
	seen := map[uint64]int{first: -1}
	for i, k := range changed {
		x := New(k).Uint64()
		if j, ok := seen[x]; ok {
			t.Errorf("keys %d and %d share a stream", i, j)
		}
		seen[x] = i
	}
}

// Neighbouring members must not be correlated: the key, not the position in one
// long stream, tells them apart.
func TestMembersAreIndependent(t *testing.T) {
	const n = 20000
	x, y := make([]float64, n), make([]float64, n)
	for i := range n {
		x[i] = New(Key{Member: i, Process: Parameters}).Normal()
		y[i] = New(Key{Member: i + 1, Process: Parameters}).Normal()
	}
	if r := stat.Correlation(x, y, nil); math.Abs(r) > 4/math.Sqrt(n) {
		t.Errorf("correlation of neighbours %.4f", r)
	}
}

// Moments against gonum's own distributions (reference library).
func TestMomentsAgainstGonum(t *testing.T) {
	const n = 200000
	s := New(Key{Garden: 1})
	for _, g := range []struct{ shape, scale float64 }{{0.6, 3}, {1, 2}, {4.5, 0.5}} {
		x := make([]float64, n)
		for i := range x {
			x[i] = s.Gamma(g.shape, g.scale)
		}
		want := distuv.Gamma{Alpha: g.shape, Beta: 1 / g.scale}
		if m := stat.Mean(x, nil); math.Abs(m-want.Mean()) > 5*want.StdDev()/math.Sqrt(n) {
			t.Errorf("gamma(%v, %v): mean %v, want %v", g.shape, g.scale, m, want.Mean())
		}
	}
	x := make([]float64, n)
	for i := range x {
		x[i] = s.Normal()
	}
	m, sd := stat.MeanStdDev(x, nil)
	if math.Abs(m) > 5/math.Sqrt(n) || math.Abs(sd-1) > 5/math.Sqrt(2*n) {
		t.Errorf("normal: mean %v sd %v", m, sd)
	}
}
