package read_test

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"oidium/weather"
	"oidium/weather/read"
)

func ExampleTable() {
	const file = `Datum;Uhrzeit;Temperatur [°C];Luftfeuchte [%];Niederschlag [mm]
31.05.2001;23:00;12,4;91;0,0
01.06.2001;00:00;11,9;93;0,2
01.06.2001;01:00;11,5;--;0,0
`
	// The file does not say whose clock it keeps.
	_, _, _, err := read.Table(strings.NewReader(file), read.Options{})
	var a *read.Ambiguous
	fmt.Println(errors.As(err, &a), a.Option)

	_, s, report, err := read.Table(strings.NewReader(file), read.Options{Zone: time.FixedZone("CET", 3600)})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, line := range report.Found {
		fmt.Println(line)
	}
	fmt.Println(s.Start.Format(time.RFC3339), s.V[weather.Temp], s.F[weather.RH])
	// Output:
	// true zone
	// Columns cut by ";", decimal comma, a row every hour.
	// Column "Temperatur [°C]" is the temperature in °C.
	// Column "Luftfeuchte [%]" is the humidity in %.
	// Column "Niederschlag [mm]" is the rain in mm.
	// Dates have the day first.
	// Times are by the clock of CET and name the end of each step.
	// 2001-05-31T21:00:00Z [12.4 11.9 11.5] [measured measured missing]
}
