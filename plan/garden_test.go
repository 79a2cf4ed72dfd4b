package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"oidium/belief"
	"oidium/garden"
)

// option makes a scored candidate with a net benefit, as Decide would.
func option(kind Kind, name string, net, minutes, setUp, amount float64) Scored {
	s := Scored{Candidate: Candidate{Kind: kind, Name: name, Minutes: minutes, SetUp: setUp, Amount: amount, Litres: amount / 10}, Tried: true, Labour: minutes / 3}
	if kind == Treat {
		s.Material = garden.MaterialID(name)
	}
	s.Net.Mean, s.Saved.Mean = net, net+s.Labour
	return s
}

func plotOf(id string, order int, covered float64, ranked ...Scored) Plot {
	d := Decision{Bed: garden.BedID(id), WaitDays: 3, NextLook: today + 5, Covered: belief.Band{Mean: covered}, bed: &Bed{}}
	ranked = append(ranked, Scored{Candidate: Candidate{Kind: Nothing}, Tried: true})
	rank(ranked)
	d.Ranked, d.Best = ranked, ranked[0]
	d.Verdict = Verdict(d.Best.Kind)
	d.Waiting = &belief.Band{Mean: math.Max(0, d.Best.Net.Mean/10)}
	return Plot{Decision: d, Order: order}
}

func names(steps []Step) string {
	var out []string
	for _, s := range steps {
		n := string(s.Kind)
		if s.Candidate.Name != "" {
			n = s.Candidate.Name
		}
		out = append(out, string(s.Bed)+":"+n)
	}
	return strings.Join(out, " ")
}

func TestOneMixServesSeveralBeds(t *testing.T) {
	plots := []Plot{
		plotOf("a", 1, 0.1, option(Treat, "sulfur", 50, 30, 15, 20)),
		plotOf("b", 2, 0.2, option(Treat, "milk", 22, 30, 15, 20), option(Treat, "sulfur", 20, 30, 15, 20)),
	}
	p := WholeGarden(plots, today, Hands{})
	if got := names(p.Today); got != "a:sulfur b:sulfur" {
		t.Fatalf("%s", got)
	}
	second := p.Today[1]
	if !second.Shares || second.Minutes != 15 || second.Switched == nil || second.Switched.Why != "shared" || math.Abs(second.Switched.Gain-3) > 1e-9 {
		t.Errorf("%+v %+v", second, second.Switched)
	}
	if p.Minutes != 45 || math.Abs(p.Net-75) > 1e-9 {
		t.Errorf("%v minutes, net %v", p.Minutes, p.Net)
	}
	_, notes := second.Words("EUR")
	if s := strings.Join(notes, " "); !strings.Contains(s, "sulfur instead of milk") || strings.ContainsAny(s, "{}") {
		t.Errorf("%q", s)
	}
	// A better material that is worth its own mix stays.
	plots[1] = plotOf("b", 2, 0.2, option(Treat, "milk", 40, 30, 15, 20), option(Treat, "sulfur", 20, 30, 15, 20))
	if got := names(WholeGarden(plots, today, Hands{}).Today); got != "a:sulfur b:milk" {
		t.Errorf("%s", got)
	}
	// A bed that would be left alone joins in when the mix is made anyway.
	plots[1] = plotOf("b", 2, 0.2, option(Treat, "sulfur", -3, 30, 15, 20))
	if got := names(WholeGarden(plots, today, Hands{}).Today); got != "a:sulfur b:sulfur" {
		t.Errorf("%s", got)
	}
	// And not when even that does not pay.
	plots[1] = plotOf("b", 2, 0.2, option(Treat, "sulfur", -8, 30, 15, 20))
	if got := names(WholeGarden(plots, today, Hands{}).Today); got != "a:sulfur" {
		t.Errorf("%s", got)
	}
}

func TestShedRunsShort(t *testing.T) {
	plots := []Plot{
		plotOf("a", 1, 0.1, option(Treat, "sulfur", 50, 30, 15, 20), option(Treat, "milk", 10, 30, 15, 20)),
		plotOf("b", 2, 0.2, option(Treat, "sulfur", 40, 30, 15, 20), option(Treat, "milk", 38, 30, 15, 20)),
	}
	p := WholeGarden(plots, today, Hands{Shed: map[garden.MaterialID]float64{"sulfur": 25}})
	if got := names(p.Today); got != "a:sulfur b:milk" {
		t.Fatalf("%s", got)
	}
	if w := p.Today[1].Switched; w == nil || w.Why != "shed" {
		t.Errorf("%+v", w)
	}
	p = WholeGarden(plots, today, Hands{Shed: map[garden.MaterialID]float64{"sulfur": 0, "milk": 0}})
	if len(p.Today) != 0 {
		t.Errorf("an empty shed: %s", names(p.Today))
	}
}

func TestModeOfActionChanges(t *testing.T) {
	again := option(Treat, "sulfur", 50, 30, 15, 20)
	again.Repeats = true
	plots := []Plot{plotOf("a", 1, 0.1, again, option(Treat, "milk", 48, 30, 15, 20))}
	p := WholeGarden(plots, today, Hands{})
	if names(p.Today) != "a:milk" || p.Today[0].Switched.Why != "repeat" {
		t.Errorf("%s %+v", names(p.Today), p.Today[0].Switched)
	}
	plots = []Plot{plotOf("a", 1, 0.1, again, option(Treat, "milk", 20, 30, 15, 20))}
	if p = WholeGarden(plots, today, Hands{}); names(p.Today) != "a:sulfur" {
		t.Errorf("a much better one is used again: %s", names(p.Today))
	}
}

func TestOrderOfTheDay(t *testing.T) {
	look := plotOf("clean", 4, 0)
	look.Decision.Due = &DueLook{Leaves: 50, Minutes: 7, Passed: 0.1}
	unsure := plotOf("unsure", 3, 0.05)
	unsure.Decision.Verdict = CannotTell
	unsure.Decision.Look = LookValue{Leaves: 20, Minutes: 3, Gain: 9}
	unsure.Decision.Best = Scored{Candidate: Candidate{Kind: Look, Leaves: 20, Minutes: 3}}
	pair := option(Treat, "sulfur", 60, 40, 10, 20)
	pair.First = &Candidate{Kind: Remove, Name: "old leaves", Minutes: 10, Leaves: 30}
	sick := plotOf("sick", 1, 0.3, pair)
	sick.PickToday = true
	sick.Decision.Due = &DueLook{Leaves: 50, Minutes: 7}
	sick.Decision.Marked = 8
	mild := plotOf("mild", 2, 0.1, option(Treat, "sulfur", 20, 20, 10, 20))
	p := WholeGarden([]Plot{sick, mild, unsure, look}, today, Hands{Hands: 1, TankL: 3})
	if got, want := names(p.Today), "clean:look unsure:look sick:look sick:old leaves mild:sulfur sick:sulfur"; got != want {
		t.Fatalf("%s\nwant %s", got, want)
	}
	last := p.Today[5]
	if !last.PickFirst || last.Marked != 8 || last.Load != 1 || !last.Shares || p.Loads != 2 {
		t.Errorf("%+v, %d loads", last, p.Loads)
	}
	if last.Minutes != 20 { // 40 less 10 of the removal less 10 of the mix
		t.Errorf("%v minutes", last.Minutes)
	}
	// What is only to be looked at later is named with its day.
	if got := names(p.Later); got != "mild:look" || p.Later[0].Until != today+5 {
		t.Errorf("%s", got)
	}
}

func TestCutAtTheMinutes(t *testing.T) {
	urgent := plotOf("urgent", 1, 0.3, option(Treat, "sulfur", 90, 30, 0, 1))
	can := plotOf("can", 2, 0.1, option(Remove, "old leaves", 20, 30, 0, 0))
	can.Decision.Waiting = &belief.Band{Mean: 1}
	never := plotOf("never", 3, 0.1, option(Remove, "old leaves", 10, 30, 0, 0))
	never.Decision.Waiting = &belief.Band{}
	p := WholeGarden([]Plot{urgent, can, never}, today, Hands{Minutes: 20, Hands: 2})
	if got := names(p.Today); got != "urgent:sulfur" || p.Budget != 40 {
		t.Fatalf("%s of %v", got, p.Budget)
	}
	until := make(map[string]garden.Day)
	for _, s := range p.Later {
		if s.Kind == Remove {
			until[string(s.Bed)] = s.Until - today
		}
	}
	// A third of a unit a day, a tenth of 20 may go: six days. The other loses
	// nothing and is planned anew after a week.
	if until["can"] != 6 || until["never"] != 7 {
		t.Errorf("%v", until)
	}
	// Small work fits into what large work leaves.
	small := plotOf("small", 4, 0.1, option(Remove, "old leaves", 1, 5, 0, 0))
	small.Decision.Waiting = &belief.Band{}
	p = WholeGarden([]Plot{urgent, can, small}, today, Hands{Minutes: 20, Hands: 2})
	if got := names(p.Today); got != "small:old leaves urgent:sulfur" {
		t.Errorf("%s", got)
	}
}

func TestWaitingBedIsForLater(t *testing.T) {
	w := plotOf("a", 1, 0.1)
	c := option(Treat, "sulfur", 30, 30, 10, 1)
	c.InDays = 3
	w.Decision.Verdict, w.Decision.Best = DoWait, c
	p := WholeGarden([]Plot{w}, today, Hands{})
	if len(p.Today) != 0 || len(p.Later) != 1 || p.Later[0].Until != today+3 {
		t.Errorf("%s / %s", names(p.Today), names(p.Later))
	}
}

func drawPlots(t *rapid.T, most int) ([]Plot, Hands) {
	r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 5))
	var plots []Plot
	for i := range rapid.IntRange(1, most).Draw(t, "beds") {
		var o []Scored
		for _, m := range []string{"sulfur", "milk", "bicarbonate"} {
			if r.Float64() < 0.7 {
				setUp := 12 * r.Float64()
				o = append(o, option(Treat, m, 60*r.Float64()-20, setUp+30*r.Float64(), setUp, 1+20*r.Float64()))
			}
		}
		if r.Float64() < 0.5 {
			o = append(o, option(Remove, "old leaves", 40*r.Float64()-20, 20*r.Float64(), 0, 0))
		}
		p := plotOf(fmt.Sprintf("bed%02d", i), r.IntN(20), r.Float64()*0.4, o...)
		if r.Float64() < 0.3 {
			p.Decision.Due = &DueLook{Leaves: 50, Minutes: 7, Passed: r.Float64()}
		}
		plots = append(plots, p)
	}
	h := Hands{Minutes: rapid.Float64Range(0, 120).Draw(t, "minutes"), Hands: rapid.IntRange(0, 3).Draw(t, "hands"), TankL: rapid.SampledFrom([]float64{0, 0.5, 5}).Draw(t, "tank")}
	if rapid.Bool().Draw(t, "counted") {
		h.Shed = map[garden.MaterialID]float64{"sulfur": 60 * r.Float64(), "milk": 60 * r.Float64()}
	}
	return plots, h
}

func TestWholeGardenIsLawful(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plots, h := drawPlots(t, 14)
		p := WholeGarden(plots, today, h)
		sum, used := 0.0, make(map[garden.MaterialID]float64)
		perBed := make(map[garden.BedID]int)
		litres := 0.0
		for _, s := range slices.Concat(p.Today, p.Later) {
			perBed[s.Bed]++
		}
		for i, s := range p.Today {
			sum += s.Minutes
			if s.Kind == Treat {
				used[s.Candidate.Material] += s.Candidate.Amount
				litres += s.Candidate.Litres
			}
			if i > 0 && p.Today[i-1].Kind == Treat && s.Kind != Treat {
				t.Fatalf("walked among treated leaves: %s", names(p.Today))
			}
			if s.Minutes < -1e-9 {
				t.Fatalf("%v minutes", s.Minutes)
			}
		}
		if p.Budget > 0 && sum > p.Budget+1e-6 {
			t.Fatalf("%v of %v minutes", sum, p.Budget)
		}
		if math.Abs(sum-p.Minutes) > 1e-6 {
			t.Fatalf("steps take %v minutes, the day %v", sum, p.Minutes)
		}
		for m, left := range h.Shed {
			if used[m] > left+1e-6 {
				t.Fatalf("%v of %v %s used", used[m], left, m)
			}
		}
		for b, n := range perBed {
			if n > 3 {
				t.Fatalf("%d steps in bed %s", n, b)
			}
		}
		if h.TankL > 0 && float64(p.Loads)*h.TankL < litres-1e-6 {
			t.Fatalf("%d loads of %v L for %v L", p.Loads, h.TankL, litres)
		}
		for _, s := range p.Later {
			if s.Until <= today {
				t.Fatalf("can wait until %v, before tomorrow", s.Until-today)
			}
		}
		// The order in which beds are handed in does not matter.
		back := slices.Clone(plots)
		slices.Reverse(back)
		if q := WholeGarden(back, today, h); names(q.Today) != names(p.Today) {
			t.Fatalf("%s\nand the other way round\n%s", names(p.Today), names(q.Today))
		}
	})
}

// The search against every combination, in small gardens: it is never worse than
// each bed by itself, and finds the best of all but rarely.
func TestChoiceAgainstEveryCombination(t *testing.T) {
	missed, runs := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		plots, h := drawPlots(t, 4)
		c := choose(plots, h)
		s := search{hands: h}
		now := make([]int, len(plots))
		for i := range plots {
			s.options = append(s.options, optionsOf(&plots[i].Decision))
			if c.of[i] != nil {
				now[i] = slices.Index(s.options[i], c.of[i])
			}
		}
		got := s.worth(now)
		if !s.fits(now) {
			t.Fatal("the choice does not fit the shed")
		}
		best := math.Inf(-1)
		every := make([]int, len(plots))
		var walk func(i int)
		walk = func(i int) {
			if i == len(plots) {
				if s.fits(every) {
					best = math.Max(best, s.worth(every))
				}
				return
			}
			for o := range max(1, len(s.options[i])) {
				every[i] = o
				walk(i + 1)
			}
		}
		walk(0)
		runs++
		if got < best-1e-9 {
			missed++
		}
		if got < 0.8*best-1e-9 {
			t.Fatalf("worth %v of the best %v", got, best)
		}
	})
	if missed*20 > runs {
		t.Errorf("the best combination was missed %d times in %d", missed, runs)
	}
}

// A removal and a treatment that each help are tried together where asked for.
func TestPairs(t *testing.T) {
	y := toy{courses(200, -3, 0.3, 0.2), 30, 600}
	b := bedOf(y, spray("sulfur", 0.6, 0, 8, 20, 3), takeOff(0.6, 10))
	single := decide(t, b)
	b.Pairs = true
	d := decide(t, b)
	if d.Best.First == nil || d.Best.First.Kind != Remove || d.Verdict != DoTreat || d.Best.Net.Mean <= single.Best.Net.Mean {
		t.Fatalf("%s %+v", d.Verdict, d.Best.Candidate.First)
	}
	if h := d.Words("EUR").Headline; !strings.Contains(h, "then treat with sulfur") {
		t.Errorf("%q", h)
	}
	if d.Second == nil || d.Second.First != nil {
		t.Errorf("runner-up %+v", d.Second)
	}
}

// Leaves to mark, by hand: from 40 % to 20 % is 0.828 on the scale, and
// 2 (1.2816 + 0.8416)^2 / 0.828^2 = 13.1 leaves. A plain difference needs no more
// than the least, and none is to be read where there is nothing to tell.
func TestMarked(t *testing.T) {
	if n := marked(0.4, 0.2); n != 14 {
		t.Errorf("%d leaves, want 14", n)
	}
	if n := marked(0.4, 0.05); n != 5 {
		t.Errorf("%d leaves, want 5", n)
	}
	if n := marked(0.05, 0.4); n != 0 {
		t.Errorf("a treatment that harms: %d leaves", n)
	}
	if n := marked(0.2, 0.19); n != 0 {
		t.Errorf("no difference: %d leaves", n)
	}
}
