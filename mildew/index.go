package mildew

import (
	"math"

	"oidium/cite"
)

// The published daily index of grape mildew by conidia, and the wet hours that
// ascospores need. Both are counting rules of the trade, not the model of this
// program; they are shown beside it because growers know them.
var (
	indexLow    = cite.Value{V: 70, Lo: 70, Hi: 70, Unit: "°F", Source: "uc-ipm-grape-index", Grade: cite.B, What: "lower end of the band of the grape index"}
	indexHigh   = cite.Value{V: 85, Lo: 85, Hi: 85, Unit: "°F", Source: "uc-ipm-grape-index", Grade: cite.B, What: "upper end of the band of the grape index"}
	indexRun    = cite.Value{V: 6, Lo: 6, Hi: 6, Unit: "h", Source: "uc-ipm-grape-index", Grade: cite.B, What: "consecutive hours in the band that make a favourable day"}
	indexBreak  = cite.Value{V: 45, Lo: 45, Hi: 45, Unit: "min", Source: "uc-ipm-grape-index", Grade: cite.B, What: "time out of the band that a run outlasts"}
	indexHot    = cite.Value{V: 95, Lo: 95, Hi: 95, Unit: "°F", Source: "uc-ipm-grape-index", Grade: cite.B, What: "temperature that counts against the index"}
	indexHotMin = cite.Value{V: 15, Lo: 15, Hi: 15, Unit: "min", Source: "uc-ipm-grape-index", Grade: cite.B, What: "time at that temperature"}
	indexHot2   = cite.Value{V: 38, Lo: 38, Hi: 38, Unit: "°C", Source: "peduto-2013", Grade: cite.A, What: "temperature that counts against the index, as revised"}
	indexHot2H  = cite.Value{V: 2, Lo: 2, Hi: 2, Unit: "h", Source: "peduto-2013", Grade: cite.A, What: "time at that temperature, as revised"}
	indexUp     = cite.Value{V: 20, Lo: 20, Hi: 20, Unit: "points", Source: "uc-ipm-grape-index", Grade: cite.B, What: "gain of a favourable day"}
	indexDown   = cite.Value{V: 10, Lo: 10, Hi: 10, Unit: "points", Source: "uc-ipm-grape-index", Grade: cite.B, What: "loss of another day, and of heat"}
	indexTop    = cite.Value{V: 100, Lo: 100, Hi: 100, Unit: "points", Source: "uc-ipm-grape-index", Grade: cite.B, What: "highest value of the index"}
	indexMid    = cite.Value{V: 40, Lo: 40, Hi: 40, Unit: "points", Source: "uc-ipm-grape-index", Grade: cite.B, What: "from here pressure is moderate"}
	indexStrong = cite.Value{V: 60, Lo: 60, Hi: 60, Unit: "points", Source: "uc-ipm-grape-index", Grade: cite.B, What: "from here pressure is high; reached for the first time, the index runs"}
)

// GrapeIndex is the index from one day to the next. The zero value is the state
// at bud break with the rules as first published.
type GrapeIndex struct {
	// Revised uses the heat rule of 2013: two hours at 38 °C instead of a quarter
	// of an hour at 35 °C.
	Revised bool

	value   float64
	running bool
}

// Day takes in the temperatures of a day (°C, evenly spaced from midnight to
// midnight) and returns the index in the evening, 0 to 100 points.
//
// Three days in a row, each with six consecutive hours in the band, start it: 20,
// 40, 60; a day that fails before 60 sets it back to 0. From then on a day with
// such a run gives +20, another day -10; heat takes 10, never more than 10 is
// lost in a day.
func (g *GrapeIndex) Day(t []float32) float64 {
	run, hot := g.read(t)
	up, down := indexUp.V, indexDown.V
	switch {
	case !g.running && run:
		g.value += up
		g.running = g.value >= indexStrong.V
	case !g.running:
		g.value = 0
	case run && hot:
		g.value += up - down
	case run:
		g.value += up
	default:
		g.value -= down
	}
	g.value = math.Min(indexTop.V, math.Max(0, g.value))
	return g.value
}

// Treated sets the index to 0 after a treatment, which one of its two published
// versions does. It goes on running.
func (g *GrapeIndex) Treated() { g.value = 0 }

// Pressure names the value: "low", "moderate" or "high".
func (g *GrapeIndex) Pressure() string {
	switch {
	case g.value >= indexStrong.V:
		return "high"
	case g.value >= indexMid.V:
		return "moderate"
	}
	return "low"
}

// read tells whether the day has a run in the band, and whether it has heat.
func (g *GrapeIndex) read(t []float32) (run, hot bool) {
	if len(t) == 0 {
		return false, false
	}
	minutes := 24 * 60 / float64(len(t))
	limit, need := celsius(indexHot.V), indexHotMin.V
	if g.Revised {
		limit, need = indexHot2.V, 60*indexHot2H.V
	}
	length, gap, heat := 0.0, 0.0, 0.0
	for _, v := range t {
		// A millikelvin of slack takes up the rounding of converted readings (numerical).
		x := float64(v)
		in := x >= celsius(indexLow.V)-1e-3 && x <= celsius(indexHigh.V)+1e-3
		switch {
		case in:
			if length > 0 {
				length += gap
			}
			length += minutes
			gap = 0
		default:
			if gap += minutes; gap > indexBreak.V {
				length = 0
			}
		}
		run = run || length >= 60*indexRun.V
		if x >= limit-1e-3 {
			heat += minutes
		}
	}
	return run, heat >= need
}

// celsius turns °F into °C (exact).
func celsius(f float64) float64 { return (f - 32) / 1.8 }

// AscosporeHours returns the hours of wetness from which ascospores of grape
// mildew infect at a mean temperature in °C, about two thirds of the Mills hours;
// false where they do not infect at all.
func AscosporeHours(mean float64) (hours float64, ok bool) {
	f := int(math.Round(mean*1.8 + 32)) // exact
	for _, r := range ascosporeHours {
		if f >= r.from && f <= r.to {
			return r.hours.V, true
		}
	}
	return 0, false
}

type wetRow struct {
	from, to int // °F, whole degrees
	hours    cite.Value
}

func wetFor(from, to int, h float64) wetRow {
	return wetRow{from, to, row(h, h, h, "h", "uc-ipm-grape-index", cite.B, "wet hours from which ascospores infect")}
}

// ascosporeHours are the thresholds by whole °F, source uc-ipm-grape-index.
var ascosporeHours = []wetRow{
	wetFor(42, 42, 40), wetFor(43, 43, 34), wetFor(44, 44, 30), wetFor(45, 45, 27.3), wetFor(46, 46, 25.3),
	wetFor(47, 47, 23.3), wetFor(48, 49, 20), wetFor(50, 50, 19.3), wetFor(51, 51, 18), wetFor(52, 52, 17.3),
	wetFor(53, 53, 16.7), wetFor(54, 55, 16), wetFor(56, 57, 14.7), wetFor(58, 59, 14), wetFor(60, 61, 13.3),
	wetFor(62, 62, 12.7), wetFor(63, 75, 12), wetFor(76, 76, 12.7), wetFor(77, 77, 14), wetFor(78, 79, 17.3),
}
