package weather

import (
	"math"
	"testing"
	"time"
)

// measuredDays returns the days of the four measured years at hand.
func measuredDays(t *testing.T) map[string][]Daily {
	t.Helper()
	s, _, _ := deBilt(t)
	out := map[string][]Daily{"De Bilt": DaysOf(s, 5.18)}

	rows := rowsOf(t, "oakpark-2017.csv.gz", ",")
	s = NewSeries(time.Date(2016, 12, 31, 23, 0, 0, 0, time.UTC), len(rows))
	for i, r := range rows {
		s.Set(Rain, i, number(t, r[1]), Measured)
		s.Set(Temp, i, number(t, r[2]), Measured)
		s.Set(RH, i, number(t, r[3]), Measured)
		s.Set(Wind, i, WindAt2m(number(t, r[5])*1852/3600, 10), Measured)
	}
	out["Oak Park"] = DaysOf(s, -6.915)

	rows = rowsOf(t, "bondville-1998.dat.gz", "")
	start := time.Date(1998, 1, 1, 6, 0, 0, 0, time.UTC)
	s = NewSeries(start, len(rows)/2)
	for i := range s.Len() {
		r := rows[2*i+1]
		s.Set(Temp, i, number(t, r[4]), Measured)
		s.Set(RH, i, math.Min(100, number(t, r[5])), Measured)
		s.Set(Wind, i, WindAt2m(number(t, r[2]), 10), Measured)
		s.Set(Rain, i, math.Max(0, number(t, r[12])+number(t, rows[2*i][12]))*25.4, Measured)
		s.Set(Rad, i, math.Max(0, number(t, r[7])+number(t, rows[2*i][7]))/2, Measured)
	}
	s = s.Slice(start, s.End().Add(-time.Hour))
	out["Bondville"] = DaysOf(s, -88.37)
	return out
}

// The coarse climate is an assumption; what can be asked of it is that measured
// places lie within the band it states, 2.5 of its deviations, on the mean of the
// days at hand.
func TestCoarseHoldsMeasuredPlaces(t *testing.T) {
	for name, days := range measuredDays(t) {
		c := map[string]Climate{
			"De Bilt":   Coarse(52.1, 2, true),
			"Oak Park":  Coarse(52.86, 61, true),
			"Bondville": Coarse(40.01, 219, false),
		}[name]
		var l lesson
		for _, d := range days {
			l.add(c.excess(d, c.Latitude))
		}
		q := c.Doubt
		for _, x := range []struct {
			what      string
			mean, has float64
		}{
			{"temperature", l.temp.mean(), q.Temp},
			{"range", l.rng.mean(), q.Range},
			{"dryness", l.dry.mean(), q.Dry},
			{"wet days", l.wet.mean(), q.Wet},
			{"light", l.share.mean(), q.Share},
			{"wind", l.wind.mean(), q.Wind},
		} {
			t.Logf("%s: %s off by %+.2f, band ±%.2f", name, x.what, x.mean, x.has)
			if x.mean == x.mean && math.Abs(x.mean) > 2.5*x.has {
				t.Errorf("%s: %s off by %+.2f, band ±%.2f", name, x.what, x.mean, x.has)
			}
		}
	}
}

// Coasts with gardens, and one without, lie within 1.5 deviations of the yearly mean.
// The means are from memory, rounded, and hold for order of size only.
func TestCoarseOnNorthernCoasts(t *testing.T) {
	for name, x := range map[string]struct{ lat, mean float64 }{
		"southern Norway": {60.4, 8}, "southern Finland": {60.2, 6}, "southern Alaska": {61.2, 3},
		"northern Norway": {69.7, 3}, "Varanger": {70.4, 2}, "Kola": {69, 1}, "northern Alaska": {71.3, -10.5}, "Iceland": {64.1, 5},
	} {
		c := Coarse(x.lat, 10, true)
		mean := 0.0
		for _, m := range c.Months {
			mean += (m.Tmin + m.Tmax) / 24
		}
		t.Logf("%s: %.1f ± %.1f °C, want %.1f", name, mean, c.Doubt.Temp, x.mean)
		if math.Abs(mean-x.mean) > 1.5*c.Doubt.Temp {
			t.Errorf("%s: %.1f ± %.1f °C, want %.1f", name, mean, c.Doubt.Temp, x.mean)
		}
	}
}

// Weather drawn from a climate learned at De Bilt is like the weather of De Bilt:
// the same hours count as humid, the same rain falls, grass drinks as much.
func TestDrawnYearIsLikeTheMeasuredOne(t *testing.T) {
	s, _, _ := deBilt(t)
	days := DaysOf(s, 5.18)
	c := sure(Coarse(52.1, 2, true).Learn(days, 52.1))
	g := NewGenerator(c, nil, 52.1, 5.18)
	var humid, rain, et0, mean, wetHours float64
	const years = 8
	for k := range years {
		d := drawFrom(g, stream(k), newYear, 8784)
		for i := range d.Len() {
			if d.V[RH][i] >= 90 {
				humid++
			}
			rain += float64(d.V[Rain][i])
			mean += float64(d.V[Temp][i]) / 8784
		}
		for _, x := range Summarise(d, 52.1, 5.18, 2, Wetness{}) {
			et0 += x.ET0
			wetHours += float64(x.WetHours)
		}
	}
	t.Logf("humid hours %.0f (3707), rain %.0f (932), ET0 %.0f (604), mean %.1f (10.9), wet hours %.0f", humid/years, rain/years, et0/years, mean/years, wetHours/years)
	near(t, "mean temperature", mean/years, 10.9, 0.7)
	near(t, "humid hours", humid/years, 3707, 900)
	near(t, "rain", rain/years, 932, 200)
	near(t, "ET0", et0/years, 604, 70)
}

// Every place on earth has a possible climate, and drawn weather is possible
// everywhere.
func TestDrawnWeatherIsPossibleEverywhere(t *testing.T) {
	for lat := -90.0; lat <= 90; lat += 15 {
		for _, sea := range []bool{true, false} {
			c := Coarse(lat, 1500*math.Abs(math.Sin(lat)), sea)
			g := NewGenerator(c, nil, lat, 3*lat)
			for k := range 3 {
				s := drawFrom(g, stream(k), newYear, 400*24)
				for v := range s.V {
					for i, x := range s.V[v] {
						// The polar night of a doubtful climate may go below −60 °C.
						if !Var(v).Possible(float64(x)) && !(Var(v) == Temp && x > -120 && x < 60) {
							t.Fatalf("%.0f°: %v hour %d is %v", lat, Var(v), i, x)
						}
					}
				}
			}
		}
	}
}

// Stretched persistence never breaks the process.
func TestStretchedResiduals(t *testing.T) {
	for k := 0.7; k <= 1.15; k += 0.05 {
		_, b := residualMatrices(k)
		for i := range b {
			if !(b[i][i] > 0.1) {
				t.Errorf("stretched by %.2f: B %v", k, b)
			}
		}
	}
}
