package read

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"time"

	"oidium/sun"
	"oidium/weather"
)

// jsonLimit is the largest answer of a forecast service that is read.
const jsonLimit = 8 << 20

func decodeJSON(r io.Reader, into any) error {
	b, err := io.ReadAll(io.LimitReader(r, jsonLimit+1))
	switch {
	case err != nil:
		return err
	case len(b) > jsonLimit:
		return fmt.Errorf("the answer is larger than %d MB", jsonLimit>>20)
	}
	if err := json.Unmarshal(b, into); err != nil {
		return fmt.Errorf("it is not the JSON expected: %w", err)
	}
	return nil
}

// knot is a value at an instant, or over the time up to end.
type knot struct {
	at, end time.Time
	x       float64
}

// at returns the value of knots at t: between instants linearly, NaN outside.
func between(k []knot, t time.Time) float64 {
	i, ok := slices.BinarySearchFunc(k, t, func(k knot, t time.Time) int { return k.at.Compare(t) })
	switch {
	case ok:
		return k[i].x
	case i == 0 || i == len(k):
		return math.NaN()
	}
	a, b := k[i-1], k[i]
	if b.at.Sub(a.at) > 6*time.Hour {
		return math.NaN() // a hole in the forecast
	}
	w := t.Sub(a.at).Hours() / b.at.Sub(a.at).Hours()
	return a.x + w*(b.x-a.x)
}

// holding returns the value of the knot whose time holds t, NaN where none does.
func holding(k []knot, t time.Time) (knot, bool) {
	i, ok := slices.BinarySearchFunc(k, t, func(k knot, t time.Time) int { return k.at.Compare(t) })
	if !ok {
		i--
	}
	if i < 0 || !t.Before(k[i].end) {
		return knot{}, false
	}
	return k[i], true
}

func sortKnots(k []knot) []knot {
	slices.SortStableFunc(k, func(a, b knot) int { return a.at.Compare(b.at) })
	return slices.CompactFunc(k, func(a, b knot) bool { return a.at.Equal(b.at) })
}

// spanOf bounds the hours of a forecast to what a forecast can be.
func spanOf(first, last time.Time) (time.Time, int, error) {
	hours := int(last.Sub(first).Hours())
	if hours < 1 || hours > 40*24 {
		return first, 0, fmt.Errorf("it covers %d hours from %s, which is no forecast", hours, first.Format(time.RFC3339))
	}
	return first.Truncate(time.Hour), hours + 1, nil
}

// forecastKnots is a forecast as a service gives it.
type forecastKnots struct {
	reading [weather.NVars][]knot // instants, or hold where end is later
	cloud   []knot                // share of the sky
	rain    []knot                // mm over each time
	holds   bool                  // readings hold over their time instead of at an instant
}

func (f *forecastKnots) series(lat, lon float64) (*weather.Series, error) {
	for v := range f.reading {
		f.reading[v] = sortKnots(f.reading[v])
	}
	f.cloud, f.rain = sortKnots(f.cloud), sortKnots(f.rain)
	temp := f.reading[weather.Temp]
	if len(temp) == 0 {
		return nil, errors.New("it holds no temperature")
	}
	last := temp[len(temp)-1].at
	if f.holds {
		last = temp[len(temp)-1].end
	}
	start, n, err := spanOf(temp[0].at, last)
	if err != nil {
		return nil, err
	}
	s := weather.NewSeries(start, n)
	for i := range n {
		h := s.Time(i)
		mid := h.Add(30 * time.Minute)
		for _, v := range []weather.Var{weather.Temp, weather.RH, weather.Wind} {
			x := f.value(f.reading[v], mid)
			if v == weather.Wind {
				x = weather.WindAt2m(x, 10)
			}
			f.set(s, v, i, x)
		}
		if k, ok := holding(f.rain, h); ok {
			f.set(s, weather.Rain, i, k.x/math.Max(1, k.end.Sub(k.at).Hours()))
		}
		up, _ := sun.Position(mid, lat, lon)
		f.set(s, weather.Rad, i, weather.RadFromCloud(f.value(f.cloud, mid), up))
	}
	// The last hour may have nothing but the instant at its start.
	for n > 0 && s.F[weather.Temp][n-1] == weather.Missing {
		n--
	}
	if n == 0 {
		return nil, errors.New("its readings are too far apart to make hours of them")
	}
	return s.Slice(s.Start, s.Time(n)), nil
}

func (f *forecastKnots) value(k []knot, t time.Time) float64 {
	if !f.holds {
		return between(k, t)
	}
	if x, ok := holding(k, t); ok {
		return x.x
	}
	return math.NaN()
}

func (f *forecastKnots) set(s *weather.Series, v weather.Var, i int, x float64) {
	if v.Possible(x) {
		s.Set(v, i, x, weather.Forecast)
	}
}
