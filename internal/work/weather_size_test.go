package work

import (
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"testing"
	"time"

	"oidium/weather"
	"oidium/weather/read"
)

// station is a logger that never stops: hours of plausible readings on a clock
// with summer time, for ever. It notes how much memory is in use while it is read.
type station struct {
	at   time.Time
	buf  []byte
	sent int64
	peak uint64
	next int64
}

func (s *station) Read(p []byte) (int, error) {
	if s.sent >= s.next {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		s.peak = max(s.peak, m.HeapInuse+m.StackInuse)
		s.next += 2 << 20
	}
	for len(s.buf) < len(p) {
		s.buf = s.at.AppendFormat(s.buf, "2006-01-02 15:04")
		s.buf = append(s.buf, ",1"...)
		s.buf = strconv.AppendInt(s.buf, int64(s.at.Hour()%10), 10)
		s.buf = append(s.buf, ".5,8"...)
		s.buf = strconv.AppendInt(s.buf, int64(s.at.Hour()%10), 10)
		s.buf = append(s.buf, ",0.0\n"...)
		s.at = s.at.Add(time.Hour)
	}
	n := copy(p, s.buf)
	s.buf = s.buf[:copy(s.buf, s.buf[n:])]
	s.sent += int64(n)
	return n, nil
}

func endless() *station {
	return &station{at: time.Date(1960, 1, 1, 0, 0, 0, 0, time.UTC), buf: []byte("time,temperature C,humidity %,rain mm\n")}
}

// A file without end is refused once it is larger than a file of weather is, with
// what to do, and never takes much memory, by itself or packed.
func TestEndlessFile(t *testing.T) {
	if testing.Short() {
		t.Skip("reads forty megabytes")
	}
	zone, err := time.LoadLocation("Europe/Amsterdam")
	if err != nil {
		t.Fatal(err)
	}
	const mega, limit = 1 << 20, 20 << 20 // more than the hours of fifty years take
	for _, packed := range []bool{false, true} {
		s := endless()
		var r io.Reader = s
		if packed {
			in, out := io.Pipe()
			z := gzip.NewWriter(out)
			go func() {
				_, err := io.Copy(z, s)
				out.CloseWithError(err)
			}()
			defer in.Close()
			r = in
		}
		_, _, err = ReadWeather(r, nil, time.Now(), WeatherFile{Name: "endless.csv", Answers: read.Options{Zone: zone}, limit: limit})
		if !errors.Is(err, ErrTooLarge) {
			t.Fatalf("packed %v: %v", packed, err)
		}
		if s.sent < limit || s.sent > limit+8*mega {
			t.Errorf("packed %v: %d bytes were read", packed, s.sent)
		}
		if s.peak > 200*mega {
			t.Errorf("packed %v: %d MB of memory", packed, s.peak/mega)
		}
	}
}

// TestEndlessLine holds that a file without line ends is refused too.
func TestEndlessLine(t *testing.T) {
	line := bytes.Repeat([]byte("12.5,"), 1<<18)
	if _, _, err := ReadWeather(bytes.NewReader(line), nil, time.Now(), WeatherFile{Name: "line.csv", Answers: read.Options{Zone: time.UTC}}); err == nil {
		t.Error("a file of one line of a megabyte was read")
	}
}

// year is a measured year of hours (KNMI De Bilt 2000, in weather/read/testdata).
func year(t testing.TB) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "weather", "read", "testdata", "debilt-2000.txt.gz"))
	if err != nil {
		t.Fatal(err)
	}
	z, err := gzip.NewReader(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	out, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// A year of hours is read, checked, filled and summed up by day.
func BenchmarkYear(b *testing.B) {
	file := year(b)
	zone, err := time.LoadLocation("Europe/Amsterdam")
	if err != nil {
		b.Fatal(err)
	}
	place := &read.Place{Latitude: 52.1, Longitude: 5.18, Altitude: 3, Maritime: true}
	b.Run("read and derive", func(b *testing.B) {
		for b.Loop() {
			_, s, _, err := read.KNMIHourly(bytes.NewReader(file))
			if err != nil {
				b.Fatal(err)
			}
			filled, _ := weather.Fill(s, weather.Coarse(52.1, 3, true), 52.1, 5.18)
			if days := weather.Summarise(filled, 52.1, 5.18, 3, weather.Wetness{}); len(days) != 366 {
				b.Fatal(len(days))
			}
		}
	})
	b.Run("import", func(b *testing.B) {
		for b.Loop() {
			_, made, err := ReadWeather(bytes.NewReader(file), nil, time.Date(2002, 1, 1, 0, 0, 0, 0, time.UTC), WeatherFile{Answers: read.Options{Zone: zone, Place: place}})
			if err != nil || len(made) != 366 {
				b.Fatal(len(made), err)
			}
		}
	})
}
