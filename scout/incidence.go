package scout

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Pair is incidence and severity of one look, shares.
type Pair struct {
	Incidence, Severity float64
}

// Relation turns incidence into severity by a line on the complementary log-log
// scale, ln(-ln(1-S)) = a + b ln(-ln(1-I)) (Carisse et al. 2013). It holds for
// the crop and the shelter it was fitted in and within the incidences met there.
type Relation struct {
	A, B    float64
	Shelter string // where the looks were made: a tunnel's line is not used outdoors
	Lo, Hi  float64
	line    lineFit
}

var errFewPairs = errors.New("relating severity to incidence: at least six looks with both, between 0 and 1, at different incidences are needed")

// Relate fits a relation to looks of one crop and shelter. Looks with none or all
// leaves mildewed, or none covered, have no place on the scale and are left out.
func Relate(pairs []Pair, shelter string) (Relation, error) {
	var x, y []float64
	r := Relation{Shelter: shelter, Lo: 1}
	for _, p := range pairs {
		if p.Incidence > 0 && p.Incidence < 1 && p.Severity > 0 && p.Severity < 1 {
			x, y = append(x, cloglog(p.Incidence)), append(y, cloglog(p.Severity))
			r.Lo, r.Hi = math.Min(r.Lo, p.Incidence), math.Max(r.Hi, p.Incidence)
		}
	}
	if len(x) < 6 {
		return Relation{}, errFewPairs
	}
	r.line = straight(x, y)
	if r.line.sxx == 0 {
		return Relation{}, errFewPairs
	}
	r.A, r.B = r.line.at0, r.line.slope
	return r, nil
}

// Severity returns the severity at an incidence with the 80 % interval of a new
// look. It refuses above the incidence from which the relation was seen to bend,
// outside the incidences it was fitted on, and in another shelter.
func (r Relation) Severity(incidence float64, shelter string) (float64, Interval, error) {
	switch {
	case shelter != r.Shelter:
		return 0, Interval{}, fmt.Errorf("severity from incidence: the relation was fitted in %q and is not carried over to %q; read severity there", r.Shelter, shelter)
	case !(incidence > 0) || incidence > incidenceMost.V:
		return 0, Interval{}, fmt.Errorf("severity from an incidence of %.0f %%: only above 0 and up to %.0f %%; read severity itself", 100*incidence, 100*incidenceMost.V)
	case incidence < r.Lo || incidence > r.Hi:
		return 0, Interval{}, fmt.Errorf("severity from an incidence of %.0f %%: the relation was fitted between %.0f and %.0f %%", 100*incidence, 100*r.Lo, 100*r.Hi)
	}
	x := cloglog(incidence)
	n := float64(r.line.n)
	d := x - r.line.mx
	se := r.line.sd * math.Sqrt(1+1/n+d*d/r.line.sxx)
	half := se * distuv.StudentsT{Nu: n - 2, Sigma: 1}.Quantile(0.9) // numerical: 80 %
	inv := func(v float64) float64 { return -math.Expm1(-math.Exp(v)) }
	v := r.A + r.B*x
	return inv(v), Interval{inv(v - half), inv(v + half)}, nil
}
