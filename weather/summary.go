package weather

import (
	"math"

	"oidium/sun"
)

// DaySummary is what a day of weather meant for leaves. What is not known is NaN.
type DaySummary struct {
	Daily
	Mean         float64    // mean temperature, °C
	RHMin, RHMax float64    // %
	VPD, VPDMax  float64    // saturation deficit of the air, mean and largest, kPa
	WetHours     int        // hours in which leaves were wet, known hours only
	ET0          float64    // water use of short grass, mm
	ET0Top       float64    // largest in an hour, mm
	DayLength    float64    // hours of sun above a flat horizon
	LeafMax      float64    // warmest hour of a leaf on top of the canopy, °C
	DewHours     int        // hours in which such a leaf was below the dew point
	Seen         [NVars]int // hours of each quantity that rest on a measurement
}

// Summarise returns the whole days of s (see [DaysOf]) with what follows from
// their hours, at the place and altitude (m) given, under the wetness rule w.
func Summarise(s *Series, lat, lon, alt float64, w Wetness) []DaySummary {
	days := DaysOf(s, lon)
	out := make([]DaySummary, len(days))
	ra := sun.ExtraterrestrialHours(s.Start, s.Len(), lat, lon)
	wet := w.hours(s)
	water := et0Hours(s, lat, lon, alt)
	clearness := nightClear.V
	for k, d := range days {
		i := s.Index(solarStart(d.Date, lon))
		j := min(i+24, s.Len())
		sum := DaySummary{Daily: d, DayLength: sun.DayLength(lat, d.Date), ET0: d.et0(lat, alt), RHMin: math.NaN(), RHMax: math.NaN(), ET0Top: math.NaN(), LeafMax: math.NaN()}
		var temp, vpd tally
		for h := max(i, 0); h < j; h++ {
			for v := range s.F {
				if s.F[v][h].Seen() {
					sum.Seen[v]++
				}
			}
			if wet[h] {
				sum.WetHours++
			}
			sum.ET0Top = -least(-sum.ET0Top, -water[h])
			t, rh := float64(s.V[Temp][h]), float64(s.V[RH][h])
			temp.add(t)
			if x := VPD(t, rh); x == x {
				vpd.add(x)
				sum.VPDMax = math.Max(sum.VPDMax, x)
				sum.RHMin, sum.RHMax = least(sum.RHMin, rh), -least(-sum.RHMax, -rh)
			}
			clearness = sum.leafHour(s, h, ra[h]*clearShare(alt), clearness)
		}
		sum.Mean, sum.VPD = temp.mean(), vpd.mean()
		if vpd.n == 0 {
			sum.VPDMax = math.NaN()
		}
		out[k] = sum
	}
	return out
}

// leafHour adds the hour h of a leaf on top of the canopy and returns how clear
// the sky is, kept through the night; clear is the radiation under a clear sky.
func (d *DaySummary) leafHour(s *Series, h int, clear, clearness float64) float64 {
	t, rh, u, rad := float64(s.V[Temp][h]), float64(s.V[RH][h]), float64(s.V[Wind][h]), float64(s.V[Rad][h])
	const low = 100 // assumption: W/m² below which the sun says little of the sky
	if clear > low && rad == rad {
		clearness = math.Min(1, rad/clear)
	}
	l := atLeaf(t, rh, u, rad, skyLongwave(t, VapourPressure(t, rh), cloudCover(clearness)), 1)
	if l.temp == l.temp {
		d.LeafMax = -least(-d.LeafMax, -l.temp)
		if l.vpd < 0 {
			d.DewHours++
		}
	}
	return clearness
}

// least returns the smaller of two numbers, the other one where one is NaN.
func least(a, b float64) float64 {
	if a != a || b < a {
		return b
	}
	return a
}

func (t *tally) mean() float64 {
	if t.n == 0 {
		return math.NaN()
	}
	return t.sum / float64(t.n)
}
