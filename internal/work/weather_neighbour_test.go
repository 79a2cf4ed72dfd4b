package work_test

import (
	"fmt"
	"math"
	"testing"

	"oidium/internal/work"
	"oidium/weather"
)

// A long hole in one station is closed by another that measured then, not by the
// climate; where both measured the fuller one holds, whatever order they came in.
func TestANeighbourClosesAHole(t *testing.T) {
	d := day(t, "2000-07-06")
	s := span(t, "2000-05-01", "2000-07-06")
	hole := s.Len() - 5*24
	own := table(s, "temperature C,humidity %", func(i int) string {
		if i >= hole && i < hole+3*24 {
			return ","
		}
		return fmt.Sprintf("%.1f,%.0f", at(s, weather.Temp, i), at(s, weather.RH, i))
	})
	near := s.Slice(s.Time(hole-10*24), s.End())
	other := table(near, "temperature C,humidity %", func(i int) string {
		return fmt.Sprintf("%.1f,%.0f", at(near, weather.Temp, i)+2, at(near, weather.RH, i))
	})
	var first []byte
	for _, files := range [][2]string{{own, other}, {other, own}} {
		book := noWeather(t)
		for _, f := range files {
			name := "own"
			if f == other {
				name = "other"
			}
			book, _ = bring(t, book, f, work.WeatherFile{Name: name + ".csv", Station: name})
		}
		r := must2(work.ShowWeather(book, work.WeatherOptions{Day: d, Back: 9}))(t)
		for _, x := range r.Behind {
			more := 0.0
			if x.Date >= "2000-07-02" && x.Date <= "2000-07-02" {
				more = 2 // a whole day in the hole
			}
			if x.Date == "2000-07-01" || x.Date == "2000-07-03" || x.Date == "2000-07-04" {
				continue // its edges
			}
			if want := daysBy(t)[x.Date].Tmax + more; x.Made != "measured" || math.Abs(x.Out.Tmax.Mid-want) > 0.11 {
				t.Errorf("%s: %s, highest %.1f, want %.1f", x.Date, x.Made, x.Out.Tmax.Mid, want)
			}
		}
		if b := bytesOf(t, r.Behind); first == nil {
			first = b
		} else if string(b) != string(first) {
			t.Error("the order in which stations came in changed the days")
		}
	}
}
