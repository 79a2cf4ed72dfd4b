package epidemic

import (
	"context"
	"slices"
	"testing"
	"unsafe"

	"github.com/google/go-cmp/cmp"

	"oidium/cite"
	"oidium/garden"
	"oidium/mildew"
)

// A deposit protects leaf that had unfolded, not leaf that came later.
func TestNewLeafHasNoResidue(t *testing.T) {
	air := spell(60, 22, 6, 80, 0)
	st := stand("cucumber", "podosphaera-xanthii", air)
	st.Mildew = certain(st.Mildew)
	from := st.Start + 25
	for i := 25; i < 60; i++ {
		st.Effects = append(st.Effects, garden.Effect{Day: st.Start + garden.Day(i), Since: from, Stop: [2]float64{1, 1}})
	}
	c := st.before()
	rows := st.lay(&c, 0, st.Drivers.Known, st.Effects)
	for i, d := range rows[25:] {
		for k := range d.stop {
			// A cohort begins on the days that five divides.
			on := int(st.Start) + 25 + i
			birth := on - on%window - (cohorts-1-k)*window
			switch {
			case k > 0 && birth > int(from) && d.stop[k][0] != 0:
				t.Fatalf("day %d: cohort of day %d is protected by %.2f", on, birth, d.stop[k][0])
			case birth+window-1 <= int(from) && d.stop[k][0] != 1:
				t.Fatalf("day %d: cohort of day %d is protected by %.2f only", on, birth, d.stop[k][0])
			}
		}
	}
	fresh := *st
	fresh.Effects = nil
	for i := 25; i < 60; i++ {
		fresh.Effects = append(fresh.Effects, garden.Effect{Day: st.Start + garden.Day(i), Stop: [2]float64{1, 1}})
	}
	if a, b := burden(run(t, st, 30, 2)), burden(run(t, &fresh, 30, 2)); a <= b {
		t.Errorf("one old deposit leaves %.5f, cover of every leaf %.5f", a, b)
	}
}

// An effect on another bed is passed over.
func TestEffectsOfOtherBeds(t *testing.T) {
	st := stand("cucumber", "podosphaera-xanthii", spell(60, 22, 6, 80, 0))
	a := burden(run(t, st, 20, 1))
	st.Effects = []garden.Effect{{Bed: "elsewhere", Day: st.Start + 40, Remove: [3]float64{1, 1, 1}}}
	if b := burden(run(t, st, 20, 1)); a != b {
		t.Errorf("%g became %g", a, b)
	}
}

// A changed climate at the leaf is the same as such weather.
func TestClimateEffect(t *testing.T) {
	air := spell(70, 17, 5, 75, 6)
	st := stand("cucumber", "podosphaera-xanthii", air)
	for i := 20; i < 70; i++ {
		st.Effects = append(st.Effects, garden.Effect{Day: st.Start + garden.Day(i), Warmer: 4, Wetter: 5})
	}
	warmer := spell(70, 17, 5, 75, 6)
	for _, h := range warmer[20:] {
		for i := range h.T {
			h.T[i] += 4
			h.RH[i] = min(100, h.RH[i]+5)
		}
	}
	want := stand("cucumber", "podosphaera-xanthii", warmer)
	a, b := run(t, st, 20, 2), run(t, want, 20, 2)
	if d := cmp.Diff(b.records, a.records, cmp.AllowUnexported(record{})); d != "" {
		t.Error(d)
	}
	st.Drivers.KnownAir = nil
	if _, err := RunAt(context.Background(), st, drawn(st, 1), 1); err == nil {
		t.Error("a change of climate without hourly weather is taken")
	}
}

// Nothing is allocated in a step.
func TestStepAllocatesNothing(t *testing.T) {
	st := stand("cucumber", "podosphaera-xanthii", spell(80, 22, 6, 80, 6))
	st.Mildew = certain(st.Mildew)
	c := st.before()
	rows := st.lay(&c, 0, st.Drivers.Known, nil)
	r := st.rates(st.Params(Draw(st, 0)))
	var s state
	out := make([]record, len(rows))
	if n := testing.AllocsPerRun(10, func() {
		s = state{}
		for k := range s.leaf {
			s.leaf[k].left = 1
		}
		st.walk(&s, &r, 0, rows, out)
	}); n != 0 {
		t.Errorf("%g allocations in a season", n)
	}
	if !s.any {
		t.Error("no mildew came; the test shows nothing")
	}
}

// leafOf is the leaf area of the first member on a morning.
func leafOf(e *Ensemble, d garden.Day) float64 {
	r := e.At(0, d)
	return r.Area[0] + r.Area[1] + r.Area[2]
}

// A plant that lost half its leaf grows it again, and the share taken is on record.
func TestGrowthAfterRemoval(t *testing.T) {
	st := stand("zinnia", "golovinomyces-spadiceus", spell(80, 20, 5, 70, 0))
	q := *st.Mildew
	q.Arrival.V, q.Debris.V = 0, 0
	st.Mildew = &q
	whole := run(t, st, 1, 1)
	st.Effects = []garden.Effect{{Day: st.Start + 40, Remove: [garden.LeafAges]float64{0.5, 0.5, 0.5}}}
	cut := run(t, st, 1, 1)
	at := func(d int) float64 {
		return leafOf(cut, st.Start+garden.Day(d)) / leafOf(whole, st.Start+garden.Day(d))
	}
	if a := at(41); a < 0.48 || a > 0.58 {
		t.Errorf("the day after half was taken %.2f of the leaf stand", a)
	}
	if a := at(75); a < 0.85 {
		t.Errorf("five weeks later %.2f of the leaf stand", a)
	}
	r := cut.At(0, st.Start+75)
	if r.Removed < 0.1 || r.Removed > 0.5 || r.Free < leafOf(whole, st.Start+75)*0.99 {
		t.Errorf("share taken %.2f, free canopy %.2f against %.2f", r.Removed, r.Free, leafOf(whole, st.Start+75))
	}
}

// A planting older than the first day simulated begins with about the leaf it
// would have had.
func TestPickingKeepsThePlantGrowing(t *testing.T) {
	leaf := func(crop garden.CropID, id garden.MildewID, pick float64, from int) float64 {
		st := stand(crop, id, spell(100, 22, 6, 60, 0))
		for d := from; d < 100; d += 2 {
			st.Effects = append(st.Effects, garden.Effect{Day: st.Start + garden.Day(d), Pick: pick})
		}
		return leafOf(run(t, st, 5, 1), st.Start+100)
	}
	none, some, all := leaf("courgette", "podosphaera-xanthii", 0, 40), leaf("courgette", "podosphaera-xanthii", 0.2, 40), leaf("courgette", "podosphaera-xanthii", 0.5, 40)
	if !(none < some && some < all) {
		t.Errorf("leaf of a courgette never picked %.3f, with a fifth every other day %.3f, with half %.3f", none, some, all)
	}
	// Before there is fruit, and where fruit is no load, picking changes nothing.
	if a, b := leaf("rose", "podosphaera-pannosa", 0, 40), leaf("rose", "podosphaera-pannosa", 0.5, 40); a != b {
		t.Errorf("a picked rose has %.4f, another %.4f", b, a)
	}
	early := func(pick float64) float64 {
		st := stand("courgette", "podosphaera-xanthii", spell(100, 22, 6, 60, 0))
		st.Effects = []garden.Effect{{Day: st.Start + 10, Pick: pick}}
		return leafOf(run(t, st, 5, 1), st.Start+100)
	}
	if a, b := early(0), early(1); a != b {
		t.Errorf("picked before there was fruit: %.4f, else %.4f", b, a)
	}
}

func TestPlantedBeforeTheStart(t *testing.T) {
	air := spell(60, 20, 6, 75, 0)
	st := stand("cucumber", "podosphaera-xanthii", air)
	q := *st.Mildew
	q.Arrival.V, q.Debris.V = 0, 0
	st.Mildew = &q
	whole := run(t, st, 1, 1)
	late := *st
	late.Start += 30
	late.Drivers.Known, late.Drivers.KnownAir = st.Drivers.Known[30:], nil
	e := run(t, &late, 1, 1)
	want, got := leafOf(whole, late.Start), leafOf(e, late.Start)
	// The member's vigour is not known to the days before the start.
	if got < 0.6*want || got > 1.6*want {
		t.Errorf("leaf on the first day %.2f, simulated from planting %.2f", got, want)
	}
	if r := e.At(0, late.Start); r.Area[garden.Old] == 0 {
		t.Error("no leaf is old a month after planting")
	}
}

// Perennials stand bare until bud break.
func TestBudBreak(t *testing.T) {
	p := deBilt(t)
	air, start := p.from(t, "2000-01-02", 200)
	st := stand("grape", "erysiphe-necator", air)
	st.Start, st.Planted = start, start-2000
	e := run(t, st, 1, 1)
	first := 0
	for first < 200 && leafOf(e, start+garden.Day(first)) == 0 {
		first++
	}
	// Vines break bud in April to May there (common practice, no source).
	if first < 90 || first > 150 {
		t.Errorf("first leaf on day %d of the year", first+2)
	}
}

// Errors say what is wrong.
func TestErrors(t *testing.T) {
	ctx := context.Background()
	good := stand("cucumber", "podosphaera-xanthii", spell(20, 20, 5, 80, 0))
	z := drawn(good, 2)
	for name, change := range map[string]func(*Stand){
		"no crop":    func(s *Stand) { s.Crop = nil },
		"no ground":  func(s *Stand) { s.Ground = 0 },
		"no weather": func(s *Stand) { s.Drivers = Drivers{} },
		"uneven":     func(s *Stand) { s.Drivers.Ahead = [][]mildew.Daily{make([]mildew.Daily, 3), make([]mildew.Daily, 4)} },
	} {
		s := *good
		change(&s)
		if _, err := RunAt(ctx, &s, z, 1); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := RunAt(ctx, good, nil, 1); err == nil {
		t.Error("no members: no error")
	}
	good.Drivers.Ahead = [][]mildew.Daily{good.Drivers.Known[:5]}
	e := run(t, good, 2, 1)
	from := good.Start + 20
	for name, try := range map[string]func() (*Ensemble, error){
		"too early":      func() (*Ensemble, error) { return e.Try(ctx, from-1, nil, nil, 1) },
		"too late":       func() (*Ensemble, error) { return e.Try(ctx, from+5, nil, nil, 1) },
		"effect before":  func() (*Ensemble, error) { return e.Try(ctx, from+1, []garden.Effect{{Day: from}}, nil, 1) },
		"unknown member": func() (*Ensemble, error) { return e.Try(ctx, from, nil, []int{7}, 1) },
	} {
		if _, err := try(); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	done, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := RunAt(done, good, z, 1); err == nil {
		t.Error("ended context: no error")
	}
}

// Twelve cucurbit beds with two mildews each keep within 5000 numbers a member.
func TestSizeOfState(t *testing.T) {
	if n := 12 * 2 * unsafe.Sizeof(kept{}) / 8; n > 5000 {
		t.Errorf("twelve beds take %d numbers a member", n)
	}
}

func BenchmarkRun(b *testing.B) {
	st := stand("cucumber", "podosphaera-xanthii", spell(110, 22, 6, 78, 6))
	b.ReportAllocs()
	for b.Loop() {
		run(b, st, 200, 1)
	}
}

// BenchmarkTry is one candidate over 14 days ahead.
func BenchmarkTry(b *testing.B) {
	st := stand("cucumber", "podosphaera-xanthii", spell(104, 22, 6, 78, 6))
	all := st.Drivers.Known
	st.Drivers.Known = all[:90]
	for range 20 {
		st.Drivers.Ahead = append(st.Drivers.Ahead, all[90:])
	}
	e := run(b, st, 200, 1)
	eff := []garden.Effect{{Day: st.Start + 91, Kill: [2]float64{0.5, 0.5}}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := e.Try(context.Background(), st.Start+90, eff, nil, 1); err != nil {
			b.Fatal(err)
		}
	}
}

// The better a value is known the narrower it is drawn: over all rows the middle
// width of grade A and B lies below that of C, and no assumption is drawn as if it
// were certain.
func TestGradesSetTheWidth(t *testing.T) {
	var known, assumed []float64
	for _, p := range mildew.All() {
		for _, v := range []cite.Value{p.LatentBest, p.Infectious, p.Rate, p.Arrival, p.Debris} {
			width := logWidth(v)
			if v.V == 0 {
				continue
			}
			switch v.Grade {
			case cite.A, cite.B:
				known = append(known, width)
			case cite.C:
				assumed = append(assumed, width)
				if width < 0.05 {
					t.Errorf("%s: %s is an assumption and drawn with %.3f", p.ID, v.What, width)
				}
			}
		}
	}
	slices.Sort(known)
	slices.Sort(assumed)
	if len(known) < 5 || known[len(known)/2] > assumed[len(assumed)/2]/2 {
		t.Errorf("middle width of %d known values %.3f, of %d assumed %.3f", len(known), known[len(known)/2], len(assumed), assumed[len(assumed)/2])
	}
	t.Logf("%d known, middle %.3f; %d assumed, middle %.3f", len(known), known[len(known)/2], len(assumed), assumed[len(assumed)/2])
}
