package read

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"time"

	"oidium/weather"
)

// GHCNh reads a station file of the Global Historical Climatology Network hourly
// in its text form: columns cut by bars (or commas) and named in the first line,
// each quantity followed by its codes. Times are universal and fall on any
// minute; a report counts for the hour it lies in, one on the full hour for the
// hour that ends. Readings of an hour are averaged, of its rain the largest
// counts, because reports between repeat what fell so far. Humidity comes from
// the dew point where it is not given. Values whose quality code is 3 or 7
// (erroneous) are left out.
//
// It is written from the description of the format and was not tried on a real
// file.
func GHCNh(r io.Reader) (weather.Station, *weather.Series, Report, error) {
	g := ghcnh{station: weather.Station{WindHeight: 2, Origin: "NOAA National Centers for Environmental Information, GHCNh", Latitude: math.NaN(), Longitude: math.NaN(), Altitude: math.NaN()}}
	b, _, err := plain(r)
	if err == nil {
		err = lines(b, func(n int, line []byte) error { return g.line(n, text(line)) })
	}
	switch {
	case err != nil:
	case g.at == nil:
		err = errors.New("the file is empty")
	case g.rep.Used == 0:
		err = fmt.Errorf("none of its %d rows could be used", g.rep.Rows)
	}
	if err != nil {
		return weather.Station{}, nil, g.rep, fmt.Errorf("read GHCNh file: %w", err)
	}
	g.rep.found("Times are universal; wind brought from 10 m to 2 m. The reader was written from the format's description and not tried on a real file.")
	s, _ := g.hours.series()
	return g.station, g.rep.check(s, g.station.Latitude, g.station.Longitude), g.rep, nil
}

type ghcnh struct {
	station weather.Station
	sep     separator
	at      map[string]int // column by name
	hours   hours
	rep     Report
	fields  []string
}

// ghcnhTime are the columns a row must have.
var ghcnhTime = []string{"year", "month", "day", "hour", "minute"}

func (g *ghcnh) line(n int, line string) error {
	if g.at == nil {
		return g.head(line)
	}
	if strings.TrimSpace(line) == "" {
		return nil
	}
	g.rep.Rows++
	g.fields = g.sep.split(line, g.fields[:0])
	var when [5]int
	for i, name := range ghcnhTime {
		x, ok := g.number(name)
		if !ok {
			g.rep.bad(n, "has no %s", name)
			return nil
		}
		when[i] = int(x)
	}
	t, ok := wall{year: when[0], month: when[1], day: when[2], hour: when[3], minute: when[4]}.time()
	if !ok {
		g.rep.bad(n, "%v are not a time", when)
		return nil
	}
	if g.station.Name == "" {
		g.place()
	}
	c := g.hours.at(t.Add(-time.Minute))
	if c == nil {
		g.rep.bad(n, "its date %s is more than 50 years from the first row", t.Format(time.DateOnly))
		return nil
	}
	g.values(n, c)
	return nil
}

func (g *ghcnh) head(line string) error {
	g.sep = '|'
	if strings.Count(line, ",") > strings.Count(line, "|") {
		g.sep = ','
	}
	g.at = make(map[string]int)
	for i, name := range g.sep.split(line, nil) {
		g.at[strings.ToLower(name)] = i
	}
	for _, name := range append(slices.Clone(ghcnhTime), "temperature") {
		if _, ok := g.at[name]; !ok {
			return fmt.Errorf("its first line has no column %q", name)
		}
	}
	return nil
}

func (g *ghcnh) field(name string) string {
	if i, ok := g.at[name]; ok && i < len(g.fields) {
		return g.fields[i]
	}
	return ""
}

func (g *ghcnh) number(name string) (float64, bool) {
	x, kind := numbers{}.parse(g.field(name))
	return x, kind == isNumber && !isSentinel(x) || kind == isNumber && slices.Contains(ghcnhTime, name)
}

// value returns a quantity whose quality code does not call it erroneous.
func (g *ghcnh) value(n int, name string, v weather.Var) (float64, bool) {
	x, ok := g.number(name)
	if !ok {
		return 0, false
	}
	if q := g.field(name + "_quality_code"); q == "3" || q == "7" {
		g.rep.bad(n, "%s %g is marked erroneous", name, x)
		return 0, false
	}
	if !v.Possible(x) {
		g.rep.bad(n, "%s %g is not a possible value", name, x)
		return 0, false
	}
	return x, true
}

func (g *ghcnh) values(n int, c *cell) {
	used := false
	put := func(v weather.Var, x float64, f weather.Flag) {
		c.put(v, x, 60, f)
		used = true
	}
	t, haveT := g.value(n, "temperature", weather.Temp)
	if haveT {
		put(weather.Temp, t, weather.Measured)
	}
	if x, ok := g.value(n, "relative_humidity", weather.RH); ok {
		put(weather.RH, x, weather.Measured)
	} else if d, ok := g.value(n, "dew_point_temperature", weather.Temp); ok && haveT {
		put(weather.RH, weather.RHFrom(t, weather.SaturationVP(d)), weather.Derived)
	}
	if x, ok := g.value(n, "wind_speed", weather.Wind); ok {
		put(weather.Wind, weather.WindAt2m(x, 10), weather.Measured)
	}
	if x, ok := g.value(n, "precipitation", weather.Rain); ok {
		c.sum[weather.Rain] = math.Max(c.sum[weather.Rain], x)
		c.minutes[weather.Rain], c.flag[weather.Rain] = 60, weather.Measured
		used = true
	}
	if used {
		g.rep.Used++
	}
}

func (g *ghcnh) place() {
	g.station.Name = g.field("station_name")
	if g.station.Name == "" {
		g.station.Name = g.field("station_id")
	}
	if g.station.Name == "" {
		g.station.Name = "station"
	}
	for name, p := range map[string]*float64{"latitude": &g.station.Latitude, "longitude": &g.station.Longitude, "elevation": &g.station.Altitude} {
		if x, ok := g.number(name); ok {
			*p = x
		}
	}
	if math.Abs(g.station.Latitude) > 90 || math.Abs(g.station.Longitude) > 180 {
		g.station.Latitude, g.station.Longitude = math.NaN(), math.NaN()
	}
}
