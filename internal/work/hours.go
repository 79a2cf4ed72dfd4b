package work

import (
	"context"
	"time"

	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/remedy"
)

const hoursVersion = "oidium-hours-1"

// Hours are the coming hours in which a material may be put on a bed, and why the
// others are closed.
type Hours struct {
	Version string `json:"version" enum:"oidium-hours-1" doc:"shape of this document"`
	About
	Recipient Recipient `json:"recipient"`
	Material  string    `json:"material"`
	Name      string    `json:"material_name"`
	Verdict   string    `json:"verdict" enum:"allowed,test-leaf,ask,refused" doc:"of all rules; an open hour alone allows nothing"`
	Reason    string    `json:"reason"`
	Blocks    []Check   `json:"blocks" doc:"rules that refuse or ask whatever the hour"`
	Spans     []Span    `json:"spans" doc:"the coming hours in order, as runs with one verdict"`
	Open      float64   `json:"open_hours" doc:"hours open among them"`
	Grounds
}

// Span is a run of hours with one verdict.
type Span struct {
	From  string  `json:"from" format:"date-time"`
	To    string  `json:"to" format:"date-time"`
	Open  bool    `json:"open"`
	Why   []Check `json:"why" doc:"what closes it, or what is to be minded in it"`
	Enter string  `json:"may_be_entered_from,omitempty" doc:"if the treatment ends with the span; unknown: the label value was not entered"`
	Pick  string  `json:"may_be_picked_from,omitempty"`
}

// Timing returns the coming hours for a material on a bed.
func Timing(ctx context.Context, entries []ledger.Entry, opt Options, bed garden.BedID, material string, f Facts) (*Hours, error) {
	sc, j, err := judge(ctx, entries, opt, bed, material, f)
	if err != nil {
		return nil, err
	}
	out := &Hours{
		Version: hoursVersion, About: sc.about(j.p), Recipient: recipientOf(j.kase, f),
		Material: string(j.m.ID), Name: j.m.Name,
	}
	out.Verdict, out.Reason = verdictOf(j.checks)
	if why := closed(j.checks); why != "" {
		out.Reason = why
	}
	ofHour := make(map[string]bool)
	for _, w := range remedy.Windows(j.kase, j.m) {
		s := Span{From: w.From.Format(time.RFC3339), To: w.To.Format(time.RFC3339), Open: w.Open}
		for _, k := range w.Checks {
			s.Why = append(s.Why, Check(k))
			ofHour[k.Rule] = true
		}
		if w.Open {
			out.Open += w.To.Sub(w.From).Hours()
			s.Enter, s.Pick = notKnown, notKnown
			if !w.Enter.IsZero() {
				s.Enter = w.Enter.In(sc.loc).Format(time.RFC3339)
			}
			switch {
			case !w.Pick.IsZero():
				s.Pick = w.Pick.In(sc.loc).Format(time.RFC3339)
			case j.kase.Ornamental:
				s.Pick = ""
			}
		}
		out.Spans = append(out.Spans, s)
	}
	for _, k := range j.checks {
		if (k.Outcome == remedy.Refused || k.Outcome == remedy.Ask) && !ofHour[k.Rule] && k.Rule != "hours" {
			out.Blocks = append(out.Blocks, Check(k))
		}
	}
	out.Open = round3(out.Open)
	out.mind(phrase("caution.hours"))
	out.mind(j.cautions()...)
	out.Warnings = append(out.Warnings, sc.s.warnings...)
	complete(out, &out.Sources)
	return out, nil
}
