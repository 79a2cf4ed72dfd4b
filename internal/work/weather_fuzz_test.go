package work_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"time"

	"oidium/internal/work"
	"oidium/weather/read"
)

// Whatever a file holds, it is understood, asked about or refused; what it makes
// are entries of hours that are over.
func FuzzReadWeather(f *testing.F) {
	files, err := filepath.Glob(filepath.Join("..", "..", "weather", "read", "testdata", "layouts", "*"))
	if err != nil || len(files) == 0 {
		f.Fatal("no layouts", err)
	}
	for _, name := range files {
		b, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b[:min(len(b), 2000)])
	}
	f.Add([]byte("LOCATION,Nowhere,-,NOW,made,0,52,5,1,2\n"))
	f.Add([]byte("# STN,YYYYMMDD,HH,DD,FH,FF,FX,T,T10,TD,SQ,Q,DR,RH,P,VV,N,U\n  260,20000101,1,0,20,20,30,60,,50,0,0,0,0,10000,,8,95\n"))
	f.Add([]byte(`{"type":"Feature","geometry":{"type":"Point","coordinates":[5.18,52.1,2]},"properties":{"meta":{"updated_at":"2001-05-31T03:42:10Z"},"timeseries":[{"time":"2001-05-31T04:00:00Z","data":{"instant":{"details":{"air_temperature":10,"relative_humidity":104}}}},{"time":"2001-05-31T05:00:00Z","data":{"instant":{"details":{"air_temperature":12,"relative_humidity":80}}}}]}}`))
	f.Add([]byte(`{"geometry":{"type":"Point","coordinates":[5.18,52.1]},"properties":{"updateTime":"2001-06-01T03:42:10+00:00","temperature":{"uom":"wmoUnit:degC","values":[{"validTime":"2001-06-01T06:00:00+00:00/PT4H","value":15}]}}}`))
	zone, err := time.LoadLocation("Europe/Amsterdam")
	if err != nil {
		f.Fatal(err)
	}
	now := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	f.Fuzz(func(t *testing.T, b []byte) {
		o := read.Options{Zone: zone, Year: 2001, Place: &read.Place{Latitude: 52.1, Longitude: 5.18}}
		r, made, err := work.ReadWeather(bytes.NewReader(b), nil, now, work.WeatherFile{Name: "x", Answers: o})
		if err != nil {
			return
		}
		if r.Entries != len(made) {
			t.Fatalf("%d entries said, %d made", r.Entries, len(made))
		}
		for _, e := range made {
			if e.Written.After(now) || e.Time.After(e.Written) {
				t.Fatalf("an entry of %s was written %s, now is %s", e.Time, e.Written, now)
			}
		}
	})
}
