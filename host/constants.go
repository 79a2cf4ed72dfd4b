package host

import "oidium/cite"

// habit is a growth habit: the generic numbers that stand for a crop until a
// source gives better. All of them are assumptions and shown as such.
type habit struct {
	base, ceiling float64 // °C
	growth        float64 // 1/(°C d)
	set, full     float64 // m²/m²
	life          float64 // d
	young, old    float64 // d
	light         float64 // 1
	fruit         float64 // °C d
	load          float64 // 1
	spare         float64 // 1
	sunned        float64 // K
	bud           float64 // °C d
	first, season float64 // d
	source        string
}

var habits = map[string]habit{
	"vine": {
		base: 10, ceiling: 32, growth: 0.0140, set: 0.08, full: 3.5, life: 50, young: 8, old: 16, light: 0.75,
		fruit: 450, load: 0.35, spare: 0.10, sunned: 4, first: 50, season: 60, source: "assumption",
	},
	"woody vine": {
		base: 8, ceiling: 32, growth: 0.0120, set: 0.10, full: 2.8, life: 110, young: 8, old: 30, light: 0.60,
		fruit: 450, load: 0.5, spare: 0.15, sunned: 7, bud: 90, first: 130, season: 40, source: "assumption",
	},
	"shrub": {
		base: 5, ceiling: 30, growth: 0.0085, set: 0.15, full: 2.5, life: 60, young: 7, old: 25, light: 0.60,
		load: 1, spare: 0.15, sunned: 6, bud: 120, first: 30, season: 150, source: "assumption",
	},
	"tree": {
		base: 5, ceiling: 30, growth: 0.0080, set: 0.10, full: 2.5, life: 130, young: 7, old: 30, light: 0.50,
		fruit: 500, load: 0.4, spare: 0.20, sunned: 6, bud: 150, first: 120, season: 30, source: "assumption",
	},
	"rosette": {
		base: 4, ceiling: 28, growth: 0.0085, set: 0.10, full: 2.5, life: 50, young: 7, old: 21, light: 0.65,
		load: 1, spare: 0.15, sunned: 4, bud: 40, first: 45, season: 40, source: "assumption",
	},
	"bush": {
		base: 9, ceiling: 32, growth: 0.0085, set: 0.05, full: 3.0, life: 60, young: 8, old: 25, light: 0.70,
		fruit: 400, load: 0.6, spare: 0.12, sunned: 4, first: 60, season: 80, source: "assumption",
	},
	"legume": {
		base: 4, ceiling: 28, growth: 0.0090, set: 0.05, full: 4.0, life: 40, young: 7, old: 20, light: 0.60,
		fruit: 450, load: 0.2, spare: 0.10, sunned: 4, first: 60, season: 25, source: "assumption",
	},
	"cereal": {
		base: 0, ceiling: 26, growth: 0.0070, set: 0.10, full: 5.0, life: 45, young: 7, old: 21, light: 0.50,
		fruit: 900, load: 0, spare: 0.05, sunned: 3, first: 110, season: 10, source: "assumption",
	},
	"flower": {
		base: 6, ceiling: 32, growth: 0.0090, set: 0.05, full: 3.0, life: 55, young: 7, old: 25, light: 0.65,
		fruit: 700, load: 0.5, spare: 0.10, sunned: 5, bud: 60, first: 50, season: 80, source: "assumption",
	},
	"bulb": {
		base: 6, ceiling: 28, growth: 0.0075, set: 0.05, full: 2.5, life: 60, young: 10, old: 30, light: 0.45,
		fruit: 900, load: 0.1, spare: 0.10, sunned: 3, first: 110, season: 20, source: "assumption",
	},
}

// The currencies' shape, where no crop says otherwise.
var (
	weakLeaf = cite.Value{
		V: 1, Lo: 1, Hi: 3, Unit: "1", Source: "bastiaans-1991", Grade: cite.C,
		What: "exponent of the light use of a mildewed leaf; near 1 in shade, above it in strong light, 9 is sometimes quoted for cereals; none is known for cucurbits",
	}
	onePicking = cite.Value{
		V: 0.5, Lo: 0.25, Hi: 0.8, Unit: "1", Source: "assumption", Grade: cite.C,
		What: "share of the fruit load that one picking takes; the small fruit stays",
	}
	halfLooks = cite.Value{
		V: 0.08, Lo: 0.03, Hi: 0.2, Unit: "1", Source: "assumption", Grade: cite.C,
		What: "visible severity at which half the looks are lost",
	}
	halfShare = cite.Value{
		V: 0.10, Lo: 0.03, Hi: 0.3, Unit: "1", Source: "assumption", Grade: cite.C,
		What: "leaf severity at which half the saleable share is lost",
	}
	halfClean = cite.Value{
		V: 0.01, Lo: 0.003, Hi: 0.03, Unit: "1", Source: "assumption", Grade: cite.C,
		What: "visible severity at which half the leaf can no longer be sold",
	}
)

// complete fills what a row leaves out from its habit.
func (c *Crop) complete() {
	h := habits[c.Habit]
	// The last number is the width of the range as a share of the value.
	fill := func(v *cite.Value, x float64, unit, source string, width float64, what string) {
		if v.Unit == "" {
			*v = cite.Value{V: x, Lo: x * (1 - width), Hi: x * (1 + width), Unit: unit, Source: source, Grade: cite.C, What: what + ", generic " + c.Habit}
		}
	}
	fill(&c.Base, h.base, "°C", "assumption", 0.2, "temperature below which no leaf grows")
	fill(&c.Ceiling, h.ceiling, "°C", "assumption", 0.1, "temperature above which growth is no faster")
	fill(&c.Growth, h.growth, "1/(°C d)", "assumption", 0.3, "relative growth of leaf area of a small plant")
	fill(&c.LeafSet, h.set, "m²/m²", "assumption", 0.5, "leaf area at planting or bud break")
	fill(&c.LeafMax, h.full, "m²/m²", "assumption", 0.3, "leaf area of a full canopy")
	fill(&c.Lifespan, h.life, "d", "assumption", 0.3, "age at which a healthy leaf begins to fall")
	fill(&c.Young, h.young, "d", "assumption", 0.3, "age up to which a leaf is called young")
	fill(&c.Old, h.old, "d", "assumption", 0.3, "age from which a leaf is called old")
	fill(&c.Light, h.light, "1", "assumption", 0.2, "extinction coefficient of light")
	fill(&c.Fruit, h.fruit, "°C d", "assumption", 0.3, "thermal time to fruit load")
	fill(&c.Load, h.load, "1", "assumption", 0.4, "growth of new leaf left under full fruit load")
	fill(&c.Spare, h.spare, "1", "assumption", 0.5, "share of intercepted light that can be lost without loss of yield")
	fill(&c.Sunned, h.sunned, "K", "assumption", 0.3, "most that a leaf in full sun is warmer than the air; a leaf that transpires more less")
	fill(&c.Bud, h.bud, "°C d", "assumption", 0.4, "thermal time from the turn of the year to bud break")
	fill(&c.First, h.first, "d", "assumption", 0.3, "days from planting or bud break to the first harvest")
	fill(&c.Season, h.season, "d", "assumption", 0.5, "days the harvest lasts")
	if c.Weak.Unit == "" {
		c.Weak = weakLeaf
	}
	if c.Picked.Unit == "" {
		c.Picked = onePicking
	}
	if c.Half.Unit == "" {
		c.Half = map[Currency]cite.Value{Picking: halfShare, Share: halfShare, Looks: halfLooks, Clean: halfClean}[c.Currency]
	}
}
