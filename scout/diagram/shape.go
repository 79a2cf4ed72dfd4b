package diagram

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// point is a place on the drawing, mm from the upper left.
type point struct{ x, y float64 }

// outline is the edge of a leaf: closed polygons, one for each leaflet, and the
// veins that are drawn over it. The outlines are drawn here from simple curves;
// they are likenesses, measured from no plant. Their numbers are numerical.
type outline struct {
	parts         [][]point
	veins         [][]point
	width, height float64
}

// Shapes names the shapes of leaf that can be drawn.
func Shapes() []string { return []string{"cucurbit", "grape", "ovate", "rose", "strawberry"} }

func outlineOf(shape string) (outline, error) {
	var o outline
	switch shape {
	case "cucurbit":
		o = palmate(75, 0.76, 0.2, 0.8, 0, 0) // numerical: likeness
	case "grape":
		o = palmate(60, 0.62, 0.34, 1.1, 0.045, 11) // numerical: likeness
	case "ovate":
		o.leaflet(point{35, 102}, 100, 32, -math.Pi/2, 0) // numerical: likeness
	case "rose":
		o.leaflet(point{60, 66}, 46, 15, -math.Pi/2, 0.03) // numerical: likeness
		for _, side := range []float64{-1, 1} {
			o.leaflet(point{60 + side*5, 82}, 42, 13, -math.Pi/2+side*1.15, 0.03)  // numerical: likeness
			o.leaflet(point{60 + side*5, 110}, 38, 12, -math.Pi/2+side*1.25, 0.03) // numerical: likeness
		}
		o.veins = append(o.veins, []point{{60, 66}, {60, 122}}) // numerical: the stalk
	case "strawberry":
		o.leaflet(point{60, 62}, 58, 26, -math.Pi/2, 0.06) // numerical: likeness
		for _, side := range []float64{-1, 1} {
			o.leaflet(point{60 + side*6, 76}, 54, 24, -math.Pi/2+side*1.6, 0.06) // numerical: likeness
		}
		o.veins = append(o.veins, []point{{60, 62}, {60, 96}}) // numerical: the stalk
	default:
		return outline{}, fmt.Errorf("drawing a leaf: no shape %q; there are %s", shape, strings.Join(Shapes(), ", "))
	}
	o.settle()
	return o, nil
}

// palmate is a leaf of five lobes about the end of its stalk: radius over the
// angle from the tip, narrowed where the stalk comes in.
func palmate(radius, base, lobe, sharp, tooth, teeth float64) outline {
	var o outline
	const n = 360
	edge := make([]point, 0, n)
	at := func(a, r float64) point { return point{r * math.Sin(a), -r * math.Cos(a)} }
	r := func(a float64) float64 {
		back := (math.Pi - math.Abs(a)) / 0.35 // numerical: likeness
		return radius * (base + lobe*math.Pow(math.Abs(math.Cos(2.5*a)), sharp)) *
			(1 - 0.8*math.Exp(-back*back)) * (1 + tooth*math.Cos(teeth*5*a))
	}
	for i := range n {
		a := -math.Pi + 2*math.Pi*float64(i)/n
		edge = append(edge, at(a, r(a)))
	}
	o.parts = [][]point{edge}
	for i := -2; i <= 2; i++ {
		a := float64(i) * 2 * math.Pi / 5
		o.veins = append(o.veins, []point{{0, 0}, at(a, 0.85*r(a))}) // numerical: likeness
	}
	return o
}

// leaflet adds an egg-shaped leaflet that stands at foot and points along angle.
func (o *outline) leaflet(foot point, length, half, angle, tooth float64) {
	const n = 60
	var left, right []point
	place := func(along, across float64) point {
		c, s := math.Cos(angle), math.Sin(angle)
		return point{foot.x + along*c - across*s, foot.y + along*s + across*c}
	}
	for i := 0; i <= n; i++ {
		t := float64(i) / n
		w := half * math.Pow(math.Sin(math.Pi*math.Pow(t, 0.8)), 0.8) // numerical: likeness
		w *= 1 + tooth*math.Cos(float64(i)*math.Pi)
		if i == 0 || i == n {
			w = 0
		}
		left, right = append(left, place(t*length, w)), append(right, place(t*length, -w))
	}
	for i := n - 1; i > 0; i-- {
		left = append(left, right[i])
	}
	o.parts = append(o.parts, left)
	o.veins = append(o.veins, []point{foot, place(0.95*length, 0)}) // numerical: likeness
	for i := 1; i <= 3; i++ {
		t := 0.2 * float64(i) // numerical: likeness
		for _, side := range []float64{-1, 1} {
			o.veins = append(o.veins, []point{place(t*length, 0), place((t+0.15)*length, side*0.6*half)}) // numerical: likeness
		}
	}
}

// settle moves the leaf to the upper left, a margin of 2 mm about it, and rounds
// to what is printed, so that areas are those of the drawing as printed.
func (o *outline) settle() {
	lo, hi := point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	for _, p := range slices.Concat(o.parts, o.veins) {
		for _, q := range p {
			lo.x, lo.y = math.Min(lo.x, q.x), math.Min(lo.y, q.y)
			hi.x, hi.y = math.Max(hi.x, q.x), math.Max(hi.y, q.y)
		}
	}
	const margin = 2
	for _, lines := range [][][]point{o.parts, o.veins} {
		for _, p := range lines {
			for i := range p {
				p[i] = point{round(p[i].x - lo.x + margin), round(p[i].y - lo.y + margin)}
			}
		}
	}
	o.width, o.height = round(hi.x-lo.x+2*margin), round(hi.y-lo.y+2*margin)
}

// round is to a hundredth of a millimetre, as printed.
func round(v float64) float64 { return math.Round(v*100) / 100 }
