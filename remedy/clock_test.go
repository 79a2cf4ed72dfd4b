package remedy

import (
	"testing"
	"time"

	"oidium/garden"
)

// Worked by hand from the rules of the clock changes of the European Union and
// the USA (last Sunday of March and October; second Sunday of March, first of
// November) and of New South Wales.
func TestPickFromToTheMinute(t *testing.T) {
	for _, k := range []struct {
		what, zone, end, want string
		days                  float64
	}{
		{"no change", "Europe/Amsterdam", "2000-06-13 10:15", "2000-06-16 10:15", 3},
		{"clock goes forward: 72 hours end an hour later on the clock", "Europe/Amsterdam", "2000-03-25 10:15", "2000-03-28 11:15", 3},
		{"clock goes back: the same time on the clock is 73 hours on", "Europe/Amsterdam", "2000-10-28 10:15", "2000-10-31 10:15", 3},
		{"New York, forward", "America/New_York", "2024-03-09 18:30", "2024-03-10 19:30", 1},
		{"New York, back", "America/New_York", "2024-11-02 18:30", "2024-11-03 18:30", 1},
		{"Sydney, forward in October", "Australia/Sydney", "2024-10-05 07:00", "2024-10-12 08:00", 7},
		{"half a day", "Europe/Amsterdam", "2000-06-13 10:15", "2000-06-13 22:15", 0.5},
		{"0 days", "Europe/Amsterdam", "2000-06-13 10:15", "2000-06-13 10:15", 0},
		{"over the end of February", "Europe/Amsterdam", "2024-02-27 08:01", "2024-03-01 08:01", 3},
	} {
		loc, err := time.LoadLocation(k.zone)
		if err != nil {
			t.Fatal(err)
		}
		end, err := time.ParseInLocation(clockLayout, k.end, loc)
		if err != nil {
			t.Fatal(err)
		}
		got := pickFrom(end, k.days, loc)
		if got.In(loc).Format(clockLayout) != k.want {
			t.Errorf("%s: %s, want %s", k.what, got.In(loc).Format(clockLayout), k.want)
		}
		if hours := got.Sub(end).Hours(); hours < 24*k.days-1e-9 {
			t.Errorf("%s: after %v hours already", k.what, hours)
		}
	}
}

func TestClockOf(t *testing.T) {
	c := fair()
	c.Treatments = nil
	if k := ClockOf(c); !k.Pick.IsZero() || !k.PickKnown || !k.EnterKnown {
		t.Errorf("a clock without treatments: %+v", k)
	}
	label(c, "khco3", func(l *garden.Label) { l.HarvestDays, l.ReentryHours = p(1.0), p(12.0) })
	start := time.Date(2000, 6, 13, 9, 0, 0, 0, zone)
	// No end recorded: 23:59 of the day counts.
	c.Treatments = []garden.Treatment{{Bed: "a1", Material: "khco3", Start: start}}
	k := ClockOf(c)
	if k.Pick.Format(clockLayout) != "2000-06-14 23:59" || k.Enter.Format(clockLayout) != "2000-06-14 11:59" {
		t.Errorf("no end recorded: pick %v, enter %v", k.Pick, k.Enter)
	}
	// The end recorded in another zone is the same instant.
	c.Treatments[0].End = time.Date(2000, 6, 13, 9, 30, 0, 0, time.UTC)
	if k := ClockOf(c); k.Pick.Format(clockLayout) != "2000-06-14 11:30" {
		t.Errorf("end in another zone: pick %v", k.Pick)
	}
	// The later of two holds; a test leaf counts.
	label(c, "sulfur_wg", func(l *garden.Label) { l.HarvestDays, l.ReentryHours = p(5.0), p(24.0) })
	c.Treatments = append(c.Treatments, garden.Treatment{Bed: "a1", Material: "sulfur_wg", Test: true, Start: start.AddDate(0, 0, -1), End: start.AddDate(0, 0, -1)})
	if k := ClockOf(c); k.Pick.Format(clockLayout) != "2000-06-17 09:00" {
		t.Errorf("two treatments: pick %v", k.Pick)
	}
	// An unknown label value leaves the clock unknown and says which.
	label(c, "sulfur_wg", func(l *garden.Label) { l.HarvestDays = nil })
	if k := ClockOf(c); k.PickKnown || len(k.Missing) != 1 || k.Missing[0] != "sulfur_wg" {
		t.Errorf("unknown days to harvest: %+v", k)
	}
	// Treatments to come do not count.
	c.Treatments = []garden.Treatment{{Bed: "a1", Material: "khco3", Start: c.Now.Add(time.Minute)}}
	if k := ClockOf(c); !k.Pick.IsZero() {
		t.Errorf("a treatment to come holds the clock: %+v", k)
	}
}
