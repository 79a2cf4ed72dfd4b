package host

import "oidium/cite"

// crops returns the data, one row a crop. Fields left out come from the habit.
func crops() []Crop {
	rows := []Crop{
		// Cucurbits.
		{
			ID: "courgette", Name: "Courgette", Latin: "Cucurbita pepo", Family: "cucurbit", Habit: "vine", Currency: Picking,
			Fruit: assumed(350, 280, 420, "°C d", "planting to the first fruit that draws on the plant, bush courgette"),
			First: assumed(40, 30, 55, "d", "planting to first picking, courgette"),
		},
		{
			ID: "cucumber", Name: "Cucumber", Latin: "Cucumis sativus", Family: "cucurbit", Habit: "vine", Currency: Picking,
			Fruit: assumed(400, 300, 500, "°C d", "planting to the first fruit that draws on the plant, cucumber"),
			First: assumed(45, 35, 60, "d", "planting to first picking, cucumber"),
		},
		{
			ID: "melon", Name: "Melon", Latin: "Cucumis melo", Family: "cucurbit", Habit: "vine", Currency: Picking,
			Fruit:  assumed(500, 400, 650, "°C d", "planting to the first fruit that draws on the plant, melon"),
			First:  assumed(75, 60, 95, "d", "planting to first picking, melon"),
			Season: assumed(35, 20, 50, "d", "days of picking, melon"),
		},
		{
			ID: "pumpkin", Name: "Pumpkin", Latin: "Cucurbita maxima", Family: "cucurbit", Habit: "vine", Currency: Picking,
			Fruit:   assumed(550, 450, 700, "°C d", "planting to the first fruit that draws on the plant, pumpkin"),
			LeafMax: assumed(4, 3, 5, "m²/m²", "leaf area of a full pumpkin canopy"),
			First:   assumed(70, 50, 90, "d", "planting to the fruit's filling, pumpkin"),
		},
		{
			ID: "watermelon", Name: "Watermelon", Latin: "Citrullus lanatus", Family: "cucurbit", Habit: "vine", Currency: Picking,
			Fruit:  assumed(550, 450, 700, "°C d", "planting to the first fruit that draws on the plant, watermelon"),
			First:  assumed(80, 65, 95, "d", "planting to first picking, watermelon"),
			Season: assumed(30, 15, 45, "d", "days of picking, watermelon"),
		},
		{
			ID: "winter-squash", Name: "Winter squash", Latin: "Cucurbita maxima, C. moschata", Family: "cucurbit", Habit: "vine", Currency: Picking,
			Fruit:   assumed(550, 450, 700, "°C d", "planting to the first fruit that draws on the plant, winter squash"),
			LeafMax: assumed(4, 3, 5, "m²/m²", "leaf area of a full squash canopy"),
			First:   assumed(65, 50, 85, "d", "planting to the fruit's filling, winter squash"),
		},

		// Fruit.
		{
			ID: "apple", Name: "Apple", Latin: "Malus domestica", Family: "pome fruit", Habit: "tree", Currency: Share, Perennial: true,
		},
		{
			ID: "cherry", Name: "Sweet cherry", Latin: "Prunus avium", Family: "stone fruit", Habit: "tree", Currency: Share, Perennial: true,
			First: assumed(75, 60, 90, "d", "bud break to first harvest, cherry"),
		},
		{
			ID: "grape", Name: "Grape", Latin: "Vitis vinifera", Family: "grape", Habit: "woody vine", Currency: Share, Perennial: true,
			Base:   cite.Value{V: 10, Lo: 8, Hi: 10, Unit: "°C", Source: "caffi-2011", Grade: cite.B, What: "base of the degree days from bud break, grape"},
			Bud:    assumed(45, 25, 80, "°C d", "thermal time above 10 °C from the turn of the year to bud break, grape; from memory"),
			Sunned: cite.Value{V: 6.5, Lo: 5, Hi: 8, Unit: "K", Source: "austin-wilcox-2012", Grade: cite.A, What: "most that a grape leaf in full sun is warmer than a shaded one"},
		},
		{
			ID: "peach", Name: "Peach", Latin: "Prunus persica", Family: "stone fruit", Habit: "tree", Currency: Share, Perennial: true,
		},
		{
			ID: "pear", Name: "Pear", Latin: "Pyrus communis", Family: "pome fruit", Habit: "tree", Currency: Share, Perennial: true,
		},
		{
			ID: "strawberry", Name: "Strawberry", Latin: "Fragaria × ananassa", Family: "strawberry", Habit: "rosette", Currency: Share, Perennial: true,
			First: assumed(70, 50, 90, "d", "first new leaf to first picking, strawberry"),
		},

		// Vegetables and field crops.
		{
			ID: "artichoke", Name: "Artichoke", Latin: "Cynara cardunculus", Family: "daisy", Habit: "rosette", Currency: Picking, Perennial: true,
			LeafMax: assumed(4, 3, 5, "m²/m²", "leaf area of a full artichoke canopy"),
		},
		{
			ID: "aubergine", Name: "Aubergine", Latin: "Solanum melongena", Family: "solanum", Habit: "bush", Currency: Picking,
		},
		{
			ID: "barley", Name: "Barley", Latin: "Hordeum vulgare", Family: "cereal", Habit: "cereal", Currency: Picking,
		},
		{
			ID: "clover", Name: "Clover", Latin: "Trifolium", Family: "legume", Habit: "legume", Currency: Picking, Perennial: true,
		},
		{
			ID: "garlic", Name: "Garlic", Latin: "Allium sativum", Family: "allium", Habit: "bulb", Currency: Picking,
		},
		{
			ID: "hop", Name: "Hop", Latin: "Humulus lupulus", Family: "hop", Habit: "woody vine", Currency: Share, Perennial: true,
			LeafMax: assumed(4, 3, 5, "m²/m²", "leaf area of a full hop canopy"),
		},
		{
			ID: "leek", Name: "Leek", Latin: "Allium porrum", Family: "allium", Habit: "bulb", Currency: Picking,
		},
		{
			ID: "lentil", Name: "Lentil", Latin: "Vicia lens", Family: "legume", Habit: "legume", Currency: Picking,
		},
		{
			ID: "lettuce", Name: "Lettuce", Latin: "Lactuca sativa", Family: "lettuce", Habit: "rosette", Currency: Clean,
			Season: assumed(10, 5, 20, "d", "days over which a planting of lettuce is cut"),
		},
		{
			ID: "oat", Name: "Oat", Latin: "Avena sativa", Family: "cereal", Habit: "cereal", Currency: Picking,
		},
		{
			ID: "onion", Name: "Onion", Latin: "Allium cepa", Family: "allium", Habit: "bulb", Currency: Picking,
		},
		{
			ID: "pea", Name: "Pea", Latin: "Pisum sativum", Family: "legume", Habit: "legume", Currency: Picking,
		},
		{
			ID: "pepper", Name: "Pepper", Latin: "Capsicum annuum", Family: "solanum", Habit: "bush", Currency: Picking,
		},
		{
			ID: "rye", Name: "Rye", Latin: "Secale cereale", Family: "cereal", Habit: "cereal", Currency: Picking,
		},
		{
			ID: "tomato", Name: "Tomato", Latin: "Solanum lycopersicum", Family: "solanum", Habit: "bush", Currency: Picking,
			Light: cite.Value{V: 0.8, Lo: 0.75, Hi: 0.85, Unit: "1", Source: "tomato-light", Grade: cite.B, What: "extinction coefficient of light, processing tomato"},
		},
		{
			ID: "wheat", Name: "Wheat", Latin: "Triticum aestivum", Family: "cereal", Habit: "cereal", Currency: Picking,
		},

		// Flowers.
		{
			ID: "cosmos", Name: "Cosmos", Latin: "Cosmos bipinnatus", Family: "daisy", Habit: "flower", Currency: Looks,
		},
		{
			ID: "monarda", Name: "Monarda", Latin: "Monarda didyma", Family: "mint", Habit: "flower", Currency: Looks, Perennial: true,
		},
		{
			ID: "phlox", Name: "Phlox", Latin: "Phlox paniculata", Family: "phlox", Habit: "flower", Currency: Looks, Perennial: true,
		},
		{
			ID: "rose", Name: "Rose", Latin: "Rosa", Family: "rose", Habit: "shrub", Currency: Looks, Perennial: true,
		},
		{
			ID: "rudbeckia", Name: "Rudbeckia", Latin: "Rudbeckia", Family: "daisy", Habit: "flower", Currency: Looks, Perennial: true,
		},
		{
			ID: "sunflower", Name: "Sunflower", Latin: "Helianthus annuus", Family: "daisy", Habit: "flower", Currency: Looks,
		},
		{
			ID: "zinnia", Name: "Zinnia", Latin: "Zinnia elegans", Family: "daisy", Habit: "flower", Currency: Looks,
		},
	}
	for i := range rows {
		rows[i].complete()
	}
	return rows
}

// assumed is a value without a source.
func assumed(v, lo, hi float64, unit, what string) cite.Value {
	return cite.Value{V: v, Lo: lo, Hi: hi, Unit: unit, Source: "assumption", Grade: cite.C, What: what}
}
