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
	made := make(map[garden.MaterialID]float64) // minutes of making each mix
	for _, i := range order {
		c := &steps[i].Candidate
		minutes := steps[i].Minutes
		if c.Kind == Treat {
			minutes -= math.Min(c.SetUp, made[c.Material])
		}
		if p.Budget > 0 && p.Minutes+minutes > p.Budget {
			continue
		}
		taken[i] = true
		p.Minutes += minutes
		if c.Kind == Treat {
			made[c.Material] = math.Max(made[c.Material], c.SetUp)
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
			s.Minutes -= s.Candidate.SetUp
			if !s.Shares {
				s.Minutes += made[s.Candidate.Material]
			}
			// What the bed by itself would have paid, less what is paid now.
			p.Net += s.setUp
			if s.Candidate.SetUp > 0 && !s.Shares {
				p.Net -= s.setUp * made[s.Candidate.Material] / s.Candidate.SetUp
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
	return (s.Urgency + putOffGain.V*math.Max(0, s.Worth)) / s.Minutes
}

// filling counts the loads of a tank, one material after another.
type filling struct {
	tank     float64
	material garden.MaterialID
	loads    int
	left     float64 // in the load at hand, litres
}

// take gives the step the load that it begins with. A bed may begin in the rest
// of one load and end in the next.
func (f *filling) take(s *Step) {
	s.Shares = f.material == s.Candidate.Material && f.material != ""
	if !s.Shares {
		f.material, f.left = s.Candidate.Material, 0
	}
	if f.tank <= 0 {
		return
	}
	need := s.Candidate.Litres
	if f.left <= 0 {
		f.loads, f.left = f.loads+1, f.tank
	}
	s.Load = f.loads
	if over := need - f.left; over > 1e-9 {
		more := math.Ceil(over/f.tank - 1e-9)
		f.loads += int(more)
		f.left += more * f.tank
	}
	f.left = math.Max(0, f.left-need)
	if f.left < 1e-9 {
		f.left = 0
	}
}
