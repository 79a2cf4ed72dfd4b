package read

import (
	"strings"
	"time"
)

// wall is a time as a file writes it: a clock on the wall, perhaps with a zone.
type wall struct {
	year, month, day     int // 0 where not given
	hour, minute, second int // hour −1 where not given; 24 is the end of the day
	zoned                bool
	offset               int // seconds east, where zoned
}

// time returns the wall clock as if it stood in UTC; ok is false for dates and
// times that do not exist.
func (w wall) time() (t time.Time, ok bool) {
	if w.year < 1800 || w.year > 2200 || w.month < 1 || w.month > 12 || w.day < 1 || w.hour > 24 || w.minute > 59 || w.second > 60 {
		return time.Time{}, false
	}
	h := max(w.hour, 0)
	if h == 24 && (w.minute != 0 || w.second != 0) {
		return time.Time{}, false
	}
	d := time.Date(w.year, time.Month(w.month), w.day, 0, 0, 0, 0, time.UTC)
	if d.Day() != w.day {
		return time.Time{}, false
	}
	return d.Add(time.Duration(h)*time.Hour + time.Duration(w.minute)*time.Minute + time.Duration(w.second)*time.Second), true
}

// dateOrder is how dates with a day and a month of two digits are written.
type dateOrder int

const (
	orderUnknown dateOrder = iota
	dayFirst
	monthFirst
)

// stampKind is what a field holds.
type stampKind int

const (
	noStamp stampKind = iota
	dateOnly
	timeOnly
	dateAndTime
)

// part is a run of digits in a stamp.
type part struct {
	x, n int  // value and digits
	sep  byte // what stood before it
}

// parseStamp reads a date, a time, or both, in most ways people write them.
func parseStamp(s string, order dateOrder) (wall, stampKind) {
	w := wall{hour: -1}
	var parts [8]part
	n, month := 0, 0
	pm, am := false, false
	sep := byte(0)
	for i := 0; i < len(s); {
		c := s[i]
		switch {
		case c >= '0' && c <= '9':
			if n == len(parts) {
				return w, noStamp
			}
			p := part{sep: sep}
			for i < len(s) && s[i] >= '0' && s[i] <= '9' {
				if p.n >= 14 {
					return w, noStamp
				}
				p.x = 10*p.x + int(s[i]-'0')
				p.n++
				i++
			}
			parts[n] = p
			n++
			sep = 0
			continue
		case (c == '+' || c == '-') && n >= 4 && strings.ContainsRune(s, ':'):
			// A zone after a time: +01:00, -0500, +01.
			off, ok := parseOffset(s[i:])
			if !ok {
				return w, noStamp
			}
			w.zoned, w.offset = true, off
			i = len(s)
			continue
		case c == '.' && n >= 5 && parts[n-1].sep == ':':
			// Fractions of a second do not matter.
			i++
			for i < len(s) && s[i] >= '0' && s[i] <= '9' {
				i++
			}
			continue
		case letter(c):
			j := i
			for j < len(s) && letter(s[j]) {
				j++
			}
			word := strings.ToLower(s[i:j])
			i = j
			switch {
			case word == "t" && n > 0:
				sep = 't'
				continue
			case word == "pm" || word == "p":
				pm = true
			case word == "am" || word == "a":
				am = true
			case word == "z" || word == "utc" || word == "gmt" || word == "ut":
				w.zoned, w.offset = true, 0
			case word == "h" || word == "hr" || word == "uhr":
				sep = ':'
				continue
			default:
				m := monthNamed(word)
				if m == 0 || month != 0 {
					if weekday(word) {
						continue
					}
					return w, noStamp
				}
				month = m
			}
			sep = ' '
			continue
		default:
			if sep == 0 || sep == ' ' {
				sep = c
			}
			i++
		}
	}
	used, ok := w.date(parts[:n], month, order)
	if !ok {
		return w, noStamp
	}
	rest := parts[used:n]
	// yyyymmddhhmm and the like have been taken apart by date.
	if w.hour < 0 && len(rest) > 0 {
		if !w.clock(rest) {
			return w, noStamp
		}
	}
	if pm || am {
		if w.hour < 1 || w.hour > 12 {
			return w, noStamp
		}
		w.hour %= 12
		if pm {
			w.hour += 12
		}
	}
	switch {
	case used == 0 && w.hour >= 0:
		return w, timeOnly
	case w.hour >= 0:
		return w, dateAndTime
	case used > 0:
		return w, dateOnly
	}
	return w, noStamp
}

// date takes the date from the first parts and returns how many it used; 0 with
// ok means that there is a time only.
func (w *wall) date(p []part, month int, order dateOrder) (used int, ok bool) {
	if len(p) == 0 {
		return 0, false
	}
	if month > 0 {
		if len(p) < 2 {
			return 0, false
		}
		w.month = month
		switch {
		case p[0].n == 4:
			w.year, w.day = p[0].x, p[1].x
		default:
			w.day, w.year = p[0].x, century(p[1])
		}
		return 2, true
	}
	switch p[0].n {
	case 14, 12, 10, 8:
		return 1, w.packed(p[0])
	}
	if len(p) >= 2 && (p[1].sep == ':' || len(p) <= 3 && p[0].n <= 2 && p[1].sep == '.' && p[1].n == 2 && len(p) == 2) {
		return 0, true // a time
	}
	if len(p) < 3 || p[1].sep != p[2].sep || !strings.ContainsRune("/-. ", rune(p[1].sep)) {
		return 0, false
	}
	switch {
	case p[0].n == 4:
		w.year, w.month, w.day = p[0].x, p[1].x, p[2].x
	case order == monthFirst || order == orderUnknown && p[0].x <= 12 && p[1].x > 12:
		w.month, w.day, w.year = p[0].x, p[1].x, century(p[2])
	default:
		w.day, w.month, w.year = p[0].x, p[1].x, century(p[2])
	}
	return 3, w.year > 0
}

// packed reads yyyymmdd with hh, mm, ss after it.
func (w *wall) packed(p part) bool {
	x := p.x
	if p.n == 14 {
		w.second = x % 100
		x /= 100
	}
	if p.n >= 12 {
		w.minute = x % 100
		x /= 100
	}
	if p.n >= 10 {
		w.hour = x % 100
		x /= 100
	}
	w.year, w.month, w.day = x/10000, x/100%100, x%100
	return w.year >= 1800 && w.year <= 2200 && w.month >= 1 && w.month <= 12 && w.day >= 1 && w.day <= 31
}

// clock reads h:m:s, or hhmm.
func (w *wall) clock(p []part) bool {
	switch {
	case len(p) == 1 && p[0].n >= 3 && p[0].n <= 4:
		w.hour, w.minute = p[0].x/100, p[0].x%100
	case len(p) == 1 && p[0].n <= 2:
		w.hour = p[0].x
	case len(p) == 2 || len(p) == 3:
		w.hour, w.minute = p[0].x, p[1].x
		if len(p) == 3 {
			w.second = p[2].x
		}
	default:
		return false
	}
	return w.hour <= 24 && w.minute < 60 && w.second <= 60
}

// century returns a year, one of two digits within 1970 to 2069.
func century(p part) int {
	switch {
	case p.n == 4:
		return p.x
	case p.n == 2 && p.x < 70:
		return 2000 + p.x
	case p.n == 2:
		return 1900 + p.x
	}
	return 0
}

// parseOffset reads ±hh, ±hhmm or ±hh:mm and returns seconds.
func parseOffset(s string) (int, bool) {
	sign := 1
	if s[0] == '-' {
		sign = -1
	}
	d := strings.ReplaceAll(strings.TrimSpace(s[1:]), ":", "")
	if len(d) != 2 && len(d) != 4 {
		return 0, false
	}
	x := 0
	for _, c := range d {
		if c < '0' || c > '9' {
			return 0, false
		}
		x = 10*x + int(c-'0')
	}
	if len(d) == 2 {
		x *= 100
	}
	h, m := x/100, x%100
	return sign * (h*3600 + m*60), h <= 14 && m < 60
}

func letter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= 0x80 }

// monthNamed returns the month of a name or its first three letters, in English
// and where German, Dutch, French, Spanish or Italian differ; 0 for none.
func monthNamed(s string) int {
	if m, ok := monthNames[s]; ok {
		return m
	}
	r := []rune(s)
	if len(r) < 3 {
		return 0
	}
	return monthNames[string(r[:3])]
}

var monthNames = map[string]int{
	"jan": 1, "feb": 2, "mar": 3, "apr": 4, "may": 5, "jun": 6, "jul": 7, "aug": 8, "sep": 9, "oct": 10, "nov": 11, "dec": 12,
	"mrt": 3, "maa": 3, "mär": 3, "mrz": 3, "mai": 5, "mei": 5, "okt": 10, "dez": 12,
	"fév": 2, "avr": 4, "jui": 7, "juin": 6, "aoû": 8, "déc": 12,
	"ene": 1, "abr": 4, "ago": 8, "dic": 12, "gen": 1, "mag": 5, "giu": 6, "lug": 7, "set": 9, "ott": 10,
}

// weekday reports whether a word is a day of the week, which says nothing new.
func weekday(s string) bool {
	switch s[:min(3, len(s))] {
	case "mon", "tue", "wed", "thu", "fri", "sat", "sun":
		return true
	}
	return false
}
