package diagram

import (
	"fmt"
	"math"

	"oidium/chance"
)

// Leaf is what is to be drawn.
type Leaf struct {
	Shape string  // see [Shapes]
	Share float64 // of leaf area under mildew, 0 to 1
	Seed  uint64  // another seed, other places of the colonies
	Print bool    // dark on white, for paper; else white on green
	Title string  // read out by screen readers; "" the shape and the percentage
}

// Drawing is a leaf as drawn.
type Drawing struct {
	SVG           []byte  // a document of its own, of natural size
	Share         float64 // of leaf area under the colonies as drawn
	Colonies      int
	Width, Height float64 // mm
}

// Draw draws a leaf; the share of the drawing is within 0.0005 of the one asked
// for. The same leaf gives the same bytes. It is an error when the shape is not
// known or the share not between 0 and 1.
func Draw(l Leaf) (Drawing, error) {
	o, err := outlineOf(l.Shape)
	if err != nil {
		return Drawing{}, err
	}
	if !(l.Share >= 0 && l.Share <= 1) {
		return Drawing{}, fmt.Errorf("drawing a leaf: a share of %v is not between 0 and 1", l.Share)
	}
	if l.Title == "" {
		l.Title = fmt.Sprintf("%s leaf, %.3g %% covered", l.Shape, 100*l.Share)
	}
	d := Drawing{Width: o.width, Height: o.height, Share: l.Share}
	whole := l.Share > nearlyAll
	var discs []disc
	if whole {
		d.Share, d.Colonies = 1, 1
	} else if l.Share > 0 {
		s := newScan(o)
		discs, d.Colonies = colonies(s, o, l)
		d.Share = s.share(discs, 1)
	}
	d.SVG = svg(o, discs, whole, l)
	return d, nil
}

// nearlyAll is drawn as all: no gap is left that could be seen; numerical.
const nearlyAll = 0.9995

// pieces is how many discs a colony is drawn with, so that its edge is uneven.
const pieces = 4

// colonies places colonies in clumps until about the wanted share is covered and
// then makes all of them smaller or larger by one factor until it is covered
// exactly.
func colonies(s *scan, o outline, l Leaf) (discs []disc, count int) {
	r := chance.New(chance.Key{Garden: l.Seed, Pathosystem: "diagram", Bed: l.Shape, Member: int(math.Round(1e4 * l.Share)), Process: chance.Drawing})
	at := func() point {
		for {
			if p := (point{r.Uniform() * o.width, r.Uniform() * o.height}); s.holds(p) {
				return p
			}
		}
	}
	sum := 0.0
	add := func(p point) {
		size := colonyMM.V * math.Exp(colonySD.V*r.Normal())
		size = math.Min(math.Max(size, colonyLeft.V), colonyMost.V) / 2
		turn := 2 * math.Pi * r.Uniform()
		// numerical: the look of an uneven edge
		discs = append(discs, disc{p.x, p.y, 0.85 * size})
		for i := 1; i < pieces; i++ {
			a := turn + 2*math.Pi*(float64(i)+0.4*r.Uniform())/(pieces-1)                                                        // numerical: look
			discs = append(discs, disc{p.x + 0.5*size*math.Cos(a), p.y + 0.5*size*math.Sin(a), (0.4 + 0.15*r.Uniform()) * size}) // numerical: look
		}
		count++
		sum += math.Pi * size * size * 0.8 // numerical: the pieces of a colony cover about this much of its circle
	}
	for middle, left := (point{}), 0; ; left-- {
		if left <= 0 {
			middle, left = at(), 1+int(-math.Log(r.Uniform())*(together.V-1))
		}
		p := point{middle.x + apart.V*r.Normal(), middle.y + apart.V*r.Normal()}
		if !s.holds(p) {
			p = at()
		}
		add(p)
		placed := sum / s.mm2()
		// Colonies strewn at random would cover 1-exp(-sum of areas/leaf); before
		// about that much is placed (numerical: 0.95), and then between every
		// twentieth part, the share is not worth measuring.
		if placed >= -0.95*math.Log1p(-l.Share) && count%max(1, count/20) == 0 && s.share(discs, 1) >= l.Share {
			break
		}
	}
	for i := range discs {
		discs[i].x, discs[i].y = round(discs[i].x), round(discs[i].y)
	}
	scale := s.scaleFor(discs, l.Share)
	for i := range discs {
		discs[i].r = round(discs[i].r * scale)
	}
	return discs, count
}
