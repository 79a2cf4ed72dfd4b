package command

import (
	"fmt"
	"io"
	"strings"
	"time"

	"oidium/internal/command/daybook"
	"oidium/internal/ledger"
	"oidium/internal/record"
	"oidium/internal/work"
)

// plainWidth is the most columns of a line.
const plainWidth = 80

// plainText writes lines for a reader and keeps the first error.
type plainText struct {
	out io.Writer
	err error
}

func (p *plainText) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintln(p.out, strings.TrimRight(fmt.Sprintf(format, args...), " "))
	}
}

// para writes a text broken to the width, its first line after head, the others
// under its beginning.
func (p *plainText) para(head, text string) {
	indent := strings.Repeat(" ", len([]rune(head)))
	for _, l := range daybook.Wrap(text, plainWidth-len(indent)) {
		p.line("%s%s", head, l)
		head = indent
	}
}

// fields writes the fields of an entry.
func (p *plainText) fields(page *daybook.Page, e ledger.Entry) error {
	lines, err := page.Lines(e)
	if err != nil {
		return err
	}
	for _, l := range lines {
		p.para(fmt.Sprintf("    %-22s ", l.Field), l.Text)
	}
	return nil
}

// freed writes from when a bed may be entered and picked.
func (p *plainText) freed(page *daybook.Page, f *work.Freed) {
	if f == nil {
		return
	}
	when := func(s string) string {
		t, err := time.Parse(time.RFC3339, s)
		if err != nil {
			return "unknown: read the label and enter it (oidium write label)"
		}
		return page.Moment(t)
	}
	p.para("  May be entered from: ", when(f.Enter))
	if f.Pick != "" {
		p.para("  May be picked from:  ", when(f.Pick))
	}
}

// gaps writes what the rules on records miss.
func (p *plainText) gaps(missing []work.Gaps) {
	for _, g := range missing {
		p.line("  Missing for %s:", g.Rule)
		for _, f := range g.Fields {
			p.para(fmt.Sprintf("    %-22s ", f.Field), gapText(f))
		}
		p.para("    ", g.Origin)
	}
}

// cautions writes what is to be minded.
func (p *plainText) cautions(list []string) {
	for i, c := range list {
		head := "        "
		if i == 0 {
			head = "  Mind: "
		}
		p.para(head, c)
	}
}

// gapText says what is missing and where it is typed in.
func gapText(g record.Gap) string {
	switch {
	case g.Hint == "":
		return g.Why
	case g.Why == "asked for":
		return g.Hint
	}
	return g.Why + "; " + g.Hint
}
