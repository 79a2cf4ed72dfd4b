package work

import (
	"fmt"
	"io"
	"math"
	"time"

	"oidium/cite"
	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/sun"
	"oidium/weather"
	"oidium/weather/read"
)

// weatherPlaceVersion names the shape of [WeatherPlace].
const weatherPlaceVersion = "oidium-weather-place-1"

// WeatherPlace is what the months of a place are like, with how well that is
// known: from latitude, altitude and a word on the sea where nothing was measured.
type WeatherPlace struct {
	Version  string           `json:"version" enum:"oidium-weather-place-1" doc:"shape of this document"`
	Date     string           `json:"date" format:"date" doc:"what was measured before this morning is used"`
	Garden   Place            `json:"garden"`
	Altitude float64          `json:"altitude_m"`
	Maritime bool             `json:"maritime" doc:"whether a sea is taken to temper the year"`
	Days     int              `json:"days" doc:"days measured here that went into it"`
	Typical  int              `json:"typical_days" doc:"days of a typical year that went into it"`
	Grade    cite.Grade       `json:"grade" doc:"C: an assumption from latitude and altitude; calc: mostly from days measured here"`
	Says     string           `json:"says" doc:"what it rests on, in one sentence"`
	Months   []MonthOfPlace   `json:"months" doc:"twelve, January first"`
	Better   []string         `json:"better" doc:"what would make it better, the most useful first"`
	Warnings []garden.Warning `json:"warnings" doc:"what limits these answers"`
	Sources  []cite.Source    `json:"sources" doc:"the sources behind it"`
}

// MonthOfPlace is one month: means, in bands in which the mean of the place is
// thought to lie 8 times in 10.
type MonthOfPlace struct {
	Month     int     `json:"month" doc:"1 to 12"`
	Tmin      Band    `json:"tmin_c" doc:"mean of the daily lowest"`
	Tmax      Band    `json:"tmax_c" doc:"mean of the daily highest"`
	RHDawn    Band    `json:"rh_dawn" doc:"humidity when the night is coldest, %"`
	RHNoon    Band    `json:"rh_afternoon" doc:"humidity when the day is warmest, %"`
	WetDays   Band    `json:"wet_days" doc:"days with at least 0.2 mm"`
	Rain      Band    `json:"rain_mm" doc:"sum of the month"`
	Radiation Band    `json:"radiation_mj_m2" doc:"mean of a day"`
	ClearDay  float64 `json:"clear_day_mj_m2" doc:"what a real clear day in mid month brings"`
	Wind      Band    `json:"wind_m_s" doc:"mean at 2 m"`
	DayLength float64 `json:"day_length_h" doc:"in mid month, hours of sun above a flat horizon"`
	Light     string  `json:"light" enum:"day and night,polar day,polar night" doc:"in mid month"`
	Rise      string  `json:"sunrise,omitempty" format:"date-time" doc:"in mid month; absent where the sun does not rise or set"`
	Set       string  `json:"sunset,omitempty" format:"date-time"`
}

// Where is a place given by hand, for somebody who has no book yet.
type Where struct {
	Latitude, Longitude, Altitude float64
	Maritime                      bool
}

// DescribePlace gives the climate of the garden as known on the morning of day,
// or of the place w where it is not nil. typical is a typical year (EPW) of
// somewhere near, or nil.
func DescribePlace(entries []ledger.Entry, day garden.Day, w *Where, typical io.Reader) (*WeatherPlace, error) {
	if w != nil {
		entries = nil
	}
	s, g, err := skyOf(entries, day, 1, 1, 1)
	if err != nil {
		return nil, err
	}
	out := &WeatherPlace{Version: weatherPlaceVersion, Date: day.String()}
	climate := s.climate
	if w != nil {
		if !(math.Abs(w.Latitude) <= 90 && math.Abs(w.Longitude) <= 180) {
			return nil, fmt.Errorf("latitude %g and longitude %g are no place; latitude is from -90 to 90, longitude from -180 to 180, south and west negative", w.Latitude, w.Longitude)
		}
		g.Site.Latitude, g.Site.Longitude, g.Site.Altitude, g.Site.Maritime = w.Latitude, w.Longitude, w.Altitude, w.Maritime
		climate = weather.Coarse(w.Latitude, w.Altitude, w.Maritime)
	} else if g.Site.Latitude == 0 && g.Site.Longitude == 0 {
		return nil, fmt.Errorf("the book does not say where the garden is; enter a site, or give the place: --at LATITUDE,LONGITUDE,ALTITUDE")
	}
	out.Garden = placeOf(g, s.loc)
	out.Altitude, out.Maritime = g.Site.Altitude, g.Site.Maritime
	out.Days = climate.Days
	if typical != nil {
		if climate, err = out.learnTypical(climate, g.Site, typical); err != nil {
			return nil, err
		}
	}
	out.Grade = climate.Grade
	out.Says = out.says()
	for k := range climate.Months {
		out.Months = append(out.Months, monthOf(climate, k, day.Year(), g.Site, s.loc))
	}
	out.Better = out.better(s)
	for _, c := range cite.All() {
		switch c.ID {
		case "assumption", "richardson-1981", "fao-56", "meeus-1998":
			out.Sources = append(out.Sources, c)
		}
	}
	full(&out.Better)
	full(&out.Warnings)
	full(&out.Sources)
	return out, nil
}

// learnTypical lets the climate learn from a typical year.
func (out *WeatherPlace) learnTypical(c weather.Climate, site garden.Site, r io.Reader) (weather.Climate, error) {
	st, s, rep, err := read.EPW(r, plainYear)
	if err != nil {
		return c, err
	}
	days := weather.DaysOf(s, st.Longitude)
	out.Typical = len(days)
	if far := apart(site.Latitude, site.Longitude, st.Latitude, st.Longitude); far > nearKm.V {
		out.Warnings = append(out.Warnings, garden.Warning{Code: "typical-far", Text: remark("place.far", "name", st.Name, "km", math.Round(far))})
	}
	if rep.BadTotal > 0 {
		out.Warnings = append(out.Warnings, garden.Warning{Code: "typical-rows", Text: remark("place.rows", "n", rep.BadTotal)})
	}
	out.Warnings = append(out.Warnings, garden.Warning{Code: "typical-untried", Text: remark("place.untried")})
	// A typical year says what days are like but is one year; the doubt that
	// days measured on the spot would leave is too small for it.
	before := c
	c = c.Learn(days, site.Latitude)
	for k := range c.Own {
		c.Own[k] = widest(c.DoubtOf(k), before.DoubtOf(k))
	}
	c.Doubt = weather.Doubt{}
	c.Grade = cite.C
	return c, nil
}

// plainYear is a year without a leap day, for files without a year.
const plainYear = 2001

// widest keeps at least half of the doubt there was.
func widest(now, before weather.Doubt) weather.Doubt {
	half := func(a, b float64) float64 { return math.Max(a, b/2) }
	return weather.Doubt{
		Temp: half(now.Temp, before.Temp), Range: half(now.Range, before.Range), Dry: half(now.Dry, before.Dry),
		Wet: half(now.Wet, before.Wet), Share: half(now.Share, before.Share), Wind: half(now.Wind, before.Wind),
	}
}

// apart is the distance of two places in km along the great circle.
func apart(lat1, lon1, lat2, lon2 float64) float64 {
	const rad, radius = math.Pi / 180, 6371 // exact; mean radius of the earth in km
	a := math.Sin((lat2 - lat1) / 2 * rad)
	b := math.Sin((lon2 - lon1) / 2 * rad)
	return 2 * radius * math.Asin(math.Min(1, math.Sqrt(a*a+math.Cos(lat1*rad)*math.Cos(lat2*rad)*b*b)))
}

func (out *WeatherPlace) says() string {
	switch {
	case out.Days > 0:
		return remark("place.says.measured", "n", out.Days)
	case out.Typical > 0:
		return remark("place.says.typical")
	}
	return remark("place.says.coarse")
}

// better lists what would help, by what is missing.
func (out *WeatherPlace) better(s *sky) []string {
	var list []string
	has := func(v weather.Var) bool { return s.measured != nil && s.measured.Count(v)[weather.Measured] > 30*24 }
	any := s.measured != nil && out.Days > 0
	if !any {
		list = append(list, remark("place.better.diary"))
	}
	if !has(weather.Temp) {
		list = append(list, remark("place.better.station"))
	}
	if any && !has(weather.RH) {
		list = append(list, remark("place.better.rh"))
	}
	if any && !has(weather.Rain) {
		list = append(list, remark("place.better.rain"))
	}
	if any && !has(weather.Rad) {
		list = append(list, remark("place.better.rad"))
	}
	if any && out.Days < 300 {
		list = append(list, remark("place.better.year", "n", out.Days))
	}
	if len(s.issued) == 0 {
		list = append(list, remark("place.better.forecast"))
	}
	return list
}

// eighty is half the width, in standard deviations, of a band that holds 8 of 10:
// the 90 % point of the normal distribution, exact.
const eighty = 1.2816

func around(mid, sd float64) Band {
	return Band{Low: round3(mid - eighty*sd), Mid: round3(mid), High: round3(mid + eighty*sd)}
}

func (b Band) within(low, high float64) Band {
	in := func(x float64) float64 { return math.Min(math.Max(x, low), high) }
	return Band{Low: in(b.Low), Mid: in(b.Mid), High: in(b.High)}
}

func (b Band) times(x float64) Band {
	return Band{Low: round3(b.Low * x), Mid: round3(b.Mid * x), High: round3(b.High * x)}
}

// monthOf describes month k of a climate.
func monthOf(c weather.Climate, k, year int, site garden.Site, loc *time.Location) MonthOfPlace {
	m, q := c.Months[k], c.DoubtOf(k)
	mid := garden.DayOf(time.Date(year, time.Month(k+1), 15, 0, 0, 0, 0, time.UTC))
	days := float64(time.Date(year, time.Month(k+2), 0, 0, 0, 0, 0, time.UTC).Day())
	level := math.Hypot(q.Temp, q.Range/2)
	humidity := func(t float64) Band {
		at := func(dry float64) float64 { return weather.RHFrom(t, weather.SaturationVP(m.Tmin-dry)) }
		return Band{Low: round3(at(m.Dry + eighty*q.Dry)), Mid: round3(at(m.Dry)), High: round3(at(m.Dry - eighty*q.Dry))}
	}
	wet := around(m.Wet, q.Wet).within(0, 1)
	share := around(m.Share, q.Share).within(0, 1)
	light := sun.RiseSet(mid, site.Latitude, site.Longitude)
	// A clear day brings a known share of what falls outside the air.
	clear := sun.ClearDay(mid, site.Latitude)
	outside := sun.Extraterrestrial(mid, site.Latitude)
	out := MonthOfPlace{
		Month: k + 1, Tmin: around(m.Tmin, level), Tmax: around(m.Tmax, level),
		RHDawn: humidity(m.Tmin), RHNoon: humidity(m.Tmax),
		WetDays: wet.times(days), Rain: wet.times(days * m.RainMean),
		Radiation: share.times(outside), ClearDay: round3(clear),
		Wind:      Band{Low: round3(m.Wind * math.Exp(-eighty*q.Wind)), Mid: round3(m.Wind), High: round3(m.Wind * math.Exp(eighty*q.Wind))},
		DayLength: round3(light.Hours), Light: "day and night",
	}
	switch {
	case light.Hours <= 0:
		out.Light = "polar night"
	case light.Hours >= 24:
		out.Light = "polar day"
	default:
		out.Rise, out.Set = light.Rise.In(loc).Format(time.RFC3339), light.Set.In(loc).Format(time.RFC3339)
	}
	return out
}
