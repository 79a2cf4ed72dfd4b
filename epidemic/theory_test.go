package epidemic

import (
	"math"
	"testing"

	"oidium/mildew"
)

// theory is the plain model on leaf that neither grows nor falls nor changes its
// susceptibility, with latent period 5 d and infectious period 14 d: then it is the
// delay equation of Vanderplank, or with one stage each the model of Kermack and
// McKendrick, and must give their exact results.
type theory struct {
	m   *plain
	w   mildew.Daily
	age []float64
}

const leafThere = 40 // m²/m², so that all conidia are caught

func newTheory(rc float64, g grain, start float64) *theory {
	st := stand("pea", "erysiphe-pisi", spell(1, 20, 1, 80, 0))
	g.still, g.even, g.cohorts, g.window = true, true, 2, 5
	g.hit = func(x float64) float64 { return -math.Expm1(-x) }
	x := &theory{m: newPlain(st, 0, g), age: []float64{20, 20}}
	x.m.p = Params{transmission: rc, cultivar: 1, infectious: 1, efficacy: 1, vigour: 1}
	x.w = mildew.Daily{Latent: 1. / 5, Ageing: 1. / 14, Emit: 1, Infect: [2]float64{1, 1}}
	for f := range faces {
		y := &x.m.cohort[1].face[f]
		y.healthy = leafThere * (1 - start)
		y.infect[0] = leafThere * start
	}
	return x
}

// day goes on by a day and returns the shares diseased and visible.
func (x *theory) day() (diseased, visible float64) {
	zero := make([]float64, 2)
	for range x.m.g.steps {
		x.m.part(x.w, float64(x.m.g.steps), 0, x.age, zero, make([][faces]float64, 2), zero, nil)
	}
	y := &x.m.cohort[1].face[0]
	return 1 - y.healthy/leafThere, (y.shedding() + y.spent) / leafThere
}

// rate returns the growth of disease between two days.
func (x *theory) rate(from, to int) float64 {
	a, b := 0.0, 0.0
	for i := 1; i <= to; i++ {
		y, _ := x.day()
		if i == from {
			a = y
		}
		b = y
	}
	return math.Log(b/a) / float64(to-from)
}

// hourly cuts time into hours, one stage an hour: fixed delays.
var hourly = grain{latents: 120, infects: 336, steps: 24}

// Vanderplank's delay equation, hourly, Rc 0.9, p 5, i 14, 0.001 already
// infectious: computed independently for the science notes.
func TestDelayEquation(t *testing.T) {
	x := newTheory(0.9, hourly, 0.001)
	want := map[int]float64{10: 0.0198, 20: 0.2097, 25: 0.5414, 30: 0.9032}
	for i := 1; i <= 30; i++ {
		y, seen := x.day()
		if w, ok := want[i]; ok && math.Abs(y-w) > 0.03*w {
			t.Errorf("day %d: diseased %.4f, want %.4f", i, y, w)
		}
		if i == 25 && math.Abs(seen-0.2097) > 0.03*0.2097 {
			t.Errorf("day 25: visible %.4f, want 0.2097", seen)
		}
	}
}

// r = Rc·(e^(-pr) - e^(-(p+i)r)) (Vanderplank): the model's early growth.
func TestEarlyGrowthOfTheDelayEquation(t *testing.T) {
	for _, c := range []struct{ rc, r float64 }{{0.90, 0.250}, {0.219, 0.10}, {0.579, 0.20}, {1.365, 0.30}, {10. / 14, 0.2235}} {
		if got := c.rc * (math.Exp(-5*c.r) - math.Exp(-19*c.r)); math.Abs(got-c.r) > 0.002 {
			t.Errorf("Rc %.3f: the equation gives %.4f for r %.4f", c.rc, got, c.r)
		}
		if got := newTheory(c.rc, hourly, 1e-9).rate(30, 60); math.Abs(got-c.r) > 0.002 {
			t.Errorf("Rc %.3f: the model grows by %.4f a day, want %.4f", c.rc, got, c.r)
		}
		// The grain of the program keeps the pace to a few percent.
		g := usual
		if got := newTheory(c.rc, g, 1e-9).rate(30, 60); math.Abs(got-c.r) > 0.06*c.r {
			t.Errorf("Rc %.3f: the daily model grows by %.4f a day, want %.4f", c.rc, got, c.r)
		} else {
			t.Logf("Rc %.3f: exact %.4f, daily model %.4f", c.rc, c.r, got)
		}
	}
}

// With exponential periods (r+1/p)(r+1/i) = R0/(p·i): R0 10 gives 0.2477.
func TestEarlyGrowthWithExponentialPeriods(t *testing.T) {
	if got := newTheory(10./14, grain{latents: 1, infects: 1, steps: 96}, 1e-9).rate(30, 60); math.Abs(got-0.2477) > 0.002 {
		t.Errorf("grows by %.4f a day, want 0.2477", got)
	}
}

// Final size with colonies in clumps: h = (1 + R0 z/k)^-k, the share of leaf without
// colonies when they follow a negative binomial of mean R0 z and exponent k
// (calculated). More than a quarter of the leaf stays clean at any R0 up to 5.
func TestFinalSizeInClumps(t *testing.T) {
	for _, r0 := range []float64{1.5, 2, 3, 5} {
		want := 0.5
		for range 500 {
			want = 1 - math.Pow(1+r0*want/crowding.V, -crowding.V)
		}
		x := newTheory(r0/14, grain{latents: 5, infects: 3, steps: 8}, 1e-5)
		x.m.g.even = false
		z := 0.0
		for range 900 {
			z, _ = x.day()
		}
		if math.Abs(z-want) > 0.003 {
			t.Errorf("R0 %g: %.4f diseased in the end, want %.4f", r0, z, want)
		}
	}
}

// Final size: 1-z = exp(-R0 z), whatever the periods (Segarra, Jeger & van den
// Bosch 2001).
func TestFinalSize(t *testing.T) {
	for _, c := range []struct{ r0, z float64 }{{1.5, 0.5828}, {2, 0.7968}, {3, 0.9405}, {5, 0.9930}} {
		for _, g := range []grain{{latents: 5, infects: 3, steps: 8}, {latents: 1, infects: 1, steps: 8}, {latents: 20, infects: 28, steps: 8}} {
			x := newTheory(c.r0/14, g, 1e-5)
			z := 0.0
			for range 700 {
				z, _ = x.day()
			}
			if math.Abs(z-c.z) > 0.002 {
				t.Errorf("R0 %g, %d and %d stages: %.4f diseased in the end, want %.4f", c.r0, g.latents, g.infects, z, c.z)
			}
		}
	}
}
