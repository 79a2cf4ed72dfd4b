package scout

import (
	"oidium/garden"
)

// Estimate is what a count says about a share.
type Estimate struct {
	Infected, Inspected int
	Share               float64  // Infected / Inspected, 0 when nothing was inspected
	SE                  float64  // standard error of Share with the clumping
	Likely              Interval // 95 %, score interval with the clumping of leaves on plants
	Certain             Interval // 95 %, exact for independent leaves
	AtMost              float64  // one-sided 95 % limit; says "none found means at most this" when Infected is 0
}

// Assessment is what a tally says by itself, without any forecast.
type Assessment struct {
	Face       [garden.Faces]Estimate    // all ages
	Age        [garden.LeafAges]Estimate // leaves with mildew on a face, the worse face of each plant counted
	Plants     int                       // that were told apart
	WithMildew int                       // of these
	Expected   float64                   // share of plants with mildew that clumping lets expect at this incidence
	Rho        float64                   // resemblance of leaves of a plant: fitted, or the prior when there is too little to fit
	Fitted     bool
	Rule       Rule
	AtRule     float64 // two-sided chance of a count as odd as this if the bed stood just at the rule's share
}

// Rule is the state of the threshold for old leaves of cucurbits: at least 1
// mildewed leaf in 50, both faces looked at (mcgrath-1996).
type Rule struct {
	Leaves    int // old leaves looked at on both faces
	Infected  int // at least this many of them with mildew
	Reached   bool
	Short     int  // leaves still to be looked at before "not reached" may be said
	OneFace   bool // some leaves were looked at on one face only
	Threshold int  // of this many leaves one is enough
}

const confidence = 0.95 // numerical: how sure an interval is

// Assess says what a tally shows. rho < 0 has it fitted from the tally when
// there are enough plants, with the prior as the fallback.
func Assess(t garden.Tally, rho float64) Assessment {
	var out Assessment
	tt := Prepare(t)
	out.Rho = rho
	if rho < 0 {
		out.Rho = rhoPrior.V
		if f, ok := fitRho(tt); ok {
			out.Rho, out.Fitted = f, true
		}
	}
	var faceN, faceK [garden.Faces]int
	var ageN, ageK [garden.LeafAges]int
	spans := 0
	for _, p := range tt.patterns {
		if !p.loose {
			out.Plants += p.times
			if p.k > 0 {
				out.WithMildew += p.times
			}
		}
		spans += p.times
		for a := range garden.LeafAges {
			u, l := a*garden.Faces+int(garden.Upper), a*garden.Faces+int(garden.Lower)
			faceN[garden.Upper] += p.times * p.inspected[u]
			faceK[garden.Upper] += p.times * p.infected[u]
			faceN[garden.Lower] += p.times * p.inspected[l]
			faceK[garden.Lower] += p.times * p.infected[l]
			ageN[a] += p.times * max(p.inspected[u], p.inspected[l])
			ageK[a] += p.times * max(p.infected[u], p.infected[l])
			if a == int(garden.Old) {
				out.Rule.Leaves += p.times * min(p.inspected[u], p.inspected[l])
				out.Rule.Infected += p.times * max(p.infected[u], p.infected[l])
				out.Rule.OneFace = out.Rule.OneFace || p.inspected[u] != p.inspected[l]
			}
		}
	}
	for f := range garden.Faces {
		out.Face[f] = estimate(faceK[f], faceN[f], spans, out.Rho)
	}
	for a := range garden.LeafAges {
		out.Age[a] = estimate(ageK[a], ageN[a], spans, out.Rho)
	}
	n, k := 0, 0
	for a := range garden.LeafAges {
		n, k = n+ageN[a], k+ageK[a]
	}
	if out.Plants > 0 && n > 0 {
		out.Expected = plantIncidence(float64(k)/float64(n), out.Rho, max(1, n/spans))
	}
	out.Rule.settle(ageN[garden.Old])
	out.AtRule = exactTest(out.Rule.Infected, max(out.Rule.Leaves, out.Rule.Infected), ruleInfected.V/ruleLeaves.V)
	return out
}

func (r *Rule) settle(looked int) {
	r.Threshold = int(ruleLeaves.V)
	need := int(ruleInfected.V)
	// More leaves than the rule asks for are held to its share, not to its count.
	r.Reached = r.Infected >= need && r.Infected*r.Threshold >= need*min(max(looked, r.Threshold), max(r.Leaves, r.Threshold))
	if !r.Reached {
		r.Short = max(0, r.Threshold-r.Leaves)
	}
}

func estimate(k, n, plants int, rho float64) Estimate {
	e := Estimate{Infected: k, Inspected: n, Likely: Interval{0, 1}, Certain: Exact(k, n, confidence), AtMost: 1}
	if n == 0 {
		return e
	}
	e.Share = float64(k) / float64(n)
	per := max(1, (n+plants-1)/plants)
	effective := float64(n) / (1 + rho*float64(per-1))
	e.SE = standardError(e.Share, effective)
	e.Likely = wilson(e.Share*effective, effective, confidence)
	e.AtMost = Exact(k, n, 2*confidence-1).Hi
	if k == 0 {
		e.AtMost = AtMost((n+per-1)/per, per, confidence, Look{Rho: rho, Sees: 1})
	}
	return e
}
