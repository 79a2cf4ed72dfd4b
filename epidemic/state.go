package epidemic

// Size of the state: 10 cohorts × 2 faces × 10 numbers = 200 a member and stand.
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

// area returns the area of the face.
func (f *face) area() float64 {
	sum := 0.0
	for _, x := range f {
		sum += x
	}
	return sum
}

// infectious returns the area that gives off conidia.
func (f *face) infectious() float64 { return f[infect0] + f[infect0+1] + f[infect0+2] }

// visible returns the area that the eye sees mildewed.
func (f *face) visible() float64 {
	return visibleLatent.V*f[infect0-1] + f.infectious() + f[spent]
}

// state is a member at one moment.
type state struct {
	leaf   [cohorts][faces]face
	grown  float64 // leaf area unfolded since the start
	taken  float64 // leaf area taken off
	fallen float64
	sick   bool // some face holds mildew
}

// shift makes the second oldest cohort part of the oldest and opens a new one.
func (s *state) shift() {
	for f := range s.leaf[0] {
		for i := range s.leaf[0][f] {
			s.leaf[0][f][i] += s.leaf[1][f][i]
		}
	}
	copy(s.leaf[1:cohorts-1], s.leaf[2:])
	s.leaf[cohorts-1] = [faces]face{}
}

// unfold adds healthy leaf to a cohort.
func (s *state) unfold(cohort int, area float64) {
	s.leaf[cohort][0][healthy] += area
	s.leaf[cohort][1][healthy] += area
	s.grown += area
}

// lose takes the share of a cohort out of every state and returns the leaf area
// lost.
func (s *state) lose(cohort int, share float64) float64 {
	c := &s.leaf[cohort]
	lost := c[0].area() * share
	keep := 1 - share
	for f := range c {
		for i := range c[f] {
			c[f][i] *= keep
		}
	}
	return lost
}
