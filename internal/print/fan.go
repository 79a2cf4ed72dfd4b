package print

import (
	"fmt"
	"math"
	"strings"

	"oidium/internal/work"
)

// The picture of the days ahead, in its own units; on a phone a unit is about a
// pixel.
const (
	fanW, fanH           = 340.0, 172.0
	fanLeft, fanRight    = 42.0, 6.0
	fanTop, fanBottom    = 10.0, 26.0
	fanInnerW, fanInnerH = fanW - fanLeft - fanRight, fanH - fanTop - fanBottom
)

// tick is a mark on an axis with its words.
type tick struct {
	At     float64
	Words  string
	Anchor string // as in SVG: start, middle, end
}

// fan is the picture of the days ahead of a bed: the covered share when left
// alone and, where it differs, with today's plan.
type fan struct {
	W, H                 float64
	Left, Right          float64
	Days, Shares         []tick
	AloneBand, AloneLine string // as in SVG: points
	PlanBand, PlanLine   string
	AloneKey, PlanKey    string // words beside a sample of each line
	Two                  bool
}

// highest is the highest share the days ahead of a bed may reach.
func highest(b *work.BedReport) float64 {
	top := 0.0
	for _, days := range [][]work.FanDay{b.Alone, b.Planned} {
		for _, d := range days {
			top = math.Max(top, d.High)
		}
	}
	return top
}

// flat says that the days ahead stay too low to draw; "" where they do not.
func (s *sheet) flat(b *work.BedReport) string {
	if len(b.Alone) == 0 || highest(b) >= seen {
		return ""
	}
	return s.say("days.flat", "day", s.day(b.Alone[len(b.Alone)-1].Date, false))
}

// newFan makes the picture; nil where there is nothing to draw.
func (s *sheet) newFan(b *work.BedReport) *fan {
	n := len(b.Alone)
	if n < 2 || highest(b) < seen {
		return nil
	}
	f := &fan{W: fanW, H: fanH, Left: fanLeft, Right: fanW - fanRight, Two: planned(b) && len(b.Planned) == n}
	top := roundUp(highest(b))
	x := func(i int) float64 { return fanLeft + fanInnerW*float64(i)/float64(n-1) }
	y := func(v float64) float64 { return fanTop + fanInnerH*(1-math.Min(1, math.Max(0, v/top))) }
	for _, part := range []float64{0, 0.5, 1} {
		f.Shares = append(f.Shares, tick{At: y(part * top), Words: s.axis(part * top), Anchor: "end"})
	}
	f.Days = append(f.Days, tick{At: x(0), Words: s.shortDay(b.Alone[0].Date), Anchor: "start"})
	if n >= 11 {
		f.Days = append(f.Days, tick{At: x((n - 1) / 2), Words: s.shortDay(b.Alone[(n-1)/2].Date), Anchor: "middle"})
	}
	f.Days = append(f.Days, tick{At: x(n - 1), Words: s.shortDay(b.Alone[n-1].Date), Anchor: "end"})

	f.AloneBand, f.AloneLine = ribbon(b.Alone, x, y)
	last := s.shortDay(b.Alone[n-1].Date)
	f.AloneKey = s.say("fan.alone", "day", last, "shares", s.shares(b.Alone[n-1].Band))
	if f.Two {
		f.PlanBand, f.PlanLine = ribbon(b.Planned, x, y)
		f.PlanKey = s.say("fan.planned", "day", last, "shares", s.shares(b.Planned[n-1].Band))
	}
	return f
}

// axis is a share on the axis, with no more decimals than it needs.
func (s *sheet) axis(share float64) string { return short(100*share) + nb + "%" }

// roundUp returns the least of 1, 2, 5, 10, 20, 50 and 100 % that holds top.
func roundUp(top float64) float64 {
	for _, v := range []float64{0.01, 0.02, 0.05, 0.1, 0.2, 0.5} {
		if top <= v {
			return v
		}
	}
	return 1
}

// ribbon returns the outline of a band and its middle line as points of SVG.
func ribbon(days []work.FanDay, x func(int) float64, y func(float64) float64) (outline, middle string) {
	var upper, lower, mid []string
	for i, d := range days {
		upper = append(upper, point(x(i), y(d.High)))
		mid = append(mid, point(x(i), y(d.Mid)))
		k := len(days) - 1 - i
		lower = append(lower, point(x(k), y(days[k].Low)))
	}
	return strings.Join(append(upper, lower...), " "), strings.Join(mid, " ")
}

func point(x, y float64) string { return fmt.Sprintf("%.1f,%.1f", x, y) }
