package work

import (
	"fmt"
	"time"

	"oidium/garden"
	"oidium/host"
	"oidium/internal/ledger"
	"oidium/remedy"
)

// doubts says what speaks against an entry that was just written: a strength far
// above the label's, a treatment too soon after the last, somebody in a bed that
// nobody may enter yet, produce picked before its day. The entry is kept all the
// same: it may be what happened.
func doubts(g *garden.Garden, loc *time.Location, e ledger.Entry) []garden.Warning {
	var out []garden.Warning
	warn := func(code, text string) {
		out = append(out, garden.Warning{Code: code, Bed: e.Bed, Text: text})
	}
	if e.Bed == "" {
		return nil
	}
	day := garden.DayOf(e.Time.In(loc))
	stands := standsOn(g, e.Bed, "", day)
	if t, ok := e.Body.(*ledger.Treatment); ok {
		if l, ok := labelOf(g.Labels, garden.MaterialID(t.Material), stands.Crop); ok {
			doubtStrength(t, l, warn)
			doubtInterval(g, loc, e, t, l, warn)
		}
	}
	c := &remedy.Case{
		Now: e.Time, Loc: loc, Today: day, Site: g.Site, Labels: g.Labels,
		Bed: garden.Bed{ID: e.Bed}, Planting: stands,
	}
	if crop, ok := host.Get(stands.Crop); ok {
		c.Ornamental = crop.Currency == host.Looks
	}
	for _, t := range g.Treatments {
		if t.Bed == e.Bed && t.Entry != e.ID && t.Start.Before(e.Time) {
			c.Treatments = append(c.Treatments, t)
		}
	}
	if len(c.Treatments) == 0 {
		return out
	}
	k := remedy.ClockOf(c)
	switch e.Body.(type) {
	case *ledger.Tally, *ledger.Severity, *ledger.Removal, *ledger.Treatment, *ledger.Harvest:
		if k.EnterKnown && k.Enter.After(e.Time) {
			warn("before-re-entry", tell("doubt.enter", "when", k.Enter.In(loc).Format("2006-01-02 15:04")))
		}
	}
	if _, ok := e.Body.(*ledger.Harvest); ok && !c.Ornamental {
		switch {
		case !k.PickKnown:
			warn("before-harvest", tell("doubt.pick-unknown"))
		case k.Pick.After(e.Time):
			warn("before-harvest", tell("doubt.pick", "when", k.Pick.In(loc).Format("2006-01-02 15:04")))
		}
	}
	return out
}

// labelOf returns the label last read for a material on a crop.
func labelOf(labels []garden.Label, id garden.MaterialID, crop garden.CropID) (out garden.Label, ok bool) {
	for _, l := range labels {
		if l.Material == id && (l.Crop == "" || l.Crop == crop) && (!ok || !l.Read.Before(out.Read)) {
			out, ok = l, true
		}
	}
	return out, ok
}

func doubtStrength(t *ledger.Treatment, l garden.Label, warn func(code, text string)) {
	if t.Litres == nil || t.Grams == nil || *t.Litres <= 0 || l.RateHighGL == nil || *l.RateHighGL <= 0 {
		return
	}
	strength := *t.Grams / *t.Litres
	if times := strength / *l.RateHighGL; times > 1+slipShare.V {
		warn("above-label", tell("doubt.strength", "strength", fmt.Sprintf("%.3g", strength), "rate", fmt.Sprintf("%.3g", *l.RateHighGL), "times", fmt.Sprintf("%.2g", times)))
	}
}

func doubtInterval(g *garden.Garden, loc *time.Location, e ledger.Entry, t *ledger.Treatment, l garden.Label, warn func(code, text string)) {
	if l.IntervalDays == nil {
		return
	}
	day := garden.DayOf(e.Time.In(loc))
	for _, x := range g.Treatments {
		if x.Bed != e.Bed || x.Entry == e.ID || x.Test || x.Material != garden.MaterialID(t.Material) || x.Start.After(e.Time) {
			continue
		}
		if days := int(day - garden.DayOf(x.Start.In(loc))); float64(days) < *l.IntervalDays {
			warn("within-interval", tell("doubt.interval", "days", days, "least", fmt.Sprintf("%g", *l.IntervalDays)))
			return
		}
	}
}
