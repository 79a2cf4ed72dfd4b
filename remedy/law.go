package remedy

import (
	"bytes"
	_ "embed" // the tables
	"fmt"
	"io"
	"slices"
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
		day := func(col string) garden.Day {
			if f.text(col) == "" {
				return 0
			}
			d, err := garden.ParseDay(f.text(col))
			if err != nil {
				f.fail(col, err.Error())
			}
			return d
		}
		row := roleRow{
			place: f.text("place"), role: f.text("role"), active: f.text("active"),
			from: day("from"), to: day("to"),
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
	if !m.HomeMade {
		if c.Site.Role == garden.Adviser {
			return one(check(ruleRole, Caution, "adviser-label", bySafety))
		}
		return one(check(ruleRole, OK, "label", bySafety))
	}
	where, role := place(c.Site.Country), string(c.Site.Role)
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
