package work

import (
	"context"

	"oidium/cite"
	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/remedy"
)

const (
	rulesVersion     = "oidium-rules-1"
	materialsVersion = "oidium-materials-1"
)

// Rules is every rule that was looked at for one material on one bed.
type Rules struct {
	Version string `json:"version" enum:"oidium-rules-1" doc:"shape of this document"`
	About
	Recipient Recipient `json:"recipient" doc:"under whose law and role it was judged"`
	Material  string    `json:"material" doc:"by its id in the program"`
	Name      string    `json:"material_name"`
	FRAC      string    `json:"frac" doc:"mode of action"`
	Verdict   string    `json:"verdict" enum:"allowed,test-leaf,ask,refused" doc:"test-leaf: one leaf may be treated today, the bed after two days; ask: something unknown must be entered first"`
	Reason    string    `json:"reason"`
	Checks    []Check   `json:"checks" doc:"every rule that was looked at, in a fixed order"`
	Grounds
}

// Recipient is whoever is told what to do.
type Recipient struct {
	Country string      `json:"country,omitempty" doc:"ISO 3166-1 code; absent: unknown, so that what depends on it is asked"`
	Role    garden.Role `json:"role,omitempty" doc:"private, grower, adviser or hired-hand; absent: unknown"`
	Other   bool        `json:"other" doc:"somebody else than whoever keeps the garden: its labels count only in the same country, its shed not at all"`
}

// Materials is the table of materials, and what may be done with each.
type Materials struct {
	Version string `json:"version" enum:"oidium-materials-1" doc:"shape of this document"`
	About
	Recipient Recipient     `json:"recipient"`
	Materials []MaterialRow `json:"materials"`
	RainMM    float64       `json:"rain_mm,omitempty" doc:"the rain that washings is about"`
	RainRate  float64       `json:"rain_mm_per_h,omitempty"`
	Washings  []Wash        `json:"washings,omitempty" doc:"what published experiments say of that rain; they disagree"`
	Grounds
}

// MaterialRow is one material.
type MaterialRow struct {
	Material    string     `json:"material" doc:"id in the program, as entries name it"`
	Name        string     `json:"name" doc:"active ingredient and form"`
	Active      string     `json:"active"`
	Form        string     `json:"form" enum:"powder,liquid,dust,vapour,root"`
	FRAC        string     `json:"frac"`
	Protects    Prior      `json:"protects" doc:"share of new infections a fresh deposit stops"`
	Cures       Prior      `json:"cures" doc:"share of standing colonies killed"`
	Knockdown   bool       `json:"knockdown" doc:"shown to act on standing colonies"`
	HalfLife    float64    `json:"half_life_days"`
	Rain        string     `json:"rain_class" enum:"P,S,L,T,M,none" doc:"how it leaves the leaf in rain: particles, soluble, oil film, goes into the leaf, microbe, given to the root"`
	RainWords   string     `json:"rain_words"`
	TMin        float64    `json:"least_c"`
	TMax        float64    `json:"ceiling_c"`
	Interval    float64    `json:"least_interval_days" doc:"where no label says otherwise"`
	MaxSeason   string     `json:"most_per_season" doc:"as printed"`
	RateLow     float64    `json:"rate_low,omitempty" doc:"strength used in trials; absent: only the label says"`
	RateHigh    float64    `json:"rate_high,omitempty"`
	RateUnit    string     `json:"rate_unit,omitempty"`
	HomeMade    bool       `json:"home_made" doc:"mixed from things not sold for the purpose"`
	HandedOut   Check      `json:"handed_out" doc:"whether this recipient may be handed it at all"`
	Verdict     string     `json:"verdict,omitempty" enum:"allowed,test-leaf,ask,refused" doc:"for the bed; absent: no bed was asked about"`
	FirstReason string     `json:"reason,omitempty" doc:"the first rule that stands in the way"`
	Cautions    []string   `json:"cautions"`
	Source      string     `json:"source"`
	Grade       cite.Grade `json:"grade"`
}

// Prior is a share with its spread from trial to trial.
type Prior struct {
	Mean float64 `json:"mean"`
	SD   float64 `json:"sd"`
}

// Wash is what one published experiment says of a rain.
type Wash struct {
	What   string     `json:"what"`
	Lost   float64    `json:"lost" doc:"share of the deposit lost"`
	Source string     `json:"source"`
	Grade  cite.Grade `json:"grade"`
}

// judged is a case and a material with every check.
type judged struct {
	p      *plot
	kase   *remedy.Case
	m      *remedy.Material
	checks []remedy.Check
}

// judge looks at every rule for a material on a bed.
func judge(ctx context.Context, entries []ledger.Entry, opt Options, bed garden.BedID, material string, f Facts) (*scene, judged, error) {
	m, err := materialOf(material)
	if err != nil {
		return nil, judged{}, err
	}
	sc, err := setScene(ctx, entries, opt)
	if err != nil {
		return nil, judged{}, err
	}
	p, err := sc.plot(bed)
	if err != nil {
		return nil, judged{}, err
	}
	j := judged{p: p, kase: sc.caseOf(p, f), m: m}
	j.checks = remedy.Judge(j.kase, m)
	return sc, j, nil
}

// cautions are those of the material, or the general one while nothing of it is
// handed out.
func (j judged) cautions() []string {
	if closed(j.checks) != "" {
		return []string{phrase("caution.label")}
	}
	return remedy.MixFor(j.kase, j.m).Cautions
}

// Judging returns every rule looked at for a material on a bed.
func Judging(ctx context.Context, entries []ledger.Entry, opt Options, bed garden.BedID, material string, f Facts) (*Rules, error) {
	sc, j, err := judge(ctx, entries, opt, bed, material, f)
	if err != nil {
		return nil, err
	}
	out := &Rules{
		Version: rulesVersion, About: sc.about(j.p), Recipient: recipientOf(j.kase, f),
		Material: string(j.m.ID), Name: j.m.Name, FRAC: j.m.FRAC,
	}
	out.Verdict, out.Reason = verdictOf(j.checks)
	for _, k := range j.checks {
		out.Checks = append(out.Checks, Check(k))
	}
	out.mind(j.cautions()...)
	out.Warnings = append(out.Warnings, sc.s.warnings...)
	complete(out, &out.Sources)
	return out, nil
}

func recipientOf(c *remedy.Case, f Facts) Recipient {
	return Recipient{Country: c.Site.Country, Role: c.Site.Role, Other: f.Country != "" || f.Role != ""}
}

// verdictOf sums up the checks and gives the first reason that stands in the way.
func verdictOf(checks []remedy.Check) (verdict, reason string) {
	switch {
	case remedy.Allowed(checks):
		return "allowed", phrase("verdict.allowed")
	case remedy.TestLeafFirst(checks):
		return "test-leaf", phrase("verdict.test-leaf")
	}
	for _, outcome := range []string{remedy.Refused, remedy.Ask} {
		for _, k := range checks {
			// A test leaf that is due is not what makes the bed unlawful to treat.
			if k.Outcome == outcome && k.Rule != "test-leaf" {
				return outcome, k.Reason
			}
		}
	}
	return remedy.Refused, phrase("verdict.test-leaf")
}

// closed returns why nothing about the material may be handed out at all: it
// cannot be told what the spots are, the recipient may not have it, or it is
// never planned. "" when it may.
func closed(checks []remedy.Check) string {
	for _, k := range checks {
		switch k.Rule {
		case "diagnosis", "crop", "heated-sulfur":
			if k.Outcome == remedy.Refused {
				return k.Reason
			}
		case "role":
			if k.Outcome == remedy.Refused || k.Outcome == remedy.Ask {
				return k.Reason
			}
		}
	}
	return ""
}

// MaterialsAsk says what is asked of the table of materials.
type MaterialsAsk struct {
	Material string       // "" all
	Bed      garden.BedID // "" none: only who may be handed what
	RainMM   float64
	RainRate float64 // mm/h
	Facts    Facts
}

// Listing returns the table of materials under the recipient's profile.
func Listing(ctx context.Context, entries []ledger.Entry, opt Options, ask MaterialsAsk) (*Materials, error) {
	list := remedy.Materials()
	if ask.Material != "" {
		m, err := materialOf(ask.Material)
		if err != nil {
			return nil, err
		}
		list = []*remedy.Material{m}
	}
	var (
		sc   *scene
		p    *plot
		kase *remedy.Case
		err  error
	)
	if ask.Bed != "" {
		if sc, err = setScene(ctx, entries, opt); err != nil {
			return nil, err
		}
		if p, err = sc.plot(ask.Bed); err != nil {
			return nil, err
		}
		kase = sc.caseOf(p, ask.Facts)
	} else {
		if sc, err = openScene(entries, opt); err != nil {
			return nil, err
		}
		kase = sc.bareCase(garden.Bed{}, ask.Facts)
	}
	out := &Materials{Version: materialsVersion, About: sc.about(p), Recipient: recipientOf(kase, ask.Facts)}
	for _, m := range list {
		checks := remedy.Judge(kase, m)
		row := materialRow(m)
		row.HandedOut = handedOut(checks)
		if p != nil {
			row.Verdict, row.FirstReason = verdictOf(checks)
		}
		out.Materials = append(out.Materials, row)
	}
	if ask.RainMM > 0 {
		out.RainMM, out.RainRate = ask.RainMM, ask.RainRate
		for _, w := range remedy.Washings(ask.RainMM, ask.RainRate) {
			out.Washings = append(out.Washings, Wash{w.What, round3(w.Lost), w.Source, w.Grade})
		}
	}
	out.mind(phrase("caution.label"), phrase("caution.priors"), phrase("caution.home-made"))
	complete(out, &out.Sources)
	return out, nil
}

// handedOut is the rule on who may be handed a material, or the one by which it is
// never planned.
func handedOut(checks []remedy.Check) Check {
	var out Check
	for _, k := range checks {
		if k.Rule == "role" || k.Rule == "heated-sulfur" && k.Outcome == remedy.Refused {
			out = Check(k)
			if k.Outcome == remedy.Refused {
				return out
			}
		}
	}
	return out
}

func materialRow(m *remedy.Material) MaterialRow {
	return MaterialRow{
		Material: string(m.ID), Name: m.Name, Active: m.Active, Form: m.Form, FRAC: m.FRAC,
		Protects: Prior{round3(m.Protective.V), round3(m.ProtectiveSD)}, Cures: Prior{round3(m.Curative.V), round3(m.CurativeSD)},
		Knockdown: m.Knockdown, HalfLife: m.HalfLife.V, Rain: string(m.Rain), RainWords: phrase("rain." + string(m.Rain)),
		TMin: m.TMin.V, TMax: m.TMax.V, Interval: m.MinInterval.V, MaxSeason: m.MaxSeason,
		RateLow: m.RateLow.V, RateHigh: m.RateHigh.V, RateUnit: m.RateUnit, HomeMade: m.HomeMade,
		Cautions: m.Cautions, Source: firstOf(m.Sources, "assumption"), Grade: m.Grade,
	}
}

// bareCase is a bed as the rules see it when nothing is known of its leaves.
func (sc *scene) bareCase(b garden.Bed, f Facts) *remedy.Case {
	c := &remedy.Case{
		Now: sc.asOf, Loc: sc.loc, Today: sc.opt.Day, Site: sc.g.Site, Bed: b,
		Treatments: sc.g.Treatments, Removals: sc.g.Removals, Plantings: sc.g.Plantings, Beds: sc.g.Beds, Labels: sc.g.Labels, Stock: sc.g.Stock,
	}
	return handed(c, sc.g.Site, f)
}

// handed returns the case as it stands for whoever is told, when that is somebody
// else.
func handed(c *remedy.Case, own garden.Site, f Facts) *remedy.Case {
	if f.Country == "" && f.Role == "" {
		return c
	}
	to := own
	to.Sprayer = garden.Sprayer{}
	if f.Country != "" {
		to.Country = f.Country
	}
	if f.Role != "" {
		to.Role = f.Role
	}
	return c.HandedTo(to, own.Role)
}
