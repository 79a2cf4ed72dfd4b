package ledger

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"strconv"
	"strings"

	"oidium/garden"
	"oidium/scout"
)

// Tally is the body of kind "tally".
type Tally struct {
	Check    string   `json:"check,omitempty" doc:"how it was checked" rule:"enum=eye|lens|wet-bag"`
	Sure     string   `json:"sure,omitempty" doc:"how sure that it is powdery mildew" rule:"enum=sure|likely|cannot tell"`
	Planting string   `json:"planting,omitempty" doc:"the planting looked at" rule:"word"`
	Plot     string   `json:"plot,omitempty" doc:"plot of a trial" rule:"word"`
	Walk     string   `json:"walk,omitempty" doc:"how plants were chosen" rule:"enum=every plant|random|every nth|diagonal|worst first"`
	Minutes  *float64 `json:"minutes,omitempty" doc:"minutes the look took" rule:"min=0;max=1440"`
	Photos   []string `json:"photos,omitempty" doc:"ids of photo entries" rule:"items=100;uuid"`
	Counts   []Count  `json:"counts" doc:"leaves of one plant, age and face" rule:"required"`
}

// Count is part of [Tally].
type Count struct {
	Plant     int    `json:"plant" doc:"number of the plant within the tally, from 1" rule:"required;min=1;max=1000000"`
	Age       string `json:"age" doc:"age of the leaves" rule:"required;enum=young|middle|old"`
	Face      string `json:"face" doc:"side of the leaf looked at" rule:"required;enum=upper|lower"`
	Inspected int    `json:"inspected" doc:"leaves looked at" rule:"required;min=0;max=100000"`
	Infected  int    `json:"infected" doc:"leaves with mildew among them" rule:"required;min=0"`
}

func (t *Tally) check(*Entry) (ps Problems) {
	for i, c := range t.Counts {
		if c.Infected > c.Inspected {
			ps = append(ps, problem("counts["+strconv.Itoa(i)+"].infected",
				strconv.Itoa(c.Infected)+" leaves with mildew among "+strconv.Itoa(c.Inspected)+" looked at",
				"infected counts leaves of those inspected")...)
		}
	}
	return ps
}

// Severity is the body of kind "severity".
type Severity struct {
	Age      string   `json:"age" doc:"age of the leaves, or the whole canopy" rule:"required;enum=young|middle|old|whole"`
	Face     string   `json:"face" doc:"side of the leaf" rule:"required;enum=upper|lower"`
	Method   string   `json:"method,omitempty" doc:"how it was read" rule:"enum=by eye|diagram|photo"`
	Leaves   int      `json:"leaves,omitempty" doc:"how many leaves were read" rule:"min=0;max=100000"`
	Planting string   `json:"planting,omitempty" doc:"the planting looked at" rule:"word"`
	Plot     string   `json:"plot,omitempty" doc:"plot of a trial" rule:"word"`
	Photos   []string `json:"photos,omitempty" doc:"ids of photo entries" rule:"items=100;uuid"`
	Share    *float64 `json:"share,omitempty" doc:"share of leaf area covered; this or a grade must be there" rule:"min=0;max=1;hint=a share from 0 to 1, so 0.12 for 12 %"`
	Scale    string   `json:"scale,omitempty" doc:"the scale a grade was read on; what its grades stand for is in the program, so that it can be converted anew" rule:"enum=horsfall-barratt|horsfall-barratt-elanco|cucumber-0-9"`
	Grade    *float64 `json:"grade,omitempty" doc:"the grade as it was read" rule:"min=0;max=12"`
}

func (s *Severity) check(*Entry) Problems {
	switch {
	case s.Share == nil && s.Grade == nil:
		return problem("share", "there is no reading", "a share of leaf area, or a scale and a grade of it")
	case s.Share != nil && (s.Grade != nil || s.Scale != ""):
		return problem("grade", "a share and a grade are two readings", "keep the one that was read; the other follows from it")
	case s.Share != nil:
		return nil
	case s.Grade == nil || s.Scale == "":
		return problem("scale", "a grade and its scale go together", "name the scale the grade was read on")
	}
	if _, err := scout.ReadOn(s.Scale, *s.Grade); err != nil {
		return problem("grade", err.Error(), "the grade as it was read")
	}
	return nil
}

// EyeCheck is the body of kind "eye-check": how a person reads leaves whose
// cover is known.
type EyeCheck struct {
	On     string    `json:"on,omitempty" doc:"what was read" rule:"enum=drawings|photos|counted leaves"`
	Leaves []RefLeaf `json:"leaves" doc:"each leaf with what it has and what was read; five or more, not all alike, say something of the eye" rule:"required;items=500"`
}

// RefLeaf is part of [EyeCheck].
type RefLeaf struct {
	Truth float64 `json:"truth" doc:"share of its area that is covered" rule:"required;min=0;max=1;hint=a share from 0 to 1, so 0.12 for 12 %"`
	Read  float64 `json:"read" doc:"what was read" rule:"required;min=0;max=1;hint=a share from 0 to 1, so 0.12 for 12 %"`
}

func (*EyeCheck) check(*Entry) Problems { return nil }

// Look is the body of kind "look": the looks of autumn and spring.
type Look struct {
	Dark     string   `json:"dark_bodies,omitempty" doc:"dark resting bodies in the mildew, with the lens" rule:"enum=none|few|many|not looked"`
	On       string   `json:"on,omitempty" doc:"what was looked at" rule:"enum=leaves|shoots|buds|bark|fallen leaves|plastic|tray"`
	Looked   int      `json:"looked,omitempty" doc:"how many of them" rule:"min=0;max=1000000"`
	Flag     *int     `json:"flag_shoots,omitempty" doc:"shoots white from the bud on" rule:"min=0;max=1000000"`
	Volunt   *int     `json:"volunteers,omitempty" doc:"plants that came up by themselves" rule:"min=0;max=1000000"`
	VolMild  *int     `json:"volunteers_mildewed,omitempty" doc:"of these with mildew" rule:"min=0;max=1000000"`
	Starts   *int     `json:"starts,omitempty" doc:"young plants looked at in trays" rule:"min=0;max=1000000"`
	StartsMi *int     `json:"starts_mildewed,omitempty" doc:"of these with mildew" rule:"min=0;max=1000000"`
	Planting string   `json:"planting,omitempty" doc:"the planting looked at" rule:"word"`
	Photos   []string `json:"photos,omitempty" doc:"ids of photo entries" rule:"items=100;uuid"`
	Text     string   `json:"text,omitempty" doc:"what was seen" rule:"len=2000"`
}

func (l *Look) check(*Entry) (ps Problems) {
	for _, c := range []struct {
		name      string
		part, all *int
	}{{"volunteers_mildewed", l.VolMild, l.Volunt}, {"starts_mildewed", l.StartsMi, l.Starts}} {
		if c.part != nil && (c.all == nil || *c.part > *c.all) {
			ps = append(ps, problem(c.name, "counts more than were looked at", "it counts those of them that have mildew")...)
		}
	}
	return ps
}

// CheckLeaves is the body of kind "check-leaves".
type CheckLeaves struct {
	Treatment string     `json:"treatment,omitempty" doc:"id of the treatment they were kept from" rule:"uuid"`
	Leaves    int        `json:"leaves" doc:"how many leaves" rule:"required;min=1;max=100000"`
	Age       string     `json:"age,omitempty" doc:"age of the leaves" rule:"enum=young|middle|old"`
	Mark      string     `json:"mark,omitempty" doc:"how they are marked" rule:"len=200"`
	How       string     `json:"how,omitempty" doc:"how the treatment was kept off" rule:"enum=bag|shield|skipped"`
	Until     garden.Day `json:"until,omitzero" doc:"how long they are kept"`
}

func (*CheckLeaves) check(*Entry) Problems { return nil }

// Diagnosis is the body of kind "diagnosis": what was looked at to tell mildew
// from what looks like it.
type Diagnosis struct {
	Planting string   `json:"planting,omitempty" doc:"the planting looked at" rule:"word"`
	Organ    string   `json:"organ,omitempty" doc:"part of the plant" rule:"enum=leaf|petiole|stem|shoot|flower|fruit"`
	Age      string   `json:"age,omitempty" doc:"age of the leaf" rule:"enum=young|middle|old"`
	Face     string   `json:"face,omitempty" doc:"side of the leaf" rule:"enum=upper|lower|both"`
	RubsOff  *bool    `json:"rubs_off,omitempty" doc:"it comes off on the thumb"`
	Veins    *bool    `json:"vein_bounded,omitempty" doc:"spots stop at the veins"`
	Colony   *float64 `json:"colony_mm,omitempty" doc:"size of a colony, mm" rule:"min=0;max=500"`
	Spreads  *bool    `json:"spreads_3_days,omitempty" doc:"it grew within three days"`
	Residue  *bool    `json:"residue,omitempty" doc:"there may be residue of a treatment"`
	Check    string   `json:"check,omitempty" doc:"how it was checked" rule:"enum=eye|lens|wet-bag|microscope|laboratory"`
	Path     string   `json:"path,omitempty" doc:"way through the key" rule:"len=200"`
	Verdict  string   `json:"verdict" doc:"what it is" rule:"required;enum=powdery mildew|downy mildew|not a disease|another disease|mites or insects|cannot tell"`
	Sure     string   `json:"sure,omitempty" doc:"how sure" rule:"enum=sure|likely|cannot tell"`
	Mildew   string   `json:"mildew,omitempty" doc:"which mildew, when a laboratory says so" rule:"word"`
	Second   string   `json:"second_opinion,omitempty" doc:"who else looked" rule:"len=200;personal"`
	Photos   []string `json:"photos,omitempty" doc:"ids of photo entries" rule:"items=100;uuid"`
}

func (*Diagnosis) check(*Entry) Problems { return nil }

// Photo is the body of kind "photo". The picture itself may travel in the line
// or apart; its SHA-256 ties the two.
type Photo struct {
	SHA256  string `json:"sha256" doc:"SHA-256 of the file, 64 hexadecimal digits" rule:"required;word;len=64"`
	Type    string `json:"type" doc:"media type" rule:"required;enum=image/jpeg|image/png|image/webp"`
	Bytes   int    `json:"bytes,omitempty" doc:"size of the file" rule:"min=1;max=6000000"`
	Width   int    `json:"width,omitempty" doc:"pixels" rule:"min=1;max=100000"`
	Height  int    `json:"height,omitempty" doc:"pixels" rule:"min=1;max=100000"`
	Caption string `json:"caption,omitempty" doc:"what it shows" rule:"len=500;personal"`
	Data    string `json:"data,omitempty" doc:"the file in base64; may be left out" rule:"len=8100000"`
}

func (p *Photo) check(*Entry) Problems {
	if len(p.SHA256) != 64 || strings.Trim(p.SHA256, "0123456789abcdef") != "" {
		return problem("sha256", "is not 64 hexadecimal digits in lower case", "the SHA-256 of the file")
	}
	if p.Data == "" {
		return nil
	}
	raw, err := base64.StdEncoding.DecodeString(p.Data)
	if err != nil {
		return problem("data", "is not base64", "RFC 4648 base64 with padding, on one line")
	}
	if sum := sha256.Sum256(raw); hex.EncodeToString(sum[:]) != p.SHA256 {
		return problem("data", "is not the file that sha256 names", "compute the SHA-256 of the very bytes sent")
	}
	return nil
}

// Guess is the body of kind "guess": what the user expects before the program
// answers.
type Guess struct {
	What  string     `json:"what" doc:"what is guessed" rule:"required;enum=covered|infected leaves|first find|will it work|harvest"`
	Day   garden.Day `json:"day,omitzero" doc:"the day it is for"`
	Value *float64   `json:"value,omitempty" doc:"the guess: a share, or kg for the harvest" rule:"min=0"`
	Low   *float64   `json:"low,omitempty" doc:"the user would be surprised by less" rule:"min=0"`
	High  *float64   `json:"high,omitempty" doc:"the user would be surprised by more" rule:"min=0"`
	Of    string     `json:"of,omitempty" doc:"id of the entry it is about" rule:"uuid"`
	Text  string     `json:"text,omitempty" doc:"in the user's words" rule:"len=2000"`
}

func (g *Guess) check(*Entry) Problems {
	if g.Low != nil && g.High != nil && *g.High < *g.Low {
		return problem("high", "is below the low end", "are the two exchanged?")
	}
	if g.Value == nil && g.Day == 0 && g.Text == "" {
		return problem("value", "nothing is guessed", "a value, a day or words")
	}
	return nil
}
