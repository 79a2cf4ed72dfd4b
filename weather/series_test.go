package weather

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

var newYear = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.5f, want %.5f ± %g", what, got, want, tol)
	}
}

func equal(a, b *Series) string { return cmp.Diff(a, b, cmpopts.EquateNaNs()) }

// drawSeries makes any series of up to 60 hours.
func drawSeries(t *rapid.T) *Series {
	n := rapid.IntRange(0, 60).Draw(t, "hours")
	s := NewSeries(newYear.Add(time.Duration(rapid.IntRange(-500000, 500000).Draw(t, "start"))*time.Hour), n)
	for v := range s.V {
		for i := range n {
			f := Flag(rapid.IntRange(0, int(flags)-1).Draw(t, "flag"))
			x := rapid.Float64Range(-300, 400).Draw(t, "value")
			if rapid.Bool().Draw(t, "round") {
				x = math.Round(x*10) / 10
			}
			s.Set(Var(v), i, x, f)
		}
	}
	return s
}

func TestJoinPrefersTheLater(t *testing.T) {
	a, b := NewSeries(newYear, 4), NewSeries(newYear.Add(2*time.Hour), 4)
	for i := range 4 {
		a.Set(Temp, i, float64(i), Forecast)
		b.Set(Temp, i, float64(10+i), Measured)
	}
	b.Set(Temp, 1, math.NaN(), Measured)
	j := Join(a, b)
	want := []float32{0, 1, 10, 3, 12, 13}
	if d := cmp.Diff(want, j.V[Temp]); d != "" {
		t.Error(d)
	}
	if j.F[Temp][3] != Forecast || j.F[Temp][2] != Measured || j.F[RH][0] != Missing {
		t.Errorf("flags %v", j.F[Temp])
	}
	if d := equal(Join(NewSeries(newYear, 0), a), a); d != "" {
		t.Error(d)
	}
}

func TestJoinKeepsEveryHour(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawSeries(t), drawSeries(t)
		if a.Len() == 0 || b.Len() == 0 {
			return
		}
		b.Start = a.Start.Add(time.Duration(rapid.IntRange(-90, 90).Draw(t, "shift")) * time.Hour)
		j := Join(a, b)
		for i := range j.Len() {
			at := j.Time(i)
			for v := range j.V {
				want, flag := float32(math.NaN()), Missing
				for _, s := range []*Series{a, b} {
					if k := s.Index(at); k >= 0 && k < s.Len() && s.F[v][k] != Missing {
						want, flag = s.V[v][k], s.F[v][k]
					}
				}
				if j.F[v][i] != flag || (j.V[v][i] != want && want == want) {
					t.Fatalf("hour %d %v: %v %v, want %v %v", i, Var(v), j.V[v][i], j.F[v][i], want, flag)
				}
			}
		}
	})
}

// Cut is what makes "as of" true: an hour counts once it has ended.
func TestCutGivesEndedHoursOnly(t *testing.T) {
	s := NewSeries(newYear, 10)
	for at, want := range map[time.Duration]int{
		-time.Hour: 0, 0: 0, 59 * time.Minute: 0, time.Hour: 1, 90 * time.Minute: 1, 10 * time.Hour: 10, 99 * time.Hour: 10,
	} {
		if got := s.Cut(newYear.Add(at)).Len(); got != want {
			t.Errorf("after %v: %d hours, want %d", at, got, want)
		}
	}
	if got := s.Slice(newYear.Add(30*time.Minute), newYear.Add(150*time.Minute)); got.Len() != 1 || !got.Start.Equal(newYear.Add(time.Hour)) {
		t.Errorf("slice of %d hours from %v", got.Len(), got.Start)
	}
}
