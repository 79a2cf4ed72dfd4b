package print

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"strings"
	"time"

	"oidium/cite"
	"oidium/garden"
	"oidium/internal/work"
)

// stepsPerBed is how many jobs of one bed are shown for today. More is not a
// plan but a list.
const stepsPerBed = 3

// sheet is a round made ready to print: what text and page have in common.
type sheet struct {
	phrases
	*work.Round
	today    []work.Job // at most stepsPerBed for a bed
	later    []work.Job // by the day they can wait until
	cautions []string   // label and local law first
}

func newSheet(r *work.Round) (*sheet, error) {
	w, err := load()
	if err != nil {
		return nil, err
	}
	if r == nil {
		return nil, errors.New("printing the round: there is no round")
	}
	s := &sheet{phrases: w, Round: r}
	steps := make(map[garden.BedID]int)
	var over []work.Job
	for _, j := range r.Jobs {
		if j.Bed != "" {
			if steps[j.Bed]++; steps[j.Bed] > stepsPerBed {
				over = append(over, j)
				continue
			}
		}
		s.today = append(s.today, j)
	}
	s.later = append(over, r.Later...)
	slices.SortStableFunc(s.later, func(a, b work.Job) int { return cmp.Compare(until(a), until(b)) })
	if s.cautions = s.once(append([]string{w.say("caution.label")}, r.Cautions...)); len(r.Cautions) == 0 {
		s.cautions = append(s.cautions, w.say("caution.entries"))
	}
	return s, nil
}

// until is the day a job can wait until; one without a day comes last.
func until(j work.Job) string { return cmp.Or(j.Until, "9999-12-31") }

// once returns what there is of the texts, each one time.
func (s *sheet) once(list []string) []string {
	var out []string
	for _, c := range list {
		if c = sentence(s.prose(c)); c != "" && !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out
}

// tenths rounds a band to a tenth.
func tenths(b work.Band) work.Band {
	r := func(x float64) float64 { return math.Round(10*x) / 10 }
	return work.Band{Low: r(b.Low), Mid: r(b.Mid), High: r(b.High)}
}

// bedName returns the name of a bed, or its id where it has none.
func (s *sheet) bedName(id garden.BedID) string {
	for i := range s.Beds {
		if s.Beds[i].Bed == id && s.Beds[i].Name != "" {
			return clean(s.Beds[i].Name)
		}
	}
	return clean(string(id))
}

// spent returns how long a job takes, "" for one that takes no time.
func (s *sheet) spent(j work.Job) string {
	if j.Minutes <= 0 {
		return ""
	}
	return s.minutes(j.Minutes)
}

// jobBed returns the name of a job's bed, "" for a job of the whole garden.
func (s *sheet) jobBed(j work.Job) string {
	if j.BedName != "" {
		return clean(j.BedName)
	}
	return s.bedName(j.Bed)
}

// origin returns a source id with what its grade means.
func (s *sheet) origin(id string, g cite.Grade) string {
	switch {
	case id == "" && g == "":
		return ""
	case id == "" || id == "assumption" && g == cite.C:
		return s.grade(g)
	case g == "":
		return clean(id)
	}
	return s.say("origin", "source", clean(id), "grade", s.grade(g))
}

func (s *sheet) grade(g cite.Grade) string { return s.word("grade", string(g)) }

// mix returns how much to mix, in one line.
func (s *sheet) mix(j work.Job) string {
	m := j.Mix
	unit := clean(m.Unit)
	if unit == "" {
		unit = "g"
	}
	text := s.say("mix", "litres", short(m.Litres), "amount", short(m.Grams), "unit", unit,
		"material", s.material(j), "rate", short(m.RateGL))
	return text + s.tanks(m)
}

// tanks says how often the tank is filled, where it is known.
func (s *sheet) tanks(m *work.Mix) string {
	if m.Tanks <= 0 {
		return ""
	}
	return ", " + s.count("mix.tanks", int(math.Ceil(m.Tanks)))
}

func (s *sheet) material(j work.Job) string {
	return cmp.Or(clean(j.Name), clean(j.Material), s.say("material.none"))
}

// leaves returns which leaves a job is about and how many.
func (s *sheet) leaves(j work.Job) string {
	switch {
	case j.Leaves > 0 && j.Which != "":
		return s.say("leaves.which", "n", j.Leaves, "which", s.prose(j.Which))
	case j.Leaves > 0:
		return s.count("leaves", j.Leaves)
	}
	return s.prose(j.Which)
}

// which is the word in front of the leaves of a job, or of what is to be
// entered.
func (s *sheet) which(j work.Job) string {
	if j.Kind == "enter" {
		return s.say("label.enter")
	}
	return s.say("label.leaves")
}

// worth returns what a job is expected to bring over leaving the bed alone, ""
// where it has not been reckoned.
func (s *sheet) worth(b work.Band) string {
	if b == (work.Band{}) {
		return ""
	}
	return s.say("worth", "band", s.band(b, s.money(s.Round)))
}

// effort is the line under the headline: how many jobs, how long they take.
func (s *sheet) effort() string {
	switch {
	case len(s.Beds) == 0:
		return ""
	case len(s.today) == 0:
		return s.say("jobs.none")
	}
	text := s.count("jobs", len(s.today))
	if s.Budget > 0 {
		return s.say("jobs.of", "jobs", text, "minutes", fixed(s.Minutes, 0), "budget", fixed(s.Budget, 0))
	}
	return s.say("jobs.taking", "jobs", text, "minutes", fixed(s.Minutes, 0))
}

// sky is today's weather in a line, "" where nothing is known of it.
func (s *sheet) sky() string {
	zero := work.Band{}
	if s.Weather.TodayMax == zero && s.Weather.RainToday == zero {
		return ""
	}
	return s.say("sky", "max", s.band(s.Weather.TodayMax, "°C"), "rain", s.band(tenths(s.Weather.RainToday), "mm"))
}

// weatherNotes says what the weather behind the round is made of.
func (s *sheet) weatherNotes() []string {
	w := s.Weather
	var out []string
	switch {
	case w.Until != "" && w.Filled > 0:
		out = append(out, s.say("weather.filled", "until", s.moment(w.Until), "measured", w.Measured, "filled", w.Filled))
	case w.Until != "":
		out = append(out, s.say("weather.measured", "until", s.moment(w.Until), "measured", w.Measured))
	default:
		out = append(out, s.say("weather.none"))
	}
	for _, text := range []string{w.Forecast, w.Origin} {
		if text = sentence(clean(text)); text != "" {
			out = append(out, text)
		}
	}
	return out
}

// sentence returns text with a capital at the start and a stop at the end.
func sentence(text string) string {
	if text == "" || strings.ContainsAny(text[len(text)-1:], ".!?") {
		return capital(text)
	}
	return capital(text) + "."
}

// capital returns s with a capital at the start.
func capital(s string) string {
	r := []rune(s)
	if len(r) == 0 {
		return s
	}
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

// title is what a job says is to be done, without a stop at the end.
func (s *sheet) title(j work.Job) string { return strings.TrimSuffix(s.prose(j.Title), ".") }

// crop names what stands in a bed.
func (s *sheet) crop(b *work.BedReport) string {
	switch {
	case b.Crop == "":
		return s.say("crop.none")
	case b.Cultivar == "":
		return clean(b.Crop)
	}
	return s.say("crop.cultivar", "crop", clean(b.Crop), "cultivar", clean(b.Cultivar))
}

// covered returns the covered share of a bed with its band, or that there is no
// crop to be covered.
func (s *sheet) covered(b *work.BedReport) string {
	if b.Crop == "" {
		return s.say("crop.none")
	}
	return s.shares(b.Covered)
}

// lastLook returns the day of the last look.
func (s *sheet) lastLook(b *work.BedReport) string {
	switch {
	case b.Crop == "" && b.LastLook == "":
		return "-"
	case b.LastLook == "":
		return s.say("look.none")
	}
	return s.shortDay(b.LastLook)
}

// picking says from when a bed may be picked, "" where nothing stands in the
// way any more.
func (s *sheet) picking(b *work.BedReport) string {
	pick := s.picked(b)
	enter := ""
	switch b.EnterFrom {
	case "":
	case "unknown":
		enter = s.say("enter.unknown")
	default:
		enter = s.say("enter.from", "when", s.moment(b.EnterFrom))
	}
	if enter == "" || pick == "" {
		return enter + pick
	}
	return enter + " " + sentence(pick)
}

func (s *sheet) picked(b *work.BedReport) string {
	switch b.PickFrom {
	case "":
		return ""
	case "unknown":
		return s.say("pick.unknown")
	}
	from, err1 := time.Parse(time.RFC3339, b.PickFrom)
	now, err2 := time.Parse(time.RFC3339, s.AsOf)
	if err1 == nil && err2 == nil && !from.After(now) {
		return ""
	}
	return s.say("pick.from", "when", s.moment(b.PickFrom))
}

// doubling says how fast the covered share grows.
func (s *sheet) doubling(b *work.BedReport) string {
	if b.Doubling == nil {
		return s.say("doubling.none")
	}
	return s.band(*b.Doubling, s.say("days"))
}

// planned says whether today's plan changes the days ahead of a bed.
func planned(b *work.BedReport) bool {
	if len(b.Planned) != len(b.Alone) {
		return len(b.Planned) > 0
	}
	for i := range b.Planned {
		if b.Planned[i] != b.Alone[i] {
			return true
		}
	}
	return false
}

// warning is a warning with the name of its bed.
func (s *sheet) warning(bed garden.BedID, text string) string {
	if bed == "" {
		return s.prose(text)
	}
	return s.say("bed.says", "bed", s.bedName(bed), "text", s.prose(text))
}

// source is one line of the list of sources.
func (s *sheet) source(id, text, doi string) string {
	line := s.say("source", "id", clean(id), "text", strings.TrimSuffix(clean(text), "."))
	if doi != "" {
		line += " " + s.say("source.doi", "doi", clean(doi))
	}
	return line
}

// gardenName is the name of the garden, marked where it does not exist.
func (s *sheet) gardenName() string {
	if s.Garden.Invented {
		return s.say("invented", "name", clean(s.Garden.Name))
	}
	return clean(s.Garden.Name)
}

// assumed is one fact that was taken as usual.
func (s *sheet) assumed(a work.Assumption) string {
	return s.say("assumed", "what", clean(a.What), "value", clean(a.Value), "origin", s.origin(a.Source, a.Grade))
}

// foot says what the round was made from.
func (s *sheet) foot() string {
	return s.say("foot", "asof", s.moment(s.AsOf), "members", s.Members, "version", clean(s.Version))
}

// notes are what a job has to do with the other jobs of the day.
func (s *sheet) notes(j work.Job) string {
	out := make([]string, len(j.Notes))
	for i, n := range j.Notes {
		out[i] = sentence(s.prose(n))
	}
	return strings.Join(out, " ")
}

// taken are the facts that were not stated and were taken as usual. Those inside the models are for who
// opens a bed, not for the sheet of the day.
func (s *sheet) taken(all bool) []work.Assumption {
	var out []work.Assumption
	for _, a := range s.Assumed {
		if all || a.Yours {
			out = append(out, a)
		}
	}
	return out
}
