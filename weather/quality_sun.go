package weather

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// clockDays is how many days are taken together to judge the clock: cloud in
// the morning or the afternoon cancels over them.
const clockDays = 20

// clock compares the middle of the measured light of stretches of days with that
// of the sun. A finding gives the hours by which the station's clock is fast.
func (c *checker) clock() {
	const block = clockDays * 24
	for i := 0; i+block <= c.s.Len(); i += block {
		var x, r moment
		for h := i; h < i+block; h++ {
			if y := float64(c.s.V[Rad][h]); y == y {
				at := float64(h % 24)
				x.add(at, y)
				r.add(at, c.ra[h])
			}
		}
		if x.n < block*9/10 || x.sum < block || r.sum == 0 {
			continue // hours missing, or polar night
		}
		off := around(x.middle() - r.middle())
		if math.Abs(off) >= clockOff.V {
			c.find(Clock, Rad, i, block, off)
		}
	}
}

// moment finds the middle of something spread round the clock.
type moment struct {
	n           int
	sum, re, im float64
}

func (m *moment) add(hour, x float64) {
	s, c := math.Sincos(2 * math.Pi * hour / 24)
	m.n++
	m.sum += x
	m.re += x * c
	m.im += x * s
}

// middle returns the hour of the middle, −12 to 12.
func (m *moment) middle() float64 { return math.Atan2(m.im, m.re) / (2 * math.Pi) * 24 }

// around brings a difference of hours into −12 to 12.
func around(h float64) float64 { return h - 24*math.Round(h/24) }

// sunHeated looks for a thermometer in the sun. With a series beside it, the
// excess over that series must follow the sun. Without, the warmest hour must
// fall within one of the sun's highest and the daily range be large: air in a
// screen is warmest two hours later (the median at De Bilt).
func (c *checker) sunHeated(beside *Series) {
	if beside != nil {
		c.hotterThan(beside)
		return
	}
	var lag, rng []float64
	for i := 0; i+24 <= c.s.Len(); i += 24 {
		top, bottom, at := math.Inf(-1), math.Inf(1), 0
		noon, light, known := 0, 0.0, 0
		for h := i; h < i+24; h++ {
			t := float64(c.s.V[Temp][h])
			if t != t {
				continue
			}
			known++
			bottom = math.Min(bottom, t)
			if t > top {
				top, at = t, h
			}
			if c.ra[h] > light {
				light, noon = c.ra[h], h
			}
		}
		if known == 24 && light > 700 { // assumption: enough sun to judge
			lag = append(lag, around(float64(at-noon)))
			rng = append(rng, top-bottom)
		}
	}
	if len(lag) < clockDays {
		return
	}
	slices.Sort(lag)
	slices.Sort(rng)
	l, r := stat.Quantile(0.5, stat.Empirical, lag, nil), stat.Quantile(0.5, stat.Empirical, rng, nil)
	if math.Abs(l) <= 1 && r > heatedRange.V {
		c.find(SunHeated, Temp, 0, c.s.Len(), r)
	}
}

// hotterThan regresses the excess over the series beside on the sun.
func (c *checker) hotterThan(beside *Series) {
	var x, y []float64
	for i, t := range c.s.V[Temp] {
		k := beside.Index(c.s.Time(i))
		if k < 0 || k >= beside.Len() {
			continue
		}
		d := float64(t - beside.V[Temp][k])
		light := float64(beside.V[Rad][k])
		if light != light {
			light = c.ra[i] / 2
		}
		if d == d {
			x, y = append(x, light/1000), append(y, d)
		}
	}
	if len(x) < 24*clockDays/2 {
		return
	}
	_, per := stat.LinearRegression(x, y, nil, false)
	if r := stat.Correlation(x, y, nil); per > heatedPer.V && r > 0.6 { // assumption
		c.find(SunHeated, Temp, 0, c.s.Len(), per)
	}
}
