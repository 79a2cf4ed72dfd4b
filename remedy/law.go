package remedy

import (
	"bytes"
	_ "embed" // the tables
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"oidium/cite"
	"oidium/garden"
)

//go:embed data/roles.csv
var rolesCSV []byte

// roleRow is one row of the table of who may use a home-made mix where. An
// empty or "*" place, role or active ingredient fits all; the first row that
// fits counts. Dates bound the time for which the row holds.
type roleRow struct {
	place, role, active string
	from, to            garden.Day
	outcome, key        string
	value               cite.Value
}

var roleRows = sync.OnceValue(func() []roleRow {
	// The table is part of the program; a test holds it whole.
	rows, _ := readRoles(bytes.NewReader(rolesCSV))
	return rows
})

func readRoles(r io.Reader) ([]roleRow, error) {
	var rows []roleRow
	err := readTable(r, "roles", func(f *fields) {
		row := roleRow{
			place: f.text("place"), role: f.text("role"), active: f.text("active"),
			from: f.day("from"), to: f.day("to"),
			outcome: f.oneOf("outcome", OK, Caution, Ask, Refused), key: f.text("key"),
			value: from(f.text("source"), cite.Grade(f.oneOf("grade", "A", "B", "C"))),
		}
		if _, ok := cite.Lookup(row.value.Source); !ok {
			f.fail("source", fmt.Sprintf("%q is not in the register", row.value.Source))
		}
		rows = append(rows, row)
	})
	return rows, err
}

// union are the member states of the European Union by ISO 3166-1 code (from
// memory; the list of 2020 on).
const union = "AT BE BG HR CY CZ DK EE FI FR DE GR HU IE IT LV LT LU MT NL PL PT RO SK SI ES SE"

// place returns the legal profile of a country: "EU" for its members, else the
// country itself. Great Britain is its own place.
func place(country string) string {
	if slices.Contains(strings.Fields(union), country) {
		return "EU"
	}
	return country
}

// judgeRole says whether this user may be handed the material at all. Materials
// sold for the purpose are left to their label; home-made mixes depend on place,
// role and date.
func judgeRole(c *look, m *Material) []Check {
	where, role := place(c.Site.Country), string(c.Site.Role)
	if c.by == garden.Adviser || c.by == garden.HiredHand {
		role = string(c.by)
	}
	if !m.HomeMade {
		switch {
		case role == string(garden.Adviser):
			return one(check(ruleRole, Caution, "adviser-label", bySafety))
		case role == string(garden.Private) && singleSite(m):
			return one(check(ruleRole, Caution, "licence", bySafety))
		}
		return one(check(ruleRole, OK, "label", bySafety))
	}
	for _, r := range roleRows() {
		if r.place != "*" && r.place != where || r.role != "*" && r.role != role || r.active != "*" && r.active != m.Active {
			continue
		}
		if r.from != 0 && c.today() < r.from || r.to != 0 && c.today() > r.to {
			continue
		}
		outcome, key := r.outcome, r.key
		if outcome == Ask && role != "" && c.found {
			// What the user entered of the rules in force answers the question.
			outcome, key = Caution, "stated"
		}
		return one(check(ruleRole, outcome, key, r.value, "place", c.Site.Country))
	}
	return one(check(ruleRole, Ask, "no-profile", bySafety, "place", c.Site.Country))
}

//go:embed data/uses.csv
var usesCSV []byte

// use is one printed use of a basic substance: the crops and growth stages it is
// approved for, in which strength and how often. 0 uses: no number printed.
type use struct {
	place, active string
	crops         []string
	first, last   int     // growth stage, BBCH
	low, high     float64 // L in 100 L, as printed
	uses          int
	interval      float64 // d
	from, to      garden.Day
	value         cite.Value
}

var uses = sync.OnceValue(func() []use {
	// The table is part of the program; a test holds it whole.
	rows, _ := readUses(bytes.NewReader(usesCSV))
	return rows
})

func readUses(r io.Reader) ([]use, error) {
	var rows []use
	err := readTable(r, "uses", func(f *fields) {
		u := use{
			place: f.text("place"), active: f.text("active"), crops: strings.Fields(f.text("crops")),
			first: int(f.number("stage_from")), last: int(f.number("stage_to")), low: f.number("low_l_hl"), high: f.number("high_l_hl"),
			uses: int(f.number("uses")), interval: f.number("interval_d"), from: f.day("from"), to: f.day("to"),
			value: from(f.text("source"), cite.Grade(f.oneOf("grade", "A", "B", "C"))),
		}
		if _, ok := cite.Lookup(u.value.Source); !ok {
			f.fail("source", fmt.Sprintf("%q is not in the register", u.value.Source))
		}
		if u.first > u.last || u.low > u.high || u.low <= 0 {
			f.fail("stage_from", "stages or strengths make no sense")
		}
		rows = append(rows, u)
	})
	return rows, err
}

// judgeUse holds the printed conditions of a basic substance: crop, growth
// stage, strength, number and interval. A material without such a table in this
// place is left to the other rules.
func judgeUse(c *look, m *Material) []Check {
	where := place(c.Site.Country)
	var rows []use
	for _, u := range uses() {
		if u.place == where && u.active == m.Active && (u.from == 0 || c.today() >= u.from) && (u.to == 0 || c.today() <= u.to) {
			rows = append(rows, u)
		}
	}
	if len(rows) == 0 {
		return one(check(ruleUse, OK, "no-table", bySafety))
	}
	var best []Check
	for _, u := range rows {
		if !slices.Contains(u.crops, string(c.Planting.Crop)) {
			continue
		}
		k := c.within(u, m)
		if best == nil || worstOf(k) < worstOf(best) {
			best = k
		}
	}
	if best == nil {
		return one(check(ruleUse, Refused, "crop", rows[0].value, "crop", string(c.Planting.Crop)))
	}
	return best
}

func worstOf(ks []Check) int {
	w := 0
	for _, k := range ks {
		w = max(w, rank(k.Outcome))
	}
	return w
}

// within holds the case against one printed use.
func (c *look) within(u use, m *Material) []Check {
	var out []Check
	add := func(outcome, what string, pairs ...string) {
		out = append(out, check(ruleUse, outcome, what, u.value, pairs...))
	}
	span := fmt.Sprintf("%02d-%02d", u.first, u.last)
	low, high, known := c.stage()
	switch {
	case u.first == 0 && u.last == 99:
	case !known:
		add(Ask, "stage-unknown", "span", span)
	case high < u.first || low > u.last:
		add(Refused, "stage", "span", span)
	case low < u.first || high > u.last:
		add(Ask, "stage-unknown", "span", span)
	}
	share := c.rate.V / 1000 // of the finished mix, from mL/L
	printed := strings.TrimSuffix(num(u.low, 0)+"-"+num(u.high, 0), "-"+num(u.low, 0))
	// "10 L/hL" is 10 L in 100 L of mix, or 10 L added to 100 L of water.
	in, added := 100*share, 100*share/(1-share)
	switch fits := func(v float64) bool { return v >= u.low-1e-9 && v <= u.high+1e-9 }; {
	case !c.rateKnown || c.rate.Unit != "mL/L" || share >= 1:
		add(Ask, "dose-unknown", "printed", printed)
	case fits(in) != fits(added):
		add(Caution, "dose-reading", "printed", printed, "share", num(in, 1))
	case !fits(in):
		add(Refused, "dose", "printed", printed, "share", num(in, 1))
	}
	used := sameActive(c.onPlanting, m)
	if u.uses > 0 && len(used) >= u.uses {
		add(Refused, "count", "uses", num(float64(u.uses), 0))
	}
	if n := len(used); n > 0 && float64(c.daysSince(used[n-1])) < u.interval {
		add(Refused, "interval", "days", num(u.interval, 0))
	}
	if len(out) == 0 {
		add(OK, "fits")
	}
	return out
}

// stage returns the growth stages (BBCH) in which the planting may be. A crop in
// flower or in its picking season is at least there even if nobody gave a stage.
func (c *look) stage() (low, high int, known bool) {
	if lo, hi, ok := stages(c.Stage); ok {
		return lo, hi, true
	}
	p := c.Planting
	switch picking := p.FirstPick != 0 && p.FirstPick <= c.today(); {
	case picking && !c.LeafEaten && !c.Ornamental:
		return firstFruitStage, 99, true
	case c.InFlower:
		return firstFlowerStage, 99, true
	}
	return 0, 99, false
}

// The BBCH scale: the first flower opens at 61, the first fruit has its size at
// 71 (Feller et al. 1995, as read in a secondary source).
const (
	firstFlowerStage = 61
	firstFruitStage  = 71
)

var stageRange = regexp.MustCompile(`^(?:bbch ?)?(\d{1,2})(?: ?(?:-|–|to) ?(\d{1,2}))?$`)

// stages reads a growth stage or a range of them, such as "BBCH 61" or "19-49".
func stages(text string) (low, high int, ok bool) {
	m := stageRange.FindStringSubmatch(strings.ToLower(strings.TrimSpace(text)))
	if m == nil {
		return 0, 0, false
	}
	low, _ = strconv.Atoi(m[1]) // two digits always are a number
	high = low
	if m[2] != "" {
		high, _ = strconv.Atoi(m[2])
	}
	return low, high, low <= high
}

// judgeLabelStage holds the growth stages that the label names.
func judgeLabelStage(c *look, _ *Material) []Check {
	text := c.label.Stages
	if text == "" {
		return one(check(ruleLabelStage, OK, "silent", byLabel))
	}
	first, last, readable := stages(text)
	low, high, known := c.stage()
	switch {
	case !readable || !known:
		return one(check(ruleLabelStage, Ask, "unknown", byLabel, "stages", text))
	case high < first || low > last:
		return one(check(ruleLabelStage, Refused, "outside", byLabel, "stages", text))
	case low < first || high > last:
		return one(check(ruleLabelStage, Ask, "unknown", byLabel, "stages", text))
	}
	return one(check(ruleLabelStage, OK, "inside", byLabel, "stages", text))
}

// HandedTo returns the case as it stands for somebody else who is told what to
// do: under the recipient's place and role, without the labels and the shed of
// whoever tells. by is the role of whoever tells.
func (c *Case) HandedTo(recipient garden.Site, by garden.Role) *Case {
	out := *c
	if recipient.Country != c.Site.Country {
		out.Labels = nil
	}
	out.Site, out.Stock, out.by = recipient, nil, by
	return &out
}
