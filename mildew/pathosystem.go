package mildew

import (
	"math"
	"slices"
	"sync"

	"oidium/cite"
	"oidium/garden"
)

// hostCrop is one crop of a pathosystem's row.
type hostCrop struct {
	crop garden.CropID
	// low marks a host that sources dispute, or on which the mildew is rare; it
	// does not count as a host unless the user says so.
	low bool
}

// refuge is where a mildew outlives the time without leaf, which decides when in
// spring it comes back.
type refuge uint8

const (
	inBuds    refuge = iota // living tissue: breaks out with growth
	onDebris                // resting bodies: discharged by warm wet days
	onDebrisW               // the same, after a sum of warm wet hours (strawberry)
	inBark                  // resting bodies in bark: maturation and discharge by Caffi and others 2011
)

// Pathosystem is one mildew on its hosts: one row of data.
type Pathosystem struct {
	ID     garden.MildewID
	Name   string // scientific
	Common string // as the user reads it
	Code   string // EPPO code, "" where not confirmed
	Source string // where the first inoculum is thought to come from

	LatentBest cite.Value // d, shortest latent period
	Infectious cite.Value // d at 20 °C
	Rate       cite.Value // 1/d, transmission on the best day on the most susceptible leaf
	Colony     cite.Value // m², leaf taken by one established colony
	Arrival    cite.Value // colonies a day on a m² of leaf from outside, on the best day and leaf
	Debris     cite.Value // colonies on a m² of bed in all, from what the mildew left there

	hosts     []hostCrop
	latency   cardinal
	curve     func(t float64) float64 // latent days by a published equation, nil: latency
	infection cardinal
	infect    func(t float64) float64 // infection by a published equation, nil: infection
	sporing   cardinal
	humidity  []point    // factor on infection by relative humidity (%) at the leaf; nil: not known, none
	deficit   bool       // the humidity factor is that of the germination counts, by vapour deficit
	heatShift cite.Value // K added to the heat curve
	refuge    refuge

	youngWorst bool       // susceptibility falls with leaf age
	decay      cite.Value // 1/d, of that fall
	ramp       []point    // susceptibility by leaf age in days where old leaf is worse

	fast *tables
}

// tables are the row's responses, ready for loops over hours.
type tables struct {
	latent, infect, spore, ageing table    // by leaf temperature
	kill, killLatent              [2]table // share of the lethal time in an hour, both ends of the fits
	vapour                        table    // kPa at saturation
	moist                         table    // humidity factor by RH at the leaf, or by deficit
	wind                          table    // release by gust
	harmless                      float64  // °C, below which heat kills nothing
}

// All returns every pathosystem in the order of the rows. They must not be changed.
func All() []*Pathosystem { return slices.Clone(rows()) }

// Get returns the pathosystem with the given id. It must not be changed.
func Get(id garden.MildewID) (*Pathosystem, bool) {
	for _, p := range rows() {
		if p.ID == id {
			return p, true
		}
	}
	return nil, false
}

// Of returns the pathosystems that threaten a crop, without disputed ones, in
// the order of the rows.
func Of(crop garden.CropID) []*Pathosystem {
	var out []*Pathosystem
	for _, p := range rows() {
		if yes, low := p.Threatens(crop); yes && !low {
			out = append(out, p)
		}
	}
	return out
}

// Threatens reports whether the row names the crop, and whether that is of low
// confidence. The matrix is by row, never by family.
func (p *Pathosystem) Threatens(crop garden.CropID) (yes, low bool) {
	i := slices.IndexFunc(p.hosts, func(h hostCrop) bool { return h.crop == crop })
	if i < 0 {
		return false, false
	}
	return true, p.hosts[i].low
}

// latentDays returns the latent period at constant temperature t (°C), days;
// +Inf where none ends.
func (p *Pathosystem) latentDays(t float64) float64 {
	f := p.latency.at(t)
	if f <= 0 {
		return math.Inf(1)
	}
	if p.curve != nil {
		return p.curve(t)
	}
	return p.LatentBest.V / f
}

// infectiousDays returns the infectious period at constant temperature t, days:
// the row's at 20 °C scaled by e^(-0.0762 (T-20)) (Calonnec 2008).
func (p *Pathosystem) infectiousDays(t float64) float64 {
	return p.Infectious.V * math.Exp(-infectiousRise.V*(t-infectiousAt.V))
}

// Susceptible returns the susceptibility of leaf of the given age in days, 0 to
// 1, against the worst age.
func (p *Pathosystem) Susceptible(age float64) float64 {
	if p.youngWorst {
		return math.Exp(-p.decay.V * math.Max(0, age))
	}
	return lines(p.ramp, age)
}

// rows builds every row with its tables once.
var rows = sync.OnceValue(func() []*Pathosystem {
	var list []Pathosystem
	for _, part := range [][]Pathosystem{cucurbitRows(), fruitRows(), fieldRows(), flowerRows()} {
		list = append(list, part...)
	}
	out := make([]*Pathosystem, len(list))
	for i := range list {
		list[i].fast = list[i].tabulate()
		out[i] = &list[i]
	}
	return out
})

func (p *Pathosystem) tabulate() *tables {
	infect := p.infection.at
	if p.infect != nil {
		infect = p.infect
	}
	f := &tables{
		latent: byTemperature(func(t float64) float64 {
			if d := p.latentDays(t); d > 0 {
				return 1 / d
			}
			return 0
		}),
		infect: byTemperature(infect),
		spore:  byTemperature(p.sporing.at),
		ageing: byTemperature(func(t float64) float64 { return 1 / p.infectiousDays(math.Max(0, t)) }),
		vapour: byTemperature(saturated),
		wind:   tabulate(0, 0.1, 301, release), // numerical: to 30 m/s
		// A step of the tables lower, because they are read by straight lines (numerical).
		harmless: killFrom.V + p.heatShift.V + killYoung.V - 0.25,
	}
	if p.deficit {
		f.moist = tabulate(0, 0.005, 401, germinationByDeficit) // numerical: to 2 kPa
	} else {
		f.moist = tabulate(0, 0.25, 401, func(rh float64) float64 { return lines(p.humidity, rh) })
	}
	for i, c := range [2][2]float64{{killA1.V, killB1.V}, {killA2.V, killB2.V}} {
		f.kill[i] = byTemperature(func(t float64) float64 { return p.dose(t, c[0], c[1]) })
		f.killLatent[i] = byTemperature(func(t float64) float64 { return p.dose(t-killYoung.V, c[0], c[1]) })
	}
	return f
}

// dose returns the share of the lethal time that passes in an hour at leaf
// temperature t, 1/h.
func (p *Pathosystem) dose(t, a, b float64) float64 {
	t -= p.heatShift.V
	if t < killFrom.V {
		return 0
	}
	return 1 / killHours(math.Min(t, 60), a, b)
}
