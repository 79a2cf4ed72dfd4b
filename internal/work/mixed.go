package work

import (
	"context"
	"fmt"
	"math"

	"oidium/belief"
	"oidium/cite"
	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/remedy"
	"oidium/remedy/mixing"
)

const mixedVersion = "oidium-mix-1"

// Mixed is how much to make up of a material for a bed.
type Mixed struct {
	Version string `json:"version" enum:"oidium-mix-1" doc:"shape of this document"`
	About
	Recipient Recipient `json:"recipient"`
	Material  string    `json:"material"`
	Name      string    `json:"material_name"`
	Verdict   string    `json:"verdict" enum:"allowed,test-leaf,ask,refused"`
	Reason    string    `json:"reason" doc:"the first rule that stands in the way, or that none does"`
	Closed    bool      `json:"closed" doc:"nothing is handed out: litres and amounts are left out"`
	Blocks    []Check   `json:"blocks" doc:"rules that refuse or ask"`
	Litres    float64   `json:"litres" doc:"of mix for the bed; 0: nothing to spray, or not known"`
	Ceiling   float64   `json:"ceiling_litres" doc:"at which the leaves run off; 0: leaf area not known"`
	Rate      float64   `json:"rate" doc:"strength, in rate_unit; 0: only the label says"`
	RateUnit  string    `json:"rate_unit"`
	Assumed   bool      `json:"rate_assumed" doc:"the strength is that of trials: no label rate was entered"`
	Amount    float64   `json:"amount" doc:"of product for the bed, in unit"`
	Unit      string    `json:"unit"`
	Yours     []string  `json:"in_your_units" doc:"the same in the units of the site, where these are not metric"`
	Spoons    string    `json:"spoons,omitempty" doc:"within 20 %; weighing is better"`
	Extras    []Extra   `json:"extras" doc:"what goes into the tank beside the product"`
	Loads     []Load    `json:"loads" doc:"fillings of the tank"`
	Minutes   float64   `json:"minutes" doc:"of spraying at the measured output; 0: not measured"`
	Basis     string    `json:"basis" doc:"what the litres follow from"`
	Steps     []string  `json:"steps" doc:"order of mixing, and what becomes of the rest"`
	Lasts     []Lasting `json:"lasts" doc:"what a spray of today still does later"`
	Grounds
}

// Extra is what goes into the tank beside the product.
type Extra struct {
	Name string  `json:"name"`
	ML   float64 `json:"ml" doc:"for the whole mix; 0: as its own label says"`
}

// Load is one filling of the tank.
type Load struct {
	Litres float64 `json:"litres"`
	Amount float64 `json:"amount" doc:"of product"`
}

// Lasting is what a spray of today still does on a later day.
type Lasting struct {
	Days  int     `json:"days" doc:"after the spray"`
	Upper float64 `json:"upper" doc:"share of new infections it stops on the upper face of leaf that was there"`
	Lower float64 `json:"lower"`
	New   float64 `json:"new_leaf" doc:"share of the leaf that has unfolded since and has no spray on it"`
}

// MixAsk says what is asked of a mix.
type MixAsk struct {
	Bed      garden.BedID
	Material string
	Above    bool // sprayed from above only
	Facts    Facts
}

// Mixing returns how much to make up of a material for a bed. While the rules
// keep the material from whoever asks, no amount is given.
func Mixing(ctx context.Context, entries []ledger.Entry, opt Options, ask MixAsk) (*Mixed, error) {
	sc, j, err := judge(ctx, entries, opt, ask.Bed, ask.Material, ask.Facts)
	if err != nil {
		return nil, err
	}
	out := &Mixed{
		Version: mixedVersion, About: sc.about(j.p), Recipient: recipientOf(j.kase, ask.Facts),
		Material: string(j.m.ID), Name: j.m.Name,
	}
	out.Verdict, out.Reason = verdictOf(j.checks)
	for _, k := range j.checks {
		if k.Outcome == remedy.Refused || k.Outcome == remedy.Ask {
			out.Blocks = append(out.Blocks, Check(k))
		}
	}
	out.Warnings = append(out.Warnings, sc.s.warnings...)
	if why := closed(j.checks); why != "" {
		out.Closed, out.Reason = true, why
		out.mind(phrase("caution.label"))
		complete(out, &out.Sources)
		return out, nil
	}
	x := remedy.MixFor(j.kase, j.m)
	out.Litres, out.Ceiling, out.Amount, out.Unit = round3(x.Litres), round3(x.Ceiling), round3(x.Amount), x.Unit
	out.Rate, out.RateUnit, out.Assumed = round3(x.Rate.V), x.Rate.Unit, x.Assumed
	out.Minutes, out.Basis, out.Steps = round3(x.Minutes), x.Basis, x.Steps
	for _, e := range x.Extras {
		out.Extras = append(out.Extras, Extra{e.Name, round3(e.ML)})
	}
	for _, l := range x.Loads {
		out.Loads = append(out.Loads, Load{round3(l.Litres), round3(l.Amount)})
	}
	out.inUnits(sc.g.Site.Units, j.m)
	out.Lasts = sc.lasting(j.p, j.m, !ask.Above)
	out.mind(x.Cautions...)
	out.Warnings = append(out.Warnings, x.Warnings...)
	if x.Rate.Grade == cite.C || x.Assumed {
		out.assume(x.Rate)
	}
	out.assume(leafOf(j.p.crop))
	complete(out, &out.Sources)
	return out, nil
}

// inUnits prints litres and amount in the units of the site, and spoons of a
// powder whose density is known.
func (x *Mixed) inUnits(units string, m *remedy.Material) {
	system := mixing.System(units)
	if system == mixing.Unsaid {
		system = mixing.Metric
	}
	in := func(value float64, unit, to string) string {
		q, err := mixing.Parse(fmt.Sprintf("%g %s", value, unit), system)
		if err != nil {
			return ""
		}
		v, err := q.In(to, system)
		if err != nil {
			return ""
		}
		return fmt.Sprintf("%.3g", v)
	}
	if system != mixing.Metric {
		if x.Litres > 0 {
			x.Yours = append(x.Yours, phrase("yours.gallons", "n", in(x.Litres, "L", "gal")))
		}
		switch {
		case x.Amount <= 0:
		case x.Unit == "mL":
			x.Yours = append(x.Yours, phrase("yours.fluid-ounces", "n", in(x.Amount, "mL", "fl oz")))
		default:
			x.Yours = append(x.Yours, phrase("yours.ounces", "n", in(x.Amount, "g", "oz")))
		}
	}
	if m.Active != string(mixing.SodiumBicarbonate) || x.Amount <= 0 {
		return
	}
	q, err := mixing.Parse(fmt.Sprintf("%g g", x.Amount), system)
	if err != nil {
		return
	}
	if s, err := mixing.SpoonsOf(q, mixing.Quantity{}, mixing.SodiumBicarbonate, system); err == nil {
		x.Spoons = phrase("spoons", "text", s.Text, "grams", math.Round(s.Grams), "density", s.Density, "doubt", percentOf(s.Doubt))
	}
}

// lastingDays are the days after a spray that are printed.
var lastingDays = []int{0, 1, 3, 5, 7, 10, 14}

// lasting is what a spray of today still does later, in the rain that is
// expected, and how much leaf will have unfolded without it.
func (sc *scene) lasting(p *plot, m *remedy.Material, below bool) []Lasting {
	tr := garden.Treatment{Bed: p.bed.ID, Material: m.ID, Start: sc.asOf, End: sc.asOf, Below: below}
	rain := make([]float64, aheadDays)
	for i := range rain {
		rain[i] = p.expectedRain(sc.s, sc.opt.Day+garden.Day(i))
	}
	c := cloudOf(p)
	area := func(d int) float64 {
		return belief.BandOf(c.of(sc.opt.Day+garden.Day(d), leafArea), c.w).Mid
	}
	now := area(0)
	var out []Lasting
	effects := remedy.Deposit(m, tr, rain, aheadDays, below, sc.g.Site.Sprayer)
	for _, d := range lastingDays {
		l := Lasting{Days: d}
		if d < len(effects) {
			l.Upper, l.Lower = round3(effects[d].Stop[garden.Upper]), round3(effects[d].Stop[garden.Lower])
		}
		if then := area(d); then > now && then > 0 {
			l.New = round3(1 - now/then)
		}
		out = append(out, l)
	}
	return out
}
