package plan

import (
	"math"
	"slices"

	"oidium/garden"
)

// choice is what the garden does as a whole: for each plot one of its options.
type choice struct {
	of  []*Scored // nil: the bed has no action to choose (a look decides, or it waits)
	why []*Switch
}

// choose finds the options that are worth most together, starting from each
// bed's own best and changing one bed, or all beds to one material, as long as
// that gains. The order of the search is fixed, so that the same garden always
// gives the same choice.
func choose(plots []Plot, h Hands) choice {
	options := make([][]*Scored, len(plots))
	now := make([]int, len(plots))
	for i := range plots {
		options[i] = optionsOf(&plots[i].Decision)
	}
	s := search{options: options, hands: h}
	own := slices.Clone(now)
	s.fit(now)
	best := s.worth(now)
	if every, ok := s.every(); ok {
		// Few enough combinations to look at each; the first best one is kept.
		for _, next := range every {
			if s.fits(next) {
				if w := s.worth(next); w > best+1e-9 {
					copy(now, next)
					best = w
				}
			}
		}
	}
	for improved := true; improved; {
		improved = false
		try := func(next []int) {
			if s.fits(next) {
				if w := s.worth(next); w > best+1e-9 {
					copy(now, next)
					best, improved = w, true
				}
			}
		}
		for i := range options {
			for o := range options[i] {
				next := slices.Clone(now)
				next[i] = o
				try(next)
			}
		}
		for _, m := range s.materials() {
			next := slices.Clone(now)
			for i := range options {
				if o := slices.IndexFunc(options[i], func(x *Scored) bool { return x.Kind == Treat && x.Material == m }); o >= 0 && options[i][now[i]].Kind == Treat {
					next[i] = o
				}
			}
			try(next)
		}
	}
	out := choice{of: make([]*Scored, len(plots)), why: make([]*Switch, len(plots))}
	for i := range options {
		if len(options[i]) == 0 {
			continue
		}
		out.of[i] = options[i][now[i]]
		if now[i] != own[i] {
			out.why[i] = s.because(now, own, i)
		}
	}
	return out
}

// optionsOf are the ways to act in a bed today, its own best first; none where
// the verdict is to look first or to wait.
func optionsOf(d *Decision) []*Scored {
	switch d.Verdict {
	case DoTreat, DoRemove, DoClimate, DoNothing:
	default:
		return nil
	}
	var out []*Scored
	for i := range d.Ranked {
		if s := &d.Ranked[i]; !s.Barred && s.Kind != Look && s.InDays == 0 {
			out = append(out, s)
		}
	}
	return out
}

// every lists all combinations of the options, unless there are too many.
func (s *search) every() ([][]int, bool) {
	const most = 4096 // numerical: what is looked at within a few milliseconds
	n := 1
	for _, o := range s.options {
		if n *= max(1, len(o)); n > most {
			return nil, false
		}
	}
	out := make([][]int, n)
	for k := range out {
		out[k] = make([]int, len(s.options))
		rest := k
		for i, o := range s.options {
			size := max(1, len(o))
			out[k][i] = rest % size
			rest /= size
		}
	}
	return out, true
}

type search struct {
	options [][]*Scored
	hands   Hands
}

// materials are those that any bed could get, in the order of the beds.
func (s *search) materials() []garden.MaterialID {
	var out []garden.MaterialID
	for _, o := range s.options {
		for _, x := range o {
			if x.Kind == Treat && !slices.Contains(out, x.Material) {
				out = append(out, x.Material)
			}
		}
	}
	return out
}

func (s *search) at(now []int, i int) *Scored {
	if len(s.options[i]) == 0 {
		return nil
	}
	return s.options[i][now[i]]
}

// worth is the net benefit of all beds together: each bed by itself, plus the
// making of a mix that is needed only once, less what a repeated mode of action
// costs later.
func (s *search) worth(now []int) float64 {
	sum := 0.0
	for i := range s.options {
		x := s.at(now, i)
		if x == nil {
			continue
		}
		sum += x.Net.Mean
		if x.Kind != Treat {
			continue
		}
		if x.Repeats {
			sum -= repeatCost.V * math.Max(0, x.Saved.Mean)
		}
		// Of all that use a material only the dearest making of it is paid for.
		others := 0.0
		for j := range i {
			if y := s.at(now, j); y != nil && y.Kind == Treat && y.Material == x.Material {
				others = math.Max(others, y.setUp())
			}
		}
		sum += math.Min(others, x.setUp())
	}
	return sum
}

// setUp is what the making of its mix costs.
func (s *Scored) setUp() float64 {
	if s.Minutes <= 0 {
		return 0
	}
	return s.Labour * s.SetUp / s.Minutes
}

// fits tells whether the shed holds enough.
func (s *search) fits(now []int) bool {
	for _, m := range s.materials() {
		if left, known := s.hands.Shed[m]; known && s.used(now, m) > left+1e-9 {
			return false
		}
	}
	return true
}

func (s *search) used(now []int, m garden.MaterialID) float64 {
	sum := 0.0
	for i := range s.options {
		if x := s.at(now, i); x != nil && x.Kind == Treat && x.Material == m {
			sum += x.Amount
		}
	}
	return sum
}

// fit moves beds to their next options until the shed holds enough: of the beds
// that use a short material the one that gains least from it for a gram first.
func (s *search) fit(now []int) {
	for _, m := range s.materials() {
		left, known := s.hands.Shed[m]
		if !known {
			continue
		}
		for s.used(now, m) > left+1e-9 {
			worst, least := -1, math.Inf(1)
			for i := range s.options {
				x := s.at(now, i)
				if x == nil || x.Kind != Treat || x.Material != m || x.Amount <= 0 {
					continue
				}
				if g := x.Net.Mean / x.Amount; g < least {
					worst, least = i, g
				}
			}
			if worst < 0 {
				break
			}
			now[worst] = slices.IndexFunc(s.options[worst], func(x *Scored) bool { return x.Kind == Nothing })
		}
	}
}

// because says why bed i has another option than its own best: by what would be
// wrong with going back to it.
func (s *search) because(now, own []int, i int) *Switch {
	from, to := s.options[i][own[i]], s.options[i][now[i]]
	back := slices.Clone(now)
	back[i] = own[i]
	w := &Switch{From: from.Name, To: to.Name, Gain: s.worth(now) - s.worth(back), Why: "shared"}
	switch {
	case !s.fits(back):
		w.Why, w.Gain = "shed", 0
	case from.Repeats && !to.Repeats:
		w.Why = "repeat"
	}
	return w
}
