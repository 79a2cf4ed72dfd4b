package weather

import (
	"math"
	"time"

	"oidium/sun"
)

// Kind is a kind of finding of quality control.
type Kind string

// The kinds.
const (
	OutOfRange Kind = "out-of-range" // cannot be true; taken out
	Spike      Kind = "spike"        // jumps and comes back; kept as doubtful
	Stuck      Kind = "stuck"        // does not move; kept as doubtful
	Gap        Kind = "gap"          // hours missing
	TooBright  Kind = "too-bright"   // more light than falls outside the air; taken out
	Clock      Kind = "clock"        // the sun is early or late by the station's clock
	SunHeated  Kind = "sun-heated"   // the thermometer stands in the sun
	NoRain     Kind = "no-rain"      // the gauge may be blocked
)

// Finding is something quality control has to say about a stretch of a series.
type Finding struct {
	Kind  Kind
	Var   Var
	From  time.Time
	Hours int     // touched
	Value float64 // first value taken out, largest jump, hours off, K too warm
}

// Quality is the report of quality control.
type Quality struct {
	Hours    int
	Known    [NVars]int // hours with a value after the check
	Doubtful [NVars]int
	Findings []Finding // by quantity and time; the clock and the sun last
}

// Check returns a copy of s in which impossible values are taken out and
// doubtful ones are flagged, and the report of what was found. beside is another
// series of the neighbourhood, measured in a screen, or nil; with it a
// thermometer standing in the sun is found even where radiation is not measured.
// lat and lon may be NaN; what needs the sun is then left out.
func Check(s *Series, beside *Series, lat, lon float64) (*Series, Quality) {
	c := checker{s: s.Clone(), q: Quality{Hours: s.Len()}}
	placed := lat == lat && lon == lon
	if placed {
		c.ra = sun.ExtraterrestrialHours(s.Start, s.Len(), lat, lon)
	}
	for v := range Var(NVars) {
		c.ranges(v)
		if v == Rad && placed {
			c.bright()
		}
		c.stuck(v)
		if v == Temp {
			c.spikes()
		}
		if v == Rain {
			c.noRain()
		}
		c.gaps(v)
	}
	if placed {
		c.clock()
		c.sunHeated(beside)
	}
	for v := range c.q.Known {
		n := c.s.Count(Var(v))
		c.q.Known[v], c.q.Doubtful[v] = s.Len()-n[Missing], n[Doubtful]
	}
	return c.s, c.q
}

type checker struct {
	s  *Series
	q  Quality
	ra []float64
}

func (c *checker) find(k Kind, v Var, i, n int, x float64) {
	// A stretch of the same kind is one finding.
	if m := len(c.q.Findings); m > 0 {
		last := &c.q.Findings[m-1]
		if last.Kind == k && last.Var == v && last.From.Add(time.Duration(last.Hours)*time.Hour).Equal(c.s.Time(i)) {
			last.Hours += n
			return
		}
	}
	c.q.Findings = append(c.q.Findings, Finding{k, v, c.s.Time(i), n, x})
}

// limits of what an instrument on land can have read, wider than any record
// that matters to a garden (wmo-8, rounded outwards).
var limits = [NVars][2]float64{Temp: {-60, 60}, RH: {0, 110}, Wind: {0, 75}, Rain: {0, 300}, Rad: {-20, 1500}}

// Possible reports whether x can be a value of v; readers use it row by row.
func (v Var) Possible(x float64) bool { return x >= limits[v][0] && x <= limits[v][1] }

// ranges takes out what cannot be true and draws what is nearly at the edge of
// the possible onto it: humidity to 110 %, radiation down to −20 W/m² by night.
func (c *checker) ranges(v Var) {
	for i, x := range c.s.V[v] {
		switch y := float64(x); {
		case y != y:
		case !v.Possible(y):
			c.find(OutOfRange, v, i, 1, y)
			c.s.Set(v, i, 0, Missing)
		case v == RH && y > 100:
			c.s.V[v][i] = 100
		case v == Rad && y < 0:
			c.s.V[v][i] = 0
		}
	}
}

// bright takes out radiation above what falls outside the air, with room for
// light thrown by bright cloud and for a clock some minutes off.
func (c *checker) bright() {
	for i, x := range c.s.V[Rad] {
		top := c.ra[i]
		if i > 0 {
			top = math.Max(top, c.ra[i-1])
		}
		if i+1 < len(c.ra) {
			top = math.Max(top, c.ra[i+1])
		}
		if y := float64(x); y > 1.1*top+50 { // assumption
			c.find(TooBright, Rad, i, 1, y)
			c.s.Set(Rad, i, 0, Missing)
		}
	}
}

// stuckHours is how many hours a quantity may stand still; 0 means for ever.
// Saturated air, calm and dry weather and night may stand for long (assumption;
// checked on four measured years, none of which is flagged on more than a few
// hours).
var stuckHours = [NVars]int{Temp: 12, RH: 16, Wind: 24, Rad: 6}

// still reports whether x may stand still for long.
func still(v Var, x float32) bool {
	switch v {
	case RH:
		return x >= 93 // assumption: fog lasts
	case Wind:
		return x == 0
	case Rad:
		return x < 30 // assumption: night and deep twilight
	case Rain:
		return true
	}
	return false
}

func (c *checker) stuck(v Var) {
	x := c.s.V[v]
	for i := 0; i < len(x); {
		j := i + 1
		for j < len(x) && x[j] == x[i] {
			j++
		}
		n := j - i
		limit := stuckHours[v]
		switch {
		case x[i] != x[i] || v == Rain:
		case still(v, x[i]):
			// Even fog, calm and polar night end: nine days (assumption).
			if n > 216 && (v == RH || v == Wind) {
				c.doubt(Stuck, v, i, n, float64(x[i]))
			}
		case n >= limit:
			c.doubt(Stuck, v, i, n, float64(x[i]))
		}
		i = j
	}
}

func (c *checker) doubt(k Kind, v Var, i, n int, x float64) {
	c.find(k, v, i, n, x)
	for h := i; h < i+n; h++ {
		if c.s.F[v][h] != Missing {
			c.s.F[v][h] = Doubtful
		}
	}
}

// spikes doubts temperatures that leave both neighbours by a wide margin in the
// same direction.
func (c *checker) spikes() {
	x := c.s.V[Temp]
	for i := 1; i+1 < len(x); i++ {
		a, b := float64(x[i]-x[i-1]), float64(x[i]-x[i+1])
		if a*b > 0 && math.Min(math.Abs(a), math.Abs(b)) > spikeStep.V {
			c.doubt(Spike, Temp, i, 1, a)
		}
	}
}

// noRain finds long droughts of the gauge.
func (c *checker) noRain() {
	start, dry := 0, 0
	flush := func() {
		if dry >= int(blockedDays.V)*24 {
			c.find(NoRain, Rain, start, dry, 0)
		}
		dry = 0
	}
	for i, r := range c.s.V[Rain] {
		switch {
		case r > 0:
			flush()
		case r == 0:
			if dry == 0 {
				start = i
			}
			dry++
		}
	}
	flush()
}

// gaps reports runs of missing hours, but not a quantity that is never there.
func (c *checker) gaps(v Var) {
	for _, g := range c.s.gaps(v) {
		if g.n == c.s.Len() {
			return
		}
		c.find(Gap, v, g.i, g.n, 0)
	}
}
