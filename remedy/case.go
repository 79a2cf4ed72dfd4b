package remedy

import (
	"slices"
	"time"

	"oidium/cite"
	"oidium/garden"
)

// Hour is one hour of weather, measured or forecast, at the bed.
type Hour struct {
	Time       time.Time // start of the hour
	T          float64   // °C
	RH         float64   // %
	Wind       float64   // m/s at 2 m
	Rain       float64   // mm in the hour
	Wet        bool      // leaves are wet
	RainChance float64   // 0 to 1, 0 when the forecast gives none
}

// Case is a bed at an instant, with all that the rules look at. A field left at
// its zero value is unknown; a rule that needs it asks for it.
type Case struct {
	Now      time.Time
	Loc      *time.Location // of the garden; nil: the zone of Now
	Today    garden.Day
	Site     garden.Site
	Bed      garden.Bed
	Planting garden.Planting

	Family     string // "cucurbit", "grape", "strawberry", "rose", "solanum" ...
	Ornamental bool   // nothing of it is eaten
	LeafEaten  bool   // the leaf is what is eaten: lettuce, herbs
	InFlower   bool
	Stage      string // growth stage as the label names stages, "" unknown
	Stressed   bool   // short of water or otherwise suffering

	Hours []Hour // of the next three days or more, in order; may begin before Now

	Covered      float64 // share of leaf area mildewed, 0 to 1
	CoveredKnown bool
	LeafArea     float64 // one-sided, m² in the bed; 0 unknown
	CropKg       float64 // fruit on the plants of the bed, kg; 0 unknown
	Divided      bool    // grape on a divided canopy

	Treatments []garden.Treatment // of the whole garden, in order of time
	Removals   []garden.Removal
	Plantings  []garden.Planting // of the whole garden
	Beds       []garden.Bed      // of the whole garden
	Labels     []garden.Label
	Stock      []garden.Stock

	Diagnosis    string   // "sure", "likely", "cannot tell", "" nobody has said
	OtherDisease []string // "downy mildew", "late blight", "Botrytis" ...
	PickNext     garden.Day
	Interlock    bool // stated: lamps of UV cut off when somebody comes near

	// Season is the day on which the counting of uses and removals begins, 0: the
	// planting, or a year ago for what stands longer.
	Season garden.Day

	by garden.Role // who hands the advice on, see HandedTo
}

// Check is one rule looked at.
type Check struct {
	Rule    string     `json:"rule" doc:"stable word that names the rule"`
	Outcome string     `json:"outcome" enum:"ok,caution,ask,refused" doc:"ask means that something unknown must be entered first; ask and refused block"`
	Reason  string     `json:"reason" doc:"one sentence"`
	Source  string     `json:"source" doc:"id in the register of sources"`
	Grade   cite.Grade `json:"grade" doc:"how the limit was come by"`
}

// The outcomes of a rule.
const (
	OK      = "ok"
	Caution = "caution"
	Ask     = "ask"
	Refused = "refused"
)

func (c *Case) loc() *time.Location {
	if c.Loc != nil {
		return c.Loc
	}
	return c.Now.Location()
}

func (c *Case) today() garden.Day {
	if c.Today != 0 {
		return c.Today
	}
	return garden.DayOf(c.Now.In(c.loc()))
}

// season returns the day from which uses and removals count.
func (c *Case) season() garden.Day {
	if c.Season != 0 {
		return c.Season
	}
	return max(c.Planting.Planted, c.today()-365)
}

// endOf returns when a treatment ended: 23:59 of the day it began on when no
// end was recorded.
func (c *Case) endOf(t garden.Treatment) time.Time { return endOf(t, c.loc()) }

func endOf(t garden.Treatment, loc *time.Location) time.Time {
	if !t.End.IsZero() {
		return t.End
	}
	y, m, d := t.Start.In(loc).Date()
	return time.Date(y, m, d, 23, 59, 0, 0, loc)
}

// past yields the treatments of the bed up to now, test leaves left out.
func (c *Case) past() []garden.Treatment {
	var out []garden.Treatment
	for _, t := range c.Treatments {
		if t.Bed == c.Bed.ID && !t.Test && !t.Start.After(c.Now) {
			out = append(out, t)
		}
	}
	slices.SortStableFunc(out, func(a, b garden.Treatment) int { return a.Start.Compare(b.Start) })
	return out
}

// daysSince returns the whole days from the date of the treatment to today.
func (c *Case) daysSince(t garden.Treatment) int {
	return int(c.today() - garden.DayOf(t.Start.In(c.loc())))
}

// label returns the label last read for the material that covers the crop.
// other tells that there are labels for the material, for other crops only.
func (c *Case) label(m garden.MaterialID) (l garden.Label, found, other bool) {
	for i := range c.Labels {
		x := &c.Labels[i]
		if x.Material != m || x.Read.After(c.Now) {
			continue
		}
		if x.Crop != "" && x.Crop != c.Planting.Crop {
			other = true
			continue
		}
		// A label for the crop by name counts before one for all crops; of two
		// alike the later read.
		if !found || (x.Crop != "") != (l.Crop != "") && x.Crop != "" ||
			(x.Crop != "") == (l.Crop != "") && !x.Read.Before(l.Read) {
			l, found = *x, true
		}
	}
	return l, found, other
}

// ahead returns the hours from the one with index i on, for the given time.
func (c *Case) ahead(i int, span time.Duration) []Hour {
	to := c.Hours[i].Time.Add(span)
	j := i
	for j < len(c.Hours) && c.Hours[j].Time.Before(to) {
		j++
	}
	return c.Hours[i:j]
}

// isBerry tells whether the lower heat ceiling holds.
func (c *Case) isBerry() bool {
	return slices.Contains([]string{"strawberry", "raspberry", "blackberry", "caneberry"}, string(c.Planting.Crop)) ||
		c.Family == "strawberry" || c.Family == "caneberry"
}

// sulfurShy tells whether the crop is known to be sensitive to sulfur.
func (c *Case) sulfurShy() bool {
	return slices.Contains([]string{"gooseberry", "currant", "blackcurrant", "raspberry"}, string(c.Planting.Crop))
}
