package work

import (
	"math"
	"slices"
	"time"

	"oidium/belief"
	"oidium/cite"
	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/weather"
)

// weatherScoreVersion names the shape of [WeatherScore].
const weatherScoreVersion = "oidium-weather-score-1"

// WeatherScore holds kept forecasts against what was measured later.
type WeatherScore struct {
	Version  string           `json:"version" enum:"oidium-weather-score-1" doc:"shape of this document"`
	Date     string           `json:"date" format:"date" doc:"the morning it is for"`
	AsOf     string           `json:"as_of" format:"date-time" doc:"nothing later than this instant was used"`
	Garden   Place            `json:"garden"`
	Headline string           `json:"headline"`
	Origins  []ForecastOrigin `json:"origins" doc:"who issued the forecasts"`
	Warnings []garden.Warning `json:"warnings" doc:"what limits these answers"`
	Sources  []cite.Source    `json:"sources"`
}

// ForecastOrigin is one issuer of forecasts and how it did.
type ForecastOrigin struct {
	Origin string         `json:"origin" doc:"who issued them, and on what terms they may be used"`
	Issues int            `json:"issues" doc:"forecasts kept"`
	Days   []ScoreOfDays  `json:"days" doc:"the day's numbers, by quantity and lead: what the round's scenarios made of the forecast"`
	Hours  []ScoreOfHours `json:"hours" doc:"the forecast's own hours, by quantity and lead"`
}

// ScoreOfDays scores the scenarios around forecasts of one quantity at one lead.
type ScoreOfDays struct {
	What     string  `json:"what" enum:"tmax,tmin,rh,rain" doc:"highest and lowest temperature, mean humidity, rain of a day"`
	Unit     string  `json:"unit" enum:"K,points,mm"`
	Lead     int     `json:"lead_days" doc:"0: the day of the issue"`
	N        int     `json:"n" doc:"days compared"`
	Bias     float64 `json:"bias" doc:"mean of the scenarios less measured; positive: too warm, damp or wet"`
	Error    float64 `json:"mean_abs_error" doc:"of the mean of the scenarios"`
	Spread   float64 `json:"spread" doc:"standard deviation of the scenarios"`
	Coverage float64 `json:"coverage" doc:"share of days inside the band that should hold 8 of 10"`
	CRPS     float64 `json:"crps" doc:"continuous ranked probability score, in the unit; smaller is better"`
	Without  float64 `json:"crps_without_forecast" doc:"the same of scenarios drawn from the climate and the last weeks measured"`
}

// ScoreOfHours scores the hours of forecasts as they were issued.
type ScoreOfHours struct {
	What  string  `json:"what" enum:"temperature,humidity,wind,rain,radiation"`
	Lead  int     `json:"lead_days"`
	N     int     `json:"n" doc:"hours compared"`
	Bias  float64 `json:"bias" doc:"forecast less measured"`
	Error float64 `json:"mean_abs_error"`
}

// Sizes of the scoring: numerical.
const (
	scoreRuns  = 40 // scenarios around a forecast
	scoreLeads = 10 // days of lead
)

// scored are the numbers of a day that are scored.
var scored = []struct {
	what, unit string
	v          weather.Var // that must have been measured
	of         func(weather.DaySummary) float64
}{
	{"tmax", "K", weather.Temp, func(d weather.DaySummary) float64 { return d.Tmax }},
	{"tmin", "K", weather.Temp, func(d weather.DaySummary) float64 { return d.Tmin }},
	{"rh", "points", weather.RH, func(d weather.DaySummary) float64 { return (d.RHMin + d.RHMax) / 2 }},
	{"rain", "mm", weather.Rain, func(d weather.DaySummary) float64 { return d.Rain }},
}

// ScoreForecasts holds the forecasts in the book against what was measured up to
// the morning of day. Each is scored as the round used it: as scenarios drawn
// around it with what was known when it was issued, beside scenarios drawn
// without any forecast.
func ScoreForecasts(entries []ledger.Entry, day garden.Day) (*WeatherScore, error) {
	s, g, err := skyOf(entries, day, 1, 1, 1)
	if err != nil {
		return nil, err
	}
	all, err := ledger.WeatherAt(entries, s.asOf)
	if err != nil {
		return nil, err
	}
	out := &WeatherScore{Version: weatherScoreVersion, Date: day.String(), AsOf: s.asOf.Format(time.RFC3339), Garden: placeOf(g, s.loc)}
	by := make(map[string][]weather.Outlook)
	var names []string
	for _, x := range all.Forecasts { // by time of issue
		if by[x.Origin] == nil {
			names = append(names, x.Origin)
		}
		by[x.Origin] = append(by[x.Origin], weather.Outlook{Issued: x.Issued, Origin: x.Origin, Series: x.Series})
	}
	slices.Sort(names)
	for _, name := range names {
		o := ForecastOrigin{Origin: name, Issues: len(by[name])}
		if s.measured != nil {
			o.Days = s.scoreDays(by[name])
			for _, k := range weather.Verify(by[name], s.measured) {
				o.Hours = append(o.Hours, ScoreOfHours{What: k.Var.String(), Lead: k.Lead, N: k.N, Bias: round3(k.Bias), Error: round3(k.MAE)})
			}
		}
		full(&o.Days)
		full(&o.Hours)
		out.Origins = append(out.Origins, o)
	}
	out.headline(s)
	for _, c := range cite.All() {
		if c.ID == "gneiting-raftery-2007" {
			out.Sources = append(out.Sources, c)
		}
	}
	full(&out.Origins)
	full(&out.Warnings)
	full(&out.Sources)
	return out, nil
}

func (out *WeatherScore) headline(s *sky) {
	n := 0
	for _, o := range out.Origins {
		for _, d := range o.Days {
			n = max(n, d.N)
		}
	}
	switch {
	case len(out.Origins) == 0:
		out.Headline = remark("score.none")
	case s.measured == nil:
		out.Headline = remark("score.unmeasured")
	case n == 0:
		out.Headline = remark("score.early")
	default:
		out.Headline = remark("score.done", "n", n)
	}
	if n > 0 && n < 20 {
		out.Warnings = append(out.Warnings, garden.Warning{Code: "few-days", Text: remark("score.few")})
	}
}

// tallied gathers the scores of one quantity and lead.
type tallied struct {
	n                                    int
	bias, abs, sd, inside, crps, without float64
}

// scoreDays scores scenarios around each forecast.
func (s *sky) scoreDays(outlooks []weather.Outlook) []ScoreOfDays {
	truth := make(map[garden.Day]weather.DaySummary)
	for _, d := range s.summarise(s.measured) {
		truth[d.Date] = d
	}
	sums := make([][scoreLeads]tallied, len(scored))
	for _, o := range outlooks {
		past := s.measured.Slice(s.measured.Start, o.Issued)
		climate := weather.Coarse(s.site.Latitude, s.site.Altitude, s.site.Maritime).Learn(weather.DaysOf(past, s.site.Longitude), s.site.Latitude)
		gen := weather.NewGenerator(climate, past, s.site.Latitude, s.site.Longitude)
		from := o.Issued.UTC().Truncate(time.Hour)
		hours := min(int(o.Series.End().Sub(from)/time.Hour), (scoreLeads+1)*24)
		if hours <= 0 {
			continue
		}
		with := s.drawDays(gen.Around(o, from, hours), o.Issued)
		without := s.drawDays(gen.Around(weather.Outlook{}, from, hours), o.Issued)
		for q, k := range scored {
			for lead := range scoreLeads {
				d := garden.DayOf(o.Issued.In(s.loc)) + garden.Day(lead)
				t, ok := truth[d]
				if begun := d.At(1, s.loc).Before(o.Issued); begun { // part of it was over
					continue
				}
				if !ok || t.Seen[k.v] < 20 { // hours of the day
					continue
				}
				y := k.of(t)
				x, w := valuesOf(with, d, k.of), valuesOf(without, d, k.of)
				if len(x) == 0 || len(w) == 0 || math.IsNaN(y) {
					continue
				}
				sums[q][lead].add(x, w, y)
			}
		}
	}
	var out []ScoreOfDays
	for q, k := range scored {
		for lead, t := range sums[q] {
			if t.n == 0 {
				continue
			}
			n := float64(t.n)
			out = append(out, ScoreOfDays{
				What: k.what, Unit: k.unit, Lead: lead, N: t.n,
				Bias: round3(t.bias / n), Error: round3(t.abs / n), Spread: round3(t.sd / n),
				Coverage: round3(t.inside / n), CRPS: round3(t.crps / n), Without: round3(t.without / n),
			})
		}
	}
	return out
}

func (s *sky) summarise(w *weather.Series) []weather.DaySummary {
	return weather.Summarise(w, s.site.Latitude, s.site.Longitude, s.site.Altitude, weather.Wetness{})
}

// drawDays draws scenarios and sums up their days.
func (s *sky) drawDays(a *weather.Ahead, issued time.Time) [][]weather.DaySummary {
	out := make([][]weather.DaySummary, scoreRuns)
	for k := range out {
		out[k] = s.summarise(a.Draw(s.stream(garden.DayOf(issued.In(s.loc)), k)))
	}
	return out
}

func valuesOf(days [][]weather.DaySummary, d garden.Day, of func(weather.DaySummary) float64) []float64 {
	var out []float64
	for _, x := range pick(days, d) {
		if v := of(x); !math.IsNaN(v) && !math.IsInf(v, 0) {
			out = append(out, v)
		}
	}
	return out
}

// add scores scenarios x, and w without a forecast, on what came, y.
func (t *tallied) add(x, w []float64, y float64) {
	even := make([]float64, len(x))
	mean := 0.0
	for i, v := range x {
		even[i] = 1
		mean += v / float64(len(x))
	}
	dev := 0.0
	for _, v := range x {
		dev += (v - mean) * (v - mean) / float64(len(x))
	}
	b := belief.BandOf(x, even)
	t.n++
	t.bias += mean - y
	t.abs += math.Abs(mean - y)
	t.sd += math.Sqrt(dev)
	if y >= b.Low && y <= b.High {
		t.inside++
	}
	t.crps += crps(x, y)
	t.without += crps(w, y)
}

// crps is the continuous ranked probability score of an ensemble x on the
// outcome y (gneiting-raftery-2007, eq. 20 and 21), with the mean difference of
// the members taken over pairs of two:
//
//	CRPS = E|X − y| − E|X − X′| / 2
func crps(x []float64, y float64) float64 {
	x = slices.Clone(x)
	slices.Sort(x)
	n := float64(len(x))
	off, apart := 0.0, 0.0
	for i, v := range x {
		off += math.Abs(v - y)
		apart += v * (2*float64(i) + 1 - n) // half the sum of all |x − x′|
	}
	if n < 2 {
		return off / n
	}
	return off/n - apart/(n*(n-1))
}
