package mixing_test

import (
	"fmt"

	"oidium/remedy/mixing"
)

func ExampleParse() {
	rate, err := mixing.Parse("1 lb/100 gal", mixing.US)
	if err != nil {
		fmt.Println(err)
		return
	}
	g, _ := rate.In("g/L", mixing.US)
	fmt.Printf("%.3f g/L\n", g)
	_, err = mixing.Parse("1 lb/100 gal", mixing.Unsaid)
	fmt.Println(err)
	// Output:
	// 1.198 g/L
	// reading the quantity "1 lb/100 gal": whose gal? A US one and an imperial one differ; say which units are yours
}

func ExampleReadings() {
	for _, text := range []string{"1 part to 10 parts", "10 %", "10 L/hL"} {
		rs, err := mixing.Readings(text)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Print(text, ":")
		for _, r := range rs {
			fmt.Print(" ", r.Words, ";")
		}
		fmt.Println()
	}
	// Output:
	// 1 part to 10 parts: 1 part and 10 parts of water (9.09 %);
	// 10 %: 1 part and 9 parts of water (10 %);
	// 10 L/hL: 1 part and 9 parts of water (10 %); 1 part and 10 parts of water (9.09 %);
}
