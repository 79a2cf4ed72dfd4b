package ledger

import (
	"cmp"
	"math"
	"slices"
	"time"

	"oidium/garden"
	"oidium/weather"
)

// Record is the measured weather of one station or logger as known at an
// instant. Wind is as measured, at Station.WindHeight.
type Record struct {
	Station weather.Station
	Bed     garden.BedID // of a logger in a bed; "" outdoors
	Series  *weather.Series
}

// Issue is a forecast that was issued by then.
type Issue struct {
	Issued time.Time
	Member int // of an ensemble
	Origin string
	Series *weather.Series
}

// Outlook is the weather in the ledger as known at one instant.
type Outlook struct {
	Records   []Record // by bed, then name of the station
	Forecasts []Issue  // by time of issue, then member, then entry id
}

// WeatherAt returns the weather known at asOf. An hour counts once it is over.
// Where two entries of one station speak of the same hour, a measured value
// holds before a derived one and that before a filled one; among equals the later
// written, ties by id. A forecast counts once it was issued. The error is that
// two entries with one id say different things.
func WeatherAt(entries []Entry, asOf time.Time) (Outlook, error) {
	held, _, err := standing(entries, asOf)
	if err != nil {
		return Outlook{}, err
	}
	slices.SortFunc(held, later) // so that a later word overwrites
	type place struct {
		bed     garden.BedID
		station string
	}
	parts := map[place][]*Weather{}
	var out Outlook
	for _, e := range held {
		switch b := e.Body.(type) {
		case *Weather:
			p := place{e.Bed, b.Station}
			parts[p] = append(parts[p], b)
		case *Forecast:
			s := weather.NewSeries(b.Start, b.length())
			b.write(s, b.length(), weather.Forecast)
			out.Forecasts = append(out.Forecasts, Issue{Issued: b.Issued, Member: b.Member, Origin: b.Origin, Series: s})
		}
	}
	for p, list := range parts {
		if s := series(list, asOf); s.Len() > 0 {
			out.Records = append(out.Records, Record{Station: station(p.station, list), Bed: p.bed, Series: s})
		}
	}
	slices.SortFunc(out.Records, func(a, b Record) int {
		return cmp.Or(cmp.Compare(a.Bed, b.Bed), cmp.Compare(a.Station.Name, b.Station.Name))
	})
	slices.SortStableFunc(out.Forecasts, func(a, b Issue) int {
		return cmp.Or(a.Issued.Compare(b.Issued), cmp.Compare(a.Member, b.Member))
	})
	return out, nil
}

// station gathers what the entries of a station say of it, the last word of each.
func station(name string, parts []*Weather) weather.Station {
	s := weather.Station{Name: name, Latitude: math.NaN(), Longitude: math.NaN(), Altitude: math.NaN()}
	for _, w := range parts {
		say(&s.Origin, w.Origin)
		say(&s.Licence, w.Licence)
		set(&s.WindHeight, w.WindHeight)
		set(&s.Latitude, w.Latitude)
		set(&s.Longitude, w.Longitude)
		set(&s.Altitude, w.Altitude)
	}
	return s
}

// flag is the flag of the values of the entry.
func (w *Weather) flag() weather.Flag {
	switch w.How {
	case "derived":
		return weather.Derived
	case "filled":
		return weather.Filled
	}
	return weather.Measured
}

// series lays the hours that are over on one row: filled values at the bottom,
// derived ones over them, measured ones on top, of each the later parts above.
func series(parts []*Weather, asOf time.Time) *weather.Series {
	parts = slices.Clone(parts)
	slices.SortStableFunc(parts, func(a, b *Weather) int { return cmp.Compare(b.flag(), a.flag()) })
	var first, last time.Time
	over := make([]int, len(parts))
	for i, w := range parts {
		over[i] = min(w.length(), int(asOf.Sub(w.Start)/time.Hour))
		if over[i] <= 0 {
			continue
		}
		start := w.Start.Truncate(time.Hour)
		end := start.Add(time.Duration(over[i]) * time.Hour)
		if first.IsZero() || start.Before(first) {
			first = start
		}
		if end.After(last) {
			last = end
		}
	}
	s := weather.NewSeries(first, int(last.Sub(first)/time.Hour))
	for i, w := range parts {
		w.write(s, over[i], w.flag())
	}
	return s
}

// write sets the first n hours in the series; a missing value leaves what is there.
func (h *Hours) write(s *weather.Series, n int, flag weather.Flag) {
	at := s.Index(h.Start)
	for v, col := range [weather.NVars]Values{weather.Temp: h.T, weather.RH: h.RH, weather.Wind: h.Wind, weather.Rain: h.Rain, weather.Rad: h.Rad} {
		for i := range min(n, len(col)) {
			if !math.IsNaN(col[i]) {
				s.Set(weather.Var(v), at+i, col[i], flag)
			}
		}
	}
}

func (h *Hours) length() int {
	return max(len(h.T), len(h.RH), len(h.Wind), len(h.Rain), len(h.Rad))
}
