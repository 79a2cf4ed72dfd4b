package work

import (
	"math"
	"time"

	"oidium/chance"
	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/mildew"
	"oidium/weather"
)

// sky is the weather of a morning: what was measured up to it, filled where
// there are holes, and scenarios of what may come.
type sky struct {
	site     garden.Site
	beds     []garden.Bed
	loc      *time.Location
	asOf     time.Time
	first    garden.Day        // first day covered
	today    garden.Day        // the morning
	knownTo  time.Time         // end of what is known, asOf at the latest
	known    *weather.Series   // outdoors, from the first midnight to knownTo
	ahead    []*weather.Series // outdoors, from today's midnight to the end of the last day ahead
	stations []instrument      // outdoors, as they were checked; the fullest last
	loggers  []instrument      // in beds
	station  weather.Station   // the fullest
	measured *weather.Series   // outdoors, all stations together; nil: nothing was measured
	climate  weather.Climate   // of the place, with what was measured here learned
	issued   []weather.Outlook // forecasts that the scenarios go around, in turn
	forecast string
	filled   []garden.Warning // what had to be filled in, one a quantity
	warnings []garden.Warning
}

// skyOf gathers the weather as known on the morning of day, from back days before
// it on, or for back 0 from the first planting that stands.
func skyOf(entries []ledger.Entry, day garden.Day, back, days, runs int) (*sky, *garden.Garden, error) {
	loc, asOf, err := instant(entries, day)
	if err != nil {
		return nil, nil, err
	}
	g, err := ledger.Fold(entries, asOf)
	if err != nil {
		return nil, nil, err
	}
	g.AsOf = asOf
	first := day - garden.Day(back)
	if back == 0 {
		plots, _ := plotsOf(g, day)
		for _, p := range plots {
			first = min(first, p.start)
		}
	}
	s, err := lookUp(entries, g, loc, asOf, first, days, runs)
	return s, g, err
}

func placeOf(g *garden.Garden, loc *time.Location) Place {
	return Place{
		Name: g.Site.Name, Invented: g.Site.Invented, Latitude: g.Site.Latitude, Longitude: g.Site.Longitude,
		Zone: loc.String(), Money: moneyOf(g.Site),
	}
}

// lookUp gathers the weather from the entries, from the midnight of first on, for
// the given number of days from today on in so many scenarios.
func lookUp(entries []ledger.Entry, g *garden.Garden, loc *time.Location, asOf time.Time, first garden.Day, days, runs int) (*sky, error) {
	out, err := ledger.WeatherAt(entries, asOf)
	if err != nil {
		return nil, err
	}
	site := g.Site
	s := &sky{site: site, beds: g.Beds, loc: loc, asOf: asOf, first: first, today: garden.DayOf(asOf.In(loc))}
	s.gather(out.Records)
	s.climate = weather.Coarse(site.Latitude, site.Altitude, site.Maritime)
	if s.measured != nil {
		s.climate = s.climate.Learn(weather.DaysOf(s.measured, site.Longitude), site.Latitude)
	}
	past := s.past(out.Forecasts)
	s.settle(past)
	s.gatherLoggers(out.Records)
	s.scenarios(past, out.Forecasts, days, runs)
	return s, nil
}

// begin is when a day begins in the hourly rows. These stand on full hours of UTC;
// where the clocks of the garden are half an hour or a quarter off, a day begins
// with the hour that its midnight falls in.
func (s *sky) begin(d garden.Day) time.Time { return d.At(0, s.loc).Truncate(time.Hour) }

// past returns what is known of the weather up to asOf before any hole is
// filled: what was measured, and where nothing was the last forecast made before
// the hour. nil: neither.
func (s *sky) past(issues []ledger.Issue) *weather.Series {
	var out *weather.Series
	lay := func(w *weather.Series) {
		switch {
		case w.Len() == 0:
		case out == nil:
			out = w
		default:
			out = weather.Join(out, w)
		}
	}
	for _, x := range issues { // by time of issue
		if x.Member <= 1 {
			lay(x.Series.Slice(x.Issued, s.asOf))
		}
	}
	if s.measured != nil {
		lay(s.measured.Slice(s.measured.Start, s.asOf))
	}
	return out
}

// settle makes the row of what is known outdoors, without holes.
func (s *sky) settle(past *weather.Series) {
	start := s.begin(s.first)
	raw := weather.NewSeries(start, int(s.asOf.Sub(start)/time.Hour))
	s.knownTo = s.asOf
	if past != nil {
		raw = weather.Join(raw, past).Slice(start, s.asOf)
	}
	if s.measured == nil {
		s.warn("no-weather", say("weather.none"))
	} else if seen := lastSeen(s.measured); s.asOf.Sub(seen) < 24*time.Hour {
		// What is known ends where measuring ended, when that was this morning: the
		// hours since then are drawn with those to come, not filled in.
		if midnight := s.begin(s.today); seen.Before(midnight) {
			seen = midnight
		}
		s.knownTo = seen
		raw = raw.Slice(start, seen)
	} else {
		s.warn("weather-ended", remark("ended", "when", seen.In(s.loc).Format("2006-01-02 15:04"), "n", int(s.asOf.Sub(seen)/(24*time.Hour))))
	}
	s.dampen(raw)
	known, closed := weather.Fill(raw, s.climate, s.site.Latitude, s.site.Longitude)
	s.known, s.filled = known, nil
	for _, x := range closed {
		s.filled = append(s.filled, s.closedWords(x))
	}
	if s.measured != nil && s.holes() > fewHoles {
		s.warnings = append(s.warnings, s.filled...)
	}
}

// dampen gives a humidity to hours that have a temperature and none of their
// own, on days on which it was not measured: that of the dew point which the
// day's lowest temperature and the dryness of the climate point to. It is nearer
// than the humidity of an ordinary day of the date.
func (s *sky) dampen(raw *weather.Series) {
	var days []weather.Daily
	for _, d := range weather.DaysOf(raw, s.site.Longitude) {
		if math.IsNaN(d.Dew) {
			days = append(days, d)
		}
	}
	made := weather.Hourly(days, s.climate, s.site.Latitude, s.site.Longitude, weather.Typical)
	for i := range made.Len() {
		k := raw.Index(made.Time(i))
		if k < 0 || k >= raw.Len() || raw.F[weather.RH][k] != weather.Missing || raw.F[weather.Temp][k] == weather.Missing || made.F[weather.RH][i] == weather.Missing {
			continue
		}
		e := weather.VapourPressure(float64(made.V[weather.Temp][i]), float64(made.V[weather.RH][i]))
		raw.Set(weather.RH, k, weather.RHFrom(float64(raw.V[weather.Temp][k]), e), weather.Typical)
	}
}

// scenarios draws what may come: around the forecasts in turn, from the weather
// of the place where there is none.
func (s *sky) scenarios(past *weather.Series, issues []ledger.Issue, days, runs int) {
	if past != nil {
		past = past.Slice(past.Start, s.knownTo) // a forecast of hours to come is no past
	}
	gen := weather.NewGenerator(s.climate, past, s.site.Latitude, s.site.Longitude)
	midnight, end := s.begin(s.today), s.begin(s.today+garden.Day(days))
	hours := int(end.Sub(s.knownTo.Truncate(time.Hour)) / time.Hour)
	s.issued = current(issues, s.asOf)
	s.forecast = say("weather.drawn")
	var around []*weather.Ahead
	for _, o := range s.issued {
		around = append(around, gen.Around(o, s.knownTo, hours))
	}
	if len(around) == 0 {
		around = append(around, gen.Around(weather.Outlook{}, s.knownTo, hours))
	} else {
		last := s.issued[len(s.issued)-1]
		s.forecast = say("weather.issued", "when", last.Issued.In(s.loc).Format("2006-01-02 15:04"), "origin", last.Origin)
	}
	for k := range runs {
		a := around[k%len(around)].Draw(s.stream(s.today, k))
		s.ahead = append(s.ahead, weather.Join(s.known.Slice(midnight, s.knownTo), a).Slice(midnight, end))
	}
}

// stream is the chance of scenario k of the morning of a day.
func (s *sky) stream(day garden.Day, k int) *chance.Stream {
	return chance.New(chance.Key{Garden: s.site.Seed, Season: day.Year(), Member: k, Process: chance.Weather, Day: int(day)})
}

// oldForecast is how long after its issue a forecast still counts.
const oldForecast = 48 * time.Hour

// current returns the forecasts that count at asOf: of each origin all members
// of the last issue that is not too old and reaches beyond asOf, the last issued
// last.
func current(issues []ledger.Issue, asOf time.Time) []weather.Outlook {
	last := make(map[string]time.Time)
	for _, x := range issues { // by time of issue
		if x.Series.End().After(asOf) && asOf.Sub(x.Issued) <= oldForecast {
			last[x.Origin] = x.Issued
		}
	}
	var out []weather.Outlook
	for _, x := range issues {
		if when, ok := last[x.Origin]; ok && x.Issued.Equal(when) && x.Series.End().After(asOf) {
			out = append(out, weather.Outlook{Issued: x.Issued, Origin: x.Origin, Series: x.Series})
		}
	}
	return out
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

func (s *sky) warn(code, text string) {
	s.warnings = append(s.warnings, garden.Warning{Code: code, Text: text})
}

// hoursOf returns one local day of a series as a mildew is fed it.
func (s *sky) hoursOf(w *weather.Series, b garden.Bed, d garden.Day) mildew.Hours {
	from, to := w.Index(s.begin(d)), w.Index(s.begin(d+1))
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
		a, b := w.Index(s.begin(from+garden.Day(i))), w.Index(s.begin(from+garden.Day(i)+1))
		for j := max(a, 0); j < min(b, w.Len()); j++ {
			if r := float64(w.V[weather.Rain][j]); !math.IsNaN(r) {
				out[i] += r
			}
		}
	}
	return out
}
