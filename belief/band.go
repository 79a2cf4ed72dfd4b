package belief

import (
	"cmp"
	"slices"
)

// Band is a number with its uncertainty.
type Band struct {
	Low, Mid, High float64 // 10 % bound, median, 90 % bound
	Mean           float64
}

// BandOf returns the weighted band of x; w are weights of any sum. No members,
// or no weight, give zeros.
func BandOf(x, w []float64) Band {
	var s Sorter
	return s.Band(x, w)
}

// Sorter makes many bands without allocating for each. The zero value is ready.
type Sorter struct {
	pairs []pair
}

type pair struct{ x, w float64 }

// Band is [BandOf].
func (s *Sorter) Band(x, w []float64) Band {
	total := s.sort(x, w)
	if total <= 0 {
		return Band{}
	}
	// numerical: the quantiles of the band
	return Band{Low: s.at(0.1 * total), Mid: s.at(0.5 * total), High: s.at(0.9 * total), Mean: mean(x, w)}
}

func (s *Sorter) sort(x, w []float64) (total float64) {
	s.pairs = s.pairs[:0]
	for i, v := range x {
		if w[i] > 0 {
			s.pairs = append(s.pairs, pair{v, w[i]})
			total += w[i]
		}
	}
	slices.SortFunc(s.pairs, func(a, b pair) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.w, b.w)) })
	return total
}

// at returns the value below which the weight target lies: each member stands in
// the middle of its own weight, with straight lines between.
func (s *Sorter) at(target float64) float64 {
	below, last := 0.0, 0.0
	for i, p := range s.pairs {
		mid := below + p.w/2
		if mid >= target {
			if i == 0 {
				return p.x
			}
			prev := s.pairs[i-1]
			return prev.x + (p.x-prev.x)*(target-last)/(mid-last)
		}
		below, last = below+p.w, mid
	}
	return s.pairs[len(s.pairs)-1].x
}

// mean returns the weighted mean of x, 0 without weight.
func mean(x, w []float64) float64 {
	sum, total := 0.0, 0.0
	for i, v := range x {
		sum, total = sum+v*w[i], total+w[i]
	}
	if total == 0 {
		return 0
	}
	return sum / total
}

// Exceed returns the probability that x is above limit.
func Exceed(x, w []float64, limit float64) float64 {
	over, total := 0.0, 0.0
	for i, v := range x {
		total += w[i]
		if v > limit {
			over += w[i]
		}
	}
	if total == 0 {
		return 0
	}
	return over / total
}
