package remedy

import (
	"bytes"
	"encoding/csv"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"oidium/cite"
	"oidium/garden"
	"oidium/words"
)

func TestMaterialsTable(t *testing.T) {
	if err := library().err; err != nil {
		t.Fatal(err)
	}
	// The table is read a second time here, by column number, so that a mistake
	// in the reader shows.
	rows, err := csv.NewReader(bytes.NewReader(materialsCSV)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 31 || len(Materials()) != 30 {
		t.Fatalf("%d rows and %d materials, want 31 and 30", len(rows), len(Materials()))
	}
	for i, r := range rows[1:] {
		m, ok := Get(garden.MaterialID(r[0]))
		if !ok || m != Materials()[i] || m.Name != r[1] || m.FRAC != r[2] || string(m.Rain) != r[3] || string(m.Grade) != r[19] {
			t.Errorf("%s: read as %+v", r[0], m)
			continue
		}
		for col, got := range map[int]float64{
			4: m.Protective.V * 100, 5: m.ProtectiveSD * 100, 6: m.Curative.V * 100, 7: m.CurativeSD * 100, 8: m.HalfLife.V,
			10: m.TMin.V, 11: m.TMax.V, 12: m.MinInterval.V, 13: m.harvestDays.V, 14: m.reentryHours.V,
		} {
			want, err := strconv.ParseFloat(r[col], 64)
			if err != nil || got < want-1e-9 || got > want+1e-9 {
				t.Errorf("%s column %d: %v, want %v", r[0], col, got, want)
			}
		}
		for _, s := range m.Sources {
			if _, ok := cite.Lookup(s); !ok {
				t.Errorf("%s: source %q is not in the register", r[0], s)
			}
		}
	}
}

// Design: oil, bicarbonates, phosphate and, weaker, milk act on standing
// colonies; sulfur, silicon, Bacillus, Reynoutria, groups 7, 11 and 13 do not.
func TestKnockdown(t *testing.T) {
	for id, want := range map[garden.MaterialID]bool{
		"oil_mineral": true, "khco3": true, "khco3_oil": true, "nahco3_oil": true, "kh2po4": true, "milk_10": true,
		"sulfur_wg": false, "ksi_foliar": false, "bacillus": false, "reynoutria": false, "qoi": false, "sdhi": false, "azanaph": false, "h2o2_paa": false,
	} {
		if m, ok := Get(id); !ok || m.Knockdown != want {
			t.Errorf("%s: knockdown is not %v", id, want)
		}
	}
}

func TestReaderIsStrict(t *testing.T) {
	ok := func() [3]string { return [3]string{string(materialsCSV), string(traitsCSV), string(sourceCodesCSV)} }
	for name, edit := range map[string]struct {
		table    int
		old, new string
		want     string
	}{
		"word for a number": {0, ",78,18,", ",much,18,", "line 2"},
		"share above 100":   {0, ",78,18,", ",178,18,", "between 0 and 100"},
		"unknown source":    {0, "S1 S2 S3 S5", "S1 S99 S3 S5", "S99"},
		"unknown class":     {0, "M02,P,78", "M02,Q,78", "rain_class"},
		"twice":             {0, "\nsulfur_dust,", "\nsulfur_wg,", "twice"},
		"bad conflict":      {0, "neem:14;captan:label;lime:label", "neem:soon", "neem:soon"},
		"no traits":         {1, "\nsulfur_dust,", "\nsomething,", "no such material"},
		"rates reversed":    {1, ",0,3,6,g/L", ",0,6,3,g/L", "rates"},
		"yes or no":         {1, "powder,no,no,no,yes,no", "powder,maybe,no,no,yes,no", "neither yes nor no"},
		"missing column":    {0, "half_life_d", "half_life", "half_life_d"},
	} {
		x := ok()
		before := x[edit.table]
		x[edit.table] = strings.Replace(before, edit.old, edit.new, 1)
		if x[edit.table] == before {
			t.Errorf("%s: the edit changes nothing", name)
		}
		_, err := readMaterials(strings.NewReader(x[0]), strings.NewReader(x[1]), strings.NewReader(x[2]))
		if err == nil || !strings.Contains(err.Error(), edit.want) {
			t.Errorf("%s: error %v does not speak of %q", name, err, edit.want)
		}
	}
}

// Every key that the code says must be in the catalogue, and every line of the
// catalogue must be said.
func TestCatalogueIsWhole(t *testing.T) {
	if _, err := words.Parse(wordsText); err != nil {
		t.Fatal(err)
	}
	if _, err := readRoles(bytes.NewReader(rolesCSV)); err != nil {
		t.Fatal(err)
	}
	if rows, err := readUses(bytes.NewReader(usesCSV)); err != nil || len(rows) != 5 {
		t.Fatalf("%d printed uses, %v", len(rows), err)
	}
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var code strings.Builder
	for _, f := range files {
		if strings.HasSuffix(f.Name(), ".go") && !strings.HasSuffix(f.Name(), "_test.go") {
			b, err := os.ReadFile(f.Name())
			if err != nil {
				t.Fatal(err)
			}
			code.Write(b)
		}
	}
	text := code.String()
	consts := make(map[string]string)
	for _, m := range regexp.MustCompile(`(rule[A-Za-z]+)\s+= "([a-z-]+)"`).FindAllStringSubmatch(text, -1) {
		consts[m[1]] = m[2]
	}
	for _, m := range regexp.MustCompile(`check\((rule[A-Za-z]+), [A-Za-z]+, "([a-z-]+)"`).FindAllStringSubmatch(text, -1) {
		if key := consts[m[1]] + "." + m[2]; !sentences().Has(key) {
			t.Errorf("no sentence for %s", key)
		}
	}
	for _, m := range regexp.MustCompile(`say\("([a-z.-]+[a-z])"`).FindAllStringSubmatch(text, -1) {
		if !sentences().Has(m[1]) {
			t.Errorf("no sentence for %s", m[1])
		}
	}
	for _, r := range roleRows() {
		if !sentences().Has("role." + r.key) {
			t.Errorf("no sentence for role.%s", r.key)
		}
	}
	for _, key := range keysOf(wordsText) {
		_, last, _ := strings.Cut(key, ".")
		if !strings.Contains(text, `"`+last+`"`) && !strings.Contains(text, `"`+key+`"`) && !bytes.Contains(rolesCSV, []byte(","+last+",")) {
			t.Errorf("nothing says %s", key)
		}
	}
}
