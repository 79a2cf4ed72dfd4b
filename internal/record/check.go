package record

import (
	"fmt"
	"time"

	"oidium/garden"
)

// Gap is a field that a rule asks for and the record does not have.
type Gap struct {
	Field string `json:"field"`
	Why   string `json:"why"`
	Hint  string `json:"hint,omitempty"`
}

// Verdict is what a set of rules says of a record.
type Verdict struct {
	Rule     string     `json:"rule"`
	Complete bool       `json:"complete"`
	Missing  []Gap      `json:"missing"`
	Advised  []string   `json:"advised" doc:"fields that help and are not asked for"`
	Due      garden.Day `json:"due,omitzero" doc:"day by which the record had to be made"`
	Late     bool       `json:"late"`
	KeepTo   garden.Day `json:"keep_to,omitzero" doc:"last day on which the record must still be there"`
	Origin   string     `json:"origin"`
}

// hints say where a missing field is typed in.
var hints = map[string]string{
	"product":          "the name on the pack, in the treatment or once in the label entry",
	"registration":     "the number on the pack, in the treatment or once in the label entry",
	"actives":          "as printed, in the treatment or once in the label entry",
	"reentry":          "enter reentry_hours from the label; it is never guessed",
	"parcel":           "the land unit as your authority names it, once in the bed entry",
	"crop_eppo":        "look it up in the official list; crop_eppo in the treatment or once in the planting",
	"crop":             "the bed has no planting, or more than one, on that day: name the planting in the treatment",
	"area_m2":          "area_m2 in the treatment, or length and width of the bed",
	"dose":             "dose as printed, or grams and litres",
	"amount":           "grams (or millilitres) of product used",
	"bbch":             "growth stage as you see it, such as BBCH 61",
	"start":            "the time of the entry is when it began; leave out clock \"date only\" when you know the time",
	"end":              "end in the treatment",
	"use":              "use in the treatment, or shelter of the bed",
	"who":              "who did it",
	"licence":          "number of the certificate, in the treatment or once in the site entry",
	"reason":           "what makes the treatment necessary",
	"customer":         "for whom it was done",
	"customer_address": "address of the customer",
}

// Check tells what is missing by the rule, whether the record was made in time,
// and how long it is to be kept.
func (r Rule) Check(rec Record) Verdict {
	v := Verdict{Rule: r.ID, Missing: []Gap{}, Advised: []string{}, Origin: r.Origin()}
	for _, n := range r.Needs {
		if _, ok := rec.get(n.Field); ok {
			if n.Field == "crop_eppo" {
				v.code(rec)
			}
			continue
		}
		if g, ok := gap(rec, n); ok {
			v.Missing = append(v.Missing, g)
		}
	}
	for _, f := range r.Advised {
		if _, ok := rec.get(f); !ok {
			v.Advised = append(v.Advised, f)
		}
	}
	v.Complete = len(v.Missing) == 0
	if r.DeadlineDays > 0 {
		v.Due = rec.Day + garden.Day(r.DeadlineDays)
		v.Late = garden.DayOf(rec.Written.In(rec.zone)) > v.Due
	}
	if r.KeepYears > 0 {
		v.KeepTo = addYears(rec, r.KeepYears)
	}
	return v
}

// code flags a code that has not even the shape of one.
func (v *Verdict) code(rec Record) {
	code, _ := rec.get("crop_eppo")
	if s, _ := code.(string); !shaped(s) {
		v.Missing = append(v.Missing, Gap{"crop_eppo", fmt.Sprintf("%q does not have the shape of an EPPO code", s), hints["crop_eppo"]})
	}
}

// gap says why a field that is not there is missed, if it is.
func gap(rec Record, n Need) (Gap, bool) {
	limited := func(known *bool, words string) (Gap, bool) {
		switch {
		case known == nil:
			return Gap{n.Field, "asked for if " + words + "; the label entry does not say", "enter it in the label entry, yes or no"}, true
		case *known:
			return Gap{n.Field, "asked for because " + words, hints[n.Field]}, true
		}
		return Gap{}, false
	}
	switch n.When {
	case "hour-limited":
		return limited(rec.hourLimited, "the authorisation limits the hours of use")
	case "stage-limited":
		return limited(rec.stageLimited, "the authorisation limits the growth stages")
	case "not-spot":
		if rec.spot {
			return Gap{}, false
		}
	}
	return Gap{n.Field, "asked for", hints[n.Field]}, true
}

// addYears returns the day so many years after the day the record was made or
// the treatment done, whichever is later.
func addYears(rec Record, years int) garden.Day {
	day := max(rec.Day, garden.DayOf(rec.Written.In(rec.zone)))
	return garden.DayOf(day.At(0, time.UTC).AddDate(years, 0, 0))
}

// KeepTo returns the last day on which the record must still be there by the
// strictest of the verdicts, 0 when none asks for it.
func KeepTo(verdicts []Verdict) garden.Day {
	var last garden.Day
	for _, v := range verdicts {
		last = max(last, v.KeepTo)
	}
	return last
}
