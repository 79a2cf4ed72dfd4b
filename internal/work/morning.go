package work

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"oidium/belief"
	"oidium/garden"
	"oidium/host"
	"oidium/internal/ledger"
	"oidium/tunnel"
	"oidium/weather"
)

// Options say for which morning, and with how much computing, a round is made.
type Options struct {
	Day garden.Day
	// Now is an instant later on Day than its morning, when the round is asked for
	// as things stand now; zero for the morning, 06:00.
	Now     time.Time
	Members int // of each ensemble; 0 means 200
	Workers int // 0 means as many as there are processors; changes no result
}

// Morning gives the round of the morning of opt.Day, 06:00 there. It uses what
// the entries say that was known by then and nothing else. The error is that the
// entries contradict each other or that the place has no usable zone; anything
// less is a warning in the round.
func Morning(ctx context.Context, entries []ledger.Entry, opt Options) (*Round, error) {
	sc, err := setScene(ctx, entries, opt)
	if err != nil {
		return nil, err
	}
	opt, g, s, plots := sc.opt, sc.g, sc.s, sc.plots
	r := &Round{
		Version: roundVersion, Date: opt.Day.String(), AsOf: sc.asOf.Format(time.RFC3339), Members: opt.Members,
		Garden: placeOf(g, sc.loc),
	}
	r.Warnings = append(r.Warnings, g.Warnings...)
	r.Warnings = append(r.Warnings, s.warnings...)
	r.Weather = s.report(g, sc.first)
	var all []*decided
	for _, p := range plots {
		b := p.report(s, g)
		if len(p.stands) == 0 {
			b.Verdict, b.Reason = "nothing", say("bed.no-mildew", "crop", p.crop.Name)
			r.Beds = append(r.Beds, b)
			continue
		}
		c, err := p.decide(ctx, g, s, opt.Workers)
		if err != nil {
			return nil, err
		}
		all = append(all, &decided{p: p, c: c, words: p.conclude(&b, c, s, g, r)})
		r.Beds = append(r.Beds, b)
		r.warnWeights(p)
	}
	r.Beds = append(r.Beds, sc.idle...)
	slices.SortStableFunc(r.Beds, func(a, b BedReport) int { return cmp.Compare(a.Order, b.Order) })
	r.schedule(all, g, s)
	r.assume(g, plots)
	r.finish()
	return r, nil
}

// instant returns the zone of the garden and 06:00 of the day there. The zone is
// that of the site as known on that morning; to find it, the morning is first
// taken at the latest place on earth where the day begins.
func instant(entries []ledger.Entry, day garden.Day) (*time.Location, time.Time, error) {
	late := day.At(6, time.FixedZone("", -12*3600))
	g, err := ledger.Fold(entries, late)
	if err != nil {
		return nil, time.Time{}, err
	}
	loc, err := zoneOf(g.Site)
	if err != nil {
		return nil, time.Time{}, err
	}
	asOf := day.At(6, loc)
	// The site must have been known by that instant itself.
	if g, err = ledger.Fold(entries, asOf); err != nil {
		return nil, time.Time{}, err
	}
	if loc, err = zoneOf(g.Site); err != nil {
		return nil, time.Time{}, err
	}
	return loc, day.At(6, loc), nil
}

// plotsOf returns the beds with a crop on them this morning, and a report for
// each bed without one.
func plotsOf(g *garden.Garden, today garden.Day) (plots []*plot, idle []BedReport) {
	for _, b := range g.Beds {
		var here []garden.Planting
		next := garden.Planting{}
		for _, p := range g.Plantings {
			switch {
			case p.Bed != b.ID || p.Cleared != 0 && p.Cleared <= today:
			case p.Planted > today:
				if next.Planted == 0 || p.Planted < next.Planted {
					next = p
				}
			default:
				here = append(here, p)
			}
		}
		none := BedReport{Bed: b.ID, Name: nameOf(b), Order: b.Order, Shelter: string(b.Shelter), AreaM2: round3(b.Area()), LengthM: b.Length, WidthM: b.Width, XM: b.X, YM: b.Y, Verdict: "no-crop", Looked: say("looked.empty")}
		if len(here) == 0 {
			none.Reason = say("bed.no-crop")
			if next.Planted != 0 {
				none.Reason = say("bed.planned", "crop", next.Crop, "day", next.Planted)
			}
			idle = append(idle, none)
			continue
		}
		p := here[len(here)-1] // the one planted last
		if crop, ok := host.Get(p.Crop); ok && !crop.Perennial && over(p, today) {
			none.Crop, none.Reason = string(p.Crop), say("bed.over", "crop", p.Crop, "day", p.Planted)
			idle = append(idle, none)
			continue
		}
		if len(here) > 1 {
			g.Warnings = append(g.Warnings, garden.Warning{Code: "two-crops", Bed: b.ID, Text: say("bed.two-crops", "bed", nameOf(b), "crop", p.Crop)})
		}
		crop, ok := host.Get(p.Crop)
		if !ok {
			none.Crop = string(p.Crop)
			none.Reason = say("bed.unknown-crop", "crop", p.Crop)
			idle = append(idle, none)
			continue
		}
		if b.Area() <= 0 {
			none.Crop = string(p.Crop)
			none.Reason = say("bed.no-size")
			idle = append(idle, none)
			continue
		}
		plots = append(plots, &plot{bed: b, planting: p, crop: crop, start: seasonStart(p, crop, g.Site.Latitude, today)})
	}
	return plots, idle
}

// over tells whether a crop that lives for a season must have ended, although
// nobody has said when it was cleared.
func over(p garden.Planting, today garden.Day) bool {
	if p.LastPick != 0 {
		return today > p.LastPick+garden.Day(overDays.V)
	}
	return today > p.Planted+garden.Day(usualSeason.Hi+overDays.V)
}

// tunnelOf turns the settings of a bed into what the tunnel's model needs.
func tunnelOf(b garden.Bed, at time.Time) tunnel.Params {
	set := settingOn(b, at)
	return tunnel.Params{Vents: set.Vents, Shade: set.Shade, Cropped: true}
}

func moneyOf(s garden.Site) string {
	if s.Money == "" {
		return "money"
	}
	return s.Money
}

// warnWeights passes on what limits the weights of a plot's members.
func (r *Round) warnWeights(p *plot) {
	least, temper := math.Inf(1), 1.0
	for _, st := range p.stands {
		// A mildew that is hardly likely limits nothing.
		if st.prob >= 0.05 && st.weights.RawESS < least {
			least, temper = st.weights.RawESS, st.weights.Temper
		}
	}
	if temper < 1 {
		r.Warnings = append(r.Warnings, garden.Warning{Code: "few-agree", Bed: p.bed.ID, Text: say("few-agree", "n", fmt.Sprintf("%.0f", math.Max(1, least)), "of", conditioned*r.Members, "temper", fmt.Sprintf("%.2f", temper))})
	}
}

// report says what the weather behind the round is made of.
func (s *sky) report(g *garden.Garden, first garden.Day) WeatherReport {
	w := WeatherReport{Forecast: s.forecast, Origin: originOf(s.station)}
	if s.measured != nil {
		for _, f := range s.known.F[weather.Temp] {
			if f.Seen() {
				w.Measured++
			} else {
				w.Filled++
			}
		}
		w.Until = lastSeen(s.measured).In(s.loc).Format(time.RFC3339)
	} else {
		w.Filled = s.known.Len()
	}
	even := make([]float64, len(s.ahead))
	top, rain := make([]float64, len(s.ahead)), make([]float64, len(s.ahead))
	for k, a := range s.ahead {
		even[k] = 1
		top[k] = math.Inf(-1)
		for i := range min(24, a.Len()) {
			top[k] = math.Max(top[k], float64(a.V[weather.Temp][i]))
			if !a.Time(i).Before(s.knownTo) {
				rain[k] += float64(a.V[weather.Rain][i])
			}
		}
	}
	w.TodayMax, w.RainToday = band(belief.BandOf(top, even)), band(belief.BandOf(rain, even))
	n, sum := 0, 0.0
	for i := max(0, s.known.Len()-7*24); i < s.known.Len(); i++ {
		n++
		sum += float64(s.known.V[weather.Temp][i])
	}
	if n > 0 {
		w.Mean7 = round3(sum / float64(n))
	}
	return w
}

func originOf(st weather.Station) string {
	out := st.Name
	if st.Origin != "" {
		out += ", " + st.Origin
	}
	if st.Licence != "" {
		out += " (" + st.Licence + ")"
	}
	return out
}

// lastSeen returns the end of the last hour with a measured temperature.
func lastSeen(w *weather.Series) time.Time {
	for i := w.Len() - 1; i >= 0; i-- {
		if w.F[weather.Temp][i].Seen() {
			return w.Time(i).Add(time.Hour)
		}
	}
	return w.Start
}
