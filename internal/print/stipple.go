package print

import (
	"math"
	"slices"

	"oidium/chance"
	"oidium/garden"
)

// dot is a round spot in a picture, in the units of the picture.
type dot struct{ X, Y, R float64 }

// stipple is leaf with mildew: a rectangle of one kind and dots of the other.
type stipple struct {
	W, H float64
	// Turned is true when more than half is covered: the ground is then mildew
	// and the dots are what is left of the green.
	Turned bool
	Dots   []dot
}

const (
	// seats is about how many places for a dot a rectangle has.
	seats = 190
	// seated is the share of the rectangle that all places cover together when
	// every dot has its full size: a little more than the half that is needed.
	seated = 0.52
	// shuffles is how often every place is moved at random. Round discs at this
	// density are a fluid, so the grid they start from is soon forgotten.
	shuffles = 30
)

// newStipple draws the given share of a rectangle as mildew, exactly: the area
// of the dots is the share times the area of the rectangle (or, when turned,
// one less the share). Dots lie wholly inside and never over each other. Their
// places depend on the bed and the shape alone, so from one morning to the next
// the same spots grow and new ones join them.
func newStipple(bed garden.BedID, share, w, h float64) stipple {
	s := stipple{W: w, H: h}
	if math.IsNaN(share) || share <= 0 {
		return s
	}
	if s.Turned = share > 0.5; s.Turned {
		share = math.Max(0, 1-share)
	}
	if share == 0 {
		return s
	}
	random := chance.New(chance.Key{Bed: string(bed), Process: chance.Drawing})
	spots, full := scatter(random, w, h)
	n := min(len(spots), int(math.Ceil(float64(len(spots))*used(share/seated))))
	spots = spots[:n]

	area := share * w * h
	mean := area / float64(n)
	spread := math.Min(0.6, 0.8*math.Max(0, math.Pi*full*full/mean-1))
	sum, most := 0.0, 0.0
	for i := range spots {
		spots[i].size = 1 + spread*(2*spots[i].size-1)
		sum += spots[i].size
		most = math.Max(most, spots[i].size)
	}
	if area*most/sum > math.Pi*full*full {
		for i := range spots {
			spots[i].size = 1
		}
		sum = float64(n)
	}
	s.Dots = make([]dot, n)
	for i, p := range spots {
		s.Dots[i] = dot{X: p.x, Y: p.y, R: math.Sqrt(area * p.size / sum / math.Pi)}
	}
	return s
}

// used is the share of the places that hold a dot when the dots together have
// the given share of their greatest area: few and small at first, then more and
// larger, all of them at the end.
func used(filled float64) float64 { return filled / math.Max(filled, 0.15+0.8*filled) }

// spot is a place for a dot.
type spot struct {
	x, y float64
	size float64 // 0 to 1
	rank float64
}

// scatter returns the places for dots in the order in which they are taken, and
// the radius up to which dots on all of them stay apart and inside. The places
// come from moving the discs of a square grid at random, each move made only if
// the disc then touches no other (the method of Metropolis and others 1953,
// Journal of Chemical Physics 21:1087). The order follows a slow wave over the
// rectangle and a bit of chance, so that dots clump as colonies do.
func scatter(random *chance.Stream, w, h float64) (spots []spot, radius float64) {
	cell := math.Sqrt(w * h / seats)
	nx, ny := max(1, int(math.Round(w/cell))), max(1, int(math.Round(h/cell)))
	cw, ch := w/float64(nx), h/float64(ny)
	radius = math.Min(math.Sqrt(seated*cw*ch/math.Pi), math.Min(cw, ch)/2)
	spots = make([]spot, 0, nx*ny)
	for row := range ny {
		for col := range nx {
			spots = append(spots, spot{x: (float64(col) + 0.5) * cw, y: (float64(row) + 0.5) * ch})
		}
	}
	for range shuffles {
		for i := range spots {
			x := spots[i].x + (2*random.Uniform()-1)*cw*0.7
			y := spots[i].y + (2*random.Uniform()-1)*ch*0.7
			if x >= radius && x <= w-radius && y >= radius && y <= h-radius && alone(spots, i, x, y, radius) {
				spots[i].x, spots[i].y = x, y
			}
		}
	}
	var wave [3][3]float64
	for i := range wave {
		wave[i] = [3]float64{2 + 5*random.Uniform(), 2 + 5*random.Uniform(), 2 * math.Pi * random.Uniform()}
	}
	for i := range spots {
		p := &spots[i]
		p.size = random.Uniform()
		for _, k := range wave {
			p.rank += math.Sin(k[0]*p.x/w+k[1]*p.y/h+k[2]) / 3
		}
		p.rank += 1.6 * random.Uniform()
	}
	slices.SortStableFunc(spots, func(a, b spot) int {
		switch {
		case a.rank < b.rank:
			return -1
		case a.rank > b.rank:
			return 1
		}
		return 0
	})
	return spots, radius
}

// alone says whether a disc at x, y would touch none but the one numbered i.
func alone(spots []spot, i int, x, y, radius float64) bool {
	for k := range spots {
		dx, dy := spots[k].x-x, spots[k].y-y
		if k != i && dx*dx+dy*dy < 4*radius*radius {
			return false
		}
	}
	return true
}
