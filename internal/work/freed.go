package work

import (
	"time"

	"oidium/garden"
	"oidium/host"
	"oidium/internal/ledger"
	"oidium/internal/record"
	"oidium/remedy"
)

// Freed tells from when a bed may be entered and picked after a treatment.
type Freed struct {
	Enter   string `json:"enter" doc:"date and time, or unknown: the label value was not entered"`
	Pick    string `json:"pick" doc:"date and time, or unknown; absent where nothing is eaten" `
	Counted string `json:"counted_from" format:"date-time" doc:"end of the treatment; 23:59 of its day when no end was entered"`
}

const unknown = "unknown"

// freed works out the clocks of one treatment from the label as known now.
func freed(entries []ledger.Entry, e ledger.Entry, t *ledger.Treatment, now time.Time) (*Freed, error) {
	at := lastOf(now, lastOf(e.Time, e.Written))
	g, err := ledger.Fold(entries, at)
	if err != nil {
		return nil, err
	}
	loc, err := zoneOf(g.Site)
	if err != nil {
		return nil, err
	}
	day := garden.DayOf(e.Time.In(loc))
	c := &remedy.Case{
		Now: at, Loc: loc, Today: day, Season: day, Site: g.Site, Labels: g.Labels,
		Bed: garden.Bed{ID: e.Bed}, Planting: standsOn(g, e.Bed, garden.PlantingID(t.Planting), day),
	}
	one := garden.Treatment{Entry: e.ID, Bed: e.Bed, Material: garden.MaterialID(t.Material), Start: e.Time}
	if t.End != nil {
		one.End = *t.End
	}
	c.Treatments = []garden.Treatment{one}
	if crop, ok := host.Get(c.Planting.Crop); ok {
		c.Ornamental = crop.Currency == host.Looks
	}
	end := one.End
	if end.IsZero() {
		end = day.At(23, loc).Add(59 * time.Minute)
	}
	k := remedy.ClockOf(c)
	out := &Freed{Enter: unknown, Pick: unknown, Counted: end.In(loc).Format(time.RFC3339)}
	if k.EnterKnown && !k.Enter.IsZero() {
		out.Enter = k.Enter.In(loc).Format(time.RFC3339)
	}
	switch {
	case k.PickKnown && !k.Pick.IsZero():
		out.Pick = k.Pick.In(loc).Format(time.RFC3339)
	case k.PickKnown:
		out.Pick = "" // nothing of it is eaten
	}
	return out, nil
}

// standsOn returns the planting meant, or the one that stands in the bed on the
// day.
func standsOn(g *garden.Garden, bed garden.BedID, id garden.PlantingID, day garden.Day) garden.Planting {
	var out garden.Planting
	for _, p := range g.Plantings {
		switch {
		case p.Bed != bed:
		case p.ID == id:
			return p
		case p.Planted <= day && (p.Cleared == 0 || p.Cleared >= day):
			out = p
		}
	}
	return out
}

// Gaps is what one set of rules on records asks for and a record does not have.
type Gaps struct {
	Rule   string       `json:"rule" doc:"id of the rules"`
	Fields []record.Gap `json:"fields"`
	Origin string       `json:"origin" doc:"where the rules were read, and when"`
}

// gaps returns what is missing in the record of one treatment.
func gaps(entries []ledger.Entry, id garden.EntryID, at time.Time) ([]Gaps, error) {
	records, err := record.Collect(entries, at, record.Codes{})
	if err != nil {
		return nil, err
	}
	out := []Gaps{}
	for _, r := range records {
		if r.Entry != id {
			continue
		}
		rules, _, err := record.Applying(r)
		if err != nil {
			return nil, err
		}
		for _, x := range rules {
			if v := x.Check(r); !v.Complete {
				out = append(out, Gaps{Rule: x.ID, Fields: v.Missing, Origin: v.Origin})
			}
		}
	}
	return out, nil
}
