package epidemic

import (
	"context"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"oidium/garden"
	"oidium/mildew"
)

func run(t interface{ Fatal(args ...any) }, st *Stand, members, workers int) *Ensemble {
	e, err := RunAt(context.Background(), st, drawn(st, members), workers)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// drawn returns the positions of the first members.
func drawn(st *Stand, members int) []Position {
	z := make([]Position, members)
	for m := range z {
		z[m] = Draw(st, m)
	}
	return z
}

// drawnEffects draws actions on some days of the run.
func drawnEffects(t *rapid.T, st *Stand) []garden.Effect {
	var out []garden.Effect
	share := rapid.Float64Range(0, 1)
	for range rapid.IntRange(0, 12).Draw(t, "effects") {
		day := st.Start + garden.Day(rapid.IntRange(0, st.Drivers.days()-1).Draw(t, "day"))
		e := garden.Effect{Day: day}
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 3:
			e.Pick = share.Draw(t, "picked")
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
		e, err := RunAt(context.Background(), st, drawn(st, 4), 1)
		if err != nil {
			t.Fatal(err)
		}
		for m := range e.saved {
			var s state
			s.resume(&e.saved[m])
			standing := 0.0
			for c := range s.leaf {
				y := &s.leaf[c]
				up, down := sumOf(&y.face[0]), sumOf(&y.face[1])
				if math.Abs(up-down) > 1e-12*(1+up) || math.Abs(up-y.area) > 1e-12*(1+up) {
					t.Fatalf("cohort %d: faces %g and %g, area %g", c, up, down, y.area)
				}
				standing += y.left * up
				for f := range y.face {
					for i, x := range y.face[f] {
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

// burden is the mean mildewed area (m² a m² of ground, both faces) on the last
// morning, which removals lower even where they raise the share.
func burden(e *Ensemble) float64 {
	_, last := e.Span()
	sum := 0.0
	for m := range len(e.params) {
		r := e.At(m, last)
		sum += r.Severity * 2 * (r.Area[0] + r.Area[1] + r.Area[2]) / float64(len(e.params))
	}
	return sum
}

// More of an action never gives more mildew: leaves taken off, infection stopped,
// colonies killed.
func TestMoreActionLessMildew(t *testing.T) {
	air := spell(75, 22, 6, 80, 7)
	st := stand("cucumber", "podosphaera-xanthii", air)
	st.Mildew = certain(st.Mildew)
	all := st.Drivers.Known
	st.Drivers.Known, st.Drivers.Ahead = all[:55], [][]mildew.Daily{all[55:]}
	e := run(t, st, 60, 2)
	rapid.Check(t, func(t *rapid.T) {
		from := st.Start + 55
		day := from + garden.Day(rapid.IntRange(0, 8).Draw(t, "day"))
		a, b := rapid.Float64Range(0, 1).Draw(t, "a"), rapid.Float64Range(0, 1).Draw(t, "b")
		if a > b {
			a, b = b, a
		}
		kind := rapid.SampledFrom([]string{"remove", "stop", "kill"}).Draw(t, "kind")
		try := func(x float64) float64 {
			eff := garden.Effect{Day: day}
			switch kind {
			case "remove":
				eff.Remove = [3]float64{0, x, x}
			case "stop":
				eff.Stop = [2]float64{x, x}
			default:
				eff.Kill = [2]float64{x, x}
			}
			r, err := e.Try(context.Background(), from, []garden.Effect{eff}, nil, 2)
			if err != nil {
				t.Fatal(err)
			}
			return burden(r)
		}
		// What dies infectious stays visible as spent leaf, so killing is judged by
		// what still sheds; the others by all mildewed leaf.
		less, more := try(a), try(b)
		if kind == "kill" {
			return
		}
		if more > less*(1+1e-6) {
			t.Fatalf("%s %.3f gives %.6f, %.3f gives %.6f", kind, a, less, b, more)
		}
	})
	shed := func(x float64) float64 {
		r, err := e.Try(context.Background(), st.Start+55, []garden.Effect{{Day: st.Start + 56, Kill: [2]float64{x, x}}}, nil, 2)
		if err != nil {
			t.Fatal(err)
		}
		inf := r.MeanInfectious(nil)
		return inf[len(inf)-1]
	}
	before := shed(0)
	for _, x := range []float64{0.2, 0.5, 0.8, 1} {
		now := shed(x)
		if now >= before {
			t.Errorf("killing %.1f leaves %.5f shedding, less killed %.5f", x, now, before)
		}
		before = now
	}
}

// One day hotter than lethal leaves less mildew, and the hotter the less.
func TestHotterThanLethalIsLess(t *testing.T) {
	severity := func(peak float32) float64 {
		air := spell(60, 22, 5, 75, 0)
		for i := 11; i < 16; i++ {
			air[50].T[i] = peak
		}
		st := stand("cucumber", "podosphaera-xanthii", air)
		st.Mildew = certain(st.Mildew)
		e := run(t, st, 30, 2)
		inf := e.MeanInfectious(nil)
		return inf[len(inf)-1]
	}
	before := severity(30)
	for _, peak := range []float32{38, 40, 42, 44} {
		now := severity(peak)
		if now > before {
			t.Errorf("after a noon of %.0f °C %.5f sheds, after a cooler one %.5f", peak, now, before)
		}
		before = now
	}
	if a, b := severity(30), severity(44); b > 0.1*a {
		t.Errorf("a noon of 44 °C leaves %.5f of %.5f", b, a)
	}
}

// Constant temperature: a hump, 25 °C above 16 °C and above days with many
// leaf-hours beyond 32 °C; the cool species' hump lies lower.
func TestTemperatureIsHumped(t *testing.T) {
	at := func(id garden.MildewID, temp float64) float64 {
		air := spell(60, temp, 0, 85, 0)
		for i := range air {
			air[i].Sun = nil
		}
		st := stand("cucumber", id, air)
		// Growth of the host is held apart: all grow as at 22 °C.
		for i := range st.Drivers.Known {
			st.Drivers.Known[i].Warmth = 12
		}
		st.Mildew = certain(st.Mildew)
		return burden(run(t, st, 30, 2))
	}
	best := func(id garden.MildewID) float64 {
		top, where := -1.0, 0.0
		var y []float64
		for c := 8.0; c <= 36; c++ {
			v := at(id, c)
			y = append(y, v)
			if v > top {
				top, where = v, c
			}
		}
		falling := false
		for i := 1; i < len(y); i++ {
			switch {
			case y[i] < y[i-1]*0.999-1e-9:
				falling = true
			case falling && y[i] > y[i-1]*1.01+1e-6:
				t.Errorf("%s: rises again at %d °C", id, 8+i)
			}
		}
		return where
	}
	if a, b, c := at("podosphaera-xanthii", 25), at("podosphaera-xanthii", 16), at("podosphaera-xanthii", 33); !(a > 2*b && a > 2*c) {
		t.Errorf("warm species: 25 °C %.4f, 16 °C %.4f, 33 °C %.4f", a, b, c)
	}
	warm, cool := best("podosphaera-xanthii"), best("golovinomyces-orontii")
	if warm < 22 || warm > 27 || cool > warm-3 {
		t.Errorf("best temperature: warm species %.0f °C, cool species %.0f °C", warm, cool)
	}
}

// An unrelated stand in the garden changes nothing; members with the same number
// share the garden's parameters, not the bed's.
func TestStandsAreApart(t *testing.T) {
	air := spell(60, 22, 6, 80, 7)
	a := stand("cucumber", "podosphaera-xanthii", air)
	alone := run(t, a, 10, 1)
	b := stand("zinnia", "golovinomyces-spadiceus", air)
	b.Key.Bed = "b"
	run(t, b, 10, 1)
	again := run(t, a, 10, 1)
	if d := cmp.Diff(alone.records, again.records, cmp.AllowUnexported(record{})); d != "" {
		t.Error(d)
	}
	other := *a
	other.Key.Bed = "c"
	for m := range 10 {
		x, y := Draw(a, m), Draw(&other, m)
		for i := range x {
			own := Names()[i].Bed
			if own == (x[i] == y[i]) {
				t.Errorf("member %d, %s: beds share it: %v", m, Names()[i].Name, x[i] == y[i])
			}
		}
	}
}

// Conidia are spread over the plane and none is lost: the gradient integrates to
// one bed's own share. Relative density by distance, modified Gregory with b 2.5,
// c 0.5 (form: Mundt & Leonard; numbers by hand).
func TestGradient(t *testing.T) {
	y := func(x float64) float64 {
		return Inflow([]Source{{Infectious: []float64{1}, Ground: 1, Distance: x}}, 1)[0]
	}
	for _, c := range []struct{ x, want float64 }{{1, 0.0642}, {5, 0.00249}, {20, 9.29e-5}} {
		if got := y(c.x) / y(0); math.Abs(got-c.want) > 0.01*c.want {
			t.Errorf("at %g m %.4g, want %.4g", c.x, got, c.want)
		}
	}
	// In rings of growing width, in polar coordinates.
	sum := 0.0
	for x := 0.0; x < 1e7; {
		w := 0.001 * (1 + x)
		sum += 2 * math.Pi * (x + w/2) * w * y(x+w/2)
		x += w
	}
	if want := 1 / ownShare.V; math.Abs(sum-want) > 0.01*want {
		t.Errorf("over the plane %.4f, want %.4f", sum, want)
	}
}

// seized against the exponential of the standard library.
func TestSeized(t *testing.T) {
	for x := 0.0; x < 30; x += 0.0007 {
		want := -math.Expm1(-x)
		if got := seized(x); math.Abs(got-want) > 5e-6*want || got < 0 || got > 1 {
			t.Fatalf("at %g: %.9g, want %.9g", x, got, want)
		}
	}
}

// The count of colonies has the mean it should and never falls with the mean.
func TestCount(t *testing.T) {
	for _, mean := range []float64{0.01, 0.3, 2, 9, 40} {
		sum := 0.0
		const n = 20000
		for i := range n {
			sum += count((float64(i)+0.5)/n, mean) / n
		}
		if math.Abs(sum-mean) > 0.02*mean {
			t.Errorf("mean %.4f, want %g", sum, mean)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.Float64Range(0.001, 0.999).Draw(t, "u")
		a := rapid.Float64Range(0, 15).Draw(t, "a")
		b := a + rapid.Float64Range(0, 1).Draw(t, "more")
		if count(u, b) < count(u, a) {
			t.Fatalf("u %g: mean %g gives %g, mean %g gives %g", u, a, count(u, a), b, count(u, b))
		}
	})
}
