package sun_test

import (
	"fmt"
	"time"

	"oidium/garden"
	"oidium/sun"
)

func ExampleRiseSet() {
	day := garden.DayOf(time.Date(2000, 6, 21, 0, 0, 0, 0, time.UTC))
	l := sun.RiseSet(day, 52.1, 5.18)
	fmt.Println(l.Rise.Format("15:04"), l.Noon.Format("15:04"), l.Set.Format("15:04"), "UTC")
	fmt.Printf("%.2f h\n", l.Hours)
	fmt.Printf("%.0f h north of the polar circle\n", sun.DayLength(70, day))
	// Output:
	// 03:18 11:41 20:03 UTC
	// 16.75 h
	// 24 h north of the polar circle
}

func ExampleExtraterrestrial() {
	day := garden.DayOf(time.Date(2001, 9, 3, 0, 0, 0, 0, time.UTC))
	fmt.Printf("%.1f MJ/m²\n", sun.Extraterrestrial(day, -20)) // FAO-56, example 8
	// Output: 32.2 MJ/m²
}
