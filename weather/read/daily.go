package read

import (
	"slices"

	"oidium/garden"
	"oidium/sun"
	"oidium/weather"
)

// day keeps a row that is a day.
func (t *table) day(w wall, v *[len(slots)]float64) {
	at, _ := w.time()
	d := weather.Daily{
		Date: garden.DayOf(at), Tmin: v[atLow], Tmax: v[atHigh], Dew: v[atDew],
		Rain: v[atRain], Wind: v[atWind], Rad: v[atRad] * 86400e-6, // exact: W/m² to MJ/m²
	}
	if !(d.Tmax >= d.Tmin) {
		t.rep.bad(t.n, "has no lowest and highest temperature, or the lowest is above the highest")
		return
	}
	if p := t.o.Place; p != nil && d.Rad != d.Rad && v[atSun] == v[atSun] {
		// The share of the day is that of 24 h; FAO-56 asks for that of the time
		// the sun is up.
		up := sun.PossibleSunshine(d.Date, p.Latitude)
		d.Rad = weather.RadFromSunshine(24*v[atSun]/max(up, 1), sun.Extraterrestrial(d.Date, p.Latitude))
	}
	if d.Dew != d.Dew && v[atRH] == v[atRH] {
		// The humidity of the day with its mean temperature.
		d.Dew = weather.DewPoint(weather.VapourPressure((d.Tmin+d.Tmax)/2, v[atRH]))
	}
	d.Dew = min(d.Dew, (d.Tmin+d.Tmax)/2)
	if len(t.days) > 0 {
		if gap := d.Date - t.days[0].Date; gap > spanLimit/24 || gap < -spanLimit/24 {
			t.rep.bad(t.n, "its date %s is more than 50 years from the first row", d.Date)
			return
		}
	}
	if len(t.days) >= spanLimit/24 {
		t.rep.bad(t.n, "there are more days than 50 years hold")
		return
	}
	t.days = append(t.days, d)
	t.rep.Used++
}

// hourly makes hours of the days.
func (t *table) hourly() (*weather.Series, error) {
	p := t.o.Place
	if p == nil {
		return nil, &Ambiguous{Option: "place", Text: "the rows are days; latitude and longitude are needed to make hours of them"}
	}
	slices.SortStableFunc(t.days, func(a, b weather.Daily) int { return int(a.Date - b.Date) })
	before := len(t.days)
	t.days = slices.CompactFunc(t.days, func(a, b weather.Daily) bool { return a.Date == b.Date })
	if n := before - len(t.days); n > 0 {
		t.rep.found("%d days were given twice; the first is kept.", n)
		t.rep.Used -= n
		t.rep.BadTotal += n
	}
	t.rep.found("Days of lowest and highest temperature were spread over their hours, which are flagged as derived.")
	c := weather.Coarse(p.Latitude, p.Altitude, p.Maritime)
	return weather.Hourly(t.days, c, p.Latitude, p.Longitude, weather.Derived), nil
}
