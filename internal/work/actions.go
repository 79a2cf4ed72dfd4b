package work

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"oidium/belief"
	"oidium/cite"
	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/remedy"
	"oidium/weather"
)

const actionsVersion = "oidium-actions-1"

// Acts are what can be done on a bed other than putting a material on: water,
// light, heat, air, hygiene.
type Acts struct {
	Version string `json:"version" enum:"oidium-actions-1" doc:"shape of this document"`
	About
	Acts []Act `json:"actions" doc:"in the order of the table"`
	Grounds
}

// Act is one action on one bed today.
type Act struct {
	Action   string     `json:"action" doc:"id in the program"`
	Name     string     `json:"name"`
	Verdict  string     `json:"verdict" enum:"allowed,ask,refused,season" doc:"season: works on a whole season or the next, it is no act of today"`
	Reason   string     `json:"reason"`
	On       string     `json:"measured_on" doc:"what fell in the trials"`
	Fell     Prior      `json:"fell" doc:"the share by which that fell, and its spread from trial to trial"`
	Dose     string     `json:"dose" doc:"what makes one action"`
	Days     int        `json:"days" doc:"that one action lasts"`
	Stops    [2]float64 `json:"stops" doc:"share of new infections stopped each of these days, upper and lower face"`
	Kills    [2]float64 `json:"kills" doc:"share of standing colonies killed, upper and lower face"`
	Comment  string     `json:"comment,omitempty"`
	Checks   []Check    `json:"checks"`
	Cautions []string   `json:"cautions"`
	Source   string     `json:"source"`
	Grade    cite.Grade `json:"grade"`
}

// Acting returns the actions for a bed, or the one with the given id.
func Acting(ctx context.Context, entries []ledger.Entry, opt Options, bed garden.BedID, action string, f Facts) (*Acts, error) {
	list := remedy.Actions()
	if action != "" {
		i := slices.IndexFunc(list, func(a *remedy.Action) bool { return a.ID == action })
		if i < 0 {
			var have []string
			for _, a := range list {
				have = append(have, a.ID)
			}
			return nil, fmt.Errorf("there is no action %q; there are %s", action, strings.Join(have, ", "))
		}
		list = list[i : i+1]
	}
	sc, err := setScene(ctx, entries, opt)
	if err != nil {
		return nil, err
	}
	p, err := sc.plot(bed)
	if err != nil {
		return nil, err
	}
	out := &Acts{Version: actionsVersion, About: sc.about(p)}
	for _, a := range list {
		out.Acts = append(out.Acts, sc.act(p, a, f))
	}
	out.mind(phrase("caution.label"), say("caution.advice"))
	out.Warnings = append(out.Warnings, sc.s.warnings...)
	complete(out, &out.Sources)
	return out, nil
}

func (sc *scene) act(p *plot, a *remedy.Action, f Facts) Act {
	k := sc.caseOf(p, f)
	var kill *[garden.Faces]float64
	x := Act{
		Action: a.ID, Name: a.Name, On: a.On, Fell: Prior{round3(a.Effect.V), round3(a.SD)}, Dose: a.Dose,
		Source: a.Effect.Source, Grade: a.Grade, Cautions: remedy.CautionsOf(a),
	}
	if a.ID == "heat_close" && p.bed.Shelter == garden.Tunnel {
		shut := sc.shut(p)
		k.Hours = sc.s.hoursAhead(shut)
		peak := sc.peak(shut)
		x.Comment = phrase("act.closed", "mid", math.Round(peak.Mid), "low", math.Round(peak.Low), "high", math.Round(peak.High))
		kill = sc.killed(shut, a)
	}
	checks := remedy.JudgeAction(k, a)
	if a.ID == "leaf_removal" {
		x.Comment = phrase("act.leaves", "bed", p.bed.ID)
		for _, c := range remedy.RemovalBudget(k).Checks {
			if c.Rule == "leaf-age" && c.Outcome == remedy.Refused {
				c.Outcome = remedy.Caution // it refuses some leaves, not the work
			}
			checks = append(checks, c)
		}
	}
	for _, c := range checks {
		x.Checks = append(x.Checks, Check(c))
	}
	effects := a.Effects(p.bed.ID, sc.opt.Day, k.Hours)
	x.Days = len(effects)
	if len(effects) > 0 {
		e := effects[0]
		if kill != nil {
			e.Kill = *kill
		}
		for face := range x.Stops {
			x.Stops[face], x.Kills[face] = round3(e.Stop[face]), round3(e.Kill[face])
		}
	}
	switch {
	case a.Season:
		x.Verdict, x.Reason = "season", phrase("act.season")
		for _, c := range checks {
			if c.Outcome == remedy.Refused {
				x.Verdict, x.Reason = remedy.Refused, c.Reason
			}
		}
	default:
		x.Verdict, x.Reason = verdictOf(checks)
		if x.Verdict == "allowed" {
			x.Reason = phrase("act.allowed")
			if a.ID == "heat_close" && x.Kills == [2]float64{} {
				x.Verdict, x.Reason = remedy.Refused, phrase("act.too-cool", "from", 36)
			}
		}
	}
	return x
}

// shut is the plot as it would be with its vents closed from this morning on.
func (sc *scene) shut(p *plot) *plot {
	out := *p
	out.bed.Settings = append(slices.Clone(p.bed.Settings), garden.Setting{From: sc.opt.Day.At(0, sc.loc), Vents: "closed"})
	out.air = sc.s.at(out.bed, sc.g.Site)
	return &out
}

// today are the temperatures of today's hours at a plot under one scenario.
func (sc *scene) today(w *weather.Series) []remedy.Hour {
	var out []remedy.Hour
	for i := max(0, w.Index(sc.opt.Day.At(0, sc.loc))); i < w.Len() && w.Time(i).Before((sc.opt.Day+1).At(0, sc.loc)); i++ {
		out = append(out, remedy.Hour{Time: w.Time(i), T: float64(w.V[weather.Temp][i])})
	}
	return out
}

// peak is the highest temperature of today at a plot, over the scenarios.
func (sc *scene) peak(p *plot) Band {
	top, even := make([]float64, len(p.air.ahead)), make([]float64, len(p.air.ahead))
	for i, w := range p.air.ahead {
		even[i], top[i] = 1, math.Inf(-1)
		for _, h := range sc.today(w) {
			top[i] = math.Max(top[i], h.T)
		}
	}
	return band(belief.BandOf(top, even))
}

// killed is the share of colonies that heat kills today, mean over the scenarios.
func (sc *scene) killed(p *plot, a *remedy.Action) *[garden.Faces]float64 {
	var out [garden.Faces]float64
	for _, w := range p.air.ahead {
		if e := a.Effects(p.bed.ID, sc.opt.Day, sc.today(w)); len(e) > 0 {
			for f := range out {
				out[f] += e[0].Kill[f] / float64(len(p.air.ahead))
			}
		}
	}
	return &out
}
