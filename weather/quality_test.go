package weather

import (
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func kinds(q Quality) map[Kind]int {
	n := make(map[Kind]int)
	for _, f := range q.Findings {
		n[f.Kind]++
	}
	return n
}

// A good year of a national station passes without a word but for the few hours
// in which its air really stood still.
func TestGoodYearPasses(t *testing.T) {
	s, _, _ := deBilt(t)
	got, q := Check(s, nil, 52.1, 5.18)
	for _, f := range q.Findings {
		t.Logf("%+v", f)
		if f.Kind != Stuck || f.Hours > 30 {
			t.Errorf("found %+v", f)
		}
	}
	if q.Known[Temp] != 8784 || q.Doubtful[Temp] > 48 {
		t.Errorf("%+v", q)
	}
	for v := range got.V {
		for i := range got.V[v] {
			if got.V[v][i] != s.V[v][i] {
				t.Fatalf("%v %d was changed", Var(v), i)
			}
		}
	}
}

func TestFindings(t *testing.T) {
	for _, c := range []struct {
		what string
		harm func(s *Series) *Series
		want Kind
		v    Var
		text string
	}{
		{"impossible", func(s *Series) *Series { s.V[Temp][4000] = 123; return s }, OutOfRange, Temp, "cannot be true"},
		{"negative rain", func(s *Series) *Series { s.V[Rain][4000] = -5; return s }, OutOfRange, Rain, "cannot be true"},
		{"impossible humidity", func(s *Series) *Series { s.V[RH][4000] = 131; return s }, OutOfRange, RH, "cannot be true"},
		{"spike", func(s *Series) *Series { s.V[Temp][4000] += 15; return s }, Spike, Temp, "jump"},
		{"stuck", func(s *Series) *Series {
			for i := 4000; i < 4060; i++ {
				s.V[Temp][i] = 18.5
			}
			return s
		}, Stuck, Temp, "stands still"},
		{"stuck at dry", func(s *Series) *Series {
			for i := 4000; i < 4060; i++ {
				s.V[RH][i] = 37
			}
			return s
		}, Stuck, RH, "stands still"},
		{"soaked sensor", func(s *Series) *Series {
			for i := 4000; i < 4300; i++ {
				s.V[RH][i] = 100
			}
			return s
		}, Stuck, RH, "stands still"},
		{"gap", func(s *Series) *Series {
			for i := 4000; i < 4010; i++ {
				s.Set(Wind, i, 0, Missing)
			}
			return s
		}, Gap, Wind, "longest gap 10 h"},
		{"light by night", func(s *Series) *Series { s.V[Rad][4008] = 700; s.V[Rad][4009] = 700; return s }, TooBright, Rad, "more light"},
		{"clock an hour fast", func(s *Series) *Series { s.Start = s.Start.Add(time.Hour); return s }, Clock, Rad, "fast"},
		{"clock two hours slow", func(s *Series) *Series { s.Start = s.Start.Add(-2 * time.Hour); return s }, Clock, Rad, "slow"},
		{"blocked gauge", func(s *Series) *Series {
			for i := 4000; i < 4000+70*24; i++ {
				s.V[Rain][i] = 0
			}
			return s
		}, NoRain, Rain, "rain: none for"},
		{"in the sun", func(s *Series) *Series {
			for i, r := range s.V[Rad] {
				s.V[Temp][i] += r / 40
			}
			return s
		}, SunHeated, Temp, "in the sun"},
	} {
		s, _, _ := deBilt(t)
		got, q := Check(c.harm(s), nil, 52.1, 5.18)
		var f *Finding
		for i := range q.Findings {
			if q.Findings[i].Kind == c.want && q.Findings[i].Var == c.v {
				f = &q.Findings[i]
				break
			}
		}
		if f == nil {
			t.Errorf("%s: not found among %v", c.what, kinds(q))
			continue
		}
		text := ""
		for _, w := range q.Warnings() {
			if w.Code == "weather-"+string(c.want) {
				text += w.Text
			}
		}
		if !strings.Contains(text, c.text) {
			t.Errorf("%s: says %q", c.what, text)
		}
		switch c.want {
		case OutOfRange:
			if got.F[c.v][4000] != Missing {
				t.Errorf("%s: kept", c.what)
			}
		case Spike:
			if got.F[Temp][4000] != Doubtful || got.F[Temp][3999] != Measured {
				t.Errorf("%s: flags %v", c.what, got.F[Temp][3998:4003])
			}
		case Clock:
			want := map[string]float64{"clock an hour fast": 1, "clock two hours slow": -2}[c.what]
			near(t, c.what, f.Value, want, 0.55)
		}
	}
}

// A bare thermometer is found by the screened one beside it even where its range
// alone would not give it away.
func TestBareThermometerBesideAScreen(t *testing.T) {
	s, _, _ := deBilt(t)
	bare := s.Clone()
	for i, r := range s.V[Rad] {
		bare.V[Temp][i] += 0.008 * r
		bare.Set(Rad, i, 0, Missing)
	}
	_, q := Check(bare, s, 52.1, 5.18)
	if kinds(q)[SunHeated] != 1 {
		t.Errorf("%v", kinds(q))
	}
	for _, f := range q.Findings {
		if f.Kind == SunHeated {
			near(t, "excess in full sun", f.Value, 8, 0.5)
		}
	}
	if _, q = Check(s, s, 52.1, 5.18); kinds(q)[SunHeated] != 0 {
		t.Error("the screened one is called bare")
	}
}

func TestCheckKeepsItsPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSeries(t)
		got, q := Check(s, nil, rapid.Float64Range(-90, 90).Draw(t, "lat"), rapid.Float64Range(-180, 180).Draw(t, "lon"))
		if got.Len() != s.Len() || q.Hours != s.Len() {
			t.Fatal("length")
		}
		for v := range got.V {
			n := 0
			for i, x := range got.V[v] {
				if (x != x) != (got.F[v][i] == Missing) {
					t.Fatalf("%v flagged %v", x, got.F[v][i])
				}
				if x == x {
					n++
					if !Var(v).Possible(float64(x)) {
						t.Fatalf("%v %v passed", Var(v), x)
					}
				}
			}
			if n != q.Known[v] {
				t.Fatalf("known %d of %d", q.Known[v], n)
			}
		}
		for _, f := range q.Findings {
			if f.Hours < 1 || f.From.Before(s.Start) || f.From.Add(time.Duration(f.Hours)*time.Hour).After(s.End()) {
				t.Fatalf("%+v", f)
			}
		}
	})
	// Without a place nothing that needs the sun is said, and nothing breaks.
	s, _, _ := deBilt(t)
	s.Start = s.Start.Add(5 * time.Hour)
	if _, q := Check(s, nil, math.NaN(), math.NaN()); kinds(q)[Clock] != 0 {
		t.Error("clock judged without a place")
	}
}
