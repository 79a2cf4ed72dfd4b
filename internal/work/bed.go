package work

import (
	"fmt"
	"math"

	"oidium/belief"
	"oidium/epidemic"
	"oidium/garden"
	"oidium/scout"
)

// report fills in what is believed of a plot this morning.
func (p *plot) report(s *sky, g *garden.Garden) BedReport {
	c := cloudOf(p)
	b := BedReport{
		Bed: p.bed.ID, Name: nameOf(p.bed), Order: p.bed.Order,
		Crop: string(p.crop.ID), Cultivar: p.planting.Cultivar,
		Shelter: string(p.bed.Shelter), AreaM2: round3(p.bed.Area()),
		LengthM: p.bed.Length, WidthM: p.bed.Width, XM: p.bed.X, YM: p.bed.Y,
	}
	today := s.today
	b.LeafArea = c.band(today, func(r epidemic.Record) float64 { return leafArea(r) * p.bed.Area() })
	b.Covered = c.band(today, severity)
	b.Upper = c.band(today, func(r epidemic.Record) float64 { return faceShare(r, garden.Upper) })
	b.Lower = c.band(today, func(r epidemic.Record) float64 { return faceShare(r, garden.Lower) })
	b.Incidence = band(belief.BandOf(c.oldLeaves(today), c.w))
	b.Doubling = doubling(c, today)
	for _, st := range p.stands {
		one := cloud{w: st.weights.W}
		for m := range st.weights.W {
			one.draws = append(one.draws, draw{st, m})
		}
		var learned []Learned
		if st.prob >= leastLikely {
			learned = p.learned(st)
		}
		b.Mildews = append(b.Mildews, Belief{
			Learned: learned,
			Mildew:  st.mildew.ID, Name: st.mildew.Name, Probability: round3(st.prob),
			Covered: one.band(today, severity),
			ESS:     round3(st.weights.ESS), RawESS: round3(st.weights.RawESS), Temper: round3(st.weights.Temper),
		})
	}
	for i := 1; i <= shownDays; i++ {
		d := today + garden.Day(i)
		b.Alone = append(b.Alone, FanDay{Date: d.String(), Band: c.band(d, severity)})
	}
	b.LastLook, b.Looked = p.looked(s)
	return b
}

func nameOf(b garden.Bed) string {
	if b.Name != "" {
		return b.Name
	}
	return string(b.ID)
}

func severity(r epidemic.Record) float64 { return r.Severity }

// leafArea is the one-sided leaf area, m² a m² of ground.
func leafArea(r epidemic.Record) float64 {
	sum := 0.0
	for _, a := range r.Area {
		sum += a
	}
	return sum
}

// doubling is the time in which the covered share doubles over the coming week
// if nothing is done, among the truths in which it grows; nil when in fewer than
// half of them it does.
func doubling(c cloud, today garden.Day) *Band {
	now, then := c.of(today, severity), c.of(today+7, severity)
	var x, w []float64
	grows := 0.0
	for i := range now {
		if now[i] > 1e-6 && then[i] > now[i]*1.01 {
			x = append(x, 7*math.Ln2/math.Log(then[i]/now[i]))
			w = append(w, c.w[i])
			grows += c.w[i]
		}
	}
	if grows < 0.5 {
		return nil
	}
	b := band(belief.BandOf(x, w))
	return &b
}

// looked says what the looks so far say.
func (p *plot) looked(s *sky) (last, words string) {
	if len(p.tallies) == 0 && len(p.readings) == 0 {
		return "", say("looked.never")
	}
	day := garden.Day(0)
	for _, r := range p.readings {
		day = max(day, garden.DayOf(r.Time.In(s.loc)))
	}
	for _, t := range p.tallies {
		if d := garden.DayOf(t.Time.In(s.loc)); d >= day {
			day = d
		}
	}
	if n := len(p.readings); n > 0 {
		words = say("looked.reading", "day", day, "share", fmt.Sprintf("%.3g", 100*p.readings[n-1].Share))
	}
	if n := len(p.tallies); n > 0 && (len(p.readings) == 0 || !p.tallies[n-1].Time.Before(p.readings[len(p.readings)-1].Time)) {
		t := p.tallies[n-1]
		a := scout.Assess(t, -1)
		inspected, infected, most := 0, 0, 0.0
		for _, f := range a.Face {
			inspected += f.Inspected
			infected += f.Infected
			if f.Inspected > 0 {
				most = math.Max(most, f.AtMost)
			}
		}
		on := garden.DayOf(t.Time.In(s.loc))
		switch {
		case t.Sure == "cannot tell":
			words = say("looked.unsure", "day", on, "n", inspected)
		case infected == 0:
			words = say("looked.none", "day", on, "n", inspected, "most", fmt.Sprintf("%.1f", 100*most))
		default:
			words = say("looked.some", "day", on, "found", infected, "n", inspected)
		}
	}
	return day.String(), words
}
