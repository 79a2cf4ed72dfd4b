package scout

import (
	"cmp"
	"errors"
	"math"
	"slices"
)

// Point is the severity or incidence of a bed on one day, 0 to 1 (or in percent
// for [Progress.Area] and its kin, which scale with it).
type Point struct {
	Day, Y float64
}

// Progress is a curve of disease: one point a day, days rising.
type Progress []Point

// ProgressOf orders points by day and takes the mean of several on one day.
func ProgressOf(points []Point) Progress {
	in := slices.Clone(points)
	slices.SortStableFunc(in, func(a, b Point) int { return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Y, b.Y)) })
	var out Progress
	for i := 0; i < len(in); {
		j, sum := i, 0.0
		for ; j < len(in) && in[j].Day == in[i].Day; j++ {
			sum += in[j].Y
		}
		out = append(out, Point{in[i].Day, sum / float64(j-i)})
		i = j
	}
	return out
}

// Area is the area under the curve by trapezoids (Shaner & Finney 1977), in units
// of Y times days; 0 with fewer than two points.
func (p Progress) Area() float64 {
	s := 0.0
	for i := 1; i < len(p); i++ {
		s += (p[i].Y + p[i-1].Y) / 2 * (p[i].Day - p[i-1].Day)
	}
	return s
}

// RelativeArea is Area over that of a curve at full all the time, where full is
// the largest possible Y (1 or 100).
func (p Progress) RelativeArea(full float64) float64 {
	if len(p) < 2 {
		return 0
	}
	return p.Area() / ((p[len(p)-1].Day - p[0].Day) * full)
}

// Stairs is the area under the stairs, which gives the first and last reading the
// weight of the others (Simko & Piepho 2012):
//
//	Area + (y1 + yn)/2 x D/(n-1), D the days from first to last.
func (p Progress) Stairs() float64 {
	n := len(p)
	if n < 2 {
		return 0
	}
	return p.Area() + (p[0].Y+p[n-1].Y)/2*(p[n-1].Day-p[0].Day)/float64(n-1)
}

// RelativeStairs is Stairs over that of a curve at full all the time: the days
// are D n/(n-1), not D.
func (p Progress) RelativeStairs(full float64) float64 {
	n := float64(len(p))
	if n < 2 {
		return 0
	}
	return p.Stairs() / ((p[len(p)-1].Day - p[0].Day) * n / (n - 1) * full)
}

var errTwoPoints = errors.New("area under a logistic curve from two readings: both must lie between 0 and 1, neither included, on two days")

// twoPointArea is the area under the logistic curve through two readings alone
// (Jeger & Viljanen-Rollinson 2001), with the rate of that curve:
//
//	T + ln(y0/yT)/r,  r = (logit yT - logit y0)/T.
func twoPointArea(days, y0, yT float64) (area, rate float64, err error) {
	if !(y0 > 0 && y0 < 1 && yT > 0 && yT < 1 && days > 0) {
		return 0, 0, errTwoPoints
	}
	rate = (math.Log(yT/(1-yT)) - math.Log(y0/(1-y0))) / days
	if rate == 0 {
		return y0 * days, 0, nil
	}
	return days + math.Log(y0/yT)/rate, rate, nil
}

// LogisticArea is the area under the logistic curve through the first and last
// point, for beds that were read only twice.
func (p Progress) LogisticArea() (float64, error) {
	if len(p) < 2 {
		return 0, errTwoPoints
	}
	a, z := p[0], p[len(p)-1]
	area, _, err := twoPointArea(z.Day-a.Day, a.Y, z.Y)
	return area, err
}
