package command

import (
	"encoding/json"
	"fmt"
	"strings"

	"oidium/garden"
	"oidium/internal/command/daybook"
	"oidium/internal/command/demo"
	"oidium/internal/command/spoken"
	"oidium/internal/ledger"
	"oidium/internal/work"
)

// asks are the commands that answer one question each.
type asks struct {
	Walk      walkCmd      `cmd:"" help:"How many leaves to look at, where, and what finding none would mean; when to stop."`
	Seen      seenCmd      `cmd:"" help:"What the looks at a bed say: shares with their bounds, threshold, pace, curves."`
	Key       keyCmd       `cmd:"" help:"Is it powdery mildew? A key with thumb, lens and damp bag."`
	Draw      drawCmd      `cmd:"" help:"Leaves with a known share of mildew, to hold beside a leaf, as SVG."`
	Practise  practiseCmd  `cmd:"" help:"Twenty leaves to read, and how far off your eye is."`
	Materials materialsCmd `cmd:"" help:"What materials do, what rain leaves of them, and who may be handed which."`
	Rules     rulesCmd     `cmd:"" help:"Every rule for one material on one bed, with reason and source."`
	Mix       mixCmd       `cmd:"" help:"How much to make up for a bed, in which order, and how long it lasts."`
	Hours     hoursCmd     `cmd:"" help:"The coming hours for a treatment, and why the others are closed."`
	Clock     clockCmd     `cmd:"" help:"From when beds may be entered and picked."`
	Leaves    leavesCmd    `cmd:"" help:"How much leaf a bed can spare, and which."`
	Actions   actionsCmd   `cmd:"" help:"Water, light, heat, air and hygiene on a bed, with their rules."`
	Measure   measureCmd   `cmd:"" help:"Units, ratios, spoons, stock solutions, molarity, silicon, dust, lamps, counts, scales."`
}

// asking says which garden is asked about, for which morning, and how the answer
// is printed.
type asking struct {
	book
	Demo    bool   `help:"Ask about the invented garden of the demo instead of a book."`
	Date    string `help:"Morning to answer for, 06:00 there; today if not given." placeholder:"DATE"`
	JSON    bool   `help:"Print JSON (its schema: oidium schema, then the name of the command)."`
	Members int    `help:"Size of the ensemble." default:"200" hidden:""`
	Workers int    `help:"Workers; changes the time it takes and nothing else." hidden:""`
}

// asked is a garden ready to be asked about.
type asked struct {
	entries []ledger.Entry
	page    *daybook.Page
	opt     work.Options
}

func (c *asking) open(s *streams) (*asked, error) {
	out := &asked{opt: work.Options{Members: c.Members, Workers: c.Workers}}
	var err error
	if c.Demo {
		out.entries, err = demo.Entries()
	} else {
		out.entries, err = c.book.entries(s)
	}
	if err != nil {
		return nil, err
	}
	now := s.now()
	if c.Demo {
		now = demo.Day().At(6, now.Location())
	}
	if out.page, err = daybook.Open(out.entries, now); err != nil {
		return nil, err
	}
	switch {
	case c.Date != "":
		out.opt.Day, err = out.page.Day(c.Date)
	case c.Demo:
		out.opt.Day = demo.Day()
	default:
		out.opt.Day, err = work.Today(out.entries, now)
		out.opt.Now = now // today as things stand
	}
	if err != nil {
		return nil, fmt.Errorf("--date: %w", err)
	}
	return out, nil
}

// bed is the bed that is meant: an id, a name or the beginning of one. What is no
// bed comes back as it is, and the use-case names those there are.
func (a *asked) bed(text string) garden.BedID {
	if id, ok := a.page.Bed(text); ok {
		return garden.BedID(id)
	}
	return garden.BedID(text)
}

// facts are what the book does not say.
type facts struct {
	Pick       string   `help:"Day of the next picking." placeholder:"DATE"`
	Stage      string   `help:"Growth stage of the crop, such as 'BBCH 61'." placeholder:"STAGE"`
	Stressed   bool     `help:"The plants are short of water or otherwise suffering."`
	Also       []string `help:"Another disease about, such as 'downy mildew', 'late blight', 'Botrytis'; may be given again." placeholder:"DISEASE" sep:"none"`
	ForCountry string   `help:"Country of whoever is told what to do, such as NL or US; the garden's if not given." placeholder:"CC"`
	ForRole    string   `help:"Their role: private, grower, adviser, hired-hand." enum:",private,grower,adviser,hired-hand" default:"" placeholder:"ROLE"`
}

func (f *facts) read(a *asked) (work.Facts, error) {
	out := work.Facts{
		Stage: f.Stage, Stressed: f.Stressed, Also: f.Also,
		Country: strings.ToUpper(f.ForCountry), Role: garden.Role(f.ForRole),
	}
	if n := len(out.Country); n != 0 && n != 2 {
		return out, fmt.Errorf("--for-country: %q is no country code; write two letters such as NL, GB, US", f.ForCountry)
	}
	if f.Pick != "" {
		var err error
		if out.Pick, err = a.page.Day(f.Pick); err != nil {
			return out, fmt.Errorf("--pick: %w", err)
		}
	}
	return out, nil
}

// share reads a percentage: 2, 2 %, 0,5 %. Nothing is 0.
func share(flag, text string) (float64, error) {
	if text == "" {
		return 0, nil
	}
	v, unit, err := spoken.Number(text)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", flag, err)
	}
	if unit != "" && unit != "%" || !(v > 0 && v < 100) {
		return 0, fmt.Errorf("%s: %q is no percentage between 0 and 100", flag, text)
	}
	return v / 100, nil
}

// put keeps an entry with the given body in the book and returns its id.
func (c *asking) put(s *streams, a *asked, kind string, bed garden.BedID, who string, body any) (garden.EntryID, error) {
	if c.Demo {
		return "", fmt.Errorf("--write: the garden of the demo is not kept; leave out --demo, or --write")
	}
	b, err := json.Marshal(body)
	if err != nil {
		return "", err
	}
	d, err := a.page.New(kind)
	if err != nil {
		return "", err
	}
	d.Bed, d.Who = string(bed), who
	if err := d.Fill(b); err != nil {
		return "", err
	}
	now := s.now()
	e, err := d.Entry(newID(now), now)
	if err != nil {
		return "", wrong(s, kind, err)
	}
	db, err := c.existing(s.ctx)
	if err != nil {
		return "", err
	}
	defer db.Close()
	if _, _, err := db.Append(s.ctx, []ledger.Entry{e}); err != nil {
		return "", fmt.Errorf("nothing was kept: %w", err)
	}
	return e.ID, nil
}
