package command

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"oidium/garden"
	"oidium/internal/command/spoken"
	"oidium/internal/print"
	"oidium/internal/work"
)

type walkCmd struct {
	asking
	Beds      []string `arg:"" optional:"" name:"bed" help:"Beds to look at; all if none is given."`
	Find      bool     `help:"To find mildew, in every bed." xor:"purpose"`
	Estimate  bool     `help:"To estimate how much there is, in every bed." xor:"purpose"`
	Share     string   `help:"Percent of mildewed leaves not to be missed; 2 is 1 leaf in 50." placeholder:"PERCENT"`
	Sure      string   `help:"Percent of the walks in which it is not to be missed, such as 95. Without it, and without --share, the 50 leaves of the threshold." placeholder:"PERCENT"`
	Minutes   float64  `help:"Minutes at hand for the whole walk." placeholder:"N"`
	PerPlant  int      `help:"Leaves to look at on each plant; 5 if not given." placeholder:"N"`
	Precision string   `help:"To estimate: standard error wanted, percent of the estimate; 25 if not given." placeholder:"PERCENT"`
	Check     string   `help:"How it is looked at: eye, lens or wet-bag." enum:"eye,lens,wet-bag" default:"eye"`
	Clean     string   `help:"Percent up to which the stop rule calls a bed clean; 2 if not given." placeholder:"PERCENT"`
	Bad       string   `help:"Percent from which it calls a bed bad; 10 if not given." placeholder:"PERCENT"`
	Counted   []int    `help:"Mildewed leaves on each plant so far, such as 0,0,1: may the walk stop?" placeholder:"N"`
}

func (c *walkCmd) Run(s *streams) error {
	a, err := c.open(s)
	if err != nil {
		return err
	}
	ask := work.WalkAsk{Minutes: c.Minutes, PerPlant: c.PerPlant, Check: c.Check, Counted: c.Counted}
	if c.Minutes < 0 || c.PerPlant < 0 {
		return fmt.Errorf("--minutes and --per-plant are not negative")
	}
	switch {
	case c.Find:
		ask.Purpose = "find"
	case c.Estimate:
		ask.Purpose = "estimate"
	}
	for _, b := range c.Beds {
		ask.Beds = append(ask.Beds, a.bed(b))
	}
	for _, x := range []struct {
		flag, text string
		to         *float64
	}{
		{"--share", c.Share, &ask.Share},
		{"--sure", c.Sure, &ask.Confidence},
		{"--precision", c.Precision, &ask.Precision},
		{"--clean", c.Clean, &ask.Clean},
		{"--bad", c.Bad, &ask.Bad},
	} {
		if *x.to, err = share(x.flag, x.text); err != nil {
			return err
		}
	}
	r, err := work.Walking(s.ctx, a.entries, a.opt, ask)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s.out, r)
	}
	return print.Walk(s.out, r)
}

type seenCmd struct {
	asking
	Bed string `arg:"" help:"The bed."`
}

func (c *seenCmd) Run(s *streams) error {
	a, err := c.open(s)
	if err != nil {
		return err
	}
	r, err := work.Seeing(a.entries, a.opt, a.bed(c.Bed))
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s.out, r)
	}
	return print.Seen(s.out, r)
}

type drawCmd struct {
	Shape string `arg:"" help:"Shape of leaf: cucurbit, grape, ovate, rose or strawberry."`
	Share string `arg:"" optional:"" name:"percent" help:"Percent of the leaf covered. Without it the usual twelve steps are drawn."`
	Seed  uint64 `help:"Another number, other places of the colonies." default:"1"`
	Paper bool   `help:"Dark on white, for paper."`
	Into  string `help:"Folder to write SVG files into, and a page with all of them; without it one leaf goes to standard output." type:"path" placeholder:"FOLDER"`
	JSON  bool   `help:"Print JSON (its schema: oidium schema drawn)."`
}

func (c *drawCmd) Run(s *streams) error {
	covered := -1.0
	if c.Share != "" {
		v, unit, err := spoken.Number(c.Share)
		if err != nil || unit != "" && unit != "%" || v < 0 || v > 100 {
			return fmt.Errorf("drawing a leaf: %q is no percentage from 0 to 100", c.Share)
		}
		covered = v / 100
	}
	r, err := work.Drawing(c.Shape, covered, c.Seed, c.Paper)
	if err != nil {
		return err
	}
	if c.Into == "" && !c.JSON {
		if len(r.Leaves) > 1 {
			return fmt.Errorf("drawing the twelve steps: say where they go with --into FOLDER, or which percentage is wanted")
		}
		_, err := io.WriteString(s.out, r.Leaves[0].SVG)
		return err
	}
	return drawnInto(s, r, c.Into, c.JSON, func(l work.DrawnLeaf) string {
		return fmt.Sprintf("%s-%s-percent.svg", c.Shape, strconv.FormatFloat(100*l.Share, 'f', 1, 64))
	})
}

// drawnInto writes the drawings into a folder, where one is named, and tells of
// them.
func drawnInto(s *streams, r *work.Drawn, folder string, asJSON bool, name func(work.DrawnLeaf) string) error {
	if folder != "" {
		if err := os.MkdirAll(folder, 0o755); err != nil {
			return fmt.Errorf("making the folder for the drawings: %w", err)
		}
		page, err := os.Create(filepath.Join(folder, "leaves.html"))
		if err != nil {
			return fmt.Errorf("writing the drawings: %w", err)
		}
		if err := errors.Join(print.LeafPage(page, r), page.Close()); err != nil {
			return fmt.Errorf("writing the drawings: %w", err)
		}
		for i := range r.Leaves {
			l := &r.Leaves[i]
			l.File = filepath.Join(folder, name(*l))
			if err := os.WriteFile(l.File, []byte(l.SVG), 0o644); err != nil {
				return fmt.Errorf("writing a drawing: %w", err)
			}
			l.SVG = ""
		}
	}
	if asJSON {
		return writeJSON(s.out, r)
	}
	return print.Drawn(s.out, r)
}

type practiseCmd struct {
	asking
	Shape   string `arg:"" help:"Shape of leaf: cucurbit, grape, ovate, rose or strawberry."`
	Set     uint64 `help:"Number of the training set; another number, other leaves." default:"1"`
	Paper   bool   `help:"Dark on white, for paper."`
	Into    string `help:"Folder to write the twenty leaves into, as SVG without their shares, and a page with all of them." type:"path" placeholder:"FOLDER"`
	Guesses string `help:"File of your readings, one a leaf in their order; - for standard input." placeholder:"FILE"`
	Scale   string `help:"Scale of the readings: percent, horsfall-barratt, horsfall-barratt-elanco, cucumber-0-9." default:"percent"`
	Who     string `help:"Whose eye it is." env:"OIDIUM_WHO" placeholder:"NAME"`
	Write   bool   `help:"Keep the result in the book: readings by that person then count as corrected."`
}

func (c *practiseCmd) Run(s *streams) error {
	if c.Into != "" || c.Guesses == "" && (!s.interactive() || c.JSON) {
		r, err := work.Training(c.Shape, c.Set, c.Paper)
		if err != nil {
			return err
		}
		if c.Into == "" && !c.JSON {
			return fmt.Errorf("practising: write the leaves with --into FOLDER, look at them, then give your readings with --guesses FILE, one a line")
		}
		if c.Guesses == "" {
			return drawnInto(s, r, c.Into, c.JSON, trainingName)
		}
		if err := drawnInto(&streams{out: io.Discard}, r, c.Into, false, trainingName); err != nil {
			return err
		}
	}
	values, err := c.readings(s)
	if err != nil {
		return err
	}
	r, err := work.Practising(c.Shape, c.Set, c.Scale, values, c.Who)
	if err != nil {
		return err
	}
	if c.Write {
		a, err := c.open(s)
		if err != nil {
			return err
		}
		if r.Kept, err = c.put(s, a, "eye-check", "", c.Who, r.Entry); err != nil {
			return err
		}
	}
	if c.JSON {
		return writeJSON(s.out, r)
	}
	return print.Practice(s.out, r)
}

func trainingName(l work.DrawnLeaf) string { return fmt.Sprintf("leaf-%02d.svg", l.Number) }

// readings reads one reading a line: "5", "5 %", "0,5", "3: 12 %". What stands
// before a colon is the number of the leaf and must be in order.
func (c *practiseCmd) readings(s *streams) ([]float64, error) {
	name := c.Guesses
	if name == "" {
		name = "-"
		fmt.Fprintln(s.err, "Your reading of each leaf, percent covered, one a line:")
	}
	f, err := s.open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var out []float64
	lines := bufio.NewScanner(f)
	for n := 1; lines.Scan(); n++ {
		text := strings.TrimSpace(strings.TrimPrefix(lines.Text(), "\ufeff"))
		if text == "" || strings.HasPrefix(text, "#") {
			continue
		}
		if leaf, rest, ok := strings.Cut(text, ":"); ok {
			if i, err := strconv.Atoi(strings.TrimSpace(leaf)); err != nil || i != len(out)+1 {
				return nil, fmt.Errorf("%s, line %d: leaf %q, where leaf %d was expected", name, n, leaf, len(out)+1)
			}
			text = strings.TrimSpace(rest)
		}
		v, unit, err := spoken.Number(text)
		if err != nil {
			return nil, fmt.Errorf("%s, line %d: %w", name, n, err)
		}
		if unit != "" && unit != "%" {
			return nil, fmt.Errorf("%s, line %d: %q is neither percent nor a grade", name, n, text)
		}
		out = append(out, v)
	}
	if err := lines.Err(); err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, err)
	}
	return out, nil
}

type keyCmd struct {
	asking
	Bed    string   `arg:"" optional:"" help:"The bed, where it stands in one."`
	Said   []string `arg:"" optional:"" name:"answer" help:"Answers as question=answer, such as part=leaf. Without any the first question is asked."`
	Crop   string   `help:"Crop, where it stands in no bed." placeholder:"CROP"`
	Ask    bool     `help:"Ask one question after another, answers from standard input; usual at a terminal."`
	Colony float64  `help:"Size of a colony, mm." placeholder:"MM"`
	Age    string   `help:"Age of the leaf: young, middle, old." enum:",young,middle,old" default:"" placeholder:"AGE"`
	Second string   `help:"Who else looked." placeholder:"NAME"`
	Who    string   `help:"Who looked." env:"OIDIUM_WHO" placeholder:"NAME"`
	Write  bool     `help:"Keep the outcome in the book; the rules then go by it."`
}

func (c *keyCmd) Run(s *streams) error {
	ask := work.KeyAskedFor{Answers: make(map[string]string), Colony: c.Colony, Age: c.Age, Second: c.Second}
	bed, said := c.Bed, c.Said
	if strings.Contains(bed, "=") { // no bed, an answer
		bed, said = "", append([]string{bed}, said...)
	}
	for _, w := range said {
		q, answer, ok := strings.Cut(w, "=")
		if !ok {
			return fmt.Errorf("the key: %q is no answer; write question=answer, such as part=leaf", w)
		}
		ask.Answers[q] = answer
	}
	var err error
	if ask.Crop, err = work.CropNamed(c.Crop); err != nil {
		return err
	}
	var a *asked
	if bed != "" || c.Write {
		if a, err = c.open(s); err != nil {
			return err
		}
		if bed == "" {
			return fmt.Errorf("--write: in which bed? Name it first: oidium key BED --write")
		}
		ask.Bed = a.bed(bed)
	} else {
		a = &asked{opt: work.Options{Day: garden.DayOf(s.now())}}
	}
	r, err := work.Telling(a.entries, a.opt, ask)
	if err != nil {
		return err
	}
	if c.Ask || s.interactive() && !c.JSON {
		if r, err = c.talk(s, a, ask, r); err != nil {
			return err
		}
	}
	if c.Write {
		if r.Record == nil {
			return fmt.Errorf("--write: the key has not come to an end; the next question is %s", r.Ask.Question)
		}
		if r.Kept, err = c.put(s, a, "diagnosis", ask.Bed, c.Who, r.Record); err != nil {
			return err
		}
	}
	if c.JSON {
		return writeJSON(s.out, r)
	}
	return print.Key(s.out, r)
}

// talk asks until the key comes to an end or the input does.
func (c *keyCmd) talk(s *streams, a *asked, ask work.KeyAskedFor, r *work.Key) (*work.Key, error) {
	in := bufio.NewScanner(s.in)
	for r.Ask != nil {
		if err := print.Question(s.err, r.Ask); err != nil {
			return nil, err
		}
		fmt.Fprint(s.err, "> ")
		if !in.Scan() {
			fmt.Fprintln(s.err)
			return r, in.Err()
		}
		said := strings.ToLower(strings.TrimSpace(in.Text()))
		if said == "" {
			continue
		}
		ask.Answers[r.Ask.Question] = fitting(said, r.Ask)
		next, err := work.Telling(a.entries, a.opt, ask)
		if err != nil { // no such answer: ask again
			fmt.Fprintln(s.err, err)
			delete(ask.Answers, r.Ask.Question)
			continue
		}
		r = next
	}
	return r, nil
}

// fitting is the answer that begins with what was typed, when there is just one.
func fitting(said string, q *work.KeyAsk) string {
	one := ""
	for _, x := range q.Answers {
		switch {
		case x.Answer == said:
			return said
		case strings.HasPrefix(x.Answer, said) && one == "":
			one = x.Answer
		case strings.HasPrefix(x.Answer, said):
			return said
		}
	}
	if one != "" {
		return one
	}
	return said
}
