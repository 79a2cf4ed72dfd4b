package remedy

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"oidium/garden"

	"pgregory.net/rapid"
)

// spans prints windows as "06-10 open, 10-18 heat" in local hours.
func spans(ws []Window) string {
	var out []string
	for _, w := range ws {
		why := "open"
		if !w.Open {
			var rules []string
			for _, k := range w.Checks {
				rules = append(rules, k.Rule)
			}
			why = strings.Join(rules, "+")
		}
		out = append(out, fmt.Sprintf("%s-%s %s", w.From.Format("02.15"), w.To.Format("02.15"), why))
	}
	return strings.Join(out, ", ")
}

// Worked by hand. Base: 14 June 2000, 06:00 local time at 52 N 5 E, 24 fair
// hours with 22 °C, 60 %, 2 m/s; sunset 22:04, nobody works from 22 to 5.
func TestWindowsByHand(t *testing.T) {
	for _, k := range []struct {
		what     string
		material garden.MaterialID
		edit     func(*Case)
		want     string
	}{
		{"a fair day", "khco3", func(*Case) {}, "14.06-14.22 open, 14.22-15.05 worker, 15.05-15.06 open"},
		{
			"a shower at 16: four dry hours before it", "khco3",
			func(c *Case) { c.Hours[10].Rain = 2 },
			"14.06-14.13 open, 14.13-14.17 drying, 14.17-14.22 open, 14.22-15.05 worker, 15.05-15.06 open",
		},
		{
			"dew until 8, wind from 11 to 19", "oil_mineral",
			func(c *Case) {
				eachHour(c, func(i int, h *Hour) {
					h.Wet = i < 2
					if i >= 5 && i < 13 {
						h.Wind = 3
					}
				})
			},
			"14.06-14.08 wet-leaf, 14.08-14.11 open, 14.11-14.19 wind, 14.19-14.22 open, 14.22-15.05 worker, 15.05-15.06 open",
		},
		{
			"33 °C from 14 to 16: sulfur from 16 on", "sulfur_wg",
			func(c *Case) { c.Hours[8].T, c.Hours[9].T = 33, 33 },
			"14.06-14.16 heat, 14.16-14.22 open, 14.22-15.05 worker, 15.05-15.06 open",
		},
		{
			"33 °C tomorrow at 14: no sulfur today after 14", "sulfur_wg",
			func(c *Case) { c.Hours[32].T = 33 },
			"14.06-14.15 open, 14.15-14.22 heat, 14.22-15.05 heat+worker, 15.05-15.06 heat",
		},
		{
			"33 °C from 14 to 16, a salt: only those hours", "khco3",
			func(c *Case) { c.Hours[8].T, c.Hours[9].T = 33, 33 },
			"14.06-14.14 open, 14.14-14.16 heat, 14.16-14.22 open, 14.22-15.05 worker, 15.05-15.06 open",
		},
		{
			"in flower: from the first whole hour after sunset to midnight", "khco3",
			func(c *Case) { c.InFlower = true },
			"14.06-14.23 bees, 14.23-15.00 open, 15.00-15.05 bees+worker, 15.05-15.06 bees",
		},
		{
			"in flower in September, sunset 19:30", "khco3",
			func(c *Case) {
				c.InFlower = true
				shift(c, 92)
			},
			"14.06-14.20 bees, 14.20-15.00 open, 15.00-15.05 bees+worker, 15.05-15.06 bees",
		},
		{
			"tunnel: rain and wind do not reach it", "khco3",
			func(c *Case) {
				c.Bed.Shelter = garden.Tunnel
				eachHour(c, func(_ int, h *Hour) { h.Rain, h.Wind = 3, 8 })
			},
			"14.06-14.22 open, 14.22-15.05 worker, 15.05-15.06 open",
		},
		{
			"silicon through the root: weather does not matter", "ksi_root",
			func(c *Case) { eachHour(c, func(_ int, h *Hour) { h.Rain, h.Wind, h.T = 3, 8, 39 }) },
			"14.06-14.22 open, 14.22-15.05 worker, 15.05-15.06 open",
		},
		{
			"yesterday's material keeps the bed shut until 12", "khco3",
			func(c *Case) {
				c.Treatments = append(c.Treatments, garden.Treatment{Bed: "a1", Material: "copper", Start: c.Now.Add(-20 * time.Hour), End: c.Now.Add(-18 * time.Hour)})
				label(c, "copper", func(l *garden.Label) { l.ReentryHours = p(24.0) })
			},
			"14.06-14.12 re-entry, 14.12-14.22 open, 14.22-15.05 worker, 15.05-15.06 open",
		},
	} {
		c := fair()
		k.edit(c)
		// Later hours stay for the rules that look ahead; only the first day is shown.
		var first []Window
		for _, w := range Windows(c, get(t, k.material)) {
			end := c.Now.Add(24 * time.Hour)
			if !w.From.Before(end) {
				break
			}
			if w.To.After(end) {
				w.To = end.In(zone)
			}
			first = append(first, w)
		}
		if got := spans(first); got != k.want {
			t.Errorf("%s:\n got %s\nwant %s", k.what, got, k.want)
		}
	}
}

// shift moves the case by days.
func shift(c *Case, days int) {
	c.Now = c.Now.AddDate(0, 0, days)
	c.Today += garden.Day(days)
	for i := range c.Hours {
		c.Hours[i].Time = c.Hours[i].Time.AddDate(0, 0, days)
	}
}

func TestWindowSaysWhenToEnterAndPick(t *testing.T) {
	c := fair()
	label(c, "khco3", func(l *garden.Label) { l.ReentryHours, l.HarvestDays = p(4.0), p(1.0) })
	w := Windows(c, get(t, "khco3"))[0]
	if got := w.Enter.In(zone).Format(clockLayout); got != "2000-06-15 02:00" {
		t.Errorf("enter from %s", got)
	}
	if got := w.Pick.In(zone).Format(clockLayout); got != "2000-06-15 22:00" {
		t.Errorf("pick from %s", got)
	}
	label(c, "khco3", func(l *garden.Label) { l.ReentryHours, l.HarvestDays = nil, nil })
	if w := Windows(c, get(t, "khco3"))[0]; !w.Enter.IsZero() || !w.Pick.IsZero() {
		t.Error("a clock runs on an unknown label")
	}
}

// Laws: windows cover all hours from now on without gap or overlap; an open
// window holds no hour that a single rule forbids; a closed one says why.
func TestWindowLaws(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := fair()
		c.InFlower = rapid.Bool().Draw(rt, "flower")
		for i := range c.Hours {
			c.Hours[i].T = rapid.Float64Range(0, 38).Draw(rt, "t")
			c.Hours[i].RH = rapid.Float64Range(20, 100).Draw(rt, "rh")
			c.Hours[i].Wind = rapid.Float64Range(0, 5).Draw(rt, "wind")
			c.Hours[i].Rain = max(0, rapid.Float64Range(-5, 2).Draw(rt, "rain"))
			c.Hours[i].Wet = rapid.Bool().Draw(rt, "wet")
		}
		m := rapid.SampledFrom(Materials()).Draw(rt, "material")
		at := c.Now
		l := newLook(c, m)
		for _, w := range Windows(c, m) {
			if !w.From.Equal(at) || !w.To.After(w.From) {
				rt.Fatalf("window from %v to %v after %v", w.From, w.To, at)
			}
			at = w.To
			if !w.Open && len(w.Checks) == 0 {
				rt.Fatal("closed without a reason")
			}
			for i, h := range c.Hours {
				if h.Time.Before(w.From) || !h.Time.Before(w.To) {
					continue
				}
				for _, v := range l.judgeHour(i) {
					if w.Open && v.blocks() {
						rt.Fatalf("open at %v against %s", h.Time, v.rule)
					}
				}
			}
		}
		if want := c.Hours[len(c.Hours)-1].Time.Add(time.Hour); !at.Equal(want) {
			rt.Fatalf("windows end at %v, want %v", at, want)
		}
	})
}
