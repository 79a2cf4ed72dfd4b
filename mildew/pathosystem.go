package mildew

import (
	"math"
	"slices"
	"sync"

	"oidium/cite"
	"oidium/garden"
)

// Host is one crop of a pathosystem's row.
type Host struct {
	Crop garden.CropID
	// Low marks a host that sources dispute; it does not count as a host unless
	// the user says so.
	Low bool
}

// Pathosystem is one mildew on its hosts: one row of data.
type Pathosystem struct {
	ID     garden.MildewID
	Name   string // scientific
	Common string // as the user reads it
	Code   string // EPPO code, "" where not confirmed
	Hosts  []Host

	LatentBest cite.Value // d, shortest latent period
	Latency    Cardinal   // of the rate of latency
	// Curve gives the latent period directly where a published equation exists
	// (d at °C); nil otherwise.
	Curve      func(t float64) float64
	Infection  Cardinal
	Sporing    Cardinal
	Humidity   []Point    // factor on infection by relative humidity in %, at the leaf
	Deficit    bool       // the humidity factor is that of the germination counts (eq. G), by vapour deficit
	Infectious cite.Value // d at 20 °C
	Rate       cite.Value // 1/d, transmission on the best day, on susceptible leaf
	HeatShift  cite.Value // K added to the heat curve

	YoungWorst bool       // susceptibility falls with leaf age
	Decay      cite.Value // 1/d, of that fall
	Ramp       []Point    // susceptibility by leaf age in days where old leaf is worse

	Colony  cite.Value // m², leaf taken by one established colony
	Arrival cite.Value // colonies a day on a m² of susceptible leaf from outside, on the best day
	Debris  cite.Value // colonies on a m² of bed in all, from what the mildew left there
	Source  string     // where the first inoculum is thought to come from

	fast *tables
}

// tables are the row's responses by temperature.
type tables struct {
	latent, infect, spore, ageing *table
	kill                          [2]*table // share of the lethal time in an hour, established colonies, both ends of the fits
	killYoung                     [2]*table // the same, latent colonies
	vapour                        *table    // kPa at saturation
	wind                          [201]float64
}

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

// Threatens reports whether the row names the crop, and whether sources dispute
// it. The matrix is by row, never by family.
func (p *Pathosystem) Threatens(crop garden.CropID) (yes, low bool) {
	i := slices.IndexFunc(p.Hosts, func(h Host) bool { return h.Crop == crop })
	if i < 0 {
		return false, false
	}
	return true, p.Hosts[i].Low
}

// LatentDays returns the latent period at constant temperature t (°C), days;
// +Inf where none ends.
func (p *Pathosystem) LatentDays(t float64) float64 {
	if p.Curve != nil {
		return p.Curve(t)
	}
	f := p.Latency.At(t)
	if f <= 0 {
		return math.Inf(1)
	}
	return p.LatentBest.V / f
}

// InfectiousDays returns the infectious period at constant temperature t, days.
func (p *Pathosystem) InfectiousDays(t float64) float64 {
	return p.Infectious.V * math.Exp(-infectiousRise.V*(t-20))
}

// Susceptible returns the susceptibility of leaf of the given age in days, 0 to
// 1, against the worst age.
func (p *Pathosystem) Susceptible(age float64) float64 {
	if p.YoungWorst {
		return math.Exp(-p.Decay.V * math.Max(0, age))
	}
	return lines(p.Ramp, age)
}

// rows builds every row with its tables once.
var rows = sync.OnceValue(func() []*Pathosystem {
	list := pathosystems()
	out := make([]*Pathosystem, len(list))
	for i := range list {
		p := &list[i]
		p.fast = p.tabulate()
		out[i] = p
	}
	return out
})

func (p *Pathosystem) tabulate() *tables {
	f := &tables{
		latent: tabulate(func(t float64) float64 {
			d := p.LatentDays(t)
			if d <= 0 || math.IsInf(d, 1) {
				return 0
			}
			return 1 / d
		}),
		infect: tabulate(p.Infection.At),
		spore:  tabulate(p.Sporing.At),
		ageing: tabulate(func(t float64) float64 { return 1 / p.InfectiousDays(math.Max(0, t)) }),
		vapour: tabulate(saturation),
	}
	for i, c := range [2][2]float64{{killA1.V, killB1.V}, {killA2.V, killB2.V}} {
		f.kill[i] = tabulate(func(t float64) float64 { return p.dose(t, c[0], c[1]) })
		f.killYoung[i] = tabulate(func(t float64) float64 { return p.dose(t-killYoung.V, c[0], c[1]) })
	}
	for i := range f.wind {
		f.wind[i] = release(float64(i) / 10)
	}
	return f
}

// dose returns the share of the lethal time that passes in an hour at leaf
// temperature t, 1/h.
func (p *Pathosystem) dose(t, a, b float64) float64 {
	t -= p.HeatShift.V
	if t < killFrom.V {
		return 0
	}
	return 1 / killHours(math.Min(t, 60), a, b)
}
