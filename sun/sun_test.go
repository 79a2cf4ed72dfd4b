package sun

import (
	"math"
	"testing"
	"time"

	"oidium/garden"

	"pgregory.net/rapid"
)

func on(y int, m time.Month, d int) garden.Day {
	return garden.DayOf(time.Date(y, m, d, 0, 0, 0, 0, time.UTC))
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.5f, want %.5f ± %g", what, got, want, tol)
	}
}

// NREL/TP-560-34302 (Reda & Andreas), worked example 2003-10-17 12:30:30 at
// UTC-7; zenith without refraction 50.12795 and azimuth 194.34024 as in the
// public ports of that report. With refraction the report gives 50.11162.
func TestPositionAgainstWorkedExample(t *testing.T) {
	at := time.Date(2003, 10, 17, 19, 30, 30, 0, time.UTC)
	el, az := Position(at, 39.742476, -105.1786)
	near(t, "zenith without refraction", 90-el, 50.12795, 0.005)
	near(t, "zenith with refraction", 90-el, 50.11162, 0.02)
	near(t, "azimuth", az, 194.34024, 0.01)
	_, eot := ephemeris(at)
	near(t, "equation of time", eot, 14.641, 0.02) // SPA 14.641503
}

// Meeus 1998, example 25.a: 1992-10-13 0h.
func TestDeclinationAgainstMeeus(t *testing.T) {
	decl, _ := ephemeris(time.Date(1992, 10, 13, 0, 0, 0, 0, time.UTC))
	near(t, "declination", decl, -7.78507, 0.001)
}

// Times of the NREL algorithm as asserted in public test suites. Those suites
// take the setting that falls on the date in UTC: at 105° W it is the evening
// before, by the clock of the place, so it is compared with the day before.
// (Against the named date the setting differs by 63 and 88 s, inside the 90 s
// of the check table.)
func TestRiseNoonSet(t *testing.T) {
	mst := time.FixedZone("MST", -7*3600)
	for _, c := range []struct {
		day            string
		lat, lon       float64
		zone           *time.Location
		rise, noon, st string
	}{
		{"2015-01-02", 39.742476, -105.1786, mst, "07:21:55", "12:04:45", "16:47:43"},
		{"2015-08-02", 39.742476, -105.1786, mst, "05:00:27", "12:06:58", ""},
		{"2015-08-01", 39.742476, -105.1786, mst, "", "", "19:13:58"},
		{"2003-10-17", 39.742476, -105.1786, mst, "06:12:43", "", ""},
		{"2003-10-16", 39.742476, -105.1786, mst, "", "", "17:20:19"},
		{"1996-07-05", -35, 0, time.UTC, "07:08:15", "12:04:36", "17:01:04"},
		// NOAA-class routine of the science notes for De Bilt.
		{"2000-06-21", 52.1, 5.18, time.UTC, "03:18:36", "", "20:03:42"},
		{"2000-12-21", 52.1, 5.18, time.UTC, "07:45:54", "", "15:29:12"},
	} {
		d, err := garden.ParseDay(c.day)
		if err != nil {
			t.Fatal(err)
		}
		l := RiseSet(d, c.lat, c.lon)
		for _, e := range []struct {
			what string
			got  time.Time
			want string
		}{{"rise", l.Rise, c.rise}, {"noon", l.Noon, c.noon}, {"set", l.Set, c.st}} {
			if e.want == "" {
				continue
			}
			want, err := time.ParseInLocation("2006-01-02 15:04:05", c.day+" "+e.want, c.zone)
			if err != nil {
				t.Fatal(err)
			}
			if d := e.got.Sub(want).Seconds(); math.Abs(d) > 15 {
				t.Errorf("%s %s: off by %.0f s", c.day, e.what, d)
			}
		}
	}
}

func TestDayLength(t *testing.T) {
	near(t, "De Bilt, solstice", DayLength(52.1, on(2000, 6, 21)), 16.75, 0.02)
	near(t, "De Bilt, equinox", DayLength(52.1, on(2000, 3, 20)), 12.19, 0.02)
	near(t, "De Bilt, winter", DayLength(52.1, on(2000, 12, 21)), 7.72, 0.02)
	near(t, "polar day", DayLength(70, on(2000, 6, 21)), 24, 0)
	near(t, "polar night", DayLength(70, on(2000, 12, 21)), 0, 0)
	near(t, "pole, summer", DayLength(90, on(2000, 6, 21)), 24, 0)
	near(t, "south pole, summer", DayLength(-90, on(2000, 6, 21)), 0, 0)
}

// RiseSet agrees with Position: at rising and setting the centre stands 0.833°
// below the horizon, and at noon the sun is due south or north.
func TestRiseSetAgreesWithPosition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-64, 64).Draw(t, "lat")
		lon := rapid.Float64Range(-180, 180).Draw(t, "lon")
		d := on(2000, 1, 1) + garden.Day(rapid.IntRange(0, 9000).Draw(t, "day"))
		l := RiseSet(d, lat, lon)
		for _, x := range []time.Time{l.Rise, l.Set} {
			if el, _ := Position(x, lat, lon); math.Abs(el+0.833) > 0.02 {
				t.Fatalf("elevation %.4f at %v", el, x)
			}
		}
		top, _ := Position(l.Noon, lat, lon)
		before, _ := Position(l.Noon.Add(-10*time.Minute), lat, lon)
		after, _ := Position(l.Noon.Add(10*time.Minute), lat, lon)
		if top < before-0.001 || top < after-0.001 {
			t.Fatalf("noon is not the top: %.4f %.4f %.4f", before, top, after)
		}
		if diff := math.Abs(l.Hours - DayLength(lat, garden.DayOf(l.Noon))); diff > 0.1 {
			t.Fatalf("length %.3f h, day length %.3f h", l.Hours, DayLength(lat, garden.DayOf(l.Noon)))
		}
	})
}

func TestMeanClockAgreesWithRiseSet(t *testing.T) {
	for lat := -60.0; lat <= 60; lat += 15 {
		for k := range garden.Day(36) {
			d := on(2001, 1, 1) + 10*k
			l := RiseSet(d, lat, 0)
			rise, set := MeanClock(d, lat)
			midnight := d.At(0, time.UTC)
			near(t, "rise", rise, l.Rise.Sub(midnight).Hours(), 0.17)
			near(t, "set", set, l.Set.Sub(midnight).Hours(), 0.17)
		}
	}
	rise, set := MeanClock(on(2001, 6, 21), 80)
	near(t, "polar day", set-rise, 24, 0)
}

// A year mirrored in the equator: the day six months on has the same length
// within the slow change of the date of the solstices.
func TestSouthernMirror(t *testing.T) {
	for lat := 0.0; lat <= 60; lat += 10 {
		n := DayLength(lat, on(2001, 6, 21))
		s := DayLength(-lat, on(2001, 12, 21))
		near(t, "solstice", n, s, 0.01)
		// The southern summer has the nearer sun: FAO's dr differs by 6.6 %.
		r := Extraterrestrial(on(2001, 12, 21), -lat) / Extraterrestrial(on(2001, 6, 21), lat)
		if lat < 60 {
			near(t, "southern summer radiation", r, 1.067, 0.01)
		}
	}
}

func onDay(j int) garden.Day { return on(2001, 1, 1) + garden.Day(j-1) }

// FAO-56 examples 8, 9 and table of Ra at mid-month (science notes A.1).
func TestExtraterrestrial(t *testing.T) {
	near(t, "Ra ex. 8", Extraterrestrial(onDay(246), -20), 32.19, 0.05)
	near(t, "N ex. 9", PossibleSunshine(onDay(246), -20), 11.67, 0.05)
	near(t, "Ra ex. 10", Extraterrestrial(onDay(135), -22.9), 25.1, 0.1)
	near(t, "N ex. 10", PossibleSunshine(onDay(135), -22.9), 10.9, 0.05)
	near(t, "Ra ex. 17", Extraterrestrial(onDay(105), 13.73), 38.06, 0.02)
	near(t, "Ra ex. 18", Extraterrestrial(onDay(187), 50.8), 41.09, 0.02)
	mid := []int{15, 46, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344}
	for lat, row := range map[float64][]float64{
		50: {8.9, 14.4, 22.5, 31.5, 38.5, 41.6, 40.0, 34.1, 25.6, 16.8, 10.3, 7.7},
		52: {7.7, 13.2, 21.5, 30.8, 38.2, 41.5, 39.7, 33.5, 24.6, 15.7, 9.1, 6.5},
		40: {15.0, 20.4, 27.5, 34.7, 39.7, 41.7, 40.6, 36.5, 29.9, 22.5, 16.4, 13.8},
		38: {16.2, 21.5, 28.4, 35.2, 39.9, 41.7, 40.7, 36.8, 30.7, 23.5, 17.6, 15.0},
	} {
		for i, want := range row {
			near(t, "Ra table", Extraterrestrial(onDay(mid[i]), lat), want, 0.06)
		}
	}
}

// FAO-56 example 19: N'Diaye, 1 October, 14 to 15 h on the clock of 15° W,
// Ra 3.543 MJ/m² in the hour.
func TestExtraterrestrialHour(t *testing.T) {
	start := time.Date(2001, 10, 1, 15, 0, 0, 0, time.UTC)
	got := ExtraterrestrialHours(start, 1, 16.22, -16.25)[0] * 3600e-6
	near(t, "Ra ex. 19", got, 3.543, 0.01)
}

// Twenty-four hours add up to the day, polar day included.
func TestHoursSumToDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-90, 90).Draw(t, "lat")
		lon := rapid.Float64Range(-180, 180).Draw(t, "lon")
		d := on(2001, 1, 1) + garden.Day(rapid.IntRange(0, 364).Draw(t, "day"))
		// The solar day of d starts at local mean midnight.
		start := d.At(0, time.UTC).Add(minutes(-4 * lon))
		sum := 0.0
		for _, h := range ExtraterrestrialHours(start, 24, lat, lon) {
			if h < 0 {
				t.Fatalf("negative radiation %v", h)
			}
			sum += h * 3600e-6
		}
		// The true sun is up to 16 min off the clock, so that near a polar
		// night a sliver may fall on the other day.
		if want := Extraterrestrial(d, lat); math.Abs(sum-want) > 0.02+0.002*want {
			t.Fatalf("hours %.4f, day %.4f", sum, want)
		}
	})
}

// Haurwitz 1945 as asserted in the public test values of pvlib.
func TestClearSky(t *testing.T) {
	for el, want := range map[float64]float64{5: 48.630, 10: 135.742, 30: 487.894, 50: 778.767, 90: 1035.092} {
		near(t, "clear sky", ClearSky(el), want, 0.01)
	}
	near(t, "below the horizon", ClearSky(-3), 0, 0)
}

func TestClearDay(t *testing.T) {
	near(t, "share", ClearDay(onDay(172), 52)/Extraterrestrial(onDay(172), 52), 0.705, 1e-12)
}
