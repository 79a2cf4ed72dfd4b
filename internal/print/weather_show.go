package print

import (
	"io"

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
	p.line(tell("show.cols.1"))
	p.line(tell("show.cols.2"))
	for _, d := range days {
		o := d.Out
		p.line("  " + pad(p.shortDay(d.Date), 10) + mark(d.Made) + row(
			cell{6, one(o.Tmin, 1)}, cell{6, one(o.Tmax, 1)}, cell{6, one(o.LeafMax, 1)},
			cell{7, one(o.RHMin, 0)}, cell{5, one(o.RHMax, 0)}, cell{7, one(o.VPD, 2)},
			cell{5, one(o.WetHours, 0)}, cell{6, one(d.Rain, 1)}, cell{7, one(d.Radiation, 1)}, cell{5, one(d.ET0, 1)}, cell{6, fixed(d.DayLength, 1)}))
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
	p.line(tell("show.in.1"))
	p.line(tell("show.in.2"))
	for _, d := range days {
		o, in := d.Out, work.AirOfDay{}
		if d.In != nil {
			in = *d.In
		}
		p.line("  " + pad(p.shortDay(d.Date), 10) + mark(d.Made) + row(
			cell{6, one(in.Tmin, 1)}, cell{5, one(o.Tmin, 1)}, cell{6, one(in.Tmax, 1)}, cell{5, one(o.Tmax, 1)},
			cell{5, one(in.RHMin, 0)}, cell{4, one(o.RHMin, 0)}, cell{5, one(in.RHMax, 0)}, cell{4, one(o.RHMax, 0)},
			cell{5, one(in.WetHours, 0)}, cell{4, one(o.WetHours, 0)}, cell{6, one(in.LeafMax, 1)}, cell{5, one(o.LeafMax, 1)},
			cell{6, one(in.VPD, 2)}))
	}
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
