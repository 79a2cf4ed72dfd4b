package weather

import (
	"math"
	"time"

	"oidium/garden"
	"oidium/sun"
)

// Daily is one day of weather as a diary or a generator has it. What is not
// known is NaN. The day is the date on the solar clock of the place.
type Daily struct {
	Date       garden.Day
	Tmin, Tmax float64 // °C; both are needed
	Dew        float64 // dew point, °C
	Rain       float64 // mm
	Wind       float64 // mean at 2 m, m/s
	Rad        float64 // MJ/m²
}

// solarStart returns the full hour at which the solar date d begins at lon; 15°
// an hour are exact.
func solarStart(d garden.Day, lon float64) time.Time {
	return d.At(0, time.UTC).Add(-time.Duration(math.Round(lon/15)) * time.Hour)
}

// Hourly spreads days over their hours; every value is flagged f, except what
// the day does not give:
//
//   - temperature: the day's sine and the night's decay of Parton & Logan 1981;
//   - humidity: dew point interpolated from noon to noon; a day without one
//     takes its minimum less the dryness of the climate c (flag Typical);
//   - radiation: the share of the extraterrestrial sum, from temperature range
//     by Hargreaves where it is not given (flag Typical);
//   - wind: twice as strong by day as by night; from c where not given;
//   - rain: in a run of hours whose place in the day goes round the clock with
//     the date, because the hour is not known; missing where not given.
//
// Days must be in order of date; dates left out stay missing.
func Hourly(days []Daily, c Climate, lat, lon float64, f Flag) *Series {
	if len(days) == 0 {
		return NewSeries(time.Unix(0, 0), 0)
	}
	first, last := days[0].Date, days[len(days)-1].Date
	s := NewSeries(solarStart(first, lon), 24*int(last-first+1))
	ra := sun.ExtraterrestrialHours(s.Start, s.Len(), lat, lon)
	for k, d := range days {
		base := 24 * int(d.Date-first)
		prev, next := d, d
		if k > 0 && days[k-1].Date == d.Date-1 {
			prev = days[k-1]
		}
		if k+1 < len(days) && days[k+1].Date == d.Date+1 {
			next = days[k+1]
		}
		m := c.at(d.Date)
		spreadTemp(s, base, prev, d, next, lat, lon, f)
		spreadDew(s, base, prev, d, next, c, f)
		spreadRad(s, base, d, ra[base:base+24], f)
		spreadWind(s, base, d, m, ra[base:base+24], f)
		spreadRain(s, base, d.Rain, rainStart(d.Date), f)
	}
	return s
}

// hourMJ and dayMJ turn the mean in W/m² of an hour or a day into MJ/m²; exact.
const (
	hourMJ = 3600e-6
	dayMJ  = 86400e-6
)

// dayCurve holds what Parton & Logan need of one day.
type dayCurve struct {
	tmin, tmax float64
	rise, set  float64 // hours from the start of the solar date
}

func (c dayCurve) length() float64 { return c.set - c.rise }

// at returns the temperature in the daylight of the day, t hours from its start:
//
//	T = (Tx − Tn) sin(π m / (Y + 2a)) + Tn,  m = t − (rise + c)
func (c dayCurve) at(t float64) float64 {
	m := t - c.rise - plMin.V
	return (c.tmax-c.tmin)*math.Sin(math.Pi*m/(c.length()+2*plMax.V)) + c.tmin
}

// night returns the temperature n hours after sunset in a night of z hours that
// starts at ts and cools towards tn:
//
//	T = Tn + (Ts − Tn) exp(−b n / Z)
func night(ts, tn, n, z float64) float64 {
	return tn + (ts-tn)*math.Exp(-plNight.V*n/z)
}

func curveOf(d Daily, lat, lon float64) dayCurve {
	rise, set := sun.MeanClock(d.Date, lat)
	// The clock of the series is that of the nearest full hour of longitude,
	// exact: 15° an hour.
	ahead := math.Round(lon/15) - lon/15
	return dayCurve{d.Tmin, d.Tmax, rise + ahead, set + ahead}
}

func spreadTemp(s *Series, base int, prev, d, next Daily, lat, lon float64, f Flag) {
	if !(d.Tmax >= d.Tmin) {
		return
	}
	if !(prev.Tmax >= prev.Tmin) {
		prev = d
	}
	if !(next.Tmax >= next.Tmin) {
		next = d
	}
	c := curveOf(d, lat, lon)
	y := c.length()
	if y > 21 || y < 3 { // assumption
		// Near a polar day or night there is no dawn to start from: a plain
		// wave with its top three hours after noon (assumption).
		mid, amp := (d.Tmin+d.Tmax)/2, (d.Tmax-d.Tmin)/2
		for h := range 24 {
			s.Set(Temp, base+h, mid+amp*math.Cos(2*math.Pi*(float64(h)+0.5-12-3)/24), f)
		}
		return
	}
	z := 24 - y
	// The decay leaves exp(−b) of the fall at dawn; the rest is closed evenly
	// through the night, so that the curve has no step.
	rest := math.Exp(-plNight.V)
	pc := dayCurve{prev.Tmin, prev.Tmax, c.rise, c.set}
	before, after := pc.at(c.set), c.at(c.set)
	dawn := c.rise + plMin.V
	for h := range 24 {
		t := float64(h) + 0.5
		var x float64
		switch {
		case t < dawn:
			n := t + 24 - c.set
			x = night(before, d.Tmin, n, z) - (before-d.Tmin)*rest*math.Min(1, n/z)
		case t <= c.set:
			x = c.at(t)
		default:
			n := t - c.set
			x = night(after, next.Tmin, n, z) - (after-next.Tmin)*rest*math.Min(1, n/z)
		}
		s.Set(Temp, base+h, x, f)
	}
}

// dewOf returns the dew point of a day and whether it was given.
func dewOf(d Daily, c Climate) (float64, bool) {
	if d.Dew == d.Dew {
		return d.Dew, true
	}
	return d.Tmin - c.at(d.Date).Dry, false
}

func spreadDew(s *Series, base int, prev, d, next Daily, c Climate, f Flag) {
	here, given := dewOf(d, c)
	if here != here {
		return
	}
	p, _ := dewOf(prev, c)
	n, _ := dewOf(next, c)
	if p != p {
		p = here
	}
	if n != n {
		n = here
	}
	if !given {
		f = Typical
	}
	for h := range 24 {
		t := (float64(h) + 0.5 - 12) / 24
		dew := here + t*(n-here)
		if t < 0 {
			dew = here + t*(here-p)
		}
		s.Set(RH, base+h, RHFrom(float64(s.V[Temp][base+h]), SaturationVP(dew)), f)
	}
}

func spreadRad(s *Series, base int, d Daily, ra []float64, f Flag) {
	sum := 0.0
	for _, r := range ra {
		sum += r
	}
	sum *= hourMJ
	day := d.Rad
	if day != day {
		day, f = hargreaves(d.Tmin, d.Tmax, sum), Typical
	}
	if day != day {
		return
	}
	share := 0.0
	if sum > 0 {
		share = math.Min(1, day/sum)
	}
	for h, r := range ra {
		s.Set(Rad, base+h, share*r, f)
	}
}

func spreadWind(s *Series, base int, d Daily, m Month, ra []float64, f Flag) {
	u := d.Wind
	if u != u {
		u, f = m.Wind, Typical
	}
	lit := 0
	for _, r := range ra {
		if r > 0 {
			lit++
		}
	}
	// FAO-56: day to night about 2, the mean of the day kept.
	x := 24 * u / float64(24+lit*int(windDayNight.V-1))
	for h, r := range ra {
		if r > 0 {
			s.Set(Wind, base+h, windDayNight.V*x, f)
		} else {
			s.Set(Wind, base+h, x, f)
		}
	}
}

// rainStart is the hour at which the rain of a date begins when nobody knows:
// it goes round the clock so that no time of day is favoured.
func rainStart(d garden.Day) int { return ((int(d)*7)%24 + 24) % 24 }

// spreadRain lays mm of rain into a run of hours from start, round the clock.
func spreadRain(s *Series, base int, mm float64, start int, f Flag) {
	if mm != mm || mm < 0 {
		return
	}
	hours := min(24, max(1, int(math.Ceil(mm/rainRate.V))))
	for h := range 24 {
		x := 0.0
		if (h-start+24)%24 < hours {
			x = mm / float64(hours)
		}
		s.Set(Rain, base+h, x, f)
	}
}
