package diagram

import (
	"cmp"
	"math"
	"slices"
)

// disc is a piece of a colony.
type disc struct{ x, y, r float64 }

// span is a piece of a scan line.
type span struct{ from, to float64 }

// rows is the number of scan lines over the height of a leaf; numerical.
const rows = 1000

// scan holds the leaf cut into lines, once for all shares measured on it.
type scan struct {
	leaf   [][]span // by row, not overlapping, rising
	y0, dy float64
	area   float64 // in units of dy times length
	discs  [][]span
}

func newScan(o outline) *scan {
	s := &scan{dy: o.height / rows, leaf: make([][]span, rows), discs: make([][]span, rows)}
	s.y0 = s.dy / 2
	for i := range s.leaf {
		y := s.y0 + float64(i)*s.dy
		for _, p := range o.parts {
			s.leaf[i] = append(s.leaf[i], cut(p, y)...)
		}
		s.leaf[i] = merge(s.leaf[i])
		for _, sp := range s.leaf[i] {
			s.area += sp.to - sp.from
		}
	}
	return s
}

// cut returns where the line at y lies inside the closed polygon p.
func cut(p []point, y float64) []span {
	var xs []float64
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if (a.y <= y) != (b.y <= y) {
			xs = append(xs, a.x+(y-a.y)/(b.y-a.y)*(b.x-a.x))
		}
	}
	slices.Sort(xs)
	var out []span
	for i := 0; i+1 < len(xs); i += 2 {
		out = append(out, span{xs[i], xs[i+1]})
	}
	return out
}

// merge orders spans and joins those that overlap, in place.
func merge(in []span) []span {
	slices.SortFunc(in, func(a, b span) int { return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to)) })
	out := in[:0]
	for _, s := range in {
		if n := len(out); n > 0 && s.from <= out[n-1].to {
			out[n-1].to = math.Max(out[n-1].to, s.to)
		} else {
			out = append(out, s)
		}
	}
	return out
}

// share is the part of the leaf under the discs, their radii times scale:
// overlaps count once, what hangs over the edge not at all.
func (s *scan) share(discs []disc, scale float64) float64 {
	for i := range s.discs {
		s.discs[i] = s.discs[i][:0]
	}
	for _, d := range discs {
		r := d.r * scale
		first := max(0, int(math.Ceil((d.y-r-s.y0)/s.dy)))
		last := min(rows-1, int(math.Floor((d.y+r-s.y0)/s.dy)))
		for i := first; i <= last; i++ {
			dy := s.y0 + float64(i)*s.dy - d.y
			if h := r*r - dy*dy; h > 0 {
				half := math.Sqrt(h)
				s.discs[i] = append(s.discs[i], span{d.x - half, d.x + half})
			}
		}
	}
	covered := 0.0
	for i := range s.discs {
		s.discs[i] = merge(s.discs[i])
		covered += overlap(s.leaf[i], s.discs[i])
	}
	return covered / s.area
}

// overlap is the length common to two lists of rising spans.
func overlap(a, b []span) float64 {
	sum, i, j := 0.0, 0, 0
	for i < len(a) && j < len(b) {
		sum += math.Max(0, math.Min(a[i].to, b[j].to)-math.Max(a[i].from, b[j].from))
		if a[i].to < b[j].to {
			i++
		} else {
			j++
		}
	}
	return sum
}

// holds tells whether p lies on the leaf.
func (s *scan) holds(p point) bool {
	i := int(math.Round((p.y - s.y0) / s.dy))
	if i < 0 || i >= rows {
		return false
	}
	return slices.ContainsFunc(s.leaf[i], func(sp span) bool { return sp.from <= p.x && p.x <= sp.to })
}

// mm2 is the area of the leaf.
func (s *scan) mm2() float64 { return s.area * s.dy }

// scaleFor returns the factor on the radii at which the discs cover the share, by
// false position with the Illinois step: the share rises with the factor.
func (s *scan) scaleFor(discs []disc, share float64) float64 {
	lo, hi := 0.0, 1.0
	flo, fhi := -share, s.share(discs, 1)-share
	for fhi < 0 { // rounding of the places took a little
		hi *= 1.05 // numerical
		fhi = s.share(discs, hi) - share
	}
	side := 0
	for range 60 {
		// Areas grow with the square: one straight line in the square is near.
		mid := math.Sqrt(lo*lo + (hi*hi-lo*lo)*flo/(flo-fhi))
		f := s.share(discs, mid) - share
		switch {
		case math.Abs(f) < 1e-6:
			return mid
		case f < 0:
			lo, flo = mid, f
			if side < 0 {
				fhi /= 2
			}
			side = -1
		default:
			hi, fhi = mid, f
			if side > 0 {
				flo /= 2
			}
			side = 1
		}
	}
	return hi
}
