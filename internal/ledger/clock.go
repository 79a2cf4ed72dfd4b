package ledger

import (
	"fmt"
	"math"
	"time"

	"oidium/garden"
)

// slack is how far the clock of a device may be off before its entries are
// flagged.
const slack = 5 * time.Minute

// times flags what a clock that is wrong would leave: an entry of something
// done that speaks of a time after it was written, and an entry of a device
// whose clock was found to be off when it was last compared.
func (f *folder) times(e Entry) {
	if done(e.Body) && e.Time.Sub(e.Written) > slack {
		f.warn("before-it-happened", e.Bed, "the %s %s speaks of %s but was written before, at %s: is the clock of the device right?",
			e.Kind, e.ID, e.Time.Format(time.RFC3339), e.Written.Format(time.RFC3339))
	}
	var last *Clock
	for _, c := range f.clocks[e.Device] {
		if last == nil || !c.Time.After(e.Written) {
			last = c.Body.(*Clock)
		}
	}
	if e.Device != "" && last != nil && math.Abs(last.AheadS) > slack.Seconds() {
		way := "ahead"
		if last.AheadS < 0 {
			way = "behind"
		}
		f.warn("device-clock", e.Bed, "the %s %s was written on %q, whose clock was %.0f minutes %s", e.Kind, e.ID, e.Device, math.Abs(last.AheadS)/60, way)
	}
}

// done tells whether a body speaks of something that cannot be written down
// before it happened.
func done(b Body) bool {
	switch b.(type) {
	case *Tally, *Severity, *EyeCheck, *Look, *Diagnosis, *Removal, *Treatment, *CheckLeaves, *Climate, *Harvest,
		*HeapFill, *HeapTurn, *Reading, *Weather, *Debris:
		return true
	}
	return false
}

// Clocks returns a warning for each entry that was written, or speaks of
// something done, more than five minutes after now: the clock of its device is
// ahead. It is asked when entries arrive; now is the clock of the receiver.
func Clocks(entries []Entry, now time.Time) []garden.Warning {
	var out []garden.Warning
	for _, e := range entries {
		if e.Written.Sub(now) > slack || done(e.Body) && e.Time.Sub(now) > slack {
			out = append(out, garden.Warning{
				Code: "device-clock", Bed: e.Bed,
				Text: fmt.Sprintf("the %s %s is from the future: written %s, here it is %s; is the clock of device %q right?",
					e.Kind, e.ID, e.Written.Format(time.RFC3339), now.Format(time.RFC3339), e.Device),
			})
		}
	}
	return out
}
