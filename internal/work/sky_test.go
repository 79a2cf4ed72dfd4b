package work

import (
	"strings"
	"testing"

	"oidium/garden"
	"oidium/weather"
)

// Every day of the rows has its 24 hours, the day the clock is put forward 23 and
// the day it is put back 25, in zones off the full hour too; the days lie end to
// end. Days of change by the IANA time zone database; on Lord Howe Island the
// change is half an hour.
func TestDaysAreWhole(t *testing.T) {
	for _, c := range []struct {
		zone        string
		odd         string
		hours       int
		first, last string
	}{
		{"Asia/Kolkata", "", 24, "2000-06-20", "2000-07-06"},
		{"Asia/Kathmandu", "", 24, "2000-06-20", "2000-07-06"},
		{"Europe/Amsterdam", "2000-10-29", 25, "2000-10-20", "2000-11-01"},
		{"Australia/Adelaide", "2001-03-25", 25, "2001-03-10", "2001-03-28"},
		{"Australia/Adelaide", "2001-10-28", 23, "2001-10-20", "2001-10-30"},
	} {
		t.Run(c.zone, func(t *testing.T) {
			book := linesOf(t, strings.ReplaceAll(bookGarden, "Europe/Amsterdam", c.zone))
			first, err := garden.ParseDay(c.first)
			if err != nil {
				t.Fatal(err)
			}
			last, err := garden.ParseDay(c.last)
			if err != nil {
				t.Fatal(err)
			}
			s, g, err := skyOf(book, last, int(last-first), 5, 2)
			if err != nil {
				t.Fatal(err)
			}
			check := func(w *weather.Series, from, to garden.Day) {
				t.Helper()
				sum := 0
				for d := from; d < to; d++ {
					want := 24
					if d.String() == c.odd {
						want = c.hours
					}
					got := len(s.hoursOf(w, g.Beds[0], d).T)
					if got != want {
						t.Errorf("%s has %d hours, want %d", d, got, want)
					}
					sum += got
				}
				if end := w.Index(s.begin(to)); end != sum {
					t.Errorf("%d hours in the days, %d in the row", sum, end)
				}
			}
			check(s.known, first, last)
			for _, a := range s.ahead {
				check(a, last, last+5)
				if a.Len() != 5*24 {
					t.Errorf("%d hours ahead", a.Len())
				}
			}
		})
	}
}
