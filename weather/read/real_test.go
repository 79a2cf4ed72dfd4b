package read

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"oidium/weather"
)

// Oak Park 2017: 8760 rows, 63 gaps in temperature and humidity (README of the
// data), wind in knots at 10 m, rain in mm.
func TestOakPark(t *testing.T) {
	o := Options{WindHeight: 10, Place: &Place{52.861, -6.915, 61, true}}
	_, s, rep, err := Table(open(t, "oakpark-2017.csv.gz"), o)
	if err != nil {
		t.Fatal(err)
	}
	say(t, rep)
	if s.Len() != 8760 || rep.Rows != 8760 {
		t.Errorf("%d hours of %d rows", s.Len(), rep.Rows)
	}
	if n := s.Count(weather.Temp)[weather.Missing]; n != 63 {
		t.Errorf("%d temperatures missing, want 63", n)
	}
	// First row: 6.9 °C, 95 %, 2.3 mm, 9 kt; the hour ends at midnight.
	if !s.Start.Equal(time.Date(2016, 12, 31, 23, 0, 0, 0, time.UTC)) {
		t.Errorf("starts %v", s.Start)
	}
	near(t, "temperature", float64(s.V[weather.Temp][0]), 6.9, 1e-5)
	near(t, "wind", float64(s.V[weather.Wind][0]), 9*1852.0/3600*0.748, 0.001)
}

// say prints what the reader understood, with -v.
func say(t *testing.T, rep Report) {
	t.Helper()
	for _, f := range rep.Found {
		t.Log(f)
	}
	for _, w := range rep.Warnings {
		t.Log("warning:", w.Text)
	}
	for _, b := range rep.Bad[:min(5, len(rep.Bad))] {
		t.Logf("line %d: %s", b.Line, b.Reason)
	}
}

// Newark 2013 gives the same hours twice: in local columns and in UTC. Read by
// the local columns with the zone of New York, summer time included, it must
// give the same series as by the stamps in UTC.
func TestNewarkByEitherClock(t *testing.T) {
	zone, err := time.LoadLocation("America/New_York")
	if err != nil {
		t.Skip("no zone data")
	}
	_, utc, rep, err := Table(open(t, "newark-2013.csv.gz"), Options{WindHeight: 10})
	if err != nil {
		t.Fatal(err)
	}
	say(t, rep)
	for q, unit := range map[string]string{"temperature": "in °F", "wind": "in mph", "rain": "in inch"} {
		if !strings.Contains(strings.Join(rep.Found, "\n"), q+" "+unit) {
			t.Errorf("%s is not read %s", q, unit)
		}
	}
	var local strings.Builder
	err = lines(open(t, "newark-2013.csv.gz"), func(_ int, b []byte) error {
		line := string(b)
		_, err := fmt.Fprintln(&local, line[:strings.LastIndexByte(line, ',')])
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	_, got, rep, err := Table(strings.NewReader(local.String()), Options{WindHeight: 10, Zone: zone})
	if err != nil {
		t.Fatal(err)
	}
	say(t, rep)
	compare(t, got, utc, [weather.NVars]float64{}, 0)
	// First row: 39.02 °F, humidity 59.37.
	near(t, "temperature", float64(utc.V[weather.Temp][0]), 3.9, 1e-4)
	near(t, "humidity", float64(utc.V[weather.RH][0]), 59.37, 1e-4)
}

// compare checks that two series hold the same hours within a tolerance; edge
// hours at either end may differ in length.
func compare(t *testing.T, got, want *weather.Series, tol [weather.NVars]float64, edge int) {
	t.Helper()
	if d := got.Start.Sub(want.Start).Abs(); d > time.Duration(edge)*time.Hour {
		t.Errorf("starts %v, want %v", got.Start, want.Start)
	}
	if d := got.End().Sub(want.End()).Abs(); d > time.Duration(edge)*time.Hour {
		t.Errorf("ends %v, want %v", got.End(), want.End())
	}
	wrong := 0
	for i := edge; i < want.Len()-edge; i++ {
		k := got.Index(want.Time(i))
		if k < 0 || k >= got.Len() {
			t.Fatalf("hour %v is not there", want.Time(i))
		}
		for v := range want.V {
			if tol[v] < 0 {
				continue
			}
			a, b := float64(got.V[v][k]), float64(want.V[v][i])
			if (a != a) != (b != b) || math.Abs(a-b) > tol[v]+1e-6 {
				if wrong++; wrong < 6 {
					t.Errorf("%v at %v: %v, want %v", weather.Var(v), want.Time(i), a, b)
				}
			}
		}
	}
	if wrong > 5 {
		t.Errorf("%d values differ in all", wrong)
	}
}

// bondville names the columns that matter of the file without names.
var bondville = Options{
	Names: []string{
		"day of year", "hhmm", "wind m/s 10m", "wind direction", "air temperature °C", "RH %", "pressure", "global radiation W/m2", "par in", "par out", "net", "ground",
		"rain inch", "leaf wetness", "skin", "soil 2", "soil 4", "soil 8", "soil 16", "soil 32", "soil 64", "u6 gust", "uw flag", "u2 sd", "v2 sd", "w2 sd", "H flux flag", "LE flux flag", "co2", "longwave", "soil m5", "soil m20", "soil m60",
	},
	Year: 1998, Zone: time.FixedZone("LST", -6*3600), Place: &Place{40.01, -88.37, 219, false},
}

// Bondville 1998: half hours ending, clock of 90° W; 190 days.
func TestBondville(t *testing.T) {
	_, s, rep, err := Table(open(t, "bondville-1998.dat.gz"), bondville)
	if err != nil {
		t.Fatal(err)
	}
	say(t, rep)
	// The last row of the file is marked day 1, 0 h: it lies before the others.
	if d := s.End().Sub(s.Start).Hours(); d != 190*24+1 {
		t.Errorf("%v hours", d)
	}
	// First two half hours: −9.2 and −8.4 °C, 86.1 and 84.7 %.
	first := s.Index(time.Date(1998, 1, 1, 6, 0, 0, 0, time.UTC))
	near(t, "temperature", float64(s.V[weather.Temp][first]), -8.8, 1e-5)
	near(t, "humidity", float64(s.V[weather.RH][first]), 85.4, 1e-4)
	for _, f := range rep.Quality.Findings {
		if f.Kind == weather.Clock {
			t.Errorf("clock %+.2f h", f.Value)
		}
	}
}

func TestBondvilleNeedsNames(t *testing.T) {
	o := bondville
	o.Names = nil
	_, _, _, err := Table(open(t, "bondville-1998.dat.gz"), o)
	var a *Ambiguous
	if !errors.As(err, &a) || a.Option != "names" {
		t.Errorf("error %v", err)
	}
}
