package work

import (
	"fmt"
	"slices"

	"oidium/cite"
	"oidium/garden"
	"oidium/host"
	"oidium/plan"
)

// assume lists what was not stated and was taken as usual.
func (r *Round) assume(g *garden.Garden, plots []*plot) {
	yours := true
	add := func(v cite.Value, used bool) {
		if used {
			r.Assumed = append(r.Assumed, Assumption{What: v.What, Yours: yours, Value: valueOf(v), Source: v.Source, Grade: v.Grade})
		}
	}
	var noValue, noPick, noLast, overhead, cucurbit bool
	for _, p := range plots {
		noValue = noValue || p.planting.ValueM2Day <= 0
		noPick = noPick || p.planting.FirstPick == 0 && p.crop.Currency != host.Looks
		noLast = noLast || p.planting.LastPick == 0
		for _, set := range p.bed.Settings {
			overhead = overhead || set.Water == "overhead"
		}
		cucurbit = cucurbit || len(p.stands) > 1
	}
	add(usualMinutes, g.Site.Minutes <= 0)
	add(usualHands, g.Site.Hands <= 0)
	add(usualWage, g.Site.WageHour <= 0 && len(plots) > 0)
	add(usualValue, noValue)
	add(usualFirst, noPick)
	add(usualSeason, noLast)
	add(usualWater, overhead)
	add(priorXanthii, cucurbit)
	for _, p := range plots {
		name := nameOf(p.bed)
		state := func(what, value string) {
			r.Assumed = append(r.Assumed, Assumption{What: say("assumed.bed", "what", what, "bed", name), Yours: true, Value: value, Source: "assumption", Grade: cite.C})
		}
		if p.planting.Plants <= 0 {
			state(say("assumed.plants"), say("assumed.enough"))
		}
		if p.planting.Resistance == garden.Unknown {
			state(say("assumed.resistance"), say("assumed.susceptible"))
		}
		if p.bed.Shelter == "" {
			state(say("assumed.shelter"), say("assumed.open"))
		}
	}
	if !g.Site.Maritime && r.Weather.Measured == 0 && len(plots) > 0 {
		r.Assumed = append(r.Assumed, Assumption{What: say("assumed.sea"), Yours: true, Value: say("assumed.inland"), Source: "assumption", Grade: cite.C})
	}
	yours = false
	if len(plots) > 0 {
		for _, v := range []cite.Value{leafLarge, leafSmall, colonyCm2, clumping, showing, discrepancy, tailDays} {
			add(v, true)
		}
		add(usualOutput, g.Site.Sprayer.LPerM <= 0)
		for _, v := range plan.Constants() {
			add(v, v.Grade == cite.C && v.Unit != "money/h") // the wage is above
		}
	}
}

// valueOf prints a constant with its unit and range.
func valueOf(v cite.Value) string {
	unit := " " + v.Unit
	if v.Unit == "1" {
		unit = ""
	}
	return fmt.Sprintf("%.6g%s (%.6g to %.6g)", v.V, unit, v.Lo, v.Hi)
}

// finish adds the general cautions and the sources, and leaves no list nil.
func (r *Round) finish() {
	r.Cautions = cautions(r)
	ids := make(map[string]bool)
	for _, j := range slices.Concat(r.Jobs, r.Later) {
		ids[j.Source] = true
		if j.Mix != nil {
			ids[j.Mix.Source] = true
		}
	}
	for _, a := range r.Assumed {
		ids[a.Source] = true
	}
	for _, b := range r.Beds {
		for _, t := range b.Tried {
			for _, c := range t.Refused {
				ids[c.Source] = true
			}
		}
	}
	for _, s := range cite.All() {
		if ids[s.ID] {
			r.Sources = append(r.Sources, s)
		}
	}
	full(&r.Jobs)
	full(&r.Later)
	full(&r.Beds)
	full(&r.Warnings)
	full(&r.Cautions)
	full(&r.Assumed)
	full(&r.Sources)
	for i := range r.Beds {
		b := &r.Beds[i]
		full(&b.Mildews)
		full(&b.Alone)
		full(&b.Planned)
		full(&b.Tried)
	}
}

// full makes a nil list an empty one, which is what the schema promises.
func full[T any](x *[]T) {
	if *x == nil {
		*x = []T{}
	}
}

// cautions are those that hold whatever is done today.
func cautions(r *Round) []string {
	out := []string{
		say("caution.advice"),
	}
	kinds := make(map[string]bool)
	for _, j := range slices.Concat(r.Jobs, r.Later) {
		kinds[j.Kind] = true
	}
	if kinds["treat"] || kinds["enter"] {
		out = append(
			out,
			say("caution.treat"),
			say("caution.pick"),
		)
	}
	if kinds["remove"] {
		out = append(out, say("caution.remove"))
	}
	return out
}
