package work

import (
	"oidium/belief"
	"oidium/epidemic"
	"oidium/garden"
)

// draw is one member of one of a plot's stands: a possible truth.
type draw struct {
	st     *stand
	member int
}

// cloud is the possible truths of a plot with their weights, over all mildews
// that could be meant.
type cloud struct {
	draws []draw
	w     []float64
}

// cloudOf joins the weighed members of a plot's stands. Members that carry next
// to no weight are left out.
func cloudOf(p *plot) cloud {
	var c cloud
	for _, st := range p.stands {
		for m, w := range st.weights.W {
			if x := st.prob * w; x > 1e-9 {
				c.draws = append(c.draws, draw{st, m})
				c.w = append(c.w, x)
			}
		}
	}
	return c
}

// thin returns at most n truths of equal weight, taken at even steps through the
// weights (systematic resampling), so that a plan need not try them all.
func (c cloud) thin(n int) cloud {
	total := 0.0
	for _, w := range c.w {
		total += w
	}
	var out cloud
	sum, next := 0.0, 0.5/float64(n)
	for i, w := range c.w {
		sum += w / total
		for ; next < sum && len(out.draws) < n; next += 1 / float64(n) {
			out.draws = append(out.draws, c.draws[i])
			out.w = append(out.w, 1/float64(n))
		}
	}
	return out
}

// of evaluates f on the record of every truth on the morning of day.
func (c cloud) of(day garden.Day, f func(epidemic.Record) float64) []float64 {
	x := make([]float64, len(c.draws))
	for i, d := range c.draws {
		x[i] = f(d.st.at(d.member, day))
	}
	return x
}

// oldLeaves evaluates, on the morning of day, the share of old leaves on which a
// look at both faces would find mildew; where no leaf is old yet, of the oldest
// there are.
func (c cloud) oldLeaves(day garden.Day) []float64 { return c.withMildew(day, garden.Old) }

// withMildew is oldLeaves for leaves of an age; where there are none of it, of the
// next younger.
func (c cloud) withMildew(day garden.Day, wanted garden.LeafAge) []float64 {
	x := make([]float64, len(c.draws))
	for i, d := range c.draws {
		r := d.st.at(d.member, day)
		age := wanted
		for age > garden.Young && r.Area[age] <= 0 {
			age--
		}
		e := d.st.eyes[d.member].expect(r, 1).Incidence[age]
		x[i] = 1 - (1-e[garden.Upper])*(1-e[garden.Lower])
	}
	return x
}

// band is the band of f on the morning of day.
func (c cloud) band(day garden.Day, f func(epidemic.Record) float64) Band {
	return band(belief.BandOf(c.of(day, f), c.w))
}
