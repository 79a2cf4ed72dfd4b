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

// infectious returns the area that gives off conidia.
func (f *face) infectious() float64 { return f[infect0] + f[infect0+1] + f[infect0+2] }

// state is a member at one moment.
type state struct {
	leaf   [cohorts][faces]face
	area   [cohorts]float64 // leaf area, which is the sum over the states of either face
	sick   [cohorts]bool    // some face holds mildew
	any    bool             // some cohort does
	free   float64          // leaf area if no leaf were ever mildewed or taken off
	grown  float64          // leaf area unfolded since the start
	taken  float64          // leaf area taken off
	fallen float64
}

// shift makes the second oldest cohort part of the oldest and opens a new one.
func (s *state) shift() {
	for f := range s.leaf[0] {
		for i := range s.leaf[0][f] {
			s.leaf[0][f][i] += s.leaf[1][f][i]
		}
	}
	s.area[0] += s.area[1]
	s.sick[0] = s.sick[0] || s.sick[1]
	copy(s.leaf[1:cohorts-1], s.leaf[2:])
	copy(s.area[1:cohorts-1], s.area[2:])
	copy(s.sick[1:cohorts-1], s.sick[2:])
	s.leaf[cohorts-1] = [faces]face{}
	s.area[cohorts-1] = 0
	s.sick[cohorts-1] = false
}

// unfold adds healthy leaf to a cohort.
func (s *state) unfold(cohort int, area float64) {
	s.leaf[cohort][0][healthy] += area
	s.leaf[cohort][1][healthy] += area
	s.area[cohort] += area
	s.grown += area
}

// lose takes the share of a cohort out of every state and returns the leaf area
// lost.
func (s *state) lose(cohort int, share float64) float64 {
	c := &s.leaf[cohort]
	keep := 1 - share
	lost := s.area[cohort] * share
	s.area[cohort] *= keep
	if !s.sick[cohort] {
		c[0][healthy] *= keep
		c[1][healthy] *= keep
		return lost
	}
	for i := range width {
		c[0][i] *= keep
		c[1][i] *= keep
	}
	return lost
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
