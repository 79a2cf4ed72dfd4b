package mildew_test

import (
	"fmt"

	"oidium/host"
	"oidium/mildew"
)

func ExampleOf() {
	for _, p := range mildew.Of("cucumber") {
		fmt.Println(p.Common)
	}
	// Output:
	// cucurbit mildew, warm species
	// cucurbit mildew, cool species
}

func ExamplePathosystem_Fold() {
	p, _ := mildew.Get("podosphaera-xanthii")
	c, _ := host.Get("cucumber")
	var day mildew.Hours
	for range 24 {
		day.T = append(day.T, 25)
		day.RH = append(day.RH, 85)
	}
	var carry mildew.Carry // kept from day to day
	d := p.Fold(c, day, &carry)
	fmt.Printf("%.2f of the latent period, %.0f °C d of growth\n", d.Latent, d.Warmth)
	// Output:
	// 0.20 of the latent period, 15 °C d of growth
}

func ExampleGrapeIndex() {
	warm := make([]float32, 24)
	for i := range warm {
		warm[i] = 15
		if i >= 10 && i < 18 {
			warm[i] = 25
		}
	}
	var g mildew.GrapeIndex
	for range 4 {
		v := g.Day(warm)
		fmt.Println(v, g.Pressure())
	}
	// Output:
	// 20 low
	// 40 moderate
	// 60 high
	// 80 high
}
