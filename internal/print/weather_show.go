package print

import (
	"io"
	"strings"

	"oidium/internal/work"
)

// WeatherShow writes the weather by day. Errors are those of w.
func WeatherShow(w io.Writer, r *work.WeatherShow) error {
	p, err := newSkyPaper(w)
	if err != nil {
		return err
	}
	what := tell("show.outdoors")
	if r.Bed != "" {
		what = tell("show.bed", "bed", clean(r.BedName))
	}
	p.head(what, r.Garden, r.Date)
	switch r.Inside {
	case "model":
		p.para("", tell("show.model"))
	case "logger":
		p.para("", tell("show.logger"))
	}
	p.title(tell("show.behind"))
	if r.Inside != "" {
		p.insideBehind(r.Behind)
	} else {
		p.outsideBehind(r.Behind)
	}
	p.title(tell("show.ahead"))
	p.ahead(r)
	p.line("")
	p.para("  ", tell("show.made"))
	p.para("  ", tell("show.rule", "rule", r.Rule))
	p.para("  ", p.dated(tell("show.forecast", "forecast", clean(r.Forecast))))
	if r.Origin != "" {
		p.para("  ", tell("show.origin", "origin", clean(r.Origin)))
	}
	p.warnings(r.Warnings)
	p.assumed(r.Assumed)
	return p.err
}

// mark tells in one sign what a day behind is made of.
func mark(made string) string {
	switch made {
	case "mixed":
		return "~"
	case "filled":
		return "?"
	}
	return " "
}

func (p *skyPaper) outsideBehind(days []work.WeatherDay) {
	widths := []int{6, 6, 6, 7, 5, 7, 5, 6, 7, 5, 6}
	p.heads(widths, tell("show.cols.1"), tell("show.cols.2"))
	for _, d := range days {
		o := d.Out
		p.dayRow(d, widths, one(o.Tmin, 1), one(o.Tmax, 1), one(o.LeafMax, 1), one(o.RHMin, 0), one(o.RHMax, 0), one(o.VPD, 2),
			one(o.WetHours, 0), one(d.Rain, 1), one(d.Radiation, 1), one(d.ET0, 1), fixed(d.DayLength, 1))
	}
}

// cell is a text at the right of so many columns.
type cell struct {
	width int
	text  string
}

func row(cells ...cell) string {
	out := ""
	for _, c := range cells {
		for n := columns(c.text); n < c.width; n++ {
			out += " "
		}
		out += c.text
	}
	return out
}

func (p *skyPaper) insideBehind(days []work.WeatherDay) {
	widths := []int{6, 5, 6, 5, 5, 4, 5, 4, 5, 4, 6, 5, 6}
	p.heads(widths, tell("show.in.1"), tell("show.in.2"))
	for _, d := range days {
		o, in := d.Out, work.AirOfDay{}
		if d.In != nil {
			in = *d.In
		}
		p.dayRow(d, widths, one(in.Tmin, 1), one(o.Tmin, 1), one(in.Tmax, 1), one(o.Tmax, 1),
			one(in.RHMin, 0), one(o.RHMin, 0), one(in.RHMax, 0), one(o.RHMax, 0),
			one(in.WetHours, 0), one(o.WetHours, 0), one(in.LeafMax, 1), one(o.LeafMax, 1), one(in.VPD, 2))
	}
}

// heads writes the heads of the columns, parted by strokes in the catalogue.
func (p *skyPaper) heads(widths []int, lines ...string) {
	for _, l := range lines {
		var cells []cell
		for i, text := range strings.Split(l, "|") {
			cells = append(cells, cell{widths[min(i, len(widths)-1)], text})
		}
		p.line(strings.Repeat(" ", 13) + row(cells...))
	}
}

// dayRow writes the numbers of a day behind.
func (p *skyPaper) dayRow(d work.WeatherDay, widths []int, texts ...string) {
	var cells []cell
	for i, text := range texts {
		cells = append(cells, cell{widths[i], text})
	}
	p.line("  " + pad(p.shortDay(d.Date), 10) + mark(d.Made) + row(cells...))
}

func (p *skyPaper) ahead(r *work.WeatherShow) {
	last, end := tell("show.col.rain"), between
	if r.Inside != "" {
		last, end = tell("show.col.leaf"), whole
	}
	p.line("  " + pad(tell("show.col.day"), 11) + row(
		cell{13, tell("show.col.high")}, cell{13, tell("show.col.low")}, cell{13, tell("show.col.damp")}, cell{12, tell("show.col.wet")}, cell{15, last}))
	for _, d := range r.Ahead {
		air, tail := d.Out, d.Rain
		if d.In != nil {
			air, tail = *d.In, d.In.LeafMax
		}
		sign := " "
		if d.Made == "forecast" {
			sign = "f"
		}
		p.line("  " + pad(p.shortDay(d.Date), 10) + sign + row(
			cell{13, whole(air.Tmax)}, cell{13, whole(air.Tmin)}, cell{13, whole(air.RHMin)}, cell{12, whole(air.WetHours)}, cell{15, end(tail)}))
	}
}
