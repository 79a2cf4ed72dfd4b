package record

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"
)

// columns returns the fields a table for the rule has: what it asks for first,
// then what it advises, then the rest.
func (r Rule) columns() []string {
	var out []string
	add := func(n string) {
		for _, have := range out {
			if have == n {
				return
			}
		}
		out = append(out, n)
	}
	add("id")
	for _, n := range r.Needs {
		add(n.Field)
	}
	for _, n := range r.Advised {
		add(n)
	}
	for _, n := range names {
		add(n)
	}
	return out
}

func cell(v any) string {
	switch v := v.(type) {
	case float64:
		return strconv.FormatFloat(v, 'g', 8, 64)
	case bool:
		return strconv.FormatBool(v)
	case string:
		// A cell that a spreadsheet would take for a formula is made text.
		if strings.ContainsAny(v[:min(1, len(v))], "=+-@\t") {
			return "'" + v
		}
		return v
	}
	return ""
}

// WriteCSV writes the records as CSV (RFC 4180), one row for each treated bed:
// what the rule asks for first, and at the end what is missing, the day it must be
// kept to and where the rule was read.
func WriteCSV(w io.Writer, r Rule, records []Record) error {
	cols := r.columns()
	cw := csv.NewWriter(w)
	cw.UseCRLF = true
	if err := cw.Write(append(cols, "missing", "late", "keep_to", "rule", "rule_read_in")); err != nil {
		return fmt.Errorf("writing records: %w", err)
	}
	for _, rec := range records {
		v := r.Check(rec)
		row := make([]string, 0, len(cols)+5)
		for _, c := range cols {
			x, _ := rec.get(c)
			row = append(row, cell(x))
		}
		var missing []string
		for _, g := range v.Missing {
			missing = append(missing, g.Field)
		}
		keep := ""
		if v.KeepTo != 0 {
			keep = v.KeepTo.String()
		}
		row = append(row, strings.Join(missing, "; "), strconv.FormatBool(v.Late), keep, r.ID, v.Origin)
		if err := cw.Write(row); err != nil {
			return fmt.Errorf("writing records: %w", err)
		}
	}
	cw.Flush()
	return cw.Error()
}

// WriteJSON writes the records as one JSON document: the rule, and for each
// record its fields with where they come from and the verdict.
func WriteJSON(w io.Writer, r Rule, records []Record) error {
	type item struct {
		ID      string  `json:"id"`
		Fields  []Field `json:"fields"`
		Verdict Verdict `json:"verdict"`
	}
	doc := struct {
		Version string `json:"version"`
		Rule    Rule   `json:"rule"`
		Origin  string `json:"origin"`
		Records []item `json:"records"`
	}{"oidium-records-1", r, r.Origin(), []item{}}
	for _, rec := range records {
		doc.Records = append(doc.Records, item{string(rec.Entry), rec.Fields, r.Check(rec)})
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	if err := enc.Encode(doc); err != nil {
		return fmt.Errorf("writing records: %w", err)
	}
	return nil
}

// Notice returns the text to hang up for the people who work there, and until
// when it must hang. What is not known is said in words to be filled in by hand.
func Notice(rec Record, r Rule) string {
	get := func(n string) string {
		v, ok := rec.get(n)
		if !ok {
			return "____________ (not entered)"
		}
		return cell(v)
	}
	clock := func(n string) string {
		v, _ := rec.get(n)
		s, _ := v.(string)
		t, err := time.Parse(time.RFC3339, s)
		if err != nil {
			return "____________ (not entered)"
		}
		return t.In(rec.zone).Format("2006-01-02 15:04")
	}
	var b strings.Builder
	line := func(name, v string) { fmt.Fprintf(&b, "%-22s %s\n", name, v) }
	b.WriteString("TREATED WITH A PLANT PROTECTION PRODUCT\n\n")
	line("Where", strings.TrimSpace(get("bed")+" "+known(rec, "bed_name")))
	line("Crop", get("crop"))
	line("Area treated (m2)", get("area_m2"))
	line("Product", get("product"))
	line("Registration number", get("registration"))
	line("Active ingredients", get("actives"))
	line("Began", clock("start"))
	line("Ended", clock("end"))
	if rec.reentry.IsZero() {
		line("KEEP OUT UNTIL", "____________ (label value not entered: keep out)")
	} else {
		line("KEEP OUT UNTIL", rec.reentry.Format("2006-01-02 15:04"))
	}
	if rec.reentryHours != nil {
		line("Re-entry interval (h)", cell(*rec.reentryHours))
	}
	b.WriteString("\nThe label and local law come first. Children and animals stay out too.\n")
	if r.Notice != nil {
		fmt.Fprintf(&b, "Put up by %s", rec.end.Add(time.Duration(r.Notice.WithinHours)*time.Hour).Format("2006-01-02 15:04"))
		if rec.reentry.IsZero() {
			fmt.Fprintf(&b, ", leave it for %d days after the re-entry interval", r.Notice.DaysAfterReentry)
		} else {
			fmt.Fprintf(&b, ", leave it until %s", rec.reentry.AddDate(0, 0, r.Notice.DaysAfterReentry).Format("2006-01-02 15:04"))
		}
		b.WriteString(", with the safety data sheet beside it.\n")
	}
	b.WriteString(r.Origin() + "\n")
	return b.String()
}

func known(rec Record, name string) string {
	v, _ := rec.get(name)
	return cell(v)
}
