package read

import (
	"compress/gzip"
	"io"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"oidium/weather"
)

func open(t testing.TB, name string) io.Reader {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	if !strings.HasSuffix(name, ".gz") {
		return f
	}
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.4f, want %.4f ± %g", what, got, want, tol)
	}
}

// Annual figures of De Bilt 2000, computed from the file with another program
// (science notes F 45; trace of rain as zero).
func TestDeBiltYear(t *testing.T) {
	st, s, rep, err := KNMIHourly(open(t, "debilt-2000.txt.gz"))
	if err != nil {
		t.Fatal(err)
	}
	if rep.Rows != 8784 || rep.Used != 8784 || rep.BadTotal != 0 {
		t.Errorf("rows %d, used %d, bad %d %v", rep.Rows, rep.Used, rep.BadTotal, rep.Bad)
	}
	if s.Len() != 8784 || !s.Start.Equal(time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)) {
		t.Fatalf("%d hours from %v", s.Len(), s.Start)
	}
	var temp, rain, rad float64
	humid := 0
	for i := range s.Len() {
		temp += float64(s.V[weather.Temp][i])
		rain += float64(s.V[weather.Rain][i])
		rad += float64(s.V[weather.Rad][i]) * 3600e-6
		if s.V[weather.RH][i] >= 90 {
			humid++
		}
	}
	near(t, "mean temperature", temp/8784, 10.90, 0.01)
	near(t, "rain", rain, 932.4, 0.1)
	near(t, "radiation", rad, 3379, 1)
	if humid != 3707 {
		t.Errorf("hours with humidity of 90 %% or more: %d, want 3707", humid)
	}
	if st.Name != "KNMI station 260" || st.WindHeight != 2 {
		t.Errorf("station %+v", st)
	}
	// First row of the file: FH 30, T 49, U 96.
	near(t, "first wind", float64(s.V[weather.Wind][0]), 3.0*0.748, 0.001)
	near(t, "first temperature", float64(s.V[weather.Temp][0]), 4.9, 1e-6)
}

func TestKNMIBadRows(t *testing.T) {
	const file = `# STN LON(east) LAT(north) ALT(m) NAME
# 260 5.180 52.100 1.90 De Bilt
# STN,YYYYMMDD,   HH,   FH,    T,    Q,   RH,    U

  260,20000101,    1,   30,   49,    0,   -1,   96
  260,20000101,    1,   30,   49,    0,    0,   96
  260,20000101,   25,   30,   49,    0,    0,   96
  260,20000230,    1,   30,   49,    0,    0,   96
  275,20000101,    2,   30,   49,    0,    0,   96
  260,20000101,    2,   30,  499,    0,    0,  101
  260,20000101,    3,     ,     ,     ,     ,     
  260,29990101,    3,   30,   49,    0,    0,   96
  260,20000101,    4,   30,   x9,    0,    0,   96
  260
`
	st, s, rep, err := KNMIHourly(strings.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	if st.Name != "De Bilt" || st.Latitude != 52.1 || st.Longitude != 5.18 || st.Altitude != 1.9 {
		t.Errorf("station %+v", st)
	}
	if rep.Rows != 10 || rep.Used != 3 || s.Len() != 4 {
		t.Errorf("rows %d used %d hours %d", rep.Rows, rep.Used, s.Len())
	}
	want := map[int]string{6: "given before", 7: "not a time", 8: "not a time", 9: "station 275", 10: `U "101"`, 12: "not a time", 13: `T "x9"`, 14: "1 fields"}
	got := map[int]string{}
	for _, b := range rep.Bad {
		got[b.Line] += b.Reason
	}
	for line, reason := range want {
		if !strings.Contains(got[line], reason) {
			t.Errorf("line %d: %q, want %q", line, got[line], reason)
		}
	}
	if len(got) != len(want) {
		t.Errorf("bad rows %v", rep.Bad)
	}
	if s.V[weather.Rain][0] != 0 || s.F[weather.Temp][2] != weather.Missing {
		t.Error("trace of rain or blank misread")
	}
}

func TestKNMIRefuses(t *testing.T) {
	for file, want := range map[string]string{
		"":                            "names the columns",
		"a,b\n1,2\n":                  "names the columns",
		"# STN,YYYYMMDD,HH,T\n":       "none of its 0 rows",
		strings.Repeat("x", 1<<17):    "longer than",
		"# STN,YYYYMMDD,HH,T\n1,2,3,": "none of its 1 rows",
	} {
		_, _, _, err := KNMIHourly(strings.NewReader(file))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.20q: error %v, want %q", file, err, want)
		}
	}
}

func FuzzKNMIHourly(f *testing.F) {
	f.Add("# STN,YYYYMMDD,HH,FH,T,Q,RH,U\n260,20000101,1,30,49,0,-1,96\n")
	f.Add("# STN LON(east) LAT(north) ALT(m) NAME\n# 1 2 3 4\n# STN,YYYYMMDD,HH,T\n1,20000101,24,0\n1,19990101,24,0\n")
	f.Fuzz(func(t *testing.T, file string) {
		_, s, rep, err := KNMIHourly(strings.NewReader(file))
		checkRead(t, s, rep, err)
	})
}

// checkRead is what holds for every reader and every input.
func checkRead(t *testing.T, s *weather.Series, rep Report, err error) {
	if err != nil {
		if s != nil {
			t.Fatal("a series beside an error")
		}
		return
	}
	if s.Len() == 0 || rep.Used == 0 || rep.Used > rep.Rows {
		t.Fatalf("%d hours, %d of %d rows used", s.Len(), rep.Used, rep.Rows)
	}
	for v := range s.V {
		for i, x := range s.V[v] {
			if (x != x) != (s.F[v][i] == weather.Missing) {
				t.Fatalf("%v %d: %v flagged %v", weather.Var(v), i, x, s.F[v][i])
			}
			if math.IsInf(float64(x), 0) {
				t.Fatalf("%v %d is infinite", weather.Var(v), i)
			}
		}
	}
}
