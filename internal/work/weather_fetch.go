package work

import (
	"time"

	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/weather"
)

// weatherFetchVersion names the shape of [WeatherFetch].
const weatherFetchVersion = "oidium-weather-fetch-1"

// WeatherFetch says what forecast was fetched and what becomes of it.
type WeatherFetch struct {
	Version     string            `json:"version" enum:"oidium-weather-fetch-1" doc:"shape of this document"`
	Service     string            `json:"service" enum:"met-norway,us-nws"`
	Origin      string            `json:"origin" doc:"who issued it"`
	Attribution string            `json:"attribution" doc:"terms and words that go with any use of it"`
	Issued      string            `json:"issued" format:"date-time" doc:"it counts from this instant on"`
	CountsFrom  string            `json:"counts_from" format:"date" doc:"the first morning whose round uses it"`
	From        string            `json:"from" format:"date-time"`
	To          string            `json:"to" format:"date-time"`
	Hours       int               `json:"hours"`
	Quantities  []WeatherQuantity `json:"quantities"`
	Tried       string            `json:"tried" doc:"on what the reading of this service has been tried"`
	Kept        bool              `json:"kept" doc:"whether it was written into the book"`
	Added       int               `json:"added"`
	Same        int               `json:"same"`
	Warnings    []garden.Warning  `json:"warnings"`
}

// KeepForecast turns a fetched forecast into an entry and says what becomes of it.
// entries are those of the book.
func KeepForecast(entries []ledger.Entry, now time.Time, service string, o weather.Outlook, warnings []garden.Warning) (*WeatherFetch, ledger.Entry, error) {
	g, err := ledger.Fold(entries, now)
	if err != nil {
		return nil, ledger.Entry{}, err
	}
	loc, err := zoneOf(g.Site)
	if err != nil {
		return nil, ledger.Entry{}, err
	}
	e, err := forecastEntry(o)
	if err != nil {
		return nil, e, err
	}
	var shape WeatherImport
	shape.span(o.Series, loc)
	out := &WeatherFetch{
		Version: weatherFetchVersion, Service: service, Origin: o.Origin, Attribution: o.Licence,
		Issued: o.Issued.In(loc).Format(time.RFC3339), CountsFrom: countsFrom(o.Issued, loc).String(),
		From: shape.From, To: shape.To, Hours: shape.Hours, Quantities: shape.Quantities,
		Tried: remark("fetch.untried"), Warnings: warnings,
	}
	if o.Series.End().Before(now) {
		out.Warnings = append(out.Warnings, garden.Warning{Code: "forecast-past", Text: remark("fetch.past")})
	}
	full(&out.Warnings)
	return out, e, nil
}

// countsFrom is the first morning, 06:00, at or after an instant.
func countsFrom(t time.Time, loc *time.Location) garden.Day {
	d := garden.DayOf(t.In(loc))
	if t.After(d.At(6, loc)) {
		d++
	}
	return d
}

// ForecastPlace returns where a forecast for the garden is to be asked for; ok is
// false where the book does not say.
func ForecastPlace(entries []ledger.Entry, now time.Time) (w Where, ok bool, err error) {
	g, err := ledger.Fold(entries, now)
	if err != nil {
		return w, false, err
	}
	w = Where{Latitude: g.Site.Latitude, Longitude: g.Site.Longitude, Altitude: g.Site.Altitude, Maritime: g.Site.Maritime}
	return w, w.Latitude != 0 || w.Longitude != 0, nil
}
