package weather

import (
	"math"
	"time"
)

// Var is a quantity of a series.
type Var int

// The quantities.
const (
	Temp  Var = iota // air temperature, °C
	RH               // relative humidity, %
	Wind             // wind speed at 2 m, m/s
	Rain             // rain in the hour, mm
	Rad              // global radiation, mean of the hour, W/m²
	NVars = 5
)

var varNames = [NVars]string{"temperature", "humidity", "wind", "rain", "radiation"}

func (v Var) String() string { return varNames[v] }

// Flag says where a value comes from.
type Flag uint8

// The flags, from nothing to guess.
const (
	Missing  Flag = iota // no value (NaN)
	Measured             // by an instrument on the spot
	Derived              // computed from other measured values of the same hour
	Filled               // a gap closed from the hours around it
	Forecast             // from a forecast, or drawn around one
	Typical              // from the climate of the place
	Doubtful             // measured, but quality control does not trust it
	flags
)

var flagNames = [flags]string{"missing", "measured", "derived", "filled", "forecast", "climate", "doubtful"}

func (f Flag) String() string {
	if f < flags {
		return flagNames[f]
	}
	return "unknown"
}

// Seen reports whether the value rests on a measurement of its own hour.
func (f Flag) Seen() bool { return f == Measured || f == Derived || f == Doubtful }

// Series is an hourly series. All columns have the same length; a value without
// data is NaN and flagged Missing. Use [NewSeries]; the zero value is an empty
// series.
type Series struct {
	Start time.Time // UTC, start of the first hour
	V     [NVars][]float32
	F     [NVars][]Flag
}

// NewSeries returns a series of the given number of hours without any value.
// The start is moved down to the full hour in UTC.
func NewSeries(start time.Time, hours int) *Series {
	hours = max(hours, 0)
	s := &Series{Start: start.UTC().Truncate(time.Hour)}
	values := make([]float32, NVars*hours)
	marks := make([]Flag, NVars*hours)
	nan := float32(math.NaN())
	for i := range values {
		values[i] = nan
	}
	for v := range s.V {
		s.V[v] = values[v*hours : (v+1)*hours : (v+1)*hours]
		s.F[v] = marks[v*hours : (v+1)*hours : (v+1)*hours]
	}
	return s
}

// Len returns the number of hours.
func (s *Series) Len() int { return len(s.V[0]) }

// End returns the end of the last hour.
func (s *Series) End() time.Time { return s.Time(s.Len()) }

// Time returns the start of hour i.
func (s *Series) Time(i int) time.Time { return s.Start.Add(time.Duration(i) * time.Hour) }

// Index returns the number of the hour that t falls in. It may lie outside
// 0 to Len-1.
func (s *Series) Index(t time.Time) int {
	d := t.Sub(s.Start)
	i := int(d / time.Hour)
	if d < 0 && d%time.Hour != 0 {
		i--
	}
	return i
}

// Set writes a value with its flag; a NaN is written as Missing.
func (s *Series) Set(v Var, i int, x float64, f Flag) {
	if x != x || f == Missing {
		s.V[v][i], s.F[v][i] = float32(math.NaN()), Missing
		return
	}
	s.V[v][i], s.F[v][i] = float32(x), f
}

// Slice returns the hours that lie wholly in [from, to), sharing memory with s.
func (s *Series) Slice(from, to time.Time) *Series {
	i := s.Index(from)
	if s.Time(i).Before(from) {
		i++
	}
	i = min(max(i, 0), s.Len())
	j := max(min(s.Index(to), s.Len()), i)
	out := &Series{Start: s.Time(i)}
	for v := range s.V {
		out.V[v] = s.V[v][i:j:j]
		out.F[v] = s.F[v][i:j:j]
	}
	return out
}

// Cut returns the hours that had ended by asOf: what could be known then.
func (s *Series) Cut(asOf time.Time) *Series { return s.Slice(s.Start, asOf) }

// Clone returns a copy that shares nothing with s.
func (s *Series) Clone() *Series {
	out := NewSeries(s.Start, s.Len())
	for v := range s.V {
		copy(out.V[v], s.V[v])
		copy(out.F[v], s.F[v])
	}
	return out
}

// Join returns a series from the earlier start to the later end of a and b. The
// values of b override those of a where b has one; hours in neither are missing.
func Join(a, b *Series) *Series {
	switch {
	case a.Len() == 0:
		return b.Clone()
	case b.Len() == 0:
		return a.Clone()
	}
	start, end := a.Start, a.End()
	if b.Start.Before(start) {
		start = b.Start
	}
	if b.End().After(end) {
		end = b.End()
	}
	out := NewSeries(start, int(end.Sub(start)/time.Hour))
	ia, ib := out.Index(a.Start), out.Index(b.Start)
	for v := range out.V {
		copy(out.V[v][ia:], a.V[v])
		copy(out.F[v][ia:], a.F[v])
		for i, f := range b.F[v] {
			if f != Missing {
				out.V[v][ib+i], out.F[v][ib+i] = b.V[v][i], f
			}
		}
	}
	return out
}

// Count returns how many hours of v carry each flag, indexed by Flag.
func (s *Series) Count(v Var) [flags]int {
	var n [flags]int
	for _, f := range s.F[v] {
		n[f]++
	}
	return n
}

// Station is where a series was measured and on what terms it may be used.
type Station struct {
	Name      string
	Latitude  float64 // degrees north; NaN where the file does not say
	Longitude float64 // degrees east; NaN where the file does not say
	Altitude  float64 // m; NaN where the file does not say
	Origin    string  // who measured it
	Licence   string  // "" not stated
	// WindHeight is the height in m that the wind of the series is for: 2 after
	// a reader has brought it there, 0 where it is not stated.
	WindHeight float64
}
