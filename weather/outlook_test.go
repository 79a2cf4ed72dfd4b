package weather

import (
	"math"
	"testing"
	"time"

	"oidium/chance"

	"gonum.org/v1/gonum/stat"
)

// The spread about a forecast grows with lead time up to that of weather without
// a forecast, and the mean moves from the forecast to the ordinary.
func TestErrorGrowsWithLeadTime(t *testing.T) {
	c := Coarse(52, 0, true)
	g := NewGenerator(c, nil, 52, 5)
	from := time.Date(2001, 7, 1, 4, 0, 0, 0, time.UTC)
	f := Outlook{Issued: from, Series: NewSeries(from, 10*24)}
	for i := range f.Series.Len() {
		f.Series.Set(Temp, i, 27, Forecast)
		f.Series.Set(RH, i, 40, Forecast)
		f.Series.Set(Rain, i, 1, Forecast)
		f.Series.Set(Wind, i, 3, Forecast)
		f.Series.Set(Rad, i, 100, Forecast)
	}
	a := g.Around(f, from, 14*24)
	const n = 300
	hour := func(lead int, v Var) (m, sd float64) {
		var x []float64
		for k := range n {
			x = append(x, float64(a.Draw(stream(k)).V[v][lead]))
		}
		return stat.MeanStdDev(x, nil)
	}
	// The same hour of the day, so that only lead time differs.
	m1, s1 := hour(10, Temp)
	m4, s4 := hour(10+3*24, Temp)
	m9, s9 := hour(10+8*24, Temp)
	_, free := hour(10+12*24, Temp)
	if !(s1 < s4 && s4 < s9) || s1 < 0.3 || s9 > 1.15*free {
		t.Errorf("spread %.2f, %.2f, %.2f, without forecast %.2f K", s1, s4, s9, free)
	}
	if math.Abs(m1-27) > 1.2 || !(m1 > m4 && m4 > m9) {
		t.Errorf("means %.1f, %.1f, %.1f of a forecast of 27", m1, m4, m9)
	}
	_, h1 := hour(10, RH)
	if h1 < 5 {
		t.Errorf("humidity is the weak input, its spread on the first day is %.1f points", h1)
	}
	x := a.Draw(stream(1))
	if x.F[Temp][5] != Forecast || x.F[Temp][11*24] != Typical {
		t.Errorf("flags %v, %v", x.F[Temp][5], x.F[Temp][11*24])
	}
	for v := range x.V {
		for i, y := range x.V[v] {
			if !Var(v).Possible(float64(y)) || (Var(v) == RH && y > 100) || (Var(v) != Temp && y < 0) {
				t.Fatalf("%v %d: %v", Var(v), i, y)
			}
		}
	}
	if d := equal(x.Slice(from, from.Add(99*time.Hour)), g.Around(f, from, 99).Draw(stream(1))); d != "" {
		t.Error("a longer scenario does not begin with the shorter one", d)
	}
}

// Nothing issued or measured later may move a scenario that starts now: it
// depends on the stream, the forecast and the generator alone.
func TestScenarioWithoutForecastIsTheDraw(t *testing.T) {
	g := NewGenerator(Coarse(-35, 0, false), nil, -35, 150)
	from := time.Date(2001, 1, 10, 20, 0, 0, 0, time.UTC)
	a := g.Around(Outlook{}, from, 240).Draw(stream(2))
	s := stream(2)
	for range leadDays {
		s.Uniform()
	}
	if d := equal(a, drawFrom(g, s, from, 240)); d != "" {
		t.Error(d)
	}
}

func TestVerify(t *testing.T) {
	m := NewSeries(newYear, 72)
	f := NewSeries(newYear, 72)
	for i := range 72 {
		m.Set(Temp, i, 10, Measured)
		f.Set(Temp, i, 10+float64(i/24)+1, Forecast)
	}
	m.Set(Temp, 5, 99, Filled)
	got := Verify([]Outlook{{Issued: newYear, Series: f}}, m)
	if len(got) != 3 {
		t.Fatalf("%v", got)
	}
	for lead, want := range []int{23, 24, 24} {
		s := got[lead]
		if s.N != want || s.Lead != lead || math.Abs(s.Bias-float64(lead+1)) > 1e-6 || s.MAE != s.Bias {
			t.Errorf("%+v", s)
		}
	}
}

// Ten measured-like years nearly replace the table; a week hardly moves it; the
// doubt shrinks with days.
func TestLearn(t *testing.T) {
	truth := sure(Coarse(46, 300, false))
	for k := range truth.Months {
		truth.Months[k].Tmin += 4
		truth.Months[k].Tmax += 6
		truth.Months[k].Dry -= 1.5
		truth.Months[k].Wet += 0.15
	}
	truth.Months[6].Tmax += 2
	truth.Months[6].Tmin += 2
	guess := Coarse(46, 300, false)
	g := NewGenerator(truth, nil, 46, 8)
	first := solarDate(time.Date(1990, 1, 1, 0, 0, 0, 0, time.UTC), 8)
	days := drawDays(g, chance.New(chance.Key{Garden: 3, Process: chance.Demo}), first, first+3652)
	week := guess.Learn(days[150:157], 46)
	year := guess.Learn(days[:365], 46)
	ten := guess.Learn(days, 46)
	off := func(c Climate) (worst float64) {
		for k, m := range c.Months {
			worst = math.Max(worst, math.Abs(m.Tmax-truth.Months[k].Tmax))
		}
		return worst
	}
	if a, b, c, d := off(guess), off(week), off(year), off(ten); !(b < a+0.1 && c < b && c < 3 && d < 1.3) {
		t.Errorf("worst month off by %.1f K at first, %.1f after a week, %.1f after a year, %.1f after ten", a, b, c, d)
	}
	if !(guess.Doubt.Temp > week.Doubt.Temp && week.Doubt.Temp > year.Doubt.Temp && year.Doubt.Temp > ten.Doubt.Temp && ten.Doubt.Temp > 0.1) {
		t.Errorf("doubt %.2f, %.2f, %.2f, %.2f", guess.Doubt.Temp, week.Doubt.Temp, year.Doubt.Temp, ten.Doubt.Temp)
	}
	near(t, "wet days", ten.Months[3].Wet, truth.Months[3].Wet, 0.05)
	near(t, "dryness", ten.Months[3].Dry, truth.Months[3].Dry, 0.4)
	if ten.Grade == guess.Grade || ten.Days != 3653 {
		t.Errorf("grade %v of %d days", ten.Grade, ten.Days)
	}
	// What June taught says little of January, and never more doubt than before.
	june := guess.Learn(days[151:181], 46)
	g0, jan, jun := guess.DoubtOf(0).Temp, june.DoubtOf(0).Temp, june.DoubtOf(5).Temp
	if !(jun < jan-0.1 && jan < g0-0.3) {
		t.Errorf("doubt of %.2f K; after a June %.2f K in January, %.2f K in June", g0, jan, jun)
	}
	for k := range week.Months {
		if a, b := week.DoubtOf(k), guess.DoubtOf(k); a.Temp > b.Temp+1e-9 || a.Dry > b.Dry+1e-9 || a.Wet > b.Wet+1e-9 || a.Wind > b.Wind+1e-9 {
			t.Errorf("month %d: a week widened %+v to %+v", k+1, b, a)
		}
	}
	// And drawn weather is wider where nothing was measured.
	spread := func(c Climate, month time.Month) float64 {
		g := NewGenerator(sureButLevel(c), nil, 46, 8)
		var x []float64
		for k := range 300 {
			s := drawFrom(g, stream(k), time.Date(2001, month, 10, 0, 0, 0, 0, time.UTC), 15*24)
			m := 0.0
			for _, v := range s.V[Temp] {
				m += float64(v) / float64(s.Len())
			}
			x = append(x, m)
		}
		return stat.StdDev(x, nil)
	}
	near(t, "spread of Januaries", spread(june, time.January), math.Hypot(jan, monthDoubt.V), 0.3)
	near(t, "spread of Junes", spread(june, time.June), math.Hypot(jun, monthDoubt.V), 0.3)
	// A diary of extremes alone leaves the rest as it was.
	diary := make([]Daily, 60)
	nan := math.NaN()
	for i := range diary {
		diary[i] = Daily{Date: first + 180, Tmin: 20, Tmax: 33, Dew: nan, Rain: nan, Wind: nan, Rad: nan}
	}
	if d := guess.Learn(diary, 46); math.Abs(d.DoubtOf(6).Dry-guess.DoubtOf(6).Dry) > 1e-9 || !(d.DoubtOf(5).Temp < guess.DoubtOf(5).Temp) || d.Months[1].Wet != guess.Months[1].Wet {
		t.Errorf("doubt %+v", d.Doubt)
	}
}

// sureButLevel takes the scatter of days out of a climate and leaves its doubt.
func sureButLevel(c Climate) Climate {
	for k := range c.Months {
		c.Months[k].SDmin, c.Months[k].SDmax, c.Months[k].WetMax = 0.1, 0.1, 0
	}
	return c
}

func BenchmarkScenario(b *testing.B) {
	g := NewGenerator(Coarse(52, 0, true), nil, 52, 5)
	f := NewSeries(newYear, 9*24)
	for v := range f.V {
		for i := range f.V[v] {
			f.Set(Var(v), i, 3, Forecast)
		}
	}
	a := g.Around(Outlook{Issued: newYear, Series: f}, newYear, 21*24)
	s := stream(0)
	for b.Loop() {
		a.Draw(s)
	}
}
