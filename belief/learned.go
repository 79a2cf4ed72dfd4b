package belief

import (
	"fmt"
	"math"

	"oidium/garden"
)

// Members are the draws from the prior that an ensemble was run with.
type Members struct {
	Names  []string    // of the parameters
	Values [][]float64 // member × parameter
}

// Learned is what the looks say about one parameter.
type Learned struct {
	Name       string
	Prior      Band
	Posterior  Band
	Narrowing  float64 // 1 - posterior/prior standard deviation; 0 nothing learned, may be below 0
	AtTheBrink bool    // the posterior leans on the edge of the prior: the prior may be wrong
}

// Posterior is an ensemble given the looks.
type Posterior struct {
	Weights
	Learned []Learned // in the order of the names
}

// Condition weighs the members by loglik, the logarithm of how likely the looks
// are under member i, and says what was learned about each parameter.
func Condition(m Members, loglik func(member int) float64, least float64) (Posterior, error) {
	l := make([]float64, len(m.Values))
	for i, v := range m.Values {
		if len(v) != len(m.Names) {
			return Posterior{}, fmt.Errorf("conditioning on looks: member %d has %d values for %d parameters", i, len(v), len(m.Names))
		}
		l[i] = loglik(i)
	}
	p := Posterior{Weights: Weigh(l, least)}
	flat := make([]float64, len(l))
	for i := range flat {
		flat[i] = 1 / float64(len(flat))
	}
	x := make([]float64, len(l))
	for j, name := range m.Names {
		for i := range x {
			x[i] = m.Values[i][j]
		}
		one := Learned{Name: name, Prior: BandOf(x, flat), Posterior: BandOf(x, p.W)}
		if sd := spread(x, flat); sd > 0 {
			one.Narrowing = 1 - spread(x, p.W)/sd
		}
		one.AtTheBrink = one.Posterior.Mid < one.Prior.Low || one.Posterior.Mid > one.Prior.High
		if one.AtTheBrink {
			p.Warnings = append(p.Warnings, garden.Warning{Code: "prior-strained", Text: fmt.Sprintf("What was seen pulls %q to the edge of what was thought possible; that assumption may be wrong here.", name)})
		}
		p.Learned = append(p.Learned, one)
	}
	return p, nil
}

func spread(x, w []float64) float64 {
	m, s := Mean(x, w), 0.0
	for i, v := range x {
		s += w[i] * (v - m) * (v - m)
	}
	return math.Sqrt(s)
}
