package work

import (
	"slices"

	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/tunnel"
	"oidium/weather"
)

// instrument is the record of one station or logger after quality control.
type instrument struct {
	station weather.Station
	bed     garden.BedID // "" outdoors
	series  *weather.Series
	quality weather.Quality
	away    int // hours taken out because the sensor stood still for days
}

// gather checks the stations outdoors and lays them on one row: the fullest on
// top, so that it holds where two speak, but a doubtful value never over a sound
// one.
func (s *sky) gather(records []ledger.Record) {
	for _, r := range records {
		if r.Bed == "" {
			s.stations = append(s.stations, s.checked(r, nil))
		}
	}
	slices.SortStableFunc(s.stations, func(a, b instrument) int {
		return a.series.Count(weather.Temp)[weather.Measured] - b.series.Count(weather.Temp)[weather.Measured]
	})
	for _, in := range s.stations {
		s.station = in.station
		if s.measured == nil {
			s.measured = in.series
		} else {
			s.measured = overlay(s.measured, in.series)
		}
		s.warnOf(in)
	}
}

// gatherLoggers checks the loggers in beds against the weather that the bed has
// without them.
func (s *sky) gatherLoggers(records []ledger.Record) {
	for _, r := range records {
		if r.Bed == "" {
			continue
		}
		beside := s.known
		if b, ok := s.bed(r.Bed); ok && b.Shelter == garden.Tunnel {
			beside = tunnel.Inside(s.known, s.site.Latitude, s.site.Longitude, tunnelOf(b, s.asOf))
		}
		in := s.checked(r, beside)
		s.loggers = append(s.loggers, in)
		s.warnOf(in)
	}
}

// checked brings a record to 2 m and through quality control. Where a sensor
// stood still for days, what it says is worth less than a guess and is taken out.
func (s *sky) checked(r ledger.Record, beside *weather.Series) instrument {
	lat, lon := r.Station.Latitude, r.Station.Longitude
	if lat != lat || lon != lon {
		lat, lon = s.site.Latitude, s.site.Longitude
	}
	in := instrument{station: r.Station, bed: r.Bed}
	in.series, in.quality = weather.Check(atTwoMetres(r), beside, lat, lon)
	for _, f := range in.quality.Findings {
		if f.Kind != weather.Stuck || f.Hours < int(stuckHours.V) {
			continue
		}
		in.away += f.Hours
		i := in.series.Index(f.From)
		for k := i; k < min(i+f.Hours, in.series.Len()); k++ {
			in.series.Set(f.Var, k, 0, weather.Missing)
		}
	}
	return in
}

// warnOf tells the reader of the round what quality control found that bends its
// answers; the whole report is a command of its own.
func (s *sky) warnOf(in instrument) {
	for _, f := range findings(in, s.loc) {
		switch f.Kind {
		case string(weather.Clock), string(weather.SunHeated), string(weather.TooBright):
		case string(weather.Stuck):
			if in.away == 0 {
				continue
			}
		default:
			continue
		}
		s.warnings = append(s.warnings, garden.Warning{Code: "weather-" + f.Kind, Bed: in.bed, Text: f.Text + " " + remark("see-check")})
	}
}

// overlay is weather.Join, but a doubtful value of b leaves a sound one of a.
func overlay(a, b *weather.Series) *weather.Series {
	out := weather.Join(a, b)
	for v := range out.V {
		for i, f := range out.F[v] {
			if f != weather.Doubtful {
				continue
			}
			if k := a.Index(out.Time(i)); k >= 0 && k < a.Len() && (a.F[v][k] == weather.Measured || a.F[v][k] == weather.Derived) {
				out.Set(weather.Var(v), i, float64(a.V[v][k]), a.F[v][k])
			}
		}
	}
	return out
}

// atTwoMetres brings the wind of a record to 2 m.
func atTwoMetres(r ledger.Record) *weather.Series {
	h := r.Station.WindHeight
	if h <= 0 || h == 2 {
		return r.Series
	}
	out := r.Series.Clone()
	f := float32(weather.WindAt2m(1, h))
	for i, u := range out.V[weather.Wind] {
		out.V[weather.Wind][i] = u * f
	}
	return out
}
