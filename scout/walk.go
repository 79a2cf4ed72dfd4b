package scout

import (
	"math"

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
	if w.Minutes > 0 && WalkMinutes(s.Plants, s.PerPlant) > w.Minutes {
		s.Plants = max(1, int(w.Minutes/WalkMinutes(1, s.PerPlant)))
		s.Limit = "time"
	}
	s.Leaves = s.Plants * s.PerPlant
	s.Minutes = WalkMinutes(s.Plants, s.PerPlant)
	s.Chance = 1 - ChanceOfNone(s.Plants, s.PerPlant, w.Share, w.Look)
	s.AtMost = AtMost(s.Plants, s.PerPlant, w.Confidence, w.Look)
	return s
}

// WalkMinutes is the time to look at perPlant leaves, both faces, on each of so
// many plants.
func WalkMinutes(plants, perPlant int) float64 {
	return float64(plants) * (secondsPlant.V + float64(perPlant)*secondsLeaf.V) / 60
}
