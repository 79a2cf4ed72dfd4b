package ledger

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strconv"
	"time"
)

// Values are hourly values in a row; a missing one is NaN, in JSON null.
type Values []float64

// UnmarshalJSON reads null as a missing value.
func (v *Values) UnmarshalJSON(b []byte) error {
	inner, ok := bytes.CutPrefix(bytes.TrimSpace(b), []byte("["))
	inner, ok2 := bytes.CutSuffix(inner, []byte("]"))
	if !ok || !ok2 {
		return errors.New("a list of numbers was expected")
	}
	*v = Values{}
	if len(bytes.TrimSpace(inner)) == 0 {
		return nil
	}
	*v = make(Values, 0, bytes.Count(inner, []byte(","))+1)
	for item := range bytes.SplitSeq(inner, []byte(",")) {
		text := string(bytes.TrimSpace(item))
		x := math.NaN()
		if text != "null" {
			var err error
			if x, err = strconv.ParseFloat(text, 64); err != nil {
				return fmt.Errorf("%.40q is not a number", text)
			}
		}
		*v = append(*v, x)
	}
	return nil
}

// MarshalJSON writes a missing value as null.
func (v Values) MarshalJSON() ([]byte, error) {
	b := []byte{'['}
	for i, x := range v {
		if i > 0 {
			b = append(b, ',')
		}
		if math.IsNaN(x) {
			b = append(b, "null"...)
		} else {
			b = appendNumber(b, x)
		}
	}
	return append(b, ']'), nil
}

// Hours is weather in a row of hours: value i is of the hour that begins i hours
// after Start. Temperature and humidity are means, rain is the sum.
type Hours struct {
	Start time.Time `json:"start" doc:"when the first hour begins, with zone" rule:"required"`
	T     Values    `json:"t,omitempty" doc:"air temperature, degrees C" rule:"min=-60;max=60;holes;hint=degrees Celsius; null where it is missing"`
	RH    Values    `json:"rh,omitempty" doc:"relative humidity, %" rule:"min=0;max=100;holes;hint=per cent; null where it is missing"`
	Wind  Values    `json:"wind,omitempty" doc:"wind speed, m/s" rule:"min=0;max=80;holes;hint=metres a second; null where it is missing"`
	Rain  Values    `json:"rain,omitempty" doc:"rain, mm" rule:"min=0;max=400;holes;hint=millimetres in the hour; null where it is missing"`
	Rad   Values    `json:"rad,omitempty" doc:"global radiation, W/m2" rule:"min=0;max=1500;holes;hint=watts a square metre, not joules; null where it is missing"`
}

func (h *Hours) check() Problems {
	n := max(len(h.T), len(h.RH), len(h.Wind), len(h.Rain), len(h.Rad))
	if n == 0 {
		return problem("t", "there are no values", "at least one of t, rh, wind, rain, rad")
	}
	var ps Problems
	for _, s := range []struct {
		name string
		v    Values
	}{{"t", h.T}, {"rh", h.RH}, {"wind", h.Wind}, {"rain", h.Rain}, {"rad", h.Rad}} {
		if len(s.v) != 0 && len(s.v) != n {
			ps = append(ps, problem(s.name, "has "+strconv.Itoa(len(s.v))+" values where another has "+strconv.Itoa(n),
				"one value an hour in each, null where it is missing")...)
		}
	}
	return ps
}

// Weather is the body of kind "weather".
type Weather struct {
	Station    string   `json:"station,omitempty" doc:"name of the station or logger" rule:"word"`
	Latitude   *float64 `json:"latitude,omitempty" doc:"of the station, degrees north" rule:"min=-90;max=90"`
	Longitude  *float64 `json:"longitude,omitempty" doc:"of the station, degrees east" rule:"min=-180;max=180"`
	Altitude   *float64 `json:"altitude_m,omitempty" doc:"of the station, metres above the sea" rule:"min=-450;max=6000"`
	WindHeight *float64 `json:"wind_height_m,omitempty" doc:"height of the wind instrument, m" rule:"over=0;max=200"`
	Origin     string   `json:"origin,omitempty" doc:"who measured it" rule:"len=500"`
	Licence    string   `json:"licence,omitempty" doc:"on what terms the data may be used" rule:"len=200"`
	How        string   `json:"how,omitempty" doc:"how the values came about: measured (read off an instrument, and so when it is not stated), derived (worked out from other readings, as humidity from the dew point, or hours from the lowest and highest of a day) or filled (estimated by whoever delivered them)" rule:"enum=measured|derived|filled"`
	Hours
}

func (w *Weather) check(*Entry) Problems { return w.Hours.check() }

// Forecast is the body of kind "forecast".
type Forecast struct {
	Issued time.Time `json:"issued" doc:"when it was issued, with zone" rule:"required"`
	Member int       `json:"member,omitempty" doc:"number of the member, when the forecast is an ensemble" rule:"min=0;max=1000"`
	Origin string    `json:"origin,omitempty" doc:"who issued it, and on what terms it may be used" rule:"len=500"`
	Hours
}

func (f *Forecast) check(*Entry) Problems { return f.Hours.check() }
