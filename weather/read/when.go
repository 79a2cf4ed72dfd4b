package read

import (
	"fmt"
	"regexp"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"
)

// timeColumns says where the time of a row stands; −1 is none.
type timeColumns struct {
	stamp, date, clock                   int
	year, month, day, doy, hour, minutes int
	epoch                                int
	packed                               bool // the hour column holds hhmm
	zone                                 *time.Location
}

func noTime() timeColumns {
	return timeColumns{-1, -1, -1, -1, -1, -1, -1, -1, -1, -1, false, nil}
}

// columns returns the columns that hold the time.
func (w timeColumns) columns() []int {
	var out []int
	for _, c := range []int{w.stamp, w.date, w.clock, w.epoch, w.year, w.month, w.day, w.doy, w.hour, w.minutes} {
		if c >= 0 {
			out = append(out, c)
		}
	}
	return out
}

// offsetIn finds a zone in the head of a column: "UTC", "GMT+1", "UTC-05:00".
var offsetIn = regexp.MustCompile(`(?i)\b(?:utc|gmt)\s*([+-]\d{1,2}(?::?\d\d)?)?`)

func zoneIn(name string) *time.Location {
	m := offsetIn.FindStringSubmatch(strings.ReplaceAll(name, "_", " "))
	if m == nil {
		return nil
	}
	if m[1] == "" {
		return time.UTC
	}
	d := strings.ReplaceAll(m[1][1:], ":", "")
	if len(d) == 1 || len(d) == 3 {
		d = "0" + d
	}
	off, ok := parseOffset(m[1][:1] + d)
	if !ok {
		return nil
	}
	return time.FixedZone("UTC"+m[1], off)
}

// times finds the columns of the time. The bounds of its parts are exact, by the
// calendar.
func (l *layout) times(rows [][]string, o Options) error {
	l.when = noTime()
	w := &l.when
	best := 0
	for c := range l.heads {
		h := l.heads[c]
		kind, zoned := l.stampColumn(rows, c)
		zone := zoneIn(h.name)
		switch kind {
		case dateAndTime:
			sure := 2
			if zoned {
				sure = 4
			} else if zone != nil {
				sure = 3
			}
			if sure > best {
				best, w.stamp, w.zone = sure, c, zone
			}
		case dateOnly:
			if w.date < 0 {
				w.date = c
			}
		case timeOnly:
			if w.clock < 0 {
				w.clock = c
				if best == 0 {
					w.zone = zone
				}
			}
		}
		if kind != noStamp && kind != timeOnly || !l.numeric(rows, c) {
			continue
		}
		set := func(p *int) {
			if *p < 0 {
				*p = c
			}
		}
		switch {
		case h.has("epoch", "unix", "unixtime", "timestamp", "dt", "ts") && l.within(rows, c, 1e8, 5e12):
			set(&w.epoch)
		case h.has("year", "yr", "jahr", "yyyy", "ano") && l.within(rows, c, 1800, 2200):
			set(&w.year)
		case (h.has("doy", "jday", "julian", "yday", "dayofyear") || h.has("day") && h.has("year")) && l.within(rows, c, 1, 366):
			set(&w.doy)
		case h.has("month", "mo", "monat", "mois", "maand", "mes") && l.within(rows, c, 1, 12):
			set(&w.month)
		case h.has("day", "dd", "tag", "jour", "dag", "dia", "mday") && l.within(rows, c, 1, 31):
			set(&w.day)
		case h.has("hhmm", "hourminute") && l.within(rows, c, 0, 2400):
			set(&w.hour)
			w.packed = w.packed || w.hour == c
		case h.has("hour", "hr", "hh", "stunde", "heure", "uur", "hora") && l.within(rows, c, 0, 2400):
			set(&w.hour)
			w.packed = w.packed || w.hour == c && !l.within(rows, c, 0, 24)
		case h.has("time") && w.hour < 0 && l.within(rows, c, 0, 2400):
			w.hour = c
			w.packed = !l.within(rows, c, 0, 24)
		case h.has("minute", "min", "mn") && len(h.words) == 1 && l.within(rows, c, 0, 59):
			set(&w.minutes)
		}
	}
	switch {
	case w.stamp >= 0:
	case w.date >= 0 && w.clock >= 0, w.date >= 0 && w.hour >= 0, w.date >= 0:
	case w.epoch >= 0:
		w.zone = time.UTC
	case w.year >= 0 && w.month >= 0 && w.day >= 0:
	case w.doy >= 0 && (w.year >= 0 || o.Year > 0):
	case w.doy >= 0:
		return &Ambiguous{Option: "year", Text: "the file gives the day of the year but no year"}
	default:
		return fmt.Errorf("no column holds a date; its columns are %s", l.names())
	}
	return nil
}

func (l *layout) names() string {
	var out []string
	for _, h := range l.heads {
		out = append(out, strconv.Quote(h.name))
	}
	return strings.Join(out, ", ")
}

// stampColumn returns what three quarters of a column's fields are.
func (l *layout) stampColumn(rows [][]string, c int) (kind stampKind, zoned bool) {
	var n [dateAndTime + 1]int
	total, withZone := 0, 0
	for _, r := range rows {
		if c >= len(r) || r[c] == "" {
			continue
		}
		total++
		f := r[c]
		if x, k := l.nums.parse(f); k == isNumber && !(len(f) >= 8 && !strings.ContainsAny(f, ".,-") && x >= 1.8e7) { // exact: 1800 as yyyymmdd
			continue // a plain number is no stamp
		}
		w, k := parseStamp(f, orderUnknown)
		n[k]++
		if w.zoned {
			withZone++
		}
	}
	// A date without its midnight is still a time: "2017-01-01" among
	// "2017-01-01 01:00".
	if n[dateAndTime] > 0 && n[dateOnly] > 0 && n[dateOnly]*10 < total {
		n[dateAndTime] += n[dateOnly]
	}
	for k := dateAndTime; k > noStamp; k-- {
		if total > 0 && n[k]*4 >= total*3 {
			return k, withZone*4 >= total*3
		}
	}
	return noStamp, false
}

// within reports whether nearly all numbers of a column lie between lo and hi
// and are whole.
func (l *layout) within(rows [][]string, c int, lo, hi float64) bool {
	in, out := 0, 0
	for _, r := range rows {
		if c < len(r) {
			if x, k := l.nums.parse(r[c]); k == isNumber {
				if x >= lo && x <= hi && x == float64(int64(x)) {
					in++
				} else {
					out++
				}
			}
		}
	}
	return in > 0 && out*20 <= in
}

// steps finds the order of day and month and the step between rows.
func (l *layout) steps(rows [][]string, o Options) error {
	switch o.DateOrder {
	case "day":
		l.order = dayFirst
	case "month":
		l.order = monthFirst
	case "":
		if err := l.findOrder(rows, o); err != nil {
			return err
		}
	default:
		return fmt.Errorf("option date-order: %q is neither day nor month", o.DateOrder)
	}
	step, _ := l.usualStep(rows, o)
	if step <= 0 {
		return fmt.Errorf("the times of the rows do not move on; is the column of the time right (%s)?", l.names())
	}
	l.step = step
	return nil
}

// usualStep returns the step that occurs most and how many of the steps are it.
func (l *layout) usualStep(rows [][]string, o Options) (time.Duration, float64) {
	counts := make(map[time.Duration]int)
	var prev time.Time
	n := 0
	for _, r := range rows {
		w, ok := l.rowWall(r, o)
		if !ok {
			continue
		}
		t, ok := w.time()
		if !ok {
			continue
		}
		if !prev.IsZero() && !t.Equal(prev) {
			counts[t.Sub(prev).Abs()]++
			n++
		}
		prev = t
	}
	if n == 0 {
		// A single row says nothing; it is taken as an hour.
		return time.Hour, 0
	}
	steps := make([]time.Duration, 0, len(counts))
	for d := range counts {
		steps = append(steps, d)
	}
	sort.Slice(steps, func(i, j int) bool {
		if counts[steps[i]] != counts[steps[j]] {
			return counts[steps[i]] > counts[steps[j]]
		}
		return steps[i] < steps[j]
	})
	return steps[0], float64(counts[steps[0]]) / float64(n)
}

// findOrder settles whether the day or the month comes first: by a number above
// 12, else by which reading moves on evenly.
func (l *layout) findOrder(rows [][]string, o Options) error {
	c := l.when.stamp
	if c < 0 {
		c = l.when.date
	}
	if c < 0 {
		return nil
	}
	mixed := false
	for _, r := range rows {
		if c >= len(r) {
			continue
		}
		d, k1 := parseStamp(r[c], dayFirst)
		m, k2 := parseStamp(r[c], monthFirst)
		if k1 == noStamp || k2 == noStamp || d.day == m.day && d.month == m.month {
			continue
		}
		mixed = true
		switch {
		case d.month > 12:
			l.order = monthFirst
			return nil
		case m.month > 12:
			l.order = dayFirst
			return nil
		}
	}
	if !mixed {
		return nil
	}
	l.order = dayFirst
	_, even := l.usualStep(rows, o)
	l.order = monthFirst
	_, other := l.usualStep(rows, o)
	switch {
	case even > other:
		l.order = dayFirst
	case even == other:
		return &Ambiguous{Option: "date-order", Choices: []string{"day", "month"}, Text: fmt.Sprintf("a date such as %q can be read in two ways", rows[0][c])}
	}
	return nil
}

// rowWall returns the time a row names.
func (l *layout) rowWall(r []string, o Options) (wall, bool) {
	w := &l.when
	num := func(c int) (int, bool) {
		if c < 0 || c >= len(r) {
			return 0, false
		}
		x, k := l.nums.parse(r[c])
		return int(x), k == isNumber && x == float64(int(x)) && x >= 0 && x < 1e6
	}
	var out wall
	switch {
	case w.stamp >= 0:
		if w.stamp >= len(r) {
			return out, false
		}
		s, k := parseStamp(r[w.stamp], l.order)
		if k == dateOnly {
			s.hour = 0
		}
		return s, k == dateOnly || k == dateAndTime
	case w.date >= 0:
		if w.date >= len(r) {
			return out, false
		}
		s, k := parseStamp(r[w.date], l.order)
		if k != dateOnly {
			return out, false
		}
		out = s
		out.hour = 0
		if w.clock >= 0 {
			if w.clock >= len(r) {
				return out, false
			}
			c, k := parseStamp(r[w.clock], l.order)
			out.hour, out.minute, out.second = c.hour, c.minute, c.second
			return out, k == timeOnly
		}
	case w.epoch >= 0:
		if w.epoch >= len(r) {
			return out, false
		}
		x, k := l.nums.parse(r[w.epoch])
		if x > 1e11 { // exact: milliseconds
			x /= 1000
		}
		t := time.Unix(int64(x), 0).UTC()
		return wall{t.Year(), int(t.Month()), t.Day(), t.Hour(), t.Minute(), t.Second(), true, 0}, k == isNumber
	case w.doy >= 0 && (w.month < 0 || w.day < 0):
		out.year = o.Year
		if w.year >= 0 {
			out.year, _ = num(w.year)
		}
		doy, ok := num(w.doy)
		if !ok || doy < 1 || doy > 366 || out.year == 0 {
			return out, false
		}
		t := time.Date(out.year, 1, doy, 0, 0, 0, 0, time.UTC)
		out.year, out.month, out.day = t.Year(), int(t.Month()), t.Day()
	default:
		var ok [3]bool
		out.year, ok[0] = num(w.year)
		out.month, ok[1] = num(w.month)
		out.day, ok[2] = num(w.day)
		if slices.Contains(ok[:], false) {
			return out, false
		}
	}
	if w.hour >= 0 {
		h, ok := num(w.hour)
		if !ok {
			return out, false
		}
		out.hour = h
		if w.packed {
			out.hour, out.minute = h/100, h%100
		}
	}
	if w.minutes >= 0 {
		out.minute, _ = num(w.minutes)
	}
	return out, true
}
