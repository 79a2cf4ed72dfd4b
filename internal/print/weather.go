package print

import (
	_ "embed" // the sentences
	"io"
	"strconv"
	"strings"
	"time"

	"oidium/garden"
	"oidium/internal/work"
	"oidium/words"
)

//go:embed weather.tsv
var weatherSentences string

var weatherWords = words.Lazy(&weatherSentences)

// skyPaper writes results on weather as text of at most 80 columns.
type skyPaper struct {
	phrases // weekdays and months
	*paper
}

func newSkyPaper(w io.Writer) (*skyPaper, error) {
	ph, err := load()
	if err != nil {
		return nil, err
	}
	return &skyPaper{phrases: ph, paper: &paper{out: w}}, nil
}

// tell returns a sentence of this part of the room.
func tell(key string, args ...any) string { return weatherWords().Say(key, args...) }

// head writes whose weather it is and for when.
func (p *skyPaper) head(what string, g work.Place, date string) {
	name := clean(g.Name)
	if g.Invented {
		name = tell("invented", "name", name)
	}
	if name != "" {
		what = tell("head", "what", what, "name", name)
	}
	p.ends("", what, p.day(date, true))
	p.line(strings.Repeat("-", textWidth))
}

// texts writes a titled list; nothing where it is empty.
func (p *skyPaper) texts(title string, list []string) {
	if len(list) == 0 {
		return
	}
	p.title(title)
	for _, t := range list {
		p.para("  - ", p.dated(clean(t)))
	}
}

func (p *skyPaper) warnings(list []garden.Warning) {
	var out []string
	for _, w := range list {
		text := w.Text
		if w.Bed != "" {
			text = tell("of-bed", "bed", clean(string(w.Bed)), "text", text)
		}
		out = append(out, text)
	}
	p.texts(tell("title.warnings"), out)
}

func (p *skyPaper) assumed(list []work.Assumption) {
	var out []string
	for _, a := range list {
		out = append(out, tell("assumed", "what", a.What, "value", a.Value, "source", a.Source))
	}
	p.texts(tell("title.assumed"), out)
}

// dated writes the dates in a sentence as a reader does.
func (p *skyPaper) dated(text string) string {
	return aDate.ReplaceAllStringFunc(text, func(d string) string {
		t, err := time.Parse(time.DateOnly, d)
		if err != nil {
			return d
		}
		return strconv.Itoa(t.Day()) + nb + p.say("month."+strconv.Itoa(int(t.Month()))) + nb + strconv.Itoa(t.Year())
	})
}

// cells writes a row of right-aligned cells after a left-aligned first one.
func (p *skyPaper) cells(first string, firstWidth, width int, rest ...string) {
	var b strings.Builder
	b.WriteString(pad(first, firstWidth))
	for _, c := range rest {
		b.WriteString(strings.Repeat(" ", max(0, width-columns(c))) + c)
	}
	p.line(b.String())
}

// one prints the middle of a band with so many decimals, a dot where it is not
// known.
func one(b *work.Band, decimals int) string {
	if b == nil {
		return "."
	}
	return fixed(b.Mid, decimals)
}

// between prints a band in little room: 1.9 (0.2-11).
func between(b *work.Band) string { return bounds(b, short) }

// whole prints a band of whole numbers: 19 (14-23).
func whole(b *work.Band) string {
	return bounds(b, func(x float64) string { return fixed(x, 0) })
}

func bounds(b *work.Band, number func(float64) string) string {
	if b == nil {
		return "."
	}
	low, high := number(b.Low), number(b.High)
	switch {
	case low == high:
		return number(b.Mid)
	case strings.HasPrefix(high, "-") || strings.HasPrefix(low, "-"):
		return number(b.Mid) + " (" + low + ".." + high + ")"
	}
	return number(b.Mid) + " (" + low + "-" + high + ")"
}
