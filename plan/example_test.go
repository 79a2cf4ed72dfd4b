package plan_test

import (
	"fmt"

	"oidium/garden"
	"oidium/plan"
)

// Two members: in one the mildew takes half of a harvest of 200, in the other
// next to nothing. A treatment for 12 would save most of the loss.
func ExampleDecide() {
	bed := &plan.Bed{
		ID: "tunnel", Day: 11500, Worth: 200, Wage: 18, DaysLeft: 40, LastLook: 11496, Plants: 40,
		Weights: []float64{0.6, 0.4}, Covered: []float64{0.04, 0.0001}, Incidence: []float64{0.6, 0.01},
		Candidates: []plan.Candidate{{
			Kind: plan.Treat, Name: "sulfur", Material: "sulfur_wg", Minutes: 30, Cost: 3,
			Effects: []garden.Effect{{Bed: "tunnel", Day: 11500}},
		}},
		Trial: func(effects []garden.Effect) (loss, covered []float64) {
			if len(effects) == 0 {
				return []float64{100, 1}, []float64{0.7, 0.01}
			}
			return []float64{30, 0.5}, []float64{0.2, 0.005}
		},
	}
	d, err := plan.Decide(bed)
	if err != nil {
		fmt.Println(err)
		return
	}
	w := d.Words("EUR")
	fmt.Println(w.Headline)
	fmt.Println(w.Reason)
	fmt.Println(w.Sure)
	fmt.Println(w.Second)
	fmt.Println(w.Flip)
	// Output:
	// Cannot tell: look at 20 leaves, 5 on each of 4 plants, both faces.
	// The looks so far leave it open whether to act; 20 leaves take 3 minutes and are worth about 4.5 EUR.
	// Without the look the choice would be right in 60 of 100 courses of the season, after it in 100.
	// Next best: treat with sulfur, 3.7 EUR behind.
	// 2 or fewer mildewed of 20 leaves looked at would change this to: leave it alone (chance 40 %).
}
