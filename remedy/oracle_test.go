package remedy

import (
	"encoding/csv"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"oidium/chance"
	"oidium/garden"
)

// The oracle is a table written from the rules as the design and the compiled
// treatments table state them, over the knobs of the generator and over lists of
// materials written by hand; it does not know the code of the rules nor the
// tables of traits. Each row forbids a class of materials when all its knobs
// stand as written; values parted by | are alternatives.
type forbid struct {
	materials map[garden.MaterialID]bool
	when      map[string][]string // knob: any of these
	why       string
}

func readRecords(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rec, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rec[1:]
}

func oracle(t *testing.T) []forbid {
	t.Helper()
	classes := make(map[string]map[garden.MaterialID]bool)
	for _, r := range readRecords(t, "testdata/oracle_classes.csv") {
		classes[r[0]] = make(map[garden.MaterialID]bool)
		for _, id := range strings.Fields(r[1]) {
			classes[r[0]][garden.MaterialID(id)] = true
		}
	}
	var out []forbid
	for _, r := range readRecords(t, "testdata/oracle.csv") {
		f := forbid{materials: classes[r[0]], when: make(map[string][]string), why: r[3]}
		if f.materials == nil || r[2] != "no" {
			t.Fatalf("row %v makes no sense", r)
		}
		for _, k := range strings.Fields(r[1]) {
			name, value, _ := strings.Cut(k, "=")
			f.when[name] = strings.Split(value, "|")
			for _, v := range f.when[name] {
				if !slices.Contains(knobs[name], v) {
					t.Fatalf("row %v: no knob %s=%s", r, name, v)
				}
			}
		}
		out = append(out, f)
	}
	return out
}

// knobs are the choices of the generator; the first of each is harmless and
// drawn more often than the others.
var knobs = map[string][]string{
	"place":     {"NL", "US", "GB", "NZ", "none"},
	"role":      {"private", "grower", "adviser", "hired-hand", "none"},
	"crop":      {"cucumber", "grape", "strawberry", "rose", "gooseberry", "apricot", "lettuce"},
	"phase":     {"leaf", "flower", "picking"},
	"stage":     {"given", "none"},
	"shelter":   {"open", "tunnel"},
	"diagnosis": {"sure", "likely", "cannot", "none"},
	"covered":   {"little", "nothing", "much", "unknown"},
	"plants":    {"fit", "stressed"},
	"weather":   {"fair", "hot", "humid-heat", "warm", "rain", "windy", "wet", "morning-calm", "evening-calm", "none"},
	"label":     {"full", "none", "no-days", "no-hours", "other-crop", "no-rate", "three-days", "early-stages"},
	"pick":      {"far", "two-days", "none"},
	"history":   {"none", "own-3", "own-10", "own-3-times", "sulfur-5", "sulfur-13", "sulfur-20", "oil-5", "oil-13", "oil-20", "copper-5", "copper-shut", "stranger"},
	"tested":    {"yes", "no"},
}

// families of the crops of the generator.
var families = map[string]string{"cucumber": "cucurbit", "grape": "grape", "strawberry": "strawberry", "rose": "rose", "gooseberry": "currant", "apricot": "stone fruit", "lettuce": "lettuce"}

// built makes the case that the knobs stand for, for one material.
func built(k map[string]string, m garden.MaterialID) *Case {
	c := fair()
	later(c) // June 2024, after the approvals of the EU
	c.Treatments, c.Labels = nil, nil
	none := func(s string) string { return strings.TrimSuffix(s, "none") }
	c.Site.Country, c.Site.Role = none(k["place"]), garden.Role(none(k["role"]))
	c.Planting.Crop, c.Family = garden.CropID(k["crop"]), families[k["crop"]]
	c.Ornamental, c.LeafEaten = k["crop"] == "rose", k["crop"] == "lettuce"
	c.Planting.FirstPick, c.Planting.LastPick, c.InFlower = 0, 0, false
	switch k["phase"] {
	case "flower":
		c.InFlower = true
	case "picking":
		c.Planting.FirstPick = c.Today - 10
	}
	if k["stage"] == "given" {
		c.Stage = map[string]string{"leaf": "21", "flower": "63", "picking": "73"}[k["phase"]]
	} else if k["phase"] == "picking" && (c.Ornamental || c.LeafEaten) {
		c.Stage = "73" // roses and lettuce show no fruit to tell the stage by
	}
	c.Bed.Shelter = garden.Shelter(k["shelter"])
	c.Diagnosis = map[string]string{"sure": "sure", "likely": "likely", "cannot": "cannot tell", "none": ""}[k["diagnosis"]]
	c.Covered = map[string]float64{"nothing": 0, "little": 0.05, "much": 0.30}[k["covered"]]
	c.CoveredKnown = k["covered"] != "unknown"
	c.Stressed = k["plants"] == "stressed"
	c.PickNext = map[string]garden.Day{"far": c.Today + 30, "two-days": c.Today + 2}[k["pick"]]
	eachHour(c, func(i int, h *Hour) {
		local := h.Time.In(zone).Hour()
		switch k["weather"] {
		case "hot":
			if local == 14 {
				h.T = 33
			}
		case "humid-heat":
			if local == 14 {
				h.T, h.RH = 31, 80
			}
		case "warm":
			h.T = 28
		case "rain":
			h.Rain = 1
		case "windy":
			h.Wind = 5
		case "wet":
			h.Wet = true
		case "morning-calm":
			if local >= 10 || local < 5 {
				h.Wind = 5
			}
		case "evening-calm":
			if local < 20 {
				h.Wind = 5
			}
		}
	})
	if k["weather"] == "none" {
		c.Hours = nil
	}
	c.Labels = labels(c, k["label"], m)
	history(c, k["history"], m)
	if k["tested"] == "yes" {
		c.Treatments = append(c.Treatments, garden.Treatment{Bed: "a1", Material: m, Test: true, Start: c.Now.AddDate(0, 0, -40), End: c.Now.AddDate(0, 0, -40)})
	}
	slices.SortStableFunc(c.Treatments, func(a, b garden.Treatment) int { return a.Start.Compare(b.Start) })
	return c
}

// labels enters the label of the material, and full ones for what may stand in
// the history.
func labels(c *Case, kind string, m garden.MaterialID) []garden.Label {
	full := func(id garden.MaterialID) garden.Label {
		l := garden.Label{
			Material: id, Crop: c.Planting.Crop, Read: c.Now.AddDate(0, -1, 0), Registration: "invented",
			RateLowGL: p(3.0), HarvestDays: p(0.0), ReentryHours: p(2.0), IntervalDays: p(7.0), MaxSeason: p(3), Content: p(0.5),
		}
		switch id {
		case "milk_10":
			l.RateLowGL = p(90.0)
		case "milk_40":
			l.RateLowGL = p(300.0)
		}
		return l
	}
	var out []garden.Label
	for _, id := range []garden.MaterialID{"sulfur_wg", "oil_mineral", "copper"} {
		if id != m {
			out = append(out, full(id))
		}
	}
	l := full(m)
	switch kind {
	case "none":
		return out
	case "no-days":
		l.HarvestDays = nil
	case "no-hours":
		l.ReentryHours = nil
	case "other-crop":
		l.Crop = "hop"
	case "no-rate":
		l.RateLowGL = nil
	case "three-days":
		l.HarvestDays = p(3.0)
	case "early-stages":
		l.Stages = "BBCH 10-59"
	}
	return append(out, l)
}

func history(c *Case, kind string, m garden.MaterialID) {
	put := func(id garden.MaterialID, days int) {
		at := c.Now.AddDate(0, 0, -days)
		t := garden.Treatment{Bed: "a1", Material: id, Start: at, End: at.Add(time.Hour), Litres: 1}
		l, _, _ := c.label(id)
		x, _ := Get(id)
		if rate, known, _ := strength(l, x); known {
			t.Grams = rate.V
		}
		c.Treatments = append(c.Treatments, t)
	}
	switch kind {
	case "own-3":
		put(m, 3)
	case "own-10":
		put(m, 10)
	case "own-3-times":
		put(m, 40)
		put(m, 25)
		put(m, 10)
	case "sulfur-5", "sulfur-13", "sulfur-20":
		var d int
		fmt.Sscanf(kind, "sulfur-%d", &d)
		put("sulfur_wg", d)
	case "oil-5", "oil-13", "oil-20":
		var d int
		fmt.Sscanf(kind, "oil-%d", &d)
		put("oil_mineral", d)
	case "copper-5":
		put("copper", 5)
	case "copper-shut":
		put("copper", 1)
		label(c, "copper", func(l *garden.Label) { l.ReentryHours = p(72.0) })
	case "stranger":
		c.Treatments = append(c.Treatments, garden.Treatment{Bed: "a1", Material: "moonshine", Start: c.Now.AddDate(0, 0, -20), End: c.Now.AddDate(0, 0, -20)})
	}
}

// 500 generated cases: place × role × crop × stage × leaf state × weather ×
// history, each with all 30 materials. What the oracle forbids is never allowed;
// what it does not forbid is allowed.
func TestFiveHundredCasesAgainstTheOracle(t *testing.T) {
	rows := oracle(t)
	names := slices.Sorted(maps.Keys(knobs))
	used := make([]int, len(rows))
	allowed, forbidden, wrong := 0, 0, 0
	for n := range 500 {
		r := chance.New(chance.Key{Garden: 6, Bed: "oracle", Member: n})
		k := make(map[string]string)
		// From none to half of the knobs away from harmless, so that each row is met alone
		// and in company.
		many := r.Uniform() * 0.5
		for _, name := range names {
			k[name] = knobs[name][0]
			if r.Uniform() < many {
				k[name] = knobs[name][int(r.Uniform()*float64(len(knobs[name])))]
			}
		}
		// Own use in NL of what is sold is the harmless start; let places and crops
		// vary in any case.
		for _, name := range []string{"place", "crop", "role"} {
			if r.Uniform() < 0.4 {
				k[name] = knobs[name][int(r.Uniform()*float64(len(knobs[name])))]
			}
		}
		if n%2 == 0 { // meet each row
			row := rows[n/2%len(rows)]
			for _, name := range names {
				if v := row.when[name]; v != nil {
					k[name] = v[int(r.Uniform()*float64(len(v)))]
				}
			}
		}
		for _, m := range Materials() {
			kk := maps.Clone(k)
			switch own := map[garden.MaterialID]string{"sulfur_wg": "sulfur", "oil_mineral": "oil", "copper": "copper"}[m.ID]; {
			case own != "" && strings.HasPrefix(kk["history"], own+"-"):
				kk["history"] = "none" // that would be its own history; tried with own-*
			case m.Sulfur && strings.HasPrefix(kk["history"], "sulfur-"), m.Active == "mineral oil" && strings.HasPrefix(kk["history"], "oil-"):
				kk["history"] = "none"
			}
			var why []string
			for i, f := range rows {
				if f.materials[m.ID] && matches(f.when, kk) {
					why = append(why, f.why)
					used[i]++
				}
			}
			ks := Judge(built(kk, m.ID), m)
			ok := Allowed(ks)
			switch {
			case ok && len(why) > 0:
				wrong++
				t.Errorf("case %d, %s: allowed, but %s (%v)", n, m.ID, strings.Join(why, "; "), kk)
			case !ok && len(why) == 0:
				wrong++
				b := firstBlock(ks)
				t.Errorf("case %d, %s: %s %s (%s), though nothing forbids it (%v)", n, m.ID, b.Outcome, b.Rule, b.Reason, kk)
			}
			if wrong > 20 {
				t.Fatal("and more")
			}
			if len(why) > 0 {
				forbidden++
			} else {
				allowed++
			}
		}
	}
	t.Logf("%d allowed, %d forbidden", allowed, forbidden)
	if allowed < 1000 || forbidden < 5000 {
		t.Errorf("%d allowed and %d forbidden: the cases are one-sided", allowed, forbidden)
	}
	for i, n := range used {
		if n == 0 {
			t.Errorf("the oracle's row %v (%s) was never met", rows[i].when, rows[i].why)
		}
	}
}

func matches(when map[string][]string, k map[string]string) bool {
	for name, v := range when {
		if !slices.Contains(v, k[name]) {
			return false
		}
	}
	return true
}
