package work

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"oidium/cite"
	"oidium/garden"
	"oidium/host"
	"oidium/internal/ledger"
	"oidium/mildew"
	"oidium/weather"
)

// weatherSetpointsVersion names the shape of [WeatherSetpoints].
const weatherSetpointsVersion = "oidium-weather-setpoints-1"

// WeatherSetpoints sets pairs of temperature and humidity side by side: how fast
// the mildews of a crop grow there, and what the pair costs the plant.
type WeatherSetpoints struct {
	Version  string             `json:"version" enum:"oidium-weather-setpoints-1" doc:"shape of this document"`
	Date     string             `json:"date" format:"date" doc:"the morning it is for"`
	Garden   Place              `json:"garden"`
	Bed      garden.BedID       `json:"bed,omitempty" doc:"absent where a crop was asked for without a bed"`
	BedName  string             `json:"bed_name,omitempty"`
	Crop     string             `json:"crop"`
	CropName string             `json:"crop_name"`
	Mildews  []MildewAtSetpoint `json:"mildews" doc:"which mildews the numbers of a pair are of, in this order"`
	Pairs    []Setpoint         `json:"pairs" doc:"every pair, by temperature, then humidity"`
	Says     []string           `json:"says" doc:"what to read from it"`
	Cautions []string           `json:"cautions" doc:"what to mind before the air is changed"`
	Assumed  []Assumption       `json:"assumed" doc:"what stands behind these numbers and is an assumption"`
	Sources  []cite.Source      `json:"sources"`
}

// MildewAtSetpoint names a mildew.
type MildewAtSetpoint struct {
	Mildew garden.MildewID `json:"mildew"`
	Name   string          `json:"name"`
}

// Setpoint is a pair of temperature and humidity held day and night.
type Setpoint struct {
	Temp    float64       `json:"temperature_c"`
	RH      float64       `json:"rh" doc:"%"`
	VPD     float64       `json:"vpd_kpa" doc:"how strongly the air dries"`
	Mildews []MildewSpeed `json:"mildews" doc:"in the order of mildews above"`
	Growth  float64       `json:"growth" doc:"growth by warmth against the best temperature shown, 0 to 1; what heat does to flowers and fruit is not in it"`
	Pores   float64       `json:"pores_open" doc:"how far the pores of the leaf stay open, 0 to 1; with them closed the plant takes in little"`
	Water   float64       `json:"water_g_m2_h" doc:"water a square metre of leaf in light gives off in an hour, g"`
	Wet     bool          `json:"leaves_wet" doc:"so damp that leaves count as wet: grey mould and downy mildews want that"`
}

// MildewSpeed is how fast a mildew grows at a pair.
type MildewSpeed struct {
	Rate     float64 `json:"rate_per_day" doc:"growth rate of the diseased leaf area on susceptible leaf while there is plenty of it; negative: it dies out"`
	Doubling float64 `json:"doubling_days,omitempty" doc:"days in which it doubles; absent where it does not grow"`
	Latent   float64 `json:"latent_days,omitempty" doc:"days from infection to new spores; absent where it does not get there"`
}

// The pairs that are set side by side.
var (
	setTemps = []float64{14, 18, 22, 26, 30, 34}
	setRHs   = []float64{40, 50, 60, 70, 80, 90, 95}
)

// CompareSetpoints compares pairs for the crop that stands in the bed, or for the
// crop named where bed is "".
func CompareSetpoints(entries []ledger.Entry, day garden.Day, bed garden.BedID, crop garden.CropID) (*WeatherSetpoints, error) {
	s, g, err := skyOf(entries, day, 1, 1, 1)
	if err != nil {
		return nil, err
	}
	out := &WeatherSetpoints{Version: weatherSetpointsVersion, Date: day.String(), Garden: placeOf(g, s.loc)}
	c, err := out.cropOf(g, day, bed, crop)
	if err != nil {
		return nil, err
	}
	out.Crop, out.CropName = string(c.ID), c.Name
	mildews := mildew.Of(c.ID)
	if len(mildews) == 0 {
		return nil, fmt.Errorf("%s", say("bed.no-mildew", "crop", c.Name))
	}
	for _, m := range mildews {
		out.Mildews = append(out.Mildews, MildewAtSetpoint{Mildew: m.ID, Name: m.Name})
	}
	best := 0.0
	for _, t := range setTemps {
		for _, rh := range setRHs {
			p := pairOf(c, mildews, t, rh)
			best = math.Max(best, p.Growth)
			out.Pairs = append(out.Pairs, p)
		}
	}
	for i := range out.Pairs {
		if best > 0 {
			out.Pairs[i].Growth = round3(out.Pairs[i].Growth / best)
		}
	}
	out.says(c)
	return out, nil
}

// cropOf finds the crop asked about.
func (out *WeatherSetpoints) cropOf(g *garden.Garden, day garden.Day, bed garden.BedID, crop garden.CropID) (*host.Crop, error) {
	if bed == "" {
		c, ok := host.Get(crop)
		if !ok {
			var ids []string
			for _, c := range host.All() {
				ids = append(ids, string(c.ID))
			}
			return nil, fmt.Errorf("the program does not know the crop %q; it knows %s", crop, strings.Join(ids, ", "))
		}
		return c, nil
	}
	if err := bedThere(g, bed); err != nil {
		return nil, err
	}
	plots, _ := plotsOf(g, day)
	i := slices.IndexFunc(plots, func(p *plot) bool { return p.bed.ID == bed })
	if i < 0 {
		return nil, fmt.Errorf("no crop that the program knows stands in bed %q on %s; name one: --crop", bed, day)
	}
	out.Bed, out.BedName = plots[i].bed.ID, nameOf(plots[i].bed)
	return plots[i].crop, nil
}

// pairOf works out one pair; Growth is not yet against the best temperature.
func pairOf(c *host.Crop, mildews []*mildew.Pathosystem, t, rh float64) Setpoint {
	vpd := weather.VPD(t, rh)
	open := 1 / (1 + vpd/poreVPD.V)
	p := Setpoint{
		Temp: t, RH: rh, VPD: round3(vpd), Pores: round3(open),
		Growth: c.Warmth(t),
		// mol m⁻² s⁻¹ of vapour to g m⁻² h⁻¹: 18 g/mol, 3600 s/h, exact.
		Water: round3(poreWide.V * open * vpd / seaLevel * 18 * 3600),
		Wet:   weather.Wetness{}.Wet(t, rh, math.NaN(), 0),
	}
	for _, m := range mildews {
		p.Mildews = append(p.Mildews, speedOf(c, m, t, rh))
	}
	return p
}

// seaLevel is the pressure of the air at sea level, kPa (fao-56).
const seaLevel = 101.3

// speedOf runs a mildew through days of one weather until they repeat, and takes
// its growth rate from the last ones.
func speedOf(c *host.Crop, m *mildew.Pathosystem, t, rh float64) MildewSpeed {
	const run, last = 12, 4 // days: numerical
	hours := mildew.Hours{T: fill24(t), RH: fill24(rh), Wind: fill24(stillWind.V)}
	var carry mildew.Carry
	var latent, ageing, infect, emit float64
	for d := range run {
		f := m.Fold(c, hours, &carry)
		if d >= run-last {
			latent += f.Latent / last
			ageing += f.Ageing / last
			infect += (f.Infect[garden.Upper] + f.Infect[garden.Lower]) / 2 / last
			emit += f.Emit / last
		}
	}
	r := growthRate(m.Rate.V*emit*infect, latent, ageing)
	out := MildewSpeed{Rate: round3(r)}
	if latent > 0 {
		out.Latent = round3(1 / latent)
	}
	if r > 0 {
		out.Doubling = round3(math.Ln2 / r)
	}
	return out
}

func fill24(x float64) []float32 {
	out := make([]float32, 24)
	for i := range out {
		out[i] = float32(x)
	}
	return out
}

// growthRate solves for r, the growth rate a day of a mildew with the transmission
// b a day, the latent period 1/latent and the infectious period 1/ageing:
//
//	1 = b exp(−r L) (1 − exp(−r D)) / r
//
// (vanderplank-1963, the same as the Euler-Lotka equation with a fixed latent and
// infectious period). Without a way from infection to spores it dies out as it
// ages.
func growthRate(b, latent, ageing float64) float64 {
	if latent <= 0 || b <= 0 {
		return -ageing
	}
	lag := 1 / latent
	length := math.Inf(1)
	if ageing > 0 {
		length = 1 / ageing
	}
	born := func(r float64) float64 {
		if r == 0 {
			return b * length
		}
		return b * math.Exp(-r*lag) * -math.Expm1(-r*length) / r
	}
	low, high := -2.0, 5.0 // 1/d, numerical
	for range 80 {
		mid := (low + high) / 2
		if born(mid) > 1 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// says puts into words what the pairs show.
func (out *WeatherSetpoints) says(c *host.Crop) {
	// Among pairs that cost the plant little, leave its leaves dry and are not
	// hotter than it can use, the one in which the fastest of its mildews is
	// slowest.
	worst := func(p Setpoint) float64 {
		r := math.Inf(-1)
		for _, m := range p.Mildews {
			r = math.Max(r, m.Rate)
		}
		return r
	}
	var fastest, kind *Setpoint
	for i := range out.Pairs {
		p := &out.Pairs[i]
		if fastest == nil || worst(*p) > worst(*fastest) {
			fastest = p
		}
		if p.Growth >= cheapGrowth.V && p.Pores >= cheapPores.V && p.Temp <= c.Ceiling.V && !p.Wet && (kind == nil || worst(*p) < worst(*kind)) {
			kind = p
		}
	}
	pair := func(p *Setpoint) []any {
		return []any{"t", short(p.Temp), "rh", short(p.RH), "growth", math.Round(100 * p.Growth), "pores", math.Round(100 * p.Pores), "rate", out.speedWords(*p)}
	}
	out.Says = append(out.Says, remark("set.fastest", pair(fastest)...))
	if kind != nil {
		out.Says = append(out.Says, remark("set.kind", append(pair(kind), "least", math.Round(100*cheapGrowth.V), "open", math.Round(100*cheapPores.V))...))
	}
	out.Says = append(out.Says, remark("set.humid"), remark("set.mean"), remark("set.heat"))
	out.Cautions = []string{remark("set.caution.other"), remark("set.caution.people")}
	for _, v := range []cite.Value{poreVPD, poreWide, stillWind, cheapGrowth, cheapPores} {
		out.Assumed = append(out.Assumed, Assumption{What: v.What, Value: valueOf(v), Source: v.Source, Grade: v.Grade})
	}
	for _, src := range cite.All() {
		if slices.Contains([]string{"assumption", "vanderplank-1963", poreVPD.Source}, src.ID) {
			out.Sources = append(out.Sources, src)
		}
	}
}

// speedWords says how fast the fastest mildew is at a pair.
func (out *WeatherSetpoints) speedWords(p Setpoint) string {
	i := 0
	for k := range p.Mildews {
		if p.Mildews[k].Rate > p.Mildews[i].Rate {
			i = k
		}
	}
	m := p.Mildews[i]
	if m.Doubling == 0 {
		return remark("set.dies", "name", out.Mildews[i].Name)
	}
	return remark("set.doubles", "name", out.Mildews[i].Name, "days", fmt.Sprintf("%.2g", m.Doubling))
}
