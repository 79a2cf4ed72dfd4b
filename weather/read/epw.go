package read

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"oidium/weather"
)

// EPW reads a typical year in the EPW format: eight lines of head
// and 35 columns for each hour, hour n from n−1 to n on the standard clock of
// the head. Its months come from different years: it is for planning, never
// weather that happened, and all of it is flagged Typical and laid into the given
// year. Wind is taken from 10 m to 2 m.
//
// It is written from the description of the format and was not tried on a real
// file.
func EPW(r io.Reader, year int) (weather.Station, *weather.Series, Report, error) {
	e := epw{year: year, station: weather.Station{WindHeight: 2, Origin: "typical year", Latitude: math.NaN(), Longitude: math.NaN(), Altitude: math.NaN()}}
	b, _, err := plain(r)
	if err == nil {
		err = lines(b, func(n int, line []byte) error { return e.line(n, text(line)) })
	}
	if err == nil && e.rep.Used == 0 {
		err = fmt.Errorf("none of its %d rows could be used", e.rep.Rows)
	}
	if err != nil {
		return weather.Station{}, nil, e.rep, fmt.Errorf("read EPW file: %w", err)
	}
	e.rep.found("A typical year, put together from months of different years; for planning only. The reader was written from the format's description and not tried on a real file.")
	s, _ := e.hours.series()
	return e.station, e.rep.check(s, e.station.Latitude, e.station.Longitude), e.rep, nil
}

type epw struct {
	year    int
	station weather.Station
	zone    time.Duration
	hours   hours
	rep     Report
	fields  []string
}

// epwColumns are the columns used, from 0, and the number that means "missing";
// exact, by the format.
var epwColumns = [...]struct {
	v       weather.Var
	at      int
	missing float64
}{
	{weather.Temp, 6, 99.9},
	{weather.RH, 8, 999},
	{weather.Rad, 13, 9999},
	{weather.Wind, 21, 999},
	{weather.Rain, 33, 999},
}

// epwHead is how many lines stand before the hours.
const epwHead = 8

func (e *epw) line(n int, line string) error {
	e.fields = separator(',').split(line, e.fields[:0])
	f := e.fields
	switch {
	case n == 1:
		return e.place(f)
	case n <= epwHead || strings.TrimSpace(line) == "":
		return nil
	}
	e.rep.Rows++
	var when [4]int
	for i := range when {
		if i+1 > len(f)-1 {
			e.rep.bad(n, "has %d fields", len(f))
			return nil
		}
		x, err := strconv.Atoi(f[i])
		if err != nil {
			e.rep.bad(n, "year, month, day and hour %q cannot be read", strings.Join(f[:4], " "))
			return nil
		}
		when[i] = x
	}
	w := wall{year: e.year, month: when[1], day: when[2], hour: when[3]}
	t, ok := w.time()
	if !ok || when[3] < 1 {
		e.rep.bad(n, "month %d, day %d, hour %d are not a time of %d", when[1], when[2], when[3], e.year)
		return nil
	}
	c := e.hours.at(t.Add(-time.Hour - e.zone))
	if c == nil || c.minutes != [weather.NVars]float32{} {
		e.rep.bad(n, "the time %s was given before", t.Format("2006-01-02 15:04"))
		return nil
	}
	used := false
	for _, col := range epwColumns {
		if col.at >= len(f) {
			continue
		}
		x, kind := numbers{}.parse(f[col.at])
		if kind != isNumber || math.Abs(x-col.missing) < 1e-6 {
			continue
		}
		if col.v == weather.Wind {
			x = weather.WindAt2m(x, 10)
		}
		if !col.v.Possible(x) {
			e.rep.bad(n, "%s %s is not a possible value", col.v, f[col.at])
			continue
		}
		c.put(col.v, x, 60, weather.Typical)
		used = true
	}
	if used {
		e.rep.Used++
	}
	return nil
}

// place reads "LOCATION,city,state,country,source,number,lat,lon,zone,altitude".
func (e *epw) place(f []string) error {
	if len(f) < 10 || f[0] != "LOCATION" {
		return errors.New("it does not begin with LOCATION and its nine fields")
	}
	var x [4]float64
	for i := range x {
		v, kind := numbers{}.parse(f[6+i])
		if kind != isNumber {
			return fmt.Errorf("the head gives %q where latitude, longitude, zone and altitude belong", strings.Join(f[6:10], ","))
		}
		x[i] = v
	}
	if math.Abs(x[0]) > 90 || math.Abs(x[1]) > 180 || math.Abs(x[2]) > 14 { // exact: no clock is further off
		return fmt.Errorf("latitude %g, longitude %g and zone %g are no place", x[0], x[1], x[2])
	}
	e.station.Name = f[1]
	e.station.Latitude, e.station.Longitude, e.station.Altitude = x[0], x[1], x[3]
	e.zone = time.Duration(x[2] * float64(time.Hour))
	return nil
}
