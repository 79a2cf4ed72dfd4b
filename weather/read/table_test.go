package read

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"oidium/weather"
)

func TestTableReportsBadRows(t *testing.T) {
	const file = `Time UTC,Temp C,RH %,Rain mm
2000-01-01 01:00,5,90,0
2000-01-01 02:00,5,abc,0
2000-01-01 03:00,105,90,0
yesterday,5,90,0
2000-01-01 05:00,--,--,---
2000-01-01 06:00,-999,90,T
2000-01-01 06:00,7,90,0
2000-02-31 06:00,7,90,0
2090-01-01 06:00,7,90,0
2000-01-01 08:00,7
`
	_, s, rep, err := Table(strings.NewReader(file), Options{})
	if err != nil {
		t.Fatal(err)
	}
	want := map[int]string{3: `humidity "abc"`, 4: "temperature 105", 5: "yesterday", 6: "no value", 8: "given before", 9: "2000-02-31", 10: "50 years"}
	got := make(map[int]string)
	for _, b := range rep.Bad {
		got[b.Line] += b.Reason
	}
	for line, reason := range want {
		if !strings.Contains(got[line], reason) {
			t.Errorf("line %d: %q, want %q", line, got[line], reason)
		}
	}
	if len(got) != len(want) || rep.Rows != 10 || rep.Used != 5 || s.Len() != 8 {
		t.Errorf("bad %v, rows %d, used %d, hours %d", rep.Bad, rep.Rows, rep.Used, s.Len())
	}
	if s.V[weather.Rain][5] != 0 || s.F[weather.Temp][5] != weather.Missing || s.F[weather.Temp][2] != weather.Missing {
		t.Error("trace, sentinel or impossible value misread")
	}
}

func TestTableRefuses(t *testing.T) {
	for file, want := range map[string]string{
		"":                "empty",
		"hello\nworld\n":  "table",
		"a,b\nc,d\n":      "no row with values",
		"a,b\n1,2\n3,4\n": "no column holds a date",
		"Time UTC,x\n2000-01-01 00:00,1\n2000-01-01 01:00,2\n":      "no column of weather",
		"Time UTC,Temp C\n2000-01-01 00:00,x\n2000-01-01 01:00,y\n": "",
		"\x1f\x8bnot gzip": "gzip",
	} {
		_, s, _, err := Table(strings.NewReader(file), Options{})
		if err == nil || s != nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: error %v, want %q", file, err, want)
		}
	}
	for _, o := range []Options{
		{Stamp: "middle"},
		{DateOrder: "year"},
		{Station: "nowhere"},
		{Columns: map[string]string{"temperature": "nothing"}},
		{Columns: map[string]string{"colour": "1"}},
		{Units: map[string]string{"temperature": "furlong"}},
		{Units: map[string]string{"colour": "C"}},
	} {
		if _, _, _, err := Table(strings.NewReader("Site,Time UTC,Temp C\na,2000-01-01 00:00,1\na,2000-01-01 01:00,2\n"), o); err == nil {
			t.Errorf("%+v was taken", o)
		}
	}
}

// A long file is streamed: its size is not held, only its hours.
func TestLongFilesAreStreamed(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	var sent int64
	start := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	r, w := io.Pipe()
	go func() {
		b := bytes.NewBufferString("Time UTC,Temp C,RH %\n")
		for i := 0; sent < 48<<20; i++ {
			// Ten-minute rows of forty years, round and round.
			at := start.Add(time.Duration(i%2100000) * 10 * time.Minute)
			b.WriteString(at.Format("2006-01-02 15:04"))
			b.WriteString(",10.5,80\n")
			if b.Len() > 1<<16 {
				n, err := w.Write(b.Bytes())
				sent += int64(n)
				if err != nil {
					return
				}
				b.Reset()
			}
		}
		w.Close()
	}()
	_, s, rep, err := Table(r, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	if m.Sys > 200<<20 {
		t.Errorf("%d MB of memory for %d MB of file", m.Sys>>20, sent>>20)
	}
	t.Logf("%d rows, %d hours, %d MB of memory", rep.Rows, s.Len(), m.Sys>>20)
}

func FuzzTable(f *testing.F) {
	names, err := filepath.Glob("testdata/layouts/*")
	if err != nil {
		f.Fatal(err)
	}
	for _, name := range names {
		b, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b[:min(len(b), 1500)], "", true)
	}
	f.Add([]byte("Time UTC,Temp C\n2000-01-01 00:00,1\n2000-01-01 01:00,2\n"), "start", false)
	amsterdam := zone("Europe/Amsterdam")
	f.Fuzz(func(t *testing.T, file []byte, stamp string, local bool) {
		o := Options{Stamp: stamp, Year: 2000, Place: deBilt}
		if local {
			o.Zone = amsterdam
		}
		_, s, rep, err := Table(bytes.NewReader(file), o)
		checkRead(t, s, rep, err)
	})
}

// A year of hours, read and derived.
func BenchmarkYear(b *testing.B) {
	var raw bytes.Buffer
	z, err := gzip.NewReader(mustOpen(b, "oakpark-2017.csv.gz"))
	if err != nil {
		b.Fatal(err)
	}
	if _, err := io.Copy(&raw, z); err != nil {
		b.Fatal(err)
	}
	p := &Place{52.861, -6.915, 61, true}
	for b.Loop() {
		_, s, _, err := Table(bytes.NewReader(raw.Bytes()), Options{WindHeight: 10, Place: p})
		if err != nil {
			b.Fatal(err)
		}
		full, _ := weather.Fill(s, weather.Coarse(p.Latitude, p.Altitude, p.Maritime), p.Latitude, p.Longitude)
		weather.Summarise(full, p.Latitude, p.Longitude, p.Altitude, weather.Wetness{})
	}
}

func mustOpen(b *testing.B, name string) io.Reader {
	f, err := os.Open("testdata/" + name)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { f.Close() })
	return f
}
