package daybook

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"oidium/internal/command/spoken"
	"oidium/internal/ledger"
)

// Answers that are no values. They are signs, so that no word is lost to them.
const (
	signExplain = "?"
	signBack    = "<"
	signNone    = "-"
	signRest    = "."
	signStop    = "!"
)

const signs = "Enter takes what is in brackets, ? explains, - leaves out, < goes back, . takes the rest as it is, ! stops."

var (
	errBack = errors.New("back")
	errStop = errors.New("stopped")
)

// talk is one conversation.
type talk struct {
	*Draft
	in   *bufio.Reader
	out  io.Writer
	mind func(ledger.Entry) []string
	rest bool // take the values in brackets without asking
	// given are the fields that were there before anything was asked.
	given    map[string]bool
	askedWho bool
}

// Ask fills the draft in by asking for what is not there, one question a line,
// and shows it before it is kept. mind returns what is to be said of an entry
// before it is kept. Ask returns false when the user does not want it kept, or
// states nothing new. The error is that nothing can be asked.
func (p *Page) Ask(in io.Reader, out io.Writer, d *Draft, mind func(ledger.Entry) []string) (bool, error) {
	if k := d.form.kind; len(questionsOf(k)) == 0 {
		return false, fmt.Errorf("a %s is not typed in here; %s", k, elsewhere(k))
	}
	if d.form.bedNeeded && d.form.kind != "bed" && len(p.garden.Beds) == 0 {
		return false, fmt.Errorf("there is no bed yet; begin with: oidium write bed NAME")
	}
	p.asking = true
	t := &talk{Draft: d, in: bufio.NewReader(in), out: out, mind: mind, given: map[string]bool{}}
	for name := range d.Body {
		t.given[name] = true
	}
	t.line("%s: %s. %s", strings.ToUpper(d.form.kind[:1])+d.form.kind[1:], d.form.doc, signs)
	kept, err := t.run()
	if errors.Is(err, errStop) || errors.Is(err, io.EOF) {
		t.line("Nothing was kept.")
		return false, nil
	}
	return kept, err
}

// Review shows a draft that is complete and asks for changes, as [Page.Ask] does at
// its end.
func (p *Page) Review(in io.Reader, out io.Writer, d *Draft, mind func(ledger.Entry) []string) (bool, error) {
	p.asking = true
	t := &talk{Draft: d, in: bufio.NewReader(in), out: out, mind: mind, given: map[string]bool{}}
	for {
		_, err := t.askKeep()
		switch {
		case errors.Is(err, errBack):
			continue
		case errors.Is(err, errStop), errors.Is(err, io.EOF):
			t.line("Nothing was kept.")
			return false, nil
		case errors.Is(err, errNothingNew):
			return false, nil
		}
		return err == nil, err
	}
}

func elsewhere(kind string) string {
	switch kind {
	case "weather", "forecast", "log":
		return "its values come from a file: oidium weather import, or oidium ledger import"
	case "eye-check":
		return `give what was read as leaves=[{"truth":0.1,"read":0.2}], a share of leaf area each`
	case "photo":
		return "give the picture: oidium write photo BED --picture FILE"
	case "blanking":
		return "see: oidium book blank --help"
	case "withdrawal":
		return "see: oidium book withdraw --help"
	}
	return "give its fields as field=value"
}

func (t *talk) line(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	indent := text[:len(text)-len(strings.TrimLeft(text, " "))]
	for _, l := range Wrap(text[len(indent):], 78-len(indent)) {
		fmt.Fprintln(t.out, indent+l)
	}
}

// Wrap breaks a text at spaces into lines of at most n characters.
func Wrap(text string, n int) []string {
	var lines []string
	line := ""
	for _, w := range strings.Fields(text) {
		if line != "" && len([]rune(line))+1+len([]rune(w)) > n {
			lines = append(lines, line)
			line = ""
		}
		line = strings.TrimSpace(line + " " + w)
	}
	return append(lines, line)
}

// step is one thing to be asked.
type step struct {
	name string
	ask  func() (asked bool, err error)
}

func (t *talk) run() (bool, error) {
	steps := []step{{"bed", t.askBed}, {"when", t.askWhen}, {"who", t.askWho}}
	for _, q := range questionsOf(t.form.kind) {
		steps = append(steps, step{q.field, func() (bool, error) { return t.askField(q) }})
	}
	steps = append(steps, step{"keep", t.askKeep})
	var been []int
	for i := 0; i < len(steps); {
		asked, err := steps[i].ask()
		if errors.Is(err, errBack) {
			if len(been) == 0 {
				t.line("  This is the first question.")
				continue
			}
			i, been = been[len(been)-1], been[:len(been)-1]
			t.rest = false
			continue
		}
		if errors.Is(err, errNothingNew) {
			return false, nil
		}
		if err != nil {
			return false, err
		}
		if asked {
			been = append(been, i)
		}
		i++
	}
	return true, nil
}

// read prints a prompt and returns the answer without blanks at its ends. The
// signs for back and stop come as errors.
func (t *talk) read(prompt string) (string, error) {
	fmt.Fprint(t.out, prompt)
	s, err := t.in.ReadString('\n')
	s = strings.TrimSpace(s)
	if err != nil && s == "" {
		fmt.Fprintln(t.out)
		return "", io.EOF
	}
	switch s {
	case signBack:
		return "", errBack
	case signStop:
		return "", errStop
	}
	return s, nil
}

func (t *talk) wrongAnswer(err error) {
	for _, l := range Wrong(err) {
		t.line("      %s", l)
	}
}

func (t *talk) askBed() (bool, error) {
	if !t.form.bed || t.Bed != "" || t.given["bed"] {
		t.given["bed"] = true
		return false, nil
	}
	beds := t.page.beds()
	if t.form.kind != "bed" {
		for i, b := range beds {
			t.line("  %2d  %s", i+1, t.page.bedName(b.id))
		}
	}
	prompt := "  Bed, by number or name: "
	switch {
	case t.form.kind == "bed":
		prompt = "  A short name for the bed, yours, such as tunnel: "
	case !t.form.bedNeeded:
		prompt = "  Bed, by number or name; Enter for none: "
	}
	for {
		s, err := t.read(prompt)
		if err != nil {
			return false, err
		}
		n, err := strconv.Atoi(s)
		id, ok := t.page.Bed(s)
		switch {
		case s == signExplain:
			t.line("      The bed the entry is of.")
		case s == "" && !t.form.bedNeeded:
			return true, nil
		case t.form.kind == "bed" && s != "":
			t.Bed = s // a bed that is like another is another
			return true, nil
		case err == nil && n >= 1 && n <= len(beds):
			t.Bed = beds[n-1].id
			return true, nil
		case ok:
			t.Bed = id
			return true, nil
		default:
			t.wrongAnswer(t.page.noBed(s))
		}
	}
}

// timed are the kinds of which the time is asked: what happens. The others hold
// from now on.
var timed = map[string]string{
	"tally": "When did you look", "severity": "When did you look", "look": "When did you look", "diagnosis": "When did you look",
	"removal": "When", "treatment": "When did it begin", "check-leaves": "When", "climate": "When did it begin",
	"harvest": "When", "heap-fill": "When", "heap-turn": "When", "reading": "When", "plastic": "When", "mulch": "When",
	"debris": "When", "move": "When", "clock": "When did you compare",
}

func (t *talk) askWhen() (bool, error) {
	words, ok := timed[t.form.kind]
	if !ok || t.given["when"] || t.rest {
		return false, nil
	}
	now := "now, " + t.page.Moment(t.At)
	if !t.At.Equal(t.page.now) {
		now = t.page.Moment(t.At)
	}
	for {
		s, err := t.read("  " + words + " [" + now + "]: ")
		if err != nil {
			return false, err
		}
		switch s {
		case "":
			return true, nil
		case signRest:
			t.rest = true
			return true, nil
		case signExplain:
			t.line("      %s.", strings.ToUpper(spoken.TimeWays[:1])+spoken.TimeWays[1:])
			continue
		}
		before := t.At
		if err := t.When(s); err != nil {
			t.wrongAnswer(err)
			continue
		}
		if t.At.After(t.page.now) {
			t.line("      %s has not come yet.", t.page.Moment(t.At))
			t.At = before
			continue
		}
		t.line("      = %s", t.page.Moment(t.At))
		return true, nil
	}
}

// askWho asks who it is when that is not plain from the book.
func (t *talk) askWho() (bool, error) {
	if t.given["who"] || t.Who != "" && !t.askedWho {
		return false, nil
	}
	var people []string
	for _, e := range t.page.held {
		if e.Who != "" && !slices.Contains(people, e.Who) {
			people = append(people, e.Who)
		}
	}
	if t.Who == "" {
		t.Who = t.page.lastWho()
	}
	if len(people) == 1 || t.rest {
		return false, nil
	}
	t.askedWho = true
	prompt := "  Who [" + t.Who + "]: "
	if t.Who == "" {
		prompt = "  Who; a short name will do, Enter for nobody: "
	}
	s, err := t.read(prompt)
	switch {
	case err != nil:
		return false, err
	case s == signNone:
		t.Who = ""
	case s == signRest:
		t.rest = true
	case s == signExplain:
		t.line("      Who did it. Looks of one pair of eyes are compared with each other.")
		return t.askWho()
	case s != "":
		t.Who = s
	}
	return true, nil
}

// askField asks one question of the list.
func (t *talk) askField(q question) (bool, error) {
	f, ok := find(t.form.fields, q.field)
	if !ok || t.given[q.field] || !t.asked(q) {
		return false, nil
	}
	if slices.Equal(q.start, []string{"walk"}) {
		return true, t.walk()
	}
	start, holds := t.begins(q, f)
	if v := get(t.Body, q.field); v != nil { // answered before
		start, holds = v, false
	}
	if t.rest && (start != nil || !q.must(f)) {
		t.take(q.field, start, holds)
		return false, nil
	}
	prompt := "  " + t.prompt(q, f)
	if start != nil {
		prompt += " [" + t.bracket(f, start) + "]"
	}
	for {
		s, err := t.read(prompt + ": ")
		if err != nil {
			return false, err
		}
		switch {
		case s == signExplain:
			t.explain(f)
			continue
		case s == signRest:
			t.rest = true
			s = ""
		case s == signNone:
			if f.required && !holds {
				t.line("      It is needed: %s.", f.doc)
				continue
			}
			delete(t.Body, q.field)
			return true, nil
		}
		if s == "" {
			if start == nil && q.must(f) {
				t.line("      It is needed: %s.", f.doc)
				continue
			}
			t.take(q.field, start, holds)
			return true, nil
		}
		before := get(t.Body, q.field)
		if err := t.set(q.field, s); err != nil {
			put(t.Body, q.field, before)
			t.wrongAnswer(err)
			continue
		}
		t.echo(f, s, get(t.Body, q.field))
		return true, nil
	}
}

// take puts the value in brackets into the body. One that holds anyhow is not
// stated again, unless it names the thing.
func (t *talk) take(name string, v any, holds bool) {
	if v == nil || holds && !slices.Contains(keys[t.form.kind], name) {
		return
	}
	put(t.Body, name, v)
}

// prompt is the words of a question, with unit and choices.
func (t *talk) prompt(q question, f *field) string {
	s := q.words
	if u := t.page.askedUnit(f); u != "" && !strings.Contains(s, ",") && !slices.Contains([]string{"d", "h", "min", "s"}, u) {
		s += ", " + u
	}
	switch {
	case f.shape == yesNo:
		s += "? (yes, no)"
	case f.share() && !strings.Contains(s, "%"):
		s += ", such as 12 %"
	case f.shape == list && f.item.enum != nil:
		s += " (" + strings.Join(f.item.enum, ", ") + ")"
	case f.enum != nil:
		if c := strings.Join(f.enum, ", "); len(s)+len(c) < 70 {
			s += " (" + c + ")"
		} else {
			s += " (? lists)"
		}
	case f.name == "crop" || f.name == "material":
		s += " (? lists)"
	}
	return s
}

// bracket is a value as it could be typed.
func (t *talk) bracket(f *field, v any) string {
	n, ok := v.(json.Number)
	if !ok || f.share() {
		return t.page.text(f, v)
	}
	x, err := n.Float64()
	if err != nil {
		return n.String()
	}
	if y, err := spoken.Convert(x, unitOf(f), t.page.askedUnit(f), t.page.system); err == nil && t.page.askedUnit(f) != unitOf(f) {
		return strconv.FormatFloat(y, 'g', 4, 64)
	}
	return spoken.Print(x)
}

// echo says how an answer was understood when that is not what was typed.
func (t *talk) echo(f *field, typed string, v any) {
	said := t.page.text(f, v)
	if n, ok := v.(json.Number); ok && !f.share() && n.String() == strings.Replace(typed, ",", ".", 1) && t.page.askedUnit(f) == unitOf(f) {
		return
	}
	if f.shape == yesNo {
		return
	}
	if f.shape != words || f.enum != nil || f.name == "crop" || f.name == "material" || f.uuid {
		if !strings.EqualFold(said, typed) && said != typed {
			t.line("      = %s", said)
		}
	}
}

// explain tells what a field is.
func (t *talk) explain(f *field) {
	s := strings.ToUpper(f.doc[:1]) + f.doc[1:]
	if !f.required {
		s += "; may be left out"
	}
	t.line("      %s.", s)
	choices := f.enum
	if f.shape == list {
		choices = f.item.enum
	}
	switch {
	case choices != nil:
		t.line("      One of: %s.", strings.Join(choices, ", "))
	case f.name == "crop":
		t.choices(t.page.crops)
	case f.name == "material" || f.name == "with":
		t.choices(t.page.stuff)
	case f.shape == date:
		t.line("      %s.", strings.ToUpper(spoken.DateWays[:1])+spoken.DateWays[1:])
	case f.shape == moment:
		t.line("      %s; 45 min counts from the beginning.", strings.ToUpper(spoken.TimeWays[:1])+spoken.TimeWays[1:])
	case f.shape == number:
		if u := unitOf(f); u != "" {
			t.line("      In %s, or with its unit behind it.", t.page.askedUnit(f))
		}
	}
}

func (t *talk) choices(list []named) {
	for _, n := range list {
		if n.name == n.id || n.name == "" {
			t.line("      %s", n.id)
			continue
		}
		fmt.Fprintf(t.out, "      %-14s %s\n", n.id, n.name)
	}
}

var errNothingNew = errors.New("nothing new")

// askKeep shows the entry and asks whether it is to be kept.
func (t *talk) askKeep() (bool, error) {
	if t.nothingNew() {
		t.line("Nothing new was stated, so nothing was kept.")
		return false, errNothingNew
	}
	t.review()
	for {
		s, err := t.read("Keep it? Enter keeps, field=value changes, ? lists the fields, ! throws it away: ")
		if err != nil {
			return false, err
		}
		switch {
		case s == "" || strings.EqualFold(s, "yes") || strings.EqualFold(s, "y"):
			if _, err := t.Entry(anyID, t.page.now); err != nil {
				t.wrongAnswer(err)
				continue
			}
			return true, nil
		case strings.EqualFold(s, "no") || strings.EqualFold(s, "n"):
			return false, errStop
		case s == signExplain:
			if err := writeFields(t.out, "", t.form.fields); err != nil {
				return false, err
			}
			t.line("And at, who, bed: the time it speaks of, who did it, the bed.")
			continue
		}
		if err := t.change(s); err != nil {
			t.wrongAnswer(err)
			continue
		}
		t.review()
	}
}

// change takes a field=value at the end.
func (t *talk) change(s string) error {
	name, value, ok := strings.Cut(s, "=")
	if !ok {
		return fmt.Errorf("%q is not understood; write field=value, such as %s=VALUE", s, questionsOf(t.form.kind)[0].field)
	}
	name, value = strings.TrimSpace(name), strings.TrimSpace(value)
	switch name {
	case "at", "when", "time":
		return t.When(value)
	case "who":
		t.Who = value
		return nil
	case "bed":
		id, ok := t.page.Bed(value)
		if !ok {
			return t.page.noBed(value)
		}
		t.Bed = id
		return nil
	}
	return t.set(name, value)
}

// nothingNew tells whether a standing thing was named and nothing said of it.
func (t *talk) nothingNew() bool {
	if !slices.ContainsFunc(questionsOf(t.form.kind), func(q question) bool { return slices.Contains(q.start, "standing") }) {
		return false
	}
	for name := range t.Body {
		if !slices.Contains(keys[t.form.kind], name) {
			return false
		}
	}
	return true
}

// review shows the entry and what is to be minded.
func (t *talk) review() {
	t.line("")
	t.line("%s", t.sentence())
	for _, l := range t.lines() {
		for i, part := range Wrap(l.Text, 54) {
			name := ""
			if i == 0 {
				name = l.Field
			}
			fmt.Fprintf(t.out, "    %-20s %s\n", name, part)
		}
	}
	if e, err := t.Entry(anyID, t.page.now); err == nil && t.mind != nil {
		for _, m := range t.mind(e) {
			t.line("  %s", m)
		}
	}
}
