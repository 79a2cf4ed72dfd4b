package spoken

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"oidium/garden"
)

// Side says on which side of today a date without a year, or a weekday, lies.
type Side uint8

// The sides.
const (
	Nearest Side = iota
	Before       // today or earlier
	After        // today or later
)

var (
	clockTime = regexp.MustCompile(`(?i)\b(\d{1,2}):(\d{2})(?::\d{2})?\s*(am|pm)?\b|\b(\d{1,2})h(\d{2})?\b|\b(\d{1,2})\s*(am|pm)\b|\bnoon\b|\bmidnight\b`)
	ago       = regexp.MustCompile(`(?i)^(an?|\d+)\s*(min|minutes?|h|hours?|d|days?|weeks?)\s+ago$`)
	inFuture  = regexp.MustCompile(`(?i)^in\s+(an?|\d+)\s*(d|days?|weeks?)$`)
	offset    = regexp.MustCompile(`^([+-])(\d{1,3})$`)
	span      = regexp.MustCompile(`(?i)^(?:\+|for\s+|after\s+)?(?:(\d+)\s*(?:h|hours?)\s*)?(?:(\d+)\s*(?:m|min|minutes?)?)?$`)
	slashed   = regexp.MustCompile(`^(\d{1,2})/(\d{1,2})(?:/(\d{4}))?$`)
	dotted    = regexp.MustCompile(`^(\d{1,2})\.\s?(\d{1,2})\.(?:\s?(\d{4}))?$`)
	dayMonth  = regexp.MustCompile(`(?i)^(\d{1,2})(?:st|nd|rd|th)?\s+(?:of\s+)?([a-z]{3,9})\.?,?(?:\s+(\d{4}))?$`)
	monthDay  = regexp.MustCompile(`(?i)^([a-z]{3,9})\.?\s+(\d{1,2})(?:st|nd|rd|th)?,?(?:\s+(\d{4}))?$`)
)

// DateWays tells how a date can be typed.
const DateWays = "write today, yesterday, monday, 14 June, 14 June 2000 or 2000-06-14"

// Day reads a date as people say it, as seen from today.
func (c Clock) Day(text string, where Side) (garden.Day, error) {
	s := strings.ToLower(strings.Join(strings.Fields(text), " "))
	today := c.today()
	switch s {
	case "today", "now", "this morning", "this evening":
		return today, nil
	case "yesterday":
		return today - 1, nil
	case "tomorrow":
		return today + 1, nil
	}
	if m := ago.FindStringSubmatch(s); m != nil && (m[2][0] == 'd' || m[2][0] == 'w') {
		return today - count(m[1])*days(m[2]), nil
	}
	if m := inFuture.FindStringSubmatch(s); m != nil {
		return today + count(m[1])*days(m[2]), nil
	}
	if m := offset.FindStringSubmatch(s); m != nil {
		n := count(m[2])
		if m[1] == "-" {
			n = -n
		}
		return today + n, nil
	}
	if d, ok := c.weekday(s, where); ok {
		return d, nil
	}
	if len(s) >= 8 && s[4] == '-' {
		return dateOf(text, s)
	}
	if m := dotted.FindStringSubmatch(s); m != nil {
		return c.dated(text, m[1], m[2], m[3], where)
	}
	if m := slashed.FindStringSubmatch(s); m != nil {
		first, second := count(m[1]), count(m[2])
		switch {
		case first > 12:
			return c.dated(text, m[1], m[2], m[3], where)
		case second > 12:
			return c.dated(text, m[2], m[1], m[3], where)
		}
		return 0, fmt.Errorf("%q can be read in two ways; write the month as a word, such as %d %s", text, first, time.Month(second))
	}
	if m := dayMonth.FindStringSubmatch(s); m != nil {
		if mo, ok := month(m[2]); ok {
			return c.dated(text, m[1], strconv.Itoa(mo), m[3], where)
		}
	}
	if m := monthDay.FindStringSubmatch(s); m != nil {
		if mo, ok := month(m[1]); ok {
			return c.dated(text, m[2], strconv.Itoa(mo), m[3], where)
		}
	}
	return 0, fmt.Errorf("%q is not a date; %s", text, DateWays)
}

func dateOf(text, s string) (garden.Day, error) {
	d, err := garden.ParseDay(s)
	if err != nil {
		return 0, fmt.Errorf("%q is not a date of the calendar; %s", text, DateWays)
	}
	return d, nil
}

// dated makes the date of a day, a month and perhaps a year.
func (c Clock) dated(text, day, mon, year string, where Side) (garden.Day, error) {
	of := func(y int) (garden.Day, error) {
		return dateOf(text, fmt.Sprintf("%04d-%02d-%02d", y, count(mon), count(day)))
	}
	if year != "" {
		return of(int(count(year)))
	}
	today := c.today()
	best, found := garden.Day(0), false
	var wrong error
	// This year, unless the date lies near the turn of it on the other side.
	for i, y := range []int{today.Year(), today.Year() - 1, today.Year() + 1} {
		d, err := of(y)
		switch {
		case err != nil:
			wrong = err
		case where == Before && d > today || where == After && d < today:
		case !found, where != Nearest && away(d, today) < away(best, today),
			where == Nearest && i > 0 && away(d, today) <= turn && away(best, today) > turn:
			best, found = d, true
		}
	}
	if !found {
		return 0, wrong
	}
	return best, nil
}

// turn is how many days into the year before or after a date without a year may
// lie.
const turn = 60

func away(a, b garden.Day) garden.Day { return max(a-b, b-a) }

// weekday reads a day of the week: the last one, today included, or the next
// one where only the days to come make sense.
func (c Clock) weekday(s string, where Side) (garden.Day, bool) {
	today := c.today()
	name, last := strings.CutPrefix(s, "last ")
	name, next := strings.CutPrefix(name, "next ")
	name = strings.TrimPrefix(name, "on ")
	if len(name) < 3 {
		return 0, false
	}
	for w := time.Sunday; w <= time.Saturday; w++ {
		if !strings.HasPrefix(strings.ToLower(w.String()), name) {
			continue
		}
		back := garden.Day((int(today.Weekday()) - int(w) + 7) % 7)
		switch {
		case next || where == After && !last:
			ahead := (7 - back) % 7
			if next && ahead == 0 {
				ahead = 7
			}
			return today + ahead, true
		case last && back == 0:
			back = 7
		}
		return today - back, true
	}
	return 0, false
}

func count(s string) garden.Day {
	if strings.HasPrefix(s, "a") {
		return 1
	}
	n, err := strconv.Atoi(s)
	if err != nil { // cannot be: the patterns pass digits only
		return 0
	}
	return garden.Day(n)
}

func days(unit string) garden.Day {
	if unit[0] == 'w' {
		return 7
	}
	return 1
}

func month(name string) (int, bool) {
	for m := time.January; m <= time.December; m++ {
		full := strings.ToLower(m.String())
		if strings.HasPrefix(full, name) || name == "sept" && m == time.September {
			return int(m), true
		}
	}
	return 0, false
}

// Instant is a time that was typed.
type Instant struct {
	time.Time
	DayOnly bool // no time of day was given
}

// TimeWays tells how a time can be typed.
const TimeWays = "write now, 7:30, yesterday 18:00, 14 June 7:30 or 20 min ago"

// Instant reads a time as people say it. A time of day alone is of the date of
// base; a span such as "45 min" counts from base when it is the beginning of
// something that ends.
func (c Clock) Instant(text string, base time.Time, ends bool, where Side) (Instant, error) {
	s := strings.TrimSpace(text)
	if t, err := time.Parse(time.RFC3339, strings.ToUpper(s)); err == nil {
		return Instant{Time: t.In(c.loc())}, nil
	}
	low := strings.ToLower(strings.Join(strings.Fields(s), " "))
	if low == "now" {
		return Instant{Time: c.Now}, nil
	}
	if m := ago.FindStringSubmatch(low); m != nil && (m[2][0] == 'm' || m[2][0] == 'h') {
		unit := time.Minute
		if m[2][0] == 'h' {
			unit = time.Hour
		}
		return Instant{Time: c.Now.Add(-time.Duration(count(m[1])) * unit)}, nil
	}
	if ends {
		if m := span.FindStringSubmatch(low); m != nil && m[0] != "" && (m[1] != "" || strings.ContainsAny(low, "m+")) {
			return Instant{Time: base.Add(time.Duration(count("0"+m[1]))*time.Hour + time.Duration(count("0"+m[2]))*time.Minute)}, nil
		}
	}
	if len(low) > 10 && low[10] == 't' {
		low = low[:10] + " " + low[11:]
	}
	at := clockTime.FindStringSubmatchIndex(low)
	if at == nil {
		return c.dayAlone(text, low, where)
	}
	h, m, err := hourOf(low[at[0]:at[1]])
	if err != nil {
		return Instant{}, err
	}
	d := garden.DayOf(base.In(c.loc()))
	rest := strings.Trim(strings.Join(strings.Fields(low[:at[0]]+" "+low[at[1]:]), " "), " ,")
	rest = strings.TrimSuffix(strings.TrimSuffix(rest, " at"), ",")
	if rest != "" && rest != "at" {
		if d, err = c.Day(rest, where); err != nil {
			return Instant{}, fmt.Errorf("%q is not a time; %s", text, TimeWays)
		}
	}
	t, err := c.clock(d, h, m)
	if err != nil {
		return Instant{}, err
	}
	// What began in the evening may end after midnight.
	if ends && rest == "" && t.Before(base) && t.Add(24*time.Hour).Sub(base) <= 12*time.Hour {
		t, err = c.clock(d+1, h, m)
	}
	return Instant{Time: t}, err
}

// dayAlone is a date where a time was asked for: noon of it, or now.
func (c Clock) dayAlone(text, low string, where Side) (Instant, error) {
	d, err := c.Day(low, where)
	if err != nil {
		return Instant{}, fmt.Errorf("%q is not a time; %s", text, TimeWays)
	}
	if d == c.today() {
		return Instant{Time: c.Now, DayOnly: low != "now"}, nil
	}
	t, err := c.clock(d, 12, 0)
	return Instant{Time: t, DayOnly: true}, err
}

func hourOf(s string) (h, m int, err error) {
	switch s {
	case "noon":
		return 12, 0, nil
	case "midnight":
		return 0, 0, nil
	}
	half := ""
	for _, x := range []string{"am", "pm"} {
		if rest, ok := strings.CutSuffix(s, x); ok {
			half, s = x, strings.TrimSpace(rest)
		}
	}
	hour, min, _ := strings.Cut(strings.NewReplacer("h", ":").Replace(s), ":")
	h, m = int(count(hour)), int(count("0"+strings.SplitN(min, ":", 2)[0]))
	switch {
	case half != "" && (h < 1 || h > 12) || h > 24 || m > 59 || h == 24 && m > 0:
		return 0, 0, fmt.Errorf("%q is not a time of day; write it as 7:30 or 19:30", s+half)
	case half == "pm" && h < 12:
		h += 12
	case half == "am" && h == 12:
		h = 0
	}
	return h, m, nil
}

// clock returns the instant at which the clocks of the garden show h:m. The error
// is that they never do: in spring an hour is left out. Of an hour that comes
// twice in autumn the first is taken.
func (c Clock) clock(d garden.Day, h, m int) (time.Time, error) {
	t := d.At(0, c.loc())
	y, mo, dd := t.Date()
	t = time.Date(y, mo, dd, h, m, 0, 0, c.loc())
	if again := t.Add(-time.Hour); again.Hour() == t.Hour() && again.Minute() == t.Minute() {
		t = again
	}
	if h < 24 && (t.Hour() != h || t.Minute() != m) {
		return t, fmt.Errorf("%02d:%02d did not come on %s: the clocks went forward over it", h, m, d)
	}
	return t, nil
}

// Clock is the time and the zone from which what people say is understood.
type Clock struct {
	Now time.Time // in the zone of the garden
}

func (c Clock) loc() *time.Location { return c.Now.Location() }

func (c Clock) today() garden.Day { return garden.DayOf(c.Now) }

// SayTime returns an instant as people write it.
func (c Clock) SayTime(t time.Time) string {
	t = t.In(c.loc())
	return c.SayDay(garden.DayOf(t)) + " " + t.Format("15:04")
}

// SayDay returns a date as people write it: "Thursday 6 July", with the year where
// it would be taken for another without.
func (c Clock) SayDay(d garden.Day) string {
	t := d.At(12, time.UTC)
	if read, err := c.Day(t.Format("2 January"), Nearest); err == nil && read == d {
		return t.Format("Monday 2 January")
	}
	return t.Format("Monday 2 January 2006")
}
