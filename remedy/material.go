package remedy

import (
	"bytes"
	_ "embed" // the tables
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"sync"

	"oidium/cite"
	"oidium/garden"
)

// RainClass says how a deposit leaves the leaf in rain.
type RainClass string

// The rain classes of the table of materials.
const (
	Particulate   RainClass = "P"    // lies on the leaf as particles
	Soluble       RainClass = "S"    // salts, milk: wash off at once
	Film          RainClass = "L"    // oil film
	Translaminar  RainClass = "T"    // goes into the leaf once dry
	Microbe       RainClass = "M"    // living or formulated microbe
	NotWeathering RainClass = "none" // given through the root
)

// Material is one row of the table of materials: an active ingredient in one
// form, with priors for what it does. The priors hold for good cover, a
// sensitive population and timely use; the spread is from trial to trial.
type Material struct {
	ID   garden.MaterialID
	Name string
	FRAC string // code of the mode of action as printed, "NC" and "none" without
	Rain RainClass

	// Protective is the share of new infections stopped by a fresh deposit,
	// Curative the share of standing colonies killed on the day; 0 to 1.
	Protective, Curative     cite.Value
	ProtectiveSD, CurativeSD float64

	HalfLife    cite.Value // days
	TMin, TMax  cite.Value // °C between which it is used
	MinInterval cite.Value // days between two uses where no label says otherwise

	// harvestDays and reentryHours are typical values. They release nothing:
	// only a label value typed in by the user does.
	harvestDays, reentryHours cite.Value

	MaxSeason string // as printed: a number, "label", "none" or words
	Cautions  []string
	Sources   []string // ids in the register
	Grade     cite.Grade

	Active    string // rows with the same active ingredient count together
	Form      string // "powder", "liquid", "dust", "vapour", "root"
	HomeMade  bool   // mixed by the user from things not sold for the purpose
	Knockdown bool   // shown to act on standing colonies
	Oil       bool   // is or contains oil
	Sulfur    bool
	Living    bool // a living organism

	// RateLow and RateHigh are the strengths used in the trials; RateUnit is
	// "g/L", "mL/L", "g/m2" or "g SiO2/L", "" when only the label says.
	RateLow, RateHigh cite.Value
	RateUnit          string

	extras    []extra
	conflicts []conflict
	element   string     // "Na", "K", "Cu": what is left in the soil
	share     cite.Value // of the element in the product; no unit: unknown
	resistant cite.Value // share of the mildew taken as resistant
}

// extra is what goes into the tank beside the material.
type extra struct {
	what  string
	mlPer float64 // mL in a litre of mix, 0: as the label says
}

// conflict is one entry of the table's list of conflicts.
type conflict struct {
	with string
	days int
	read bool // the label decides
}

var (
	//go:embed data/materials.csv
	materialsCSV []byte
	//go:embed data/traits.csv
	traitsCSV []byte
	//go:embed data/sourcecodes.csv
	sourceCodesCSV []byte
)

type book struct {
	list []*Material
	byID map[garden.MaterialID]*Material
	err  error
}

var library = sync.OnceValue(func() book {
	list, err := readMaterials(bytes.NewReader(materialsCSV), bytes.NewReader(traitsCSV), bytes.NewReader(sourceCodesCSV))
	b := book{list: list, byID: make(map[garden.MaterialID]*Material, len(list)), err: err}
	for _, m := range list {
		b.byID[m.ID] = m
	}
	return b
})

// Materials returns all materials in the order of the table. The values are
// shared and must not be changed.
func Materials() []*Material { return library().list }

// Get returns the material with the given id.
func Get(id garden.MaterialID) (*Material, bool) {
	m, ok := library().byID[id]
	return m, ok
}

// fields gives access to a row of a table by the name of the column.
type fields struct {
	line  int
	table string
	col   map[string]int
	row   []string
	err   error
}

func (f *fields) text(name string) string {
	i, ok := f.col[name]
	if !ok {
		f.fail(name, "column is missing")
		return ""
	}
	return strings.TrimSpace(f.row[i])
}

func (f *fields) fail(col, what string) {
	if f.err == nil {
		f.err = fmt.Errorf("reading table of %s, line %d, column %s: %s", f.table, f.line, col, what)
	}
}

func (f *fields) number(name string) float64 {
	s := f.text(name)
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		f.fail(name, fmt.Sprintf("%q is not a number", s))
	}
	return v
}

func (f *fields) day(name string) garden.Day {
	if f.text(name) == "" {
		return 0
	}
	d, err := garden.ParseDay(f.text(name))
	if err != nil {
		f.fail(name, err.Error())
	}
	return d
}

func (f *fields) yes(name string) bool {
	switch s := f.text(name); s {
	case "yes":
		return true
	case "no":
	default:
		f.fail(name, fmt.Sprintf("%q is neither yes nor no", s))
	}
	return false
}

func (f *fields) oneOf(name string, allowed ...string) string {
	s := f.text(name)
	for _, a := range allowed {
		if s == a {
			return s
		}
	}
	f.fail(name, fmt.Sprintf("%q is not one of %s", s, strings.Join(allowed, ", ")))
	return s
}

// readTable calls row for each line of a table with a header row.
func readTable(r io.Reader, table string, row func(*fields)) error {
	cr := csv.NewReader(r)
	head, err := cr.Read()
	if err != nil {
		return fmt.Errorf("reading table of %s: no header row: %w", table, err)
	}
	col := make(map[string]int, len(head))
	for i, h := range head {
		col[strings.TrimSpace(h)] = i
	}
	for {
		rec, err := cr.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return fmt.Errorf("reading table of %s: %w", table, err)
		}
		line, _ := cr.FieldPos(0)
		f := &fields{line: line, table: table, col: col, row: rec}
		row(f)
		if f.err != nil {
			return f.err
		}
	}
}

// readSourceCodes reads the table that turns a source code of the materials
// table into an id of the register.
func readSourceCodes(r io.Reader) (map[string]string, error) {
	codes := make(map[string]string)
	err := readTable(r, "source codes", func(f *fields) { codes[f.text("code")] = f.text("id") })
	return codes, err
}

// readMaterials reads the three tables. It is strict: an unknown source code, a
// word that is not a number, a share outside 0 to 100, a row without traits and
// an id used twice are errors that name the line.
func readMaterials(materials, traits, codes io.Reader) ([]*Material, error) {
	code, err := readSourceCodes(codes)
	if err != nil {
		return nil, err
	}
	var list []*Material
	byID := make(map[garden.MaterialID]*Material)
	err = readTable(materials, "materials", func(f *fields) {
		m := readMaterial(f, code)
		if byID[m.ID] != nil {
			f.fail("id", fmt.Sprintf("%q stands there twice", m.ID))
		}
		byID[m.ID] = m
		list = append(list, m)
	})
	if err != nil {
		return nil, err
	}
	err = readTable(traits, "traits", func(f *fields) {
		m := byID[garden.MaterialID(f.text("id"))]
		switch {
		case m == nil:
			f.fail("id", "no such material in the table of materials")
		case m.Active != "":
			f.fail("id", "stands there twice")
		default:
			readTraits(f, m)
		}
	})
	if err != nil {
		return nil, err
	}
	for _, m := range list {
		if m.Active == "" {
			return nil, fmt.Errorf("reading table of traits: material %q has no row", m.ID)
		}
	}
	return list, nil
}

func readMaterial(f *fields, code map[string]string) *Material {
	m := &Material{
		ID:        garden.MaterialID(f.text("id")),
		Name:      f.text("name"),
		FRAC:      f.text("frac"),
		Rain:      RainClass(f.oneOf("rain_class", "P", "S", "L", "T", "M", "none")),
		MaxSeason: f.text("max_per_season"),
		Grade:     cite.Grade(f.oneOf("confidence", "A", "B", "C")),
	}
	for _, c := range strings.Fields(f.text("source")) {
		id, ok := code[c]
		if !ok {
			f.fail("source", fmt.Sprintf("%q is not in the table of source codes", c))
			return m
		}
		m.Sources = append(m.Sources, id)
	}
	if len(m.Sources) == 0 {
		f.fail("source", "no source given")
		return m
	}
	value := func(col, unit, what string) cite.Value {
		v := f.number(col)
		return cite.Value{V: v, Lo: v, Hi: v, Unit: unit, Source: m.Sources[0], Grade: m.Grade, What: what + " of " + m.Name}
	}
	prior := func(mean, sd, what string) (cite.Value, float64) {
		v := value(mean, "1", what)
		s := f.number(sd) / 100
		v.V /= 100
		if v.V < 0 || v.V > 1 || s < 0 {
			f.fail(mean, "not between 0 and 100")
		}
		v.Lo, v.Hi = max(0, v.V-2*s), min(1, v.V+2*s)
		return v, s
	}
	m.Protective, m.ProtectiveSD = prior("prot_mean", "prot_sd", "share of new infections stopped by a fresh deposit")
	m.Curative, m.CurativeSD = prior("cur_mean", "cur_sd", "share of standing colonies killed")
	m.HalfLife = value("half_life_d", "d", "half-life of the deposit")
	m.TMin = value("tmin_c", "°C", "least temperature of use")
	m.TMax = value("tmax_c", "°C", "heat ceiling")
	m.MinInterval = value("min_interval_d", "d", "least interval")
	m.harvestDays = value("phi_d", "d", "typical days to harvest")
	m.reentryHours = value("rei_h", "h", "typical hours to re-entry")
	m.harvestDays.Grade, m.reentryHours.Grade = cite.C, cite.C
	if m.HalfLife.V <= 0 || m.TMin.V >= m.TMax.V || m.MinInterval.V < 0 {
		f.fail("half_life_d", "half-life, temperatures or interval make no sense")
	}
	if s := f.text("conflicts"); s != "none" {
		for part := range strings.SplitSeq(s, ";") {
			with, days, ok := strings.Cut(part, ":")
			c := conflict{with: with}
			if n, err := strconv.Atoi(days); ok && err == nil {
				c.days = n
			} else if ok && (days == "label" || days == "test" || days == "separate") {
				c.read = true
			} else {
				f.fail("conflicts", fmt.Sprintf("%q is not thing:days or thing:label", part))
			}
			m.conflicts = append(m.conflicts, c)
		}
	}
	for part := range strings.SplitSeq(f.text("cautions"), ";") {
		m.Cautions = append(m.Cautions, strings.TrimSpace(part))
	}
	return m
}

func readTraits(f *fields, m *Material) {
	m.Active = f.text("active")
	m.Form = f.oneOf("form", "powder", "liquid", "dust", "vapour", "root")
	m.HomeMade, m.Knockdown = f.yes("homemade"), f.yes("knockdown")
	m.Oil, m.Sulfur, m.Living = f.yes("oil"), f.yes("sulfur"), f.yes("living")
	source, grade := f.text("source"), cite.Grade(f.oneOf("grade", "A", "B", "C"))
	if _, ok := cite.Lookup(source); !ok {
		f.fail("source", fmt.Sprintf("%q is not in the register", source))
	}
	if r := f.number("resistant"); r > 0 {
		m.resistant = cite.Value{V: r, Lo: 0, Hi: 1, Unit: "1", Source: "mcgrath-2016", Grade: cite.C, What: "share of the mildew resistant to " + m.Name}
	}
	m.RateUnit = f.oneOf("rate_unit", "", "g/L", "mL/L", "g/m2", "g SiO2/L")
	if m.RateUnit != "" {
		lo, hi := f.number("rate_low"), f.number("rate_high")
		if lo <= 0 || hi < lo {
			f.fail("rate_low", "rates make no sense")
		}
		v := cite.Value{V: lo, Lo: lo, Hi: hi, Unit: m.RateUnit, Source: source, Grade: grade, What: "strength in the trials of " + m.Name}
		m.RateLow, m.RateHigh = v, v
		m.RateHigh.V = hi
	}
	if s := f.text("extra"); s != "" {
		what, dose, _ := strings.Cut(s, ":")
		x := extra{what: what}
		if dose != "label" {
			v, err := strconv.ParseFloat(dose, 64)
			if err != nil {
				f.fail("extra", fmt.Sprintf("%q is not a number", dose))
			}
			x.mlPer = v
		}
		m.extras = append(m.extras, x)
	}
	m.element = f.oneOf("element", "", "Na", "K", "Cu")
	if f.text("element_share") != "" {
		v := f.number("element_share")
		m.share = cite.Value{V: v, Lo: v, Hi: v, Unit: "1", Source: "atomic-weights", Grade: cite.Calc, What: "share of " + m.element + " in the salt"}
	}
}
