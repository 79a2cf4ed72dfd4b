package work

import (
	"math"
	"time"

	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/weather"
)

// weatherCheckVersion names the shape of [WeatherCheck].
const weatherCheckVersion = "oidium-weather-check-1"

// WeatherCheck is what quality control finds in the measured weather of a book.
type WeatherCheck struct {
	Version  string           `json:"version" enum:"oidium-weather-check-1" doc:"shape of this document"`
	Date     string           `json:"date" format:"date" doc:"the morning it is for"`
	AsOf     string           `json:"as_of" format:"date-time" doc:"nothing later than this instant was used"`
	Garden   Place            `json:"garden"`
	Headline string           `json:"headline" doc:"what there is and how good it is, in one sentence"`
	Records  []WeatherRecord  `json:"records" doc:"every station and logger, stations first"`
	Filled   []garden.Warning `json:"filled" doc:"what the round had to fill in since the first planting, one a quantity"`
	Warnings []garden.Warning `json:"warnings" doc:"what limits these answers"`
}

// WeatherRecord is one station or logger.
type WeatherRecord struct {
	Station    string            `json:"station"`
	Bed        garden.BedID      `json:"bed,omitempty" doc:"the bed a logger is in; absent outdoors"`
	BedName    string            `json:"bed_name,omitempty"`
	Origin     string            `json:"origin,omitempty" doc:"who measured it, and on what terms it may be used"`
	From       string            `json:"from" format:"date-time" doc:"start of the first hour"`
	To         string            `json:"to" format:"date-time" doc:"end of the last hour"`
	Hours      int               `json:"hours" doc:"hours from the first to the last"`
	Quantities []WeatherQuantity `json:"quantities" doc:"what was measured, hour by hour"`
	Findings   []WeatherFinding  `json:"findings" doc:"what is wrong or doubtful, one of a kind and quantity"`
	SetAside   int               `json:"set_aside_hours" doc:"values that the round does not use because the sensor stood still for days"`
}

// WeatherQuantity counts the hours of one quantity of a record.
type WeatherQuantity struct {
	What     string `json:"what" enum:"temperature,humidity,wind,rain,radiation"`
	Measured int    `json:"measured" doc:"hours read off an instrument and believed"`
	Derived  int    `json:"derived" doc:"hours worked out from other readings"`
	Doubtful int    `json:"doubtful" doc:"hours kept but doubted"`
	Forecast int    `json:"forecast" doc:"hours that are a forecast"`
	Missing  int    `json:"missing" doc:"hours without a value; all of them where the record has no such instrument"`
}

// WeatherFinding is something quality control has to say.
type WeatherFinding struct {
	Kind  string  `json:"kind" enum:"out-of-range,spike,stuck,gap,too-bright,clock,sun-heated,no-rain" doc:"what kind of thing"`
	What  string  `json:"what" enum:"temperature,humidity,wind,rain,radiation" doc:"the quantity"`
	From  string  `json:"from" format:"date-time" doc:"where it first is"`
	Times int     `json:"times" doc:"stretches of it"`
	Hours int     `json:"hours" doc:"hours touched, all stretches together"`
	Value float64 `json:"value" doc:"the first value taken out, the largest jump in K, hours the clock is fast, or K too warm in full sun"`
	Done  string  `json:"done" enum:"taken out,kept,set aside,filled,nothing" doc:"what the program did: taken out before use, kept and marked doubtful, set aside after days, filled in, or nothing but to say so"`
	Text  string  `json:"text" doc:"the same in words, with what to do"`
}

// CheckWeather gives the report of quality control on the morning of day.
func CheckWeather(entries []ledger.Entry, day garden.Day) (*WeatherCheck, error) {
	s, g, err := skyOf(entries, day, 0, 1, 1)
	if err != nil {
		return nil, err
	}
	r := &WeatherCheck{Version: weatherCheckVersion, Date: day.String(), AsOf: s.asOf.Format(time.RFC3339), Garden: placeOf(g, s.loc)}
	for _, in := range s.stations {
		r.Records = append(r.Records, recordOf(in, s))
	}
	for _, in := range s.loggers {
		r.Records = append(r.Records, recordOf(in, s))
	}
	if s.measured != nil && s.holes() > fewHoles {
		r.Filled = append(r.Filled, s.filled...)
	}
	r.Headline = r.headline()
	r.Warnings = g.Warnings
	full(&r.Records)
	full(&r.Filled)
	full(&r.Warnings)
	return r, nil
}

func (r *WeatherCheck) headline() string {
	if len(r.Records) == 0 {
		return remark("check.none")
	}
	n := 0
	for _, rec := range r.Records {
		n += len(rec.Findings)
	}
	if n == 0 {
		return remark("check.clean", "n", len(r.Records))
	}
	return remark("check.found", "n", len(r.Records), "found", n)
}

func recordOf(in instrument, s *sky) WeatherRecord {
	out := WeatherRecord{
		Station: in.station.Name, Bed: in.bed, Origin: termsOf(in.station.Origin, in.station.Licence),
		From: in.series.Start.In(s.loc).Format(time.RFC3339), To: in.series.End().In(s.loc).Format(time.RFC3339),
		Hours: in.series.Len(), Findings: findings(in, s.loc), SetAside: in.away,
	}
	if b, ok := s.bed(in.bed); ok {
		out.BedName = nameOf(b)
	}
	for v := range weather.Var(weather.NVars) {
		n := in.series.Count(v)
		out.Quantities = append(out.Quantities, WeatherQuantity{
			What: v.String(), Measured: n[weather.Measured], Derived: n[weather.Derived],
			Doubtful: n[weather.Doubtful], Missing: n[weather.Missing] + n[weather.Filled],
		})
	}
	full(&out.Findings)
	return out
}

// findings gathers what quality control found by kind and quantity, in the order
// in which it was found, in the garden's own time.
func findings(in instrument, loc *time.Location) []WeatherFinding {
	type key struct {
		kind weather.Kind
		v    weather.Var
	}
	at := make(map[key]int)
	var out []WeatherFinding
	var worst []weather.Finding // the longest stretch of each, of spikes the largest
	for _, f := range in.quality.Findings {
		k := key{f.Kind, f.Var}
		i, ok := at[k]
		if !ok {
			i = len(out)
			at[k] = i
			out = append(out, WeatherFinding{Kind: string(f.Kind), What: f.Var.String(), From: f.From.In(loc).Format(time.RFC3339), Value: round3(f.Value)})
			worst = append(worst, f)
		}
		out[i].Times++
		out[i].Hours += f.Hours
		if f.Hours > worst[i].Hours || f.Kind == weather.Spike && math.Abs(f.Value) > math.Abs(worst[i].Value) {
			worst[i] = f
		}
	}
	for i := range out {
		if worst[i].Kind == weather.Spike {
			out[i].Value = round3(worst[i].Value)
		}
		out[i].Done, out[i].Text = found(out[i], worst[i], in, loc)
	}
	return out
}

// found says what was done about a finding, and the whole of it in words.
func found(f WeatherFinding, worst weather.Finding, in instrument, loc *time.Location) (done, text string) {
	hour := func(t time.Time) string { return t.In(loc).Format("2006-01-02 15:04") }
	day := func(t time.Time) string { return t.In(loc).Format(time.DateOnly) }
	first := f.From[:10]
	switch worst.Kind {
	case weather.OutOfRange:
		return "taken out", remark("check.range", "what", f.What, "n", f.Hours, "first", first, "value", short(f.Value))
	case weather.TooBright:
		return "taken out", remark("check.bright", "n", f.Hours, "first", first, "value", math.Round(f.Value))
	case weather.Spike:
		return "kept", remark("check.spike", "n", f.Times, "when", hour(worst.From), "value", short(math.Abs(worst.Value)))
	case weather.Stuck:
		done = "kept"
		text = remark("check.stuck", "what", f.What, "n", f.Hours, "longest", worst.Hours, "from", hour(worst.From), "value", short(worst.Value))
		if in.away > 0 {
			return "set aside", text + " " + remark("check.stuck.away", "n", int(stuckHours.V))
		}
		return done, text + " " + remark("check.kept")
	case weather.Gap:
		return "filled", remark("check.gap", "what", f.What, "n", f.Hours, "longest", worst.Hours, "from", hour(worst.From))
	case weather.Clock:
		word, off := remark("check.fast"), f.Value
		if off < 0 {
			word, off = remark("check.slow"), -off
		}
		text = remark("check.clock", "off", short(off), "way", word, "from", first, "to", day(worst.From.Add(time.Duration(worst.Hours)*time.Hour)))
		if math.Abs(off-1) < summerSlack {
			return "nothing", text + " " + remark("check.clock.summer")
		}
		return "nothing", text + " " + remark("check.clock.set")
	case weather.SunHeated:
		return "nothing", remark("check.sun", "value", short(f.Value))
	case weather.NoRain:
		return "nothing", remark("check.dry", "n", worst.Hours/24, "from", day(worst.From))
	}
	return "nothing", f.Kind
}

// summerSlack is how near to an hour an error of the clock must be, in hours, to
// look like summer time: numerical.
const summerSlack = 0.35
