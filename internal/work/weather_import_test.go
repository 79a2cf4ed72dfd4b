package work_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"oidium/garden"
	"oidium/internal/work"
	"oidium/weather/read"
)

// A file that comes in without its temperature says so, whatever else it holds,
// and names the column that was not recognised.
func TestAFileWithoutTemperatureSaysSo(t *testing.T) {
	const file = "time,quicksilver,humidity\n2000-07-01T00:00Z,15,80\n2000-07-01T01:00Z,16,81\n"
	read1 := func(a read.Options) *work.WeatherImport {
		t.Helper()
		r, _, err := work.ReadWeather(strings.NewReader(file), entries(t), day(t, "2000-07-06").At(12, time.UTC), work.WeatherFile{Name: "x.csv", Answers: a})
		return must(t, r, err)
	}
	cold := func(r *work.WeatherImport) bool {
		return slices.ContainsFunc(r.Warnings, func(w garden.Warning) bool { return w.Code == "weather-no-temperature" })
	}
	r := read1(read.Options{})
	if !cold(r) || !strings.Contains(strings.Join(r.Understood, "\n"), `"quicksilver"`) {
		t.Errorf("warnings %v; understood %q", r.Warnings, r.Understood)
	}
	r = read1(read.Options{Columns: map[string]string{"temperature": "quicksilver"}, Units: map[string]string{"temperature": "C"}})
	if cold(r) || r.Quantities[0].Measured != 2 {
		t.Errorf("warnings %v; %+v", r.Warnings, r.Quantities)
	}
}
