package weather

import (
	"math"
	"time"

	"oidium/chance"
	"oidium/garden"
	"oidium/sun"
)

// Generator draws weather day by day after Richardson 1981: rain as a two-state
// chain with gamma amounts, and the daily residuals of maximum, minimum and
// radiation as a first-order vector process
//
//	χ(i) = A χ(i−1) + B ε(i)
//
// A Generator is fixed once made and may be used by many goroutines.
type Generator struct {
	c        Climate
	lat, lon float64
	level    level
	a, b     [3][3]float64
	last     garden.Day // last whole day of the past, 0 none
	chi      [3]float64 // its residuals about the mean level
	dry      float64    // residual of its dryness, in spreads
	wet      bool       // whether it rained
}

// Order of the residuals.
const (
	chiMax = iota
	chiMin
	chiRad
)

// level is how the weeks before lie about the climate, mean and doubt.
type level struct{ mean, sd Doubt }

// weeksUsed is how many days at the end of the past say what the level is.
const weeksUsed = 42

// NewGenerator returns a generator for the place: the shape of the year from
// the climate c, level and persistence from the last weeks of past, which may be
// nil. Nothing later than the end of past is used.
func NewGenerator(c Climate, past *Series, lat, lon float64) *Generator {
	c.Latitude = lat
	g := &Generator{c: c, lat: lat, lon: lon}
	var days []Daily
	if past != nil {
		days = DaysOf(past.Slice(past.End().Add(-(weeksUsed+1)*24*time.Hour), past.End()), lon)
	}
	stretch := 1.0
	if len(days) > 0 {
		stretch = g.learn(days)
	}
	g.a, g.b = residualMatrices(stretch)
	return g
}

// learn sets the level from the days and returns how much more persistent than
// usual they were.
func (g *Generator) learn(days []Daily) float64 {
	var all lesson
	var lag, power, prev float64
	for i, d := range days {
		x := g.c.excess(d, g.lat)
		all.add(x)
		if i > 0 && days[i-1].Date == d.Date-1 {
			lag += x.Temp * prev
			power += x.Temp * x.Temp
		}
		prev = x.Temp
	}
	m := g.c.at(days[len(days)-1].Date)
	q := g.c.DoubtOf(monthOf(days[len(days)-1]))
	q.Temp = math.Hypot(q.Temp, monthDoubt.V)
	l := &g.level
	l.mean, l.sd = all.shrink(q, m.sd(), m)

	d := days[len(days)-1]
	g.last = d.Date
	g.wet = d.Rain >= wetDay.V
	e := expect(&m, l.mean, g.wet)
	g.chi = [3]float64{
		(d.Tmax - e.tmax) / m.SDmax,
		(d.Tmin - e.tmin) / m.SDmin,
		0,
	}
	if s := (d.Rad/sun.Extraterrestrial(d.Date, g.lat) - e.share) / m.SDShare; s == s && !math.IsInf(s, 0) {
		g.chi[chiRad] = s
	}
	for i := range g.chi {
		g.chi[i] = math.Max(-3, math.Min(3, g.chi[i]))
	}
	if r := (d.Tmin - d.Dew - e.dry) / m.SDDry; r == r {
		g.dry = math.Max(-3, math.Min(3, r))
	}
	// Lag-one correlation about the level, drawn towards the usual one with the
	// weight of twenty days, and kept where the process is stable (assumption).
	if n := float64(all.temp.n); n >= 10 {
		off := l.mean.Temp * l.mean.Temp * n
		const weight, least, most = 20, 0.7, 1.15 // assumption
		r := (math.Max(0, lag-off) + weight*m.sd()*m.sd()*tempMemory.V) / (math.Max(0, power-off) + weight*m.sd()*m.sd())
		return bound(r/tempMemory.V, least, most)
	}
	return 1
}

// wetShare is 1 for a wet day, 0 for a dry one, NaN where rain is not known.
func wetShare(rain float64) float64 {
	switch {
	case rain >= wetDay.V:
		return 1
	case rain < wetDay.V:
		return 0
	}
	return math.NaN()
}

// tally is a running mean that leaves NaN out.
type tally struct {
	n   int
	sum float64
}

func (t *tally) add(x float64) {
	if x == x && !math.IsInf(x, 0) {
		t.n++
		t.sum += x
	}
}

// shrink returns mean and standard deviation of the level given that it was
// expected at 0 ± prior and days scatter by sd with lag-one correlation r.
func (t *tally) shrink(prior, sd, r float64) (mean, left float64) {
	if t.n == 0 || prior == 0 {
		return 0, prior
	}
	n := math.Max(1, float64(t.n)*(1-r)/(1+r))
	w := prior * prior / (prior*prior + sd*sd/n)
	return w * t.sum / float64(t.n), prior * math.Sqrt(1-w)
}

// expected is what a day is like on average, given whether it is wet.
type expected struct{ tmin, tmax, dry, wet, share, wind float64 }

func expect(m *Month, l Doubt, wet bool) expected {
	p := bound(m.Wet+l.Wet, 0.02, 0.98) // numerical
	// The mean over wet and dry days stays that of the climate.
	side := -p
	if wet {
		side = 1 - p
	}
	return expected{
		tmin: m.Tmin + l.Temp - l.Range/2, tmax: m.Tmax + l.Temp + l.Range/2 + m.WetMax*side,
		dry: m.Dry + l.Dry, wet: p, share: m.Share + l.Share + m.WetRad*side, wind: m.Wind * math.Exp(l.Wind),
	}
}

// frame returns the frame of all days that a draw touches, those before the first
// hour included. One day more than asked for is drawn: the last night cools
// towards its dawn.
func (g *Generator) frame(from time.Time, hours int) *frame {
	first := solarDate(from, g.lon) - spinUp
	last := solarDate(from.Add(time.Duration(hours)*time.Hour), g.lon) + 1
	return newFrame(g.c, first, int(last-first)+1, g.lat, g.lon)
}

// draw returns hours of drawn weather from the full hour of from, flagged
// Typical. The stream alone decides which of the possible weathers it is; one
// stream serves one draw. Days between the end of the past and from are drawn
// and thrown away, so that the memory of the last measured day fades as it must.
// f must be g.frame(from, hours).
func (g *Generator) draw(s *chance.Stream, f *frame, from time.Time, hours int) *Series {
	to := from.Add(time.Duration(hours) * time.Hour)
	first, last := solarDate(from, g.lon), solarDate(to, g.lon)+1
	days, starts := g.days(s, f, first, last)
	out := f.hourly(days, first, last, Typical)
	for k, d := range days {
		spreadRain(out, 24*k, d.Rain, starts[k], Typical)
	}
	dampRain(out)
	return out.Slice(from, to)
}

// solarDate is the date on the solar clock of lon that the hour from t is in; 15°
// an hour are exact.
func solarDate(t time.Time, lon float64) garden.Day {
	return garden.DayOf(t.UTC().Add(time.Duration(math.Round(lon/15)) * time.Hour))
}

// spinUp is how many days are drawn before the first where no past is near.
const spinUp = 10

// days draws the days first to last, and the hour in which the rain of each
// begins. A longer draw from the same stream begins with the shorter one.
// Every day must lie within the frame, and spinUp days before the first.
func (g *Generator) days(s *chance.Stream, f *frame, first, last garden.Day) ([]Daily, []int) {
	l := g.levelOn(first).draw(s)
	chi, dry, wet := g.chi, g.dry, g.wet
	at := g.last + 1
	if g.last == 0 || at > first || first-at > spinUp {
		at, chi, dry = first-spinUp, [3]float64{}, 0
		wet = s.Uniform() < expect(&f.month[at-f.first], l, false).wet
	}
	n := max(0, int(last-first)+1)
	out, starts := make([]Daily, 0, n), make([]int, 0, n)
	for d := at; d <= last; d++ {
		m := &f.month[d-f.first]
		p := expect(m, l, wet).wet
		stay := p * (1 - m.Stay) // P(wet after dry)
		if wet {
			stay += m.Stay
		}
		wet = s.Uniform() < stay
		rain := 0.0
		if wet {
			// Amounts above the least that counts as wet keep the mean.
			rain = wetDay.V + s.Gamma(rainShape.V, math.Max(0.1, m.RainMean-wetDay.V)/rainShape.V)
		}
		chi = g.step(chi, s)
		dry = dewMemory.V*dry + math.Sqrt(1-dewMemory.V*dewMemory.V)*s.Normal()
		start := int(24 * s.Uniform())
		gust := math.Exp(windSpread.V*s.Normal() - windSpread.V*windSpread.V/2)
		if d < first {
			continue
		}
		e := expect(m, l, wet)
		day := Daily{Date: d, Rain: rain, Wind: e.wind * gust}
		day.Tmax = e.tmax + m.SDmax*chi[chiMax]
		day.Tmin = math.Min(e.tmin+m.SDmin*chi[chiMin], day.Tmax-0.5)
		day.Dew = math.Min(day.Tmin-e.dry-m.SDDry*dry, (day.Tmin+day.Tmax)/2)
		share := math.Max(cloudFloor.V, math.Min(clearLimit.V, e.share+m.SDShare*chi[chiRad]))
		day.Rad = share * f.out[d-f.first]
		out, starts = append(out, day), append(starts, start)
	}
	return out, starts
}

// levelOn returns the level that draws from a date on have: that of the weeks
// before, or where none were measured near it what is not known of its month.
func (g *Generator) levelOn(first garden.Day) level {
	if g.last != 0 && first-g.last <= weeksUsed {
		return g.level
	}
	sd := g.c.DoubtOf(monthOf(Daily{Date: first}))
	if g.c.Days > 0 {
		// A month of some year is not the month of all years.
		sd.Temp = math.Hypot(sd.Temp, monthDoubt.V)
	}
	return level{sd: sd}
}

func (l level) draw(s *chance.Stream) Doubt {
	m, sd := l.mean, l.sd
	return Doubt{
		Temp: m.Temp + sd.Temp*s.Normal(), Range: m.Range + sd.Range*s.Normal(), Dry: m.Dry + sd.Dry*s.Normal(),
		Wet: m.Wet + sd.Wet*s.Normal(), Share: m.Share + sd.Share*s.Normal(), Wind: m.Wind + sd.Wind*s.Normal(),
	}
}

// step moves the residuals on by a day.
func (g *Generator) step(chi [3]float64, s *chance.Stream) [3]float64 {
	e := [3]float64{s.Normal(), s.Normal(), s.Normal()}
	var out [3]float64
	for i := range out {
		for j := range out {
			out[i] += g.a[i][j]*chi[j] + g.b[i][j]*e[j]
		}
	}
	return out
}

// dampRain raises the humidity of hours with rain: drops wet the air they fall
// through, which the even dew point of the day does not know.
func dampRain(s *Series) {
	for i, r := range s.V[Rain] {
		if r >= float32(wetRain.V) && s.V[RH][i] < float32(rainRH.V) {
			s.V[RH][i] = float32(rainRH.V)
		}
	}
}
