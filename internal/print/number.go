package print

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode"

	"oidium/internal/work"
)

// nb is a space that no line breaks at. Text prints it as a plain space.
const nb = "\u00a0"

// fixed returns x with the given number of decimals.
func fixed(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// short returns x to about two figures, without an exponent and without zeros
// at the end: 0.35, 2.4, 12, 140.
func short(x float64) string {
	switch a := math.Abs(x); {
	case math.IsNaN(x) || math.IsInf(x, 0):
		return "?"
	case a >= 10:
		return fixed(x, 0)
	case a >= 1:
		return strings.TrimSuffix(fixed(x, 1), ".0")
	default:
		s := strings.TrimRight(strings.TrimRight(fixed(x, 2), "0"), ".")
		if s == "" || s == "-" {
			return "0"
		}
		return s
	}
}

// percent returns the number of a share in percent, without the sign.
func (w phrases) percent(share float64) string {
	p := 100 * share
	switch {
	case math.IsNaN(p) || math.IsInf(p, 0):
		return "?"
	case p <= 0:
		return "0"
	case share < seen:
		return w.say("under", "x", "0.1")
	case p < 9.95:
		return fixed(p, 1)
	default:
		return fixed(p, 0)
	}
}

// share returns a share in percent with the sign.
func (w phrases) share(x float64) string { return w.percent(x) + nb + "%" }

// seen is the least share that is printed as a number.
const seen = 0.001

// shares returns a band of shares: 3.2 % (1.1 to 7.8). A bound too small to
// print is left out.
func (w phrases) shares(b work.Band) string {
	switch {
	case b.High > 0 && b.High < seen:
		return w.share(b.High)
	case b.Low < seen && b.High >= seen:
		return w.say("band.upto", "mid", w.share(b.Mid), "high", w.percent(b.High))
	case b.Low == b.High:
		return w.share(b.Mid)
	}
	return w.say("band", "mid", w.share(b.Mid), "low", w.percent(b.Low), "high", w.percent(b.High))
}

// band returns a band of a quantity with its unit: 12 EUR (3 to 25).
func (w phrases) band(b work.Band, unit string) string {
	mid := short(b.Mid)
	if unit != "" {
		mid += nb + unit
	}
	if b.Low == b.High {
		return mid
	}
	return w.say("band", "mid", mid, "low", short(b.Low), "high", short(b.High))
}

// minutes returns a time of work.
func (w phrases) minutes(m float64) string {
	return w.say("minutes", "n", fixed(math.Ceil(m), 0))
}

// money returns the user's word for money.
func (w phrases) money(r *work.Round) string {
	if r.Garden.Money == "" {
		return w.say("money")
	}
	return clean(r.Garden.Money)
}

// day returns a date for a reader, "Thursday 6 July", with the year when long.
// What is not a date comes back as it is.
func (w phrases) day(date string, long bool) string {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return clean(date)
	}
	s := w.say("weekday."+strconv.Itoa(int(t.Weekday()))) + " " + strconv.Itoa(t.Day()) + nb +
		w.say("month."+strconv.Itoa(int(t.Month())))
	if long {
		s += nb + strconv.Itoa(t.Year())
	}
	return s
}

// shortDay returns a date in little room, "Thu 6 Jul". Weekday and month are
// cut to three letters.
func (w phrases) shortDay(date string) string {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return clean(date)
	}
	return first(w.say("weekday."+strconv.Itoa(int(t.Weekday()))), 3) + nb + strconv.Itoa(t.Day()) + nb +
		first(w.say("month."+strconv.Itoa(int(t.Month()))), 3)
}

func first(s string, n int) string {
	r := []rune(s)
	return string(r[:min(n, len(r))])
}

// moment returns an instant for a reader, in the zone it was written in.
func (w phrases) moment(instant string) string {
	t, err := time.Parse(time.RFC3339, instant)
	if err != nil {
		return clean(instant)
	}
	return w.say("moment", "day", w.day(t.Format(time.DateOnly), false), "time", t.Format("15:04"))
}

// window returns a span of hours as seen from the morning of today: "today
// 19:30 to 21:30".
func (w phrases) window(v work.Window, today string) string {
	from, err1 := time.Parse(time.RFC3339, v.From)
	to, err2 := time.Parse(time.RFC3339, v.To)
	if err1 != nil || err2 != nil {
		return w.say("window", "day", "", "from", clean(v.From), "to", clean(v.To))
	}
	morning, err := time.Parse(time.DateOnly, today)
	day := func(t time.Time) string {
		s := t.Format(time.DateOnly)
		if err == nil {
			switch s {
			case today:
				return w.say("today")
			case morning.AddDate(0, 0, 1).Format(time.DateOnly):
				return w.say("tomorrow")
			}
		}
		return w.shortDay(s)
	}
	end := to.Format("15:04")
	switch midnight := end == "00:00"; {
	case midnight && to.AddDate(0, 0, -1).Format(time.DateOnly) == from.Format(time.DateOnly):
		end = "24:00"
	case day(to) != day(from):
		end = day(to) + nb + end
	}
	return w.say("window", "day", day(from), "from", from.Format("15:04"), "to", end)
}

// windows joins spans of hours.
func (w phrases) windows(list []work.Window, today string) string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = w.window(v, today)
	}
	return strings.Join(out, w.say("or"))
}

// aDate finds dates as the machine writes them.
var aDate = regexp.MustCompile(`\b(\d{4})-\d{2}-\d{2}\b`)

// prose makes a sentence of another room ready to print: clean, with dates as a
// reader writes them, with the year where it is not that of the round.
func (s *sheet) prose(text string) string {
	return aDate.ReplaceAllStringFunc(clean(text), func(d string) string {
		t, err := time.Parse(time.DateOnly, d)
		if err != nil {
			return d
		}
		out := strconv.Itoa(t.Day()) + nb + s.say("month."+strconv.Itoa(int(t.Month())))
		if first(d, 4) != first(s.Date, 4) {
			out += nb + first(d, 4)
		}
		return out
	})
}

// clean makes text written by a user safe to print: no control characters, no
// marks that turn the direction of the text around, no broken encoding.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsControl(r):
			return ' '
		case r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0x200e, r == 0x200f, r == 0x061c:
			return -1
		case r == 0x2028, r == 0x2029:
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
}
