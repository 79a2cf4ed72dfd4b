package scout

import (
	"cmp"
	"math"
	"slices"

	"oidium/garden"
)

// Walk is what a look is asked to do.
type Walk struct {
	Share      float64          // of mildewed leaves that must not be missed; 0: the cucurbit threshold's 1 in 50
	Confidence float64          // 0: 0.95
	Plants     int              // in the bed, 0 not known
	PerPlant   int              // leaves to look at on each plant, 0: 5
	Leaves     int              // of these ages in the whole bed, 0 not known
	Minutes    float64          // at hand, 0 no limit
	Ages       []garden.LeafAge // to look at, most susceptible first; empty: old
	Look       Look             // the zero value: plain eye, sure
}

// Sample is how many leaves to look at and what that buys. Each leaf is looked at
// on both faces.
type Sample struct {
	Plants, PerPlant, Leaves int
	Ages                     []garden.LeafAge
	Minutes                  float64
	Chance                   float64 // of a find when Share is mildewed
	AtMost                   float64 // share that "none found" leaves possible, one-sided Confidence
	Limit                    string  // "" enough, "time": cut to the minutes, "bed": every leaf is looked at
}

// PlanWalk returns the least walk that finds mildew with the wanted confidence,
// taking more plants rather than more leaves of a plant, since leaves of one
// plant tell less than leaves of several.
func PlanWalk(w Walk) Sample {
	w = w.filled()
	s := Sample{PerPlant: w.PerPlant, Ages: w.Ages}
	s.Plants = plantsToFind(w.Share, w.Confidence, w.PerPlant, w.Look)
	if w.Leaves > 0 {
		// In a small bed the leaves run out: never more than the exact sample of
		// a bed of so many leaves needs, for an eye that misses some.
		if n, ok := leavesToFindOf(w.Leaves, w.Share*w.Look.Sees, w.Confidence); ok {
			clumped := float64(n) * (1 + w.Look.Rho*float64(w.PerPlant-1))
			s.Plants = min(s.Plants, int(math.Ceil(clumped/float64(w.PerPlant))))
		}
		if all := (w.Leaves + w.PerPlant - 1) / w.PerPlant; s.Plants >= all {
			s.Plants, s.Limit = all, "bed"
		}
	}
	if w.Plants > 0 && s.Plants > w.Plants {
		// Then more leaves on each plant.
		per := w.PerPlant
		for per < 10*w.PerPlant && plantsToFind(w.Share, w.Confidence, per, w.Look) > w.Plants {
			per++
		}
		if w.Leaves > 0 {
			per = max(1, min(per, w.Leaves/w.Plants))
		}
		s.Plants, s.PerPlant = w.Plants, per
		if plantsToFind(w.Share, w.Confidence, per, w.Look) > w.Plants {
			s.Limit = "bed"
		}
	}
	s.finish(w)
	return s
}

// filled puts the usual in place of what was not stated.
func (w Walk) filled() Walk {
	if w.Share <= 0 {
		w.Share = ruleInfected.V / ruleLeaves.V
	}
	if w.Confidence <= 0 || w.Confidence >= 1 {
		w.Confidence = confidence
	}
	if w.PerPlant <= 0 {
		w.PerPlant = int(loosePlant.V)
	}
	if w.Look == (Look{}) {
		w.Look = LookOf("eye", "sure")
	}
	if len(w.Ages) == 0 {
		w.Ages = []garden.LeafAge{garden.Old}
	}
	return w
}

// finish cuts the walk to the minutes and says what it buys.
func (s *Sample) finish(w Walk) {
	if w.Minutes > 0 && WalkMinutes(s.Plants, s.PerPlant) > w.Minutes {
		s.Plants = max(1, int(w.Minutes/WalkMinutes(1, s.PerPlant)))
		s.Limit = "time"
	}
	s.Leaves = s.Plants * s.PerPlant
	s.Minutes = WalkMinutes(s.Plants, s.PerPlant)
	s.Chance = 1 - chanceOfNone(s.Plants, s.PerPlant, w.Share, w.Look)
	s.AtMost = AtMost(s.Plants, s.PerPlant, w.Confidence, w.Look)
}

// WalkMinutes is the time to look at perPlant leaves, both faces, on each of so
// many plants.
func WalkMinutes(plants, perPlant int) float64 {
	return float64(plants) * (secondsPlant.V + float64(perPlant)*secondsLeaf.V) / 60
}

// PlanEstimate returns the walk whose estimate of the share w.Share has the
// standard error cv x Share (0: a quarter), and the cv that is reached within the
// bed and the minutes. It ends, like any walk, at every plant of the bed.
func PlanEstimate(w Walk, cv float64) (s Sample, reached float64) {
	if cv <= 0 {
		cv = 0.25
	}
	w = w.filled()
	share := math.Min(w.Share*w.Look.Sees, 1)
	n := plantsToEstimate(share, w.Look.Rho, cv, w.PerPlant)
	if w.Plants > 0 {
		n = smallBed(n, float64(w.Plants))
	}
	s = Sample{PerPlant: w.PerPlant, Ages: w.Ages, Plants: int(math.Ceil(n - 1e-9))}
	if w.Plants > 0 && s.Plants >= w.Plants {
		s.Plants, s.Limit = w.Plants, "bed"
	}
	s.finish(w)
	m := float64(s.Plants)
	if w.Plants > 0 {
		// n/(1+n/total) turned round; a bed looked at whole has no sampling error.
		m = m / math.Max(1-m/float64(w.Plants), 1e-12)
	}
	return s, math.Sqrt(plantsToEstimate(share, w.Look.Rho, 1, w.PerPlant) / m)
}

// BedState is what decides the order of a walk.
type BedState struct {
	ID      garden.BedID
	Covered float64 // expected share of leaf with visible mildew
	Order   int     // place in the walk
}

// CleanFirst orders beds from clean to worst, so that hands, tools and clothes
// carry nothing to a clean bed; beds alike stand in walking order. Beds whose
// cover differs by less than a tenth of a percent count as alike.
func CleanFirst(beds []BedState) []garden.BedID {
	in := slices.Clone(beds)
	class := func(b BedState) int { return int(math.Max(b.Covered, 0) * 1000) }
	slices.SortStableFunc(in, func(a, b BedState) int {
		return cmp.Or(cmp.Compare(class(a), class(b)), cmp.Compare(a.Order, b.Order), cmp.Compare(a.ID, b.ID))
	})
	out := make([]garden.BedID, len(in))
	for i, b := range in {
		out[i] = b.ID
	}
	return out
}
