package remedy

import (
	"math"
	"strings"

	"oidium/cite"
	"oidium/garden"
)

// Load is one filling of the tank.
type Load struct {
	Litres float64 `json:"litres" doc:"of mix"`
	Amount float64 `json:"amount" doc:"of product, in the unit of the mix"`
}

// Extra is what goes into the tank beside the product.
type Extra struct {
	Name string  `json:"name"`
	ML   float64 `json:"ml,omitempty" doc:"for the whole mix; 0: as its own label says"`
}

// Mix is how much to make up for one bed.
type Mix struct {
	Litres    float64    // of mix for the bed; 0 for dust and when no area is known
	Ceiling   float64    // litres at which the leaves run off; 0 unknown leaf area
	Rate      cite.Value // strength, in Rate.Unit
	RateKnown bool       // false: only the label says; Amount is 0
	Assumed   bool       // the strength is that of trials, no label rate was entered
	Amount    float64    // of product for the bed
	Unit      string     // of Amount: "g", "mL", "g SiO2"
	Extras    []Extra
	Loads     []Load
	Minutes   float64 // of spraying at the measured output; 0 not measured
	Basis     string  // one sentence: what the litres follow from
	Steps     []string
	Cautions  []string
	Warnings  []garden.Warning
}

// MixFor returns how much to make up of the material for the case's bed. The
// litres follow from the leaf area and what a leaf holds before it runs off
// (66 mL on a square metre of one-sided leaf), or from the ground area where no
// leaf area is known; the strength is the label's where it was entered, else
// that of the trials, marked as assumed.
func MixFor(c *Case, m *Material) Mix {
	x := Mix{Cautions: cautions(c, m)}
	l, _, _ := c.label(m.ID)
	x.Rate, x.RateKnown, x.Assumed = strength(l, m)
	x.Unit = amountUnit(x.Rate.Unit)
	warn := func(code string, pairs ...string) {
		x.Warnings = append(x.Warnings, garden.Warning{Code: "mix-" + code, Bed: c.Bed.ID, Text: say("mix."+code, pairs...)})
	}
	area := c.Bed.Area()
	switch {
	case m.Form == "vapour":
		x.RateKnown, x.Rate, x.Basis = false, cite.Value{}, say("mix.never")
		return x
	case x.Rate.Unit == "g/m2":
		x.Amount, x.Basis = x.Rate.V*area, say("mix.by-area", "area", num(area, 1))
	case m.Form == "root":
		x.Basis = say("mix.root")
		return x
	default:
		x.volume(c, area)
		x.capBicarbonate(m, area, warn)
		if x.RateKnown {
			x.Amount = x.Litres * x.Rate.V
		}
	}
	if !x.RateKnown {
		warn("no-rate")
	} else if x.Assumed {
		warn("assumed", "rate", num(x.Rate.V, 2), "high", num(m.RateHigh.V, 2), "unit", x.Rate.Unit)
	}
	for _, e := range m.extras {
		x.Extras = append(x.Extras, Extra{Name: e.what, ML: e.mlPer * x.Litres})
	}
	tank := c.Site.Sprayer.TankL
	if tank > 0 && x.Litres > maxLoads*tank {
		warn("tank", "tank", num(tank, 3))
		tank = 0
	}
	x.loads(tank)
	if out := c.Site.Sprayer.LPerM; out > 0 {
		x.Minutes = x.Litres / out
	} else if x.Litres > 0 {
		warn("not-measured")
	}
	x.Steps = mixingOrder(m)
	return x
}

// volume sets the litres from leaf or ground area.
func (x *Mix) volume(c *Case, area float64) {
	full := boomVolume.V * area
	if c.LeafArea <= 0 {
		x.Litres, x.Basis = full, say("mix.by-ground", "area", num(area, 1), "rate", num(boomVolume.V*10000, 0))
		return
	}
	x.Ceiling = c.LeafArea * leafHolds.V / 1000
	x.Litres, x.Basis = x.Ceiling, say("mix.by-leaf", "leaf", num(c.LeafArea, 1), "holds", num(leafHolds.V, 0))
	if c.Site.Sprayer.Kind == "boom" && full < x.Ceiling {
		x.Litres, x.Basis = full, say("mix.boom", "area", num(area, 1), "rate", num(boomVolume.V*10000, 0))
	}
}

// capBicarbonate keeps potassium bicarbonate within its most on the ground.
func (x *Mix) capBicarbonate(m *Material, area float64, warn func(string, ...string)) {
	if m.Active != "potassium bicarbonate" || !x.RateKnown {
		return
	}
	if most := bicarbonateCap.V * area / x.Rate.V; x.Litres > most {
		x.Litres = most
		warn("bicarbonate-cap", "most", num(bicarbonateCap.V*10, 1))
	}
}

// maxLoads is the number of tank loads for one bed above which the size of the
// tank is taken for a mistake.
const maxLoads = 1000

func (x *Mix) loads(tank float64) {
	if x.Litres <= 0 {
		return
	}
	n := 1
	if tank > 0 {
		n = int(math.Ceil(x.Litres/tank - 1e-9))
	}
	for left := x.Litres; n > 0; n-- {
		l := left
		if tank > 0 {
			l = min(left, tank)
		}
		x.Loads = append(x.Loads, Load{Litres: l, Amount: x.Amount * l / x.Litres})
		left -= l
	}
}

// strength returns the rate to mix at: the lower end of the label's range where
// it was entered, else of the range of the trials.
func strength(l garden.Label, m *Material) (rate cite.Value, known, assumed bool) {
	low := l.RateLowGL
	if low == nil {
		low = l.RateHighGL
	}
	if low != nil && *low > 0 {
		unit := "g/L"
		if m.Form == "liquid" {
			unit = "mL/L"
		}
		v := cite.Value{V: *low, Lo: *low, Hi: *low, Unit: unit, Source: "label-law", Grade: cite.A, What: "rate on the label as entered"}
		if l.RateHighGL != nil {
			v.Hi = *l.RateHighGL
		}
		return v, true, false
	}
	if m.RateUnit == "" {
		return cite.Value{}, false, false
	}
	return m.RateLow, true, true
}

func amountUnit(rate string) string {
	switch rate {
	case "mL/L":
		return "mL"
	case "g SiO2/L":
		return "g SiO2"
	case "":
		return ""
	}
	return "g"
}

// mixingOrder says in which order things go into the tank and what becomes of
// the rest.
func mixingOrder(m *Material) []string {
	steps := []string{say("mix.step-protect"), say("mix.step-half")}
	switch {
	case m.ID == "ksi_foliar":
		steps = append(steps, say("mix.step-silicate"))
	case m.Form == "powder":
		steps = append(steps, say("mix.step-powder"))
	default:
		steps = append(steps, say("mix.step-liquid"))
	}
	if m.Oil {
		steps = append(steps, say("mix.step-oil"))
	}
	return append(steps, say("mix.step-fill"), say("mix.step-rest"))
}

// concerns tells whether a caution is about the crop of the case: one that names
// a crop is for that crop alone.
func (c *Case) concerns(caution string) bool {
	text := strings.ToLower(caution)
	named := false
	for _, crop := range []string{"apricot", "strawberry", "caneberr", "melon", "grape", "cucurbit", "tomato"} {
		if !strings.Contains(text, crop) {
			continue
		}
		named = true
		if strings.Contains(string(c.Planting.Crop), crop) || strings.Contains(c.Family, crop) || c.isBerry() && (crop == "strawberry" || crop == "caneberr") {
			return true
		}
	}
	return !named
}

// cautions returns what is printed with every mix and every treatment of the
// material on the case's bed.
func cautions(c *Case, m *Material) []string {
	out := []string{say("caution.label")}
	for _, s := range m.Cautions {
		if s != "" && s != "none" && c.concerns(s) {
			out = append(out, s)
		}
	}
	for _, k := range []struct {
		when bool
		key  string
	}{
		{m.Sulfur, "caution.sulfur"},
		{m.Form == "dust", "caution.dust"},
		{m.Form == "vapour", "caution.vapour"},
		{m.Oil, "caution.oil"},
		{m.element == "Cu", "caution.copper"},
		{m.element == "Na", "caution.sodium"},
		{m.Active == "milk" || m.Active == "whey", "caution.milk"},
		{m.Active == "peroxide" || m.Active == "potassium silicate", "caution.corrosive"},
		{m.Living, "caution.living"},
		{c.InFlower, "caution.bloom"},
		{true, "caution.household"},
		{true, "caution.rings"},
	} {
		if k.when {
			out = append(out, say(k.key))
		}
	}
	return out
}
