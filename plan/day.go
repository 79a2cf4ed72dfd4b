package plan

import (
	"cmp"
	"math"
	"slices"

	"oidium/garden"
)

// cutDay takes into the day what fits into the minutes, the most urgent for a
// minute first, and leaves the order of the steps as it is. Steps that only name
// a later day are never for today.
func cutDay(steps []Step, h Hands, day garden.Day) Pass {
	p := Pass{Budget: h.Minutes * float64(max(1, h.Hands))}
	order := make([]int, 0, len(steps))
	for i, s := range steps {
		if forToday(s) {
			order = append(order, i)
		}
	}
	// A removal goes with the treatment that it was paired with: both have the
	// urgency of the pair, and the removal comes first at the same urgency.
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(urgency(steps[b]), urgency(steps[a])), cmp.Compare(steps[b].Worth, steps[a].Worth))
	})
	taken := make([]bool, len(steps))
	made := make(map[garden.MaterialID]bool)
	for _, i := range order {
		minutes := steps[i].Minutes
		if made[steps[i].Candidate.Material] && steps[i].Kind == Treat {
			minutes -= steps[i].Candidate.SetUp
		}
		if p.Budget > 0 && p.Minutes+minutes > p.Budget {
			continue
		}
		taken[i] = true
		p.Minutes += minutes
		if steps[i].Kind == Treat {
			made[steps[i].Candidate.Material] = true
		}
	}
	fill := &filling{tank: h.TankL}
	for i, s := range steps {
		if !taken[i] {
			s.Until = max(s.Until, day+1)
			p.Later = append(p.Later, s)
			continue
		}
		if s.Kind == Treat {
			fill.take(&s)
			if s.Shares {
				s.Minutes -= s.Candidate.SetUp
				p.Net += setUpCost(s, h)
			}
		}
		p.Net += s.Worth
		p.Today = append(p.Today, s)
	}
	p.Loads = fill.loads
	slices.SortStableFunc(p.Later, func(a, b Step) int { return cmp.Compare(a.Until, b.Until) })
	return p
}

// forToday tells work of today from what only names a later day.
func forToday(s Step) bool {
	return s.Candidate.InDays == 0 && (s.Kind != Look || s.Candidate.Leaves > 0)
}

func urgency(s Step) float64 {
	if s.Minutes <= 0 {
		return math.Inf(1)
	}
	return s.Urgency / s.Minutes
}

func setUpCost(s Step, h Hands) float64 { return s.Candidate.SetUp / 60 * h.Wage }

// filling counts the loads of a tank, one material after another.
type filling struct {
	tank     float64
	material garden.MaterialID
	loads    int
	left     float64 // in the load at hand, litres
}

// take gives the step its load; a bed may end one load and begin the next, which
// is then its number.
func (f *filling) take(s *Step) {
	fresh := f.material != s.Candidate.Material
	s.Shares = !fresh
	if f.tank <= 0 {
		f.material = s.Candidate.Material
		return
	}
	if fresh {
		f.material, f.left = s.Candidate.Material, f.tank
		f.loads++
	}
	s.Load = f.loads
	for need := s.Candidate.Litres; need > f.left+1e-9; f.left = f.tank {
		need -= f.left
		f.loads++
		if f.tank <= 0 {
			return
		}
		s.Candidate.Litres = need // what is drawn from the load at hand in the end
	}
	f.left -= s.Candidate.Litres
}
