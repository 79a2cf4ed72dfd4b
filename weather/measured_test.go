package weather

import (
	"bufio"
	"compress/gzip"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"oidium/garden"
	"oidium/sun"

	"gonum.org/v1/gonum/stat"
)

// rowsOf returns the fields of the rows of a measured file that begin with a
// digit, cut by sep ("" for blanks).
func rowsOf(t testing.TB, name, sep string) [][]string {
	t.Helper()
	f, err := os.Open("read/testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	var out [][]string
	for sc := bufio.NewScanner(z); sc.Scan(); {
		line := strings.TrimSpace(sc.Text())
		if line == "" || line[0] < '0' || line[0] > '9' {
			continue
		}
		if sep == "" {
			out = append(out, strings.Fields(line))
		} else {
			out = append(out, strings.Split(line, sep))
		}
	}
	return out
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err != nil {
		return math.NaN()
	}
	return x
}

// deBilt returns the year 2000 of De Bilt as a series, read here a second time
// so that this room can be tested alone, and its dew points and cloud.
func deBilt(t testing.TB) (s *Series, dew, cloud []float64) {
	t.Helper()
	rows := rowsOf(t, "debilt-2000.txt.gz", ",")
	s = NewSeries(newYear, len(rows))
	for i, r := range rows {
		s.Set(Wind, i, WindAt2m(number(t, r[4])/10, 10), Measured)
		s.Set(Temp, i, number(t, r[7])/10, Measured)
		s.Set(Rad, i, number(t, r[11])*1e4/3600, Measured)
		s.Set(Rain, i, math.Max(0, number(t, r[13]))/10, Measured)
		s.Set(RH, i, number(t, r[17]), Measured)
		dew = append(dew, number(t, r[9])/10)
		cloud = append(cloud, number(t, r[16]))
	}
	return s, dew, cloud
}

// De Bilt 2000 (science notes F 45 and A.1): the humidity recomputed from T and
// Td differs from the one in the file by 0.03 ± 0.37 points.
func TestHumidityFromDewPointAtDeBilt(t *testing.T) {
	s, dew, _ := deBilt(t)
	var d []float64
	for i, td := range dew {
		// Not capped at 100, as the notes computed it.
		d = append(d, 100*SaturationVP(td)/SaturationVP(float64(s.V[Temp][i]))-float64(s.V[RH][i]))
	}
	m, sd := stat.MeanStdDev(d, nil)
	near(t, "bias", m, 0.03, 0.02)
	near(t, "sd", sd, 0.37, 0.02)
}

// Annual water use of De Bilt 2000: 604.5 mm by another program.
func TestAnnualET0OfDeBilt(t *testing.T) {
	s, dew, _ := deBilt(t)
	days := DaysOf(s, 5.18)
	if len(days) != 366 {
		t.Fatalf("%d days", len(days))
	}
	sum, byHour := 0.0, 0.0
	for i, d := range days {
		ea := 0.0
		for _, td := range dew[24*i : 24*i+24] {
			ea += SaturationVP(td) / 24
		}
		d.Dew = DewPoint(ea)
		sum += d.et0(52.1, 2)
	}
	for _, x := range et0Hours(s, 52.1, 5.18, 2) {
		byHour += x
	}
	near(t, "ET0 by day", sum, 604.5, 1)
	// The hourly form is known to differ by some percent.
	near(t, "ET0 by hour", byHour, 604.5, 30)
	t.Logf("by day %.1f, by hour %.1f mm", sum, byHour)
}

// Wet hours and clear days of De Bilt 2000 as in the notes: 3707 h with 90 % or
// more; 98th percentile of Rs/Rso 0.91, most 0.971.
func TestDeBiltSky(t *testing.T) {
	s, _, _ := deBilt(t)
	wet := 0
	for _, w := range (Wetness{Rain: 1000}).hours(s) {
		if w {
			wet++
		}
	}
	if wet != 3707 {
		t.Errorf("%d humid hours", wet)
	}
	var ratio []float64
	for _, d := range DaysOf(s, 5.18) {
		ratio = append(ratio, d.Rad/(clearShare(2)*sun.Extraterrestrial(d.Date, 52.1)))
	}
	slices.Sort(ratio)
	near(t, "98th percentile", stat.Quantile(0.98, stat.Empirical, ratio, nil), 0.91, 0.01)
	near(t, "most", ratio[len(ratio)-1], 0.971, 0.005)
}

// Radiation from observed cloud against measured radiation at De Bilt, hours
// with the sun well up: the formula is from memory, so its error is what counts.
func TestRadiationFromCloudAtDeBilt(t *testing.T) {
	s, _, cloud := deBilt(t)
	var d, x, y []float64
	for i, n := range cloud {
		up, _ := sun.Position(s.Time(i).Add(30*time.Minute), 52.1, 5.18)
		if up < 10 || n != n {
			continue
		}
		g := RadFromCloud(n/8, up)
		d, x, y = append(d, g-float64(s.V[Rad][i])), append(x, g), append(y, float64(s.V[Rad][i]))
	}
	bias, sd := stat.MeanStdDev(d, nil)
	t.Logf("bias %.1f, sd %.1f W/m², r %.3f, n %d", bias, sd, stat.Correlation(x, y, nil), len(d))
	if math.Abs(bias) > 40 || sd > 140 {
		t.Errorf("bias %.1f, sd %.1f W/m²", bias, sd)
	}
}

// Sky long-wave at Bondville 1998 against the measured one. The notes give for
// the whole year: clear formula alone RMSE 43.5 W/m², with cloud 26.9, bias −6.3,
// on clear days 22.6. The file here holds days 1 to 190, more than half of it
// winter, and gives 49.6, 29.3, −10.3 and 22.5.
func TestSkyLongwaveAtBondville(t *testing.T) {
	rows := rowsOf(t, "bondville-1998.dat.gz", "")
	light := make(map[string]float64)
	for _, r := range rows {
		if g := number(t, r[7]); g > 0 {
			light[r[0]] += g * 1800e-6
		}
	}
	var all, bare, clear []float64
	for _, r := range rows {
		j := int(number(t, r[0]))
		d := garden.DayOf(time.Date(1998, 1, j, 0, 0, 0, 0, time.UTC))
		temp, rh, lw := number(t, r[4]), number(t, r[5]), number(t, r[29])
		if temp < -90 || rh < 0 || lw < 50 {
			continue
		}
		x := light[r[0]] / (clearShare(219) * sun.Extraterrestrial(d, 40.01))
		ea := VapourPressure(temp, rh)
		e := skyLongwave(temp, ea, cloudCover(x)) - lw
		all, bare = append(all, e), append(bare, skyLongwave(temp, ea, 0)-lw)
		if x > 0.85 {
			clear = append(clear, e)
		}
	}
	rmse := func(x []float64) (bias, r float64) {
		for _, v := range x {
			bias += v / float64(len(x))
			r += v * v / float64(len(x))
		}
		return bias, math.Sqrt(r)
	}
	b0, r0 := rmse(bare)
	b1, r1 := rmse(all)
	b2, r2 := rmse(clear)
	t.Logf("clear formula %.1f %.1f; with cloud %.1f %.1f; clear days %.1f %.1f (n %d)", b0, r0, b1, r1, b2, r2, len(all))
	if r1 > 30 || math.Abs(b1) > 12 || r1 >= r0 {
		t.Errorf("with cloud: bias %.1f, RMSE %.1f; without %.1f", b1, r1, r0)
	}
	if r2 > 23.5 {
		t.Errorf("clear days: RMSE %.1f", r2)
	}
}

// Hours made from the measured extremes of De Bilt: mean absolute error of
// temperature within what Parton & Logan 1981 publish for air (2.64 °C the worst
// of their sensors), humidity from the day's dew point.
func TestHoursFromDaysAtDeBilt(t *testing.T) {
	s, _, _ := deBilt(t)
	days := DaysOf(s, 5.18)
	got := Hourly(days, Coarse(52.1, 2, true), 52.1, 5.18, Derived)
	var et, er, eq float64
	for i := range s.Len() {
		et += math.Abs(float64(got.V[Temp][i]-s.V[Temp][i])) / float64(s.Len())
		er += math.Abs(float64(got.V[RH][i]-s.V[RH][i])) / float64(s.Len())
		eq += math.Abs(float64(got.V[Rad][i]-s.V[Rad][i])) / float64(s.Len())
	}
	t.Logf("mean absolute error: temperature %.2f K, humidity %.1f points, radiation %.0f W/m²", et, er, eq)
	if et > 1.6 || er > 9 || eq > 45 {
		t.Errorf("mean absolute error: temperature %.2f K, humidity %.1f points, radiation %.0f W/m²", et, er, eq)
	}
	// Without dew points and radiation it must be worse but not useless.
	for i := range days {
		days[i].Dew, days[i].Rad = math.NaN(), math.NaN()
	}
	got = Hourly(days, Coarse(52.1, 2, true), 52.1, 5.18, Derived)
	er, eq = 0, 0
	for i := range s.Len() {
		er += math.Abs(float64(got.V[RH][i]-s.V[RH][i])) / float64(s.Len())
		eq += math.Abs(float64(got.V[Rad][i]-s.V[Rad][i])) / float64(s.Len())
	}
	t.Logf("from extremes alone: humidity %.1f points, radiation %.0f W/m²", er, eq)
	if er > 13 || eq > 65 {
		t.Errorf("from extremes alone: humidity %.1f points, radiation %.0f W/m²", er, eq)
	}
}
