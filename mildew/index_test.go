package mildew

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"
)

func fahrenheit(f float64) float32 { return float32((f - 32) / 1.8) }

// quarterDay is a day of quarter hours at 60 °F with a run in the band and, if
// hot, a quarter of an hour at 96 °F late in the day.
func quarterDay(hours float64, hot bool) []float32 {
	t := make([]float32, 96)
	for i := range t {
		t[i] = fahrenheit(60)
		if i >= 24 && i < 24+int(4*hours) {
			t[i] = fahrenheit(78)
		}
	}
	if hot {
		t[92] = fahrenheit(96)
	}
	return t
}

// The constructed example of 18 days; no published day-by-day example could be
// reached (see testdata/ORIGIN.md).
func TestGrapeIndexConstructedExample(t *testing.T) {
	f, err := os.Open("testdata/grape-index-constructed.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 19 {
		t.Fatalf("%d rows", len(rows))
	}
	var g GrapeIndex
	for _, row := range rows[1:] {
		hours, _ := strconv.ParseFloat(row[1], 64)
		want, _ := strconv.ParseFloat(row[3], 64)
		if got := g.Day(quarterDay(hours, row[2] == "1")); got != want {
			t.Errorf("day %s: %g, want %g", row[0], got, want)
		}
	}
}

// Cases of the published rules (UC IPM page, as transcribed).
func TestGrapeIndexCases(t *testing.T) {
	start := func() *GrapeIndex { return &GrapeIndex{value: 50, running: true} }

	// Out of the band for an hour in the middle: the run begins anew.
	day := quarterDay(12, false)
	for i := 24 + 20; i < 24+24; i++ {
		day[i] = fahrenheit(86)
	}
	if got := start().Day(day); got != 70 { // 6 h after the break still make a run
		t.Errorf("five hours, a break, six hours: %g", got)
	}
	day = quarterDay(11.5, false)
	for i := 24 + 20; i < 24+24; i++ {
		day[i] = fahrenheit(86)
	}
	if got := start().Day(day); got != 40 {
		t.Errorf("five hours, a break of an hour, five and a half: %g, want 40", got)
	}
	// Out of it for three quarters of an hour: the run goes on.
	day = quarterDay(6, false)
	for i := 24 + 8; i < 24+11; i++ {
		day[i] = fahrenheit(86)
	}
	if got := start().Day(day); got != 70 {
		t.Errorf("a break of 45 minutes: %g, want 70", got)
	}
	// 95 °F without a run: 10 lost, not 20.
	if got := start().Day(quarterDay(0, true)); got != 40 {
		t.Errorf("heat without a run: %g, want 40", got)
	}
	// The rule of 2013 passes over a quarter of an hour of 96 °F.
	g := start()
	g.Revised = true
	if got := g.Day(quarterDay(7, true)); got != 70 {
		t.Errorf("revised rule: %g, want 70", got)
	}
	if g.Pressure() != "high" {
		t.Errorf("pressure at 70 is %s", g.Pressure())
	}
	g.Treated()
	if got := g.Day(quarterDay(7, false)); got != 20 || g.Pressure() != "low" {
		t.Errorf("after a treatment: %g, %s", got, g.Pressure())
	}
}

// Two thirds of the Mills hours, as transcribed: 60 °F and 13.3 h treat, 13.2 h
// do not, 80 °F never.
func TestAscosporeHours(t *testing.T) {
	if h, ok := AscosporeHours(celsius(60)); !ok || h != 13.3 {
		t.Errorf("60 °F: %g %v", h, ok)
	}
	if _, ok := AscosporeHours(celsius(80)); ok {
		t.Error("80 °F infects")
	}
	if _, ok := AscosporeHours(celsius(41)); ok {
		t.Error("41 °F infects")
	}
	if h, _ := AscosporeHours(celsius(42)); h != 40 {
		t.Errorf("42 °F: %g", h)
	}
}
