package weather

import "math"

// DaysOf returns the whole days of s on the solar clock of the longitude lon.
// A day counts when at least 20 of its hours have a temperature; what fewer
// than 20 hours know of it is NaN.
func DaysOf(s *Series, lon float64) []Daily {
	if s.Len() == 0 {
		return nil
	}
	var out []Daily
	for i := 0; i < s.Len(); {
		d := solarDate(s.Time(i), lon)
		j := min(s.Index(solarStart(d+1, lon)), s.Len())
		if day, ok := dayOf(s, i, j); ok {
			day.Date = d
			out = append(out, day)
		}
		i = j
	}
	return out
}

// dayHours is how many hours of a day must be known.
const dayHours = 20

// dayOf sums up the hours i to j of s.
func dayOf(s *Series, i, j int) (Daily, bool) {
	d := Daily{Tmin: math.Inf(1), Tmax: math.Inf(-1), Dew: math.NaN()}
	var n [NVars]int
	var sum [NVars]float64
	var nEA int
	var ea float64
	for k := i; k < j; k++ {
		for v := range NVars {
			if s.F[v][k] != Missing {
				n[v]++
				sum[v] += float64(s.V[v][k])
			}
		}
		if s.F[Temp][k] == Missing {
			continue
		}
		t := float64(s.V[Temp][k])
		d.Tmin, d.Tmax = math.Min(d.Tmin, t), math.Max(d.Tmax, t)
		if s.F[RH][k] != Missing {
			nEA++
			ea += VapourPressure(t, float64(s.V[RH][k]))
		}
	}
	if n[Temp] < dayHours {
		return d, false
	}
	if nEA >= dayHours && ea > 0 {
		d.Dew = DewPoint(ea / float64(nEA))
	}
	whole := func(v Var, x float64) float64 {
		if n[v] < dayHours {
			return math.NaN()
		}
		return x / float64(n[v])
	}
	d.Rain = whole(Rain, sum[Rain]) * float64(j-i)
	d.Wind = whole(Wind, sum[Wind])
	d.Rad = whole(Rad, sum[Rad]) * dayMJ
	return d, true
}
