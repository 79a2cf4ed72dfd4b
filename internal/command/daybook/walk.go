package daybook

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"oidium/internal/command/spoken"
	"oidium/internal/ledger"
)

// plan is how leaves are counted in one tally: which ages, which faces, how many
// of each plant, how many plants.
type plan struct {
	ages   []string
	face   string // "upper", "lower", "both"
	of     map[string]int
	plants int // of last time, 0 unknown
}

// lastPlan is the plan of the last tally of the bed.
func (t *talk) lastPlan() plan {
	p := plan{ages: []string{"old"}, face: "both", of: map[string]int{}}
	e, ok := t.page.last("tally", t.Bed)
	if !ok {
		return p
	}
	b, ok := e.Body.(*ledger.Tally)
	if !ok || len(b.Counts) == 0 {
		return p
	}
	p.ages, p.face = nil, b.Counts[0].Face
	var plants []int
	for _, c := range b.Counts {
		if !slices.Contains(p.ages, c.Age) {
			p.ages = append(p.ages, c.Age)
			p.of[c.Age] = c.Inspected
		}
		if c.Face != p.face {
			p.face = "both"
		}
		if !slices.Contains(plants, c.Plant) {
			plants = append(plants, c.Plant)
		}
	}
	if string(e.Bed) == t.Bed {
		p.plants = len(plants)
	}
	return p
}

// walk asks for the leaves plant by plant.
func (t *talk) walk() error {
	p := t.lastPlan()
	for stage := 0; ; {
		var err error
		switch stage {
		case 0:
			err = t.askAges(&p)
		case 1:
			err = t.askFace(&p)
		case 2:
			err = t.askLeaves(&p)
		default:
			if err = t.plants(&p); err == nil {
				return nil
			}
		}
		switch {
		case errors.Is(err, errBack) && stage > 0:
			stage--
		case err != nil:
			return err
		default:
			stage++
		}
	}
}

func (t *talk) askAges(p *plan) error {
	for {
		s, err := t.read("  Leaves: young, middle, old, or several [" + strings.Join(p.ages, ", ") + "]: ")
		if err != nil || s == "" {
			return err
		}
		if s == signExplain {
			t.line("      Young leaves are not full-grown, old ones are the lowest that are still green.")
			continue
		}
		var ages []string
		for _, a := range strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ' ' || r == ';' }) {
			ages = append(ages, among([]string{"young", "middle", "old"}, a))
		}
		if i := slices.IndexFunc(ages, func(a string) bool { return !slices.Contains([]string{"young", "middle", "old"}, a) }); i >= 0 {
			t.line("      %q is not an age of leaves: young, middle or old.", ages[i])
			continue
		}
		p.ages = slices.Compact(ages)
		return nil
	}
}

func (t *talk) askFace(p *plan) error {
	for {
		s, err := t.read("  Which side: upper, lower or both [" + p.face + "]: ")
		if err != nil || s == "" {
			return err
		}
		f := among([]string{"upper", "lower", "both"}, s)
		if slices.Contains([]string{"upper", "lower", "both"}, f) {
			p.face = f
			return nil
		}
		t.line("      Cucurbit mildew often begins on the underside; look at both when you can.")
	}
}

func (t *talk) askLeaves(p *plan) error {
	for _, a := range p.ages {
		for {
			start := p.of[a]
			if start == 0 {
				start = 5 // as the advice to scouts usually is; the user says otherwise
			}
			s, err := t.read(fmt.Sprintf("  How many %s leaves on each plant [%d]: ", a, start))
			if err != nil {
				return err
			}
			n := start
			if s != "" {
				if n, err = spoken.Whole(s); err != nil || n == 0 {
					t.line("      A whole number of leaves, please.")
					continue
				}
			}
			p.of[a] = n
			break
		}
	}
	return nil
}

// plants walks from plant to plant. Each answer is kept apart, so that going back
// takes back one plant and age.
func (t *talk) plants(p *plan) error {
	c := spoken.NewCounter()
	how := "leaves with mildew"
	if p.face == "both" {
		how = "leaves with mildew above + below, such as 0+1"
	}
	t.line("  Plant by plant: %s. Enter for none, . when you are done, < back a plant, - to pass one over.", how)
	type mark struct{ counts, plant, age int }
	var trail []mark
	for k := 0; ; {
		age := p.ages[k]
		c.Hold(age, p.face, p.of[age])
		done := p.plants > 0 && c.Plant > p.plants && k == 0
		s, err := t.read(t.plantPrompt(p, c, age, done))
		if errors.Is(err, errBack) && len(trail) > 0 {
			last := trail[len(trail)-1]
			trail = trail[:len(trail)-1]
			c.Counts, c.Plant, k = c.Counts[:last.counts], last.plant, last.age
			continue
		}
		if err != nil {
			return err
		}
		if s == signRest || s == "" && done {
			if len(c.Counts) == 0 {
				t.line("      No leaf is counted yet.")
				continue
			}
			break
		}
		if s == signExplain {
			t.line("      %s", tallyHelp)
			continue
		}
		before, plant := len(c.Counts), c.Plant
		if err := t.plantWords(c, s); err != nil {
			c.Counts, c.Plant = c.Counts[:before], plant
			t.line("      %s", err)
			continue
		}
		trail = append(trail, mark{before, plant, k})
		// The next age of the same plant, or the next plant.
		if k++; k < len(p.ages) && c.Plant == plant+1 && s != signNone {
			c.Plant = plant
		} else {
			k = 0
		}
	}
	t.Body["counts"] = slices.Clone(c.Counts)
	looked, found := 0, 0
	for _, x := range c.Counts {
		looked += x.Inspected
		found += x.Infected
	}
	t.line("      = %d leaf faces looked at, %d with mildew", looked, found)
	return nil
}

func (t *talk) plantPrompt(p *plan, c *spoken.Counter, age string, done bool) string {
	s := "  plant " + strconv.Itoa(c.Plant)
	if len(p.ages) > 1 {
		s += ", " + age
	}
	if done {
		s += fmt.Sprintf(" (%d last time; Enter when done)", p.plants)
	}
	return s + ": "
}

// plantWords takes the answer for one plant: one word, or more for more plants.
func (t *talk) plantWords(c *spoken.Counter, s string) error {
	words := strings.Fields(s)
	if len(words) == 0 {
		words = []string{"0"}
	}
	for _, w := range words {
		if err := c.Word(w); err != nil {
			return err
		}
	}
	return nil
}

const tallyHelp = "1 is one leaf with mildew of those looked at, 1/4 one of four, 0+1 none above and one below; " +
	"0/3y,1/4o are young and old leaves of one plant, 6x0 six plants without mildew. Letters: y m o young middle old, u l upper lower."
