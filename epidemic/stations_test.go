package epidemic

import (
	"compress/gzip"
	"encoding/csv"
	"io"
	"os"
	"strconv"
	"testing"
	"time"

	"oidium/garden"
	"oidium/mildew"
	"oidium/weather"
	"oidium/weather/read"
)

// place is a year of measured weather, as days of the garden's zone.
type place struct {
	name  string
	first garden.Day
	days  []mildew.Hours
}

// from returns the days from a date on.
func (p place) from(t testing.TB, date string, days int) ([]mildew.Hours, garden.Day) {
	t.Helper()
	d, err := garden.ParseDay(date)
	if err != nil {
		t.Fatal(err)
	}
	i := int(d - p.first)
	return p.days[i : i+days], d
}

func unzip(t testing.TB, name string) io.Reader {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

// cutDays makes local days of a filled series, hours east of Greenwich given.
func cutDays(name string, s *weather.Series, east int) place {
	first := s.Start.Add(time.Duration(east) * time.Hour)
	skip := (24 - first.Hour()) % 24
	p := place{name: name, first: garden.DayOf(first.Add(time.Duration(skip) * time.Hour))}
	for i := skip; i+24 <= s.Len(); i += 24 {
		p.days = append(p.days, mildew.Hours{
			T: s.V[weather.Temp][i : i+24], RH: s.V[weather.RH][i : i+24], Wind: s.V[weather.Wind][i : i+24],
			Rain: s.V[weather.Rain][i : i+24], Sun: s.V[weather.Rad][i : i+24],
		})
	}
	return p
}

func deBilt(t testing.TB) place {
	_, s, _, err := read.KNMIHourly(unzip(t, "../weather/read/testdata/debilt-2000.txt.gz"))
	if err != nil {
		t.Fatal(err)
	}
	s, _ = weather.Fill(s, weather.Coarse(52.1, 2, true), 52.1, 5.18)
	return cutDays("De Bilt 2000", s, 2)
}

// table reads a CSV with header into rows by column name.
func table(t testing.TB, name string) []map[string]string {
	t.Helper()
	rows, err := csv.NewReader(unzip(t, name)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := make(map[string]string)
		for i, h := range rows[0] {
			m[h] = r[i]
		}
		out = append(out, m)
	}
	return out
}

// put sets a value if the text is a number.
func put(s *weather.Series, v weather.Var, i int, text string, f func(float64) float64) {
	if x, err := strconv.ParseFloat(text, 64); err == nil {
		s.Set(v, i, f(x), weather.Measured)
	}
}

func same(x float64) float64 { return x }

func oakPark(t testing.TB) place {
	rows := table(t, "testdata/oak-park-2017.csv.gz")
	start := time.Date(2017, 1, 1, 0, 0, 0, 0, time.UTC)
	s := weather.NewSeries(start, 8760)
	for _, r := range rows {
		at, err := time.Parse("2006-01-02T15:04", r["time_utc"])
		if err != nil {
			t.Fatal(err)
		}
		i := s.Index(at)
		if i < 0 || i >= s.Len() {
			continue
		}
		put(s, weather.Temp, i, r["temp_c"], same)
		put(s, weather.RH, i, r["rh_pct"], same)
		put(s, weather.Rain, i, r["rain_mm"], same)
		put(s, weather.Wind, i, r["wind_kt"], func(x float64) float64 { return weather.WindAt2m(x*0.5144, 10) })
	}
	s, _ = weather.Fill(s, weather.Coarse(52.86, 60, true), 52.861, -6.915)
	return cutDays("Oak Park 2017", s, 1)
}

func newark(t testing.TB) place {
	rows := table(t, "testdata/newark-2013.csv.gz")
	start := time.Date(2013, 1, 1, 6, 0, 0, 0, time.UTC)
	s := weather.NewSeries(start, 8754)
	for _, r := range rows {
		at, err := time.Parse(time.RFC3339, r["time_hour"])
		if err != nil {
			t.Fatal(err)
		}
		i := s.Index(at)
		if i < 0 || i >= s.Len() {
			continue
		}
		put(s, weather.Temp, i, r["temp"], func(x float64) float64 { return (x - 32) / 1.8 })
		put(s, weather.RH, i, r["humid"], same)
		put(s, weather.Rain, i, r["precip"], func(x float64) float64 { return x * 25.4 })
		put(s, weather.Wind, i, r["wind_speed"], func(x float64) float64 { return weather.WindAt2m(x*0.44704, 10) })
	}
	s, _ = weather.Fill(s, weather.Coarse(40.7, 5, true), 40.69, -74.17)
	return cutDays("Newark 2013", s, -4)
}
