package work

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"oidium/remedy/mixing"
	"oidium/scout"
)

const measuredVersion = "oidium-measured-1"

// Measured is something worked out for the shed or the tally sheet.
type Measured struct {
	Version string   `json:"version" enum:"oidium-measured-1" doc:"shape of this document"`
	What    string   `json:"what" doc:"what was worked out"`
	Given   []string `json:"given" doc:"as it was understood"`
	Figures []Figure `json:"figures"`
	Words   []string `json:"words"`
	Source  string   `json:"source,omitempty" doc:"behind the words, where they need one"`
	Asks    string   `json:"asks,omitempty" doc:"there is more than one reading: which one is meant?"`
	Grounds
}

// Figure is one number that came out.
type Figure struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	Note  string  `json:"note,omitempty"`
}

func measured(what string, given ...string) *Measured {
	return &Measured{Version: measuredVersion, What: phrase("measure." + what), Given: given}
}

func (m *Measured) add(name string, value float64, unit, note string) {
	m.Figures = append(m.Figures, Figure{Name: phrase("figure." + name), Value: round4(value), Unit: unit, Note: note})
}

func (m *Measured) done(cautions ...string) *Measured {
	m.mind(cautions...)
	complete(m, &m.Sources)
	return m
}

// round4 keeps four significant digits.
func round4(x float64) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	s := math.Pow(10, 3-math.Floor(math.Log10(math.Abs(x))))
	return math.Round(x*s) / s
}

// Converting turns a quantity into another unit, such as 1 lb/100 gal into g/L.
func Converting(text, to, units string) (*Measured, error) {
	s := mixing.System(units)
	q, err := mixing.Parse(text, s)
	if err != nil {
		return nil, err
	}
	v, err := q.In(to, s)
	if err != nil {
		return nil, err
	}
	m := measured("convert", text)
	m.add("result", v, to, "")
	return m.done(phrase("caution.label")), nil
}

// Parting tells every way in which a ratio can be meant, and what each asks for a
// volume of mix.
func Parting(ratio, mix, units string) (*Measured, error) {
	s := mixing.System(units)
	litres, err := litresOf(mix, s)
	if err != nil {
		return nil, err
	}
	readings, err := mixing.Readings(ratio)
	if err != nil {
		return nil, err
	}
	m := measured("ratio", ratio, mix)
	for _, r := range readings {
		material, water := r.Parted(litres)
		m.add("material", material, "L", r.Words)
		m.add("water", water, "L", "")
	}
	if len(readings) > 1 {
		m.Asks = phrase("measure.which", "n", len(readings))
	}
	return m.done(phrase("caution.label")), nil
}

func litresOf(text string, s mixing.System) (float64, error) {
	if text == "" {
		return 1, nil
	}
	q, err := mixing.Parse(text, s)
	if err != nil {
		return 0, err
	}
	return q.In("L", s)
}

// saltOf finds a salt by its name or formula.
func saltOf(name string) (mixing.Salt, error) {
	n := strings.ToLower(strings.TrimSpace(name))
	for _, x := range []struct {
		salt  mixing.Salt
		names []string
	}{
		{mixing.SodiumBicarbonate, []string{"sodium bicarbonate", "sodium hydrogen carbonate", "baking soda", "nahco3"}},
		{mixing.PotassiumBicarbonate, []string{"potassium bicarbonate", "potassium hydrogen carbonate", "khco3"}},
		{mixing.MonopotassiumPhos, []string{"monopotassium phosphate", "kh2po4"}},
		{mixing.DipotassiumPhos, []string{"dipotassium phosphate", "k2hpo4"}},
		{mixing.SilicaOfSilicate, []string{"sio2", "silica"}},
		{mixing.SiliconOfSilicate, []string{"si", "silicon"}},
	} {
		if slices.Contains(x.names, n) {
			return x.salt, nil
		}
	}
	return "", fmt.Errorf("weighing a salt: %q is not known; there are NaHCO3, KHCO3, KH2PO4, K2HPO4, Si, SiO2", name)
}

// Weighing turns moles of a salt into grams, or grams into moles, and for a
// volume of mix into what goes on the scale.
func Weighing(text, salt, mix, units string) (*Measured, error) {
	s := mixing.System(units)
	q, err := mixing.Parse(text, s)
	if err != nil {
		return nil, err
	}
	which, err := saltOf(salt)
	if err != nil {
		return nil, err
	}
	m := measured("weigh", text, string(which), mix)
	mass, err := mixing.Weighed(q, which)
	if err != nil {
		// It is a mass already: tell its moles.
		moles, err2 := mixing.Moles(q, which)
		if err2 != nil {
			return nil, err
		}
		mass = q
		if v, err := moles.In("mM", s); err == nil {
			m.add("molarity", v, "mmol/L", "")
		} else if v, err := moles.In("mol", s); err == nil {
			m.add("moles", v, "mol", "")
		}
	}
	if g, err := mass.In("g", s); err == nil {
		m.add("weigh", g, "g", "")
		return m.done(phrase("caution.label")), nil
	}
	strength, err := mass.In("g/L", s)
	if err != nil {
		return nil, err
	}
	m.add("strength", strength, "g/L", "")
	if mix != "" {
		v, err := mixing.Parse(mix, s)
		if err != nil {
			return nil, err
		}
		g, err := mass.Times(v).In("g", s)
		if err != nil {
			return nil, err
		}
		m.add("weigh", g, "g", phrase("measure.for-mix", "mix", mix))
	}
	return m.done(phrase("caution.label")), nil
}

// Spooning prints a mass of powder in level spoons. density is a mass in a volume,
// "" the known one of the salt.
func Spooning(text, salt, density, units string) (*Measured, error) {
	s := mixing.System(units)
	q, err := mixing.Parse(text, s)
	if err != nil {
		return nil, err
	}
	var d mixing.Quantity
	if density != "" {
		if d, err = mixing.Parse(density, s); err != nil {
			return nil, err
		}
	}
	which := mixing.Salt("")
	if salt != "" {
		if which, err = saltOf(salt); err != nil {
			return nil, err
		}
	}
	sp, err := mixing.SpoonsOf(q, d, which, s)
	if err != nil {
		return nil, err
	}
	m := measured("spoons", text, salt, density)
	m.add("spoons-hold", sp.Grams, "g", sp.Text)
	m.add("density", sp.Density, "g/mL", assumedNote(sp.Assumed))
	m.Words = append(m.Words, phrase("spoons", "text", sp.Text, "grams", strconv.FormatFloat(round3(sp.Grams), 'g', -1, 64), "density", sp.Density, "doubt", percentOf(sp.Doubt)))
	return m.done(phrase("caution.weigh"), phrase("caution.label")), nil
}

func assumedNote(yes bool) string {
	if yes {
		return phrase("measure.assumed")
	}
	return ""
}

// Stocking makes a stock solution of a material and tells how much of it gives a
// mix its strength.
func Stocking(material, volume, salt, strength, mix, units string) (*Measured, error) {
	s := mixing.System(units)
	a, err := mixing.Parse(material, s)
	if err != nil {
		return nil, err
	}
	v, err := mixing.Parse(volume, s)
	if err != nil {
		return nil, err
	}
	which := mixing.Salt("")
	if salt != "" {
		if which, err = saltOf(salt); err != nil {
			return nil, err
		}
	}
	st, err := mixing.NewStock(a, v, which)
	if err != nil {
		return nil, err
	}
	m := measured("stock", material, volume, strength, mix)
	if g, err := st.Strength.In("g/L", s); err == nil {
		m.add("stock-strength", g, "g/L", "")
	} else if ml, err := st.Strength.In("mL/L", s); err == nil {
		m.add("stock-strength", ml, "mL/L", "")
	}
	if st.Warning != "" {
		m.Words = append(m.Words, st.Warning)
	}
	if strength != "" {
		want, err := mixing.Parse(strength, s)
		if err != nil {
			return nil, err
		}
		total, err := mixing.Parse(mix, s)
		if err != nil {
			return nil, fmt.Errorf("diluting a stock solution: how much mix is wanted? %w", err)
		}
		q, err := st.For(want, total)
		if err != nil {
			return nil, err
		}
		ml, err := q.In("mL", s)
		if err != nil {
			return nil, err
		}
		m.add("of-stock", ml, "mL", phrase("measure.for-mix", "mix", mix))
		all, err := total.In("mL", s)
		if err != nil {
			return nil, err
		}
		m.add("water", (all-ml)/1000, "L", phrase("measure.fill", "mix", mix))
	}
	return m.done(phrase("caution.bottle"), phrase("caution.label")), nil
}

// Holding tells how much product holds an amount of active ingredient.
func Holding(active, content, units string) (*Measured, error) {
	s := mixing.System(units)
	a, err := mixing.Parse(active, s)
	if err != nil {
		return nil, err
	}
	c, err := mixing.Parse(content, s)
	if err != nil {
		return nil, err
	}
	q, err := mixing.Product(a, c)
	if err != nil {
		return nil, err
	}
	m := measured("active", active, content)
	for _, unit := range []string{"g", "mL", "g/L", "mL/L", "g/m2", "kg/ha", "L/ha"} {
		if v, err := q.In(unit, s); err == nil {
			m.add("product", v, unit, "")
			break
		}
	}
	if len(m.Figures) == 0 {
		return nil, fmt.Errorf("product for %s of active ingredient at %s: the two do not fit; give the content as a share (80 %%) or a mass in a volume (250 g/L)", active, content)
	}
	return m.done(phrase("caution.label")), nil
}

// Silicate tells a strength of silicon in every way that papers and labels use.
func Silicate(text, counted, units string) (*Measured, error) {
	s := mixing.System(units)
	q, err := mixing.Parse(text, s)
	if err != nil {
		return nil, err
	}
	which := mixing.Salt("")
	if counted != "" {
		if which, err = saltOf(counted); err != nil {
			return nil, err
		}
	}
	x, err := mixing.SiliconOf(q, which)
	if err != nil {
		return nil, err
	}
	m := measured("silicon", text, counted)
	m.add("molarity", x.MilliMolar, "mmol/L", "")
	m.add("silicon", x.Si, "mg/L", "")
	m.add("silica", x.SiO2, "mg/L", "")
	return m.done(x.Caution, phrase("caution.label")), nil
}

// Strewing tells how much of a dust, or of anything given by area, a piece of
// ground takes; of an amount for the whole of it, what that is by area.
func Strewing(rate, area, units string) (*Measured, error) {
	s := mixing.System(units)
	r, err := mixing.Parse(rate, s)
	if err != nil {
		return nil, err
	}
	a, err := mixing.Parse(area, s)
	if err != nil {
		return nil, err
	}
	m := measured("area", rate, area)
	// An amount for the piece of ground is turned into a rate.
	if _, err := r.In("g", s); err == nil {
		per, err := r.Per(a)
		if err != nil {
			return nil, err
		}
		v, err := per.In("g/m2", s)
		if err != nil {
			return nil, err
		}
		m.add("by-area", v, "g/m2", "")
		return m.done(phrase("caution.dust"), phrase("caution.label")), nil
	}
	all := r.Times(a)
	if g, err := all.In("g", s); err == nil {
		per, err := r.In("g/m2", s)
		if err != nil {
			return nil, err
		}
		m.add("weigh", g, "g", "")
		m.add("by-area", per, "g/m2", "")
	} else if l, err := all.In("L", s); err == nil {
		per, err := r.In("L/ha", s)
		if err != nil {
			return nil, err
		}
		m.add("volume", l, "L", "")
		m.add("by-area", per, "L/ha", "")
	} else {
		return nil, fmt.Errorf("spreading %s over %s: a rate by area is wanted, such as 7 g/m2 or 10 lb/acre", rate, area)
	}
	return m.done(phrase("caution.dust"), phrase("caution.label")), nil
}

// Lighting tells the dose of lamps that pass over a bed. strength is a dose
// (J/m2) or an irradiance (W/m2) at the leaf.
func Lighting(length, speed, strength, units string) (*Measured, error) {
	s := mixing.System(units)
	var q [3]mixing.Quantity
	for i, text := range []string{length, speed, strength} {
		var err error
		if q[i], err = mixing.Parse(text, s); err != nil {
			return nil, err
		}
	}
	l, err := mixing.Pass(q[0], q[1], q[2])
	if err != nil {
		return nil, err
	}
	m := measured("lamp", length, speed, strength)
	m.add("seconds", l.Seconds, "s", "")
	m.add("dose", l.DoseJM2, "J/m2", "")
	m.add("power", l.PowerWM2, "W/m2", "")
	m.add("shift", l.Shift, "1", "")
	if l.Overdosed {
		m.Words = append(m.Words, phrase("measure.overdose", "times", strconv.FormatFloat(round3(l.Shift), 'g', -1, 64)))
	}
	return m.done(append(l.Cautions, phrase("caution.label"))...), nil
}

// Sharing tells what a count says about a share: k of n leaves, perPlant of them
// on each plant (0: one).
func Sharing(k, n, perPlant int) (*Measured, error) {
	if n <= 0 || k < 0 || k > n {
		return nil, fmt.Errorf("telling a share: %d of %d leaves makes no sense", k, n)
	}
	m := measured("share", fmt.Sprintf("%d of %d leaves", k, n))
	const conf = 0.95
	w, e := scout.Wilson(k, n, conf), scout.Exact(k, n, conf)
	m.add("share", 100*float64(k)/float64(n), "%", "")
	m.add("likely-low", 100*w.Lo, "%", "")
	m.add("likely-high", 100*w.Hi, "%", "")
	m.add("exact-low", 100*e.Lo, "%", "")
	m.add("exact-high", 100*e.Hi, "%", "")
	if k == 0 {
		per := max(1, perPlant)
		most := scout.AtMost((n+per-1)/per, per, conf, scout.Look{Sees: 1})
		m.add("at-most", 100*most, "%", phrase("measure.apart"))
		m.Words = append(m.Words, phrase("measure.none", "n", n, "most", percentOf(most)))
		if per > 1 {
			clumped := scout.LookOf("eye", "sure")
			clumped.Sees = 1
			most = scout.AtMost((n+per-1)/per, per, conf, clumped)
			m.add("at-most", 100*most, "%", phrase("measure.clumped", "n", per))
		}
	}
	return m.done(), nil
}

// Grading turns a reading on a scale into a share, and a percentage into the grade
// of a scale.
func Grading(value float64, scale, to string) (*Measured, error) {
	r, err := scout.ReadOn(scale, value)
	if err != nil {
		return nil, err
	}
	m := measured("grade", fmt.Sprintf("%g on the scale %s", value, r.Scale))
	m.add("covered", 100*r.Share, "%", "")
	if r.High > r.Low {
		m.add("from", 100*r.Low, "%", "")
		m.add("to", 100*r.High, "%", "")
	}
	if to != "" {
		g, err := scout.GradeOn(to, 100*r.Share)
		if err != nil {
			return nil, err
		}
		m.add("grade", g, to, "")
	}
	if r.Source != "" {
		m.Assumed = append(m.Assumed, Assumption{What: phrase("measure.scale", "scale", r.Scale), Value: phrase("measure.middle"), Source: r.Source, Grade: r.Confidence})
	}
	m.Words, m.Source = append(m.Words, phrase("measure.percent-better")), "bock-2013"
	return m.done(), nil
}

// Indexing is the severity index of counts by class, from class 0 up.
func Indexing(counts []int) (*Measured, error) {
	v := scout.DiseaseIndex(counts)
	if math.IsNaN(v) {
		return nil, fmt.Errorf("working out a severity index: counts of at least two classes are needed, from class 0 up, such as 10,5,3,1,1")
	}
	m := measured("index", fmt.Sprint(counts))
	m.add("index", 100*v, "%", "")
	return m.done(), nil
}
