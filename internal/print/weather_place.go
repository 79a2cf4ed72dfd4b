package print

import (
	"io"
	"math"
	"strconv"

	"oidium/internal/work"
)

// WeatherPlace writes the months of a place. Errors are those of w.
func WeatherPlace(w io.Writer, r *work.WeatherPlace) error {
	p, err := newSkyPaper(w)
	if err != nil {
		return err
	}
	p.head(tell("place.head"), r.Garden, r.Date)
	sea := tell("place.inland")
	if r.Maritime {
		sea = tell("place.sea")
	}
	p.para("", tell("place.at", "lat", degrees(r.Garden.Latitude, "N", "S"), "lon", degrees(r.Garden.Longitude, "E", "W"), "alt", fixed(r.Altitude, 0), "sea", sea))
	p.para("", tell("place.says", "text", clean(r.Says), "grade", string(r.Grade)))
	p.line("")
	p.line(tell("place.cols.1"))
	p.line(tell("place.cols.2"))
	for _, m := range r.Months {
		p.line("  " + pad(first(p.say("month."+strconv.Itoa(m.Month)), 3), 4) + row(
			cell{9, give(m.Tmin)}, cell{10, give(m.Tmax)}, cell{14, whole(&m.RHNoon)},
			cell{12, whole(&m.WetDays)}, cell{15, whole(&m.Rain)}, cell{7, fixed(m.Radiation.Mid, 1)}, cell{6, fixed(m.DayLength, 1)}))
	}
	p.line("")
	p.para("  ", tell("place.note"))
	p.polar(r.Months)
	p.texts(tell("place.better"), r.Better)
	p.warnings(r.Warnings)
	return p.err
}

// give prints an even band as its middle and half its width: 14 ±5.
func give(b work.Band) string {
	half := (b.High - b.Low) / 2
	decimals := 0
	if half < 1 {
		decimals = 1
	}
	return fixed(b.Mid, decimals) + " ±" + fixed(half, decimals)
}

// polar says in which months the sun stays up or down.
func (p *skyPaper) polar(months []work.MonthOfPlace) {
	for _, kind := range []string{"polar day", "polar night"} {
		list := ""
		for _, m := range months {
			if m.Light != kind {
				continue
			}
			if list != "" {
				list += ", "
			}
			list += p.say("month." + strconv.Itoa(m.Month))
		}
		if list == "" {
			continue
		}
		if kind == "polar day" {
			p.para("  ", tell("place.polar-day", "months", list))
		} else {
			p.para("  ", tell("place.polar-night", "months", list))
		}
	}
}

func degrees(x float64, plus, minus string) string {
	if x < 0 {
		plus = minus
	}
	return fixed(math.Abs(x), 2) + "°" + plus
}

// WeatherSetpoints writes pairs of temperature and humidity. Errors are those of w.
func WeatherSetpoints(w io.Writer, r *work.WeatherSetpoints) error {
	p, err := newSkyPaper(w)
	if err != nil {
		return err
	}
	what := tell("set.head", "crop", clean(r.CropName))
	if r.Bed != "" {
		what = tell("set.head.bed", "crop", clean(r.CropName), "bed", clean(r.BedName))
	}
	p.head(what, r.Garden, r.Date)
	for _, s := range r.Says {
		p.para("", clean(s))
	}
	for i, m := range r.Mildews {
		p.title(tell("set.mildew", "name", clean(m.Name)))
		p.grid(r.Pairs, func(s work.Setpoint) string {
			v := s.Mildews[i]
			if v.Doubling == 0 || v.Doubling > 99 {
				return tell("set.none")
			}
			return short(v.Doubling)
		})
	}
	p.title(tell("set.growth"))
	p.growth(r.Pairs)
	p.title(tell("set.pores"))
	p.grid(r.Pairs, func(s work.Setpoint) string { return fixed(100*s.Pores, 0) })
	p.title(tell("set.water"))
	p.grid(r.Pairs, func(s work.Setpoint) string { return fixed(s.Water, 0) })
	p.title(tell("set.dries"))
	p.grid(r.Pairs, func(s work.Setpoint) string { return fixed(s.VPD, 2) })
	p.texts(tell("title.cautions"), r.Cautions)
	p.assumed(r.Assumed)
	return p.err
}

// grid writes one number of every pair: temperatures down, humidities across.
func (p *skyPaper) grid(pairs []work.Setpoint, of func(work.Setpoint) string) {
	var head []string
	for _, s := range pairs {
		if s.Temp == pairs[0].Temp {
			head = append(head, fixed(s.RH, 0)+" %")
		}
	}
	p.cells("", 12, 9, head...)
	for i := 0; i < len(pairs); i += len(head) {
		var line []string
		for _, s := range pairs[i:min(i+len(head), len(pairs))] {
			line = append(line, of(s))
		}
		p.cells("  "+fixed(pairs[i].Temp, 0)+" °C", 12, 9, line...)
	}
}

// growth writes the one number that goes with temperature alone.
func (p *skyPaper) growth(pairs []work.Setpoint) {
	var temps, shares []string
	for i, s := range pairs {
		if i == 0 || s.Temp != pairs[i-1].Temp {
			temps, shares = append(temps, fixed(s.Temp, 0)+" °C"), append(shares, fixed(100*s.Growth, 0))
		}
	}
	p.cells("", 12, 9, temps...)
	p.cells("", 12, 9, shares...)
}

// WeatherScore writes how kept forecasts did. Errors are those of w.
func WeatherScore(w io.Writer, r *work.WeatherScore) error {
	p, err := newSkyPaper(w)
	if err != nil {
		return err
	}
	p.head(tell("score.head"), r.Garden, r.Date)
	p.para("", clean(r.Headline))
	scored := false
	for _, o := range r.Origins {
		scored = scored || len(o.Days) > 0
		p.line("")
		p.para("", clean(o.Origin))
		p.para("", tell("score.issues", "n", o.Issues))
		if len(o.Days) == 0 {
			continue
		}
		line := func(what, lead, n, bias, off, spread, inside, score string) {
			p.line("  " + pad(what, 18) + row(cell{6, lead}, cell{6, n}, cell{8, bias}, cell{8, off}, cell{8, spread}, cell{9, inside}, cell{15, score}))
		}
		line("", tell("score.lead"), tell("score.n"), tell("score.bias"), tell("score.error"), tell("score.spread"), tell("score.inside"), tell("score.crps"))
		last := ""
		for _, d := range o.Days {
			what := ""
			if d.What != last {
				what, last = tell("score.of."+d.What, "unit", d.Unit), d.What
			}
			line(what, strconv.Itoa(d.Lead), strconv.Itoa(d.N), signed(d.Bias), short(d.Error), short(d.Spread),
				fixed(100*d.Coverage, 0)+" %", tell("score.both", "with", short(d.CRPS), "without", short(d.Without)))
		}
	}
	if scored {
		p.line("")
		p.para("  ", tell("score.note"))
	}
	p.warnings(r.Warnings)
	return p.err
}

func signed(x float64) string {
	s := short(x)
	if x > 0 && s != "0" {
		return "+" + s
	}
	return s
}
