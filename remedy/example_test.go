package remedy_test

import (
	"fmt"
	"time"

	"oidium/garden"
	"oidium/remedy"
)

// An invented bed of courgettes on a fair morning in June.
func bed() *remedy.Case {
	now := time.Date(2000, 6, 14, 6, 0, 0, 0, time.UTC)
	c := &remedy.Case{
		Now: now, Loc: time.UTC, Today: garden.DayOf(now),
		Site:     garden.Site{Latitude: 52, Longitude: 5, Country: "NL", Role: garden.Grower, Sprayer: garden.Sprayer{Kind: "knapsack", LPerM: 1.2, TankL: 10}},
		Bed:      garden.Bed{ID: "b1", Length: 10, Width: 1.2},
		Planting: garden.Planting{Crop: "courgette", Planted: garden.DayOf(now) - 40},
		Family:   "cucurbit", Diagnosis: "sure", Covered: 0.03, CoveredKnown: true, LeafArea: 20,
	}
	for h := range 72 {
		c.Hours = append(c.Hours, remedy.Hour{Time: now.Add(time.Duration(h) * time.Hour), T: 24, RH: 60, Wind: 1.5})
	}
	return c
}

func ExampleJudge() {
	c := bed()
	m, _ := remedy.Get("sulfur_wg")
	checks := remedy.Judge(c, m)
	fmt.Println("allowed:", remedy.Allowed(checks))
	for _, k := range checks {
		if k.Outcome == remedy.Ask || k.Outcome == remedy.Refused {
			fmt.Printf("%s (%s): %s\n", k.Outcome, k.Rule, k.Reason)
		}
	}
	// Output:
	// allowed: false
	// ask (label-crop): The label has not been entered: read it and type in what it says for this crop.
	// refused (test-leaf): Not used on this cultivar before: treat one leaf, wait 48 hours, look for burn.
	// ask (days-to-harvest): Type in the days to harvest from the label for this crop.
	// ask (re-entry): Type in the hours to re-entry from the label.
}

func ExampleWindows() {
	c := bed()
	c.Hours[9].Rain = 3 // at 15:00
	m, _ := remedy.Get("khco3")
	for _, w := range remedy.Windows(c, m)[:3] {
		fmt.Println(w.From.Format("15:04"), w.To.Format("15:04"), w.Open)
		for _, k := range w.Checks {
			fmt.Println("  ", k.Reason)
		}
	}
	// Output:
	// 06:00 12:00 true
	//    3 mm of rain within a day: most of it will be washed off.
	// 12:00 16:00 false
	//    3 mm of rain in an hour: it needs 4 dry hours.
	// 16:00 22:00 true
}

func ExampleMixFor() {
	c := bed()
	m, _ := remedy.Get("khco3")
	x := remedy.MixFor(c, m)
	fmt.Printf("%.2f L, %.1f %s at %g %s (%s), %.1f minutes\n", x.Litres, x.Amount, x.Unit, x.Rate.V, x.Rate.Unit, x.Rate.Grade.Words(), x.Minutes)
	fmt.Println(x.Basis)
	fmt.Println(x.Warnings[0].Text)
	// Output:
	// 1.32 L, 4.0 g at 3 g/L (read in the source), 1.1 minutes
	// 20 m² of leaf, one side; a square metre holds 66 mL before it runs off.
	// 3 g/L is the low end of the strengths tried (3 to 5), an assumption: the label rate has not been entered.
}

func ExampleDeposit() {
	m, _ := remedy.Get("sulfur_wg")
	tr := garden.Treatment{Bed: "b1", Material: m.ID, Start: time.Date(2000, 6, 14, 20, 0, 0, 0, time.UTC)}
	rain := []float64{0, 0, 0, 12}
	for _, e := range remedy.Deposit(m, tr, rain, 6, true, garden.Sprayer{Kind: "knapsack"}) {
		fmt.Printf("%v stops %.2f above, %.2f below; kills %.2f\n", e.Day, e.Stop[garden.Upper], e.Stop[garden.Lower], e.Kill[garden.Upper])
	}
	// Output:
	// 2000-06-14 stops 0.70 above, 0.55 below; kills 0.12
	// 2000-06-15 stops 0.69 above, 0.53 below; kills 0.12
	// 2000-06-16 stops 0.67 above, 0.52 below; kills 0.00
	// 2000-06-17 stops 0.66 above, 0.51 below; kills 0.00
	// 2000-06-18 stops 0.55 above, 0.43 below; kills 0.00
	// 2000-06-19 stops 0.53 above, 0.41 below; kills 0.00
}

func ExampleRemovalBudget() {
	c := bed()
	c.Removals = []garden.Removal{{Bed: "b1", Time: c.Now.AddDate(0, 0, -6), Share: 0.10}}
	b := remedy.RemovalBudget(c)
	fmt.Printf("%.2f left\n", b.Left)
	for _, k := range b.Checks {
		fmt.Println(k.Outcome, k.Reason)
	}
	// Output:
	// 0.15 left
	// ok 15 % of the leaf can still be taken: 25 % over any 21 days, less 10 % taken.
	// caution Practice does not go beyond 30 % of a plant's leaf; the published rows used here are stricter when it is repeated. At 30 % about 3 % of the yield is lost.
	// refused No leaf younger than 14 days is taken from a cucurbit.
}
