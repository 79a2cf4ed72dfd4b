package command

import (
	"fmt"
	"io"
	"strings"

	"oidium/internal/work"
)

// kinds are the commands on mildews and their hosts.
type kinds struct {
	Hosts hostsCmd `cmd:"" help:"Which mildews threaten a crop, which other crops and beds they can come from."`
	Grape grapeCmd `cmd:"" help:"The published index of grape mildew by day over the weather of a bed."`
}

type hostsCmd struct {
	asking
	Name string `arg:"" help:"A crop (oidium names crops) or the id of a mildew."`
}

func (c *hostsCmd) Run(s *streams) error {
	// The table of hosts can be asked without a book; beds are then left out.
	entries, day, err := (&whose{book: c.book, Demo: c.Demo, Date: c.Date}).open(s, true)
	if err != nil {
		return err
	}
	r, err := work.HostsOf(entries, day, c.Name)
	if err != nil {
		return err
	}
	return show(s, c.JSON, r, hostsText)
}

func hostsText(w io.Writer, r *work.Hosts) error {
	p := &plainText{out: w}
	if r.CropName != "" {
		p.line("%s: mildews that threaten it", r.CropName)
	}
	mark := func(name string, unsure bool) string {
		if unsure {
			return name + " (unsure)"
		}
		return name
	}
	for _, m := range r.Rows {
		p.line("")
		head := fmt.Sprintf("%s [%s], %s", m.Name, m.Mildew, m.Common)
		if m.Code != "" {
			head += ", EPPO code " + m.Code
		}
		p.para("", mark(head, m.Unsure))
		p.para("  Comes from: ", m.Comes)
		var crops, beds []string
		for _, x := range m.Crops {
			crops = append(crops, mark(strings.ToLower(x.Name), x.Unsure))
		}
		for _, x := range m.Beds {
			beds = append(beds, mark(fmt.Sprintf("%s (%s)", x.Name, strings.ToLower(x.CropName)), x.Unsure))
		}
		also := "  Also on: "
		if r.Crop == "" {
			also = "  On: "
		}
		if len(crops) > 0 {
			p.para(also, strings.Join(crops, ", "))
		}
		if len(beds) > 0 {
			p.para("  Beds it can go between: ", strings.Join(beds, ", "))
		}
	}
	p.line("")
	for _, x := range r.Says {
		p.para("", x)
	}
	return p.err
}

type grapeCmd struct {
	asking
	Bed     string `arg:"" help:"A bed of grape."`
	Revised bool   `help:"Count heat as revised in 2013: two hours at 38 °C instead of a quarter of an hour at 35 °C."`
	Reset   bool   `help:"Set the index to 0 after a treatment, as one of its two published versions does."`
	All     bool   `help:"Print every day; without it the last four weeks."`
}

func (c *grapeCmd) Run(s *streams) error {
	a, err := c.open(s)
	if err != nil {
		return err
	}
	r, err := work.GrapeIndex(a.entries, work.GrapeOptions{Day: a.opt.Day, Bed: a.bed(c.Bed), Revised: c.Revised, Reset: c.Reset})
	if err != nil {
		return err
	}
	return show(s, c.JSON, r, func(w io.Writer, r *work.Grape) error { return grapeText(w, r, c.All) })
}

// weeksShown is how many days are printed unless all are asked for (presentation).
const weeksShown = 28

func grapeText(w io.Writer, r *work.Grape, all bool) error {
	p := &plainText{out: w}
	p.line("Grape mildew in %s, index by day before %s", r.BedName, r.Date)
	days := r.Days
	if !all && len(days) > weeksShown {
		p.line("The last %d of %d days since bud break; --all prints every day.", weeksShown, len(days))
		days = days[len(days)-weeksShown:]
	}
	p.line("")
	if len(days) > 0 {
		p.line("%-12s%9s%7s  %-10s%10s%9s%10s", "day", "warmest", "index", "pressure", "wet spell", "its mean", "infects")
		p.line("%-12s%9s%7s  %-10s%10s%9s%10s", "", "°C", "", "", "h", "°C", "from h")
	}
	for _, d := range days {
		mean, need := "-", "-"
		if d.WetMean != nil {
			mean = fmt.Sprintf("%.1f", *d.WetMean)
		}
		if d.Need != nil {
			need = fmt.Sprintf("%g", *d.Need)
		}
		note := ""
		if d.Infects {
			note = "  infection"
		}
		if d.Treated {
			note += "  treated"
		}
		p.line("%-12s%9.1f%7.0f  %-10s%10.0f%9s%10s%s", d.Date, d.Max, d.Index, d.Pressure, d.Wet, mean, need, note)
	}
	if len(days) > 0 {
		p.line("")
	}
	for _, x := range r.Says {
		p.para("", x)
	}
	for _, x := range r.Warnings {
		p.para("Look: ", x.Text)
	}
	p.cautions(r.Cautions)
	for _, a := range r.Assumed {
		p.para("Assumed: ", fmt.Sprintf("%s: %s [%s, grade %s]", a.What, a.Value, a.Source, a.Grade))
	}
	for _, x := range r.Sources {
		p.para("Source: ", x.Text)
	}
	if r.Origin != "" {
		p.para("Weather: ", r.Origin)
	}
	return p.err
}
