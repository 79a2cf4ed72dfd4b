package work

import (
	"testing"
	"time"

	"oidium/garden"
	"oidium/host"
	"oidium/mildew"
	"oidium/weather"
)

// Where the mildew of grape loses ground lies between the end of the published
// optimum, 21 to 30 °C (Peduto and others 2013), and the top of infection, 33 °C
// (Calonnec and others 2008). The bounds of the others are for order of size.
func TestLosesFrom(t *testing.T) {
	for _, crop := range []garden.CropID{"grape", "rose", "courgette", "tomato", "strawberry"} {
		c, ok := host.Get(crop)
		if !ok {
			t.Fatalf("no crop %s", crop)
		}
		for _, m := range mildew.Of(crop) {
			x, ok := losesFrom(c, m)
			t.Logf("%s: %s from %.0f °C (%v)", crop, m.Name, x, ok)
			if !ok || x < 27 || x > 41 {
				t.Errorf("%s loses ground from %.0f °C (%v)", m.Name, x, ok)
			}
			if crop == "grape" && (x < 30 || x > 33) {
				t.Errorf("%s loses ground from %.0f °C", m.Name, x)
			}
			if r := speedOf(c, m, x-1, heatRH).Rate; r <= 0 {
				t.Errorf("%s: at %.0f °C the rate is %v already", m.Name, x-1, r)
			}
		}
	}
}

func TestHoursFrom(t *testing.T) {
	start := time.Date(2001, 7, 1, 0, 0, 0, 0, time.UTC)
	w := weather.NewSeries(start, 5)
	for i, x := range []float64{33, 34, 20, 33, 40} {
		w.Set(weather.Temp, i, x, weather.Measured)
	}
	if n := hoursFrom(w, start.Add(time.Hour).Unix(), start.Add(4*time.Hour).Unix(), 33); n != 2 {
		t.Errorf("%d hours", n)
	}
}
