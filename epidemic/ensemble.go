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
	saved   []kept     // by member
	canopy  canopy     // on that morning
}

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

// tally gathers what a record shows, cohort by cohort.
type tally struct {
	area [garden.LeafAges]float64
	seen [garden.LeafAges][faces]float64
}

// add counts a cohort under its age, and its colonies into the sums of the member.
func (t *tally) add(age garden.LeafAge, x *cohort, now *sums) {
	t.area[age] += x.left * x.area
	if !x.sick {
		return
	}
	up, down := &x.face[0], &x.face[1]
	i0 := up[infect0] + up[infect0+1] + up[infect0+2]
	i1 := down[infect0] + down[infect0+1] + down[infect0+2]
	t.seen[age][0] += x.left * (visibleLatent.V*up[infect0-1] + i0 + up[spent])
	t.seen[age][1] += x.left * (visibleLatent.V*down[infect0-1] + i1 + down[spent])
	now.shedding += x.left * (i0 + i1)
	now.last += x.left * (up[infect0+2] + down[infect0+2])
	now.ripe += x.left * (up[infect0-1] + down[infect0-1])
	now.next += x.left * (up[infect0-2] + down[infect0-2])
}

// write makes the record of the evening, which is the next morning's.
func (t *tally) write(s *state, out *record) {
	all, sum := 0.0, 0.0
	for a, x := range t.area {
		all += x
		sum += t.seen[a][0] + t.seen[a][1]
		out.area[a] = float32(x)
		out.mildewed[a] = [garden.Faces]float32{}
		if x > 0 && s.any {
			part := 1 / x
			out.mildewed[a][0] = float32(min(1, t.seen[a][0]*part))
			out.mildewed[a][1] = float32(min(1, t.seen[a][1]*part))
		}
	}
	out.infectious = float32(s.now.shedding)
	out.severity = 0
	if all > 0 {
		out.severity = float32(min(1, sum/(faces*all)))
	}
	out.removed = 0
	if s.taken > 0 {
		out.removed = float32(s.taken / s.grown)
	}
	out.free = float32(s.free)
}

// morning writes the record of a state that no step led to, with the ages of d.
func (s *state) morning(d *day, out *record) {
	var t tally
	var now sums
	for c := range s.leaf {
		t.add(d.age[c], &s.leaf[c], &now)
	}
	t.write(s, out)
}
