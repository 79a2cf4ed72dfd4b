package work

import (
	"fmt"
	"math"
	"time"

	"oidium/belief"
	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/weather"
)

// weatherShowVersion names the shape of [WeatherShow].
const weatherShowVersion = "oidium-weather-show-1"

// WeatherShow is the weather of a garden or a bed by day, behind and ahead.
type WeatherShow struct {
	Version  string           `json:"version" enum:"oidium-weather-show-1" doc:"shape of this document"`
	Date     string           `json:"date" format:"date" doc:"the morning it is for"`
	AsOf     string           `json:"as_of" format:"date-time" doc:"nothing later than this instant was used"`
	Garden   Place            `json:"garden"`
	Bed      garden.BedID     `json:"bed,omitempty" doc:"the bed it is for; absent: outdoors"`
	BedName  string           `json:"bed_name,omitempty"`
	Inside   string           `json:"inside,omitempty" enum:"model,logger" doc:"where the climate in the bed comes from; absent where it is that of outdoors"`
	Behind   []WeatherDay     `json:"behind" doc:"the days before, by the sun's clock of the place"`
	Ahead    []WeatherDay     `json:"ahead" doc:"today and the days to come, each number with its band over the scenarios"`
	Forecast string           `json:"forecast" doc:"what the days ahead are made of"`
	Origin   string           `json:"origin,omitempty" doc:"origin and licence of the measured data"`
	Rule     string           `json:"wetness_rule" doc:"when an hour counts as wet"`
	Warnings []garden.Warning `json:"warnings" doc:"what limits these answers"`
	Assumed  []Assumption     `json:"assumed" doc:"what stands behind these numbers and is an assumption"`
}

// WeatherDay is one day.
type WeatherDay struct {
	Date      string    `json:"date" format:"date"`
	Made      string    `json:"made" enum:"measured,mixed,filled,forecast,drawn" doc:"measured: every hour's temperature rests on a reading; mixed: some hours do; filled: none does, it is from forecasts of that time or the climate; forecast: scenarios around a forecast; drawn: scenarios from the climate of the place"`
	Measured  int       `json:"measured_hours" doc:"hours whose temperature rests on a reading"`
	DayLength float64   `json:"day_length_h" doc:"hours of sun above a flat horizon, 0 in a polar night and 24 on a polar day"`
	Rain      *Band     `json:"rain_mm,omitempty"`
	Radiation *Band     `json:"radiation_mj_m2,omitempty" doc:"global radiation outdoors, MJ/m2"`
	ET0       *Band     `json:"et0_mm,omitempty" doc:"water use of short grass outdoors, mm"`
	Out       AirOfDay  `json:"outdoors"`
	In        *AirOfDay `json:"in_bed,omitempty" doc:"the same in the bed, where it has a climate of its own"`
}

// AirOfDay is the air of a day. What is not known is absent; low, mid and high
// are the same where nothing is uncertain.
type AirOfDay struct {
	Tmin     *Band `json:"tmin_c,omitempty"`
	Tmax     *Band `json:"tmax_c,omitempty"`
	Mean     *Band `json:"mean_c,omitempty"`
	RHMin    *Band `json:"rh_min,omitempty" doc:"%"`
	RHMax    *Band `json:"rh_max,omitempty" doc:"%"`
	VPD      *Band `json:"vpd_kpa,omitempty" doc:"how strongly the air dries, mean of the day"`
	VPDMax   *Band `json:"vpd_max_kpa,omitempty"`
	WetHours *Band `json:"wet_hours,omitempty" doc:"hours in which leaves are wet"`
	LeafMax  *Band `json:"leaf_max_c,omitempty" doc:"warmest hour of a leaf on top of the canopy"`
	DewHours *Band `json:"dew_hours,omitempty" doc:"hours in which such a leaf is below the dew point"`
}

// WeatherOptions say what of the weather is shown.
type WeatherOptions struct {
	Day     garden.Day
	Bed     garden.BedID // "" outdoors
	Back    int          // days before today; 0 means 7
	Ahead   int          // days from today on; 0 means 7
	Wetness weather.Wetness
}

// ShowWeather gives the weather on the morning of o.Day.
func ShowWeather(entries []ledger.Entry, o WeatherOptions) (*WeatherShow, error) {
	if o.Back <= 0 {
		o.Back = 7
	}
	if o.Ahead <= 0 {
		o.Ahead = 7
	}
	// A day more on either side, so that days by the sun's clock are whole.
	s, g, err := skyOf(entries, o.Day, o.Back+1, o.Ahead+1, aheadRuns)
	if err != nil {
		return nil, err
	}
	out := &WeatherShow{
		Version: weatherShowVersion, Date: o.Day.String(), AsOf: s.asOf.Format(time.RFC3339), Garden: placeOf(g, s.loc),
		Forecast: s.forecast, Rule: ruleOf(o.Wetness), Warnings: s.warnings,
	}
	if s.measured != nil {
		out.Origin = originOf(s.station)
	}
	show := &shower{s: s, o: o, outdoors: s.whole(inBed{known: s.known, ahead: s.ahead})}
	if o.Bed != "" {
		if err := bedThere(g, o.Bed); err != nil {
			return nil, err
		}
		b, _ := s.bed(o.Bed)
		out.Bed, out.BedName = b.ID, nameOf(b)
		logger := s.ownLogger(b.ID) != nil
		switch {
		case logger:
			out.Inside = "logger"
		case b.Shelter == garden.Tunnel:
			out.Inside = "model"
		}
		if out.Inside != "" {
			show.inside = s.whole(s.at(b, g.Site))
		}
	}
	for d := o.Day - garden.Day(o.Back); d < o.Day+garden.Day(o.Ahead); d++ {
		day := show.day(d)
		if d < o.Day {
			out.Behind = append(out.Behind, day)
		} else {
			out.Ahead = append(out.Ahead, day)
		}
	}
	out.assume()
	full(&out.Behind)
	full(&out.Ahead)
	full(&out.Warnings)
	full(&out.Assumed)
	return out, nil
}

// ruleOf says when an hour counts as wet.
func ruleOf(w weather.Wetness) string {
	rain, rh := 0.2, 90.0 // the defaults of weather.Wetness
	if w.Rain > 0 {
		rain = w.Rain
	}
	if w.RH > 0 {
		rh = w.RH
	}
	if w.Calm {
		return remark("show.rule.calm", "rain", short(rain), "rh", short(rh))
	}
	return remark("show.rule", "rain", short(rain), "rh", short(rh))
}

// whole joins what is known to each scenario, so that every day has all its hours.
func (s *sky) whole(w inBed) []*weather.Series {
	out := make([]*weather.Series, len(w.ahead))
	for k, a := range w.ahead {
		out[k] = weather.Join(w.known, a)
	}
	return out
}

// shower sums up days of scenarios.
type shower struct {
	s                *sky
	o                WeatherOptions
	outdoors, inside []*weather.Series
	daysOut, daysIn  [][]weather.DaySummary // by scenario
}

func (w *shower) summaries(of []*weather.Series) [][]weather.DaySummary {
	out := make([][]weather.DaySummary, len(of))
	for k, s := range of {
		out[k] = weather.Summarise(s, w.s.site.Latitude, w.s.site.Longitude, w.s.site.Altitude, w.o.Wetness)
	}
	return out
}

// pick returns the summaries of a date over the scenarios.
func pick(days [][]weather.DaySummary, d garden.Day) []weather.DaySummary {
	var out []weather.DaySummary
	for _, list := range days {
		for _, x := range list {
			if x.Date == d {
				out = append(out, x)
			}
		}
	}
	return out
}

func (w *shower) day(d garden.Day) WeatherDay {
	if w.daysOut == nil {
		w.daysOut = w.summaries(w.outdoors)
		w.daysIn = w.summaries(w.inside)
	}
	here := pick(w.daysOut, d)
	out := WeatherDay{Date: d.String(), Made: "drawn", Out: airOf(here)}
	if len(here) > 0 {
		x := here[0]
		out.DayLength = round3(x.DayLength)
		out.Measured = x.Seen[weather.Temp]
	}
	out.Made = w.made(d, out.Measured)
	out.Rain = bandOver(here, func(x weather.DaySummary) float64 { return x.Rain })
	out.Radiation = bandOver(here, func(x weather.DaySummary) float64 { return x.Rad })
	out.ET0 = bandOver(here, func(x weather.DaySummary) float64 { return x.ET0 })
	if len(w.daysIn) > 0 {
		in := airOf(pick(w.daysIn, d))
		out.In = &in
	}
	return out
}

// made tells what a day is made of.
func (w *shower) made(d garden.Day, measured int) string {
	if d < w.s.today {
		switch {
		case measured == 0:
			return "filled"
		case measured < 23: // the day the clock is put forward has 23 hours
			return "mixed"
		}
		return "measured"
	}
	noon := d.At(12, w.s.loc)
	for _, o := range w.s.issued {
		if k := o.Series.Index(noon); k >= 0 && k < o.Series.Len() && o.Series.F[weather.Temp][k] != weather.Missing {
			return "forecast"
		}
	}
	return "drawn"
}

func airOf(days []weather.DaySummary) AirOfDay {
	of := func(f func(weather.DaySummary) float64) *Band { return bandOver(days, f) }
	return AirOfDay{
		Tmin: of(func(x weather.DaySummary) float64 { return x.Tmin }), Tmax: of(func(x weather.DaySummary) float64 { return x.Tmax }),
		Mean:  of(func(x weather.DaySummary) float64 { return x.Mean }),
		RHMin: of(func(x weather.DaySummary) float64 { return x.RHMin }), RHMax: of(func(x weather.DaySummary) float64 { return x.RHMax }),
		VPD: of(func(x weather.DaySummary) float64 { return x.VPD }), VPDMax: of(func(x weather.DaySummary) float64 { return x.VPDMax }),
		WetHours: of(func(x weather.DaySummary) float64 { return float64(x.WetHours) }),
		LeafMax:  of(func(x weather.DaySummary) float64 { return x.LeafMax }),
		DewHours: of(func(x weather.DaySummary) float64 { return float64(x.DewHours) }),
	}
}

// bandOver is the band of a number of a day over the scenarios, nil where it is
// known in none of them.
func bandOver(days []weather.DaySummary, f func(weather.DaySummary) float64) *Band {
	var x, even []float64
	for _, d := range days {
		if v := f(d); !math.IsNaN(v) && !math.IsInf(v, 0) {
			x, even = append(x, v), append(even, 1)
		}
	}
	if len(x) == 0 {
		return nil
	}
	b := band(belief.BandOf(x, even))
	return &b
}

// assume lists the assumptions that bear on what is shown.
func (out *WeatherShow) assume() {
	if out.Inside == "model" {
		out.Assumed = append(out.Assumed, Assumption{What: remark("show.tunnel"), Value: remark("show.tunnel.value"), Source: "assumption", Grade: "C"})
	}
	out.Assumed = append(out.Assumed, Assumption{What: remark("show.leaf"), Value: remark("show.leaf.value"), Source: "campbell-norman-1998", Grade: "C"})
}

// short prints a number to three significant digits.
func short(x float64) string { return fmt.Sprintf("%g", round3(x)) }
