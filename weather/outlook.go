package weather

import (
	"math"
	"time"

	"oidium/chance"
)

// Outlook is a forecast as it was issued.
type Outlook struct {
	Issued  time.Time
	Origin  string // who made it
	Licence string // terms, with the words of attribution
	Series  *Series
}

// Ahead draws what may come around a forecast.
type Ahead struct {
	g        *Generator
	issued   time.Time
	forecast *Series // from from on, missing where there is none
	mean     *Series // ordinary weather of the place at the present level
	frame    *frame
	from     time.Time
	hours    int
}

// Around returns an Ahead for the hours from the full hour of from. The forecast
// o may end before or start after; o.Series may be nil.
func (g *Generator) Around(o Outlook, from time.Time, hours int) *Ahead {
	from = from.UTC().Truncate(time.Hour)
	a := &Ahead{g: g, issued: o.Issued, frame: g.frame(from, hours), from: from, hours: hours}
	to := from.Add(time.Duration(hours) * time.Hour)
	a.forecast = NewSeries(from, hours)
	if o.Series != nil {
		a.forecast = Join(a.forecast, o.Series.Slice(from, to)).Slice(from, to)
	}
	c := g.c
	now := g.levelOn(solarDate(from, g.lon))
	for k := range c.Months {
		c.Months[k].move(now.mean, Doubt{})
		c.Months[k] = c.Months[k].possible()
	}
	a.mean = typicalHours(c, from, hours, g.lat, g.lon)
	return a
}

// leadDays bounds the days ahead of which the rain of the forecast is kept or
// replaced; draws for all of them are taken first so that a longer draw begins
// with the shorter one.
const leadDays = 32

// Draw returns one scenario: with r the correlation of forecast and weather at a
// lead time, m the ordinary weather and d a draw without forecast,
//
//	x = m + r (forecast − m) + √(1 − r²) (d − m)
//
// which keeps the spread of the weather and lets the error grow with lead time.
// Rain is that of the forecast for a whole day with the probability r, else that
// of the draw. Hours are flagged Forecast where a forecast had a part, else
// Typical.
func (a *Ahead) Draw(s *chance.Stream) *Series {
	var keep [leadDays]float64
	for i := range keep {
		keep[i] = s.Uniform()
	}
	out := a.g.draw(s, a.frame, a.from, a.hours)
	for v := range out.V {
		trust := trusts[v]
		r, root, day := 0.0, 1.0, math.MinInt
		for i := range out.V[v] {
			if a.forecast.F[v][i] == Missing {
				continue
			}
			lead := math.Max(0, a.from.Add(time.Duration(i)*time.Hour).Sub(a.issued).Hours())
			if d := int(lead) / 6; d != day { // the trust moves on by quarter days
				day = d
				r = trust.at(lead / 24)
				root = math.Sqrt(1 - r*r)
			}
			f, m, x := a.forecast.V[v][i], a.mean.V[v][i], out.V[v][i]
			if Var(v) == Rain {
				if keep[min(i/24, leadDays-1)] < r {
					x = f
				}
			} else {
				x = m + float32(r)*(f-m) + float32(root)*(x-m)
			}
			out.V[v][i] = within(Var(v), x)
			out.F[v][i] = Forecast
		}
	}
	return out
}

// within keeps a drawn value possible.
func within(v Var, x float32) float32 {
	switch v {
	case RH:
		return min(max(x, 5), 100) // numerical
	case Wind:
		return max(x, 0.1) // numerical
	case Rain, Rad:
		return max(x, 0)
	}
	return x
}

// trust is the correlation of a forecast's departure from ordinary weather with
// the true one, by lead time: r = r0 exp(−(lead / days)²), 0 at last.
type trust struct{ r0, days float64 }

func (t trust) at(days float64) float64 {
	x := days / t.days
	return t.r0 * math.Exp(-x*x)
}

// trusts are an assumption of this program: temperature is forecast best,
// humidity poorly, rain to the day only. Kept forecasts are scored by [Verify].
var trusts = [NVars]trust{Temp: {0.95, 9}, RH: {0.75, 7}, Wind: {0.8, 5}, Rain: {0.8, 5}, Rad: {0.75, 6}}

// Skill is how forecasts of one quantity did at one lead time.
type Skill struct {
	Var       Var
	Lead      int // whole days from the issue to the hour
	N         int // hours compared
	Bias, MAE float64
}

// Verify compares kept forecasts with what was measured, by quantity and lead
// time in days up to ten; lead times without any comparison are left out. Only
// measured hours count.
func Verify(outlooks []Outlook, measured *Series) []Skill {
	const leads = 10
	var n [NVars][leads]int
	var sum, abs [NVars][leads]float64
	for _, o := range outlooks {
		for i := range o.Series.Len() {
			t := o.Series.Time(i)
			k := measured.Index(t)
			lead := int(t.Sub(o.Issued).Hours() / 24)
			if k < 0 || k >= measured.Len() || t.Before(o.Issued) || lead >= leads {
				continue
			}
			for v := range n {
				if o.Series.F[v][i] != Missing && measured.F[v][k].Seen() {
					d := float64(o.Series.V[v][i] - measured.V[v][k])
					n[v][lead]++
					sum[v][lead] += d
					abs[v][lead] += math.Abs(d)
				}
			}
		}
	}
	var out []Skill
	for v := range n {
		for lead, c := range n[v] {
			if c > 0 {
				out = append(out, Skill{Var(v), lead, c, sum[v][lead] / float64(c), abs[v][lead] / float64(c)})
			}
		}
	}
	return out
}
