package remedy

import (
	"math"
	"slices"
	"strconv"
	"time"

	"oidium/garden"
)

// Window is a run of hours with one verdict.
type Window struct {
	From, To time.Time
	Open     bool
	// Checks are the rules that block, each once; of an open window the
	// cautions.
	Checks []Check
	// Enter and Pick say from when the bed may be entered and picked if the
	// treatment ends at To; zero when the label values are unknown.
	Enter, Pick time.Time
}

// Windows returns the coming hours from now on, in order, as runs in which the
// material may and may not be put on, with the reasons. Rules that do not depend
// on the hour are not looked at; see Judge.
func Windows(c *Case, m *Material) []Window {
	l := newLook(c, m)
	var out []Window
	var last []verdict
	for i, h := range c.Hours {
		if h.Time.Add(time.Hour).Sub(c.Now) <= 0 {
			continue
		}
		all := l.judgeHour(i)
		show := pick(all, func(v verdict) bool { return v.blocks() })
		open := len(show) == 0
		if open {
			show = pick(all, func(v verdict) bool { return v.outcome == Caution })
		}
		start, end := h.Time.In(c.loc()), h.Time.Add(time.Hour).In(c.loc())
		if start.Before(c.Now) {
			start = c.Now.In(c.loc())
		}
		if n := len(out); n > 0 && out[n-1].Open == open && out[n-1].To.Equal(start) && slices.EqualFunc(last, show, verdict.same) {
			out[n-1].To = end
			continue
		}
		w := Window{From: start, To: end, Open: open}
		for _, v := range show {
			w.Checks = append(w.Checks, v.check())
		}
		out, last = append(out, w), show
	}
	for i := range out {
		w := &out[i]
		if w.Open && l.label.ReentryHours != nil {
			w.Enter = enterFrom(w.To, *l.label.ReentryHours)
		}
		if w.Open && l.label.HarvestDays != nil && !c.Ornamental {
			w.Pick = pickFrom(w.To, *l.label.HarvestDays, c.loc())
		}
	}
	return out
}

func pick(all []verdict, keep func(verdict) bool) []verdict {
	var out []verdict
	for _, v := range all {
		if keep(v) {
			out = append(out, v)
		}
	}
	return out
}

// weatherChecks sums up the hours of the coming day for Judge: of each rule the
// best that any hour offers, and whether one hour passes all of them.
func (c *look) weatherChecks() []Check {
	var best []verdict
	open := 0
	for i, h := range c.Hours {
		if h.Time.Before(c.Now) || h.Time.Sub(c.Now) >= 24*time.Hour {
			continue
		}
		ks := c.judgeHour(i)
		if !slices.ContainsFunc(ks, verdict.blocks) {
			open++
		}
		if best == nil {
			best = slices.Clone(ks)
			continue
		}
		for j, k := range ks {
			if rank(k.outcome) < rank(best[j].outcome) {
				best[j] = k
			}
		}
	}
	var out []Check
	for _, v := range best {
		out = append(out, v.check())
	}
	src := byTiming
	switch {
	case best == nil:
		return append(out, check(ruleHours, Ask, "no-weather", src))
	case open == 0:
		return append(out, check(ruleHours, Refused, "none", src))
	}
	return append(out, check(ruleHours, OK, "some", src, "hours", strconv.Itoa(open)))
}

func rank(outcome string) int {
	return slices.Index([]string{OK, Caution, Ask, Refused}, outcome)
}

// Spans over which the hour rules look ahead.
var (
	heatSpan    = hours(airPulse.V)
	warningSpan = hours(heatWarningHours.V)
	dryingSpan  = hours(dryingHours.V)
)

func hours(h float64) time.Duration { return time.Duration(h * float64(time.Hour)) }

// peak returns the highest temperature of the span and whether any is missing.
func peak(span []Hour) (top float64, missing bool) {
	top = math.Inf(-1)
	for i := range span {
		if t := span[i].T; math.IsNaN(t) {
			missing = true
		} else if t > top {
			top = t
		}
	}
	return top, missing
}

// roofed tells whether rain and wind do not reach the bed.
func (c *Case) roofed() bool { return c.Bed.Shelter == garden.Tunnel }
