package scout

import (
	"errors"
	"math"
	"slices"
)

// Shape is a law of growth under which some function of the share is straight in
// time (Madden, Hughes & van den Bosch 2007).
type Shape string

// The shapes.
const (
	Exponential   Shape = "exponential"   // ln y
	Monomolecular Shape = "monomolecular" // -ln(1-y)
	Logistic      Shape = "logistic"      // ln(y/(1-y))
	Gompertz      Shape = "Gompertz"      // -ln(-ln y)
)

var shapes = []Shape{Exponential, Monomolecular, Logistic, Gompertz}

func (s Shape) line(y float64) float64 {
	switch s {
	case Exponential:
		return math.Log(y)
	case Monomolecular:
		return -math.Log1p(-y)
	case Gompertz:
		return -math.Log(-math.Log(y))
	}
	return math.Log(y / (1 - y))
}

func (s Shape) share(v float64) float64 {
	switch s {
	case Exponential:
		return math.Exp(v)
	case Monomolecular:
		return -math.Expm1(-v)
	case Gompertz:
		return math.Exp(-math.Exp(-v))
	}
	return 1 / (1 + math.Exp(-v))
}

// Fit is a straight line through the transformed shares.
type Fit struct {
	Shape   Shape
	Rate    float64 // per day, on the scale of the shape; rates of different shapes do not compare
	SE      float64 // of Rate; NaN with two points
	Start   float64 // transformed share at day 0
	R2      float64 // on the transformed scale
	Agree   float64 // concordance of fitted and transformed shares (Lin 1989)
	Error   float64 // root mean square difference of shares, which does compare between shapes
	Clamped int     // points at 0 or 1 that were moved inside to have a place on the scale
}

// At returns the fitted share on a day.
func (f Fit) At(day float64) float64 { return f.Shape.share(f.Start + f.Rate*day) }

// clampTo is how near to 0 and 1 a share is let; half of the smallest reading.
const clampTo = 0.0025 // numerical

var errFewPoints = errors.New("fitting a progress curve: readings on at least three days are needed, not all alike")

// FitCurves fits every shape to the curve, the one with the smallest Error first.
// Counts are better fitted as counts; this is for severities.
func FitCurves(p Progress) ([]Fit, error) {
	if len(p) < 3 {
		return nil, errFewPoints
	}
	var out []Fit
	for _, s := range shapes {
		f := Fit{Shape: s}
		x, v := make([]float64, len(p)), make([]float64, len(p))
		for i, q := range p {
			y := q.Y
			if y < clampTo && s != Monomolecular || y > 1-clampTo && s != Exponential {
				y = math.Min(math.Max(y, clampTo), 1-clampTo)
				f.Clamped++
			}
			x[i], v[i] = q.Day, s.line(y)
		}
		l := straight(x, v)
		if l.sxx == 0 || l.syy == 0 {
			return nil, errFewPoints
		}
		f.Rate, f.Start, f.R2, f.SE = l.slope, l.at0, l.r2, l.se
		// Of a least squares line the concordance follows from R2.
		f.Agree = 2 * f.R2 / (1 + f.R2)
		for _, q := range p {
			d := f.At(q.Day) - q.Y
			f.Error += d * d
		}
		f.Error = math.Sqrt(f.Error / float64(len(p)))
		out = append(out, f)
	}
	slices.SortStableFunc(out, func(a, b Fit) int {
		switch {
		case a.Error < b.Error:
			return -1
		case a.Error > b.Error:
			return 1
		}
		return 0
	})
	return out, nil
}

// lineFit is a straight line by least squares.
type lineFit struct {
	slope, at0, r2, se float64
	sd                 float64 // of the residuals, n-2 in the divisor
	mx, sxx, syy       float64
	n                  int
}

func straight(x, y []float64) lineFit {
	l := lineFit{n: len(x)}
	my := 0.0
	for i := range x {
		l.mx, my = l.mx+x[i]/float64(l.n), my+y[i]/float64(l.n)
	}
	sxy := 0.0
	for i := range x {
		l.sxx += (x[i] - l.mx) * (x[i] - l.mx)
		l.syy += (y[i] - my) * (y[i] - my)
		sxy += (x[i] - l.mx) * (y[i] - my)
	}
	l.slope = sxy / l.sxx
	l.at0 = my - l.slope*l.mx
	l.r2 = sxy * sxy / (l.sxx * l.syy)
	rss := math.Max(0, l.syy-l.slope*sxy)
	l.sd = math.Sqrt(rss / float64(l.n-2))
	l.se = l.sd / math.Sqrt(l.sxx)
	return l
}
