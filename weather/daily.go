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
	return newFrame(c, first, int(last-first)+1, lat, lon).hourly(days, first, last, f)
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
