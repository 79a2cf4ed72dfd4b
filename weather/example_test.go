package weather_test

import (
	"fmt"
	"time"

	"oidium/chance"
	"oidium/garden"
	"oidium/weather"
)

func ExampleCoarse() {
	c := weather.Coarse(52, 0, true)
	july := c.Months[6]
	fmt.Printf("July: %.0f to %.0f °C, give or take %.1f K; grade %s\n", july.Tmin, july.Tmax, c.Doubt.Temp, c.Grade)
	// Output: July: 12 to 21 °C, give or take 3.5 K; grade C
}

// Three days of a diary become hours, and the hours a summary for leaves.
func ExampleSummarise() {
	first := garden.DayOf(time.Date(2001, 6, 1, 0, 0, 0, 0, time.UTC))
	days := []weather.Daily{
		{Date: first, Tmin: 9, Tmax: 22, Dew: 8, Rain: 0, Wind: 2, Rad: 22},
		{Date: first + 1, Tmin: 11, Tmax: 19, Dew: 11, Rain: 6, Wind: 3, Rad: 11},
		{Date: first + 2, Tmin: 10, Tmax: 21, Dew: 9, Rain: 0, Wind: 2, Rad: 20},
	}
	hours := weather.Hourly(days, weather.Coarse(52, 0, true), 52, 5, weather.Derived)
	for _, d := range weather.Summarise(hours, 52, 5, 0, weather.Wetness{}) {
		fmt.Printf("%v: wet %d h, deficit %.2f kPa, grass drinks %.1f mm\n", d.Date, d.WetHours, d.VPD, d.ET0)
	}
	// Output:
	// 2001-06-01: wet 2 h, deficit 0.82 kPa, grass drinks 4.1 mm
	// 2001-06-02: wet 6 h, deficit 0.51 kPa, grass drinks 2.7 mm
	// 2001-06-03: wet 4 h, deficit 0.71 kPa, grass drinks 3.7 mm
}

// Scenarios around a forecast spread the more the further ahead.
func ExampleGenerator_Around() {
	from := time.Date(2001, 6, 1, 4, 0, 0, 0, time.UTC)
	f := weather.NewSeries(from, 9*24)
	for i := range f.Len() {
		f.Set(weather.Temp, i, 18, weather.Forecast)
	}
	g := weather.NewGenerator(weather.Coarse(52, 0, true), nil, 52, 5)
	ahead := g.Around(weather.Outlook{Issued: from, Series: f}, from, 9*24)
	for _, day := range []int{0, 4, 8} {
		lo, hi := float32(99), float32(-99)
		for member := range 50 {
			s := ahead.Draw(chance.New(chance.Key{Garden: 1, Member: member, Process: chance.Weather}))
			x := s.V[weather.Temp][24*day+8]
			lo, hi = min(lo, x), max(hi, x)
		}
		fmt.Printf("day %d: %.0f to %.0f °C\n", day, lo, hi)
	}
	// Output:
	// day 0: 15 to 22 °C
	// day 4: 11 to 25 °C
	// day 8: 7 to 28 °C
}

func ExampleFill() {
	s := weather.NewSeries(time.Date(2001, 6, 1, 0, 0, 0, 0, time.UTC), 6)
	for i, x := range []float64{10, 11, 0, 0, 14, 15} {
		if x > 0 {
			s.Set(weather.Temp, i, x, weather.Measured)
		}
	}
	full, done := weather.Fill(s, weather.Coarse(52, 0, true), 52, 5)
	fmt.Println(full.V[weather.Temp], full.F[weather.Temp][2])
	fmt.Println(done[0].Var, done[0].Between, "h,", done[0].Climate, "h from climate")
	// Output:
	// [10 11 12 13 14 15] filled
	// temperature 2 h, 0 h from climate
}
