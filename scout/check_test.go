package scout

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"oidium/garden"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.8g, want %.8g ± %.1g", what, got, want, tol)
	}
}

// Leaves to find one: the standard numbers, ceil(ln(1-C)/ln(1-p)).
func TestLeavesToFind(t *testing.T) {
	for _, c := range []struct {
		p, conf float64
		want    int
	}{
		{0.10, 0.95, 29},
		{0.05, 0.95, 59},
		{0.02, 0.95, 149},
		{0.01, 0.95, 299},
		{0.10, 0.99, 44},
		{0.05, 0.99, 90},
		{0.02, 0.99, 228},
		{0.01, 0.99, 459},
	} {
		if n := plantsToFind(c.p, c.conf, 1, Look{Sees: 1}); n != c.want {
			t.Errorf("p %v at %v: %d leaves, want %d", c.p, c.conf, n, c.want)
		}
	}
}

// Finite beds: the table of ISPM 31 (FAO 2008, from memory) is the exact
// hypergeometric.
func TestLeavesToFindInSmallBed(t *testing.T) {
	for _, c := range []struct{ total, five, two, one int }{
		{25, 24, 0, 0},
		{50, 39, 48, 0},
		{100, 45, 78, 95},
		{200, 51, 105, 155},
		{300, 54, 117, 189},
		{400, 55, 124, 211},
		{500, 56, 129, 225},
		{1000, 57, 138, 258},
		{2000, 58, 143, 277},
		{10000, 59, 148, 294},
	} {
		for _, q := range []struct {
			p    float64
			want int
		}{{0.05, c.five}, {0.02, c.two}, {0.01, c.one}} {
			n, ok := leavesToFindOf(c.total, q.p, 0.95)
			if n != q.want || ok != (q.want > 0) {
				t.Errorf("bed of %d, p %v: %d (%v), want %d", c.total, q.p, n, ok, q.want)
			}
		}
	}
}

func TestNoneFound(t *testing.T) {
	// 1-0.05^(1/50).
	near(t, "none of 50", AtMost(50, 1, 0.95, Look{Sees: 1}), 0.0581551, 1e-7)
	// Ten places of five leaves with clumping allow more than fifty loose leaves.
	if clumped := AtMost(10, 5, 0.95, Look{Rho: 0.1, Sees: 1}); clumped <= 0.0581551 {
		t.Errorf("clumped bound %v is below that of loose leaves", clumped)
	}
	near(t, "chance at the bound", chanceOfNone(10, 5, AtMost(10, 5, 0.95, Look{Rho: 0.1, Sees: 0.8}), Look{Rho: 0.1, Sees: 0.8}), 0.05, 1e-9)
	if b := AtMost(0, 5, 0.95, Look{Sees: 1}); b != 1 {
		t.Errorf("no leaves: at most %v, want 1", b)
	}
}

func TestExact(t *testing.T) {
	// R, help of binom.test (Conover 1971).
	i := Exact(682, 925, 0.95)
	near(t, "lo", i.Lo, 0.7076683, 1e-6)
	near(t, "hi", i.Hi, 0.7654066, 1e-6)
	near(t, "p", exactTest(682, 925, 0.75), 0.3825, 5e-5)
	i = Exact(1, 50, 0.95)
	near(t, "1 of 50 lo", i.Lo, 0.00051, 5e-6)
	near(t, "1 of 50 hi", i.Hi, 0.10647, 5e-6)
	near(t, "0 of 50 hi", Exact(0, 50, 0.95).Hi, 0.0711, 5e-5)
	i = Wilson(1, 50, 0.95)
	near(t, "Wilson lo", i.Lo, 0.00354, 5e-6)
	near(t, "Wilson hi", i.Hi, 0.10495, 5e-6)
}

// The chance that the 1-in-50 rule of McGrath (1996) fires, by arithmetic and
// from ten places of five leaves by the beta-binomial.
func TestRuleFires(t *testing.T) {
	for p, want := range map[float64]float64{0.005: 0.22169, 0.01: 0.39499, 0.02: 0.63583, 0.05: 0.92306} {
		near(t, "1 in 50", 1-chanceOfNone(50, 1, p, Look{Sees: 1}), want, 1e-5)
	}
	near(t, "10 x 5", 1-chanceOfNone(10, 5, 0.05, Look{Sees: 1, Rho: 0.1}), 0.880635, 1e-6)
	near(t, "10 x 5 by counts", 1-CountChances(10, 5, 0.05, Look{Sees: 1, Rho: 0.1})[0], 0.880635, 1e-6)
}

func TestStopLines(t *testing.T) {
	// NIST/SEMATECH e-Handbook 6.2.6 (inputs from memory, outputs recomputed).
	s := Stop{Clean: 0.01, Bad: 0.1, FalseAlarm: 0.05, Miss: 0.1}
	h1, h2, slope := s.waldLines()
	near(t, "h1", h1, 0.938862, 1e-5)
	near(t, "h2", h2, 1.205379, 1e-5)
	near(t, "slope", slope, 0.0397474, 1e-5)
	s = UsualStop()
	h1, h2, slope = s.waldLines()
	near(t, "h", h1, 1.296607, 1e-3)
	near(t, "h", h2, 1.296607, 1e-3)
	near(t, "slope", slope, 0.0502526, 1e-3)
	clean, bad := s.waldLeaves()
	near(t, "leaves, clean bed", clean, 34.29, 0.01)
	near(t, "leaves, bad bed", bad, 20.85, 0.01)
	// Increments by plant (method of Madden & Hughes 1999).
	s.Rho = 0.1
	for k, want := range []float64{-0.350814, 1.316425, 1.855612, 2.209859, 2.490101, 2.734183} {
		near(t, "increment", s.increments()[k], want, 1e-5)
	}
	// Seven clean plants end it, six without clumping.
	if o := s.Decide(make([]int, 6)); o != WalkOn {
		t.Errorf("six clean plants: %v", o)
	}
	if o := s.Decide(make([]int, 7)); o != Clean {
		t.Errorf("seven clean plants: %v", o)
	}
	s.Rho = 0
	if o := s.Decide(make([]int, 6)); o != Clean {
		t.Errorf("six clean plants of loose leaves: %v", o)
	}
}

func readCounts(t *testing.T, name, keep string, col, of int) []ofPlant {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []ofPlant
	for _, r := range rows[1:] {
		if keep != "" && r[0] != keep {
			continue
		}
		i, err1 := strconv.Atoi(r[col])
		n, err2 := strconv.Atoi(r[of])
		if err1 != nil || err2 != nil {
			t.Fatalf("%s: %v", name, r)
		}
		out = append(out, ofPlant{i, n})
	}
	return out
}

// Beta-binomial fits to four published data sets (see testdata/PROVENANCE.md);
// values recomputed in R from the same files.
func TestFitClump(t *testing.T) {
	f, err := fitClump(readCounts(t, "betabin_tobacco_viruses.csv", "", 0, 1))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tobacco p", f.P, 0.156299, 1e-4)
	near(t, "tobacco theta", f.Theta, 0.0486649, 1e-4)
	near(t, "tobacco rho", f.Rho, 0.0464066, 1e-4)
	near(t, "tobacco LR", f.LR, 65.299, 1e-3)
	near(t, "tobacco D", f.Dispersion, 3.14396, 1e-4)
	if f.PValue > 1e-10 {
		t.Errorf("tobacco p-value %v", f.PValue)
	}
	f, err = fitClump(readCounts(t, "betabin_dogwood_anthracnose.csv", "1990", 1, 2))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "dogwood theta", f.Theta, 0.522212, 1e-4)
	near(t, "dogwood a", f.P/f.Theta, 0.292373, 1e-4)
	near(t, "dogwood b", (1-f.P)/f.Theta, 1.622559, 1e-4)
	f, err = fitClump(readCounts(t, "betabin_pyrethrum_ray_blight.csv", "", 0, 1))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "pyrethrum p", f.P, 0.913851, 1e-4)
	near(t, "pyrethrum theta", f.Theta, 0.475085, 1e-4)
	f, err = fitClump(readCounts(t, "hughes_grape_downy_T1.csv", "", 4, 5))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "grape p", f.P, 0.663428, 1e-4)
	near(t, "grape theta", f.Theta, 0.195128, 1e-4)
	near(t, "grape LR", f.LR, 37.993, 1e-3)
	if _, err := fitClump([]ofPlant{{0, 5}, {0, 5}}); err == nil {
		t.Error("a clean tally was fitted")
	}
}

func TestSampleSizes(t *testing.T) {
	// Hughes, Madden & Munkvold 1996.
	near(t, "plants", plantsToEstimate(0.05, 0.15, 0.25, 10), 71.44, 0.01)
	near(t, "plants, loose", math.Ceil(plantsToEstimate(0.05, 0, 0.25, 10)), 31, 0)
	// Finite bed, n0 = 50.
	near(t, "bed of 200", smallBed(50, 200), 40, 1e-12)
	near(t, "bed of 40", math.Ceil(smallBed(50, 40)), 23, 0)
	// Two levels, Hughes et al. 1997.
	near(t, "plants with mildew", plantIncidence(0.02, 0, 10), 0.182927, 1e-6)
	near(t, "plants with mildew, clumped", plantIncidence(0.02, 0.2, 10), 0.102751, 1e-6)
}

// Estimating from 20 of 50: the open-pde.info sampling lesson (with z = 1.96).
func TestEstimateOf20In50(t *testing.T) {
	se := standardError(0.4, 50)
	near(t, "variance", se*se, 0.0048, 1e-6)
	near(t, "CV", se/0.4, 0.1732051, 1e-6)
	near(t, "half-width", 1.96*se, 0.1357928, 1e-6)
}

// Grades of Horsfall & Barratt at the cuts.
func TestGrades(t *testing.T) {
	const hb = "horsfall-barratt"
	want := []float64{1, 2, 3, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}
	for i, p := range []float64{0, 2, 3, 5, 6, 12, 30, 50, 75, 90, 95, 99, 100} {
		g, err := GradeOn(hb, p)
		if err != nil || g != want[i] {
			t.Errorf("%v %%: grade %v (%v), want %v", p, g, err, want[i])
		}
	}
	for i, want := range []float64{0, 1.5, 4.5, 9, 18.5, 37.5, 62.5, 81, 90.5, 95.5, 98.5, 100} {
		r, err := ReadOn(hb, float64(i+1))
		if err != nil || r.Share != want/100 || r.Scale != hb || r.Value != float64(i+1) {
			t.Errorf("grade %d: %+v (%v), want %v %%", i+1, r, err, want)
		}
	}
	for _, bad := range []float64{-1, 101, math.NaN()} {
		if _, err := GradeOn(hb, bad); err == nil {
			t.Errorf("%v %% was given a grade", bad)
		}
		if _, err := ReadOn("percent", bad); err == nil {
			t.Errorf("%v %% was read", bad)
		}
	}
	for _, bad := range []float64{0, 13, 2.5} {
		if _, err := ReadOn(hb, bad); err == nil {
			t.Errorf("grade %v was read", bad)
		}
	}
	if _, err := ReadOn("no-such-scale", 1); err == nil {
		t.Error("an unknown scale was read")
	}
	if _, err := GradeOn("no-such-scale", 1); err == nil {
		t.Error("an unknown scale was graded")
	}
	if r, err := ReadOn("", 7); err != nil || r.Share != 0.07 || r.High != 0 {
		t.Errorf("7 %%: %+v %v", r, err)
	}
}

// Every scale of the table covers 0 to 100 % without gap, its middles inside its
// grades (those of the other conversion of no and all lie a little outside), and
// reading a middle back gives the grade.
func TestScalesAreWhole(t *testing.T) {
	if len(scales()) != len(scaleNames) {
		t.Fatalf("%d scales, %d names", len(scales()), len(scaleNames))
	}
	for _, name := range scaleNames {
		grades := scales()[name]
		if len(grades) == 0 || grades[0].from != 0 || grades[len(grades)-1].to != 100 {
			t.Fatalf("%s does not run from 0 to 100 %%", name)
		}
		for i, g := range grades {
			if i > 0 && (g.value != grades[i-1].value+1 || g.from != grades[i-1].to) {
				t.Errorf("%s: gap before grade %v", name, g.value)
			}
			if name != "horsfall-barratt-elanco" && (g.middle < g.from || g.middle > g.to) {
				t.Errorf("%s: middle of grade %v outside it", name, g.value)
			}
			if back, err := GradeOn(name, (g.from+g.to)/2); err != nil || back != g.value {
				t.Errorf("%s: the middle of grade %v is graded %v (%v)", name, g.value, back, err)
			}
		}
	}
	if _, err := readScales(strings.NewReader("scale,grade,from,to,middle,source,confidence\nx,1,a,2,3,s,A\n")); err == nil || !strings.Contains(err.Error(), "line 2") {
		t.Errorf("a damaged table was read: %v", err)
	}
}

// Townsend & Heuberger (1943): classes 0 to 4 with 10, 5, 3, 1, 1 leaves.
func TestDiseaseIndex(t *testing.T) {
	near(t, "index", DiseaseIndex([]int{10, 5, 3, 1, 1}), 0.225, 1e-12)
	if !math.IsNaN(DiseaseIndex([]int{0, 0})) {
		t.Error("an index of nothing")
	}
}

func TestRule(t *testing.T) {
	look := func(plants, per, infectedLower int) garden.Tally {
		var tl garden.Tally
		for p := 1; p <= plants; p++ {
			k := 0
			if p == 1 {
				k = infectedLower
			}
			tl.Counts = append(tl.Counts,
				garden.Count{Plant: p, Age: garden.Old, Face: garden.Upper, Inspected: per},
				garden.Count{Plant: p, Age: garden.Old, Face: garden.Lower, Inspected: per, Infected: k})
		}
		return tl
	}
	for _, c := range []struct {
		name    string
		t       garden.Tally
		reached bool
		short   int
	}{
		{"fifty clean leaves", look(10, 5, 0), false, 0},
		{"one in fifty, underside only", look(10, 5, 1), true, 0},
		{"one in twenty", look(4, 5, 1), true, 0},
		{"twenty clean leaves cannot say", look(4, 5, 0), false, 30},
		{"one in two hundred", look(40, 5, 1), false, 0},
		{"four in two hundred", look(40, 5, 4), true, 0},
		{"nothing looked at", garden.Tally{}, false, 50},
	} {
		r := Assess(c.t, 0.08).Rule
		if r.Reached != c.reached || r.Short != c.short {
			t.Errorf("%s: reached %v short %d, want %v %d", c.name, r.Reached, r.Short, c.reached, c.short)
		}
	}
}
