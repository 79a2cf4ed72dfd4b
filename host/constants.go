package host

import "oidium/cite"

// habit is a growth habit: the generic numbers that stand for a crop until a
// source gives better. All of them are assumptions and shown as such.
type habit struct {
	base, ceiling, growth, set, full, life, young, old, light, fruit, load, spare, sunned float64
}

var habits = map[string]habit{
	"vine":   {base: 10, ceiling: 32, growth: 0.0100, set: 0.05, full: 3.5, life: 50, young: 8, old: 16, light: 0.70, fruit: 450, load: 0.35, spare: 0.12, sunned: 4},
	"shrub":  {base: 5, ceiling: 30, growth: 0.0085, set: 0.15, full: 2.5, life: 60, young: 7, old: 30, light: 0.60, fruit: 0, load: 1, spare: 0.15, sunned: 6},
	"annual": {base: 5, ceiling: 30, growth: 0.0090, set: 0.05, full: 3.0, life: 55, young: 7, old: 25, light: 0.65, fruit: 0, load: 1, spare: 0.10, sunned: 5},
}

// The currencies' shape, where no crop says otherwise.
var (
	weakLeaf = cite.Value{
		V: 2, Lo: 1, Hi: 3, Unit: "1", Source: "assumption", Grade: cite.C,
		What: "exponent of the light use of a mildewed leaf; no value for powdery mildew of cucurbits is known",
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

// crops returns the data, one row a crop. Fields left out come from the habit.
func crops() []Crop {
	rows := []Crop{
		{
			ID: "courgette", Name: "Courgette", Latin: "Cucurbita pepo", Family: "Cucurbitaceae", Habit: "vine", Currency: Picking,
			Fruit: assumed(350, 280, 420, "°C d", "planting to first fruit that draws on the plant, bush courgette"),
		},
		{
			ID: "cucumber", Name: "Cucumber", Latin: "Cucumis sativus", Family: "Cucurbitaceae", Habit: "vine", Currency: Picking,
			Fruit: assumed(400, 300, 500, "°C d", "planting to first fruit that draws on the plant, cucumber"),
		},
		{
			ID: "melon", Name: "Melon", Latin: "Cucumis melo", Family: "Cucurbitaceae", Habit: "vine", Currency: Picking,
			Fruit: assumed(500, 400, 650, "°C d", "planting to first fruit that draws on the plant, melon"),
		},
		{
			ID: "pumpkin", Name: "Pumpkin", Latin: "Cucurbita maxima", Family: "Cucurbitaceae", Habit: "vine", Currency: Picking,
			Fruit:   assumed(550, 450, 700, "°C d", "planting to first fruit that draws on the plant, pumpkin"),
			LeafMax: assumed(4, 3, 5, "m²/m²", "leaf area of a full pumpkin canopy"),
		},
		{ID: "rose", Name: "Rose", Latin: "Rosa", Family: "Rosaceae", Habit: "shrub", Currency: Looks, Perennial: true},
		{
			ID: "winter-squash", Name: "Winter squash", Latin: "Cucurbita maxima, C. moschata", Family: "Cucurbitaceae", Habit: "vine", Currency: Picking,
			Fruit:   assumed(550, 450, 700, "°C d", "planting to first fruit that draws on the plant, winter squash"),
			LeafMax: assumed(4, 3, 5, "m²/m²", "leaf area of a full squash canopy"),
		},
	}
	for i := range rows {
		rows[i].complete()
	}
	return rows
}

// complete fills what a row leaves out from its habit.
func (c *Crop) complete() {
	h := habits[c.Habit]
	fill := func(v *cite.Value, x, spread float64, unit, what string) {
		if v.Unit == "" {
			*v = assumed(x, x*(1-spread), x*(1+spread), unit, what+", generic "+c.Habit)
		}
	}
	fill(&c.Base, h.base, 0.2, "°C", "temperature below which no leaf grows")
	fill(&c.Ceiling, h.ceiling, 0.1, "°C", "temperature above which growth is no faster")
	fill(&c.Growth, h.growth, 0.3, "1/(°C d)", "relative growth of leaf area of a small plant")
	fill(&c.LeafSet, h.set, 0.5, "m²/m²", "leaf area at planting or bud break")
	fill(&c.LeafMax, h.full, 0.3, "m²/m²", "leaf area of a full canopy")
	fill(&c.Lifespan, h.life, 0.3, "d", "age at which a healthy leaf begins to fall")
	fill(&c.Young, h.young, 0.3, "d", "age up to which a leaf is called young")
	fill(&c.Old, h.old, 0.3, "d", "age from which a leaf is called old")
	fill(&c.Light, h.light, 0.2, "1", "extinction coefficient of light")
	fill(&c.Sunned, h.sunned, 0.3, "K", "most that a leaf in full sun is warmer than the air; grape 5 to 8, a leaf that transpires more less")
	fill(&c.Fruit, h.fruit, 0.3, "°C d", "thermal time to fruit load")
	fill(&c.Load, h.load, 0.4, "1", "growth of new leaf left under full fruit load")
	fill(&c.Spare, h.spare, 0.5, "1", "share of intercepted light that can be lost without loss of yield")
	if c.Weak.Unit == "" {
		c.Weak = weakLeaf
	}
	if c.Half.Unit == "" {
		c.Half = map[Currency]cite.Value{Picking: halfShare, Share: halfShare, Looks: halfLooks, Clean: halfClean}[c.Currency]
	}
}

// assumed is a value without a source.
func assumed(v, lo, hi float64, unit, what string) cite.Value {
	return cite.Value{V: v, Lo: lo, Hi: hi, Unit: unit, Source: "assumption", Grade: cite.C, What: what}
}
