package weather

import (
	"math"

	"oidium/garden"
	"oidium/sun"
)

// frame is what the days of a place have in common whatever their weather: the
// light outside the air, the shape of the day's temperature, the climate of the
// date. Many draws of the same days share one frame, which is never changed.
type frame struct {
	c        Climate
	lat, lon float64
	first    garden.Day
	ra       []float64 // W/m², for each hour
	sum      []float64 // MJ/m², of each day's hours
	lit      []int     // hours with light of each day
	out      []float64 // MJ/m², extraterrestrial radiation of each day
	month    []Month   // climate of each day
	shape    []float64 // of each hour, see spreadTemp
	part     []dayPart // of each hour
	atSet    []float64 // share of the day's range left at sunset, for each day
}

// dayPart says which curve an hour is on.
type dayPart uint8

const (
	beforeDawn dayPart = iota
	daylight
	evening
	wave // near a polar day or night: one wave round the clock
)

// newFrame returns the frame of n days from first.
func newFrame(c Climate, first garden.Day, n int, lat, lon float64) *frame {
	f := &frame{
		c: c, lat: lat, lon: lon, first: first,
		ra:  sun.ExtraterrestrialHours(solarStart(first, lon), 24*n, lat, lon),
		sum: make([]float64, n), lit: make([]int, n), out: make([]float64, n), month: make([]Month, n),
		shape: make([]float64, 24*n), part: make([]dayPart, 24*n), atSet: make([]float64, n),
	}
	for k := range n {
		d := first + garden.Day(k)
		f.month[k] = c.at(d)
		f.out[k] = sun.Extraterrestrial(d, lat)
		for _, r := range f.ra[24*k : 24*k+24] {
			f.sum[k] += r * hourMJ
			if r > 0 {
				f.lit[k]++
			}
		}
		f.curve(k, d)
	}
	return f
}

// curve writes the shape of the temperature of day k.
func (f *frame) curve(k int, d garden.Day) {
	unit := curveOf(Daily{Date: d, Tmin: 0, Tmax: 1}, f.lat, f.lon)
	y := unit.length()
	shape, part := f.shape[24*k:24*k+24], f.part[24*k:24*k+24]
	if y > 21 || y < 3 { // assumption
		// Near a polar day or night there is no dawn to start from: a plain
		// wave with its top three hours after noon (assumption).
		for h := range shape {
			shape[h] = (1 + math.Cos(2*math.Pi*(float64(h)+0.5-12-3)/24)) / 2
			part[h] = wave
		}
		return
	}
	z := 24 - y
	// The decay leaves exp(−b) of the fall at dawn; the rest is closed evenly
	// through the night, so that the curve has no step.
	rest := math.Exp(-plNight.V)
	decay := func(n float64) float64 { return night(1, 0, n, z) - rest*math.Min(1, n/z) }
	f.atSet[k] = unit.at(unit.set)
	dawn := unit.rise + plMin.V
	for h := range shape {
		switch t := float64(h) + 0.5; {
		case t < dawn:
			shape[h], part[h] = decay(t+24-unit.set), beforeDawn
		case t <= unit.set:
			shape[h], part[h] = unit.at(t), daylight
		default:
			shape[h], part[h] = decay(t-unit.set), evening
		}
	}
}

// hourly spreads days over their hours; they must lie within the frame, in order.
func (f *frame) hourly(days []Daily, first, last garden.Day, flag Flag) *Series {
	s := NewSeries(solarStart(first, f.lon), 24*int(last-first+1))
	for i, d := range days {
		base := 24 * int(d.Date-first)
		prev, next := d, d
		if i > 0 && days[i-1].Date == d.Date-1 {
			prev = days[i-1]
		}
		if i+1 < len(days) && days[i+1].Date == d.Date+1 {
			next = days[i+1]
		}
		k := int(d.Date - f.first)
		f.spreadTemp(s, base, k, prev, d, next, flag)
		f.spreadDew(s, base, k, prev, d, next, flag)
		f.spreadRad(s, base, k, d, flag)
		f.spreadWind(s, base, k, d, flag)
		spreadRain(s, base, d.Rain, rainStart(d.Date), flag)
	}
	return s
}

// spreadTemp lays the curve of the day: from last evening's sunset down to the
// morning's minimum, up and over by day, and towards the next minimum.
func (f *frame) spreadTemp(s *Series, base, k int, prev, d, next Daily, flag Flag) {
	if !(d.Tmax >= d.Tmin) {
		return
	}
	if !(prev.Tmax >= prev.Tmin) {
		prev = d
	}
	if !(next.Tmax >= next.Tmin) {
		next = d
	}
	before := prev.Tmin + (prev.Tmax-prev.Tmin)*f.atSet[k]
	after := d.Tmin + (d.Tmax-d.Tmin)*f.atSet[k]
	v, marks := s.V[Temp][base:base+24], s.F[Temp][base:base+24]
	for h, x := range f.shape[24*k : 24*k+24] {
		switch f.part[24*k+h] {
		case beforeDawn:
			v[h] = float32(d.Tmin + (before-d.Tmin)*x)
		case evening:
			v[h] = float32(next.Tmin + (after-next.Tmin)*x)
		default:
			v[h] = float32(d.Tmin + (d.Tmax-d.Tmin)*x)
		}
		marks[h] = flag
	}
}

// dewOf returns the dew point of a day and whether it was given.
func dewOf(d Daily, m *Month) (float64, bool) {
	if d.Dew == d.Dew {
		return d.Dew, true
	}
	return d.Tmin - m.Dry, false
}

func (f *frame) spreadDew(s *Series, base, k int, prev, d, next Daily, flag Flag) {
	m := &f.month[k]
	here, given := dewOf(d, m)
	if here != here {
		return
	}
	// A neighbour of another month differs by next to nothing in dryness.
	p, _ := dewOf(prev, m)
	n, _ := dewOf(next, m)
	if p != p {
		p = here
	}
	if n != n {
		n = here
	}
	if !given {
		flag = Typical
	}
	v, marks, temp := s.V[RH][base:base+24], s.F[RH][base:base+24], s.V[Temp][base:base+24]
	for h := range 24 {
		t := (float64(h) + 0.5 - 12) / 24
		dew := here + t*(n-here)
		if t < 0 {
			dew = here + t*(here-p)
		}
		// RH = 100 e0(dew) / e0(T), one exponential for both.
		a := float64(temp[h])
		if a != a {
			continue
		}
		x := tetensSlope.V * (dew/(dew+tetensOffset.V) - a/(a+tetensOffset.V))
		v[h], marks[h] = 100, flag
		if x < 0 {
			v[h] = float32(100 * math.Exp(x))
		}
	}
}

func (f *frame) spreadRad(s *Series, base, k int, d Daily, flag Flag) {
	day, sum := d.Rad, f.sum[k]
	if day != day {
		day, flag = hargreaves(d.Tmin, d.Tmax, sum), Typical
	}
	if day != day {
		return
	}
	share := 0.0
	if sum > 0 {
		share = math.Min(1, day/sum)
	}
	v, marks := s.V[Rad][base:base+24], s.F[Rad][base:base+24]
	for h, r := range f.ra[24*k : 24*k+24] {
		v[h], marks[h] = float32(share*r), flag
	}
}

// spreadWind makes the wind twice as strong by day, the mean of the day kept.
func (f *frame) spreadWind(s *Series, base, k int, d Daily, flag Flag) {
	u := d.Wind
	if u != u {
		u, flag = f.month[k].Wind, Typical
	}
	x := 24 * u / (24 + float64(f.lit[k])*(windDayNight.V-1))
	v, marks := s.V[Wind][base:base+24], s.F[Wind][base:base+24]
	for h, r := range f.ra[24*k : 24*k+24] {
		v[h], marks[h] = float32(x), flag
		if r > 0 {
			v[h] = float32(windDayNight.V * x)
		}
	}
}
