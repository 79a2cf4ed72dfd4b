package host_test

import (
	"fmt"

	"oidium/garden"
	"oidium/host"
)

func ExampleCrop_Loss() {
	c, _ := host.Get("pumpkin")
	v := host.View{
		Area: [garden.LeafAges]float64{0.8, 1.2, 1.5}, // m² of leaf a m² of ground
		Free: 3.5,
	}
	fmt.Printf("clean: %.2f of the day lost\n", c.Loss(v))
	v.Mildewed[garden.Old] = [garden.Faces]float64{0.6, 0.4}
	v.Mildewed[garden.Middle] = [garden.Faces]float64{0.3, 0.2}
	fmt.Printf("old leaf white, middle leaf spotted: %.2f of the day lost\n", c.Loss(v))
	// Output:
	// clean: 0.00 of the day lost
	// old leaf white, middle leaf spotted: 0.20 of the day lost
}
