package host

import (
	"slices"
	"sync"

	"oidium/cite"
	"oidium/garden"
)

// Currency is what a day of the crop is worth to whoever keeps it.
type Currency string

// The currencies.
const (
	Picking Currency = "picking" // produce picked day after day; healthy leaf in the light carries it
	Share   Currency = "share"   // the share of one harvest that can be sold
	Looks   Currency = "looks"   // how the plant looks
	Clean   Currency = "clean"   // the leaf itself is sold: any visible mildew counts
)

// Crop is one kind of plant: its canopy and its value. Crops are data; two crops
// differ in numbers only.
type Crop struct {
	ID        garden.CropID
	Name      string
	Latin     string
	Family    string // as the trade groups crops: "cucurbit", "grape", "solanum"; says nothing of who infects whom
	Habit     string // growth habit whose generic numbers stand where no source exists
	Currency  Currency
	Perennial bool // leaf starts anew from standing wood or crowns each season

	Base     cite.Value // °C, below which no leaf grows
	Ceiling  cite.Value // °C, above which growth is no faster
	Growth   cite.Value // 1/(°C d), relative growth of leaf area of a small plant
	LeafSet  cite.Value // m²/m², leaf area on the day of planting or at bud break
	LeafMax  cite.Value // m²/m², leaf area a full canopy tends to
	Lifespan cite.Value // d, age at which a healthy leaf begins to fall
	Young    cite.Value // d, a leaf is young up to this age
	Old      cite.Value // d, a leaf is old from this age on
	Light    cite.Value // extinction coefficient of light in the canopy
	Sunned   cite.Value // K, most that a leaf in full sun and still air is warmer than the air
	Fruit    cite.Value // °C d from planting to the first fruit that draws on the plant
	Load     cite.Value // growth of new leaf left under full fruit load, 1 where there is none
	Picked   cite.Value // share of the fruit load that one picking takes
	Bud      cite.Value // °C d from the turn of the year to bud break, perennials
	First    cite.Value // d from planting or bud break to the first harvest
	Season   cite.Value // d that harvest or looks last
	Spare    cite.Value // share of intercepted light the crop can lose without loss of yield
	Weak     cite.Value // exponent of the light use of a mildewed leaf, (1-y)^Weak
	Half     cite.Value // visible severity at which half the day's looks or saleable share is lost
}

// Get returns the crop with the given id. The crop must not be changed.
func Get(id garden.CropID) (*Crop, bool) {
	c, ok := index()[id]
	return c, ok
}

// All returns every crop, ordered by id. The crops must not be changed.
func All() []*Crop {
	out := make([]*Crop, 0, len(index()))
	for _, c := range index() {
		out = append(out, c)
	}
	slices.SortFunc(out, func(a, b *Crop) int {
		if a.ID < b.ID {
			return -1
		}
		return 1
	})
	return out
}

var index = sync.OnceValue(func() map[garden.CropID]*Crop {
	m := make(map[garden.CropID]*Crop)
	for _, c := range crops() {
		m[c.ID] = &c
	}
	return m
})
