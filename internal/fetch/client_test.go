package fetch

import (
	"context"
	"errors"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"oidium/weather"
)

// The answers are constructed from the descriptions of the services; nothing
// here was tried on a live one.

const norwegian = `{"type":"Feature","geometry":{"type":"Point","coordinates":[5.18,52.1,2]},"properties":{"meta":{"updated_at":"2001-06-01T03:42:10Z"},"timeseries":[
{"time":"2001-06-01T04:00:00Z","data":{"instant":{"details":{"air_temperature":10,"relative_humidity":90,"wind_speed":4,"cloud_area_fraction":100}},"next_1_hours":{"details":{"precipitation_amount":0.6}}}},
{"time":"2001-06-01T05:00:00Z","data":{"instant":{"details":{"air_temperature":12,"relative_humidity":80,"wind_speed":2,"cloud_area_fraction":0}}}}]}}`

const american = `{"geometry":{"type":"Point","coordinates":[-88.37,40.01]},"properties":{"updateTime":"2001-06-01T03:42:10+00:00",
"temperature":{"uom":"wmoUnit:degC","values":[{"validTime":"2001-06-01T06:00:00+00:00/PT4H","value":15}]}}}`

// service is a stand-in for a weather service and a clock.
type service struct {
	*httptest.Server
	now    time.Time
	asked  []*http.Request
	status int
	header http.Header
}

func newService(t *testing.T) (*service, *Client) {
	s := &service{now: time.Date(2001, 6, 1, 4, 0, 0, 0, time.UTC), status: 200, header: http.Header{}}
	s.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.asked = append(s.asked, r)
		for k, v := range s.header {
			w.Header()[k] = v
		}
		if s.status == 200 && r.Header.Get("If-Modified-Since") != "" && r.Header.Get("If-Modified-Since") == s.header.Get("Last-Modified") {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		w.WriteHeader(s.status)
		body := norwegian
		switch {
		case strings.HasPrefix(r.URL.Path, "/points/"):
			body = `{"properties":{"forecastGridData":"` + s.URL + `/gridpoints/AAA/1,2"}}`
		case strings.HasPrefix(r.URL.Path, "/gridpoints/"):
			body = american
		}
		if s.status != 200 {
			body = "sorry"
		}
		if _, err := w.Write([]byte(body)); err != nil {
			t.Error(err)
		}
	}))
	t.Cleanup(s.Close)
	c := &Client{Dir: filepath.Join(t.TempDir(), "answers"), Agent: "oidium/test somebody@example.org", Now: func() time.Time { return s.now }, Norway: s.URL + "/compact", US: s.URL}
	return s, c
}

func TestAskedOnceUntilItExpires(t *testing.T) {
	s, c := newService(t)
	s.header.Set("Expires", s.now.Add(30*time.Minute).Format(http.TimeFormat))
	s.header.Set("Last-Modified", "Fri, 01 Jun 2001 03:42:10 GMT")
	ask := func() weather.Outlook {
		o, w, err := c.Locationforecast(context.Background(), 52.10449, 5.17999, 2)
		if err != nil || len(w) > 0 {
			t.Fatal(err, w)
		}
		return o
	}
	first := ask()
	if first.Series.Len() == 0 || !strings.Contains(first.Licence, "MET Norway") {
		t.Errorf("%+v", first)
	}
	r := s.asked[0]
	if r.Header.Get("User-Agent") != c.Agent {
		t.Errorf("agent %q", r.Header.Get("User-Agent"))
	}
	if q := r.URL.RawQuery; q != "altitude=2&lat=52.1&lon=5.18" {
		t.Errorf("asked for %q", q)
	}
	s.now = s.now.Add(29 * time.Minute)
	ask()
	if len(s.asked) != 1 {
		t.Errorf("asked %d times within the expiry", len(s.asked))
	}
	// After it, only whether it changed; it has not, and serves on.
	s.now = s.now.Add(2 * time.Minute)
	ask()
	if len(s.asked) != 2 || s.asked[1].Header.Get("If-Modified-Since") == "" {
		t.Errorf("asked %d times", len(s.asked))
	}
	s.now = s.now.Add(9 * time.Minute)
	ask()
	if len(s.asked) != 2 {
		t.Errorf("an unchanged answer does not serve on")
	}
}

func TestFailuresAreWaitedOut(t *testing.T) {
	s, c := newService(t)
	ctx := context.Background()
	if _, _, err := c.Locationforecast(ctx, 52.1, 5.18, math.NaN()); err != nil {
		t.Fatal(err)
	}
	s.status = 503
	s.now = s.now.Add(time.Hour)
	waits := []time.Duration{time.Minute, 2 * time.Minute, 4 * time.Minute, 8 * time.Minute}
	for i, w := range waits {
		before := len(s.asked)
		o, warn, err := c.Locationforecast(ctx, 52.1, 5.18, math.NaN())
		if err != nil || o.Series.Len() == 0 || len(warn) != 1 || warn[0].Code != "forecast-old" || !strings.Contains(warn[0].Text, "503") {
			t.Fatalf("failure %d: %v %v", i+1, err, warn)
		}
		if len(s.asked) != before+1 {
			t.Fatalf("failure %d: asked %d times", i+1, len(s.asked)-before)
		}
		s.now = s.now.Add(w - time.Second)
		if _, warn, err = c.Locationforecast(ctx, 52.1, 5.18, math.NaN()); err != nil || len(warn) != 1 || len(s.asked) != before+1 {
			t.Fatalf("failure %d: asked again before %v", i+1, w)
		}
		s.now = s.now.Add(2 * time.Second)
	}
	// What the service asks for counts where it is longer.
	s.status = 429
	s.header.Set("Retry-After", "7200")
	if _, _, err := c.Locationforecast(ctx, 52.1, 5.18, math.NaN()); err != nil {
		t.Fatal(err)
	}
	n := len(s.asked)
	s.now = s.now.Add(time.Hour)
	if _, _, err := c.Locationforecast(ctx, 52.1, 5.18, math.NaN()); err != nil || len(s.asked) != n {
		t.Errorf("the service asked for two hours of peace: %v", err)
	}
	// And a good answer ends it.
	s.status, s.header = 200, http.Header{}
	s.now = s.now.Add(2 * time.Hour)
	if _, w, err := c.Locationforecast(ctx, 52.1, 5.18, math.NaN()); err != nil || len(w) != 0 {
		t.Errorf("%v %v", w, err)
	}
}

func TestNothingKeptIsAnError(t *testing.T) {
	for status, want := range map[int]string{403: "name the program", 404: "no forecast for this place", 500: "trouble", 400: "400"} {
		s, c := newService(t)
		s.status = status
		_, _, err := c.Locationforecast(context.Background(), 52.1, 5.18, 2)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%d: %v", status, err)
		}
		n := len(s.asked)
		if _, _, err = c.Locationforecast(context.Background(), 52.1, 5.18, 2); err == nil || !strings.Contains(err.Error(), "left alone") || len(s.asked) != n {
			t.Errorf("%d, asked again: %v", status, err)
		}
	}
	s, c := newService(t)
	s.Close()
	if _, _, err := c.Locationforecast(context.Background(), 52.1, 5.18, 2); err == nil || !strings.Contains(err.Error(), "cannot be reached") {
		t.Error(err)
	}
}

func TestGridpointFollowsThePoint(t *testing.T) {
	s, c := newService(t)
	o, _, err := c.Gridpoint(context.Background(), 40.011, -88.374)
	if err != nil {
		t.Fatal(err)
	}
	if o.Series.Len() != 5 && o.Series.Len() != 4 {
		t.Errorf("%d hours", o.Series.Len())
	}
	if len(s.asked) != 2 || s.asked[0].URL.Path != "/points/40.01,-88.37" {
		t.Errorf("asked %v", s.asked[0].URL)
	}
	// An answer that points to another host is not followed.
	c.US = s.URL + "/points/.."
	c.Dir = t.TempDir()
	if _, _, err := c.Gridpoint(context.Background(), 40.011, -88.374); err == nil || !strings.Contains(err.Error(), "names no grid") {
		t.Error(err)
	}
}

func TestRefusesToAskWithoutAName(t *testing.T) {
	s, c := newService(t)
	c.Agent = ""
	if _, _, err := c.Locationforecast(context.Background(), 52.1, 5.18, 2); err == nil || len(s.asked) != 0 {
		t.Errorf("%v, asked %d times", err, len(s.asked))
	}
	c.Agent = "x"
	for _, p := range [][2]float64{{91, 0}, {0, 181}, {math.NaN(), 0}} {
		if _, _, err := c.Locationforecast(context.Background(), p[0], p[1], 2); err == nil || len(s.asked) != 0 {
			t.Errorf("%v: %v", p, err)
		}
	}
}

// A damaged kept answer is as good as none, and giving up is no failure of the
// service.
func TestDamagedAndGivenUp(t *testing.T) {
	s, c := newService(t)
	if _, _, err := c.Locationforecast(context.Background(), 52.1, 5.18, 2); err != nil {
		t.Fatal(err)
	}
	names, err := filepath.Glob(filepath.Join(c.Dir, "*"))
	if err != nil || len(names) != 1 {
		t.Fatalf("%v %v", names, err)
	}
	if err := os.WriteFile(names[0], []byte("{"), 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, _, err := c.Locationforecast(ctx, 52.1, 5.18, 2); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	if _, _, err := c.Locationforecast(context.Background(), 52.1, 5.18, 2); err != nil || len(s.asked) != 2 {
		t.Errorf("%v, asked %d times", err, len(s.asked))
	}
}
