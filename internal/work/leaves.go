package work

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"

	"oidium/belief"
	"oidium/epidemic"
	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/remedy"
)

const leavesVersion = "oidium-leaves-1"

// Leaves are how much leaf a bed can spare today, and which.
type Leaves struct {
	Version string `json:"version" enum:"oidium-leaves-1" doc:"shape of this document"`
	About
	Left     float64    `json:"left" doc:"share of the bed's leaf area that may be taken now"`
	Once     float64    `json:"left_once" doc:"share that may be taken in one cut if it stays the only one; 0: there has been one"`
	Used     float64    `json:"used" doc:"share taken over the last 21 days"`
	Trade    float64    `json:"common_practice" doc:"share of a plant's leaf that practice does not exceed, for comparison"`
	LeafArea Band       `json:"leaf_area_m2" doc:"one-sided leaf area in the bed"`
	Count    int        `json:"leaves" doc:"leaves that left comes to, at the usual size of a leaf"`
	PerPlant float64    `json:"leaves_per_plant,omitempty" doc:"absent: number of plants not stated"`
	Minutes  float64    `json:"minutes" doc:"to find, cut and bag them"`
	Which    []LeafRank `json:"which" doc:"ages of leaf in the order to take them; an age not named stays on"`
	Pays     string     `json:"pays" doc:"whether taking them is worth it today, by the plan of the round"`
	Verdict  string     `json:"verdict" enum:"allowed,ask,refused"`
	Reason   string     `json:"reason"`
	Checks   []Check    `json:"checks" doc:"every rule that was looked at"`
	Dispute  string     `json:"disputed" doc:"on what the trade disagrees"`
	Grounds
}

// LeafRank is one age of leaf, as it bears on what to take.
type LeafRank struct {
	Age      string  `json:"age" enum:"young,middle,old"`
	OfLeaf   float64 `json:"of_leaf" doc:"share of the bed's leaf area"`
	OfMildew float64 `json:"of_mildew" doc:"share of the mildewed area that sits on it"`
	OfLight  float64 `json:"of_light" doc:"share of the light the canopy takes that falls on it"`
	Covered  Band    `json:"covered" doc:"share of it that shows mildew, the worse face"`
	Take     float64 `json:"take" doc:"share of the leaves of this age that the budget reaches"`
}

// Sparing returns how much leaf a bed can spare.
func Sparing(ctx context.Context, entries []ledger.Entry, opt Options, bed garden.BedID, f Facts) (*Leaves, error) {
	sc, err := setScene(ctx, entries, opt)
	if err != nil {
		return nil, err
	}
	p, err := sc.plot(bed)
	if err != nil {
		return nil, err
	}
	c := cloudOf(p)
	today := sc.opt.Day
	b := remedy.RemovalBudget(sc.caseOf(p, f))
	out := &Leaves{
		Version: leavesVersion, About: sc.about(p),
		Left: round3(b.Left), Once: round3(b.LeftOnce), Used: round3(b.Used), Trade: b.Trade,
		LeafArea: c.band(today, func(r epidemic.Record) float64 { return leafArea(r) * p.bed.Area() }),
		Dispute:  phrase("leaves.dispute"),
	}
	out.Count = int(math.Round(b.Left * out.LeafArea.Mid / (leafOf(p.crop).V / 1e4)))
	if p.planting.Plants > 0 {
		out.PerPlant = round3(float64(out.Count) / float64(p.planting.Plants))
	}
	out.Minutes = math.Ceil(float64(out.Count) * secondsPerLeaf.V / 60)
	for _, k := range b.Checks {
		if k.Rule == "leaf-age" && k.Outcome == remedy.Refused {
			k.Outcome = remedy.Caution // it refuses some leaves, not the work
		}
		out.Checks = append(out.Checks, Check(k))
	}
	out.Verdict, out.Reason = budgetVerdict(b)
	out.Which = p.rank(c, today, b)
	if out.Pays, err = sc.pays(ctx, p); err != nil {
		return nil, err
	}
	for _, c := range b.Cautions {
		if !strings.HasPrefix(c, "The trade disagrees") { // that is told at length
			out.mind(c)
		}
	}
	out.mind(say("caution.remove"))
	out.assume(leafOf(p.crop), secondsPerLeaf)
	out.Warnings = append(out.Warnings, sc.s.warnings...)
	complete(out, &out.Sources)
	return out, nil
}

func budgetVerdict(b remedy.Budget) (verdict, reason string) {
	for _, outcome := range []string{remedy.Ask, remedy.Refused} {
		for _, k := range b.Checks {
			if k.Outcome == outcome && k.Rule != "leaf-age" {
				return outcome, k.Reason
			}
		}
	}
	return "allowed", phrase("leaves.allowed", "left", percentOf(b.Left))
}

// rank orders the ages that may be taken by the mildew they carry for the light
// they are worth, oldest first among equals, and spends the budget on them in
// that order. Light falls from above on young leaf first (Monteith).
func (p *plot) rank(c cloud, today garden.Day, b remedy.Budget) []LeafRank {
	mean := func(f func(epidemic.Record) float64) float64 { return belief.BandOf(c.of(today, f), c.w).Mean }
	var area, sick, light [garden.LeafAges]float64
	for a := range garden.LeafAges {
		area[a] = mean(func(r epidemic.Record) float64 { return r.Area[a] })
		sick[a] = mean(func(r epidemic.Record) float64 {
			return r.Area[a] * (r.Mildewed[a][garden.Upper] + r.Mildewed[a][garden.Lower])
		})
	}
	k, above := p.crop.Light.V, 0.0
	for a := range garden.LeafAges {
		light[a] = math.Exp(-k*above) - math.Exp(-k*(above+area[a]))
		above += area[a]
	}
	of := func(x [garden.LeafAges]float64, a garden.LeafAge) float64 {
		if sum := x[0] + x[1] + x[2]; sum > 0 {
			return x[a] / sum
		}
		return 0
	}
	var out []LeafRank
	left := b.Left
	for _, a := range b.Ages {
		out = append(out, LeafRank{
			Age: a.String(), OfLeaf: of(area, a), OfMildew: of(sick, a), OfLight: of(light, a),
			Covered: c.band(today, func(r epidemic.Record) float64 {
				return math.Max(r.Mildewed[a][garden.Upper], r.Mildewed[a][garden.Lower])
			}),
		})
	}
	worth := func(r LeafRank) float64 { return r.OfMildew / math.Max(r.OfLight, 1e-3) } // numerical: no division by no light
	slices.SortStableFunc(out, func(x, y LeafRank) int {
		// Mildew that would not be seen orders nothing.
		if x.Covered.High < 0.001 && y.Covered.High < 0.001 {
			return 0
		}
		return cmp.Compare(worth(y), worth(x))
	})
	for i := range out {
		r := &out[i]
		if r.OfLeaf > 0 {
			r.Take = round3(math.Min(1, left/r.OfLeaf))
			if left -= r.Take * r.OfLeaf; left < 1e-3 { // numerical: not one leaf
				left = 0
			}
		}
		r.OfLeaf, r.OfMildew, r.OfLight = round3(r.OfLeaf), round3(r.OfMildew), round3(r.OfLight)
	}
	return out
}

// pays says what the round's plan thinks of taking leaves off today.
func (sc *scene) pays(ctx context.Context, p *plot) (string, error) {
	if len(p.stands) == 0 {
		return phrase("leaves.no-mildew"), nil
	}
	d, err := p.decide(ctx, sc.g, sc.s, sc.opt.Workers)
	if err != nil {
		return "", err
	}
	money := moneyOf(sc.g.Site)
	for _, x := range d.decision.Ranked {
		if x.Kind == "remove" && x.InDays == 0 {
			net := mean(x.Net)
			if net.Mid <= 0 {
				return phrase("leaves.pays-not", "net", net.Mid, "low", net.Low, "high", net.High, "money", money), nil
			}
			return phrase("leaves.pays", "net", net.Mid, "low", net.Low, "high", net.High, "money", money), nil
		}
	}
	return phrase("leaves.not-tried"), nil
}
