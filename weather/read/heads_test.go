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

// A clock half an hour off the full hours of UTC: an hour of the file lies in two
// of ours, which keeps means and the sum of rain.
func TestHalfHourClock(t *testing.T) {
	var b strings.Builder
	b.WriteString("time,temp C,rain mm\n")
	for i := range 48 {
		at := time.Date(2000, 7, 1, 1, 0, 0, 0, time.UTC).Add(time.Duration(i) * time.Hour)
		b.WriteString(at.Format("2006-01-02 15:04"))
		b.WriteString(map[bool]string{true: ",20,1\n", false: ",10,0\n"}[i == 24])
	}
	_, s, _, err := Table(strings.NewReader(b.String()), Options{Zone: time.FixedZone("half", 5*3600+1800)})
	if err != nil {
		t.Fatal(err)
	}
	// 00:00 to 01:00 on 2 July there is 18:30 to 19:30 UTC the day before.
	i := s.Index(time.Date(2000, 7, 1, 18, 0, 0, 0, time.UTC))
	for k, want := range []float64{10, 15, 15, 10} {
		near(t, "temperature", float64(s.V[0][i-1+k]), want, 1e-4)
	}
	rain := 0.0
	for _, x := range s.V[3] {
		if x == x {
			rain += float64(x)
		}
	}
	near(t, "rain", rain, 1, 1e-6)
}
