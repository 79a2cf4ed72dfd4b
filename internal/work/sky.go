package work

import (
	"math"
	"slices"
	"time"

	"oidium/chance"
	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/mildew"
	"oidium/tunnel"
	"oidium/weather"
)

// sky is the weather of a morning: what was measured up to it, filled where
// there are holes, and scenarios of what may come.
type sky struct {
	loc      *time.Location
	asOf     time.Time
	first    garden.Day        // first day covered
	today    garden.Day        // the morning
	knownTo  time.Time         // end of what is known, asOf at the latest
	known    *weather.Series   // outdoors, from the first midnight to knownTo
	ahead    []*weather.Series // outdoors, from today's midnight to the end of the last day ahead
	loggers  map[garden.BedID]*weather.Series
	station  weather.Station
	measured *weather.Series // nil: nothing was measured
	forecast string
	warnings []garden.Warning
}

// lookUp gathers the weather from the entries, from the midnight of first on.
func lookUp(entries []ledger.Entry, site garden.Site, loc *time.Location, asOf time.Time, first garden.Day, days, runs int) (*sky, error) {
	out, err := ledger.WeatherAt(entries, asOf)
	if err != nil {
		return nil, err
	}
	s := &sky{loc: loc, asOf: asOf, first: first, today: garden.DayOf(asOf.In(loc)), knownTo: asOf, loggers: make(map[garden.BedID]*weather.Series)}
	start := first.At(0, loc)

	records := slices.Clone(out.Records)
	// The fullest station is laid on last, so that it holds where two speak.
	slices.SortStableFunc(records, func(a, b ledger.Record) int {
		return a.Series.Count(weather.Temp)[weather.Measured] - b.Series.Count(weather.Temp)[weather.Measured]
	})
	for _, r := range records {
		series := atTwoMetres(r)
		if r.Bed != "" {
			s.loggers[r.Bed] = series
			continue
		}
		s.station = r.Station
		if s.measured == nil {
			s.measured = series
		} else {
			s.measured = weather.Join(s.measured, series)
		}
	}

	climate := weather.Coarse(site.Latitude, site.Altitude, site.Maritime)
	raw := weather.NewSeries(start, int(asOf.Sub(start)/time.Hour))
	if s.measured != nil {
		raw = weather.Join(raw, s.measured).Slice(start, asOf)
	} else {
		s.warn("no-weather", say("weather.none"))
	}
	// What is known ends where measuring ended, when that was this morning: the
	// hours since then are drawn with those to come, not filled in.
	if s.measured != nil {
		if seen := lastSeen(s.measured); asOf.Sub(seen) < 24*time.Hour {
			s.knownTo = later(seen, s.today.At(0, loc))
			raw = raw.Slice(start, s.knownTo)
		}
	}
	filled, warnings := weather.Fill(raw, climate, site.Latitude, site.Longitude)
	s.known = filled
	if s.measured != nil && s.holes() > fewHoles {
		s.warnings = append(s.warnings, warnings...)
	}

	gen := weather.NewGenerator(climate, s.measured, site.Latitude, site.Longitude)
	end := (s.today + garden.Day(days)).At(0, loc)
	hours := int(end.Sub(s.knownTo) / time.Hour)
	issue := latest(out.Forecasts, asOf)
	s.forecast = say("weather.drawn")
	if issue != nil {
		s.forecast = say("weather.issued", "when", issue.Issued.In(loc).Format("2006-01-02 15:04"), "origin", issue.Origin)
	}
	midnight := s.today.At(0, loc)
	for k := range runs {
		stream := chance.New(chance.Key{Garden: site.Seed, Season: s.today.Year(), Member: k, Process: chance.Weather, Day: int(s.today)})
		a := gen.Draw(stream, s.knownTo, hours)
		if issue != nil {
			a = weather.Join(a, issue.Series.Slice(s.knownTo, end))
		}
		s.ahead = append(s.ahead, weather.Join(s.known.Slice(midnight, s.knownTo), a).Slice(midnight, end))
	}
	return s, nil
}

// fewHoles is how many filled hours are not worth a warning of their own; the
// report of the weather counts them all the same.
const fewHoles = 12

// holes is the largest number of hours of any quantity that had to be filled.
func (s *sky) holes() int {
	most := 0
	for _, flags := range s.known.F {
		n := 0
		for _, f := range flags {
			if !f.Seen() {
				n++
			}
		}
		most = max(most, n)
	}
	return most
}

// later returns the later of two instants.
func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// latest returns the forecast issued last that reaches beyond asOf, nil if none
// was issued within the day before.
func latest(issues []ledger.Issue, asOf time.Time) *ledger.Issue {
	for i := len(issues) - 1; i >= 0; i-- {
		if x := issues[i]; x.Series.End().After(asOf) && asOf.Sub(x.Issued) <= 48*time.Hour {
			return &issues[i]
		}
	}
	return nil
}

func (s *sky) warn(code, text string) {
	s.warnings = append(s.warnings, garden.Warning{Code: code, Text: text})
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

// inBed is the weather at one bed.
type inBed struct {
	known *weather.Series
	ahead []*weather.Series
}

// at returns the weather at a bed: outdoors, the model of a tunnel, or the bed's
// own logger where it has one.
func (s *sky) at(b garden.Bed, site garden.Site) inBed {
	w := inBed{known: s.known, ahead: s.ahead}
	if b.Shelter == garden.Tunnel {
		p := tunnelOf(b, s.asOf)
		w.known = tunnel.Inside(s.known, site.Latitude, site.Longitude, p)
		w.ahead = make([]*weather.Series, len(s.ahead))
		for k, a := range s.ahead {
			w.ahead[k] = tunnel.Inside(a, site.Latitude, site.Longitude, p)
		}
	}
	if own := s.loggers[b.ID]; own != nil {
		w.known = weather.Join(w.known, own).Slice(w.known.Start, w.known.End())
	}
	return w
}

// hoursOf returns one local day of a series as a mildew is fed it.
func (s *sky) hoursOf(w *weather.Series, b garden.Bed, d garden.Day) mildew.Hours {
	from, to := w.Index(d.At(0, s.loc)), w.Index((d+1).At(0, s.loc))
	from, to = max(from, 0), min(to, w.Len())
	if from >= to {
		return mildew.Hours{}
	}
	set := settingOn(b, d.At(12, s.loc))
	h := mildew.Hours{
		T:     w.V[weather.Temp][from:to],
		RH:    w.V[weather.RH][from:to],
		Wind:  w.V[weather.Wind][from:to],
		Sun:   w.V[weather.Rad][from:to],
		Light: float32(set.Light),
	}
	if b.Shelter != garden.Tunnel {
		h.Rain = w.V[weather.Rain][from:to]
	}
	if set.Water == "overhead" {
		h.Water = make([]float32, to-from)
		if seven := 7; seven < len(h.Water) {
			h.Water[seven] = float32(usualWater.V)
		}
	}
	return h
}

// settingOn returns the standing facts of a bed at an instant: for each the last
// one stated by then.
func settingOn(b garden.Bed, t time.Time) garden.Setting {
	var out garden.Setting
	for _, s := range b.Settings {
		if s.From.After(t) {
			continue
		}
		if s.Water != "" {
			out.Water = s.Water
		}
		if s.Vents != "" {
			out.Vents = s.Vents
		}
		if s.Shade != 0 {
			out.Shade = s.Shade
		}
		if s.Light != 0 {
			out.Light = s.Light
		}
	}
	return out
}

// rainOf returns the rain of each local day from the given day up to today.
func (s *sky) rainOf(w *weather.Series, from garden.Day, days int) []float64 {
	out := make([]float64, days)
	for i := range out {
		a, b := w.Index((from+garden.Day(i)).At(0, s.loc)), w.Index((from+garden.Day(i)+1).At(0, s.loc))
		for j := max(a, 0); j < min(b, w.Len()); j++ {
			if r := float64(w.V[weather.Rain][j]); !math.IsNaN(r) {
				out[i] += r
			}
		}
	}
	return out
}
