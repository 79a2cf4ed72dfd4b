package epidemic

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"oidium/garden"
	"oidium/mildew"
)

// The fast step gives what the plain model gives, on drawn seasons with drawn
// actions, heat, cold, rain and lamps.
func TestFastEqualsPlain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pair := rapid.SampledFrom([]struct {
			crop garden.CropID
			m    garden.MildewID
		}{
			{"cucumber", "podosphaera-xanthii"},
			{"pumpkin", "golovinomyces-orontii"},
			{"rose", "podosphaera-pannosa"},
			{"grape", "erysiphe-necator"},
			{"tomato", "pseudoidium-neolycopersici"},
		}).Draw(t, "stand")
		air := spell(rapid.IntRange(20, 120).Draw(t, "days"), rapid.Float64Range(10, 30).Draw(t, "mean"), rapid.Float64Range(2, 9).Draw(t, "swing"),
			rapid.Float64Range(50, 95).Draw(t, "moist"), rapid.IntRange(0, 9).Draw(t, "rain"))
		if rapid.Bool().Draw(t, "lamps") {
			for i := range air {
				if i%4 == 0 {
					air[i].UVC = 5
				}
			}
		}
		st := stand(pair.crop, pair.m, air)
		st.Ground = rapid.Float64Range(1, 200).Draw(t, "ground")
		st.Effects = drawnEffects(t, st)
		if rapid.Bool().Draw(t, "neighbours") {
			st.Inflow = rapid.SliceOfN(rapid.Float64Range(0, 0.01), 10, 40).Draw(t, "inflow")
		}
		const members = 3
		e := run(t, st, members, 1)
		for k := range members {
			ref := newPlain(st, k, usual)
			ref.run()
			for i, want := range ref.records {
				got := e.At(k, st.Start+garden.Day(i+1))
				// Records are kept in single precision.
				same := func(what string, a, b float64) {
					if math.Abs(a-b) > 1e-6*math.Abs(b)+1e-9 {
						t.Fatalf("member %d, day %d, %s: fast %.9g, plain %.9g", k, i, what, a, b)
					}
				}
				same("severity", got.Severity, want.Severity)
				same("infectious", got.Infectious, want.Infectious)
				for a := range want.Area {
					same("area", got.Area[a], want.Area[a])
					for f := range faces {
						same("mildewed", got.Mildewed[a][f], want.Mildewed[a][f])
					}
				}
			}
		}
	})
}

// Finer cohorts, stages and steps change little, and the finer the less: the
// pace of an epidemic is a property of the model, not of its grain.
func TestRefinementConverges(t *testing.T) {
	air := spell(100, 21, 6, 82, 6)
	for _, x := range []struct {
		crop garden.CropID
		id   garden.MildewID
	}{{"cucumber", "golovinomyces-orontii"}, {"zinnia", "golovinomyces-spadiceus"}} {
		st := stand(x.crop, x.id, air)
		st.Mildew = certain(st.Mildew)
		logit := func(g grain) float64 {
			m := newPlain(st, 5, g)
			m.run()
			// The day on which severity passes one percent tells the pace.
			for i, r := range m.records {
				if r.Severity > 0.01 {
					before := m.records[i-1].Severity
					return float64(i) - math.Log(r.Severity/0.01)/math.Log(r.Severity/before)
				}
			}
			t.Fatal("no epidemic")
			return 0
		}
		day := logit(usual)
		finer := func(change func(g *grain)) grain {
			g := usual
			change(&g)
			return g
		}
		for _, y := range []struct {
			name   string
			most   float64 // days
			change func(g *grain)
		}{
			{"steps", 1.5, func(g *grain) { g.steps = 8 }},
			{"steps and stages", 1, func(g *grain) { g.steps, g.latents, g.infects = 8, 20, 12 }},
			{"cohorts", 0.5, func(g *grain) { g.cohorts, g.window = 50, 1 }},
			{"exponential", 0.01, func(g *grain) { g.hit = func(x float64) float64 { return -math.Expm1(-x) } }},
		} {
			d := logit(finer(y.change)) - day
			t.Logf("%s: finer %s move day %.1f by %+.2f", x.crop, y.name, day, d)
			if math.Abs(d) > y.most {
				t.Errorf("%s: one percent is passed %.2f days later with finer %s", x.crop, d, y.name)
			}
		}
		at := func(steps int) float64 { return logit(finer(func(g *grain) { g.steps = steps })) }
		coarse, fine := math.Abs(at(8)-day), math.Abs(at(16)-at(8))
		if fine > coarse/2+0.05 {
			t.Errorf("%s: from 1 to 8 steps a day %.3f d, from 8 to 16 %.3f d: no convergence", x.crop, coarse, fine)
		}
	}
}

// certain is a mildew whose colonies come early and are many, so that luck has no
// say.
func certain(p *mildew.Pathosystem) *mildew.Pathosystem {
	q := *p
	q.Arrival.V, q.Arrival.Lo, q.Arrival.Hi = 5, 5, 5
	return &q
}
