package weather

import (
	"math"
	"testing"
	"time"

	"oidium/garden"
	"oidium/sun"

	"pgregory.net/rapid"
)

func onDay(j int) garden.Day {
	return garden.DayOf(time.Date(2001, 1, j, 0, 0, 0, 0, time.UTC))
}

// FAO-56, table 2.3 and 2.4 and the worked examples 2 to 6. 1.70535 and 3.07465
// are the values of the public NCL documentation of the same curve.
func TestMoistureAgainstFAO(t *testing.T) {
	for temp, want := range map[float64]float64{1: 0.657, 5: 0.872, 10: 1.228, 15: 1.705, 20: 2.338, 25: 3.168, 30: 4.243, 35: 5.623, 40: 7.376, 45: 9.582, 48: 11.163} {
		near(t, "saturation", SaturationVP(temp), want, 0.001)
	}
	near(t, "e0(20)", SaturationVP(20), 2.3383, 0.0005)
	near(t, "e0(15)", SaturationVP(15), 1.70535, 1e-5)
	near(t, "e0(24.5)", SaturationVP(24.5), 3.07465, 1e-5)
	for temp, want := range map[float64]float64{1: 0.0474, 10: 0.0823, 20: 0.1447, 30: 0.2434, 40: 0.3931} {
		near(t, "slope", slope(temp), want, 5e-5)
	}
	near(t, "ex. 2 pressure", pressure(1800), 81.8, 0.05)
	near(t, "ex. 2 gamma", psychrometric(pressure(1800)), 0.054, 0.0005)
	near(t, "ex. 3 es", (SaturationVP(24.5)+SaturationVP(15))/2, 2.39, 0.005)
	near(t, "ex. 4 ea", WetBulb(25.6, 19.5, 1200), 1.91, 0.005)
	ea := (VapourPressure(18, 82) + VapourPressure(25, 54)) / 2
	near(t, "ex. 5 ea", ea, 1.70, 0.005)
	near(t, "ex. 6 deficit", (SaturationVP(18)+SaturationVP(25))/2-ea, 0.91, 0.005)
	near(t, "dew point of 1.7053 kPa", DewPoint(1.7053), 15.00, 0.01)
	near(t, "dew point of 25 °C at 60 %", DewPoint(VapourPressure(25, 60)), 16.70, 0.01)
	near(t, "ex. 14 wind", WindAt2m(3.2, 10), 2.4, 0.05)
	// RH 90 % as a dew point depression (science notes A.5, computed there).
	for temp, want := range map[float64]float64{15: 1.63, 20: 1.69, 25: 1.76} {
		near(t, "depression at 90 %", temp-DewPoint(VapourPressure(temp, 90)), want, 0.01)
	}
	if !math.IsInf(DewPoint(0), -1) || RHFrom(20, 9) != 100 {
		t.Error("edges of the moisture functions")
	}
}

// Dew point and saturation are one curve, so that round trips are exact.
func TestDewPointInvertsSaturation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		temp := rapid.Float64Range(-40, 60).Draw(t, "t")
		rh := rapid.Float64Range(1, 100).Draw(t, "rh")
		dew := DewPoint(VapourPressure(temp, rh))
		if dew > temp+1e-9 || math.Abs(RHFrom(temp, SaturationVP(dew))-rh) > 1e-9 {
			t.Fatalf("dew point %v", dew)
		}
		if VPD(temp, rh) < 0 {
			t.Fatal("negative deficit")
		}
	})
}

// FAO-56, examples 10, 11, 12, 15.
func TestRadiationAgainstFAO(t *testing.T) {
	d := onDay(135)
	n := 220.0 / 31 / sun.PossibleSunshine(d, -22.9)
	near(t, "ex. 10 Rs", RadFromSunshine(n, sun.Extraterrestrial(d, -22.9)), 14.45, 0.02)
	fourth := (fourthPower(25.1) + fourthPower(19.1)) / 2
	rnl := netLongwave(fourth, 2.1, 14.5/18.8)
	near(t, "ex. 11 Rnl", rnl, 3.53, 0.05)
	near(t, "ex. 12 Rn", (1-grassAlbedo.V)*14.5-rnl, 7.6, 0.05)
	near(t, "ex. 15 Lyon", hargreaves(14.8, 26.6, 40.6), 22.3, 0.05)
}

// FAO-56, example 17 (Bangkok, April, G 0.14) and 18 (Uccle, 6 July).
func TestDailyET0AgainstFAO(t *testing.T) {
	d := Daily{Date: onDay(105), Tmin: 25.6, Tmax: 34.8, Wind: 2}
	ra := sun.Extraterrestrial(d.Date, 13.73)
	d.Rad = RadFromSunshine(8.5/sun.PossibleSunshine(d.Date, 13.73), ra)
	near(t, "ex. 17 Rs", d.Rad, 22.65, 0.02)
	near(t, "ex. 17 Rso", clearShare(2)*ra, 28.54, 0.02)
	rn := d.net(2.85, d.Rad/(clearShare(2)*ra))
	near(t, "ex. 17 Rn", rn, 14.33, 0.01)
	es := (SaturationVP(25.6) + SaturationVP(34.8)) / 2
	near(t, "ex. 17 ET0", penman(30.2, es, 2.85, 2, rn, 0.14, psychrometric(pressure(2)), 900), 5.72, 0.01)

	u := WindAt2m(2.78, 10)
	near(t, "ex. 18 wind", u, 2.079, 0.002)
	d = Daily{Date: onDay(187), Tmin: 12.3, Tmax: 21.5, Wind: u, Dew: DewPoint((VapourPressure(12.3, 84) + VapourPressure(21.5, 63)) / 2)}
	ra = sun.Extraterrestrial(d.Date, 50.8)
	d.Rad = RadFromSunshine(9.25/sun.PossibleSunshine(d.Date, 50.8), ra)
	near(t, "ex. 18 ea", SaturationVP(d.Dew), 1.409, 0.001)
	near(t, "ex. 18 Rs", d.Rad, 22.07, 0.02)
	near(t, "ex. 18 Rso", clearShare(100)*ra, 30.90, 0.02)
	near(t, "ex. 18 Rn", d.net(1.409, d.Rad/(clearShare(100)*ra)), 13.28, 0.01)
	near(t, "ex. 18 ET0", d.et0(50.8, 100), 3.880, 0.005)
}

// FAO-56, example 19 (N'Diaye, 1 October; from memory, recomputed).
func TestHourlyET0AgainstFAO(t *testing.T) {
	near(t, "by day", et0Hour(38, 52, 3.3, 2.450, 2.450/2.658, 8), 0.63, 0.01)
	near(t, "by night", et0Hour(28, 90, 1.9, 0, 0.8, 8), 0.00, 0.01)
	// The same through a series, the sun worked out from place and hour.
	s := NewSeries(time.Date(2001, 10, 1, 15, 0, 0, 0, time.UTC), 1)
	for v, x := range map[Var]float64{Temp: 38, RH: 52, Wind: 3.3, Rad: 2.450 / 3600e-6} {
		s.Set(v, 0, x, Measured)
	}
	near(t, "series", et0Hours(s, 16.22, -16.25, 8)[0], 0.63, 0.01)
}

// Kim et al. 2002, calm branch, and the plain rule (science notes A.5).
func TestWetness(t *testing.T) {
	tree := Wetness{Calm: true}
	if !tree.Wet(20, 95, 1, 0) || tree.Wet(20, 80, 1, 0) {
		t.Error("calm branch at 20 °C: 95 % must be wet, 80 % dry")
	}
	if !tree.Wet(20, 91, 5, 0) || tree.Wet(20, 89, 5, 0) || !tree.Wet(-2, 95, 1, 0) {
		t.Error("in wind and frost the humidity decides")
	}
	var plain Wetness
	nan := math.NaN()
	for _, c := range []struct {
		t, rh, wind, rain float64
		want              bool
	}{
		{20, 90, 1, 0, true},
		{20, 89.9, 1, 0, false},
		{20, 50, 1, 0.2, true},
		{20, 50, 1, float64(float32(0.2)), true},
		{20, 50, 1, 0.1, false},
		{20, nan, nan, nan, false},
		{nan, 95, nan, nan, true},
	} {
		if got := plain.Wet(c.t, c.rh, c.wind, c.rain); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
	if (Wetness{RH: 85}).Wet(20, 86, 1, 0) != true || (Wetness{Rain: 1}).Wet(20, 50, 1, 0.5) != false {
		t.Error("tuned rule")
	}
}

// Parton & Logan 1981, coefficients of air at 150 cm (check row 16): Tmax 30,
// Tmin 10, sunrise at 5, sunset at 19.
func TestPartonLogan(t *testing.T) {
	c := dayCurve{10, 30, 5, 19}
	for h, want := range map[float64]float64{5: 10.60, 6: 14.12, 9: 23.48, 12: 29.11, 13.86: 29.99, 15: 29.46, 18: 24.44, 19: 21.77} {
		near(t, "by day", c.at(h), want, 0.02)
	}
	for n, want := range map[float64]float64{2: 17.58, 4: 14.88, 5: 13.92, 8: 12.03} {
		near(t, "by night", night(c.at(19), 10, n, 10), want, 0.02)
	}
}
