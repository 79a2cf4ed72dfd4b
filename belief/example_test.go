package belief_test

import (
	"fmt"

	"oidium/belief"
)

// Four members of an ensemble, of which one fits what was seen best.
func ExampleWeigh() {
	w := belief.Weigh([]float64{-4.0, -2.0, -2.5, -3.5}, 2)
	covered := []float64{0.01, 0.05, 0.08, 0.30}
	b := belief.BandOf(covered, w.W)
	fmt.Printf("effective size %.1f of 4, tempered %.0f\n", w.ESS, w.Temper)
	fmt.Printf("covered %.3f (%.3f to %.3f), above 6 %% with chance %.2f\n", b.Mean, b.Low, b.High, belief.Exceed(covered, w.W, 0.06))
	// Output:
	// effective size 2.7 of 4, tempered 1
	// covered 0.085 (0.019 to 0.255), above 6 % with chance 0.42
}

// Two mildews that nobody can tell apart by eye: the one whose members foretold
// the looks better gains.
func ExampleMix() {
	fmt.Printf("%.2f\n", belief.Mix([]float64{0.7, 0.3}, []float64{-12.0, -10.5}))
	// Output:
	// [0.34 0.66]
}
