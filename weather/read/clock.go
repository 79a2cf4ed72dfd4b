package read

import (
	"fmt"
	"time"

	"oidium/weather"
)

// row is the values of a row that is no day, ready to be laid into hours.
type row struct {
	n     int // line
	x     [weather.NVars]float64
	f     [weather.NVars]weather.Flag // Missing where x holds nothing
	back  time.Duration               // from the named time to the start of the step
	step  time.Duration
	light func(mid time.Time) float64 // radiation where it is estimated, or nil
}

func (r *row) set(v weather.Var, x float64, f weather.Flag) {
	if x == x {
		r.x[v], r.f[v] = x, f
	}
}

// clock turns wall clocks into hours of UTC. A zone with summer time leaves open
// whether the station follows it; both readings are kept until the end, and the
// rows in the hour that summer time skips or repeats decide.
type clock struct {
	zone     *time.Location
	step     time.Duration
	summer   book // as the zone says, summer time included
	standard book // the zone's time without summer time
	both     bool // the two differ somewhere

	last    time.Time // wall clock of the row before, as UTC
	again   bool      // within the second pass of the repeated hour
	skipped int       // rows within the hour that summer time skips
	repeats int       // rows within the second pass
}

// book is one reading of a file.
type book struct {
	hours hours
	rep   Report
}

func newClock(zone *time.Location, step time.Duration) *clock {
	return &clock{zone: zone, step: step}
}

// put lays a row into the hours and returns why it could not.
func (c *clock) put(w wall, r *row) string {
	t, _ := w.time()
	if w.zoned {
		return c.lay(&c.summer, t.Add(-time.Duration(w.offset)*time.Second), r)
	}
	if c.zone == time.UTC {
		return c.lay(&c.summer, t, r)
	}
	first, second, kind := instants(t, c.zone)
	moved := t.After(c.last)
	switch kind {
	case skippedHour:
		c.skipped++
	case repeatedHour:
		if !moved && !c.last.IsZero() {
			c.again = true
		}
		if c.again {
			c.repeats++
		}
	default:
		c.again = false
	}
	c.last = t
	at := first
	if c.again {
		at = second
	}
	std := t.Add(-time.Duration(standardOffset(t, c.zone)) * time.Second)
	if c.both || !std.Equal(at) {
		if !c.both {
			c.both = true
			// Until here the two readings agree.
			c.standard.hours = hours{c.summer.hours.base, append([]cell(nil), c.summer.hours.cell...)}
		}
		if reason := c.lay(&c.standard, std, r); reason != "" {
			c.standard.rep.bad(r.n, "%s", reason)
		}
		if reason := c.lay(&c.summer, at, r); reason != "" {
			c.summer.rep.bad(r.n, "%s", reason)
		}
		return ""
	}
	return c.lay(&c.summer, at, r)
}

// lay puts the values of a row into the hours its step touches.
func (c *clock) lay(b *book, t time.Time, r *row) string {
	start := t.Add(-r.back)
	end := start.Add(r.step)
	if r.light != nil {
		if x := r.light(start.Add(r.step / 2)); x == x {
			r.x[weather.Rad], r.f[weather.Rad] = x, weather.Derived
		}
	}
	// In steps longer than an hour readings stand for the hour at the named end;
	// rain and light fell in the whole step.
	from, to := start, end
	if r.step > time.Hour {
		if r.back == 0 {
			to = start.Add(time.Hour)
		} else {
			from = end.Add(-time.Hour)
		}
	}
	reason := ""
	eachHour(start, end, func(h time.Time, minutes float64) {
		cell := b.hours.at(h)
		switch {
		case reason != "":
		case cell == nil:
			reason = fmt.Sprintf("its date %s is more than 50 years from the first row", t.Format(time.DateOnly))
		default:
			for v := range weather.Var(weather.NVars) {
				if r.f[v] != weather.Missing && cell.full(v, minutes) {
					reason = fmt.Sprintf("the time %s was given before; the first is kept", t.Format("2006-01-02 15:04Z"))
				}
			}
		}
	})
	if reason != "" {
		return reason
	}
	eachHour(start, end, func(h time.Time, minutes float64) {
		cell := b.hours.at(h)
		for v := range weather.Var(weather.NVars) {
			x, f := r.x[v], r.f[v]
			switch {
			case f == weather.Missing:
				continue
			case v == weather.Rain:
				x *= minutes / r.step.Minutes()
			case v == weather.Rad:
			case h.Before(from) || !h.Before(to):
				continue
			}
			cell.put(v, x, minutes, f)
		}
	})
	return ""
}

// series returns the hours by the reading that the file proves, and says which.
func (c *clock) series(rep *Report) *weather.Series {
	b := &c.summer
	if c.both {
		switch {
		case c.skipped > 0 && c.repeats == 0:
			b = &c.standard
			rep.found("The station does not follow summer time: %d rows lie in the hour that summer time skips.", c.skipped)
		case c.repeats > 0:
			rep.found("The station follows summer time: %d rows lie in the hour that is repeated when it ends.", c.repeats)
		default:
			rep.found("The station is taken to follow the summer time of %s; nothing in the file proves or disproves it.", c.zone)
		}
	}
	for _, r := range b.rep.Bad {
		rep.bad(r.Line, "%s", r.Reason)
	}
	rep.BadTotal += b.rep.BadTotal - len(b.rep.Bad)
	rep.Used -= b.rep.BadTotal
	s, dropped := b.hours.series()
	if dropped > 0 {
		rep.found("%d values were left out because too little of their hour is known.", dropped)
	}
	return s
}

// hourKind is what a zone does with a wall clock.
type hourKind int

const (
	plainHour hourKind = iota
	skippedHour
	repeatedHour
)

// instants returns the instants at which a clock in the zone shows t (given as
// if in UTC): one, or two where the clock was put back. For a time that the
// clock skips it is where a clock not put forward would show it.
func instants(t time.Time, zone *time.Location) (first, second time.Time, kind hourKind) {
	_, before := t.Add(-14 * time.Hour).In(zone).Zone()
	_, after := t.Add(14 * time.Hour).In(zone).Zone()
	early := t.Add(-time.Duration(before) * time.Second)
	late := t.Add(-time.Duration(after) * time.Second)
	shows := func(x time.Time) bool {
		_, off := x.In(zone).Zone()
		return x.Add(time.Duration(off) * time.Second).Equal(t)
	}
	switch a, b := shows(early), shows(late); {
	case before == after:
		return early, early, plainHour
	case a && b:
		return early, late, repeatedHour // the clock was put back: early is summer time
	case a:
		return early, early, plainHour
	case b:
		return late, late, plainHour
	}
	return early, early, skippedHour
}

// standardOffset returns the offset of the zone's standard time around t in
// seconds: the smallest of the offsets through a year.
func standardOffset(t time.Time, zone *time.Location) int {
	_, least := t.In(zone).Zone()
	for k := 1; k < 4; k++ {
		_, off := t.AddDate(0, 3*k, 0).In(zone).Zone()
		least = min(least, off)
	}
	return least
}
