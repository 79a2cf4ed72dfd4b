package record

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"oidium/cite"
	"oidium/garden"
	"oidium/internal/ledger"
)

// book makes a ledger: the given country and role, a bed with a planting and a
// label, and one treatment on the date. more goes into the bodies of the label
// and of the treatment.
func book(t *testing.T, country, role, date, label, treatment, site string) []ledger.Entry {
	t.Helper()
	n := 0
	line := func(kind, bed, time, body string) string {
		n++
		if bed != "" {
			bed = fmt.Sprintf(`"bed":%q,`, bed)
		}
		return fmt.Sprintf(`{"id":"0190163d-%04x-7000-8000-000000000001","kind":%q,"v":1,"time":%q,"written":%q,"who":"A. Example",%s"body":{%s}}`, n, kind, time, strings.Replace(time, "T18", "T21", 1), bed, body)
	}
	lines := strings.Join([]string{
		line("site", "", "2024-01-01T08:00:00Z", fmt.Sprintf(`"country":%q,"role":%q,"zone":"Europe/Amsterdam","latitude":52,"longitude":5,"licence":"LIC-1"%s`, country, role, site)),
		line("bed", "t1", "2024-01-01T08:00:00Z", `"length_m":12,"width_m":1.2,"shelter":"tunnel","name":"left","parcel":"NL-EX-001"`),
		line("planting", "t1", "2024-01-01T08:00:00Z", `"planting":"vine","crop":"grape"`),
		line("label", "", "2024-01-02T08:00:00Z", `"material":"khco3","product":"as on the pack","registration":"EX-1","harvest_days":1,"reentry_hours":4,"actives":[{"name":"potassium hydrogen carbonate","content":850,"unit":"g/kg"}]`+label),
		line("treatment", "t1", date+"T18:00:00+02:00", `"material":"khco3","litres":3,"grams":12`+treatment),
	}, "\n")
	entries, problems, err := ledger.Read(strings.NewReader(lines), ledger.Vocabulary{})
	if err != nil || len(problems) > 0 {
		t.Fatal(problems, err)
	}
	return entries
}

func one(t *testing.T, entries []ledger.Entry) Record {
	t.Helper()
	recs, err := Collect(entries, time.Date(2030, 1, 1, 0, 0, 0, 0, time.UTC), Codes{})
	if err != nil || len(recs) != 1 {
		t.Fatalf("%d records, %v", len(recs), err)
	}
	return recs[0]
}

func missing(v Verdict) []string {
	out := []string{}
	for _, g := range v.Missing {
		out = append(out, g.Field)
	}
	return out
}

const limits = `,"hour_limited":false,"stage_limited":true`

// Which rules bind whom and when. The dates are those of (EU) 2023/564 and (EU)
// 2025/2203 (1 January 2026, put off to 1 January 2027 in some states), and of
// the rescission of 7 CFR 110 (effective 11 July 2025).
func TestRulesByPlaceAndDate(t *testing.T) {
	for _, c := range []struct{ country, role, date, label, site, want string }{
		{"NL", "grower", "2025-12-31", "", "", "eu-2025"},
		{"NL", "grower", "2026-01-01", "", "", "eu-2026"},
		{"ES", "grower", "2025-06-01", "", "", "eu-2025"},
		{"ES", "grower", "2026-06-01", "", "", "eu-2026-deferred"},
		{"ES", "grower", "2026-12-31", "", "", "eu-2026-deferred"},
		{"ES", "grower", "2027-01-01", "", "", "eu-2026"},
		{"DE", "grower", "2027-06-01", "", "", "eu-2026"},
		{"NL", "private", "2027-06-01", "", "", "none"},
		{"GB", "grower", "2026-06-01", "", "", "gb"},
		{"US", "grower", "2025-07-10", `,"restricted":true`, "", "us-worker-protection us-restricted-use"},
		{"US", "grower", "2025-07-11", `,"restricted":true`, "", "us-worker-protection"},
		{"US", "grower", "2025-07-10", "", "", "us-worker-protection"},
		{"US", "grower", "2026-07-10", "", `,"records":["us-organic"]`, "us-organic"},
		{"US", "hired-hand", "2026-07-10", `,"restricted":true`, "", "us-worker-protection us-commercial"},
		{"JP", "grower", "2026-07-10", "", "", "! no-rules"},
		{"US", "grower", "2026-07-10", "", `,"records":["us-restricted-use","nonsense"]`, "! rules-not-in-force unknown-rules no-rules"},
	} {
		r := one(t, book(t, c.country, c.role, c.date, c.label, "", c.site))
		rules, warnings, err := Applying(r)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, x := range rules {
			got = append(got, x.ID)
		}
		if len(warnings) > 0 {
			got = append(got, "!")
		}
		for _, w := range warnings {
			got = append(got, w.Code)
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%s %s %s: %q, want %q", c.country, c.role, c.date, s, c.want)
		}
	}
}

// A treatment of 2025, of 2026 and of 2027 each by its own rules.
func TestCompleteByYear(t *testing.T) {
	for _, c := range []struct {
		country, date, label, treatment string
		want                            []string
		keep                            string
	}{
		{"NL", "2025-06-14", "", "", []string{}, "2028-06-14"},
		{"NL", "2026-06-14", "", "", []string{"bbch"}, "2029-06-14"}, // the label entry does not say
		{"NL", "2026-06-14", limits, "", []string{"bbch"}, "2029-06-14"},
		{"NL", "2026-06-14", limits, `,"bbch":"61"`, []string{}, "2029-06-14"},
		{"NL", "2026-06-14", `,"hour_limited":true,"stage_limited":false`, `,"clock":"date only"`, []string{"start"}, "2029-06-14"},
		{"NL", "2026-06-14", limits, `,"bbch":"61","crop_eppo":"grapes"`, []string{"crop_eppo"}, "2029-06-14"},
		{"ES", "2026-06-14", "", "", []string{}, "2029-06-14"},
		{"ES", "2027-06-14", limits, "", []string{"bbch"}, "2030-06-14"},
		{"ES", "2027-06-14", limits, `,"bbch":"BBCH 61-69"`, []string{}, "2030-06-14"},
	} {
		r := one(t, book(t, c.country, "grower", c.date, c.label, c.treatment, ""))
		rules, _, err := Applying(r)
		if err != nil || len(rules) != 1 {
			t.Fatal(rules, err)
		}
		v := rules[0].Check(r)
		keyed := missing(v)
		if d := cmp.Diff(c.want, keyed); d != "" {
			t.Errorf("%s %s by %s (-want +got):\n%s", c.country, c.date, v.Rule, d)
		}
		if v.KeepTo.String() != c.keep || v.Complete != (len(keyed) == 0) {
			t.Errorf("%s %s: kept to %s, want %s; complete %v", c.country, c.date, v.KeepTo, c.keep, v.Complete)
		}
		if !strings.Contains(v.Origin, "Ask your authority") {
			t.Errorf("no word on the origin: %s", v.Origin)
		}
	}
}

func TestDeadline(t *testing.T) {
	entries := book(t, "NL", "grower", "2026-06-14", limits, `,"bbch":"61"`, "")
	r := one(t, entries)
	rules, _, err := Applying(r)
	if err != nil {
		t.Fatal(err)
	}
	if v := rules[0].Check(r); v.Due.String() != "2026-07-14" || v.Late {
		t.Errorf("due %s, late %v", v.Due, v.Late)
	}
	r.Written = time.Date(2026, 7, 14, 21, 59, 0, 0, time.UTC) // 23:59 there
	if rules[0].Check(r).Late {
		t.Error("late on the last day")
	}
	r.Written = r.Written.Add(2 * time.Minute)
	if v := rules[0].Check(r); !v.Late || v.KeepTo.String() != "2029-07-15" {
		t.Errorf("late %v, kept to %s", v.Late, v.KeepTo)
	}
}

// Clocks start at the recorded end, or at 23:59 of the day.
func TestClocksCountFromTheEnd(t *testing.T) {
	for _, c := range []struct{ treatment, reentry, harvest string }{
		{`,"end":"2026-06-14T19:30:00+02:00"`, "2026-06-14T23:30:00+02:00", "2026-06-15T19:30:00+02:00"},
		{"", "2026-06-15T03:59:00+02:00", "2026-06-15T23:59:00+02:00"},
		{`,"reentry":"2026-06-16T08:00:00+02:00"`, "2026-06-16T08:00:00+02:00", "2026-06-15T23:59:00+02:00"},
	} {
		r := one(t, book(t, "NL", "grower", "2026-06-14", "", c.treatment, ""))
		for name, want := range map[string]string{"reentry": c.reentry, "harvest_from": c.harvest} {
			if got, _ := r.get(name); got != want {
				t.Errorf("%s %s: %v, want %s", c.treatment, name, got, want)
			}
		}
	}
	// No label, no clock: nothing is guessed.
	entries := book(t, "NL", "grower", "2026-06-14", "", "", "")
	entries = slices.DeleteFunc(entries, func(e ledger.Entry) bool { return e.Kind == "label" })
	r := one(t, entries)
	for _, name := range []string{"reentry", "harvest_from", "product", "registration"} {
		if v, ok := r.get(name); ok {
			t.Errorf("%s is %v without a label", name, v)
		}
	}
}

func TestAmounts(t *testing.T) {
	r := one(t, book(t, "NL", "grower", "2026-06-14", "", "", ""))
	// By hand: 12 g in 3 L is 4 g/L; on 12 m x 1.2 m = 14.4 m2 it is 0.8333 g/m2, 8333 g/ha.
	for name, want := range map[string]string{"g_per_l": "4", "area_m2": "14.4", "g_per_m2": "0.83333333", "g_per_ha": "8333.3333", "amount": "12 g", "dose": "0.8333 g (mL) per m2"} {
		if got, _ := r.get(name); cell(got) != want {
			t.Errorf("%s: %v, want %s", name, cell(got), want)
		}
	}
	r = one(t, book(t, "NL", "grower", "2026-06-14", "", `,"spot":true`, ""))
	if got, ok := r.get("area_m2"); ok {
		t.Errorf("spots have the area of the bed: %v", got)
	}
}

func TestLabelInForce(t *testing.T) {
	entries := book(t, "NL", "grower", "2026-06-14", "", "", "")
	more := `{"id":"0190163d-1000-7000-8000-000000000001","kind":"label","v":1,"time":"2027-01-01T00:00:00Z","written":"2027-01-01T00:00:00Z","body":{"material":"khco3","registration":"EX-2","reentry_hours":48}}`
	extra, _, err := ledger.Read(strings.NewReader(more), ledger.Vocabulary{})
	if err != nil {
		t.Fatal(err)
	}
	r := one(t, append(entries, extra...))
	if got, _ := r.get("registration"); got != "EX-1" {
		t.Errorf("the label of the next year is used: %v", got)
	}
}

func TestExports(t *testing.T) {
	r := one(t, book(t, "NL", "grower", "2026-06-14", limits, `,"remarks":"=1+1, \"quoted\"\nsecond line"`, ""))
	rules, _, err := Applying(r)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteCSV(&b, rules[0], []Record{r}); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil || len(rows) != 2 || len(rows[0]) != len(rows[1]) {
		t.Fatal(rows, err)
	}
	cells := map[string]string{}
	for i, h := range rows[0] {
		if _, twice := cells[h]; twice {
			t.Errorf("column %s is there twice", h)
		}
		cells[h] = rows[1][i]
	}
	for h, want := range map[string]string{
		"registration": "EX-1", "crop_eppo": "VITVI", "use": "closed space", "missing": "bbch", "keep_to": "2029-06-14",
		"remarks": "'=1+1, \"quoted\"\nsecond line", "date": "2026-06-14", "late": "false", "parcel": "NL-EX-001",
	} {
		if cells[h] != want {
			t.Errorf("%s: %q, want %q", h, cells[h], want)
		}
	}
	b.Reset()
	if err := WriteJSON(&b, rules[0], []Record{r}); err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Version string
		Records []struct {
			ID      string
			Verdict Verdict
		}
	}
	if err := json.Unmarshal(b.Bytes(), &doc); err != nil || doc.Version != "oidium-records-1" || len(doc.Records) != 1 || doc.Records[0].Verdict.Complete {
		t.Errorf("%+v %v", doc, err)
	}
}

func TestNotice(t *testing.T) {
	r := one(t, book(t, "US", "grower", "2026-06-14", "", `,"end":"2026-06-14T19:30:00+02:00"`, ""))
	rules, _, err := Applying(r)
	if err != nil {
		t.Fatal(err)
	}
	got := Notice(r, rules[0])
	for _, want := range []string{
		"KEEP OUT UNTIL         2026-06-14 23:30", "potassium hydrogen carbonate 850 g/kg", "EX-1", "2026-06-14 18:00", "2026-06-14 19:30",
		"Put up by 2026-06-15 19:30, leave it until 2026-07-14 23:30", "Ask your authority",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	bare := one(t, slices.DeleteFunc(book(t, "US", "grower", "2026-06-14", "", "", ""), func(e ledger.Entry) bool { return e.Kind == "label" }))
	if got := Notice(bare, rules[0]); !strings.Contains(got, "label value not entered: keep out") {
		t.Errorf("without a label:\n%s", got)
	}
}

func TestStages(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"BBCH 61", "61"},
		{"61-69", "61-69"},
		{"bbch 14 to 19", "14-19"},
		{"101–109", "101-109"},
		{"09", "09"},
		{"00", "00"},
		{"flowering", "does not parse"},
		{"69-61", "does not parse"},
		{"61-109", "does not parse"},
		{"1", "does not parse"},
		{"1999", "does not parse"},
		{"", "does not parse"},
	} {
		s := parseStages(c.in)
		if s.String() != c.want || s.printed != c.in {
			t.Errorf("%q: %s, want %s", c.in, s, c.want)
		}
	}
	// The scale of cucurbits (Feller et al. 1995) has 00 to 29 and 51 on, no 3 or 4.
	for in, want := range map[string]bool{"09": true, "11-29": true, "51": true, "101": true, "31": false, "29-41": false, "x": false} {
		if got := parseStages(in).onCucurbits(); got != want {
			t.Errorf("%s on cucurbits: %v", in, got)
		}
	}
}

func TestStageOfACucurbit(t *testing.T) {
	for in, want := range map[string]string{"61": "61", "31": "31, which the scale of cucurbits does not have", "soon": "does not parse"} {
		if got := stagesFor(in, "cucumber"); got != want {
			t.Errorf("%s: %s", in, got)
		}
	}
	if got := stagesFor("31", "grape"); got != "31" {
		t.Errorf("grape: %s", got)
	}
}

// The codes and shapes are those of EPPO's own pages: five letters for plants,
// six for pests, 1 and 3 in front of higher taxa and crop groups.
func TestCodes(t *testing.T) {
	for code, want := range map[string]string{
		"PODOXA": "confirmed", "UNCINE": "confirmed", "VITVI": "confirmed", "CUMSA": "unverified", "1CUCF": "unverified",
		"3FRUC": "unverified", "cumsa": "not the shape", "CUM": "not the shape", "CUMSAXX": "not the shape", "2ABCD": "not the shape",
	} {
		if got := (Codes{}).status(code); !strings.HasPrefix(got, want) {
			t.Errorf("%s: %s, want %s", code, got, want)
		}
	}
	c, err := ReadCodes(strings.NewReader("\ufeffEPPO code;Preferred name\r\nCUMSA;Cucumis sativus\r\nVITVI;Vitis vinifera\r\n"))
	if err != nil {
		t.Fatal(err)
	}
	if got := c.status("CUMSA"); got != "in the list that was read: Cucumis sativus" {
		t.Error(got)
	}
	if got := c.status("LYPES"); got != "not in the list that was read" {
		t.Error(got)
	}
	for _, bad := range []string{"", "a,b\n", "code,name\nxx,y\n", "code,name\nVITVI,a\nVITVI,b\n", "code,name\n\"VITVI,a\n"} {
		if _, err := ReadCodes(strings.NewReader(bad)); err == nil {
			t.Errorf("%q was read", bad)
		}
	}
	for code := range confirmed {
		if !shaped(code) {
			t.Errorf("%s is built in and has no shape", code)
		}
	}
}

// The data: every field a rule names can be in a record and has a hint, every
// source is in the register, spans of one country and role do not leave a hole.
func TestRulesAreSound(t *testing.T) {
	all, err := rules()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, r := range all {
		if seen[r.ID] || !regexp.MustCompile(`^[a-z0-9-]+$`).MatchString(r.ID) {
			t.Errorf("id %q", r.ID)
		}
		seen[r.ID] = true
		if _, ok := cite.Lookup(r.Source); !ok {
			t.Errorf("%s: source %s is not in the register", r.ID, r.Source)
		}
		if r.Grade == cite.A || r.Note == "" || r.ReadOn == 0 || r.Who == "" || r.Name == "" {
			t.Errorf("%s: grade %s, read on %s", r.ID, r.Grade, r.ReadOn)
		}
		if r.ValidTo != 0 && r.ValidTo < r.ValidFrom {
			t.Errorf("%s ends before it begins", r.ID)
		}
		for _, n := range r.Needs {
			if !slices.Contains(names, n.Field) {
				t.Errorf("%s asks for %q, which no record has", r.ID, n.Field)
			}
			if _, ok := hints[n.Field]; !ok && !slices.Contains([]string{"date", "bed", "material"}, n.Field) {
				t.Errorf("%s: no hint for %q", r.ID, n.Field)
			}
			if !slices.Contains([]string{"", "hour-limited", "stage-limited", "not-spot"}, n.When) {
				t.Errorf("%s: when %q", r.ID, n.When)
			}
		}
		for _, f := range r.Advised {
			if !slices.Contains(names, f) {
				t.Errorf("%s advises %q, which no record has", r.ID, f)
			}
		}
	}
	first, _ := garden.ParseDay("2024-01-01")
	for _, country := range []string{"NL", "ES", "DE", "FR"} {
		for d := first; d < first+4*366; d++ {
			n := 0
			for _, r := range all {
				if slices.Contains(r.Roles, garden.Grower) && r.holds(country, d) {
					n++
				}
			}
			if n != 1 {
				t.Fatalf("%s on %s: %d sets of rules", country, d, n)
			}
		}
	}
}

// Every field a record can be given is known to names, and nothing is there twice.
func TestFieldsHaveAPlace(t *testing.T) {
	full := `,"end":"2026-06-14T19:30:00+02:00","clock":"exact","area_m2":10,"spot":true,"use":"area","crop_eppo":"VITVI","bbch":"61","target":"x","target_eppo":"UNCINE","reason":"x","seen":["0190163d-0001-7000-8000-000000000001"],"batch":"x","frac":"x","dose":"x","adjuvant":"x","with":["milk-10"],"equipment":"x","nozzle":"x","pressure_bar":2,"air_c":20,"rh":60,"wind_m_s":1,"wind_from":"N","leaf_dry":true,"bloom":false,"bees":false,"licence":"x","supervisor":"x","customer":"x","address":"x","ppe":"x","incident":"x","remarks":"x"`
	r := one(t, book(t, "NL", "grower", "2026-06-14", "", full, `,"holder":"x","holding":"x"`))
	seen := map[string]bool{}
	for _, f := range r.Fields {
		if !slices.Contains(names, f.Name) || seen[f.Name] {
			t.Errorf("%s", f.Name)
		}
		seen[f.Name] = true
	}
	for _, n := range names {
		if !seen[n] && n != "cultivar" {
			t.Errorf("%s is never given", n)
		}
	}
}

func FuzzReadCodes(f *testing.F) {
	f.Add("code,name\nVITVI,Vitis vinifera\n")
	f.Add("name;eppo_code\n\"a\nb\";PODOXA\n")
	f.Fuzz(func(t *testing.T, in string) {
		c, err := ReadCodes(strings.NewReader(in))
		if err != nil {
			return
		}
		for code := range c.names {
			if !shaped(code) {
				t.Errorf("%q was taken", code)
			}
		}
	})
}

func FuzzStages(f *testing.F) {
	f.Add("BBCH 61-69")
	f.Fuzz(func(t *testing.T, in string) {
		if s := parseStages(in); s.ok && (s.from > s.to || s.to > 999 || s.String() == "") {
			t.Errorf("%q: %+v", in, s)
		}
	})
}
