package read

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"oidium/weather"
)

// Gridpoint reads the raw grid of a forecast of the US National Weather Service
// (api.weather.gov, gridpoints): for each quantity, values with the time they
// hold, in units the answer names. Rain over several hours is spread evenly and
// radiation estimated from sky cover. Wind is brought from 10 m to 2 m.
//
// It is written from the description of the service and was not tried on a live
// answer.
func Gridpoint(r io.Reader) (weather.Outlook, error) {
	var doc struct {
		Geometry struct {
			Coordinates json.RawMessage `json:"coordinates"`
		} `json:"geometry"`
		Properties struct {
			Update      time.Time `json:"updateTime"`
			Temperature gridLayer `json:"temperature"`
			Dew         gridLayer `json:"dewpoint"`
			RH          gridLayer `json:"relativeHumidity"`
			Wind        gridLayer `json:"windSpeed"`
			Sky         gridLayer `json:"skyCover"`
			Rain        gridLayer `json:"quantitativePrecipitation"`
		} `json:"properties"`
	}
	fail := func(err error) (weather.Outlook, error) {
		return weather.Outlook{}, fmt.Errorf("read answer of the National Weather Service: %w", err)
	}
	if err := decodeJSON(r, &doc); err != nil {
		return fail(err)
	}
	p := &doc.Properties
	if p.Update.IsZero() || len(p.Temperature.Values) == 0 {
		return fail(errors.New("it holds no temperature or no time of issue"))
	}
	lat, lon, err := middle(doc.Geometry.Coordinates)
	if err != nil {
		return fail(err)
	}
	f := forecastKnots{holds: true}
	for _, l := range []struct {
		into  *[]knot
		layer gridLayer
		what  quantity
	}{
		{&f.reading[weather.Temp], p.Temperature, qTemp},
		{&f.reading[weather.RH], p.RH, qRH},
		{&f.reading[weather.Wind], p.Wind, qWind},
		{&f.cloud, p.Sky, qCloud},
		{&f.rain, p.Rain, qRain},
	} {
		if *l.into, err = l.layer.knots(l.what); err != nil {
			return fail(err)
		}
	}
	if len(f.reading[weather.RH]) == 0 {
		dew, err := p.Dew.knots(qDew)
		if err != nil {
			return fail(err)
		}
		f.reading[weather.RH] = humidity(f.reading[weather.Temp], dew)
	}
	s, err := f.series(lat, lon)
	if err != nil {
		return fail(err)
	}
	return weather.Outlook{
		Issued: p.Update.UTC(), Series: s,
		Origin:  "US National Weather Service, api.weather.gov",
		Licence: "public domain, US National Weather Service (changed: brought to hours and to 2 m, radiation estimated)",
	}, nil
}

// humidity returns the humidity of temperatures with the dew points of their time.
func humidity(temp, dew []knot) []knot {
	temp, dew = sortKnots(temp), sortKnots(dew)
	var out []knot
	for _, t := range temp {
		if d, ok := holding(dew, t.at); ok {
			out = append(out, knot{t.at, t.end, weather.RHFrom(t.x, weather.SaturationVP(d.x))})
		}
	}
	return out
}

// gridLayer is one quantity of a grid forecast.
type gridLayer struct {
	Unit   string `json:"uom"`
	Values []struct {
		Valid string   `json:"validTime"`
		Value *float64 `json:"value"`
	} `json:"values"`
}

// gridUnits are the units the service names, by their last part.
var gridUnits = map[string]string{
	"degc": "c", "degf": "f", "k": "k", "percent": "%", "km_h-1": "km/h", "m_s-1": "m/s", "mm": "mm", "": "",
}

func (g gridLayer) knots(q quantity) ([]knot, error) {
	if len(g.Values) == 0 {
		return nil, nil
	}
	name := strings.ToLower(g.Unit[strings.LastIndexByte(g.Unit, ':')+1:])
	unit, ok := gridUnits[name]
	if !ok {
		return nil, fmt.Errorf("the unit %q of the %s is not known", g.Unit, q)
	}
	if unit == "" {
		unit = unitsOf[q][0]
	}
	if q == qCloud {
		unit = "%"
	}
	u, ok := convert(q, unit, 1)
	if !ok || !slices.Contains(unitsOf[q], unit) {
		return nil, fmt.Errorf("the unit %q does not fit the %s", g.Unit, q)
	}
	var out []knot
	for _, v := range g.Values {
		if v.Value == nil {
			continue
		}
		at, end, err := interval(v.Valid)
		if err != nil {
			return nil, err
		}
		out = append(out, knot{at, end, *v.Value*u.scale + u.shift})
	}
	return out, nil
}

// interval reads "2000-01-01T06:00:00+00:00/PT3H" (ISO 8601, days, hours and
// minutes only).
func interval(s string) (at, end time.Time, err error) {
	bad := fmt.Errorf("%q is not a time with a duration", s)
	from, length, ok := strings.Cut(s, "/")
	if at, err = time.Parse(time.RFC3339, from); err != nil || !ok || !strings.HasPrefix(length, "P") {
		return at, at, bad
	}
	units := map[byte]time.Duration{'D': 24 * time.Hour, 'H': time.Hour, 'M': time.Minute}
	var d time.Duration
	digits := ""
	for i := 1; i < len(length); i++ {
		switch c := length[i]; {
		case c >= '0' && c <= '9':
			digits += string(c)
		case c == 'T':
		default:
			n, err := strconv.Atoi(digits)
			if err != nil || units[c] == 0 || n > 1000 {
				return at, at, bad
			}
			d += time.Duration(n) * units[c]
			digits = ""
		}
	}
	if d <= 0 || digits != "" {
		return at, at, bad
	}
	return at.UTC(), at.Add(d).UTC(), nil
}

// middle returns the mean of the corners of a polygon, or a point.
func middle(raw json.RawMessage) (lat, lon float64, err error) {
	var rings [][][]float64
	if json.Unmarshal(raw, &rings) != nil || len(rings) == 0 {
		var point []float64
		if err := json.Unmarshal(raw, &point); err != nil || len(point) < 2 {
			return 0, 0, errors.New("it does not say which place it is for")
		}
		rings = [][][]float64{{point}}
	}
	n := 0.0
	for _, c := range rings[0] {
		if len(c) < 2 {
			continue
		}
		lon, lat, n = lon+c[0], lat+c[1], n+1
	}
	if n == 0 || math.Abs(lat/n) > 90 || math.Abs(lon/n) > 180 {
		return 0, 0, errors.New("it does not say which place it is for")
	}
	return lat / n, lon / n, nil
}
