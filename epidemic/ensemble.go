package epidemic

import (
	"oidium/garden"
	"oidium/host"
)

// Record is one member on one morning.
type Record struct {
	Mildewed   [garden.LeafAges][garden.Faces]float64 // share of the face visibly mildewed, by leaf age
	Area       [garden.LeafAges]float64               // leaf area by age, m²/m²
	Infectious float64                                // infectious area of both faces, m² a m² of ground
	Severity   float64                                // share of all leaf, both faces, visibly mildewed
	Removed    float64                                // share of all leaf unfolded so far that was taken off
	Free       float64                                // leaf area of an untouched, mildew-free canopy, m²/m²
}

// View returns the record as the crop's value is judged from.
func (r Record) View() host.View {
	return host.View{Mildewed: r.Mildewed, Area: r.Area, Free: r.Free}
}

// record is a Record as it is kept.
type record struct {
	mildewed                            [garden.LeafAges][garden.Faces]float32
	area                                [garden.LeafAges]float32
	infectious, severity, removed, free float32
}

// Ensemble is a finished run: the records of its members by day.
type Ensemble struct {
	stand   *Stand
	params  []Params // of all members of the run, by member
	slot    []int    // place of a member among the records, -1 not run
	from    garden.Day
	days    int // mornings kept, from on
	records []record
	fork    garden.Day // morning whose states are kept
	saved   []state    // by member
	canopy  canopy     // on that morning
}

// Params returns the parameters of a member.
func (e *Ensemble) Params(member int) Params { return e.params[member] }

// Span returns the first and the last morning with records.
func (e *Ensemble) Span() (first, last garden.Day) {
	return e.from, e.from + garden.Day(e.days) - 1
}

// At returns the record of a member on the morning of day; days outside Span
// take the nearest. A member that was not run has the zero Record.
func (e *Ensemble) At(member int, day garden.Day) Record {
	s := e.slot[member]
	if s < 0 {
		return Record{}
	}
	i := min(e.days-1, max(0, int(day-e.from)))
	r := &e.records[s*e.days+i]
	out := Record{
		Infectious: float64(r.infectious), Severity: float64(r.severity),
		Removed: float64(r.removed), Free: float64(r.free),
	}
	for a := range r.area {
		out.Area[a] = float64(r.area[a])
		for f := range r.mildewed[a] {
			out.Mildewed[a][f] = float64(r.mildewed[a][f])
		}
	}
	return out
}

// MeanInfectious returns the mean infectious area (m² a m² of ground) by morning
// of Span, over the members with the given weights; nil weighs all alike.
func (e *Ensemble) MeanInfectious(weights []float64) []float64 {
	out := make([]float64, e.days)
	sum := 0.0
	for m, s := range e.slot {
		w := 1.0
		if weights != nil {
			w = weights[m]
		}
		if s < 0 || w == 0 {
			continue
		}
		sum += w
		for i := range out {
			out[i] += w * float64(e.records[s*e.days+i].infectious)
		}
	}
	if sum > 0 {
		for i := range out {
			out[i] /= sum
		}
	}
	return out
}

// note writes the state in the evening of d, which is the next morning's record.
func (s *state) note(d *day, out *record) {
	var area [garden.LeafAges]float64
	var seen [garden.LeafAges][faces]float64
	all, sum, inf := 0.0, 0.0, 0.0
	for c := range s.leaf {
		a := d.age[c]
		area[a] += s.area[c]
		all += s.area[c]
		if !s.sick[c] {
			continue
		}
		up, down := &s.leaf[c][0], &s.leaf[c][1]
		i0, i1 := up.infectious(), down.infectious()
		v0 := visibleLatent.V*up[infect0-1] + i0 + up[spent]
		v1 := visibleLatent.V*down[infect0-1] + i1 + down[spent]
		seen[a][0] += v0
		seen[a][1] += v1
		sum += v0 + v1
		inf += i0 + i1
	}
	*out = record{infectious: float32(inf), free: float32(s.free)}
	for a := range area {
		out.area[a] = float32(area[a])
		if area[a] > 0 {
			for f := range seen[a] {
				out.mildewed[a][f] = float32(min(1, seen[a][f]/area[a]))
			}
		}
	}
	if all > 0 {
		out.severity = float32(min(1, sum/(faces*all)))
	}
	if s.grown > 0 {
		out.removed = float32(s.taken / s.grown)
	}
}
