package read

import (
	"math"
	"strings"
	"testing"
	"time"
)

// What a column holds by its head alone, as people and loggers write them.
func TestHeads(t *testing.T) {
	for head, want := range map[string]quantity{
		"lowest": qLow, "highest": qHigh, "Low": qLow, "High": qHigh, "Min °C": qLow, "Max (°F)": qHigh,
		"Lowest of the day": qLow, "Höchstwert": qHigh, "night low": qLow, "Tiefst": qLow,
		"outside °C": qTemp, "Garden (°F)": qTemp, "°C": qTemp, "Celsius": qTemp, "outdoor %": qRH, "air m/s": qWind,
		"max wind": "", "Max RH %": "", "low battery": "", "Low %": "", "High mm": "", "Hi Speed": "", "Lowest ground °C": "",
		"inside °C": "", "c": "", "k": "", "shed °C": "", "in °C": "", "soil °C": "", "Low Hi": "", "leaf °C": "", "high tide": "",
	} {
		if got, _ := parseHeading(head).what(); got != want {
			t.Errorf("%q is taken for %q, want %q", head, got, want)
		}
	}
}

// A diary as somebody keeps it: nothing but date, lowest, highest.
func TestDiaryOfPlainWords(t *testing.T) {
	const file = "date,lowest,highest,slugs seen\n2000-06-01,8.1,21.4,3\n2000-06-02,9,19.2,1\n2000-06-03,-1,18,0\n"
	_, s, rep, err := Table(strings.NewReader(file), Options{Place: deBilt, Units: map[string]string{"lowest": "C", "highest": "C"}})
	if err != nil {
		t.Fatal(err)
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, x := range s.V[0] {
		lo, hi = math.Min(lo, float64(x)), math.Max(hi, float64(x))
	}
	near(t, "lowest", lo, -1, 0.8)
	near(t, "highest", hi, 21.4, 0.5)
	if all := strings.Join(rep.Found, "\n"); !strings.Contains(all, `Not used: "slugs seen"`) {
		t.Errorf("nothing is told of the column that was not recognised:\n%s", all)
	}
}

// A column that is not recognised is told by name, one that is used or holds the
// time is not, and a wide file stays readable.
func TestUnusedColumnsAreTold(t *testing.T) {
	head, row := "Time UTC,Temp C,RH %", ",12,80"
	for range 20 {
		head += ",odd"
		row += ",1"
	}
	file := head + "\n2000-06-01 00:00" + row + "\n2000-06-01 01:00" + row + "\n"
	_, _, rep, err := Table(strings.NewReader(file), Options{Zone: time.UTC})
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(rep.Found, "\n")
	if !strings.Contains(all, "and 8 more") || strings.Count(all, `"odd"`) != unusedListed || strings.Contains(all, `Not used: "Time`) {
		t.Error(all)
	}
	if !strings.Contains(all, "in °C") {
		t.Errorf("units are not told as people write them:\n%s", all)
	}
}
