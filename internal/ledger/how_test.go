package ledger

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"oidium/weather"
)

// A measured value holds before a derived one and that before a filled one, and
// among equals the later written, in whatever order the lines came.
func TestHowValuesCameAbout(t *testing.T) {
	line := func(id, written, how, values string) Entry {
		t.Helper()
		if how != "" {
			how = `"how":"` + how + `",`
		}
		e, err := ParseLine([]byte(`{"id":"00dcfa3d-0113-7000-8000-00000000000`+id+`","kind":"weather","v":1,"time":"2000-07-06T00:00:00Z","written":"2000-07-06T0`+written+`:00:00Z","body":{`+how+`"rh":[`+values+`],"start":"2000-07-06T00:00:00Z","station":"shed"}}`), Vocabulary{})
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	entries := []Entry{
		line("1", "5", "", "60,null,null,null"),
		line("2", "6", "", "61,null,null,null"),
		line("3", "7", "derived", "70,71,null,null"),
		line("4", "7", "measured", "null,null,null,64"),
		line("5", "8", "filled", "80,81,82,83"),
	}
	want := []float32{61, 71, 82, 64}
	flags := []weather.Flag{weather.Measured, weather.Derived, weather.Filled, weather.Measured}
	for _, order := range [][]int{{0, 1, 2, 3, 4}, {4, 3, 2, 1, 0}, {2, 4, 0, 3, 1}} {
		var in []Entry
		for _, i := range order {
			in = append(in, entries[i])
		}
		out, err := WeatherAt(in, time.Date(2000, 7, 7, 0, 0, 0, 0, time.UTC))
		if err != nil {
			t.Fatal(err)
		}
		s := out.Records[0].Series
		if d := cmp.Diff(want, s.V[weather.RH]) + cmp.Diff(flags, s.F[weather.RH]); d != "" {
			t.Errorf("order %v: %s", order, d)
		}
	}
}
