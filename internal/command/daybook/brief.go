package daybook

import (
	"fmt"
	"strings"

	"oidium/garden"
	"oidium/internal/ledger"
)

// Brief says in a few words what an entry says.
func (p *Page) Brief(e ledger.Entry) string {
	switch b := e.Body.(type) {
	case nil:
		return "written by a newer program"
	case *ledger.Tally:
		return tallyBrief(b)
	case *ledger.Weather:
		return hours(len(b.T), b.Station)
	case *ledger.Photo:
		return strings.TrimSpace(b.Type + " " + b.Caption)
	case *ledger.Blanking:
		return fmt.Sprintf("%s taken out of %d entries", b.What, len(b.Entries))
	case *ledger.Withdrawal:
		return strings.TrimSpace("takes back " + string(e.Replaces[30:]) + " " + b.Reason)
	}
	d, err := p.Correct(e)
	if err != nil {
		return ""
	}
	var out []string
	for _, l := range d.lines() {
		f, ok := find(d.form.fields, l.Field)
		switch {
		case !ok || f.shape == yesNo && l.Text == "no":
			continue
		case f.shape == yesNo:
			out = append(out, strings.ReplaceAll(l.Field, "_", " "))
		case l.Field == "end":
			out = append(out, "until "+strings.TrimPrefix(l.Text, p.clock().SayDay(garden.DayOf(e.Time.In(p.loc)))+" "))
		case (f.shape == number || f.shape == integer) && !f.share() && unitOf(f) == "" || f.shape == date || f.shape == moment:
			out = append(out, strings.ReplaceAll(l.Field, "_", " ")+" "+l.Text)
		case l.Field == "material" || l.Field == "crop":
			id, _ := get(d.Body, l.Field).(string)
			out = append(out, id)
		default:
			out = append(out, l.Text)
		}
		if len(out) == briefFields {
			break
		}
	}
	return clip(strings.Join(out, ", "))
}

// briefFields is how many fields a brief has at most.
const briefFields = 5

func tallyBrief(b *ledger.Tally) string {
	looked, found := 0, 0
	plants := map[int]bool{}
	for _, c := range b.Counts {
		looked += c.Inspected
		found += c.Infected
		plants[c.Plant] = true
	}
	s := fmt.Sprintf("mildew on %d of %d leaf faces, %d plants", found, looked, len(plants))
	if found > 0 && b.Sure != "" {
		s += ", " + b.Sure
	}
	return s
}

func hours(n int, station string) string {
	return strings.TrimSpace(fmt.Sprintf("%d hours %s", n, station))
}

// clip shortens a text to what a line or two hold.
func clip(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 120 {
		return strings.TrimSpace(string(r[:117])) + "..."
	}
	return s
}
