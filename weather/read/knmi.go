package read

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"time"

	"oidium/weather"
)

// knmiColumn is how one column of the file is read.
type knmiColumn struct {
	name  string
	v     weather.Var
	scale float64 // of the file's whole numbers
	low   float64 // least and largest number that can be true, in the file's unit
	high  float64
}

// The columns used. The hourly mean wind FH is at 10 m over grass; T and U are
// readings at 1.5 m at the end of the hour; Q is J/cm² in the hour. The bounds of
// what can be true are those of package weather (wmo-8).
var knmiColumns = [...]knmiColumn{
	{"FH", weather.Wind, 0.1, 0, 700},
	{"T", weather.Temp, 0.1, -500, 500},
	{"Q", weather.Rad, 1e4 / 3600, 0, 480},
	{"RH", weather.Rain, 0.1, -1, 1500},
	{"U", weather.RH, 1, 0, 100},
}

// knmiWindHeight is the height of the anemometer of these stations in m.
const knmiWindHeight = 10

// KNMIHourly reads the "uurgeg" files of hourly values of the Royal Netherlands
// Meteorological Institute: comments, a line "# STN,YYYYMMDD,HH,...", rows.
//
// Hour HH of the file covers HH−1 to HH universal time; readings taken at its
// end stand for that hour. Rain of −1 is a trace, taken as 0. Wind is brought
// from 10 m to 2 m. A file of several stations gives the first one; rows of the
// others are reported. Place and altitude are NaN unless the head gives them.
func KNMIHourly(r io.Reader) (weather.Station, *weather.Series, Report, error) {
	k := knmiReader{wind: weather.WindAt2m(1, knmiWindHeight), station: weather.Station{
		// The wind has been brought to 2 m.
		Latitude: math.NaN(), Longitude: math.NaN(), Altitude: math.NaN(),
		Origin: "KNMI (Royal Netherlands Meteorological Institute)", Licence: "CC BY 4.0", WindHeight: 2,
	}}
	if err := lines(r, k.line); err != nil {
		return weather.Station{}, nil, k.rep, fmt.Errorf("read hourly KNMI file: %w", err)
	}
	if k.columns == nil {
		return weather.Station{}, nil, k.rep, errors.New(`read hourly KNMI file: there is no line "# STN,YYYYMMDD,HH,..." that names the columns; is it another format?`)
	}
	if k.rep.Used == 0 {
		return weather.Station{}, nil, k.rep, fmt.Errorf("read hourly KNMI file: none of its %d rows could be used", k.rep.Rows)
	}
	k.rep.found("Station %s, hours in universal time, each ending at the hour named.", k.stn)
	k.rep.found("Wind brought from %d m to 2 m (factor %.3f); a trace of rain counts as none.", knmiWindHeight, k.wind)
	s, _ := k.hours.series()
	s = k.rep.check(s, k.station.Latitude, k.station.Longitude)
	return k.station, s, k.rep, nil
}

type knmiReader struct {
	station weather.Station
	stn     string // number in the file
	hours   hours
	rep     Report
	columns []int // index into knmiColumns of every field, −1 unused
	stnAt   int
	dateAt  int
	hourAt  int
	wind    float64
	fields  [][]byte
	places  bool // within the block that lists the stations' places
}

func (k *knmiReader) line(n int, b []byte) error {
	b = bytes.TrimSpace(b)
	if len(b) == 0 {
		return nil
	}
	if b[0] == '#' || bytes.HasPrefix(b, []byte("STN")) {
		k.head(b)
		return nil
	}
	if b[0] < '0' || b[0] > '9' {
		return nil // a comment
	}
	if k.columns == nil {
		return nil // a number at the start of a comment
	}
	k.row(n, b)
	return nil
}

// head takes the names of the columns, and the place of a station where the
// head lists it as "# STN LON(east) LAT(north) ALT(m) NAME".
func (k *knmiReader) head(b []byte) {
	b = bytes.TrimLeft(b, "# ")
	if !bytes.Contains(b, []byte(",")) {
		f := bytes.Fields(b)
		switch {
		case len(f) >= 4 && string(f[0]) == "STN" && bytes.HasPrefix(f[1], []byte("LON")) && bytes.HasPrefix(f[2], []byte("LAT")):
			k.places = true
		case k.places && len(f) >= 4 && k.stn == "":
			k.place(f)
		}
		return
	}
	k.places = false
	names := bytes.Split(b, []byte(","))
	columns := make([]int, len(names))
	stn, date, hour := -1, -1, -1
	for i, name := range names {
		columns[i] = -1
		name := string(bytes.TrimSpace(name))
		switch name {
		case "STN":
			stn = i
		case "YYYYMMDD":
			date = i
		case "HH", "H":
			hour = i
		}
		for c := range knmiColumns {
			if knmiColumns[c].name == name {
				columns[i] = c
			}
		}
	}
	if stn >= 0 && date >= 0 && hour >= 0 {
		k.columns, k.stnAt, k.dateAt, k.hourAt = columns, stn, date, hour
	}
}

func (k *knmiReader) place(f [][]byte) {
	var x [3]float64
	for i := range x {
		v, err := strconv.ParseFloat(string(f[i+1]), 64)
		if err != nil {
			return
		}
		x[i] = v
	}
	if k.station.Name == "" && math.Abs(x[0]) <= 180 && math.Abs(x[1]) <= 90 {
		k.station.Longitude, k.station.Latitude, k.station.Altitude = x[0], x[1], x[2]
		k.station.Name = string(bytes.Join(f[4:], []byte(" ")))
	}
}

func (k *knmiReader) row(n int, b []byte) {
	k.rep.Rows++
	k.fields = k.fields[:0]
	for {
		i := bytes.IndexByte(b, ',')
		if i < 0 {
			k.fields = append(k.fields, bytes.TrimSpace(b))
			break
		}
		k.fields = append(k.fields, bytes.TrimSpace(b[:i]))
		b = b[i+1:]
	}
	if len(k.fields) <= max(k.stnAt, k.dateAt, k.hourAt) {
		k.rep.bad(n, "has %d fields, the date and hour are missing", len(k.fields))
		return
	}
	stn := k.fields[k.stnAt]
	if k.stn == "" {
		k.stn = string(stn)
		if k.station.Name == "" {
			k.station.Name = "KNMI station " + k.stn
		}
	} else if string(stn) != k.stn {
		k.rep.bad(n, "is of station %s, the file began with %s", clip(stn), k.stn)
		return
	}
	t, ok := knmiTime(k.fields[k.dateAt], k.fields[k.hourAt])
	if !ok {
		k.rep.bad(n, "date %q and hour %q are not a time", clip(k.fields[k.dateAt]), clip(k.fields[k.hourAt]))
		return
	}
	c := k.hours.at(t)
	if c == nil {
		k.rep.bad(n, "its date %s is more than 50 years from the first row", t.Format(time.DateOnly))
		return
	}
	if c.minutes != [weather.NVars]float32{} {
		k.rep.bad(n, "the hour %s was given before; the first is kept", t.Format("2006-01-02 15:04Z"))
		return
	}
	k.values(n, c)
}

func (k *knmiReader) values(n int, c *cell) {
	used := false
	for i, f := range k.fields {
		if i >= len(k.columns) || k.columns[i] < 0 || len(f) == 0 {
			continue
		}
		col := &knmiColumns[k.columns[i]]
		x, ok := atoi(f)
		if !ok || float64(x) < col.low || float64(x) > col.high {
			k.rep.bad(n, "%s %q is not a possible value", col.name, clip(f))
			continue
		}
		y := float64(x) * col.scale
		switch col.v {
		case weather.Rain:
			y = math.Max(0, y)
		case weather.Wind:
			y *= k.wind
		}
		c.put(col.v, y, 60, weather.Measured)
		used = true
	}
	if used {
		k.rep.Used++
	}
}

// knmiTime returns the start of hour hh (1 to 24) of the date yyyymmdd.
func knmiTime(date, hour []byte) (time.Time, bool) {
	d, ok1 := atoi(date)
	h, ok2 := atoi(hour)
	if !ok1 || !ok2 || len(date) != 8 || h < 1 || h > 24 {
		return time.Time{}, false
	}
	y, m, dd := d/10000, d/100%100, d%100
	t := time.Date(y, time.Month(m), dd, h-1, 0, 0, 0, time.UTC)
	return t, y > 1800 && y < 2200 && int(t.Month()) == m && t.Day() == dd
}

// atoi reads a whole number with an optional sign.
func atoi(b []byte) (int, bool) {
	neg := len(b) > 0 && b[0] == '-'
	if neg {
		b = b[1:]
	}
	if len(b) == 0 || len(b) > 9 {
		return 0, false
	}
	x := 0
	for _, c := range b {
		if c < '0' || c > '9' {
			return 0, false
		}
		x = 10*x + int(c-'0')
	}
	if neg {
		x = -x
	}
	return x, true
}

// clip shortens what is quoted from a file in a message.
func clip(b []byte) string {
	if len(b) > 24 {
		return string(b[:24]) + "…"
	}
	return string(b)
}
