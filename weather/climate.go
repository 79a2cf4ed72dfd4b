package weather

import (
	"math"

	"oidium/cite"
	"oidium/garden"
)

// Month is the climate of one month.
type Month struct {
	Tmin, Tmax     float64 // mean daily extremes, °C
	SDmin, SDmax   float64 // spread of the daily extremes about their mean, K
	Dry            float64 // mean of minimum less dew point, K; negative in damp places
	SDDry          float64 // spread of it from day to day, K
	Wet            float64 // share of days with at least 0.2 mm
	Stay           float64 // persistence: P(wet after wet) − P(wet after dry)
	RainMean       float64 // mm on a wet day
	Share          float64 // mean share of extraterrestrial radiation at the ground
	SDShare        float64 // spread of it from day to day
	WetMax, WetRad float64 // how much a wet day differs from a dry one: Tmax in K, Share
	Wind           float64 // mean at 2 m, m/s
}

// Climate is what the months of a place are like, and how well that is known.
type Climate struct {
	Latitude, Altitude float64 // degrees north, m
	Maritime           bool
	Months             [12]Month
	Doubt              Doubt      // of what all months have in common
	Own                [12]Doubt  // of what each month has of its own beyond that; zero where all is in Doubt
	Days               int        // days of the place's own records that went into it
	Grade              cite.Grade // C as long as it rests on latitude alone
}

// Doubt is the standard deviation of what is not known about a climate: the
// band in which the truth of a place is thought to lie about the table.
type Doubt struct {
	Temp  float64 // K, level of temperature
	Range float64 // K, daily range
	Dry   float64 // K, minimum less dew point
	Wet   float64 // share of wet days
	Share float64 // share of extraterrestrial radiation
	Wind  float64 // ratio of wind speed, as the standard deviation of its logarithm
}

// DoubtOf returns the whole doubt of a month, 0 for January: of what all months have
// in common and of what it has of its own, which only days in it can settle.
func (c Climate) DoubtOf(month int) Doubt { return c.Doubt.with(c.Own[month], math.Hypot) }

// without leaves out of a doubt a part of it.
func (d Doubt) without(o Doubt) Doubt {
	return d.with(o, func(a, b float64) float64 { return math.Sqrt(math.Max(0, a*a-b*b)) })
}

// with joins two doubts quantity by quantity.
func (d Doubt) with(o Doubt, f func(a, b float64) float64) Doubt {
	return Doubt{
		Temp: f(d.Temp, o.Temp), Range: f(d.Range, o.Range), Dry: f(d.Dry, o.Dry),
		Wet: f(d.Wet, o.Wet), Share: f(d.Share, o.Share), Wind: f(d.Wind, o.Wind),
	}
}

// at returns the climate on a date: a line from mid month to mid month through
// knots set so that the mean over each month is that of the table,
//
//	knot(i) = v(i) + (2 v(i) − v(i−1) − v(i+1)) / 8
func (c Climate) at(d garden.Day) Month {
	// Months from mid January of the year before; exact, by the calendar.
	x := float64(d.YearDay()-1)/365.25*12 + 11.5
	i := int(x)
	w := x - float64(i)
	near := [4]*Month{&c.Months[(i+11)%12], &c.Months[i%12], &c.Months[(i+1)%12], &c.Months[(i+2)%12]}
	k := [4]float64{-(1 - w) / 8, (10*(1-w) - w) / 8, (10*w - (1 - w)) / 8, -w / 8}
	var m Month
	for j, n := range near {
		m.Tmin += k[j] * n.Tmin
		m.Tmax += k[j] * n.Tmax
		m.SDmin += k[j] * n.SDmin
		m.SDmax += k[j] * n.SDmax
		m.Dry += k[j] * n.Dry
		m.SDDry += k[j] * n.SDDry
		m.Wet += k[j] * n.Wet
		m.Stay += k[j] * n.Stay
		m.RainMean += k[j] * n.RainMean
		m.Share += k[j] * n.Share
		m.SDShare += k[j] * n.SDShare
		m.WetMax += k[j] * n.WetMax
		m.WetRad += k[j] * n.WetRad
		m.Wind += k[j] * n.Wind
	}
	// A knot may overshoot where a month stands out, as in a monsoon.
	return m.possible()
}

// possible keeps every quantity of a month possible; the bounds are numerical.
func (m Month) possible() Month {
	m.SDmin, m.SDmax, m.SDDry = math.Max(0.1, m.SDmin), math.Max(0.1, m.SDmax), math.Max(0.1, m.SDDry)
	m.Wet, m.Stay = bound(m.Wet, 0.02, 0.98), bound(m.Stay, 0, 0.9)
	m.RainMean, m.Wind = math.Max(0.3, m.RainMean), math.Max(0.2, m.Wind)
	m.Share, m.SDShare = bound(m.Share, cloudFloor.V, clearLimit.V), math.Max(0.02, m.SDShare)
	return m
}

func bound(x, lo, hi float64) float64 { return math.Max(lo, math.Min(hi, x)) }

// typical returns the ordinary days from first on: means of the climate, with
// the ordinary rain on every so many days.
func (c Climate) typical(first garden.Day, n int) []Daily {
	out := make([]Daily, n)
	due := 0.5
	for i := range out {
		d := first + garden.Day(i)
		m := c.at(d)
		rain := 0.0
		if due += m.Wet; due >= 1 {
			due--
			rain = m.RainMean
		}
		out[i] = Daily{
			Date: d, Tmin: m.Tmin, Tmax: m.Tmax, Dew: m.Tmin - m.Dry, Rain: rain, Wind: m.Wind,
			Rad: m.Share * extraterrestrial(d, c.Latitude),
		}
	}
	return out
}
