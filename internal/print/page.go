package print

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"math"
	"strconv"
	"strings"
	"sync"

	"oidium/internal/work"
)

//go:embed page.html
var pageHTML string

//go:embed page.css
var pageCSS string

var pageTemplate = sync.OnceValues(func() (*template.Template, error) {
	w, err := load()
	if err != nil {
		return nil, err
	}
	return template.New("page").Funcs(template.FuncMap{
		"say":  w.say,
		"inc":  func(i int) int { return i + 1 },
		"px":   func(x float64) string { return decimals(x, 2) },
		"size": func(x float64) string { return decimals(x, 4) },
	}).Parse(pageHTML)
})

// decimals returns x with at most n decimals.
func decimals(x float64, n int) string {
	s := strconv.FormatFloat(x, 'f', n, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// HTML writes the round as one page for a phone and for paper. It asks for
// nothing else: no script, no font, no picture from outside, and its own policy
// forbids them. Errors are those of w.
func HTML(w io.Writer, r *work.Round) error {
	s, err := newSheet(r)
	if err != nil {
		return err
	}
	t, err := pageTemplate()
	if err != nil {
		return fmt.Errorf("reading the page: %w", err)
	}
	sum := sha256.Sum256([]byte(pageCSS))
	var b bytes.Buffer
	err = t.Execute(&b, map[string]any{
		"S":      view{s},
		"CSS":    template.CSS(pageCSS),
		"Policy": "default-src 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; base-uri 'none'; form-action 'none'",
	})
	if err != nil {
		return fmt.Errorf("writing the page: %w", err)
	}
	_, err = w.Write(b.Bytes())
	return err
}

// view is what the template sees of a sheet.
type view struct{ *sheet }

// line is a word and what it is about, as in the text.
type line struct{ Label, Amount, Text, Small string }

func (v view) Prose(s string) string               { return v.prose(s) }
func (v view) DayLong() string                     { return v.day(v.Date, true) }
func (v view) DayShort() string                    { return v.shortDay(v.Date) }
func (v view) Effort() string                      { return v.effort() }
func (v view) Sky() string                         { return v.sky() }
func (v view) Today() []work.Job                   { return v.today }
func (v view) Later() []work.Job                   { return v.later }
func (v view) Cautions() []string                  { return v.cautions }
func (v view) LaterLine(j work.Job) string         { return v.laterLine(j) }
func (v view) Name(b *work.BedReport) string       { return v.bedName(b.Bed) }
func (v view) Facts(b *work.BedReport) [][2]string { return v.facts(b) }
func (v view) Belief(m work.Belief) string         { return v.belief(m) }
func (v view) TriedLine(t work.Tried) string       { return v.triedLine(t) }
func (v view) Check(c work.Check) string           { return v.check(c) }
func (v view) Met(t work.Tried) string             { return v.met(t) }
func (v view) Flat(b *work.BedReport) string       { return v.flat(b) }
func (v view) WeatherLines() []string              { return v.weatherNotes() }
func (v view) Foot() string                        { return v.foot() }

func (v view) GardenName() string { return v.gardenName() }

func (v view) Verdict(b *work.BedReport) string { return capital(v.word("verdict", b.Verdict)) }

func (v view) BedHead(b *work.BedReport) string {
	return v.say("bed.head", "n", b.Order, "bed", v.bedName(b.Bed))
}

func (v view) Reports() []*work.BedReport {
	out := make([]*work.BedReport, len(v.Beds))
	for i := range v.Beds {
		out[i] = &v.Beds[i]
	}
	return out
}

// Title is the title of a job, with a capital.
func (v view) Title(j work.Job) string { return capital(v.title(j)) }

// JobHead is the line over the title of a job: bed, kind, minutes.
func (v view) JobHead(j work.Job) string {
	var part []string
	for _, p := range []string{v.jobBed(j), v.spent(j)} {
		if p != "" {
			part = append(part, p)
		}
	}
	return strings.Join(part, " · ")
}

// JobTells are the lines of a job that are needed with the tool in the hand.
func (v view) JobTells(j work.Job) []line {
	var out []line
	add := func(l line) {
		if l.Text != "" || l.Amount != "" {
			out = append(out, l)
		}
	}
	add(line{Label: v.say("label.hours"), Text: v.windows(j.Windows, v.Date)})
	if len(j.Windows) == 0 && j.Until != "" {
		add(line{Label: v.say("label.until"), Text: v.day(j.Until, false)})
	}
	switch {
	case j.Leaves > 0:
		l := line{Label: v.say("label.leaves"), Amount: v.count("leaves", j.Leaves), Text: v.prose(j.Which)}
		if l.Text != "" {
			l.Amount += ":"
		}
		add(l)
	default:
		add(line{Label: v.which(j), Text: v.prose(j.Which)})
	}
	if m := j.Mix; m != nil {
		unit := clean(m.Unit)
		if unit == "" {
			unit = "g"
		}
		add(line{
			Label:  v.say("label.mix"),
			Amount: v.say("mix.amount", "litres", short(m.Litres), "amount", short(m.Grams), "unit", unit),
			Text:   v.mixNote(j, unit),
			Small:  strings.TrimSpace("[" + v.origin(m.Source, m.Grade) + "] " + sentence(v.prose(m.Comment))),
		})
	}
	if j.Reason != "" {
		l := line{Label: v.say("label.why"), Text: sentence(v.prose(j.Reason))}
		if o := v.origin(j.Source, j.Grade); o != "" {
			l.Small = "[" + o + "]"
		}
		add(l)
	}
	if len(j.Notes) > 0 {
		add(line{Label: v.say("label.notes"), Text: v.notes(j)})
	}
	return out
}

// Mind are the cautions of a job.
func (v view) Mind(j work.Job) []string { return v.once(j.Cautions) }

func (v view) mixNote(j work.Job, unit string) string {
	text := v.say("mix.note", "material", v.material(j), "rate", short(j.Mix.RateGL), "unit", unit)
	return text + v.tanks(j.Mix)
}

// JobWhy are the lines that tell how sure it is and what would change it.
func (v view) JobWhy(j work.Job) []line {
	var out []line
	for _, l := range []line{
		{Label: v.say("label.sure"), Text: sentence(v.prose(j.Sure))},
		{Label: v.say("label.flip"), Text: sentence(v.prose(j.Flip))},
		{Label: v.say("label.worth"), Text: v.worth(j.Net)},
	} {
		if l.Text != "" {
			out = append(out, l)
		}
	}
	return out
}

func (v view) WarningLines() []string {
	out := make([]string, len(v.Warnings))
	for i, w := range v.Warnings {
		out[i] = v.warning(w.Bed, w.Text)
	}
	return out
}

func (v view) AssumedLines() []string {
	list := v.taken(false)
	out := make([]string, len(list))
	for i, a := range list {
		out[i] = v.assumed(a)
	}
	return out
}

func (v view) SourceLines() []string {
	out := make([]string, len(v.Sources))
	for i, c := range v.Sources {
		out[i] = v.source(c.ID, c.Text, c.DOI)
	}
	return out
}

// dayRow is a row of the table beside the picture of the days ahead.
type dayRow struct{ Day, Alone, Planned string }

func (v view) Days(b *work.BedReport) []dayRow {
	two := planned(b) && len(b.Planned) == len(b.Alone)
	out := make([]dayRow, len(b.Alone))
	for i, d := range b.Alone {
		out[i] = dayRow{Day: v.shortDay(d.Date), Alone: v.shares(d.Band)}
		if two {
			out[i].Planned = v.shares(b.Planned[i].Band)
		}
	}
	return out
}

// picture is a fan with its words for those who do not see it.
type picture struct {
	*fan
	Alt string
}

func (v view) Fan(b *work.BedReport) *picture {
	f := v.newFan(b)
	if f == nil {
		return nil
	}
	end := len(b.Alone) - 1
	args := []any{
		"bed", v.bedName(b.Bed), "first", v.shortDay(b.Alone[0].Date), "last", v.shortDay(b.Alone[end].Date),
		"now", v.share(b.Alone[0].Mid), "alone", v.shares(b.Alone[end].Band),
	}
	if !f.Two {
		return &picture{f, v.say("fan.alt", args...)}
	}
	return &picture{f, v.say("fan.alt.two", append(args, "planned", v.shares(b.Planned[end].Band))...)}
}

// The room of the drawing of a bed in the plan.
const (
	plotW, plotH       = 168.0, 96.0
	plotMaxW, plotMaxH = 150.0, 76.0
	plotLeast          = 0.36 // the smallest bed against the largest, in length
	hoopGap            = 6.0
)

// plot is a bed in the plan.
type plot struct {
	stipple
	X, Y                         float64
	Order                        int
	Name, Covered, Verdict, Look string
	Alt                          string
	Bare, Edge, Unseen           bool
	Hoops                        string // path of the tunnel over it, "" in the open
}

// Plots are the beds in the plan, in walking order; a larger bed is drawn
// larger.
func (v view) Plots() []plot {
	most := 0.0
	for i := range v.Beds {
		most = math.Max(most, v.Beds[i].AreaM2)
	}
	out := make([]plot, len(v.Beds))
	for i := range v.Beds {
		b := &v.Beds[i]
		scale := 1.0
		if most > 0 && b.AreaM2 > 0 {
			scale = math.Max(plotLeast, math.Sqrt(b.AreaM2/most))
		}
		w, h := round2(plotMaxW*scale), round2(plotMaxH*scale)
		p := plot{
			X: (plotW - w) / 2, Y: (plotH - h) / 2,
			Order: b.Order, Name: v.bedName(b.Bed), Covered: v.covered(b), Verdict: v.word("verdict", b.Verdict),
			Bare: b.Crop == "", Unseen: b.LastLook == "",
		}
		p.Edge = p.Unseen || b.Covered.Mid > 0.5
		if p.Bare {
			p.stipple = stipple{W: w, H: h}
			p.Alt = v.say("plot.bare", "bed", p.Name)
			p.Covered, p.Verdict = v.say("crop.none"), ""
		} else {
			p.stipple = newStipple(b.Bed, b.Covered.Mid, w, h)
			p.Alt = v.say("plot.alt", "bed", p.Name, "share", v.share(b.Covered.Mid))
			p.Covered = v.say("plot.covered", "shares", p.Covered)
			p.Look = v.say("plot.look", "day", v.shortDay(b.LastLook))
			if p.Unseen {
				p.Look = v.say("plot.unseen")
			}
		}
		if b.Shelter == "tunnel" {
			p.Hoops = hoops(p.X-hoopGap, p.Y-hoopGap, w+2*hoopGap, h+2*hoopGap)
		}
		out[i] = p
	}
	return out
}

func round2(x float64) float64 { return math.Round(100*x) / 100 }

// hoops draws a tunnel from above: its outline, and where the hoops stand.
func hoops(x, y, w, h float64) string {
	var b strings.Builder
	fmt.Fprintf(&b, "M%s %sh%sv%sh-%sz", decimals(x, 2), decimals(y, 2), decimals(w, 2), decimals(h, 2), decimals(w, 2))
	for i := range 6 {
		at := decimals(x+w*float64(i)/5, 2)
		fmt.Fprintf(&b, "M%s %sv-4M%s %sv4", at, decimals(y, 2), at, decimals(y+h, 2))
	}
	return b.String()
}
