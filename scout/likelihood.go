package scout

import (
	"cmp"
	"math"
	"slices"

	"oidium/garden"
)

// Expect is what a forecast expects a look to meet.
type Expect struct {
	// Incidence is the share of leaves of each age with visible mildew on each
	// face, 0 to 1.
	Incidence [garden.LeafAges][garden.Faces]float64
}

// Incidence returns the share of leaves with at least one colony when the share
// severity of leaf area is covered:
//
//	I = 1 - (1 + m/k)^-k,  m = severity x leaf area / colony area
//
// where m is the mean number of colonies on a leaf and k is the exponent of the
// negative binomial (small: clumped; +Inf or 0: random, I = 1 - exp(-m)).
// Areas in cm2 of one face. A colony that is not larger than nothing, or a
// severity of 0, gives 0. Source of the form: rouse-1981.
func Incidence(severity, leafAreaCm2, colonyCm2, k float64) float64 {
	m := severity * leafAreaCm2 / colonyCm2
	if !(m > 0) { // also catches a NaN
		return 0
	}
	if k <= 0 || math.IsInf(k, 1) {
		return -math.Expm1(-m)
	}
	return -math.Expm1(-k * math.Log1p(m/k))
}

const cells = int(garden.LeafAges) * int(garden.Faces)

// pattern is what was counted on a plant, and on how many plants it was.
type pattern struct {
	inspected, infected [cells]int
	n, k                int  // sums
	loose               bool // leaves of plants that were not told apart
	times               int
	ways                float64 // ln C(n, k)
	waysApart           float64 // sum of ln C(inspected, infected)
}

// Tallied is a tally made ready for many likelihoods: counts by plant, equal
// plants together. It does not depend on the order of the tally's lines.
type Tallied struct {
	patterns []pattern
	spots    bool // anything was called mildewed
}

// Prepare makes a tally ready. Lines of the same plant, age and face are added
// up; lines with nothing inspected or with an unknown age or face are left out;
// an infected count outside 0..inspected is brought back to it. Plant 0 stands
// for leaves whose plants were not told apart.
func Prepare(t garden.Tally) Tallied {
	type plant struct {
		number int
		p      pattern
	}
	var plants []plant
	lines := slices.Clone(t.Counts)
	slices.SortStableFunc(lines, func(a, b garden.Count) int { return cmp.Compare(a.Plant, b.Plant) })
	for _, c := range lines {
		if c.Inspected <= 0 || c.Age >= garden.LeafAges || c.Face >= garden.Faces {
			continue
		}
		if len(plants) == 0 || plants[len(plants)-1].number != c.Plant {
			plants = append(plants, plant{number: c.Plant})
		}
		p := &plants[len(plants)-1].p
		cell := int(c.Age)*garden.Faces + int(c.Face)
		p.inspected[cell] += c.Inspected
		p.infected[cell] += min(max(c.Infected, 0), c.Inspected)
	}
	var out Tallied
	for _, pl := range plants {
		p := pl.p
		p.loose = pl.number <= 0
		for c := range cells {
			p.n += p.inspected[c]
			p.k += p.infected[c]
		}
		out.spots = out.spots || p.k > 0
		same := slices.IndexFunc(out.patterns, func(q pattern) bool {
			return q.inspected == p.inspected && q.infected == p.infected && q.loose == p.loose
		})
		if same < 0 {
			p.times = 1
			p.ways = logChoose(p.n, p.k)
			for c := range cells {
				if p.infected[c] > 0 {
					p.waysApart += logChoose(p.inspected[c], p.infected[c])
				}
			}
			out.patterns = append(out.patterns, p)
		} else {
			out.patterns[same].times++
		}
	}
	// A fixed order makes the sum of the logarithms the same for any numbering
	// of the plants.
	slices.SortFunc(out.patterns, func(a, b pattern) int {
		return cmp.Or(slices.Compare(a.inspected[:], b.inspected[:]), slices.Compare(a.infected[:], b.infected[:]))
	})
	return out
}

// LogLik returns the logarithm of the chance of the tally under e. For each plant
// the total of mildewed faces is beta-binomial with the mean of the faces looked
// at and the correlation look.Rho; given the total, the ages and faces share it
// by their odds (the multivariate non-central hypergeometric, exact when plants
// differ by a shift of the logit). With one age and face, or where all are
// expected alike, this is the beta-binomial itself. A tally without lines gives
// 0, and so does one with spots by somebody who could not tell what they were.
func (t Tallied) LogLik(e Expect, look Look) float64 {
	if look.Mute && t.spots {
		return 0
	}
	var seen [cells]float64
	for a := range garden.LeafAges {
		for f := range garden.Faces {
			seen[a*garden.Faces+f] = look.seen(e.Incidence[a][f])
		}
	}
	sum := 0.0
	for i := range t.patterns {
		sum += float64(t.patterns[i].times) * t.patterns[i].logLik(&seen, look.Rho)
	}
	return sum
}

func (p *pattern) logLik(seen *[cells]float64, rho float64) float64 {
	mean, used := 0.0, 0
	for c := range cells {
		if p.inspected[c] > 0 {
			mean += float64(p.inspected[c]) * seen[c]
			used++
		}
	}
	mean /= float64(p.n)
	if p.loose && p.n > 1 {
		// The same design effect as plants of loosePlant leaves each.
		rho *= math.Min(1, (loosePlant.V-1)/float64(p.n-1))
	}
	s := p.ways + logSequence(p.k, p.n, mean, thetaOf(rho))
	if used < 2 || p.k == 0 || p.k == p.n || math.IsInf(s, -1) {
		return s
	}
	return s + p.logSplit(seen)
}

// logSplit is the logarithm of the chance that p.k mildewed faces fall on the
// ages and faces as they did: prod C(n_c, k_c) w_c^k_c over the coefficient of
// z^k in prod (1 + w_c z)^n_c, w the odds.
func (p *pattern) logSplit(seen *[cells]float64) float64 {
	var odds [cells]float64
	top := 0.0
	for c := range cells {
		if p.inspected[c] > 0 {
			odds[c] = seen[c] / math.Max(1-seen[c], 1e-12)
			top = math.Max(top, odds[c])
		}
	}
	if top == 0 {
		return math.Inf(-1)
	}
	num := p.waysApart
	var few [maxFew]float64
	coef := few[:]
	if p.k >= len(few) {
		coef = make([]float64, p.k+1)
	}
	coef = coef[:p.k+1] // scaled by exp(shift)
	coef[0] = 1
	shift := 0.0
	done := 0
	for c := range cells {
		n, k := p.inspected[c], p.infected[c]
		if n == 0 {
			continue
		}
		w := odds[c] / top // the scale of the odds cancels
		if k > 0 {
			num += float64(k) * math.Log(w)
		}
		for range n {
			done++
			for j := min(done, p.k); j > 0; j-- {
				coef[j] += coef[j-1] * w
			}
			// The largest coefficient at most doubles with each leaf.
			if done%256 == 0 {
				if most := slices.Max(coef); most > 1e100 {
					for j := range coef {
						coef[j] *= 1e-100
					}
					shift += 100 * math.Ln10 // numerical: the scale just taken off
				}
			}
		}
	}
	return num - math.Log(coef[p.k]) - shift
}

// maxFew is the number of mildewed leaves of a plant, and one, up to which no
// memory is asked for; numerical.
const maxFew = 64
