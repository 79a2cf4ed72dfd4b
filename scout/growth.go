package scout

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"oidium/garden"
)

// Seen is the share seen on one day with its spread on the logit scale.
type Seen struct {
	Day   garden.Day
	Share float64 // 0 < Share < 1
	SD    float64 // of ln(share/(1-share))
}

// SeenInTally is the share of mildewed faces of a tally on the given day, half a
// face added to either side so that none and all have a place on the scale. ok is
// false when nothing was inspected.
func SeenInTally(t garden.Tally, day garden.Day, rho float64) (s Seen, ok bool) {
	k, n, plants := 0, 0, 0
	for _, p := range Prepare(t).patterns {
		k, n, plants = k+p.times*p.k, n+p.times*p.n, plants+p.times
	}
	if n == 0 {
		return Seen{}, false
	}
	a, b := float64(k)+0.5, float64(n-k)+0.5
	clump := 1 + rho*(float64(n)/float64(plants)-1)
	return Seen{Day: day, Share: a / (a + b), SD: math.Sqrt((1/a + 1/b) * clump)}, true
}

// SeenInReading is the share of a severity reading on the given day.
func SeenInReading(s garden.Severity, day garden.Day, r Reader) Seen {
	x := math.Min(math.Max(s.Share, readingLeast.V), 1-readingLeast.V)
	// A step on the complementary log-log scale is about -ln(1-x)/x steps less
	// on the logit scale as x grows; below a tenth the two are the same.
	slope := -math.Log1p(-x) / x
	return Seen{Day: day, Share: x, SD: math.Max(r.SD*slope, 1e-3)}
}

// Growth is how fast the share moves: on the logit scale, per day.
type Growth struct {
	Rate         float64
	Band         Interval // 80 %
	Doubling     float64  // days in which a small share doubles; 0 when Rate is not above 0
	DoublingBand Interval // of Doubling; Hi is 0 when the band of the rate reaches 0: it may not grow at all
	Looks        int      // days with a look
}

var errOneDay = errors.New("finding how fast mildew grows: looks on at least two days are needed; look again in a few days")

// Pace fits a straight line to the logit of the shares by weighted least squares
// (Madden, Hughes & van den Bosch 2007, logistic growth). The band uses the
// spread stated with the looks, or the scatter about the line where that is
// larger.
func Pace(seen []Seen) (Growth, error) {
	var w, wx, wy float64
	days := make(map[garden.Day]bool)
	for _, s := range seen {
		days[s.Day] = true
	}
	if len(days) < 2 {
		return Growth{}, errOneDay
	}
	x0 := float64(seen[0].Day)
	y := func(s Seen) float64 { return math.Log(s.Share / (1 - s.Share)) }
	for _, s := range seen {
		wt := 1 / (s.SD * s.SD)
		w, wx, wy = w+wt, wx+wt*(float64(s.Day)-x0), wy+wt*y(s)
	}
	mx, my := wx/w, wy/w
	var sxx, sxy float64
	for _, s := range seen {
		wt := 1 / (s.SD * s.SD)
		dx := float64(s.Day) - x0 - mx
		sxx += wt * dx * dx
		sxy += wt * dx * (y(s) - my)
	}
	g := Growth{Rate: sxy / sxx, Looks: len(days)}
	chi2 := 0.0
	for _, s := range seen {
		r := (y(s) - my - g.Rate*(float64(s.Day)-x0-mx)) / s.SD
		chi2 += r * r
	}
	q := distuv.UnitNormal.Quantile(0.9) // numerical: 80 %
	se := 1 / math.Sqrt(sxx)
	if df := float64(len(seen) - 2); df >= 1 && chi2 > df {
		se *= math.Sqrt(chi2 / df)
		q = distuv.StudentsT{Nu: df, Sigma: 1}.Quantile(0.9) // numerical: 80 %
	}
	g.Band = Interval{g.Rate - q*se, g.Rate + q*se}
	if g.Rate > 0 {
		g.Doubling = math.Ln2 / g.Rate
		g.DoublingBand.Lo = math.Ln2 / g.Band.Hi
		if g.Band.Lo > 0 {
			g.DoublingBand.Hi = math.Ln2 / g.Band.Lo
		}
	}
	return g, nil
}
