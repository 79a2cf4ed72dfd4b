package ledger

import "slices"

// Body is what an entry says; its type goes with the kind.
type Body interface {
	// check returns what no single field shows: fields that contradict each other.
	check(h *Entry) Problems
}

// need says whether an envelope field must, may or must not be there.
type need uint8

const (
	may need = iota
	must
	mustNot
)

// kind is one kind of entry.
type kind struct {
	name, doc string
	bed       need
	replaces  need
	make      func() Body
}

// kinds lists every kind, in the order a season uses them.
var kinds = []kind{
	{"site", "the place and its standing facts; a field holds until it is stated again", mustNot, may, func() Body { return new(Site) }},
	{"bed", "a bed; a field holds until it is stated again", must, may, func() Body { return new(Bed) }},
	{"setting", "a standing fact of a bed from this time on: water, vents, shade, light", must, may, func() Body { return new(Setting) }},
	{"planting", "a crop in a bed; a field holds until it is stated again", must, may, func() Body { return new(Planting) }},
	{"move", "plants moved from this bed to another", must, may, func() Body { return new(Move) }},
	{"host", "another living plant near the beds that may carry mildew; a field holds until it is stated again", mustNot, may, func() Body { return new(Host) }},
	{"stock", "a material in the shed; a field holds until it is stated again", mustNot, may, func() Body { return new(Stock) }},
	{"label", "what the user read on the label in force here; what is not stated is unknown", mustNot, may, func() Body { return new(Label) }},
	{"tally", "a look at a bed, leaf by leaf", must, may, func() Body { return new(Tally) }},
	{"severity", "a reading of the share of leaf area covered", must, may, func() Body { return new(Severity) }},
	{"eye-check", "how a person reads leaves whose cover is known", mustNot, may, func() Body { return new(EyeCheck) }},
	{"look", "a look in autumn or spring: resting bodies, shoots, volunteers, young plants", may, may, func() Body { return new(Look) }},
	{"diagnosis", "what was looked at to tell what it is", may, may, func() Body { return new(Diagnosis) }},
	{"photo", "a photo", may, may, func() Body { return new(Photo) }},
	{"guess", "what the user expects, before the program answers", may, may, func() Body { return new(Guess) }},
	{"removal", "leaves taken off", must, may, func() Body { return new(Removal) }},
	{"treatment", "an application of a material; the time is when it began", must, may, func() Body { return new(Treatment) }},
	{"check-leaves", "leaves left untreated to compare with", must, may, func() Body { return new(CheckLeaves) }},
	{"climate", "an act on air, water or light; the time is when it began", must, may, func() Body { return new(Climate) }},
	{"harvest", "produce taken", must, may, func() Body { return new(Harvest) }},
	{"weather", "measured weather, hour by hour; with a bed, from a logger in that bed", may, may, func() Body { return new(Weather) }},
	{"forecast", "a forecast as it was issued, hour by hour", mustNot, may, func() Body { return new(Forecast) }},
	{"heap", "a compost heap; a field holds until it is stated again", mustNot, may, func() Body { return new(Heap) }},
	{"heap-fill", "what went on a heap", mustNot, may, func() Body { return new(HeapFill) }},
	{"heap-turn", "a heap turned", mustNot, may, func() Body { return new(HeapTurn) }},
	{"reading", "a temperature read by hand in heap, soil or air", may, may, func() Body { return new(Reading) }},
	{"log", "the values of a logger in heap, soil or air", may, may, func() Body { return new(Log) }},
	{"plastic", "film on a bed: laid, wetted, mended, lifted", must, may, func() Body { return new(Plastic) }},
	{"mulch", "mulch on a bed", must, may, func() Body { return new(Mulch) }},
	{"debris", "what was done with what the crop left", must, may, func() Body { return new(Debris) }},
	{"trial", "a trial: question, arms and plots; a field holds until it is stated again", mustNot, may, func() Body { return new(Trial) }},
	{"note", "a note", may, may, func() Body { return new(Note) }},
	{"withdrawal", "takes back the entry it replaces: that never happened", may, must, func() Body { return new(Withdrawal) }},
	{"blanking", "takes a person or a picture out of entries", mustNot, mustNot, func() Body { return new(Blanking) }},
	{"clock", "the clock of a device compared with another", mustNot, mustNot, func() Body { return new(Clock) }},
}

func kindOf(name string) (kind, bool) {
	i := slices.IndexFunc(kinds, func(k kind) bool { return k.name == name })
	if i < 0 {
		return kind{}, false
	}
	return kinds[i], true
}

// Kinds returns the kinds of entry, in the order a season uses them.
func Kinds() []string {
	out := make([]string, len(kinds))
	for i, k := range kinds {
		out[i] = k.name
	}
	return out
}

func problem(field, what, hint string) Problems {
	return Problems{{Field: "body." + field, What: what, Hint: hint}}
}
