package command_test

import (
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// The scripts in testdata/weather are what a person types about weather and what
// comes back. Forecasts come from a server on this machine with answers made up
// from the descriptions of the services; nothing here was tried on a live one.
func TestWeatherScripts(t *testing.T) {
	server := httptest.NewServer(http.HandlerFunc(serve))
	t.Cleanup(server.Close) // the scripts run beside each other, after this function
	if testing.Short() {
		t.Skip("the scripts run whole rounds; they are left to the run without -short")
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/weather",
		Setup: func(e *testscript.Env) error {
			e.Setenv("SERVER", server.URL)
			e.Setenv("OIDIUM_FORECAST_SERVER", server.URL)
			e.Setenv("OIDIUM_CLOCK", "2001-06-01T05:30:00Z")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			// hours FILE FROM N writes N hours of a station from the day FROM on.
			"hours": func(ts *testscript.TestScript, _ bool, args []string) {
				from, err := time.Parse(time.DateOnly, args[1])
				ts.Check(err)
				n, err := strconv.Atoi(args[2])
				ts.Check(err)
				ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(made(from, n)), 0o600))
			},
			// typical FILE LAT LON writes a typical year.
			"typical": func(ts *testscript.TestScript, _ bool, args []string) {
				ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(typicalYear(args[1], args[2])), 0o600))
			},
			// sparse FILE BYTES makes a file that says it is so large.
			"sparse": func(ts *testscript.TestScript, _ bool, args []string) {
				n, err := strconv.ParseInt(args[1], 10, 64)
				ts.Check(err)
				f, err := os.Create(ts.MkAbs(args[0]))
				ts.Check(err)
				ts.Check(f.Truncate(n))
				ts.Check(f.Close())
			},
			// columns80 fails where a line of the last output is wider than 80.
			"columns80": func(ts *testscript.TestScript, _ bool, _ []string) {
				for _, l := range strings.Split(ts.ReadFile("stdout"), "\n") {
					if n := len([]rune(l)); n > 80 {
						ts.Fatalf("a line of %d columns: %s", n, l)
					}
				}
			},
		},
	})
}

// made is the weather of a place that does not exist.
func made(from time.Time, n int) string {
	var b strings.Builder
	b.WriteString("time,temperature C,humidity %,rain mm,wind m/s,radiation W/m2\n")
	for i := range n {
		t := from.Add(time.Duration(i) * time.Hour)
		day := float64(i / 24)
		sun := math.Max(0, math.Sin(2*math.Pi*(float64(t.Hour())-5.5)/24))
		fmt.Fprintf(&b, "%s,%.1f,%.0f,%.1f,%.1f,%.0f\n", t.Add(time.Hour).Format("2006-01-02T15:04Z"),
			14+2*math.Sin(day)+6*math.Sin(2*math.Pi*(float64(t.Hour())-9)/24), 75-20*math.Sin(2*math.Pi*(float64(t.Hour())-9)/24)+3*math.Cos(day),
			math.Max(0, math.Round(3*math.Sin(day*1.7+float64(t.Hour())/9)-2)), 1.5+sun+0.3*math.Sin(float64(i)), 700*sun*(0.6+0.3*math.Sin(day)))
	}
	return b.String()
}

func typicalYear(lat, lon string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "LOCATION,Nowhere,-,NOW,made,000000,%s,%s,1.0,2.0\n", lat, lon)
	for i := range 7 {
		fmt.Fprintf(&b, "HEAD %d\n", i)
	}
	start := time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC)
	for i := range 8760 {
		t := start.Add(time.Duration(i) * time.Hour)
		f := make([]string, 35)
		for k := range f {
			f[k] = "0"
		}
		season := -math.Cos(2 * math.Pi * float64(t.YearDay()-20) / 365)
		f[0], f[1], f[2], f[3], f[4] = "1999", strconv.Itoa(int(t.Month())), strconv.Itoa(t.Day()), strconv.Itoa(t.Hour()+1), "60"
		f[6], f[8], f[21], f[33] = fmt.Sprintf("%.1f", 10+9*season+4*math.Sin(2*math.Pi*float64(t.Hour()-9)/24)), "78", "3.0", "0.1"
		f[13] = fmt.Sprintf("%.0f", math.Max(0, 200*(1.5+season)*math.Sin(2*math.Pi*(float64(t.Hour())-6)/24)))
		b.WriteString(strings.Join(f, ",") + "\n")
	}
	return b.String()
}

// serve answers as the two services do, by their descriptions.
func serve(w http.ResponseWriter, r *http.Request) {
	switch {
	case !strings.Contains(r.UserAgent(), "grower@"):
		http.Error(w, "who are you?", http.StatusForbidden)
	case strings.HasPrefix(r.URL.Path, "/down"):
		http.Error(w, "come back later", http.StatusServiceUnavailable)
	case strings.HasPrefix(r.URL.Path, "/points/"):
		fmt.Fprintf(w, `{"properties":{"forecastGridData":"http://%s/gridpoints/NOW/1,2"}}`, r.Host)
	case strings.HasPrefix(r.URL.Path, "/gridpoints/"):
		fmt.Fprint(w, `{"geometry":{"type":"Point","coordinates":[5.18,52.1]},"properties":{"updateTime":"2001-06-01T03:42:10+00:00",
"temperature":{"uom":"wmoUnit:degC","values":[{"validTime":"2001-06-01T04:00:00+00:00/P1D","value":15},{"validTime":"2001-06-02T04:00:00+00:00/P1D","value":18}]},
"relativeHumidity":{"uom":"wmoUnit:percent","values":[{"validTime":"2001-06-01T04:00:00+00:00/P2D","value":80}]}}}`)
	case r.URL.Query().Get("lat") != "":
		var rows []string
		start := time.Date(2001, 6, 1, 4, 0, 0, 0, time.UTC)
		for i := range 60 {
			rows = append(rows, fmt.Sprintf(`{"time":%q,"data":{"instant":{"details":{"air_temperature":%.1f,"relative_humidity":80,"wind_speed":3,"cloud_area_fraction":50}},"next_1_hours":{"details":{"precipitation_amount":0.1}}}}`,
				start.Add(time.Duration(i)*time.Hour).Format(time.RFC3339), 24+6*math.Sin(2*math.Pi*float64(i-5)/24)))
		}
		w.Header().Set("Expires", time.Date(2001, 6, 1, 6, 0, 0, 0, time.UTC).Format(http.TimeFormat))
		fmt.Fprintf(w, `{"type":"Feature","geometry":{"type":"Point","coordinates":[%s,%s,2]},"properties":{"meta":{"updated_at":"2001-06-01T03:42:10Z"},"timeseries":[%s]}}`,
			r.URL.Query().Get("lon"), r.URL.Query().Get("lat"), strings.Join(rows, ",\n"))
	default:
		http.NotFound(w, r)
	}
}
