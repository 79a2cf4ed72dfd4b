package work

import (
	"oidium/belief"
	"oidium/epidemic"
)

// Learned is what the looks say about one parameter of a mildew in a bed.
type Learned struct {
	Name     string `json:"name"`
	What     string `json:"what"`
	Unit     string `json:"unit" doc:"1 for a factor"`
	Before   Band   `json:"before" doc:"before any look"`
	Now      Band   `json:"now"`
	Told     bool   `json:"told" doc:"false: the looks say no more about it than chance would"`
	Strained bool   `json:"strained,omitempty" doc:"true: the looks pull it beyond four fifths of what was thought possible; model, assumption or looks are suspect"`
}

// leastLikely is the chance of a mildew below which nothing is said about its
// parameters (presentation).
const leastLikely = 0.05

// learned compares the weighed members of a stand with what was thought before.
// A bed that nobody looked at taught nothing. The weights are those of the prior
// times the likelihood, also of members that were drawn anew, so that the bands
// are honest whatever the members were drawn from.
func (p *plot) learned(st *stand) []Learned {
	if len(p.tallies)+len(p.readings) == 0 {
		return nil
	}
	leaf := leafOf(p.crop).V
	values := func(z []float64) (v [dims]float64) {
		var e epidemic.Position
		copy(e[:], z)
		for i, x := range st.epi.Params(e) {
			v[i] = x
		}
		own := eyeAt(z, leaf)
		v[epiDims], v[epiDims+1], v[epiDims+2] = own.colony, own.clump, own.shows
		return v
	}
	flat := func(x float64) (v [dims]float64) {
		z := make([]float64, dims)
		for i := range z {
			z[i] = x
		}
		return values(z)
	}
	const tenth = 1.2816 // above it lies one tenth of the standard normal (exact)
	low, mid, high := flat(-tenth), flat(0), flat(tenth)
	now := make([][dims]float64, len(st.z))
	for m, z := range st.z {
		now[m] = values(z)
	}
	told := belief.Learn(st.z, st.weights)
	out := make([]Learned, len(told))
	x := make([]float64, len(st.z))
	var sort belief.Sorter
	for i, name := range learnedNames() {
		for m := range now {
			x[m] = now[m][i]
		}
		out[i] = Learned{
			Name: name.name, What: name.what, Unit: name.unit,
			Before: Band{Low: round3(low[i]), Mid: round3(mid[i]), High: round3(high[i])},
			Now:    band(sort.Band(x, st.weights.W)),
			Told:   told[i].Told, Strained: told[i].Strained,
		}
	}
	return out
}

type learnedName struct{ name, what, unit string }

// learnedNames are the parameters in the order of a member's position.
func learnedNames() [dims]learnedName {
	var out [dims]learnedName
	what := [dims]string{
		speak("learned.transmission"), speak("learned.latent"), speak("learned.infectious"), speak("learned.arrival"),
		speak("learned.onset"), speak("learned.carried"), speak("learned.cultivar"), speak("learned.efficacy"),
		speak("learned.vigour"), speak("learned.humidity"), speak("learned.heat"),
		speak("learned.colony"), speak("learned.clump"), speak("learned.shows"),
	}
	for i, p := range epidemic.Names() {
		out[i] = learnedName{p.Name, what[i], p.Unit}
	}
	out[epiDims] = learnedName{"colony", what[epiDims], colonyCm2.Unit}
	out[epiDims+1] = learnedName{"clumping", what[epiDims+1], clumping.Unit}
	out[epiDims+2] = learnedName{"showing", what[epiDims+2], showing.Unit}
	return out
}
