package epidemic_test

import (
	"context"
	"fmt"

	"oidium/chance"
	"oidium/epidemic"
	"oidium/garden"
	"oidium/host"
	"oidium/mildew"
)

// An invented bed of courgettes in mild weather, tried with and without a spray
// that stops most new infection for a fortnight.
func Example() {
	crop, _ := host.Get("courgette")
	mil := mildew.Of(crop.ID)[0]
	start, _ := garden.ParseDay("2000-06-01")

	var known, ahead []mildew.Daily
	var carry mildew.Carry
	for d := range 84 {
		var day mildew.Hours
		for h := range 24 {
			day.T = append(day.T, 17+float32(8-abs(h-14)))
			day.RH = append(day.RH, 90-2*float32(8-abs(h-14)))
		}
		x := mil.Fold(crop, day, &carry)
		if d < 70 {
			known = append(known, x)
		} else {
			ahead = append(ahead, x)
		}
	}
	st := &epidemic.Stand{
		Key:  chance.Key{Garden: 7, Season: 2000, Pathosystem: string(mil.ID), Bed: "A1"},
		Crop: crop, Mildew: mil, Resistance: garden.Susceptible,
		Ground: 12, Planted: start, Start: start,
		Drivers: epidemic.Drivers{Known: known, Ahead: [][]mildew.Daily{ahead}},
	}
	ctx := context.Background()
	members := make([]epidemic.Position, 100)
	for m := range members {
		members[m] = epidemic.Draw(st, m)
	}
	e, err := epidemic.RunAt(ctx, st, members, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	today := start + 70
	var spray []garden.Effect
	for d := range garden.Day(14) {
		spray = append(spray, garden.Effect{Day: today + d, Since: today, Stop: [garden.Faces]float64{0.8, 0.5}})
	}
	sprayed, err := e.Try(ctx, today, spray, nil, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	less := 0
	for m := range members {
		if sprayed.At(m, today+14).Severity <= e.At(m, today+14).Severity {
			less++
		}
	}
	fmt.Printf("in %d of 100 members the spray leaves no more mildew\n", less)
	// Output:
	// in 100 of 100 members the spray leaves no more mildew
}

func abs(x int) int { return max(x, -x) }
