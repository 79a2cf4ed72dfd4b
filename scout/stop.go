package scout

import "math"

// Stop is a rule for walking on or stopping, plant by plant: it tells a bed with
// at most the share Clean of its leaves mildewed from one with at least Bad.
type Stop struct {
	Clean, Bad float64 // shares, 0 < Clean < Bad < 1
	FalseAlarm float64 // wanted chance of "bad" in a bed at Clean
	Miss       float64 // wanted chance of "clean" in a bed at Bad
	PerPlant   int     // leaves looked at on each plant
	Rho        float64 // resemblance of leaves of a plant
	MostPlants int     // after these the walk ends undecided
}

// UsualStop is the rule for a walk of five leaves a plant: 2 % against 10 %,
// one error in ten either way, at most 75 leaves.
func UsualStop() Stop {
	return Stop{
		Clean: stopClean.V, Bad: stopBad.V, FalseAlarm: stopError.V, Miss: stopError.V,
		PerPlant: int(loosePlant.V), Rho: rhoPrior.V, MostPlants: int(stopLeaves.V / loosePlant.V),
	}
}

// Outcome is what a walk has come to.
type Outcome string

// The outcomes.
const (
	WalkOn    Outcome = "walk on"
	Clean     Outcome = "clean"
	Bad       Outcome = "bad"
	Undecided Outcome = "undecided" // the most plants have been looked at
)

// increments is the log likelihood ratio of Bad against Clean that a plant with
// 0..PerPlant mildewed leaves adds (Madden & Hughes 1999). A second mildewed
// leaf of the same plant adds little.
func (s Stop) increments() []float64 {
	out := make([]float64, s.PerPlant+1)
	th := thetaOf(s.Rho)
	for k := range out {
		out[k] = logSequence(k, s.PerPlant, s.Bad, th) - logSequence(k, s.PerPlant, s.Clean, th)
	}
	return out
}

// bounds of the sum of increments (Wald 1947): at or below lo "clean", at or
// above hi "bad".
func (s Stop) bounds() (lo, hi float64) {
	return math.Log(s.Miss / (1 - s.FalseAlarm)), math.Log((1 - s.Miss) / s.FalseAlarm)
}

// Decide returns what the walk has come to after plants with these counts of
// mildewed leaves, each out of PerPlant, in the order of the walk.
func (s Stop) Decide(infected []int) Outcome {
	inc := s.increments()
	lo, hi := s.bounds()
	sum := 0.0
	for i, k := range infected {
		sum += inc[min(max(k, 0), s.PerPlant)]
		switch {
		case sum <= lo:
			return Clean
		case sum >= hi:
			return Bad
		case i+1 >= s.MostPlants:
			return Undecided
		}
	}
	return WalkOn
}

// Performance is how a stop rule does in a bed whose true share is Share.
type Performance struct {
	Share, Clean, Bad, Undecided float64 // chance of each end
	Plants                       float64 // expected number of plants looked at
}

// Performance computes the chances exactly, by going through all sums that can
// be met, at the rule's own Rho. It is what must be printed beside the rule:
// the wanted error rates are bounds for a walk without an end.
func (s Stop) Performance(share float64) Performance {
	inc := s.increments()
	lo, hi := s.bounds()
	chance := betaBinomial(s.PerPlant, share, s.Rho)
	// Sums depend only on how often each count was met, so that equal sums are
	// told by rounding; the order of the list is that of its making.
	type node struct{ sum, p float64 }
	now := []node{{0, 1}}
	out := Performance{Share: share}
	for range s.MostPlants {
		next := make([]node, 0, len(now)*2)
		at := make(map[int64]int)
		for _, a := range now {
			out.Plants += a.p
			for k, c := range chance {
				sum, p := a.sum+inc[k], a.p*c
				switch {
				case sum <= lo:
					out.Clean += p
				case sum >= hi:
					out.Bad += p
				default:
					key := int64(math.Round(sum * 1e9))
					if j, ok := at[key]; ok {
						next[j].p += p
					} else {
						at[key] = len(next)
						next = append(next, node{sum, p})
					}
				}
			}
		}
		now = next
	}
	for _, a := range now {
		out.Undecided += a.p
	}
	return out
}

// waldLines are the two straight lines of Wald (1947) for independent leaves:
// "clean" when infected <= slope n - h1, "bad" when infected >= slope n + h2.
func (s Stop) waldLines() (h1, h2, slope float64) {
	k := math.Log(s.Bad * (1 - s.Clean) / (s.Clean * (1 - s.Bad)))
	lo, hi := s.bounds()
	return -lo / k, hi / k, math.Log((1-s.Clean)/(1-s.Bad)) / k
}

// waldLeaves are the expected numbers of independent leaves in a bed at Clean and
// in one at Bad by Wald's approximation, for a walk without an end.
func (s Stop) waldLeaves() (clean, bad float64) {
	lo, hi := s.bounds()
	up, down := math.Log(s.Bad/s.Clean), math.Log((1-s.Bad)/(1-s.Clean))
	mean := func(p float64) float64 { return p*up + (1-p)*down }
	a, b := s.FalseAlarm, s.Miss
	return ((1-a)*lo + a*hi) / mean(s.Clean), (b*lo + (1-b)*hi) / mean(s.Bad)
}
