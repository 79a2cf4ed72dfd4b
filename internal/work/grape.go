package work

import (
	"errors"
	"math"
	"slices"
	"time"

	"oidium/cite"
	"oidium/garden"
	"oidium/host"
	"oidium/internal/ledger"
	"oidium/mildew"
	"oidium/weather"
)

// grapeVersion names the shape of [Grape].
const grapeVersion = "oidium-grape-1"

// Grape is the published index of grape mildew by day over the weather of a bed.
type Grape struct {
	Version  string           `json:"version" enum:"oidium-grape-1" doc:"shape of this document"`
	Date     string           `json:"date" format:"date" doc:"the morning it is for"`
	AsOf     string           `json:"as_of" format:"date-time" doc:"nothing later than this instant was used"`
	Garden   Place            `json:"garden"`
	Bed      garden.BedID     `json:"bed"`
	BedName  string           `json:"bed_name"`
	Rule     string           `json:"heat_rule" enum:"published,revised" doc:"published: a quarter of an hour at 35 °C counts against the index; revised: two hours at 38 °C, as tested in 2013"`
	Reset    bool             `json:"reset" doc:"true: a treatment sets the index to 0, which one of its two published versions does"`
	BudBreak string           `json:"bud_break,omitempty" format:"date" doc:"reckoned from warmth; absent: not yet"`
	Days     []GrapeDay       `json:"days" doc:"the days that are over, from bud break on"`
	Origin   string           `json:"origin,omitempty" doc:"origin and licence of the measured data"`
	Says     []string         `json:"says" doc:"what it is and what it is not"`
	Warnings []garden.Warning `json:"warnings"`
	Cautions []string         `json:"cautions"`
	Assumed  []Assumption     `json:"assumed" doc:"what stands behind these numbers and is an assumption"`
	Sources  []cite.Source    `json:"sources"`
}

// GrapeDay is one day.
type GrapeDay struct {
	Date     string  `json:"date" format:"date"`
	Measured int     `json:"measured_hours" doc:"hours whose temperature rests on a reading"`
	Max      float64 `json:"max_c"`
	Index    float64 `json:"index" doc:"in the evening, 0 to 100 points"`
	Pressure string  `json:"pressure" enum:"low,moderate,high"`
	Treated  bool    `json:"treated"`
	// Of the longest wet spell that reached into the day.
	Wet     float64  `json:"wet_hours" doc:"longest wet spell up to the end of the day, h"`
	WetMean *float64 `json:"wet_mean_c,omitempty" doc:"its mean temperature; absent: it was dry"`
	Need    *float64 `json:"wet_hours_for_ascospores,omitempty" doc:"wet hours from which ascospores infect at that temperature; absent: they do not, or it was dry"`
	Infects bool     `json:"ascospores_infect"`
}

// GrapeOptions say for which bed and by which version of the rules.
type GrapeOptions struct {
	Day     garden.Day
	Bed     garden.BedID
	Revised bool // the heat rule of 2013
	Reset   bool // treatments set the index to 0
}

// GrapeIndex works out the index over the days before o.Day. The error is that no
// grape stands in the bed.
func GrapeIndex(entries []ledger.Entry, o GrapeOptions) (*Grape, error) {
	s, g, err := skyOf(entries, o.Day, 0, 1, 1)
	if err != nil {
		return nil, err
	}
	if err := bedThere(g, o.Bed); err != nil {
		return nil, err
	}
	plots, _ := plotsOf(g, o.Day)
	i := slices.IndexFunc(plots, func(p *plot) bool { return p.bed.ID == o.Bed })
	switch {
	case i < 0:
		return nil, errors.New(speak("grape.empty", "bed", o.Bed, "day", o.Day))
	case plots[i].crop.ID != "grape":
		return nil, errors.New(speak("grape.crop", "bed", o.Bed, "crop", plots[i].crop.Name))
	}
	p := plots[i]
	p.air = s.at(p.bed, g.Site)
	out := &Grape{
		Version: grapeVersion, Date: o.Day.String(), AsOf: s.asOf.Format(time.RFC3339), Garden: placeOf(g, s.loc),
		Bed: p.bed.ID, BedName: nameOf(p.bed), Rule: "published", Reset: o.Reset, Warnings: s.warnings,
		Says: []string{speak("grape.what"), speak("grape.not"), speak("grape.test"), speak("grape.asco")},
	}
	if o.Revised {
		out.Rule = "revised"
	}
	if s.measured != nil {
		out.Origin = originOf(s.station)
	}
	out.count(p, g, s, o)
	if out.BudBreak == "" {
		out.Says = append(out.Says, speak("grape.dormant", "bed", out.BedName))
	} else {
		out.Says = append(out.Says, speak("grape.break", "day", out.BudBreak))
	}
	out.Cautions = []string{say("caution.advice"), say("caution.treat")}
	for _, v := range []cite.Value{p.crop.Bud, p.crop.Base} {
		out.Assumed = append(out.Assumed, Assumption{What: v.What, Value: valueOf(v), Source: v.Source, Grade: v.Grade})
	}
	for _, src := range cite.All() {
		if slices.Contains([]string{"uc-ipm-grape-index", p.crop.Bud.Source, p.crop.Base.Source}, src.ID) || o.Revised && src.ID == "peduto-2013" {
			out.Sources = append(out.Sources, src)
		}
	}
	full(&out.Days)
	full(&out.Warnings)
	full(&out.Sources)
	return out, nil
}

// count goes over the days from the start of the season.
func (out *Grape) count(p *plot, g *garden.Garden, s *sky, o GrapeOptions) {
	treated := make(map[garden.Day]bool)
	for _, t := range g.Treatments {
		if t.Bed == p.bed.ID {
			treated[garden.DayOf(t.Start.In(s.loc))] = true
		}
	}
	index := mildew.GrapeIndex{Revised: o.Revised}
	warm := 0.0
	var spell wetSpell
	for d := p.start; d < o.Day; d++ {
		h := s.hoursOf(p.air.known, p.bed, d)
		if len(h.T) == 0 {
			continue
		}
		broken := warm >= p.crop.Bud.V
		warm += warmthOf(p.crop, h.T)
		day := GrapeDay{Date: d.String(), Max: math.Inf(-1), Treated: treated[d]}
		spell.begin()
		from := p.air.known.Index(s.begin(d))
		for k, t := range h.T {
			day.Max = math.Max(day.Max, round3(float64(t)))
			if p.air.known.F[weather.Temp][max(0, from)+k].Seen() {
				day.Measured++
			}
			spell.hour(h, k)
		}
		if !broken {
			continue
		}
		if out.BudBreak == "" {
			out.BudBreak = d.String()
		}
		day.Index = index.Day(h.T)
		if day.Treated && o.Reset {
			index.Treated()
			day.Index = 0
		}
		day.Pressure = index.Pressure()
		day.Wet = spell.longest
		if spell.longest > 0 {
			mean := round3(spell.mean)
			day.WetMean = &mean
			if need, ok := mildew.AscosporeHours(spell.mean); ok {
				day.Need, day.Infects = &need, spell.longest >= need
			}
		}
		out.Days = append(out.Days, day)
	}
}

// warmthOf is the thermal time of a day of hours, °C d.
func warmthOf(c *host.Crop, t []float32) float64 {
	sum := 0.0
	for _, x := range t {
		sum += c.Warmth(float64(x)) / float64(len(t))
	}
	return sum
}

// wetSpell finds the longest run of wet hours that reaches into a day; a run that
// goes on over midnight is counted from its beginning.
type wetSpell struct {
	hours, sum    float64 // of the run that goes on
	longest, mean float64
}

func (w *wetSpell) begin() { w.longest, w.mean = 0, 0 }

func (w *wetSpell) hour(h mildew.Hours, i int) {
	at := func(x []float32) float64 {
		if i >= len(x) {
			return math.NaN()
		}
		return float64(x[i])
	}
	rain := 0.0
	for _, x := range []float64{at(h.Rain), at(h.Water)} {
		if x > 0 {
			rain += x
		}
	}
	if !(weather.Wetness{}).Wet(float64(h.T[i]), at(h.RH), at(h.Wind), rain) {
		w.hours, w.sum = 0, 0
		return
	}
	w.hours++
	w.sum += float64(h.T[i])
	if w.hours > w.longest {
		w.longest, w.mean = w.hours, w.sum/w.hours
	}
}
