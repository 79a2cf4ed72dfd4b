package spoken

import (
	"strings"
	"testing"
	"time"
)

// Thursday 6 July 2000, 07:30 in Amsterdam, summer time. Weekdays and dates are
// those of the Gregorian calendar; the changes of the clock in 2000 (26 March and
// 29 October) are those of the IANA time zone database.
func clockAt(t *testing.T, s string) Clock {
	t.Helper()
	loc, err := time.LoadLocation("Europe/Amsterdam")
	if err != nil {
		t.Fatal(err)
	}
	now, err := time.ParseInLocation("2006-01-02 15:04", s, loc)
	if err != nil {
		t.Fatal(err)
	}
	return Clock{Now: now}
}

func TestDay(t *testing.T) {
	c := clockAt(t, "2000-07-06 07:30")
	for _, x := range []struct {
		text string
		side Side
		want string
	}{
		{"today", Nearest, "2000-07-06"},
		{"Yesterday", Nearest, "2000-07-05"},
		{"tomorrow", Nearest, "2000-07-07"},
		{"3 days ago", Nearest, "2000-07-03"},
		{"a week ago", Nearest, "2000-06-29"},
		{"in 5 days", Nearest, "2000-07-11"},
		{"in a week", Nearest, "2000-07-13"},
		{"-2", Nearest, "2000-07-04"},
		{"+10", Nearest, "2000-07-16"},
		{"14 June", Nearest, "2000-06-14"},
		{"14th of june", Nearest, "2000-06-14"},
		{"June 14", Nearest, "2000-06-14"},
		{"14 Jun 1999", Nearest, "1999-06-14"},
		{"sept 3", Nearest, "2000-09-03"},
		{"14.6.", Nearest, "2000-06-14"},
		{"14.6.2001", Nearest, "2001-06-14"},
		{"14/6", Nearest, "2000-06-14"},
		{"6/14", Nearest, "2000-06-14"},
		{"2000-02-29", Nearest, "2000-02-29"},
		{"thursday", Nearest, "2000-07-06"},
		{"last thursday", Nearest, "2000-06-29"},
		{"next thursday", Nearest, "2000-07-13"},
		{"mon", Nearest, "2000-07-03"},
		{"monday", After, "2000-07-10"},
		{"saturday", Before, "2000-07-01"},
		{"28 December", Before, "1999-12-28"},
		{"28 December", After, "2000-12-28"},
		{"10 January", Nearest, "2000-01-10"},
		{"20 December", Nearest, "2000-12-20"},
		{"1 January", After, "2001-01-01"},
	} {
		d, err := c.Day(x.text, x.side)
		if err != nil || d.String() != x.want {
			t.Errorf("%q: %s %v, want %s", x.text, d, err, x.want)
		}
	}
	// On the second day of a year the last week of December is near.
	if d, err := clockAt(t, "2001-01-02 08:00").Day("28 December", Nearest); err != nil || d.String() != "2000-12-28" {
		t.Errorf("28 December on 2 January: %s %v", d, err)
	}
}

func TestDayRefuses(t *testing.T) {
	c := clockAt(t, "2000-07-06 07:30")
	for text, part := range map[string]string{
		"4/6":         "4 June",
		"30 February": "calendar",
		"2000-02-30":  "calendar",
		"2001-02-29":  "calendar",
		"soon":        "write today",
		"":            "write today",
		"32 June":     "calendar",
		"12.13.":      "calendar",
		"5 ju":        "is not a date",
	} {
		if d, err := c.Day(text, Nearest); err == nil || !strings.Contains(err.Error(), part) {
			t.Errorf("%q: %s, error %v, want one with %q", text, d, err, part)
		}
	}
}

func TestInstant(t *testing.T) {
	c := clockAt(t, "2000-07-06 07:30")
	base := clockAt(t, "2000-07-05 20:00").Now
	for _, x := range []struct {
		text string
		base time.Time
		ends bool
		want string
	}{
		{"now", c.Now, false, "2000-07-06T07:30:00+02:00"},
		{"7:05", c.Now, false, "2000-07-06T07:05:00+02:00"},
		{"7h05", c.Now, false, "2000-07-06T07:05:00+02:00"},
		{"6 am", c.Now, false, "2000-07-06T06:00:00+02:00"},
		{"12 am", c.Now, false, "2000-07-06T00:00:00+02:00"},
		{"yesterday 7:30 pm", c.Now, false, "2000-07-05T19:30:00+02:00"},
		{"yesterday at 12pm", c.Now, false, "2000-07-05T12:00:00+02:00"},
		{"yesterday", c.Now, false, "2000-07-05T12:00:00+02:00"},
		{"today", c.Now, false, "2000-07-06T07:30:00+02:00"},
		{"20 min ago", c.Now, false, "2000-07-06T07:10:00+02:00"},
		{"an hour ago", c.Now, false, "2000-07-06T06:30:00+02:00"},
		{"14 June, 7:30", c.Now, false, "2000-06-14T07:30:00+02:00"},
		{"2000-01-14 7:30", c.Now, false, "2000-01-14T07:30:00+01:00"},
		{"2000-06-14T07:30", c.Now, false, "2000-06-14T07:30:00+02:00"},
		{"2000-06-14T07:30:00Z", c.Now, false, "2000-06-14T09:30:00+02:00"},
		{"yesterday 24:00", c.Now, false, "2000-07-06T00:00:00+02:00"},
		{"noon", base, false, "2000-07-05T12:00:00+02:00"},
		// The end of something that began at 20:00 the day before.
		{"20:45", base, true, "2000-07-05T20:45:00+02:00"},
		{"45 min", base, true, "2000-07-05T20:45:00+02:00"},
		{"1 h 10", base, true, "2000-07-05T21:10:00+02:00"},
		{"+30", base, true, "2000-07-05T20:30:00+02:00"},
		{"0:30", base, true, "2000-07-06T00:30:00+02:00"},
		{"19:30", base, true, "2000-07-05T19:30:00+02:00"}, // a slip, not tomorrow evening
		// Sunday 29 October 2000: 02:30 came twice, the first counts.
		{"29 October 2:30", c.Now, false, "2000-10-29T02:30:00+02:00"},
		{"29 October 3:30", c.Now, false, "2000-10-29T03:30:00+01:00"},
	} {
		got, err := c.Instant(x.text, x.base, x.ends, Nearest)
		if err != nil || got.Format(time.RFC3339) != x.want {
			t.Errorf("%q: %s %v, want %s", x.text, got.Format(time.RFC3339), err, x.want)
		}
	}
	if got, err := c.Instant("yesterday", c.Now, false, Nearest); err != nil || !got.DayOnly {
		t.Errorf("a date alone: %+v %v", got, err)
	}
}

func TestInstantRefuses(t *testing.T) {
	c := clockAt(t, "2000-07-06 07:30")
	for text, part := range map[string]string{
		"26 March 2:30": "clocks went forward",
		"25:00":         "time of day",
		"7:75":          "time of day",
		"13 pm":         "time of day",
		"7.30":          "write now",
		"later":         "write now",
		"30 Febr 7:00":  "write now",
	} {
		if got, err := c.Instant(text, c.Now, false, Nearest); err == nil || !strings.Contains(err.Error(), part) {
			t.Errorf("%q: %s, error %v, want one with %q", text, got.Format(time.RFC3339), err, part)
		}
	}
}

// What is said back can be read again, whatever the day.
func TestSayAgain(t *testing.T) {
	for _, now := range []string{"2000-07-06 07:30", "2001-01-02 08:00", "2000-12-30 08:00", "2000-02-29 12:00"} {
		c := clockAt(t, now)
		for d := c.today() - 800; d < c.today()+800; d++ {
			said := c.SayDay(d)
			_, rest, _ := strings.Cut(said, " ") // without the weekday
			if got, err := c.Day(rest, Nearest); err != nil || got != d {
				t.Fatalf("on %s %s is said %q and read as %s (%v)", now, d, said, got, err)
			}
		}
	}
}
