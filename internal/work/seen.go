package work

import (
	"cmp"
	"math"
	"slices"
	"time"

	"oidium/cite"
	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/scout"
)

const seenVersion = "oidium-seen-1"

// Seen is what the looks at a bed say by themselves, without any forecast.
type Seen struct {
	Version string `json:"version" enum:"oidium-seen-1" doc:"shape of this document"`
	About
	Looks     []LookSaid     `json:"looks" doc:"tallies of this planting, oldest first"`
	Readings  []ReadingSaid  `json:"readings" doc:"readings of covered leaf area, oldest first"`
	Paces     []PaceSaid     `json:"paces" doc:"how fast it moves; a pace needs looks on two days"`
	Progress  []ProgressSaid `json:"progress" doc:"area under the curve of disease; needs two days"`
	Curves    []CurveSaid    `json:"curves" doc:"laws of growth fitted to the readings, best first; needs three days"`
	CurvesOf  string         `json:"curves_of,omitempty" enum:"covered,incidence" doc:"what the curves are fitted to"`
	Severity  *FromIncidence `json:"severity_from_incidence,omitempty" doc:"absent: no look to turn"`
	Words     []string       `json:"words" doc:"the latest look in sentences"`
	NextRound string         `json:"next" doc:"what would make it surer"`
	Grounds
}

// LookSaid is what one tally says.
type LookSaid struct {
	Date       string         `json:"date" format:"date"`
	Who        string         `json:"who,omitempty"`
	Check      string         `json:"check" enum:"eye,lens,wet-bag"`
	Sure       string         `json:"sure" enum:"sure,likely,cannot tell"`
	Upper      CountSaid      `json:"upper"`
	Lower      CountSaid      `json:"lower"`
	Young      CountSaid      `json:"young" doc:"leaves, the worse face of each plant counted"`
	Middle     CountSaid      `json:"middle"`
	Old        CountSaid      `json:"old"`
	Plants     int            `json:"plants" doc:"told apart"`
	WithMildew int            `json:"plants_with_mildew"`
	Expected   float64        `json:"plants_expected" doc:"share of plants with mildew that the clumping lets expect at this incidence"`
	Rho        float64        `json:"rho" doc:"resemblance of leaves of one plant"`
	RhoFitted  bool           `json:"rho_fitted" doc:"from this look; else assumed"`
	Threshold  *ThresholdSaid `json:"threshold,omitempty" doc:"cucurbits only: at least 1 mildewed leaf in 50 old leaves, both faces"`
}

// CountSaid is what a count says about a share.
type CountSaid struct {
	Infected  int     `json:"infected"`
	Inspected int     `json:"inspected"`
	Share     float64 `json:"share"`
	Low       float64 `json:"low" doc:"95 % score interval, with the clumping"`
	High      float64 `json:"high"`
	ExactLow  float64 `json:"exact_low" doc:"95 % exact interval, leaves taken as independent"`
	ExactHigh float64 `json:"exact_high"`
	AtMost    float64 `json:"at_most" doc:"one-sided 95 % limit, with the clumping where none was found"`
}

// ThresholdSaid is the state of the threshold.
type ThresholdSaid struct {
	Leaves   int     `json:"leaves" doc:"old leaves looked at on both faces"`
	Infected int     `json:"infected"`
	Reached  bool    `json:"reached"`
	Short    int     `json:"short" doc:"leaves still to look at before not reached may be said"`
	AtRule   float64 `json:"chance_at_rule" doc:"chance of a count as odd as this if the bed stood just at 1 in 50"`
	Source   string  `json:"source"`
}

// ReadingSaid is one reading of covered leaf area.
type ReadingSaid struct {
	Date      string  `json:"date" format:"date"`
	Who       string  `json:"who,omitempty"`
	Age       string  `json:"age" enum:"young,middle,old,whole"`
	Face      string  `json:"face" enum:"upper,lower"`
	Share     float64 `json:"share" doc:"as read"`
	Scale     string  `json:"scale,omitempty" doc:"the scale it was read on; absent: percent"`
	Grade     float64 `json:"grade,omitempty" doc:"as entered on that scale"`
	Corrected *Band   `json:"corrected,omitempty" doc:"what it most likely stands for, by the reader's own training leaves; absent: no training is in the book"`
}

// PaceSaid is how fast the share moves, on the logit scale.
type PaceSaid struct {
	Of        string  `json:"of" enum:"incidence,incidence upper,incidence lower,covered"`
	Days      int     `json:"days" doc:"days with a look"`
	Rate      float64 `json:"rate" doc:"per day"`
	RateLow   float64 `json:"rate_low" doc:"80 % band"`
	RateHigh  float64 `json:"rate_high"`
	Doubling  float64 `json:"doubling_days" doc:"in which a small share doubles; 0: it does not grow"`
	Soonest   float64 `json:"doubling_soonest_days"`
	Latest    float64 `json:"doubling_latest_days" doc:"0: it may not be growing at all"`
	Sentences string  `json:"words"`
}

// ProgressSaid is the area under a curve of disease.
type ProgressSaid struct {
	Of             string  `json:"of" enum:"incidence upper,incidence lower,covered upper,covered lower"`
	From           string  `json:"from" format:"date"`
	To             string  `json:"to" format:"date"`
	Days           int     `json:"days" doc:"days with a look"`
	Area           float64 `json:"area" doc:"by trapezoids, share x days"`
	RelativeArea   float64 `json:"relative_area" doc:"over that of a curve at full all the time"`
	Stairs         float64 `json:"stairs" doc:"first and last look given the weight of the others, share x days"`
	RelativeStairs float64 `json:"relative_stairs"`
	TwoPoint       float64 `json:"logistic_area,omitempty" doc:"under the logistic curve through first and last look; absent when one is none or all"`
}

// CurveSaid is one law of growth fitted as a straight line.
type CurveSaid struct {
	Shape   scout.Shape `json:"shape" enum:"exponential,monomolecular,logistic,Gompertz"`
	Rate    float64     `json:"rate" doc:"per day, on the scale of the shape; not to be compared between shapes"`
	SE      float64     `json:"rate_se"`
	R2      float64     `json:"r2"`
	Agree   float64     `json:"concordance"`
	Error   float64     `json:"error" doc:"root mean square difference of shares; this does compare between shapes"`
	Clamped int         `json:"clamped" doc:"readings of none or all that were moved inside to have a place on the scale"`
	In7Days float64     `json:"in_7_days" doc:"share of the fitted curve a week after the last look"`
}

// FromIncidence is severity told from incidence, where that is allowed.
type FromIncidence struct {
	Allowed   bool    `json:"allowed"`
	Reason    string  `json:"reason"`
	Incidence float64 `json:"incidence"`
	Pairs     int     `json:"pairs" doc:"looks of this crop and shelter with both, on which it rests"`
	Severity  *Band   `json:"severity,omitempty"`
	Source    string  `json:"source"`
}

// Seeing returns what the looks at a bed say.
func Seeing(entries []ledger.Entry, opt Options, bed garden.BedID) (*Seen, error) {
	sc, err := openScene(entries, opt)
	if err != nil {
		return nil, err
	}
	p, err := sc.plot(bed)
	if err != nil {
		return nil, err
	}
	out := &Seen{Version: seenVersion, About: sc.about(p), NextRound: phrase("seen.next")}
	rule := isCucurbit(p.crop)
	for _, t := range p.tallies {
		a := scout.Assess(t, -1)
		out.Looks = append(out.Looks, lookSaid(t, a, rule, sc.loc))
		words := []string{phrase("seen.day", "day", garden.DayOf(t.Time.In(sc.loc)), "check", phrase("check."+t.Check))}
		if t.Sure == "cannot tell" {
			words = append(words, phrase("seen.unsure"))
		}
		out.Words = append(words, a.Words(rule && t.Sure != "cannot tell")...)
	}
	for _, r := range p.readings {
		out.Readings = append(out.Readings, p.readingSaid(r, sc.loc))
	}
	if len(out.Looks)+len(out.Readings) == 0 {
		out.Words = []string{say("looked.never")}
		out.NextRound = phrase("seen.first", "bed", bed)
	}
	sc.paces(p, out)
	sc.progress(p, out)
	out.Severity = sc.fromIncidence(p)
	out.mind(phrase("caution.moulds"))
	for _, v := range scout.Constants() {
		if v.Grade == cite.C && slices.Contains(seenConstants, v.What) {
			out.assume(v)
		}
	}
	complete(out, &out.Sources)
	return out, nil
}

// seenConstants are the assumptions of scout that the sayings of a look rest on.
var seenConstants = []string{
	"leaves from one plant in a tally that does not tell plants apart", "standard deviation of a severity reading, complementary log-log scale",
	"half the smallest reading above none (a trace is 0.5 %)",
}

func lookSaid(t garden.Tally, a scout.Assessment, rule bool, loc *time.Location) LookSaid {
	l := LookSaid{
		Date: garden.DayOf(t.Time.In(loc)).String(), Who: t.Who, Check: t.Check, Sure: t.Sure,
		Upper: countSaid(a.Face[garden.Upper]), Lower: countSaid(a.Face[garden.Lower]),
		Young: countSaid(a.Age[garden.Young]), Middle: countSaid(a.Age[garden.Middle]), Old: countSaid(a.Age[garden.Old]),
		Plants: a.Plants, WithMildew: a.WithMildew, Expected: round3(a.Expected), Rho: round3(a.Rho), RhoFitted: a.Fitted,
	}
	if rule {
		l.Threshold = &ThresholdSaid{Leaves: a.Rule.Leaves, Infected: a.Rule.Infected, Reached: a.Rule.Reached, Short: a.Rule.Short, AtRule: round3(a.AtRule), Source: "mcgrath-1996"}
	}
	return l
}

func countSaid(e scout.Estimate) CountSaid {
	return CountSaid{
		Infected: e.Infected, Inspected: e.Inspected, Share: round3(e.Share), Low: round3(e.Likely.Lo), High: round3(e.Likely.Hi),
		ExactLow: round3(e.Certain.Lo), ExactHigh: round3(e.Certain.Hi), AtMost: round3(e.AtMost),
	}
}

func (p *plot) readingSaid(r garden.Severity, loc *time.Location) ReadingSaid {
	out := ReadingSaid{
		Date: garden.DayOf(r.Time.In(loc)).String(), Who: r.Who, Age: r.Age.String(), Face: r.Face.String(),
		Share: r.Share, Scale: r.Scale, Grade: r.Value,
	}
	if r.Whole {
		out.Age = "whole"
	}
	// Half a trace and less is read as none; nothing can be told of it.
	if eye, ok := p.readers[r.Who]; ok && r.Share >= 0.0025 { // numerical
		share, b := eye.Correct(r.Share)
		out.Corrected = &Band{Low: round3(b.Lo), Mid: round3(share), High: round3(b.Hi)}
	}
	return out
}

// ofFace returns the tally with the lines of one face only.
func ofFace(t garden.Tally, f garden.Face) garden.Tally {
	out := t
	out.Counts = nil
	for _, c := range t.Counts {
		if c.Face == f {
			out.Counts = append(out.Counts, c)
		}
	}
	return out
}

// told are the tallies whose spots somebody could name.
func (p *plot) told() []garden.Tally {
	var out []garden.Tally
	for _, t := range p.tallies {
		if t.Sure != "cannot tell" {
			out = append(out, t)
		}
	}
	return out
}

// paces works out how fast it moves. Looks before the first find say nothing of
// pace, except the last of them.
func (sc *scene) paces(p *plot, out *Seen) {
	rho := p.rho(scout.LookOf("eye", "sure").Rho)
	add := func(of string, seen []scout.Seen, found []bool) {
		first := slices.Index(found, true)
		if first < 0 {
			return
		}
		g, err := scout.Pace(seen[max(0, first-1):])
		if err != nil {
			return
		}
		out.Paces = append(out.Paces, PaceSaid{
			Of: of, Days: g.Looks, Rate: round3(g.Rate), RateLow: round3(g.Band.Lo), RateHigh: round3(g.Band.Hi),
			Doubling: round3(g.Doubling), Soonest: round3(g.DoublingBand.Lo), Latest: round3(g.DoublingBand.Hi), Sentences: g.Words(),
		})
	}
	tallied := func(of string, cut func(garden.Tally) garden.Tally) {
		var seen []scout.Seen
		var found []bool
		for _, t := range p.told() {
			t = cut(t)
			if s, ok := scout.SeenInTally(t, garden.DayOf(t.Time.In(sc.loc)), rho); ok {
				seen = append(seen, s)
				found = append(found, slices.ContainsFunc(t.Counts, func(c garden.Count) bool { return c.Infected > 0 }))
			}
		}
		add(of, seen, found)
	}
	tallied("incidence", func(t garden.Tally) garden.Tally { return t })
	tallied("incidence upper", func(t garden.Tally) garden.Tally { return ofFace(t, garden.Upper) })
	tallied("incidence lower", func(t garden.Tally) garden.Tally { return ofFace(t, garden.Lower) })
	var seen []scout.Seen
	var found []bool
	for _, r := range p.readings {
		seen = append(seen, scout.SeenInReading(r, garden.DayOf(r.Time.In(sc.loc)), p.readerOf(r.Who)))
		found = append(found, r.Share > 0)
	}
	add("covered", seen, found)
}

// progress works out areas under the curves and fits laws of growth.
func (sc *scene) progress(p *plot, out *Seen) {
	var curves [2][garden.Faces]scout.Progress // of incidence, of severity
	for f := range garden.Face(garden.Faces) {
		var tallied, read []scout.Point
		for _, t := range p.told() {
			if e := scout.Assess(ofFace(t, f), 0).Face[f]; e.Inspected > 0 {
				tallied = append(tallied, scout.Point{Day: float64(garden.DayOf(t.Time.In(sc.loc))), Y: e.Share})
			}
		}
		for _, r := range p.readings {
			if r.Face == f {
				read = append(read, scout.Point{Day: float64(garden.DayOf(r.Time.In(sc.loc))), Y: r.Share})
			}
		}
		curves[0][f], curves[1][f] = scout.ProgressOf(tallied), scout.ProgressOf(read)
	}
	for i, of := range []string{"incidence", "covered"} {
		for f := range garden.Face(garden.Faces) {
			c := curves[i][f]
			if len(c) < 2 {
				continue
			}
			s := ProgressSaid{
				Of: of + " " + f.String(), From: garden.Day(c[0].Day).String(), To: garden.Day(c[len(c)-1].Day).String(), Days: len(c),
				Area: round3(c.Area()), RelativeArea: round3(c.RelativeArea(1)), Stairs: round3(c.Stairs()), RelativeStairs: round3(c.RelativeStairs(1)),
			}
			if a, err := c.LogisticArea(); err == nil {
				s.TwoPoint = round3(a)
			}
			out.Progress = append(out.Progress, s)
		}
	}
	// The worse face carries the curve; readings before tallies, since a fitted
	// curve is for covered area.
	for i, of := range []string{"incidence", "covered"} {
		best := slices.MaxFunc(curves[i][:], func(a, b scout.Progress) int { return cmp.Compare(a.Area(), b.Area()) })
		fits, err := scout.FitCurves(best)
		if err != nil {
			continue
		}
		out.Curves, out.CurvesOf = nil, of
		for _, f := range fits {
			out.Curves = append(out.Curves, CurveSaid{
				Shape: f.Shape, Rate: round3(f.Rate), SE: round3(f.SE), R2: round3(f.R2), Agree: round3(f.Agree), Error: round3(f.Error), Clamped: f.Clamped,
				In7Days: round3(math.Min(math.Max(f.At(best[len(best)-1].Day+7), 0), 1)),
			})
		}
	}
}

// fromIncidence turns the incidence of the last look into covered area by the
// looks of this crop and shelter that gave both, or says why not.
func (sc *scene) fromIncidence(p *plot) *FromIncidence {
	if len(p.told()) == 0 {
		return nil
	}
	worst := p.lastSeen()
	shelter := string(p.bed.Shelter)
	pairs := sc.pairs(p)
	out := &FromIncidence{Incidence: round3(worst), Pairs: len(pairs), Source: "james-shih-1973"}
	rel, err := scout.Relate(pairs, shelter)
	if err == nil {
		var s float64
		var b scout.Interval
		if s, b, err = rel.Severity(worst, shelter); err == nil {
			out.Allowed, out.Severity = true, &Band{Low: round3(b.Lo), Mid: round3(s), High: round3(b.Hi)}
			out.Reason = phrase("severity.allowed", "n", len(pairs))
			return out
		}
	}
	out.Reason = sentence(err.Error()) + "."
	return out
}

// pairs are incidence and covered area of the same day, bed and face, of all
// plantings of the crop under the same shelter.
func (sc *scene) pairs(p *plot) []scout.Pair {
	alike := make(map[garden.BedID]bool)
	for _, b := range sc.g.Beds {
		for _, x := range sc.g.Plantings {
			if x.Bed == b.ID && x.Crop == p.crop.ID && b.Shelter == p.bed.Shelter {
				alike[b.ID] = true
			}
		}
	}
	day := func(t time.Time) garden.Day { return garden.DayOf(t.In(sc.loc)) }
	var out []scout.Pair
	for _, t := range sc.g.Tallies {
		if !alike[t.Bed] || t.Sure == "cannot tell" {
			continue
		}
		for f := range garden.Face(garden.Faces) {
			e := scout.Assess(ofFace(t, f), 0).Face[f]
			sum, n := 0.0, 0
			for _, r := range sc.g.Severities {
				if r.Bed == t.Bed && r.Face == f && day(r.Time) == day(t.Time) {
					sum, n = sum+r.Share, n+1
				}
			}
			if e.Inspected > 0 && n > 0 {
				out = append(out, scout.Pair{Incidence: e.Share, Severity: sum / float64(n)})
			}
		}
	}
	return out
}
