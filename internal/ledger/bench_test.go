package ledger

import (
	"fmt"
	"strings"
	"testing"
)

// manyLines are the lines of a full season of twelve beds: 400 looks and actions
// and 180 days of hourly weather.
func manyLines() []string {
	var out []string
	for b := range 12 {
		out = append(out, line(1000+b, "bed", fmt.Sprintf("b%d", b), `{"length_m":10,"width_m":1.2}`))
	}
	counts := strings.Repeat(`{"plant":1,"age":"old","face":"lower","inspected":10,"infected":2},`, 11) + `{"plant":2,"age":"old","face":"lower","inspected":10,"infected":2}`
	for n := range 400 {
		out = append(out, line(n, "tally", fmt.Sprintf("b%d", n%12), `{"counts":[`+counts+`]}`))
	}
	hours := strings.Repeat("12.5,", 23) + "13"
	for d := range 180 {
		at := fmt.Sprintf("2000-%02d-%02dT00:00:00Z", 1+d/28, 1+d%28)
		out = append(out, line(2000+d, "weather", "", `{"start":"`+at+`","t":[`+hours+`],"rh":[`+hours+`],"wind":[`+hours+`],"rain":[`+hours+`],"rad":[`+hours+`]}`))
	}
	return out
}

func BenchmarkRead(b *testing.B) {
	all := strings.Join(manyLines(), "\n")
	b.SetBytes(int64(len(all)))
	for b.Loop() {
		if _, ps, err := Read(strings.NewReader(all), vocabulary); err != nil || len(ps) > 0 {
			b.Fatal(ps, err)
		}
	}
}

func BenchmarkFold(b *testing.B) {
	entries := parse(b, manyLines()...)
	for b.Loop() {
		if _, err := Fold(entries, at("2000-10-01T00:00:00Z")); err != nil {
			b.Fatal(err)
		}
		if _, err := WeatherAt(entries, at("2000-10-01T00:00:00Z")); err != nil {
			b.Fatal(err)
		}
	}
}
