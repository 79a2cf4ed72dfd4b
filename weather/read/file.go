package read

import (
	"bytes"
	"fmt"
	"io"

	"oidium/weather"
)

// File reads a weather file of any format of this package, told apart by what it
// begins with: hourly files of KNMI, typical years (EPW), GHCNh, and any other
// table by [Table]. Files packed by gzip are unpacked. A typical year needs
// o.Year.
func File(r io.Reader, o Options) (weather.Station, *weather.Series, Report, error) {
	b, did, err := plain(r)
	if err != nil {
		return weather.Station{}, nil, Report{}, fmt.Errorf("read weather file: %w", err)
	}
	head, _ := b.Peek(1 << 14)
	var st weather.Station
	var s *weather.Series
	var rep Report
	line, _, _ := bytes.Cut(head, []byte("\n"))
	low := bytes.ToLower(line)
	switch {
	case bytes.HasPrefix(head, []byte("LOCATION,")):
		if o.Year == 0 {
			return st, nil, rep, &Ambiguous{Option: "year", Text: "this is a typical year, put together from several; it can be laid into any year for planning"}
		}
		st, s, rep, err = EPW(b, o.Year)
	case bytes.Contains(head, []byte("STN,YYYYMMDD")):
		st, s, rep, err = KNMIHourly(b)
	case bytes.Contains(low, []byte("dew_point_temperature")) && bytes.Contains(low, []byte("minute")):
		st, s, rep, err = GHCNh(b)
	default:
		st, s, rep, err = Table(b, o)
	}
	for _, d := range did {
		rep.found("The file was unpacked from: %s.", d)
	}
	if err == nil && o.Place != nil && st.Latitude != st.Latitude {
		st.Latitude, st.Longitude, st.Altitude = o.Place.Latitude, o.Place.Longitude, o.Place.Altitude
	}
	return st, s, rep, err
}
