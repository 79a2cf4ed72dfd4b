package tunnel_test

import (
	"fmt"
	"math"
	"time"

	"oidium/tunnel"
	"oidium/weather"
)

// A sunny day outside, closed and aired.
func ExampleInside() {
	out := weather.NewSeries(time.Date(2001, 6, 21, 0, 0, 0, 0, time.UTC), 24)
	for h := range 24 {
		out.Set(weather.Temp, h, 18, weather.Measured)
		out.Set(weather.RH, h, 60, weather.Measured)
		out.Set(weather.Wind, h, 2, weather.Measured)
		out.Set(weather.Rain, h, 0, weather.Measured)
		out.Set(weather.Rad, h, math.Max(0, 800*math.Sin(math.Pi*float64(h-4)/16)), weather.Measured)
	}
	for _, vents := range []string{"closed", "day"} {
		in := tunnel.Inside(out, 52, 0, tunnel.Params{Vents: vents, Cropped: true})
		fmt.Printf("%s: noon %.0f °C, midnight %.0f %%\n", vents, in.V[weather.Temp][12], in.V[weather.RH][0])
	}
	// Output:
	// closed: noon 32 °C, midnight 86 %
	// day: noon 22 °C, midnight 86 %
}
