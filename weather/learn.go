package weather

import (
	"math"
	"time"

	"oidium/cite"
	"oidium/sun"
)

// Learn returns the climate c improved by days measured at the place, a diary of
// lowest and highest temperatures at the least. What all months have in common
// (the place is warmer, drier, windier than the table) is learned first, then
// what a month has of its own; each is weighed against the doubt of c and the
// scatter of days, so that a week moves little and ten years nearly everything.
// The doubt shrinks by as much, that of a month's own only by days in it. lat is in
// degrees north.
func (c Climate) Learn(days []Daily, lat float64) Climate {
	if len(days) == 0 {
		return c
	}
	old := c
	var level lesson
	var months [12]lesson
	for _, d := range days {
		k := monthOf(d)
		x := old.excess(d, lat)
		level.add(x)
		months[k].add(x)
	}
	if c.Own == ([12]Doubt{}) {
		// The doubt of the table is parted into what months share and what not.
		for k := range c.Own {
			c.Own[k] = ownMonth.with(c.Doubt, math.Min)
		}
		c.Doubt = c.Doubt.without(c.Own[0])
	}
	usual := old.Months[monthOf(days[len(days)/2])]
	shift, left := level.shrink(c.Doubt, usual.scatter(), usual)
	c.Doubt = left
	for k := range c.Months {
		m := &c.Months[k]
		own := Doubt{}
		if months[k].temp.n > 0 {
			own, c.Own[k] = months[k].less(shift).shrink(c.Own[k], old.Months[k].scatter(), old.Months[k])
		}
		m.move(shift, own)
		m.spread(months[k])
		*m = m.possible()
	}
	c.Days += len(days)
	if c.Days >= 300 { // assumption: most of a year
		c.Grade = cite.Calc
	}
	return c
}

// monthOf returns the month of a day, 0 to 11.
func monthOf(d Daily) int { return int(d.Date.At(0, time.UTC).Month()) - 1 }

// ownMonth is how much a month may differ from the table beyond what all months
// have in common (assumption).
var ownMonth = Doubt{Temp: 1.5, Range: 1, Dry: 1, Wet: 0.08, Share: 0.04, Wind: 0.15}

// excess is how a day lies about the climate of its date.
func (c Climate) excess(d Daily, lat float64) Doubt {
	m := c.at(d.Date)
	return Doubt{
		Temp:  ((d.Tmax + d.Tmin) - (m.Tmax + m.Tmin)) / 2,
		Range: (d.Tmax - d.Tmin) - (m.Tmax - m.Tmin),
		Dry:   d.Tmin - d.Dew - m.Dry,
		Wet:   wetShare(d.Rain) - m.Wet,
		Share: d.Rad/sun.Extraterrestrial(d.Date, lat) - m.Share,
		Wind:  math.Log(math.Max(d.Wind, 0.1) / m.Wind),
	}
}

// lesson gathers the excess of days.
type lesson struct {
	temp, rng, dry, wet, share, wind tally
	temp2                            tally // squares, for the spread
}

func (l *lesson) add(x Doubt) {
	l.temp.add(x.Temp)
	l.temp2.add(x.Temp * x.Temp)
	l.rng.add(x.Range)
	l.dry.add(x.Dry)
	l.wet.add(x.Wet)
	l.share.add(x.Share)
	l.wind.add(x.Wind)
}

// less returns the lesson with a common shift taken off.
func (l lesson) less(d Doubt) lesson {
	off := func(t tally, x float64) tally { return tally{t.n, t.sum - x*float64(t.n)} }
	l.temp, l.rng, l.dry = off(l.temp, d.Temp), off(l.rng, d.Range), off(l.dry, d.Dry)
	l.wet, l.share, l.wind = off(l.wet, d.Wet), off(l.share, d.Share), off(l.wind, d.Wind)
	return l
}

// shrink returns mean and remaining doubt of the excess, given the doubt before,
// the scatter of the temperature of days and that of the rest in m. Days that
// follow each other tell less than days apart, by the correlation given.
func (l lesson) shrink(q Doubt, sd float64, m Month) (mean, left Doubt) {
	mean.Temp, left.Temp = l.temp.shrink(q.Temp, sd, tempMemory.V)
	mean.Range, left.Range = l.rng.shrink(q.Range, 3, 0.2) // assumption
	mean.Dry, left.Dry = l.dry.shrink(q.Dry, m.SDDry, dewMemory.V)
	mean.Wet, left.Wet = l.wet.shrink(q.Wet, 0.5, m.Stay)
	mean.Share, left.Share = l.share.shrink(q.Share, m.SDShare, 0.25)
	mean.Wind, left.Wind = l.wind.shrink(q.Wind, windSpread.V, 0.4) // assumption
	return mean, left
}

// scatter is the scatter of the temperature of days about the climate. Weeks have
// a level of their own, which counts as scatter of the thirty days of a month.
func (m Month) scatter() float64 {
	return math.Hypot(m.sd(), monthDoubt.V*math.Sqrt(30*(1-tempMemory.V)/(1+tempMemory.V))) // exact: a month of days
}

// sd is the spread of the temperature of days.
func (m Month) sd() float64 { return (m.SDmax + m.SDmin) / 2 }

// move shifts a month.
func (m *Month) move(a, b Doubt) {
	t, r := a.Temp+b.Temp, (a.Range+b.Range)/2
	m.Tmin += t - r
	m.Tmax += t + r
	m.Dry += a.Dry + b.Dry
	m.Wet += a.Wet + b.Wet
	m.Share += a.Share + b.Share
	m.Wind *= math.Exp(a.Wind + b.Wind)
}

// spread draws the spread of a month towards the measured one, with the weight
// of sixty days on the table (assumption).
func (m *Month) spread(l lesson) {
	n := float64(l.temp.n)
	if n < 10 { // numerical
		return
	}
	mean := l.temp.sum / n
	sd := math.Sqrt(math.Max(0, l.temp2.sum/n-mean*mean))
	w := n / (n + 60)
	k := (1-w)*1 + w*sd/m.sd()
	m.SDmin *= k
	m.SDmax *= k
}
