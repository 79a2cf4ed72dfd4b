package print

import (
	"fmt"
	"io"
	"strconv"

	"oidium/internal/work"
)

// WeatherCheck writes the report of quality control. Errors are those of w.
func WeatherCheck(w io.Writer, r *work.WeatherCheck) error {
	p, err := newSkyPaper(w)
	if err != nil {
		return err
	}
	p.head(tell("check.head"), r.Garden, r.Date)
	p.para("", clean(r.Headline))
	for i, rec := range r.Records {
		p.record(i+1, rec)
	}
	var filled []string
	for _, f := range r.Filled {
		filled = append(filled, f.Text)
	}
	p.texts(tell("check.filled"), filled)
	p.warnings(r.Warnings)
	return p.err
}

func (p *skyPaper) record(n int, rec work.WeatherRecord) {
	p.line("")
	name := clean(rec.Station)
	if rec.Bed != "" {
		name = tell("check.in-bed", "name", name, "bed", clean(rec.BedName))
	}
	p.ends(pad(strconv.Itoa(n)+".", 4), name, tell("check.span", "from", p.shortYear(rec.From), "to", p.shortYear(rec.To)))
	if rec.Origin != "" {
		p.para("    ", clean(rec.Origin))
	}
	p.quantities(rec.Quantities)
	for _, f := range rec.Findings {
		p.para("    - ", p.dated(clean(f.Text)))
	}
	if len(rec.Findings) == 0 {
		p.para("    ", tell("check.fine"))
	}
}

// quantities writes the hours of each quantity that is there at all.
func (p *skyPaper) quantities(list []work.WeatherQuantity) {
	forecast := false
	for _, q := range list {
		forecast = forecast || q.Forecast > 0
	}
	heads := []string{tell("check.measured"), tell("check.derived"), tell("check.doubtful"), tell("check.missing")}
	if forecast {
		heads = []string{tell("check.forecast"), tell("check.missing")}
	}
	p.cells("    "+tell("check.hours"), 18, 12, heads...)
	for _, q := range list {
		n := []string{count(q.Measured), count(q.Derived), count(q.Doubtful), count(q.Missing)}
		if forecast {
			n = []string{count(q.Forecast), count(q.Missing)}
		} else if q.Measured+q.Derived+q.Doubtful == 0 {
			n = []string{"-", "-", "-", tell("check.never")}
		}
		p.cells("    "+tell("what."+q.What), 18, 12, n...)
	}
}

func count(n int) string {
	if n == 0 {
		return "-"
	}
	return strconv.Itoa(n)
}

// shortYear returns the day of an instant as 6 Jul 2000.
func (p *skyPaper) shortYear(instant string) string {
	if len(instant) < 10 {
		return clean(instant)
	}
	var y, m, d int
	if _, err := fmt.Sscanf(instant[:10], "%d-%d-%d", &y, &m, &d); err != nil {
		return clean(instant)
	}
	return strconv.Itoa(d) + nb + first(p.say("month."+strconv.Itoa(m)), 3) + nb + strconv.Itoa(y)
}

// WeatherImport writes how a file was understood. Errors are those of w.
func WeatherImport(w io.Writer, r *work.WeatherImport) error {
	p, err := newSkyPaper(w)
	if err != nil {
		return err
	}
	switch {
	case !r.Kept:
		p.para("", tell("import.rehearsed", "file", clean(r.File), "n", r.Entries))
	default:
		p.para("", tell("import.kept", "file", clean(r.File), "added", r.Added, "same", r.Same))
	}
	name := clean(r.Station)
	if r.Bed != "" {
		name = tell("check.in-bed", "name", name, "bed", clean(string(r.Bed)))
	}
	p.line("")
	p.para("", tell("import.span", "name", name, "hours", r.Hours, "from", p.shortYear(r.From), "to", p.shortYear(r.To)))
	p.quantities(r.Quantities)
	p.texts(tell("import.understood"), r.Understood)
	if r.BadTotal > 0 {
		p.title(tell("import.bad", "n", r.BadTotal, "rows", r.Rows))
		shown := r.Bad[:min(len(r.Bad), badShown)]
		for _, b := range shown {
			p.para("  ", tell("import.line", "line", b.Line, "reason", clean(b.Reason)))
		}
		if more := r.BadTotal - len(shown); more > 0 {
			p.para("  ", tell("import.more", "n", more))
		}
	}
	var found []string
	for _, x := range r.Warnings {
		found = append(found, x.Text)
	}
	p.texts(tell("import.quality"), found)
	return p.err
}

// badShown is how many bad rows are printed; JSON has more of them.
const badShown = 20

// WeatherFetch writes what forecast was fetched. Errors are those of w.
func WeatherFetch(w io.Writer, r *work.WeatherFetch) error {
	p, err := newSkyPaper(w)
	if err != nil {
		return err
	}
	switch {
	case !r.Kept:
		p.para("", tell("fetch.rehearsed", "origin", clean(r.Origin)))
	case r.Added > 0:
		p.para("", tell("fetch.kept", "origin", clean(r.Origin)))
	default:
		p.para("", tell("fetch.same", "origin", clean(r.Origin)))
	}
	p.line("")
	p.para("", tell("fetch.span", "issued", p.moment(r.Issued), "hours", r.Hours, "to", p.moment(r.To)))
	p.para("", tell("fetch.counts", "day", p.day(r.CountsFrom, true)))
	p.para("", clean(r.Attribution))
	p.para("", clean(r.Tried))
	p.quantities(r.Quantities)
	p.warnings(r.Warnings)
	return p.err
}
