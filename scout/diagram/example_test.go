package diagram_test

import (
	"fmt"

	"oidium/scout/diagram"
)

func ExampleDraw() {
	d, err := diagram.Draw(diagram.Leaf{Shape: "cucurbit", Share: 0.1, Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %% of the leaf under mildew, %.0f x %.0f mm\n", 100*d.Share, d.Width, d.Height)
	// Output:
	// 10.0 % of the leaf under mildew, 144 x 133 mm
}
