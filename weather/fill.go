package weather

import (
	"math"
	"time"

	"oidium/sun"
)

// Fill returns a copy of s without missing hours. Short gaps are interpolated
// (flag Filled). Whole days without radiation are estimated from the day's
// temperature range (flag Derived). What is left is taken from the climate c,
// joined to the measured edges (flag Typical). What was done is returned too, one
// a quantity that had holes, in the order of the quantities.
func Fill(s *Series, c Climate, lat, lon float64) (*Series, []Closed) {
	out := s.Clone()
	n := out.Len()
	if n == 0 {
		return out, nil
	}
	c.Latitude = lat
	var all []Closed
	var typical *Series
	ra := sun.ExtraterrestrialHours(out.Start, n, lat, lon)
	for _, v := range [NVars]Var{Temp, RH, Wind, Rain, Rad} {
		d := Closed{Var: v}
		if v == Rad {
			darkHours(out, ra)
			d.Estimated = 24 * estimateRad(out, lat, lon, ra)
		}
		for _, gap := range out.gaps(v) {
			if d.Longest < gap.n {
				d.Longest, d.From = gap.n, out.Time(gap.i)
			}
			if gap.n <= int(shortGap.V) && gap.i > 0 && gap.i+gap.n < n {
				interpolate(out, v, gap, ra)
				d.Between += gap.n
				continue
			}
			if typical == nil {
				typical = typicalHours(c, out.Start, n, lat, lon)
			}
			fromClimate(out, v, gap, typical, ra)
			d.Climate += gap.n
		}
		if d.Between+d.Estimated+d.Climate > 0 {
			all = append(all, d)
		}
	}
	return out, all
}

// Closed says what was done about the missing hours of one quantity.
type Closed struct {
	Var       Var
	Between   int       // hours interpolated between the hours around
	Estimated int       // hours of radiation estimated from the range of temperature
	Climate   int       // hours taken from the climate
	Longest   int       // hours of the longest gap
	From      time.Time // its first hour
}

// typicalHours returns n hours of the ordinary weather of c from start.
func typicalHours(c Climate, start time.Time, n int, lat, lon float64) *Series {
	first := solarDate(start, lon) - 1
	days := c.typical(first, n/24+4)
	return Hourly(days, c, lat, lon, Typical).Slice(start, start.Add(time.Duration(n)*time.Hour))
}

type gap struct{ i, n int }

// gaps returns the runs of missing hours of v in order.
func (s *Series) gaps(v Var) []gap {
	var out []gap
	for i := 0; i < len(s.F[v]); i++ {
		if s.F[v][i] != Missing {
			continue
		}
		j := i + 1
		for j < len(s.F[v]) && s.F[v][j] == Missing {
			j++
		}
		out = append(out, gap{i, j - i})
		i = j
	}
	return out
}

// interpolate closes a short gap between two known hours: linearly, radiation
// by its share of the extraterrestrial one.
func interpolate(s *Series, v Var, g gap, ra []float64) {
	a, b := float64(s.V[v][g.i-1]), float64(s.V[v][g.i+g.n])
	shareOf := func(i int) float64 { return math.Min(1, float64(s.V[v][i])/math.Max(ra[i], 1)) }
	if v == Rad {
		a, b = shareOf(g.i-1), shareOf(g.i+g.n)
		// Beside darkness only the lit edge says how cloudy it is (the bound is
		// numerical).
		const lit = 20
		if ra[g.i-1] < lit {
			a = b
		}
		if ra[g.i+g.n] < lit {
			b = a
		}
	}
	for k := range g.n {
		x := a + (b-a)*float64(k+1)/float64(g.n+1)
		if v == Rad {
			x *= ra[g.i+k]
		}
		s.Set(v, g.i+k, x, Filled)
	}
}

// darkHours writes zero radiation into missing hours without sun: darkness needs
// no instrument.
func darkHours(s *Series, ra []float64) {
	for i, r := range ra {
		if r == 0 && s.F[Rad][i] == Missing {
			s.Set(Rad, i, 0, Derived)
		}
	}
}

// estimateRad fills the radiation of whole solar days that have none in
// daylight from the range of their known temperatures. It returns the number
// of days.
func estimateRad(s *Series, lat, lon float64, ra []float64) int {
	n := 0
	for i := 0; i < s.Len(); {
		d := solarDate(s.Time(i), lon)
		j := min(s.Index(solarStart(d+1, lon)), s.Len())
		day, ok := dayOf(s, i, j)
		lit, known := 0.0, false
		for k := i; k < j; k++ {
			if ra[k] > 0 {
				lit += ra[k]
				known = known || s.F[Rad][k] != Missing
			}
		}
		if ok && !known && lit > 0 && j-i >= dayHours && seenDay(s, i, j) {
			whole := sun.Extraterrestrial(d, lat)
			share := hargreaves(day.Tmin, day.Tmax, whole) / whole
			for k := i; k < j; k++ {
				if ra[k] > 0 {
					s.Set(Rad, k, share*ra[k], Derived)
				}
			}
			n++
		}
		i = j
	}
	return n
}

// seenDay reports whether the temperature of a day is mostly not from climate.
func seenDay(s *Series, i, j int) bool {
	n := 0
	for _, f := range s.F[Temp][i:j] {
		if f != Missing && f != Typical {
			n++
		}
	}
	return n >= dayHours
}

// fromClimate fills a gap with typical hours moved to meet the known edges; the
// memory of an edge fades over three days.
func fromClimate(s *Series, v Var, g gap, typical *Series, ra []float64) {
	left, right := math.NaN(), math.NaN()
	if g.i > 0 {
		left = float64(s.V[v][g.i-1] - typical.V[v][g.i-1])
	}
	if e := g.i + g.n; e < s.Len() {
		right = float64(s.V[v][e] - typical.V[v][e])
	}
	for k := range g.n {
		i := g.i + k
		x := float64(typical.V[v][i])
		if v != Rain && v != Rad {
			x += edgeOffset(left, right, float64(k+1), float64(g.n-k))
		}
		switch v {
		case RH:
			x = math.Max(5, math.Min(100, x))
		case Wind:
			x = math.Max(0.1, x)
		case Rad:
			x = math.Min(x, ra[i])
		}
		s.Set(v, i, x, Typical)
	}
}

// edgeOffset returns the offset at a hours after the left and b hours before
// the right edge of a gap.
func edgeOffset(left, right, a, b float64) float64 {
	fade := func(h float64) float64 { return math.Exp(-h / edgeMemory.V) }
	switch {
	case left != left && right != right:
		return 0
	case left != left:
		return right * fade(b)
	case right != right:
		return left * fade(a)
	}
	w := a / (a + b)
	return ((1-w)*left + w*right) * math.Max(fade(a), fade(b))
}
