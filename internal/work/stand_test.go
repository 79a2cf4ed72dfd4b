package work

import (
	"context"
	"math"
	"testing"
	"time"

	"oidium/belief"
	"oidium/garden"
	"oidium/host"
	"oidium/mildew"
)

// courgette is a plot in an invented garden without any weather file, weighed by
// the looks it was given.
func courgette(t *testing.T, g *garden.Garden) (*plot, *sky) {
	t.Helper()
	today, err := garden.ParseDay("2000-08-01")
	if err != nil {
		t.Fatal(err)
	}
	planted := today - 60
	g.Site = garden.Site{Latitude: 44, Longitude: 5, Zone: "UTC", Seed: 3}
	g.Beds = []garden.Bed{{ID: "one", Length: 10, Width: 1}}
	g.Plantings = []garden.Planting{{ID: "c", Bed: "one", Crop: "courgette", Planted: planted, Plants: 20}}
	s, err := lookUp(nil, g, time.UTC, today.At(6, time.UTC), planted, aheadDays, 4)
	if err != nil {
		t.Fatal(err)
	}
	plots, _ := plotsOf(g, today)
	p := plots[0]
	p.gather(g, s.loc)
	p.prepare(g, s)
	if err := believe(context.Background(), plots, s, 200, 2); err != nil {
		t.Fatal(err)
	}
	return p, s
}

// An effect that changes the climate at the leaf can be tried on what a round
// prepares: heat that kills leaves fewer colonies.
func TestClimateCanBeTried(t *testing.T) {
	p, s := courgette(t, &garden.Garden{})
	st := p.stands[0]
	var hot []garden.Effect
	for d := s.today; d < s.today+3; d++ {
		hot = append(hot, garden.Effect{Bed: "one", Day: d, Warmer: 20})
	}
	alone, err := st.ens.Try(context.Background(), s.today, nil, nil, 1)
	if err != nil {
		t.Fatal(err)
	}
	heated, err := st.ens.Try(context.Background(), s.today, hot, nil, 1)
	if err != nil {
		t.Fatal(err)
	}
	a, b := alone.MeanInfectious(nil), heated.MeanInfectious(nil)
	if last := len(a) - 1; !(b[last] < a[last]/2) || a[last] == 0 {
		t.Errorf("three days 20 K warmer leave %.3g shedding, without %.3g", b[last], a[last])
	}
}

// A picking that was entered takes fruit load off the plants, which then unfold
// more leaf; pickings of other beds do not count.
func TestPickingCounts(t *testing.T) {
	leaf := func(bed garden.BedID) float64 {
		g := &garden.Garden{}
		if bed != "" {
			at, _ := garden.ParseDay("2000-07-20")
			for i := range 5 {
				g.Harvests = append(g.Harvests, garden.Harvest{Bed: bed, Time: (at + garden.Day(2*i)).At(8, time.UTC), Kg: 2})
			}
		}
		p, s := courgette(t, g)
		r := p.stands[0].ens.At(0, s.today)
		return r.Area[0] + r.Area[1] + r.Area[2]
	}
	none, other, here := leaf(""), leaf("two"), leaf("one")
	if none != other || !(here > none*1.001) {
		t.Errorf("leaf without picking %.4f, picked elsewhere %.4f, picked here %.4f", none, other, here)
	}
}

// What the looks say about the parameters: nothing where nobody looked; where
// leaf was found white early, more colonies than was thought.
func TestLearned(t *testing.T) {
	p, _ := courgette(t, &garden.Garden{})
	if l := p.learned(p.stands[0]); l != nil {
		t.Errorf("nobody looked, and learned was %+v", l)
	}
	day, _ := garden.ParseDay("2000-07-10")
	g := &garden.Garden{Severities: []garden.Severity{{Bed: "one", Time: day.At(9, time.UTC), Whole: true, Share: 0.02}}}
	p, _ = courgette(t, g)
	l := p.learned(p.stands[0])
	if len(l) != dims {
		t.Fatalf("%d parameters, want %d", len(l), dims)
	}
	told := 0
	for i, x := range l {
		if x.Before.Low > x.Before.Mid || x.Before.Mid > x.Before.High || x.Now.Low > x.Now.High || x.Name == "" || x.What == "" {
			t.Errorf("parameter %d: %+v", i, x)
		}
		if x.Told {
			told++
		}
	}
	if arrival := l[3]; arrival.Name != "arrival" || !arrival.Told || !(arrival.Now.Mid > arrival.Before.Mid) {
		t.Errorf("two hundredths of the leaf white in early July say of arrival %+v", arrival)
	}
	if told == len(l) {
		t.Error("one look told everything")
	}
	// The weights lead back to the prior where the looks say nothing.
	st := p.stands[0]
	for _, x := range belief.Learn(st.z, st.weights) {
		if math.IsNaN(x.Mean) || x.Spread > 2.5 {
			t.Errorf("%+v", x)
		}
	}
}

// The index of the use-case is that of the counting rule, hour by hour; wet spells
// run on over midnight.
func TestWetSpells(t *testing.T) {
	var w wetSpell
	hours := func(wet ...bool) mildew.Hours {
		h := mildew.Hours{T: make([]float32, len(wet)), RH: make([]float32, len(wet))}
		for i := range wet {
			h.T[i], h.RH[i] = float32(10+i), 50
			if wet[i] {
				h.RH[i] = 95
			}
		}
		return h
	}
	day := func(h mildew.Hours) {
		w.begin()
		for i := range h.T {
			w.hour(h, i)
		}
	}
	day(hours(true, true, false, true))
	if w.longest != 2 || w.mean != 10.5 {
		t.Errorf("longest spell %g h at %g °C", w.longest, w.mean)
	}
	day(hours(true, true, false, true))
	// Three hours: the last of yesterday at 13 °C, then 10 and 11 °C.
	if w.longest != 3 || math.Abs(w.mean-34./3) > 1e-9 {
		t.Errorf("over midnight %g h at %g °C", w.longest, w.mean)
	}
	day(hours(false, false))
	if w.longest != 0 {
		t.Errorf("a dry day has a spell of %g h", w.longest)
	}
	c, _ := host.Get("grape")
	if got := warmthOf(c, []float32{8, 12, 20, 12}); math.Abs(got-3.5) > 1e-9 {
		t.Errorf("warmth %g, want 3.5", got)
	}
}
