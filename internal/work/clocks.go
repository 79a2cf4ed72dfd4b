package work

import (
	"fmt"
	"time"

	"oidium/garden"
	"oidium/host"
	"oidium/internal/ledger"
	"oidium/remedy"
)

const clocksVersion = "oidium-clock-1"

// Clocks say of beds from when they may be entered and picked.
type Clocks struct {
	Version string     `json:"version" enum:"oidium-clock-1" doc:"shape of this document"`
	AsOf    string     `json:"as_of" format:"date-time" doc:"treatments entered later do not count"`
	Garden  Place      `json:"garden"`
	Beds    []BedClock `json:"beds" doc:"in walking order"`
	Grounds
}

// BedClock is the clock of one bed: the later of all treatments counts.
type BedClock struct {
	Bed       garden.BedID `json:"bed"`
	BedName   string       `json:"bed_name"`
	Crop      string       `json:"crop,omitempty"`
	Enter     string       `json:"may_be_entered_from" doc:"an instant to the minute; now: nothing stands in the way; unknown: a label value is missing, nobody goes in"`
	Pick      string       `json:"may_be_picked_from" doc:"an instant; now; unknown: nothing is picked; not-eaten"`
	Words     []string     `json:"words"`
	Counted   []Ended      `json:"counted" doc:"treatments that were counted"`
	MissingOf []string     `json:"missing_labels" doc:"materials whose label values were not entered"`
}

// Ended is one treatment that was counted.
type Ended struct {
	Material     string   `json:"material"`
	Name         string   `json:"material_name"`
	End          string   `json:"end" format:"date-time"`
	EndStated    bool     `json:"end_stated" doc:"false: no end was entered, 23:59 of its day counts"`
	HarvestDays  *float64 `json:"harvest_days,omitempty" doc:"from the label; absent: unknown"`
	ReentryHours *float64 `json:"reentry_hours,omitempty"`
}

// Words in place of an instant: it is past, or a label value is missing.
const (
	rightNow = "now"
	notKnown = "unknown"
)

// replanted is how many days before a planting the treatments of its bed still
// count: whoever replants a treated bed goes into it; numerical.
const replanted = 14

// ClockAsk says of which bed and for which instant the clocks are asked.
type ClockAsk struct {
	Bed garden.BedID // "" all
	Day garden.Day   // 06:00 there, unless Now or At say otherwise
	Now time.Time    // the zero time: 06:00 of the day
	At  string       // as typed, such as 2000-06-12T21:00, in the zone of the garden or with one of its own; "" Now
}

// Clocking returns the clocks of beds at an instant. Counted are the treatments
// entered by then.
func Clocking(entries []ledger.Entry, ask ClockAsk) (*Clocks, error) {
	loc, asOf, err := instant(entries, ask.Day)
	if err != nil {
		return nil, err
	}
	bed := ask.Bed
	switch {
	case ask.At != "":
		if asOf, err = typedInstant(ask.At, loc); err != nil {
			return nil, err
		}
	case !ask.Now.IsZero():
		asOf = ask.Now.In(loc)
	}
	g, err := ledger.Fold(entries, asOf)
	if err != nil {
		return nil, err
	}
	sc := &scene{opt: Options{Day: garden.DayOf(asOf)}, loc: loc, asOf: asOf, g: g}
	out := &Clocks{Version: clocksVersion, AsOf: asOf.Format(time.RFC3339), Garden: placeOf(g, loc)}
	found := false
	for _, b := range g.Beds {
		if bed == "" || b.ID == bed {
			found = true
			out.Beds = append(out.Beds, sc.clockOf(b))
		}
	}
	if !found {
		return nil, noSuchBed(g, bed)
	}
	out.mind(phrase("caution.label"), phrase("caution.clock"))
	complete(out, &out.Sources)
	return out, nil
}

// typedInstant reads a date and time in a zone, or with a zone of its own.
func typedInstant(text string, loc *time.Location) (time.Time, error) {
	if t, err := time.Parse(time.RFC3339, text); err == nil {
		return t.In(loc), nil
	}
	for _, layout := range []string{"2006-01-02T15:04", "2006-01-02 15:04"} {
		if t, err := time.ParseInLocation(layout, text, loc); err == nil {
			return t, nil
		}
	}
	return time.Time{}, fmt.Errorf("%q is no time; write it as 2000-06-12T21:00", text)
}

func (sc *scene) clockOf(b garden.Bed) BedClock {
	c := sc.bareCase(b, Facts{})
	c.Planting = onBed(sc.g, b.ID, sc.opt.Day)
	if crop, ok := host.Get(c.Planting.Crop); ok {
		c.Ornamental = crop.Currency == host.Looks
	}
	c.Season = min(max(c.Planting.Planted, sc.opt.Day-365), sc.opt.Day-replanted)
	k := remedy.ClockOf(c)
	out := BedClock{Bed: b.ID, BedName: nameOf(b), Crop: string(c.Planting.Crop), Enter: rightNow, Pick: rightNow}
	for _, t := range sc.g.Treatments {
		if t.Bed != b.ID || garden.DayOf(t.Start.In(sc.loc)) < c.Season {
			continue
		}
		e := Ended{Material: string(t.Material), Name: materialNames([]garden.MaterialID{t.Material}), EndStated: !t.End.IsZero()}
		end := t.End
		if end.IsZero() {
			end = garden.DayOf(t.Start.In(sc.loc)).At(23, sc.loc).Add(59 * time.Minute)
		}
		e.End = end.In(sc.loc).Format(time.RFC3339)
		if l := labelFor(sc.g, t.Material, c.Planting.Crop); l != nil {
			e.HarvestDays, e.ReentryHours = l.HarvestDays, l.ReentryHours
		}
		out.Counted = append(out.Counted, e)
	}
	switch {
	case !k.EnterKnown:
		out.Enter = notKnown
		out.Words = append(out.Words, phrase("clock.enter-unknown", "materials", materialNames(k.Missing)))
	case k.Enter.After(sc.asOf):
		out.Enter = k.Enter.In(sc.loc).Format(time.RFC3339)
		out.Words = append(out.Words, phrase("clock.enter", "when", k.Enter.In(sc.loc).Format(clockLayout)))
	default:
		out.Words = append(out.Words, phrase("clock.enter-now"))
	}
	switch {
	case c.Ornamental:
		out.Pick = "not-eaten"
		out.Words = append(out.Words, phrase("clock.not-eaten"))
	case c.Planting.Crop == "":
		out.Words = append(out.Words, phrase("clock.empty"))
	case !k.PickKnown:
		out.Pick = notKnown
		out.Words = append(out.Words, phrase("clock.pick-unknown", "materials", materialNames(k.Missing)))
	case k.Pick.After(sc.asOf):
		out.Pick = k.Pick.In(sc.loc).Format(time.RFC3339)
		out.Words = append(out.Words, phrase("clock.pick", "when", k.Pick.In(sc.loc).Format(clockLayout)))
	default:
		out.Words = append(out.Words, phrase("clock.pick-now"))
	}
	for _, id := range k.Missing {
		out.MissingOf = append(out.MissingOf, string(id))
	}
	return out
}

// onBed returns the planting in a bed on a day, the zero value for none.
func onBed(g *garden.Garden, bed garden.BedID, day garden.Day) garden.Planting {
	var out garden.Planting
	for _, p := range g.Plantings {
		if p.Bed == bed && p.Planted <= day && (p.Cleared == 0 || p.Cleared > day) {
			out = p
		}
	}
	return out
}

// labelFor returns the label last read for a material that covers the crop, nil
// when there is none: one for the crop by name before one for all crops.
func labelFor(g *garden.Garden, m garden.MaterialID, crop garden.CropID) *garden.Label {
	var out *garden.Label
	for i := range g.Labels {
		l := &g.Labels[i]
		if l.Material != m || l.Crop != "" && l.Crop != crop {
			continue
		}
		if out == nil || (l.Crop != "") == (out.Crop != "") || l.Crop != "" {
			out = l
		}
	}
	return out
}
