package weather

import (
	"math"
	"testing"
	"time"

	"oidium/chance"
	"oidium/garden"

	"gonum.org/v1/gonum/stat"
)

func stream(member int) *chance.Stream {
	return chance.New(chance.Key{Garden: 1, Member: member, Process: chance.Weather})
}

// Richardson & Wright 1984 as quoted in the science notes A.6: A = M1 M0⁻¹ and
// B from Cholesky reproduce the printed matrices to their last figure.
func TestResidualMatricesAgainstPrint(t *testing.T) {
	a, b := residualMatrices(1)
	for i, row := range [3][3]float64{{0.567, 0.086, -0.002}, {0.253, 0.504, -0.050}, {-0.006, -0.039, 0.244}} {
		for j, want := range row {
			near(t, "A", a[i][j], want, 0.0025)
		}
	}
	for i, row := range [3][3]float64{{0.781, 0, 0}, {0.328, 0.637, 0}, {0.238, -0.341, 0.873}} {
		for j, want := range row {
			near(t, "B", b[i][j], want, 0.002)
		}
	}
}

// drawFrom draws hours of weather without a forecast.
func drawFrom(g *Generator, s *chance.Stream, from time.Time, hours int) *Series {
	return g.draw(s, g.frame(from, hours), from, hours)
}

// drawDays draws the days first to last.
func drawDays(g *Generator, s *chance.Stream, first, last garden.Day) []Daily {
	f := newFrame(g.c, first-spinUp, int(last-first)+1+spinUp, g.lat, g.lon)
	days, _ := g.days(s, f, first, last)
	return days
}

// sure is a climate without doubt, so that drawn years keep to its table.
func sure(c Climate) Climate {
	c.Doubt = Doubt{}
	return c
}

// Many drawn Julys have the means, spreads, wet days and rain of the table.
func TestDrawnStatisticsMatchTheClimate(t *testing.T) {
	for _, c := range []Climate{sure(Coarse(52, 0, true)), sure(Coarse(40, 200, false)), sure(Coarse(-35, 50, true))} {
		g := NewGenerator(c, nil, c.Latitude, 10)
		from := time.Date(2001, 7, 1, 0, 0, 0, 0, time.UTC)
		var tmax, tmin, share, dry, wind, rain []float64
		var wet, wetAfterWet, afterWet float64
		for m := range 150 {
			days := drawDays(g, stream(m), solarDate(from, 10), solarDate(from, 10)+30)
			for i, d := range days {
				tmax, tmin = append(tmax, d.Tmax), append(tmin, d.Tmin)
				share = append(share, d.Rad/extraterrestrial(d.Date, c.Latitude))
				dry, wind = append(dry, d.Tmin-d.Dew), append(wind, d.Wind)
				if d.Rain > 0 {
					wet++
					rain = append(rain, d.Rain)
				}
				if i > 0 && days[i-1].Rain > 0 {
					afterWet++
					if d.Rain > 0 {
						wetAfterWet++
					}
				}
			}
		}
		m := c.Months[6]
		n := float64(len(tmax))
		near(t, "Tmax", stat.Mean(tmax, nil), m.Tmax, 0.35)
		near(t, "Tmin", stat.Mean(tmin, nil), m.Tmin, 0.35)
		// A wet day differs from a dry one, which adds to the spread of Tmax.
		near(t, "spread of Tmax", stat.StdDev(tmax, nil), math.Hypot(m.SDmax, m.WetMax*math.Sqrt(m.Wet*(1-m.Wet))), 0.3)
		near(t, "spread of Tmin", stat.StdDev(tmin, nil), m.SDmin, 0.25)
		near(t, "share", stat.Mean(share, nil), m.Share, 0.03)
		near(t, "dryness", stat.Mean(dry, nil), m.Dry, 0.3)
		near(t, "wind", stat.Mean(wind, nil), m.Wind, 0.1)
		near(t, "wet days", wet/n, m.Wet, 0.02)
		near(t, "wet after wet", wetAfterWet/afterWet, m.Wet+m.Stay*(1-m.Wet), 0.03)
		near(t, "rain of a wet day", stat.Mean(rain, nil), m.RainMean, 0.06*m.RainMean)
	}
}

// The residuals keep Richardson's correlations with the day before.
func TestDrawnPersistence(t *testing.T) {
	c := sure(Coarse(45, 0, false))
	for i := range c.Months {
		c.Months[i].WetMax = 0
	}
	g := NewGenerator(c, nil, 45, 0)
	from := solarDate(time.Date(2001, 7, 5, 0, 0, 0, 0, time.UTC), 0)
	var x, y []float64
	for m := range 300 {
		days := drawDays(g, stream(m), from, from+20)
		for i := 1; i < len(days); i++ {
			x, y = append(x, days[i-1].Tmax), append(y, days[i].Tmax)
		}
	}
	near(t, "correlation of Tmax with the day before", stat.Correlation(x, y, nil), 0.621, 0.04)
}

func TestDrawRepeatsAndNests(t *testing.T) {
	c := Coarse(52, 0, true)
	g := NewGenerator(c, nil, 52, 5)
	from := time.Date(2001, 6, 14, 4, 0, 0, 0, time.UTC)
	long := drawFrom(g, stream(3), from, 21*24)
	if d := equal(long, drawFrom(g, stream(3), from, 21*24)); d != "" {
		t.Error(d)
	}
	short := drawFrom(g, stream(3), from, 9*24+5)
	if d := equal(long.Slice(from, short.End()), short); d != "" {
		t.Error("a longer draw does not begin with the shorter one", d)
	}
	if equal(long, drawFrom(g, stream(4), from, 21*24)) == "" {
		t.Error("two members drew the same weather")
	}
	if long.Len() != 21*24 || !long.Start.Equal(from) {
		t.Errorf("%d hours from %v", long.Len(), long.Start)
	}
	for v := range long.V {
		for i, f := range long.F[v] {
			if f != Typical {
				t.Fatalf("%v %d is %v", Var(v), i, f)
			}
		}
	}
}

// A past eight degrees warmer than the coarse table moves the draw most of the
// way, narrows it, and nothing after the cut is seen.
func TestPastSetsTheLevel(t *testing.T) {
	c := Coarse(52, 0, true)
	from := time.Date(2001, 7, 20, 0, 0, 0, 0, time.UTC)
	warm := c
	for i := range warm.Months {
		warm.Months[i].Tmin += 6
		warm.Months[i].Tmax += 6
	}
	past := drawFrom(NewGenerator(sure(warm), nil, 52, 5), stream(0), from.Add(-60*24*time.Hour), 90*24)
	meanTemp := func(g *Generator) (m, sd float64) {
		var x []float64
		for k := range 200 {
			s := drawFrom(g, stream(k), from.Add(10*24*time.Hour), 24)
			sum := 0.0
			for _, v := range s.V[Temp] {
				sum += float64(v)
			}
			x = append(x, sum/24)
		}
		return stat.MeanStdDev(x, nil)
	}
	m0, sd0 := meanTemp(NewGenerator(c, nil, 52, 5))
	m1, sd1 := meanTemp(NewGenerator(c, past.Cut(from), 52, 5))
	if m1-m0 < 3.5 || m1-m0 > 8 {
		t.Errorf("the draw moved by %.2f K, the weeks before by 6", m1-m0)
	}
	if !(sd1 < sd0) {
		t.Errorf("spread with a past %.2f, without %.2f", sd1, sd0)
	}
}

func TestCoarseMirrorsInTheEquator(t *testing.T) {
	for _, maritime := range []bool{true, false} {
		n, s := Coarse(44, 300, maritime), Coarse(-44, 300, maritime)
		for k := range n.Months {
			a, b := n.Months[k], s.Months[(k+6)%12]
			near(t, "Tmax", a.Tmax, b.Tmax, 1e-9)
			near(t, "Tmin", a.Tmin, b.Tmin, 1e-9)
			near(t, "rain", a.RainMean, b.RainMean, 1e-9)
			near(t, "wind", a.Wind, b.Wind, 1e-9)
			near(t, "spread", a.SDmax, b.SDmax, 1e-9)
		}
	}
}

func BenchmarkDraw(b *testing.B) {
	g := NewGenerator(Coarse(52, 0, true), nil, 52, 5)
	s := stream(0)
	for b.Loop() {
		drawFrom(g, s, newYear, 21*24)
	}
}
