package work_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/internal/work"
)

func warned(r *work.Round, code string) (garden.Warning, bool) {
	i := slices.IndexFunc(r.Warnings, func(w garden.Warning) bool { return w.Code == code })
	if i < 0 {
		return garden.Warning{}, false
	}
	return r.Warnings[i], true
}

// A round whose weather ended more than a day before says when and how long ago,
// however much later the morning is; one whose weather reaches the morning does not.
func TestARoundSaysWhereTheWeatherEnded(t *testing.T) {
	loc, err := time.LoadLocation("Europe/Amsterdam")
	if err != nil {
		t.Skip("no zone data")
	}
	d := day(t, "2000-07-06")
	for _, c := range []struct {
		ends string // the last measured day
		days string // before the morning; "" no warning
	}{{"2000-07-05", ""}, {"2000-07-04", "1 d before"}, {"2000-06-01", "34 d before"}} {
		end := day(t, c.ends).At(23, loc)
		known := slices.DeleteFunc(entries(t), func(e ledger.Entry) bool { return e.Kind == "weather" && e.Time.After(end) })
		w, ok := warned(round(t, known, work.Options{Day: d, Members: few}), "weather-ended")
		if ok != (c.days != "") || !strings.Contains(w.Text, c.days) {
			t.Errorf("weather up to %s: %q", c.ends, w.Text)
		}
	}
	// What stands in is told by the clock of the garden, not that of Greenwich.
	known := slices.DeleteFunc(entries(t), func(e ledger.Entry) bool {
		return e.Kind == "weather" && e.Time.After(day(t, "2000-06-30").At(23, loc))
	})
	w, ok := warned(round(t, known, work.Options{Day: d, Members: few}), "weather-gap-climate")
	if !ok || !strings.Contains(w.Text, "from 2000-07-01 02:00") {
		t.Errorf("%q", w.Text)
	}
	far := round(t, entries(t), work.Options{Day: day(t, "2030-07-06"), Members: few})
	if w, ok := warned(far, "weather-ended"); !ok || !strings.Contains(w.Text, "2000-") && !strings.Contains(w.Text, "2001-") {
		t.Errorf("in 2030: %v", far.Warnings)
	}
}

// Heat that mildew cannot stand is told with its figure: a week that is made hot
// by 14 K, as in a closed house, and not the week as it was.
func TestARoundTellsOfHeat(t *testing.T) {
	d := day(t, "2000-07-06")
	if w, ok := warned(round(t, entries(t), work.Options{Day: d, Members: few}), "too-hot-for-mildew"); ok {
		t.Errorf("in a cool week: %q", w.Text)
	}
	hot := slices.DeleteFunc(entries(t), func(e ledger.Entry) bool { return e.Kind == "weather" })
	s := span(t, "2000-06-20", "2000-07-06").Clone()
	for i := range s.Len() {
		s.V[0][i] += 14
	}
	hot, _ = bring(t, hot, table(s, "temperature C,humidity", func(i int) string {
		return fmt.Sprintf("%.1f,%.0f", at(s, 0, i), at(s, 1, i))
	}), work.WeatherFile{Name: "hot.csv"})
	w, ok := warned(round(t, hot, work.Options{Day: d, Members: few}), "too-hot-for-mildew")
	if !ok || !strings.Contains(w.Text, "°C") || w.Bed == "" {
		t.Errorf("%v", w)
	}
	t.Log(w.Text)
}
