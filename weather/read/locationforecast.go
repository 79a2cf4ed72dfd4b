package read

import (
	"errors"
	"fmt"
	"io"
	"math"
	"time"

	"oidium/weather"
)

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
