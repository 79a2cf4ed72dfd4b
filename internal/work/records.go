package work

import (
	"slices"
	"time"

	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/internal/record"
)

// Records is the treatments of some days as the rules on records see them.
type Records struct {
	Version  string           `json:"version" enum:"oidium-records-report-1" doc:"shape of this document"`
	From     string           `json:"from,omitempty" format:"date"`
	To       string           `json:"to,omitempty" format:"date"`
	Rules    []RuleSaid       `json:"rules" doc:"the rules that bind any of these treatments"`
	Records  []RecordSaid     `json:"records" doc:"in the order of time"`
	Complete bool             `json:"complete" doc:"nothing that the rules ask for is missing"`
	Warnings []garden.Warning `json:"warnings"`
	Cautions []string         `json:"cautions"`

	all   []record.Record
	rules []record.Rule
}

// RuleSaid is a set of rules on records.
type RuleSaid struct {
	Rule      string `json:"rule" doc:"id of the rules"`
	Name      string `json:"name"`
	Who       string `json:"who" doc:"whom it binds"`
	KeepYears int    `json:"keep_years"`
	Deadline  string `json:"deadline,omitempty"`
	Note      string `json:"note"`
	Origin    string `json:"origin" doc:"where it was read and when; ask your authority"`
}

// RecordSaid is one treatment as a record.
type RecordSaid struct {
	Entry    string           `json:"entry" doc:"id of the treatment"`
	Date     string           `json:"date" format:"date"`
	Bed      string           `json:"bed"`
	Material string           `json:"material"`
	Fields   []record.Field   `json:"fields" doc:"what is known, with where it comes from"`
	Verdicts []record.Verdict `json:"verdicts" doc:"one for each set of rules that binds it"`
	KeepTo   string           `json:"keep_to,omitempty" format:"date" doc:"last day on which it must still be there, by the strictest of the rules"`
}

// RecordsWanted says which records are asked for.
type RecordsWanted struct {
	Rule     string // id of a set of rules; "" all that bind
	From, To garden.Day
	Bed      garden.BedID
	Entry    garden.EntryID
	Codes    record.Codes // EPPO codes beside those that are built in
}

// RecordsOf returns the treatments known now as records.
func RecordsOf(entries []ledger.Entry, now time.Time, w RecordsWanted) (*Records, error) {
	all, err := record.Collect(entries, now, w.Codes)
	if err != nil {
		return nil, err
	}
	out := &Records{
		Version: "oidium-records-report-1", Rules: []RuleSaid{}, Records: []RecordSaid{}, Complete: true,
		Warnings: []garden.Warning{}, Cautions: []string{tell("caution.records")},
	}
	if w.From != 0 {
		out.From = w.From.String()
	}
	if w.To != 0 {
		out.To = w.To.String()
	}
	byID := map[garden.EntryID]ledger.Entry{}
	for _, e := range entries {
		byID[e.ID] = e
	}
	for _, r := range all {
		e := byID[r.Entry]
		if w.From != 0 && r.Day < w.From || w.To != 0 && r.Day > w.To || w.Bed != "" && e.Bed != w.Bed || w.Entry != "" && r.Entry != w.Entry {
			continue
		}
		if err := out.add(r, e, w.Rule); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// add puts one treatment and its verdicts into the report.
func (out *Records) add(r record.Record, e ledger.Entry, only string) error {
	rules, warnings, err := record.Applying(r)
	if err != nil {
		return err
	}
	for _, x := range warnings {
		// One of a sort is enough: most differ in the day only.
		if !slices.ContainsFunc(out.Warnings, func(y garden.Warning) bool { return x.Code == y.Code }) {
			out.Warnings = append(out.Warnings, x)
		}
	}
	s := RecordSaid{Entry: string(r.Entry), Date: r.Day.String(), Bed: string(e.Bed), Fields: r.Fields, Verdicts: []record.Verdict{}}
	if t, ok := e.Body.(*ledger.Treatment); ok {
		s.Material = t.Material
	}
	bound := only == ""
	for _, x := range rules {
		if only != "" && x.ID != only {
			continue
		}
		bound = true
		v := x.Check(r)
		s.Verdicts = append(s.Verdicts, v)
		out.Complete = out.Complete && v.Complete
		if !slices.ContainsFunc(out.rules, func(y record.Rule) bool { return y.ID == x.ID }) {
			out.rules = append(out.rules, x)
			out.Rules = append(out.Rules, RuleSaid{
				Rule: x.ID, Name: x.Name, Who: x.Who, KeepYears: x.KeepYears, Deadline: x.Deadline, Note: x.Note, Origin: x.Origin(),
			})
		}
	}
	if !bound {
		return nil
	}
	if k := record.KeepTo(s.Verdicts); k != 0 {
		s.KeepTo = k.String()
	}
	out.Records = append(out.Records, s)
	out.all = append(out.all, r)
	return nil
}

// Of returns the rules with the id and the records they bind, for export; with no
// id when one set of rules binds.
func (out *Records) Of(rule string) (record.Rule, []record.Record, bool) {
	if rule == "" && len(out.rules) == 1 {
		rule = out.rules[0].ID
	}
	i := slices.IndexFunc(out.rules, func(x record.Rule) bool { return x.ID == rule })
	if i < 0 {
		return record.Rule{}, nil, false
	}
	var bound []record.Record
	for k, r := range out.all {
		if slices.ContainsFunc(out.Records[k].Verdicts, func(v record.Verdict) bool { return v.Rule == rule }) {
			bound = append(bound, r)
		}
	}
	return out.rules[i], bound, true
}
