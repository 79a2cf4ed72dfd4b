package record

import (
	"bytes"
	_ "embed" // the rules
	"encoding/json"
	"fmt"
	"slices"
	"sync"

	"oidium/cite"
	"oidium/garden"
)

//go:embed rules.json
var rulesJSON []byte

// Rule is one set of rules on records, as data.
type Rule struct {
	ID        string                `json:"id"`
	Name      string                `json:"name"`
	Who       string                `json:"who"`                 // whom it binds
	Countries []string              `json:"countries,omitempty"` // ISO 3166-1; none: everywhere
	Roles     []garden.Role         `json:"roles,omitempty"`     // none: whoever chose it
	Only      string                `json:"only,omitempty"`      // "chosen" by the user, or "restricted": for restricted-use products
	ValidFrom garden.Day            `json:"valid_from,omitzero"` // 0: always was
	ValidTo   garden.Day            `json:"valid_to,omitzero"`   // last day; 0: still is
	FromIn    map[string]garden.Day `json:"from_in,omitempty"`   // later start in some countries
	Needs     []Need                `json:"needs"`
	Advised   []string              `json:"advised,omitempty"`
	// DeadlineDays counts from the day of use; 0: none is stated.
	DeadlineDays int        `json:"deadline_days,omitempty"`
	Deadline     string     `json:"deadline,omitempty"`
	Notice       *Display   `json:"notice,omitempty"`
	KeepYears    int        `json:"keep_years"`
	Source       string     `json:"source"` // id in the register
	Grade        cite.Grade `json:"grade"`
	ReadOn       garden.Day `json:"read_on"`
	Note         string     `json:"note"`
}

// Need is a field that a rule asks for.
type Need struct {
	Field string `json:"field"`
	// When limits it: "hour-limited" or "stage-limited" if the authorisation is,
	// "not-spot" unless only spots were treated.
	When string `json:"when,omitempty"`
}

// Display says how long a notice to workers is shown.
type Display struct {
	WithinHours      int `json:"within_hours"`
	DaysAfterReentry int `json:"days_after_reentry"`
}

// rules returns every set of rules, read once from the data.
var rules = sync.OnceValues(func() ([]Rule, error) {
	d := json.NewDecoder(bytes.NewReader(rulesJSON))
	d.DisallowUnknownFields()
	var out []Rule
	if err := d.Decode(&out); err != nil {
		return nil, fmt.Errorf("reading the rules on records: %w", err)
	}
	return out, nil
})

// holds tells whether the rule is in force in the country on the day.
func (r Rule) holds(country string, day garden.Day) bool {
	if len(r.Countries) > 0 && !slices.Contains(r.Countries, country) {
		return false
	}
	from := r.ValidFrom
	if later, ok := r.FromIn[country]; ok {
		from = later
	}
	return day >= from && (r.ValidTo == 0 || day <= r.ValidTo)
}

// Applying returns the rules that bind the treatment: those the user chose, or
// else those of the country for the role, that are in force on the day of use.
// Words that are no rule, or one that is not in force then, are warnings.
func Applying(r Record) ([]Rule, []garden.Warning, error) {
	all, err := rules()
	if err != nil {
		return nil, nil, err
	}
	var out []Rule
	var warnings []garden.Warning
	for _, id := range r.chosen {
		i := slices.IndexFunc(all, func(x Rule) bool { return x.ID == id })
		switch {
		case i < 0:
			warnings = append(warnings, garden.Warning{Code: "unknown-rules", Text: fmt.Sprintf("the site names rules on records called %q; there are none of that name", id)})
		case !all[i].holds(r.country, r.Day):
			warnings = append(warnings, garden.Warning{Code: "rules-not-in-force", Text: fmt.Sprintf("the rules %q were not in force in %q on %s", id, r.country, r.Day)})
		default:
			out = append(out, all[i])
		}
	}
	if len(r.chosen) == 0 {
		for _, x := range all {
			if x.Only != "chosen" && slices.Contains(x.Roles, r.role) && x.holds(r.country, r.Day) && (x.Only != "restricted" || r.restricted) {
				out = append(out, x)
			}
		}
	}
	if len(out) == 0 {
		warnings = append(warnings, garden.Warning{Code: "no-rules", Text: fmt.Sprintf("no rules on records are known here for country %q and role %q on %s: ask your authority", r.country, r.role, r.Day)})
	}
	return out, warnings, nil
}

// Origin says where the rule was read, for print beside everything made by it.
func (r Rule) Origin() string {
	s, _ := cite.Lookup(r.Source)
	return fmt.Sprintf("%s (%s; read on %s, %s). Ask your authority; label and law first.", r.Name, s.Text, r.ReadOn, r.Grade.Words())
}
