package scout_test

import (
	"fmt"

	"oidium/garden"
	"oidium/scout"
)

// How many leaves find 5 % of leaves mildewed, and what it means if none is found.
func ExamplePlanWalk() {
	s := scout.PlanWalk(scout.Walk{Share: 0.05})
	fmt.Printf("%d plants x %d leaves, %.0f minutes; a find with chance %.0f %%; none found means at most %.1f %%\n",
		s.Plants, s.PerPlant, s.Minutes, 100*s.Chance, 100*s.AtMost)
	s = scout.PlanWalk(scout.Walk{Share: 0.05, Minutes: 5})
	fmt.Printf("in 5 minutes %d leaves, chance %.0f %%, cut by %s\n", s.Leaves, 100*s.Chance, s.Limit)
	// Output:
	// 17 plants x 5 leaves, 12 minutes; a find with chance 96 %; none found means at most 4.7 %
	// in 5 minutes 35 leaves, chance 73 %, cut by time
}

func ExampleAssess() {
	var t garden.Tally
	for plant := 1; plant <= 10; plant++ {
		k := 0
		if plant == 4 {
			k = 1
		}
		t.Counts = append(t.Counts,
			garden.Count{Plant: plant, Age: garden.Old, Face: garden.Upper, Inspected: 5},
			garden.Count{Plant: plant, Age: garden.Old, Face: garden.Lower, Inspected: 5, Infected: k})
	}
	a := scout.Assess(t, 0.08)
	fmt.Printf("upper: none found, at most %.1f %%\n", 100*a.Face[garden.Upper].AtMost)
	lower := a.Face[garden.Lower]
	fmt.Printf("lower: %d of %d, %.1f to %.1f %%\n", lower.Infected, lower.Inspected, 100*lower.Likely.Lo, 100*lower.Likely.Hi)
	fmt.Printf("1 in 50 reached: %v\n", a.Rule.Reached)
	// Output:
	// upper: none found, at most 6.7 %
	// lower: 1 of 50, 0.3 to 12.5 %
	// 1 in 50 reached: true
}

// The error rates that belong beside a stop rule.
func ExampleStop_Performance() {
	rule := scout.UsualStop()
	for _, share := range []float64{0.01, 0.02, 0.05, 0.10, 0.20} {
		p := rule.Performance(share)
		fmt.Printf("true %3.0f %%: clean %3.0f %%, bad %3.0f %%, undecided %2.0f %%, %.1f plants\n",
			100*share, 100*p.Clean, 100*p.Bad, 100*p.Undecided, p.Plants)
	}
	// Output:
	// true   1 %: clean  93 %, bad   1 %, undecided  6 %, 8.3 plants
	// true   2 %: clean  78 %, bad   5 %, undecided 17 %, 9.3 plants
	// true   5 %: clean  35 %, bad  36 %, undecided 29 %, 9.9 plants
	// true  10 %: clean   7 %, bad  84 %, undecided 10 %, 7.0 plants
	// true  20 %: clean   0 %, bad 100 %, undecided  0 %, 3.4 plants
}

func ExampleReadOn() {
	r, err := scout.ReadOn("horsfall-barratt", 6)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("grade %v stands for %.0f to %.0f %%, taken as %.1f %%\n", r.Value, 100*r.Low, 100*r.High, 100*r.Share)
	_, err = scout.ReadOn("horsfall-barratt", 13)
	fmt.Println(err)
	// Output:
	// grade 6 stands for 25 to 50 %, taken as 37.5 %
	// reading grade 13 on scale "horsfall-barratt": its grades run from 1 to 12 in whole steps
}

func ExamplePace() {
	day, err := garden.ParseDay("2001-07-02")
	if err != nil {
		fmt.Println(err)
		return
	}
	g, err := scout.Pace([]scout.Seen{
		scout.SeenInReading(garden.Severity{Share: 0.02}, day, scout.PlainReader()),
		scout.SeenInReading(garden.Severity{Share: 0.05}, day+7, scout.PlainReader()),
		scout.SeenInReading(garden.Severity{Share: 0.20}, day+14, scout.PlainReader()),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("doubles in %.1f days (80 %%: %.1f to %.1f)\n", g.Doubling, g.DoublingBand.Lo, g.DoublingBand.Hi)
	// Output:
	// doubles in 3.9 days (80 %: 2.7 to 7.3)
}
