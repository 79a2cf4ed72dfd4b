package epidemic

import (
	"context"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"oidium/garden"
)

func run(t interface{ Fatal(args ...any) }, st *Stand, members, workers int) *Ensemble {
	e, err := Run(context.Background(), st, members, workers)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// drawnEffects draws actions on some days of the run.
func drawnEffects(t *rapid.T, st *Stand) []garden.Effect {
	var out []garden.Effect
	share := rapid.Float64Range(0, 1)
	for range rapid.IntRange(0, 12).Draw(t, "effects") {
		day := st.Start + garden.Day(rapid.IntRange(0, st.Drivers.days()-1).Draw(t, "day"))
		e := garden.Effect{Day: day}
		switch rapid.IntRange(0, 2).Draw(t, "kind") {
		case 0:
			e.Stop = [2]float64{share.Draw(t, "up"), share.Draw(t, "down")}
			e.Since = day - garden.Day(rapid.IntRange(0, 14).Draw(t, "since"))
		case 1:
			e.Kill = [2]float64{share.Draw(t, "up"), share.Draw(t, "down")}
			e.Since = day
		default:
			e.Remove = [3]float64{share.Draw(t, "young"), share.Draw(t, "middle"), share.Draw(t, "old")}
		}
		out = append(out, e)
	}
	return out
}

func sumOf(f *face) float64 {
	sum := 0.0
	for _, x := range f {
		sum += x
	}
	return sum
}

// Leaf area is conserved: what unfolded stands, was taken off, or fell; both
// faces of a cohort have the same area; nothing is negative.
func TestLeafAreaIsConserved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		air := spell(rapid.IntRange(30, 90).Draw(t, "days"), rapid.Float64Range(8, 32).Draw(t, "mean"), 6, 80, 5)
		st := stand("cucumber", "podosphaera-xanthii", air)
		st.Effects = drawnEffects(t, st)
		e, err := Run(context.Background(), st, 4, 1)
		if err != nil {
			t.Fatal(err)
		}
		for m := range e.saved {
			s := &e.saved[m]
			standing := 0.0
			for c := range s.leaf {
				up, down := sumOf(&s.leaf[c][0]), sumOf(&s.leaf[c][1])
				if math.Abs(up-down) > 1e-12*(1+up) || math.Abs(up-s.area[c]) > 1e-12*(1+up) {
					t.Fatalf("cohort %d: faces %g and %g, area %g", c, up, down, s.area[c])
				}
				standing += up
				for f := range s.leaf[c] {
					for i, x := range s.leaf[c][f] {
						if x < 0 || math.IsNaN(x) {
							t.Fatalf("cohort %d face %d state %d is %g", c, f, i, x)
						}
					}
				}
			}
			if got := standing + s.taken + s.fallen; math.Abs(got-s.grown) > 1e-12*(1+s.grown) {
				t.Fatalf("standing + taken + fallen = %.15g, unfolded %.15g", got, s.grown)
			}
		}
	})
}

func TestWorkersChangeNothing(t *testing.T) {
	st := stand("pumpkin", "podosphaera-xanthii", spell(80, 22, 6, 80, 6))
	one, many := run(t, st, 37, 1), run(t, st, 37, 5)
	if d := cmp.Diff(one.records, many.records, cmp.AllowUnexported(record{})); d != "" {
		t.Error(d)
	}
}

// A trial without further effects gives what the run gave.
func TestTryContinuesTheRun(t *testing.T) {
	air := spell(90, 23, 6, 80, 6)
	st := stand("cucumber", "podosphaera-xanthii", air)
	all := st.Drivers.Known
	st.Drivers.Known = all[:70]
	st.Drivers.KnownAir = air[:70]
	st.Drivers.Ahead = append(st.Drivers.Ahead, all[70:], all[50:70])
	e := run(t, st, 20, 2)
	from := st.Start + 70
	same, err := e.Try(context.Background(), from, nil, []int{3, 4, 11}, 2)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range []int{3, 4, 11} {
		for day := from; day <= st.Start+90; day++ {
			if d := cmp.Diff(e.At(m, day), same.At(m, day)); d != "" {
				t.Fatalf("member %d on %s: %s", m, day, d)
			}
		}
	}
	stop := make([]garden.Effect, 20)
	for i := range stop {
		stop[i] = garden.Effect{Day: from + garden.Day(i), Stop: [2]float64{0.9, 0.9}}
	}
	less, err := e.Try(context.Background(), from, stop, nil, 2)
	if err != nil {
		t.Fatal(err)
	}
	a, b := 0.0, 0.0
	for m := range 20 {
		a += e.At(m, st.Start+90).Severity
		b += less.At(m, st.Start+90).Severity
	}
	if !(b < 0.7*a) || a == 0 {
		t.Errorf("with nine tenths of infection stopped severity is %g, without %g", b/20, a/20)
	}
}

func BenchmarkRun(b *testing.B) {
	st := stand("cucumber", "podosphaera-xanthii", spell(110, 22, 6, 78, 6))
	b.ReportAllocs()
	for b.Loop() {
		run(b, st, 200, 1)
	}
}
