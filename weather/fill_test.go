package weather

import (
	"math"
	"testing"
	"time"

	"oidium/sun"

	"pgregory.net/rapid"
)

// cut takes hours i to j of v out.
func cut(s *Series, v Var, i, j int) {
	for k := i; k < j; k++ {
		s.Set(v, k, 0, Missing)
	}
}

// Short gaps made in a measured year come back close to what was measured, and
// are flagged.
func TestFillShortGaps(t *testing.T) {
	s, _, _ := deBilt(t)
	holes := s.Clone()
	for i := 50; i+60 < s.Len(); i += 60 {
		for v := range Var(NVars) {
			cut(holes, v, i, i+2)
		}
	}
	got, done := Fill(holes, Coarse(52.1, 2, true), 52.1, 5.18)
	var off [NVars]float64
	n := 0
	for i := 50; i+60 < s.Len(); i += 60 {
		for k := i; k < i+2; k++ {
			n++
			for v := range off {
				off[v] += math.Abs(float64(got.V[v][k] - s.V[v][k]))
				if f := got.F[v][k]; f != Filled && !(Var(v) == Rad && f == Derived) {
					t.Fatalf("%v hour %d flagged %v", Var(v), k, f)
				}
			}
		}
	}
	for v, most := range [NVars]float64{Temp: 0.6, RH: 3, Wind: 0.5, Rain: 0.15, Rad: 30} {
		t.Logf("%v: mean error %.2f", Var(v), off[v]/float64(n))
		if off[v]/float64(n) > most {
			t.Errorf("%v: mean error %.2f", Var(v), off[v]/float64(n))
		}
	}
	if len(done) != NVars || done[0].Between != n || done[0].Climate != 0 {
		t.Errorf("%+v", done)
	}
}

// A fortnight without a station is closed from climate, joined at the edges and
// said; nothing else is touched.
func TestFillLongGap(t *testing.T) {
	s, _, _ := deBilt(t)
	holes := s.Clone()
	for v := range Var(NVars) {
		cut(holes, v, 4000, 4000+14*24)
	}
	got, done := Fill(holes, Coarse(52.1, 2, true), 52.1, 5.18)
	if step := math.Abs(float64(got.V[Temp][4000] - got.V[Temp][3999])); step > 3 {
		t.Errorf("step of %.1f K at the edge", step)
	}
	rain := 0.0
	for i := 4000; i < 4000+14*24; i++ {
		if got.F[Temp][i] != Typical || got.F[RH][i] != Typical {
			t.Fatalf("flags %v %v", got.F[Temp][i], got.F[RH][i])
		}
		rain += float64(got.V[Rain][i])
	}
	if rain < 5 || rain > 80 {
		t.Errorf("%.1f mm in a fortnight", rain)
	}
	if len(done) != NVars || done[0].Climate != 336 || done[0].Longest != 336 || !done[0].From.Equal(time.Date(2000, 6, 15, 16, 0, 0, 0, time.UTC)) {
		t.Errorf("%+v", done)
	}
	for i := range 4000 {
		if got.V[Temp][i] != s.V[Temp][i] {
			t.Fatal("a measured hour was changed")
		}
	}
}

// A year without radiation gets it from the temperature range, as derived; the
// measured year says how well (FAO-56 gives no error; common experience is about
// a quarter).
func TestFillRadiation(t *testing.T) {
	s, _, _ := deBilt(t)
	holes := s.Clone()
	cut(holes, Rad, 0, s.Len())
	got, _ := Fill(holes, Coarse(52.1, 2, true), 52.1, 5.18)
	var sum, want, off float64
	a, b := DaysOf(got, 5.18), DaysOf(s, 5.18)
	for i := range a {
		sum += a[i].Rad
		want += b[i].Rad
		off += math.Abs(a[i].Rad - b[i].Rad)
	}
	t.Logf("sum %.0f of %.0f MJ/m², mean error of a day %.2f", sum, want, off/366)
	if math.Abs(sum/want-1) > 0.2 || off/366 > 2.6 {
		t.Errorf("sum %.0f of %.0f MJ/m², mean error of a day %.2f", sum, want, off/366)
	}
	if got.F[Rad][4000] != Derived {
		t.Errorf("flag %v", got.F[Rad][4000])
	}
}

func TestFillLeavesNothingMissing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-90, 90).Draw(t, "lat")
		lon := rapid.Float64Range(-180, 180).Draw(t, "lon")
		s := drawSeries(t)
		s, _ = Check(s, nil, lat, lon)
		got, _ := Fill(s, Coarse(lat, rapid.Float64Range(0, 3000).Draw(t, "alt"), rapid.Bool().Draw(t, "sea")), lat, lon)
		for v := range got.V {
			for i, x := range got.V[v] {
				if x != x || got.F[v][i] == Missing {
					t.Fatalf("%v %d is missing", Var(v), i)
				}
				if s.F[v][i] != Missing && (x != s.V[v][i] || got.F[v][i] != s.F[v][i]) {
					t.Fatalf("%v %d was changed", Var(v), i)
				}
				if s.F[v][i] == Missing && !Var(v).Possible(float64(x)) {
					t.Fatalf("%v %d is %v", Var(v), i, x)
				}
			}
		}
	})
}

// Hours of days keep the sums and extremes of the days, at any place and season,
// polar ones included.
func TestHourlyKeepsTheDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-89, 89).Draw(t, "lat")
		lon := rapid.Float64Range(-180, 180).Draw(t, "lon")
		first := onDay(rapid.IntRange(1, 365).Draw(t, "day"))
		tmin := rapid.Float64Range(-30, 30).Draw(t, "tmin")
		d := Daily{Tmin: tmin, Tmax: tmin + rapid.Float64Range(0.5, 20).Draw(t, "range"), Dew: math.NaN(), Rain: rapid.Float64Range(0, 90).Draw(t, "rain"), Wind: rapid.Float64Range(0.2, 9).Draw(t, "wind")}
		var days []Daily
		for k := range 5 {
			d.Date = first + onDay(k+1) - onDay(1)
			d.Rad = 0.5 * sun.Extraterrestrial(d.Date, lat)
			days = append(days, d)
		}
		s := Hourly(days, Coarse(lat, 0, true), lat, lon, Derived)
		if s.Len() != 120 {
			t.Fatalf("%d hours", s.Len())
		}
		// The middle day, whose neighbours are like it.
		got, ok := dayOf(s, 48, 72)
		if !ok {
			t.Fatal("no day")
		}
		r := d.Tmax - d.Tmin
		if got.Tmin < d.Tmin-0.02*r || got.Tmin > d.Tmin+0.25*r || got.Tmax > d.Tmax+1e-3 || got.Tmax < d.Tmax-0.25*r {
			t.Fatalf("extremes %.2f %.2f of %.2f %.2f", got.Tmin, got.Tmax, d.Tmin, d.Tmax)
		}
		if math.Abs(got.Rain-d.Rain) > 1e-3 || math.Abs(got.Wind-d.Wind) > 0.01*d.Wind {
			t.Fatalf("rain %.3f of %.3f, wind %.3f of %.3f", got.Rain, d.Rain, got.Wind, d.Wind)
		}
		want := days[2].Rad
		if math.Abs(got.Rad-want) > 0.02+0.02*want {
			t.Fatalf("radiation %.3f of %.3f", got.Rad, want)
		}
		for i := 49; i < 72; i++ {
			if step := math.Abs(float64(s.V[Temp][i] - s.V[Temp][i-1])); step > 0.45*r+0.1 {
				t.Fatalf("step of %.1f K with a range of %.1f", step, r)
			}
			if rh := s.V[RH][i]; !(rh > 0 && rh <= 100) {
				t.Fatalf("humidity %v", rh)
			}
		}
	})
}

// A leaf in full sun is some degrees warmer than the air (5 to 8 seen, science
// notes on biology §10), one in the shade about as warm, and one under a clear
// night sky below the dew point of damp air.
func TestLeaf(t *testing.T) {
	sky := func(temp, rh float64) float64 { return skyLongwave(temp, VapourPressure(temp, rh), 0) }
	lit := atLeaf(25, 60, 0.7, 850, sky(25, 60), 1)
	if d := lit.temp - 25; d < 2 || d > 8 {
		t.Errorf("in the sun %+.1f K", d)
	}
	shade := atLeaf(25, 60, 0.7, 850, sky(25, 60), 0)
	if d := shade.temp - 25; d > 0.2 || d < -4 {
		t.Errorf("in the shade %+.1f K", d)
	}
	dusk := atLeaf(12, 97, 0.3, 0, sky(12, 97), 1)
	if dusk.temp > 12 || dusk.vpd > 0 {
		t.Errorf("by night %.1f °C, deficit %.3f", dusk.temp, dusk.vpd)
	}
	windy := atLeaf(25, 60, 5, 850, sky(25, 60), 1)
	if windy.temp > lit.temp {
		t.Error("wind warms the leaf")
	}
}

func TestSummarise(t *testing.T) {
	s, _, _ := deBilt(t)
	days := Summarise(s, 52.1, 5.18, 2, Wetness{})
	if len(days) != 366 {
		t.Fatalf("%d days", len(days))
	}
	var et0, wet float64
	for i, d := range days {
		et0 += d.ET0
		wet += float64(d.WetHours)
		if !(d.Tmin <= d.Mean && d.Mean <= d.Tmax && d.RHMin <= d.RHMax && d.VPD <= d.VPDMax && d.VPD >= 0) || d.Seen[Temp] != 24 {
			t.Fatalf("%+v", d)
		}
		if d.WetHours > 24 || d.DewHours > 24 || d.LeafMax < d.Mean-3 || d.LeafMax > d.Tmax+12 {
			t.Fatalf("day %d: %+v", i, d)
		}
	}
	near(t, "ET0", et0, 604.5, 3)
	// At least the humid hours, plus rain into drier air.
	if wet < 3707 || wet > 4300 {
		t.Errorf("%.0f wet hours", wet)
	}
	near(t, "longest day", days[172].DayLength, 16.75, 0.03)
	one := NewSeries(newYear.Add(-5*time.Hour), 40)
	for i := range 40 {
		one.Set(Temp, i, 5, Measured)
	}
	d := Summarise(one, 52.1, 5.18, 2, Wetness{})
	if len(d) != 1 || d[0].ET0 == d[0].ET0 || d[0].ET0Top == d[0].ET0Top || d[0].VPDMax == d[0].VPDMax || d[0].LeafMax == d[0].LeafMax {
		t.Errorf("what is not known must be NaN: %+v", d)
	}
}
