package remedy

import (
	"time"

	"oidium/garden"
)

// Clock says from when a bed may be entered and picked after its treatments.
type Clock struct {
	Enter, Pick           time.Time // the later of all treatments; zero: no treatment holds it
	EnterKnown, PickKnown bool      // false: a label value is missing, the clock blocks
	Missing               []garden.MaterialID
}

// pickFrom returns the instant from which may be picked: the days of the label
// from the end of the treatment. Where clocks change in between, a day of the
// label counts as 24 hours or as the next same time on the clock, whichever ends
// later, so that neither reading of the label is broken.
func pickFrom(end time.Time, days float64, loc *time.Location) time.Time {
	elapsed := end.Add(time.Duration(days * 24 * float64(time.Hour)))
	whole := int(days)
	rest := time.Duration((days - float64(whole)) * 24 * float64(time.Hour))
	local := end.In(loc)
	y, m, d := local.Date()
	h, mi, s := local.Clock()
	clock := time.Date(y, m, d+whole, h, mi, s, local.Nanosecond(), loc).Add(rest)
	if clock.After(elapsed) {
		return clock
	}
	return elapsed.In(loc)
}

// enterFrom returns the instant from which may be entered.
func enterFrom(end time.Time, hours float64) time.Time {
	return end.Add(time.Duration(hours * float64(time.Hour)))
}

// ClockOf returns the clock of the case's bed: the later of all treatments of
// the planting up to now, counted from the recorded end, or from 23:59 of the
// day where no end was recorded. A label value that has not been entered leaves
// the clock unknown.
func ClockOf(c *Case) Clock {
	k := Clock{EnterKnown: true, PickKnown: true}
	for _, t := range c.Treatments {
		if t.Bed != c.Bed.ID || t.Start.After(c.Now) || garden.DayOf(t.Start.In(c.loc())) < c.season() {
			continue
		}
		l, _, _ := c.label(t.Material)
		end := c.endOf(t)
		if l.HarvestDays == nil || l.ReentryHours == nil {
			k.Missing = append(k.Missing, t.Material)
		}
		switch {
		case l.HarvestDays == nil:
			k.PickKnown = k.PickKnown && c.Ornamental
		default:
			if p := pickFrom(end, *l.HarvestDays, c.loc()); p.After(k.Pick) {
				k.Pick = p
			}
		}
		switch {
		case l.ReentryHours == nil:
			k.EnterKnown = false
		default:
			if e := enterFrom(end, *l.ReentryHours).In(c.loc()); e.After(k.Enter) {
				k.Enter = e
			}
		}
	}
	return k
}
