package work

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"oidium/garden"
	"oidium/host"
	"oidium/mildew"

	"gonum.org/v1/gonum/stat/distuv"
)

// The score of a normal ensemble is that of the closed form of Gneiting & Raftery
// 2007, eq. 21: σ [z (2Φ(z) − 1) + 2φ(z) − 1/√π].
func TestCRPS(t *testing.T) {
	n := distuv.Normal{Mu: 3, Sigma: 2}
	x := make([]float64, 4000)
	for i := range x {
		x[i] = n.Quantile((float64(i) + 0.5) / float64(len(x)))
	}
	for _, y := range []float64{-3, 1, 3, 3.7, 9} {
		z := (y - n.Mu) / n.Sigma
		want := n.Sigma * (z*(2*distuv.UnitNormal.CDF(z)-1) + 2*distuv.UnitNormal.Prob(z) - 1/math.Sqrt(math.Pi))
		if got := crps(x, y); math.Abs(got-want) > 0.003 {
			t.Errorf("of %g: %.4f, want %.4f", y, got, want)
		}
	}
	if got := crps([]float64{5}, 3); got != 2 {
		t.Errorf("of one member it is the distance, not %g", got)
	}
}

// The growth rate solves the equation of van der Plank 1963: it is nought where a
// colony leaves just one behind (iR = 1), and without an end of infectiousness it
// is W(bL)/L, of which W(1) = 0.5671 (the omega constant).
func TestGrowthRate(t *testing.T) {
	if r := growthRate(0.2, 0.2, 0); math.Abs(r-0.56714329*0.2) > 1e-6 {
		t.Errorf("b 0.2, latent 5 d, infectious for ever: %g", r)
	}
	if r := growthRate(0.1, 0.2, 0.1); math.Abs(r) > 1e-6 {
		t.Errorf("one new colony for each: %g", r)
	}
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.Float64Range(0.01, 3).Draw(t, "b")
		lag := rapid.Float64Range(1, 40).Draw(t, "latent days")
		length := rapid.Float64Range(3, 60).Draw(t, "infectious days")
		r := growthRate(b, 1/lag, 1/length)
		if (r > 0) != (b*length > 1) && math.Abs(b*length-1) > 1e-6 {
			t.Fatalf("r %g where each colony leaves %g", r, b*length)
		}
		if r > -1.9 && r < 4.9 {
			if left := b * math.Exp(-r*lag) * -math.Expm1(-r*length) / r; math.Abs(left-1) > 1e-4 && math.Abs(r) > 1e-6 {
				t.Fatalf("%g instead of 1", left)
			}
		}
		if more := growthRate(1.1*b, 1/lag, 1/length); more < r {
			t.Fatal("more transmission, less growth")
		}
	})
}

// Set points follow the science: the mildew of grape is fastest near 25 °C (Caffi
// 2011: shortest latency at 24.2 °C) and stops in heat; germination of the one of
// cucurbits that loves damp is slower in dry air (Sapak 2023).
func TestSetpointsFollowTheMildew(t *testing.T) {
	grape, _ := host.Get("grape")
	necator := mildew.Of(grape.ID)[0]
	best, at := 0.0, 0.0
	for temp := 10.0; temp <= 36; temp++ {
		if r := speedOf(grape, necator, temp, 80).Rate; r > best {
			best, at = r, temp
		}
	}
	if at < 22 || at > 28 {
		t.Errorf("mildew of grape is fastest at %g °C", at)
	}
	if hot := speedOf(grape, necator, 36, 80); hot.Rate > 0.2*best {
		t.Errorf("at 36 °C it still grows: %+v", hot)
	}
	cucumber, _ := host.Get("cucumber")
	xanthii, ok := mildew.Get("podosphaera-xanthii")
	if !ok {
		t.Fatal("the row of Podosphaera xanthii is gone")
	}
	if dry, damp := speedOf(cucumber, xanthii, 24, 50), speedOf(cucumber, xanthii, 24, 95); dry.Rate >= damp.Rate {
		t.Errorf("%s: dry %+v, damp %+v", xanthii.Name, dry, damp)
	}
	p := pairOf(cucumber, mildew.Of(cucumber.ID), 26, 40)
	q := pairOf(cucumber, mildew.Of(cucumber.ID), 26, 80)
	if !(p.Pores < q.Pores && p.Water > q.Water && p.VPD > q.VPD) || p.Wet || q.Wet {
		t.Errorf("%+v %+v", p, q)
	}
	// Deficit at 26 °C and 40 %: 0.6 e0(26) = 0.6 × 3.361 kPa (FAO-56 annex table 2.3).
	if math.Abs(p.VPD-0.6*3.361) > 0.01 {
		t.Errorf("deficit %g kPa", p.VPD)
	}
}

// A degree of latitude is 60 nautical miles of 1.852 km.
func TestApart(t *testing.T) {
	if d := apart(52, 5, 53, 5); math.Abs(d-60*1.852) > 0.2 {
		t.Errorf("%g km", d)
	}
	if d := apart(60, 5, 60, 7); math.Abs(d-60*1.852) > 0.3 {
		t.Errorf("%g km", d)
	}
	if d := apart(0, 179, 0, -179); math.Abs(d-2*60*1.852) > 0.4 {
		t.Errorf("%g km across the date line", d)
	}
}

// A forecast counts on the first morning, 06:00 there, at or after its issue.
func TestCountsFrom(t *testing.T) {
	loc, err := time.LoadLocation("Pacific/Auckland")
	if err != nil {
		t.Fatal(err)
	}
	d, err := garden.ParseDay("2001-01-10")
	if err != nil {
		t.Fatal(err)
	}
	for off, want := range map[time.Duration]garden.Day{-time.Hour: d, 0: d, time.Second: d + 1, -23 * time.Hour: d, 20 * time.Hour: d + 1} {
		if got := countsFrom(d.At(6, loc).Add(off), loc); got != want {
			t.Errorf("issued %v after the morning of %s: %s, want %s", off, d, got, want)
		}
	}
}
