package mixing

import (
	"encoding/csv"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"oidium/words"
)

func q(t *testing.T, text string) Quantity {
	t.Helper()
	v, err := Parse(text, US)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// row is one of the 51 mixing checks: handbook tables (New England Vegetable
// Guide, a Pacific Northwest handbook, a military manual, extension calibration
// pages) and worked arithmetic, compiled with exact and published results.
type row struct{ id, what, exact, unit, published string }

func rows(t *testing.T) []row {
	t.Helper()
	f, err := os.Open("testdata/mixchecks.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rec, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []row
	for _, r := range rec[1:] {
		out = append(out, row{r[0], r[1], r[3], r[4], r[5]})
	}
	return out
}

// How each row is worked out with the functions of the package.
func answers(t *testing.T) map[string]Quantity {
	x := func(text string) Quantity { return q(t, text) }
	per := func(a, b Quantity) Quantity {
		v, err := a.Per(b)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	product := func(active, content string) Quantity {
		v, err := Product(x(active), x(content))
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	weigh := func(text string, s Salt) Quantity {
		v, err := Weighed(x(text), s)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	ratio := func(text string, i int) Quantity {
		r, err := Readings(text)
		if err != nil {
			t.Fatal(err)
		}
		return Quantity{value: r[i].Share}
	}
	pass := func(length, speed, dose string) Lamp {
		l, err := Pass(x(length), x(speed), x(dose))
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	stock, err := NewStock(x("200 g"), x("2 L"), "")
	if err != nil {
		t.Fatal(err)
	}
	used, err := stock.For(x("5 g/L"), x("1 L"))
	if err != nil {
		t.Fatal(err)
	}
	if ml, err := used.In("mL", US); err != nil || math.Abs(ml-50) > 1e-9 {
		t.Errorf("stock of 200 g in 2 L: %v mL for 5 g/L, want 50", ml)
	}
	watts := dimension{energy: 1, time: -1, area: -1}
	a, b := pass("1.80 m", "2.25 km/h", "169 J/m2"), pass("1.80 m", "4.5 km/h", "84.5 J/m2")
	if math.Abs(a.PowerWM2-b.PowerWM2) > 1e-9 {
		t.Errorf("twice the speed at half the dose is another irradiance: %v and %v", a.PowerWM2, b.PowerWM2)
	}
	return map[string]Quantity{
		"M01": x("1 lb/100 gal"), "M02": x("2 lb/100 gal"), "M03": x("3 lb/100 gal"), "M04": x("4 lb/100 gal"), "M05": x("1 lb/100 gal"),
		"M06": x("1 pt/100 gal"), "M07": x("1 gal/100 gal"),
		"M08": x("1 qt/100 gal").Times(x("25 gal")),
		"M09": product("0.5 lb", "25 %"), "M10": product("1 lb", "40 %"), "M11": product("1 lb", "15 %"), "M12": product("0.5 lb", "4 lb/gal"), "M13": product("1 lb", "5 %"),
		"M14": x("500 gal").Times(x("2 lb/100 gal")),
		"M15": x("15 gal/ac").Times(x("3.5 ac")), "M16": x("3.5 ac").Times(x("3 lb/ac")),
		"M17": product("2 lb/ac", "80 %"),
		"M18": x("1 gal/1000 ft2"),
		"M19": per(x("1 qt/ac"), x("43.56 gal/ac")),
		"M20": product("1 lb/ac", "80 %"), "M21": product("1 lb/ac", "50 %"), "M22": product("1 lb/ac", "20 %"), "M23": product("1 lb/ac", "4 lb/gal"), "M24": product("1 lb/ac", "2 lb/gal"),
		"M25": product("1 lb/ac", "80 %"),
		"M26": product("10 lb/ac", "5 %"),
		"M27": per(x("0.3 lb/ac"), x("6 %").Times(x("8.34 lb/gal"))),
		"M28": weigh("0.063 mol/L", SodiumBicarbonate), "M29": weigh("0.063 mol/L", SodiumBicarbonate),
		"M30": x("1 %").Times(x("10 L")), "M31": x("1 %").Times(x("1500 L/ha")),
		"M32": per(x("5.6 kg/ha"), x("5 g/L")), "M33": per(x("1.1 kg/ha"), x("400 L/ha")),
		"M34": weigh("25 mM", MonopotassiumPhos), "M35": weigh("25 mM", DipotassiumPhos),
		"M36": weigh("1.7 mM", SilicaOfSilicate), "M37": weigh("1.7 mM", SiliconOfSilicate), "M38": weigh("17 mM", SilicaOfSilicate),
		"M39": func() Quantity {
			m, err := Moles(x("171 g/L").Times(x("0.34 mL/L")), SiliconOfSilicate)
			if err != nil {
				t.Fatal(err)
			}
			return m
		}(),
		"M40": ratio("10 L/hL", 1), "M41": ratio("10 L/hL", 0),
		"M42": x("10 L/hL").Times(x("1500 L/ha")),
		"M43": per(stock.Strength.Times(x("50 mL")), x("1 L")),
		"M44": x("6 g/L").Times(x("935 L/ha")),
		"M45": x("50 gal/ac"), "M46": x("5 lb/ac"),
		"M47": x("12 m").Times(x("0.75 m")).Times(per(x("800 L/ha"), Quantity{1, dimension{area: -1, length: 2}})),
		"M48": {pass("1.80 m", "2.3 km/h", "169 J/m2").Seconds, dimTime}, "M49": {pass("1.80 m", "5.6 km/h", "169 J/m2").Seconds, dimTime},
		"M50": {a.PowerWM2, watts},
		"M51": x("6.6 µL/cm2").Times(Quantity{value: 2}),
	}
}

// units turns the unit column of the table into what Parse reads: names of the
// product and of the area are words there.
func unitColumn(s string) string {
	s = regexp.MustCompile(` (product|dust|a\.i\.|milk|SiO2|Si|where cap bites)`).ReplaceAllString(s, "")
	s = strings.NewReplacer("% v/v", "%", "Tbsp", "tbsp", "mg SiO2", "mg", "mg Si", "mg").Replace(s)
	return s
}

func TestFiftyOneMixingChecks(t *testing.T) {
	got := answers(t)
	all := rows(t)
	if len(all) != 51 {
		t.Fatalf("%d rows, want 51", len(all))
	}
	for _, r := range all {
		a, ok := got[r.id]
		if !ok {
			t.Errorf("%s is not worked out", r.id)
			continue
		}
		unit := unitColumn(r.unit)
		v, err := a.In(unit, US)
		if err != nil {
			t.Errorf("%s %s: %v", r.id, r.what, err)
			continue
		}
		want, err := strconv.ParseFloat(r.exact, 64)
		if err != nil {
			t.Fatal(err)
		}
		// The table accepts 5 %; the atomic weights it used differ in the fifth
		// digit, nothing else does.
		if math.Abs(v/want-1) > 1e-4 {
			t.Errorf("%s %s: %v %s, want %v", r.id, r.what, v, unit, want)
		}
		if p := publishedNumber(r); p > 0 && math.Abs(v/p-1) > 0.12 {
			t.Errorf("%s %s: %v %s, more than 12 %% from the published %q", r.id, r.what, v, unit, r.published)
		}
	}
}

// publishedNumber reads the first number of the published column, 0 when there
// is none or it is in another unit.
func publishedNumber(r row) float64 {
	switch r.id {
	case "M08": // 1/2 pt in words, the ounces behind it
		return 8
	case "M31": // litres of oil, then litres of mix
		return 15
	case "M39":
		return 2
	}
	v, _, err := leadingNumber(strings.TrimSpace(r.published))
	if err != nil || !strings.ContainsAny(r.published, "0123456789") || strings.HasPrefix(r.published, "-") {
		return 0
	}
	return v
}

func TestParse(t *testing.T) {
	for _, k := range []struct {
		text, unit string
		want       float64
	}{
		{"2 1/2 pt", "pt", 2.5},
		{"1/2 pt", "fl oz", 8},
		{"0,5 %", "%", 0.5},
		{"1 imp gal", "L", 4.54609},
		{"1 US gal", "L", 3.785411784},
		{"100 cm2", "m2", 0.01},
		{"5 g/L", "kg/m3", 5},
		{"1 kg/ha", "g/m2", 0.1},
		{"90 °", "", math.NaN()},
	} {
		v, err := Parse(k.text, US)
		if math.IsNaN(k.want) {
			if err == nil {
				t.Errorf("%q was read", k.text)
			}
			continue
		}
		if err != nil {
			t.Error(err)
			continue
		}
		if got, err := v.In(k.unit, US); err != nil || math.Abs(got-k.want) > 1e-12*math.Abs(k.want) {
			t.Errorf("%q is %v %s (%v), want %v", k.text, got, k.unit, err, k.want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, k := range []struct {
		text string
		s    System
		says string
	}{
		{"1 gal", Unsaid, "whose gal"},
		{"2 tbsp", Unsaid, "whose tbsp"},
		{"1 gal", Metric, "no gal"},
		{"1,500 L", US, "thousands"},
		{"3 buckets", US, "not known"},
		{"5 g/0 L", US, "zero"},
		{"", US, "empty"},
	} {
		_, err := Parse(k.text, k.s)
		if err == nil || !strings.Contains(err.Error(), k.says) {
			t.Errorf("%q in %q units: error %v does not say %q", k.text, k.s, err, k.says)
		}
	}
	if _, err := q(t, "1 lb").In("L", US); err == nil {
		t.Error("a pound became litres without a density")
	}
}

// Parts of a gallon by their legal definitions: US 231 cubic inches; imperial
// 4.54609 L; Australian tablespoon 20 mL against 15 mL elsewhere.
func TestSystemsDiffer(t *testing.T) {
	for _, k := range []struct {
		text string
		s    System
		ml   float64
	}{
		{"1 gal", US, 231 * 2.54 * 2.54 * 2.54},
		{"1 gal", Imperial, 4546.09},
		{"1 pt", Imperial, 568.26125},
		{"1 fl oz", Imperial, 28.4130625},
		{"1 fl oz", US, 29.5735295625},
		{"1 tbsp", Australian, 20},
		{"1 tbsp", Metric, 15},
		{"1 tbsp", US, 14.78676478125},
		{"1 tsp", US, 4.92892159375},
	} {
		v, err := Parse(k.text, k.s)
		if err != nil {
			t.Error(err)
			continue
		}
		if got, err := v.In("mL", k.s); err != nil || math.Abs(got-k.ml) > 1e-9*k.ml {
			t.Errorf("%s %s is %v mL, want %v", k.s, k.text, got, k.ml)
		}
	}
}

func TestReadings(t *testing.T) {
	for _, k := range []struct {
		text string
		want []float64
	}{
		// The trade's milk: 1 part to 10 parts water (common practice, no source).
		{"1 part to 10 parts water", []float64{1.0 / 11}},
		{"1+9", []float64{0.1}},
		{"1 in 10", []float64{0.1}},
		{"10 %", []float64{0.1}},
		{"1:10", []float64{1.0 / 11, 0.1}},
		{"10 L/hL", []float64{0.1, 1.0 / 11}},
		// The wording of the EU entry for cow milk: 50 L/hL is half, or a third.
		{"50 L/hL", []float64{0.5, 1.0 / 3}},
		{"2,5 %", []float64{0.025}},
	} {
		r, err := Readings(k.text)
		if err != nil {
			t.Error(err)
			continue
		}
		if len(r) != len(k.want) {
			t.Errorf("%q has %d readings, want %d", k.text, len(r), len(k.want))
			continue
		}
		for i, w := range k.want {
			if math.Abs(r[i].Share-w) > 1e-12 {
				t.Errorf("%q reading %d is %v, want %v", k.text, i, r[i].Share, w)
			}
			m, water := r[i].Parted(11)
			if math.Abs(m+water-11) > 1e-9 || math.Abs(m/11-w) > 1e-9 {
				t.Errorf("%q in 11 L: %v and %v", k.text, m, water)
			}
		}
	}
	if r, _ := Readings("1 part to 10 parts"); r[0].Words != "1 part and 10 parts of water (9.09 %)" {
		t.Errorf("words are %q", r[0].Words)
	}
	for _, bad := range []string{"some", "0:10", "110 %", "3 in 2"} {
		if r, err := Readings(bad); err == nil {
			t.Errorf("%q was read as %v", bad, r)
		}
	}
}

func TestSpoons(t *testing.T) {
	// 20 g of baking soda at 0.95 g/mL is 21.05 mL.
	for _, k := range []struct {
		s    System
		text string
	}{{US, "1 tbsp + 1 1/4 tsp"}, {Metric, "1 tbsp + 1 1/4 tsp"}, {Australian, "1 tbsp + 1/4 tsp"}} {
		sp, err := SpoonsOf(q(t, "20 g"), Quantity{}, SodiumBicarbonate, k.s)
		if err != nil {
			t.Fatal(err)
		}
		if sp.Text != k.text || !sp.Assumed || sp.Doubt != 0.20 || sp.Density != 0.95 || math.Abs(sp.Grams/20-1) > 0.06 {
			t.Errorf("%s: %+v, want %q", k.s, sp, k.text)
		}
	}
	if _, err := SpoonsOf(q(t, "20 g"), Quantity{}, PotassiumBicarbonate, US); err == nil {
		t.Error("a density was guessed")
	}
	if _, err := SpoonsOf(q(t, "0.5 g"), Quantity{}, SodiumBicarbonate, US); err == nil {
		t.Error("half a gram was printed in spoons")
	}
	if _, err := SpoonsOf(q(t, "20 g"), Quantity{}, SodiumBicarbonate, Unsaid); err == nil {
		t.Error("a spoon of no country was used")
	}
	sp, err := SpoonsOf(q(t, "30 g"), q(t, "2 g/mL"), "other", Metric)
	if err != nil || sp.Text != "1 tbsp" || sp.Assumed {
		t.Errorf("30 g at 2 g/mL: %+v, %v", sp, err)
	}
}

func TestStock(t *testing.T) {
	s, err := NewStock(q(t, "100 g"), q(t, "1 L"), SodiumBicarbonate)
	if err != nil || s.Warning == "" {
		t.Errorf("100 g/L of sodium bicarbonate has no warning: %v", err)
	}
	if s, _ := NewStock(q(t, "50 g"), q(t, "1 L"), SodiumBicarbonate); s.Warning != "" {
		t.Error("50 g/L has a warning")
	}
	if _, err := s.For(q(t, "200 g/L"), q(t, "1 L")); err == nil {
		t.Error("a mix stronger than its stock was made")
	}
	if _, err := NewStock(q(t, "1 m"), q(t, "1 L"), ""); err == nil {
		t.Error("a metre went into solution")
	}
}

// Menzies 1992: 1.7 mM is 48 mg Si and 102 mg SiO2 in a litre.
func TestSiliconThreeWays(t *testing.T) {
	for _, k := range []struct {
		text    string
		counted Salt
	}{{"1.7 mM", ""}, {"47.745 mg/L", SiliconOfSilicate}, {"102.143 mg/L", SilicaOfSilicate}} {
		s, err := SiliconOf(q(t, k.text), k.counted)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(s.MilliMolar-1.7) > 1e-3 || math.Abs(s.Si-47.745) > 0.02 || math.Abs(s.SiO2-102.143) > 0.02 || !strings.Contains(s.Caution, "pH 10") {
			t.Errorf("%s: %+v", k.text, s)
		}
	}
	if _, err := SiliconOf(q(t, "100 mg/L"), ""); err == nil {
		t.Error("a label figure was taken without asking whether it is Si or SiO2")
	}
}

// One pass of 170 J/m² is nearly three times what eyes may take in 8 hours.
func TestLampAgainstWorkerLimit(t *testing.T) {
	l, err := Pass(q(t, "1.8 m"), q(t, "2.25 km/h"), q(t, "58.6806 W/m2"))
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(l.DoseJM2-169) > 0.01 || !l.Overdosed || math.Abs(l.Shift-169.0/60) > 1e-3 || len(l.Cautions) == 0 {
		t.Errorf("%+v", l)
	}
	if l, _ := Pass(q(t, "1.8 m"), q(t, "2.25 km/h"), q(t, "7.2 J/m2")); l.Overdosed {
		t.Error("7.2 J/m² is above the limit of 60")
	}
	if _, err := Pass(q(t, "1.8 m"), q(t, "0 km/h"), q(t, "1 J/m2")); err == nil {
		t.Error("a lamp that stands still has a dose")
	}
	if _, err := Pass(q(t, "1.8 m"), q(t, "2 km/h"), q(t, "1 g/L")); err == nil {
		t.Error("a strength in g/L is a dose of light")
	}
}

func TestCatalogue(t *testing.T) {
	if _, err := words.Parse(wordsText); err != nil || len(keysOf(wordsText)) < 7 {
		t.Fatalf("%d keys, %v", len(keysOf(wordsText)), err)
	}
	for _, s := range append(lampCautions(), say("silicon.caution"), say("stock.soda"), say("ratio.reading")) {
		if !strings.Contains(s, " ") {
			t.Errorf("no sentence for %s", s)
		}
	}
}

// Whatever the number, a unit and back is the same number.
func TestRoundTrip(t *testing.T) {
	units := []string{"g", "lb", "oz", "kg/ha", "lb/ac", "gal/ac", "fl oz/gal", "tbsp/gal", "g/1000 ft2", "mL/L", "mM", "J/m2"}
	systems := []System{US, Imperial, Australian}
	rapid.Check(t, func(rt *rapid.T) {
		v := rapid.Float64Range(1e-3, 1e5).Draw(rt, "v")
		u := rapid.SampledFrom(units).Draw(rt, "unit")
		s := rapid.SampledFrom(systems).Draw(rt, "system")
		x, err := Parse(strconv.FormatFloat(v, 'f', -1, 64)+" "+u, s)
		if err != nil {
			rt.Fatal(err)
		}
		got, err := x.In(u, s)
		if err != nil || math.Abs(got/v-1) > 1e-12 {
			rt.Fatalf("%v %s came back as %v (%v)", v, u, got, err)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"1 lb/100 gal", "2 1/2 pt", "0,5 %", "1/", "//", "9 g/", "1.2.3 g"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if v, err := Parse(text, US); err == nil && math.IsNaN(v.value) {
			t.Errorf("%q is not a number", text)
		}
		_, _ = Readings(text)
	})
}
