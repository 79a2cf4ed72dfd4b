package epidemic

// Size of the state: 10 cohorts × 2 faces × 10 numbers, and four sums, make 204 a
// member and stand.
const (
	cohorts = 10 // the last is unfolding, the first holds all older leaf
	faces   = 2
	latents = 5
	infects = 3
	window  = 5 // days of unfolding in a cohort

	healthy = 0
	latent0 = 1
	infect0 = latent0 + latents
	spent   = infect0 + infects
	width   = spent + 1
)

// face is one face of a cohort: areas in m² per m² of ground, by state.
type face [width]float64

// cohort is the leaf that unfolded in one window of days. The areas are of all
// leaf that unfolded, whether it still stands or not; left is the share that
// stands. Loss of leaf takes all states alike, so it need only be noted there.
type cohort struct {
	face [faces]face
	area float64 // the sum over the states of either face
	left float64
	sick bool // some face holds mildew
}

// kept is all that is kept of a member between runs: leaf that stands, by cohort,
// face and state, and the sums of the whole season.
type kept struct {
	leaf   [cohorts][faces]face
	free   float64 // leaf area if no leaf were ever mildewed or taken off
	grown  float64 // leaf area unfolded since the start
	taken  float64 // leaf area taken off
	fallen float64
}

// state is a member while it is run: what is kept, and beside it what would cost
// time to work out anew on every day. There is one for each worker.
type state struct {
	leaf   [cohorts]cohort
	now    sums
	any    bool    // some cohort is sick
	free   float64 // leaf area if no leaf were ever mildewed or taken off
	grown  float64 // leaf area unfolded since the start
	taken  float64 // leaf area taken off
	fallen float64
}

// sums are of standing leaf over all cohorts and both faces.
type sums struct {
	shedding float64 // infectious area
	last     float64 // of it, the last stage
	ripe     float64 // latent area, last stage
	next     float64 // latent area, the stage before
}

// keep returns what is to be kept of the member.
func (s *state) keep() kept {
	k := kept{free: s.free, grown: s.grown, taken: s.taken, fallen: s.fallen}
	for c := range s.leaf {
		x := &s.leaf[c]
		for f := range x.face {
			for i, a := range x.face[f] {
				k.leaf[c][f][i] = a * x.left
			}
		}
	}
	return k
}

// resume makes s the member that was kept.
func (s *state) resume(k *kept) {
	s.free, s.grown, s.taken, s.fallen = k.free, k.grown, k.taken, k.fallen
	s.any = false
	for c := range s.leaf {
		x := &s.leaf[c]
		x.face, x.left, x.area = k.leaf[c], 1, 0
		x.sick = false
		up, down := &x.face[0], &x.face[1]
		for i := latent0; i < width; i++ {
			x.area += up[i]
			x.sick = x.sick || up[i] > 0 || down[i] > 0
		}
		x.area += up[healthy]
		s.any = s.any || x.sick
	}
	s.count()
}

// shift makes the second oldest cohort part of the oldest and opens a new one.
func (s *state) shift() {
	to, from := &s.leaf[0], &s.leaf[1]
	for f := range to.face {
		for i := range to.face[f] {
			to.face[f][i] = to.face[f][i]*to.left + from.face[f][i]*from.left
		}
	}
	to.area = to.area*to.left + from.area*from.left
	to.left = 1
	to.sick = to.sick || from.sick
	copy(s.leaf[1:cohorts-1], s.leaf[2:])
	s.leaf[cohorts-1] = cohort{left: 1}
}

// unfold adds healthy leaf to a cohort.
func (s *state) unfold(to int, area float64) {
	c := &s.leaf[to]
	if c.left < 1 {
		c.settle()
	}
	c.face[0][healthy] += area
	c.face[1][healthy] += area
	c.area += area
	s.grown += area
}

// settle takes what is no longer there out of the areas.
func (c *cohort) settle() {
	for f := range c.face {
		for i := range c.face[f] {
			c.face[f][i] *= c.left
		}
	}
	c.area *= c.left
	c.left = 1
}

// count sums up the standing leaf anew.
func (s *state) count() {
	s.now = sums{}
	for c := range s.leaf {
		x := &s.leaf[c]
		if !x.sick {
			continue
		}
		for f := range x.face {
			s.now.add(&x.face[f], x.left)
		}
	}
}

// add counts a face of which the share left stands.
func (n *sums) add(y *face, left float64) {
	n.shedding += left * (y[infect0] + y[infect0+1] + y[infect0+2])
	n.last += left * y[infect0+2]
	n.ripe += left * y[latent0+4]
	n.next += left * y[latent0+3]
}

// thin keeps the shares of latent and infectious colonies. What dies latent
// leaves the leaf healthy, what dies infectious leaves it spent.
func (f *face) thin(latent, infectious float64) {
	if latent < 1 {
		for i := latent0; i < infect0; i++ {
			gone := f[i] * (1 - latent)
			f[i] -= gone
			f[healthy] += gone
		}
	}
	if infectious < 1 {
		for i := infect0; i < spent; i++ {
			gone := f[i] * (1 - infectious)
			f[i] -= gone
			f[spent] += gone
		}
	}
}
