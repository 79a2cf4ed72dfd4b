package work

import (
	"slices"
	"time"

	"oidium/cite"
	"oidium/diagnosis"
	"oidium/garden"
	"oidium/host"
	"oidium/internal/ledger"
	"oidium/remedy"
)

const keyVersion = "oidium-key-1"

// Key is how far the key has come that tells powdery mildew from what looks like
// it.
type Key struct {
	Version string `json:"version" enum:"oidium-key-1" doc:"shape of this document"`
	About
	Path    []KeyStep         `json:"path" doc:"questions answered, in order"`
	Ask     *KeyAsk           `json:"ask,omitempty" doc:"the next question; absent at an end"`
	Outcome *KeyEnd           `json:"outcome,omitempty" doc:"absent while something is to be asked"`
	Opens   bool              `json:"opens_treatment" doc:"treatment against powdery mildew may be thought of; never when it cannot be told"`
	Notes   []string          `json:"notes" doc:"what the book answered"`
	Record  *ledger.Diagnosis `json:"record,omitempty" doc:"body of an entry of kind diagnosis; absent while something is to be asked"`
	Kept    garden.EntryID    `json:"kept,omitempty" doc:"id of the entry it was written as; absent: not written"`
	Grounds
}

// KeyStep is one question answered.
type KeyStep struct {
	Question string `json:"question"`
	Asked    string `json:"asked"`
	Answer   string `json:"answer"`
	Said     string `json:"said"`
}

// KeyAsk is a question with its answers.
type KeyAsk struct {
	Question string      `json:"question" doc:"id; answer as question=answer"`
	Text     string      `json:"text"`
	Help     string      `json:"help,omitempty" doc:"how to look"`
	Answers  []KeyAnswer `json:"answers"`
}

// KeyAnswer is one answer to a question.
type KeyAnswer struct {
	Answer string `json:"answer"`
	Text   string `json:"text"`
}

// KeyEnd is where the key came to.
type KeyEnd struct {
	Name    string     `json:"name"`
	Verdict string     `json:"verdict" enum:"powdery mildew,downy mildew,not a disease,another disease,mites or insects,cannot tell"`
	Sure    string     `json:"sure" enum:"sure,likely,cannot tell"`
	Reason  string     `json:"reason"`
	Next    string     `json:"next_look"`
	Photo   string     `json:"photo" doc:"the photo to take next"`
	Source  string     `json:"source"`
	Grade   cite.Grade `json:"grade"`
}

// KeyAskedFor says on what the key is used, and what is answered so far.
type KeyAskedFor struct {
	Bed     garden.BedID  // "" none
	Crop    garden.CropID // where there is no bed; "" not known
	Answers map[string]string
	Colony  float64 // mm, 0 not measured
	Age     string  // of the leaf
	Second  string  // who else looked
}

// Telling follows the key. With a bed, the crop is that of the bed, and a spray of
// the last days that dries white answers the question for residue.
func Telling(entries []ledger.Entry, opt Options, ask KeyAskedFor) (*Key, error) {
	out := &Key{Version: keyVersion}
	answers := make(map[string]string, len(ask.Answers))
	for q, a := range ask.Answers {
		answers[q] = a
	}
	crop := ask.Crop
	if ask.Bed != "" {
		sc, err := openScene(entries, opt)
		if err != nil {
			return nil, err
		}
		p, err := sc.plot(ask.Bed)
		if err != nil {
			return nil, err
		}
		out.About = sc.about(p)
		crop = p.crop.ID
		if _, said := answers["residue"]; !said {
			if m, day := sc.driesWhite(p); m != nil {
				answers["residue"] = "yes"
				out.Notes = append(out.Notes, phrase("key.residue", "material", m.Name, "day", day))
			}
		}
	} else {
		out.Date = opt.Day.String()
		out.AsOf = opt.Day.At(6, time.UTC).Format(time.RFC3339)
		out.Crop = string(crop)
	}
	plant := diagnosis.Host{Crop: crop}
	if c, ok := host.Get(crop); ok {
		plant.Family = c.Family
	}
	r, err := diagnosis.Follow(plant, answers)
	if err != nil {
		return nil, err
	}
	for _, s := range r.Path {
		out.Path = append(out.Path, KeyStep{Question: s.Question, Asked: s.Asked, Answer: s.Answer, Said: s.Said})
	}
	if !slices.ContainsFunc(r.Path, func(s diagnosis.Step) bool { return s.Question == "residue" }) {
		out.Notes = nil // the way did not meet the question
	}
	if q := r.Ask; q != nil {
		out.Ask = &KeyAsk{Question: q.ID, Text: q.Text, Help: q.Help}
		for _, a := range q.Answers {
			out.Ask.Answers = append(out.Ask.Answers, KeyAnswer{Answer: a.ID, Text: a.Text})
		}
	}
	if o := r.Outcome; o != nil {
		out.Outcome = &KeyEnd{Name: o.Name, Verdict: o.Verdict, Sure: o.Sure, Reason: o.Text, Next: o.Next, Photo: o.Photo, Source: o.Source, Grade: o.Grade}
		out.Opens = o.Opens()
		out.Record = &ledger.Diagnosis{
			Organ: r.Found.Organ, Age: r.Found.Age, Face: r.Found.Face, Check: r.Found.Check,
			RubsOff: r.Found.RubsOff, Veins: r.Found.Veins, Spreads: r.Found.Spreads, Residue: r.Found.Residue,
			Path: r.Way(), Verdict: o.Verdict, Sure: o.Sure, Second: ask.Second,
		}
		if out.Record.Check == "" {
			out.Record.Check = "eye"
		}
		if ask.Age != "" {
			out.Record.Age = ask.Age
		}
		if ask.Colony > 0 {
			out.Record.Colony = &ask.Colony
		}
		if !out.Opens {
			out.mind(phrase("caution.no-treatment"))
		} else {
			out.mind(phrase("caution.count-first"), phrase("caution.label"))
		}
	}
	out.mind(phrase("caution.moulds"))
	complete(out, &out.Sources)
	return out, nil
}

// driesWhite returns a material that went on the bed within the last week and
// leaves white behind, nil when none did.
func (sc *scene) driesWhite(p *plot) (*remedy.Material, garden.Day) {
	for _, t := range slices.Backward(sc.g.Treatments) {
		day := garden.DayOf(t.Start.In(sc.loc))
		if t.Bed != p.bed.ID || t.Test || sc.opt.Day-day > 7 {
			continue
		}
		if m, ok := remedy.Get(t.Material); ok && (m.Rain == remedy.Particulate || m.Rain == remedy.Soluble) {
			return m, day
		}
	}
	return nil, 0
}
