package fetch

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"net/http"
	"net/url"
	"strings"
	"time"

	"oidium/garden"
	"oidium/weather"
	"oidium/weather/read"
)

// The addresses of the services.
const (
	norwayURL = "https://api.met.no/weatherapi/locationforecast/2.0/compact"
	usURL     = "https://api.weather.gov"
)

// Client asks the services. Dir and Agent must be set.
type Client struct {
	// Dir is where answers are kept; it is made if it does not exist.
	Dir string
	// Agent names the program and how its operator can be reached, as both
	// services ask: "name/version contact".
	Agent string
	// HTTP does the asking; nil means a client that gives up after 20 s.
	HTTP *http.Client
	// Now is the clock; nil means time.Now.
	Now func() time.Time
	// Norway and US are the addresses asked; "" means the real services.
	Norway, US string
}

// Locationforecast asks the Norwegian service, which covers the world. The
// altitude in m corrects temperatures in hills; NaN leaves it to the service.
//
// The outlook carries the attribution that must be shown. A warning says when it
// is an older answer because the service could not be asked.
func (c *Client) Locationforecast(ctx context.Context, lat, lon, altitude float64) (weather.Outlook, []garden.Warning, error) {
	q, err := place(lat, lon)
	if err != nil {
		return weather.Outlook{}, nil, err
	}
	v := url.Values{"lat": {q[0]}, "lon": {q[1]}}
	if altitude == altitude {
		v.Set("altitude", fmt.Sprintf("%.0f", altitude))
	}
	a, err := c.get(ctx, or(c.Norway, norwayURL)+"?"+v.Encode())
	if err != nil {
		return weather.Outlook{}, nil, fmt.Errorf("forecast of MET Norway for %s, %s: %w", q[0], q[1], err)
	}
	o, err := read.Locationforecast(bytes.NewReader(a.Body))
	return o, c.warnings("MET Norway", a), err
}

// Gridpoint asks the US National Weather Service, which covers the United States
// and their territories only. Warnings as with Locationforecast.
func (c *Client) Gridpoint(ctx context.Context, lat, lon float64) (weather.Outlook, []garden.Warning, error) {
	q, err := place(lat, lon)
	if err != nil {
		return weather.Outlook{}, nil, err
	}
	fail := func(err error) (weather.Outlook, []garden.Warning, error) {
		return weather.Outlook{}, nil, fmt.Errorf("forecast of the US National Weather Service for %s, %s: %w", q[0], q[1], err)
	}
	base := or(c.US, usURL)
	a, err := c.get(ctx, base+"/points/"+q[0]+","+q[1])
	if err != nil {
		return fail(err)
	}
	var point struct {
		Properties struct {
			Grid string `json:"forecastGridData"`
		} `json:"properties"`
	}
	if err := json.Unmarshal(a.Body, &point); err != nil {
		return fail(fmt.Errorf("the answer for the place is not the JSON expected: %w", err))
	}
	// The grid of a place may change, so its address is taken from the answer,
	// but never to another host.
	if !strings.HasPrefix(point.Properties.Grid, base+"/") {
		return fail(errors.New("the answer for the place names no grid; is it within the United States?"))
	}
	if a, err = c.get(ctx, point.Properties.Grid); err != nil {
		return fail(err)
	}
	o, err := read.Gridpoint(bytes.NewReader(a.Body))
	return o, c.warnings("the US National Weather Service", a), err
}

func (c *Client) warnings(who string, a *answer) []garden.Warning {
	if a.trouble == "" {
		return nil
	}
	return []garden.Warning{{
		Code: "forecast-old",
		Text: fmt.Sprintf("The forecast of %s is the one fetched %s; a newer one could not be had (%s).", who, a.Fetched.UTC().Format("2006-01-02 15:04Z"), a.trouble),
	}}
}

// place rounds a place to what is sent.
func place(lat, lon float64) ([2]string, error) {
	if !(math.Abs(lat) <= 90 && math.Abs(lon) <= 180) {
		return [2]string{}, fmt.Errorf("forecast: latitude %g and longitude %g are no place", lat, lon)
	}
	return [2]string{hundredth(lat), hundredth(lon)}, nil
}

// hundredth prints two decimals without the sign of a zero or idle digits.
func hundredth(x float64) string {
	return fmt.Sprintf("%g", math.Round(x*100)/100+0)
}

func or(a, b string) string {
	if a == "" {
		return b
	}
	return strings.TrimSuffix(a, "/")
}
