package tunnel

import (
	"math"
	"testing"
)

func TestSetPoints(t *testing.T) {
	rate := func(temp, rh float64) float64 { return rh }
	got := SetPoints([]float64{20, 25}, []float64{30, 60, 75, 90}, rate)
	if len(got) != 8 || got[4].Temp != 25 || got[4].RH != 30 || got[5].Mildew != 60 {
		t.Fatalf("%+v", got)
	}
	for i, p := range got {
		if i%4 > 0 && !(p.Open > got[i-1].Open && p.Water < got[i-1].Water && p.VPD < got[i-1].VPD) {
			t.Errorf("moister air must open pores and save water: %+v", p)
		}
	}
	// Growers say that at 30 to 35 % "the plants crawl" (common practice, no
	// source): at 25 °C the pores are open by little more than half.
	if p := got[4]; p.Open > 0.65 || p.Water < 1.4 {
		t.Errorf("%+v", p)
	}
	// At the usual deficit both are 1 (by definition).
	d := 100 * (1 - 0.8/3.1678)
	if p := SetPoints([]float64{25}, []float64{d}, rate)[0]; math.Abs(p.Open-1) > 1e-3 || math.Abs(p.Water-1) > 1e-3 {
		t.Errorf("%+v", p)
	}
}
