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

	"oidium/sun"
	"oidium/weather"
)

// jsonLimit is the largest answer of a forecast service that is read.
const jsonLimit = 8 << 20

func decodeJSON(r io.Reader, into any) error {
	b, err := io.ReadAll(io.LimitReader(r, jsonLimit+1))
	switch {
	case err != nil:
		return err
	case len(b) > jsonLimit:
		return fmt.Errorf("the answer is larger than %d MB", jsonLimit>>20)
	}
	if err := json.Unmarshal(b, into); err != nil {
		return fmt.Errorf("it is not the JSON expected: %w", err)
	}
	return nil
}

// knot is a value at an instant, or over the time up to end.
type knot struct {
	at, end time.Time
	x       float64
}

// at returns the value of knots at t: between instants linearly, NaN outside.
func between(k []knot, t time.Time) float64 {
	i, ok := slices.BinarySearchFunc(k, t, func(k knot, t time.Time) int { return k.at.Compare(t) })
	switch {
	case ok:
		return k[i].x
	case i == 0 || i == len(k):
		return math.NaN()
	}
	a, b := k[i-1], k[i]
	if b.at.Sub(a.at) > 6*time.Hour {
		return math.NaN() // a hole in the forecast
	}
	w := t.Sub(a.at).Hours() / b.at.Sub(a.at).Hours()
	return a.x + w*(b.x-a.x)
}

// holding returns the value of the knot whose time holds t, NaN where none does.
func holding(k []knot, t time.Time) (knot, bool) {
	i, ok := slices.BinarySearchFunc(k, t, func(k knot, t time.Time) int { return k.at.Compare(t) })
	if !ok {
		i--
	}
	if i < 0 || !t.Before(k[i].end) {
		return knot{}, false
	}
	return k[i], true
}

func sortKnots(k []knot) []knot {
	slices.SortStableFunc(k, func(a, b knot) int { return a.at.Compare(b.at) })
	return slices.CompactFunc(k, func(a, b knot) bool { return a.at.Equal(b.at) })
}

// spanOf bounds the hours of a forecast to what a forecast can be.
func spanOf(first, last time.Time) (time.Time, int, error) {
	hours := int(last.Sub(first).Hours())
	if hours < 1 || hours > 40*24 {
		return first, 0, fmt.Errorf("it covers %d hours from %s, which is no forecast", hours, first.Format(time.RFC3339))
	}
	return first.Truncate(time.Hour), hours + 1, nil
}

// Locationforecast reads an answer of the Locationforecast service (version 2.0,
// JSON, short or complete) of the Norwegian Meteorological Institute. Readings
// are given at instants, hourly and later every six hours, and become the value
// in the middle of each hour between; rain over six hours is spread evenly;
// radiation is estimated from the cloud cover. Wind is brought from 10 m to 2 m.
//
// It is written from the description of the service and was not tried on a live
// answer.
func Locationforecast(r io.Reader) (weather.Outlook, error) {
	var doc struct {
		Geometry struct {
			Coordinates []float64 `json:"coordinates"`
		} `json:"geometry"`
		Properties struct {
			Meta struct {
				Updated time.Time `json:"updated_at"`
			} `json:"meta"`
			Series []struct {
				Time time.Time `json:"time"`
				Data struct {
					Instant struct {
						Details map[string]float64 `json:"details"`
					} `json:"instant"`
					Next1 *period `json:"next_1_hours"`
					Next6 *period `json:"next_6_hours"`
				} `json:"data"`
			} `json:"timeseries"`
		} `json:"properties"`
	}
	out := weather.Outlook{
		Origin:  "MET Norway, Locationforecast",
		Licence: "CC BY 4.0; based on data from MET Norway (changed: brought to hours and to 2 m, radiation estimated)",
	}
	fail := func(err error) (weather.Outlook, error) {
		return weather.Outlook{}, fmt.Errorf("read answer of Locationforecast: %w", err)
	}
	if err := decodeJSON(r, &doc); err != nil {
		return fail(err)
	}
	p := doc.Properties
	if len(p.Series) < 2 || len(doc.Geometry.Coordinates) < 2 || p.Meta.Updated.IsZero() {
		return fail(errors.New("it holds no time series, no place or no time of issue"))
	}
	lon, lat := doc.Geometry.Coordinates[0], doc.Geometry.Coordinates[1]
	if math.Abs(lat) > 90 || math.Abs(lon) > 180 {
		return fail(fmt.Errorf("its place %g, %g is none", lat, lon))
	}
	names := map[string]weather.Var{"air_temperature": weather.Temp, "relative_humidity": weather.RH, "wind_speed": weather.Wind}
	var f forecastKnots
	for _, s := range p.Series {
		for name, v := range names {
			if x, ok := s.Data.Instant.Details[name]; ok {
				f.reading[v] = append(f.reading[v], knot{s.Time, s.Time, x})
			}
		}
		if x, ok := s.Data.Instant.Details["cloud_area_fraction"]; ok {
			f.cloud = append(f.cloud, knot{s.Time, s.Time, x / 100})
		}
		switch {
		case s.Data.Next1 != nil && s.Data.Next1.Details.Rain != nil:
			f.rain = append(f.rain, knot{s.Time, s.Time.Add(time.Hour), *s.Data.Next1.Details.Rain})
		case s.Data.Next6 != nil && s.Data.Next6.Details.Rain != nil:
			f.rain = append(f.rain, knot{s.Time, s.Time.Add(6 * time.Hour), *s.Data.Next6.Details.Rain})
		}
	}
	s, err := f.series(lat, lon)
	if err != nil {
		return fail(err)
	}
	out.Issued, out.Series = p.Meta.Updated.UTC(), s
	return out, nil
}

type period struct {
	Details struct {
		Rain *float64 `json:"precipitation_amount"`
	} `json:"details"`
}

// forecastKnots is a forecast as a service gives it.
type forecastKnots struct {
	reading [weather.NVars][]knot // instants, or hold where end is later
	cloud   []knot                // share of the sky
	rain    []knot                // mm over each time
	holds   bool                  // readings hold over their time instead of at an instant
}

func (f *forecastKnots) series(lat, lon float64) (*weather.Series, error) {
	for v := range f.reading {
		f.reading[v] = sortKnots(f.reading[v])
	}
	f.cloud, f.rain = sortKnots(f.cloud), sortKnots(f.rain)
	temp := f.reading[weather.Temp]
	if len(temp) == 0 {
		return nil, errors.New("it holds no temperature")
	}
	last := temp[len(temp)-1].at
	if f.holds {
		last = temp[len(temp)-1].end
	}
	start, n, err := spanOf(temp[0].at, last)
	if err != nil {
		return nil, err
	}
	s := weather.NewSeries(start, n)
	for i := range n {
		h := s.Time(i)
		mid := h.Add(30 * time.Minute)
		for _, v := range []weather.Var{weather.Temp, weather.RH, weather.Wind} {
			x := f.value(f.reading[v], mid)
			if v == weather.Wind {
				x = weather.WindAt2m(x, 10)
			}
			f.set(s, v, i, x)
		}
		if k, ok := holding(f.rain, h); ok {
			f.set(s, weather.Rain, i, k.x/math.Max(1, k.end.Sub(k.at).Hours()))
		}
		up, _ := sun.Position(mid, lat, lon)
		f.set(s, weather.Rad, i, weather.RadFromCloud(f.value(f.cloud, mid), up))
	}
	// The last hour may have nothing but the instant at its start.
	for n > 0 && s.F[weather.Temp][n-1] == weather.Missing {
		n--
	}
	if n == 0 {
		return nil, errors.New("its readings are too far apart to make hours of them")
	}
	return s.Slice(s.Start, s.Time(n)), nil
}

func (f *forecastKnots) value(k []knot, t time.Time) float64 {
	if !f.holds {
		return between(k, t)
	}
	if x, ok := holding(k, t); ok {
		return x.x
	}
	return math.NaN()
}

func (f *forecastKnots) set(s *weather.Series, v weather.Var, i int, x float64) {
	if v.Possible(x) {
		s.Set(v, i, x, weather.Forecast)
	}
}

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
