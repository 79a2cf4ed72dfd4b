package ledger

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"oidium/garden"
	"oidium/weather"
)

// season is a small ledger with corrections, a conflict and a withdrawal.
func season() []string {
	when := func(l, time, written string) string {
		l = strings.Replace(l, `"time":"2000-06-14T08:00:00+02:00"`, `"time":"`+time+`"`, 1)
		return strings.Replace(l, `"written":"2000-06-14T08:01:00+02:00"`, `"written":"`+written+`"`, 1)
	}
	return []string{
		when(line(1, "site", "", `{"name":"A","latitude":52.1,"longitude":5.2,"zone":"Europe/Amsterdam","minutes":30,"hands":1}`), "2000-04-01T08:00:00+02:00", "2000-04-01T08:00:00+02:00"),
		when(line(2, "bed", "t1", `{"name":"tunnel","order":2,"length_m":10,"width_m":1.2,"shelter":"tunnel"}`), "2000-04-01T08:00:00+02:00", "2000-04-01T08:00:00+02:00"),
		when(line(3, "bed", "p1", `{"order":1,"length_m":6,"width_m":2}`), "2000-04-01T08:00:00+02:00", "2000-04-01T08:00:00+02:00"),
		when(line(4, "setting", "t1", `{"water":"drip"}`), "2000-04-02T08:00:00+02:00", "2000-04-02T08:00:00+02:00"),
		when(line(5, "setting", "t1", `{"vents":"day"}`), "2000-05-02T08:00:00+02:00", "2000-05-02T08:00:00+02:00"),
		when(line(6, "planting", "t1", `{"planting":"cuke","crop":"cucumber","plants":24,"planted":"2000-05-01"}`), "2000-05-01T08:00:00+02:00", "2000-05-01T08:00:00+02:00"),
		when(line(7, "planting", "t1", `{"planting":"cuke","cleared":"2000-09-20"}`), "2000-09-20T08:00:00+02:00", "2000-09-20T08:00:00+02:00"),
		when(line(8, "label", "", `{"material":"khco3","registration":"X-1","harvest_days":1}`), "2000-05-03T08:00:00+02:00", "2000-05-03T08:00:00+02:00"),
		when(line(9, "label", "", `{"material":"khco3","reentry_hours":4}`), "2000-05-04T08:00:00+02:00", "2000-05-04T08:00:00+02:00"),
		when(line(10, "tally", "t1", `{"counts":[{"plant":1,"age":"old","face":"lower","inspected":10,"infected":2}]}`), "2000-06-14T08:00:00+02:00", "2000-06-14T08:01:00+02:00"),
		when(line(11, "tally", "t1", `{"counts":[{"plant":1,"age":"old","face":"lower","inspected":10,"infected":3}]}`, `"replaces":"`+id(10)+`",`), "2000-06-14T08:00:00+02:00", "2000-06-15T08:01:00+02:00"),
		when(line(12, "tally", "t1", `{"counts":[{"plant":1,"age":"old","face":"lower","inspected":10,"infected":4}]}`, `"replaces":"`+id(10)+`",`), "2000-06-14T08:00:00+02:00", "2000-06-15T08:01:00+02:00"),
		when(line(13, "treatment", "t1", `{"material":"khco3","litres":3,"end":"2000-06-16T07:30:00+02:00"}`), "2000-06-16T07:00:00+02:00", "2000-06-16T08:00:00+02:00"),
		when(line(14, "treatment", "t1", `{"material":"khco3","litres":3}`), "2000-06-17T07:00:00+02:00", "2000-06-17T08:00:00+02:00"),
		when(line(15, "withdrawal", "t1", `{"reason":"typed twice"}`, `"replaces":"`+id(14)+`",`), "2000-06-17T07:00:00+02:00", "2000-06-18T08:00:00+02:00"),
		when(line(16, "harvest", "nowhere", `{"kg":2}`), "2000-06-18T07:00:00+02:00", "2000-06-18T08:00:00+02:00"),
		when(line(17, "bed", "p1", `{"name":"pumpkins"}`), "2000-06-18T07:00:00+02:00", "2000-06-18T08:00:00+02:00"),
	}
}

func TestFold(t *testing.T) {
	entries := parse(t, season()...)
	g, err := Fold(entries, at("2000-06-30T06:00:00+02:00"))
	if err != nil {
		t.Fatal(err)
	}
	if got := []string{g.Beds[0].Name, g.Beds[1].Name}; !cmp.Equal(got, []string{"pumpkins", "tunnel"}) {
		t.Errorf("walking order: %v", got)
	}
	if s := g.Beds[1].Settings; len(s) != 2 || s[1].Water != "drip" || s[1].Vents != "day" || s[0].Vents != "" {
		t.Errorf("settings: %+v", s)
	}
	if len(g.Plantings) != 1 || g.Plantings[0].Cleared != 0 {
		t.Errorf("plantings: %+v", g.Plantings)
	}
	if len(g.Tallies) != 1 || g.Tallies[0].Counts[0].Infected != 4 {
		t.Errorf("of two corrections written at once the greater id holds: %+v", g.Tallies)
	}
	if len(g.Treatments) != 1 {
		t.Errorf("the withdrawn treatment is still there: %+v", g.Treatments)
	}
	if l := g.Labels[len(g.Labels)-1]; *l.HarvestDays != 1 || *l.ReentryHours != 4 || l.RateLowGL != nil {
		t.Errorf("label: %+v", l)
	}
	for _, code := range []string{"two-corrections", "unknown-bed"} {
		if !hasWarning(g, code) {
			t.Errorf("no warning %s in %v", code, g.Warnings)
		}
	}
}

func TestFoldAsOf(t *testing.T) {
	entries := parse(t, season()...)
	for _, c := range []struct {
		asOf                string
		tallies, treatments int
		infected            int
	}{
		{"2000-06-14T08:00:30+02:00", 0, 0, 0}, // spoken of, not yet written
		{"2000-06-15T06:00:00+02:00", 1, 0, 2}, // corrections not yet written
		{"2000-06-17T08:00:00+02:00", 1, 2, 4}, // not yet withdrawn
		{"2000-06-19T06:00:00+02:00", 1, 1, 4},
	} {
		g, err := Fold(entries, at(c.asOf))
		if err != nil {
			t.Fatal(err)
		}
		infected := 0
		if len(g.Tallies) > 0 {
			infected = g.Tallies[0].Counts[0].Infected
		}
		if len(g.Tallies) != c.tallies || len(g.Treatments) != c.treatments || infected != c.infected {
			t.Errorf("%s: %d tallies, %d treatments, %d infected; want %d, %d, %d", c.asOf, len(g.Tallies), len(g.Treatments), infected, c.tallies, c.treatments, c.infected)
		}
	}
}

// Any order of arrival, any split over devices and any repetition give the same
// garden, and so does leaving out what was not known by then; for entries of
// every kind, corrections at random and names blanked at random.
func TestFoldIsDeterministic(t *testing.T) {
	fixed := parse(t, season()...)
	rapid.Check(t, func(t *rapid.T) {
		entries := fixed
		if rapid.IntRange(0, 4).Draw(t, "random") > 0 {
			entries = drawLedger(t)
		}
		asOf := at("2000-02-14T00:00:00Z").AddDate(0, 0, rapid.IntRange(0, 250).Draw(t, "days"))
		want, err := Fold(entries, asOf)
		if err != nil {
			t.Fatal(err)
		}
		wantStanding, err := Standing(entries, asOf)
		if err != nil {
			t.Fatal(err)
		}
		var phones [3][]Entry
		for _, e := range entries {
			for range rapid.IntRange(1, 3).Draw(t, "copies") {
				i := rapid.IntRange(0, 2).Draw(t, "phone")
				phones[i] = append(phones[i], e)
			}
		}
		union := rapid.Permutation(slices.Concat(phones[0], phones[1], phones[2])).Draw(t, "order")
		got, err := Fold(union, asOf)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("another garden (-first +shuffled):\n%s\n%s", d, describeLedger(entries))
		}
		gotStanding, err := Standing(union, asOf)
		if err != nil {
			t.Fatal(err)
		}
		if a, b := describeLedger(wantStanding), describeLedger(gotStanding); a != b {
			t.Fatalf("other entries stand:\n%s\n%s", a, b)
		}
		// Truncated at the date; blankings hold whenever it is asked.
		union = slices.DeleteFunc(union, func(e Entry) bool { return e.Kind != "blanking" && !e.Known(asOf) })
		if got, err = Fold(union, asOf); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("something later was used (-whole +truncated):\n%s\n%s", d, describeLedger(entries))
		}
	})
}

func TestFoldRefusesTwoEntriesWithOneID(t *testing.T) {
	a := parse(t, line(1, "note", "", `{"text":"a"}`))
	b := parse(t, line(1, "note", "", `{"text":"b"}`))
	if _, err := Fold(append(a, b...), at("2000-07-01T00:00:00Z")); err == nil || !strings.Contains(err.Error(), id(1)) {
		t.Errorf("got error %v", err)
	}
}

// Corrections of each other, which no honest device writes, still end.
func TestFoldEndsOnACircle(t *testing.T) {
	entries := parse(
		t,
		line(1, "note", "", `{"text":"a"}`, `"replaces":"`+id(2)+`",`),
		line(2, "note", "", `{"text":"b"}`, `"replaces":"`+id(1)+`",`),
	)
	g, err := Fold(entries, at("2000-07-01T00:00:00Z"))
	if err != nil || !hasWarning(g, "two-corrections") {
		t.Errorf("got %v, %v", g, err)
	}
}

func TestWeatherAt(t *testing.T) {
	w := func(n int, start, written, body string) string {
		l := line(n, "weather", "", `{"start":"`+start+`",`+body+`}`)
		l = strings.Replace(l, "2000-06-14T08:00:00+02:00", start, 1)
		return strings.Replace(l, "2000-06-14T08:01:00+02:00", written, 1)
	}
	entries := parse(
		t,
		w(1, "2000-06-14T00:00:00Z", "2000-06-14T06:00:00Z", `"t":[10,11,12,13]`),
		w(2, "2000-06-14T02:00:00Z", "2000-06-14T07:00:00Z", `"t":[20,null],"rain":[0,1]`),
		w(3, "2000-06-14T04:00:00Z", "2000-06-14T06:30:00Z", `"t":[14,15,16,17]`),
		line(4, "forecast", "", `{"issued":"2000-06-14T06:30:00Z","start":"2000-06-14T07:00:00Z","t":[18]}`),
	)
	got, err := WeatherAt(entries, at("2000-06-14T07:00:00Z"))
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Records) != 1 || len(got.Forecasts) != 1 {
		t.Fatalf("got %+v", got)
	}
	s := got.Records[0].Series
	nan := float32(math.NaN())
	want := [weather.NVars][]float32{
		weather.Temp: {10, 11, 20, 13, 14, 15, 16},
		weather.RH:   {nan, nan, nan, nan, nan, nan, nan},
		weather.Wind: {nan, nan, nan, nan, nan, nan, nan},
		weather.Rain: {nan, nan, 0, 1, nan, nan, nan},
		weather.Rad:  {nan, nan, nan, nan, nan, nan, nan},
	}
	if d := cmp.Diff(want, s.V, cmpopts.EquateNaNs()); d != "" || !s.Start.Equal(at("2000-06-14T00:00:00Z")) {
		t.Errorf("from %v (-want +got):\n%s", s.Start, d)
	}
	if s.F[weather.Temp][0] != weather.Measured || s.F[weather.RH][0] != weather.Missing || got.Forecasts[0].Series.F[weather.Temp][0] != weather.Forecast {
		t.Errorf("flags: %v", s.F)
	}
	early, err := WeatherAt(entries, at("2000-06-14T06:29:00Z"))
	if err != nil || len(early.Forecasts) != 0 || len(early.Records[0].Series.V[weather.Temp]) != 4 {
		t.Errorf("before the issue: %+v, %v", early, err)
	}
}

func TestSiteStatesOneFactAtATime(t *testing.T) {
	entries := parse(t, line(1, "site", "", `{"name":"A","hands":2}`), line(2, "site", "", `{"minutes":15}`))
	g, err := Fold(entries, at("2000-07-01T00:00:00Z"))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(garden.Site{Name: "A", Hands: 2, Minutes: 15}, g.Site); d != "" {
		t.Error(d)
	}
}

// The fold goes by the time an entry speaks of, not by its id or when it came.
func TestFoldGoesByTime(t *testing.T) {
	early := strings.Replace(line(60, "bed", "a", `{"length_m":4,"width_m":1,"name":"first"}`), `"time":"2000-06-14`, `"time":"2000-05-01`, 1)
	entries := parse(t, line(1, "bed", "a", `{"name":"second"}`), early)
	g, err := Fold(entries, at("2000-07-01T00:00:00Z"))
	if err != nil || g.Beds[0].Name != "second" || g.Beds[0].Length != 4 {
		t.Errorf("got %+v, %v", g.Beds, err)
	}
}

func TestClocks(t *testing.T) {
	dev := func(l, device, written string) string {
		l = strings.Replace(l, `"body":`, `"device":"`+device+`","body":`, 1)
		return strings.Replace(l, "2000-06-14T08:01:00+02:00", written, 1)
	}
	clock := func(n int, device, ahead, written string) string {
		l := line(n, "clock", "", `{"of":"`+device+`","ahead_s":`+ahead+`}`)
		return strings.ReplaceAll(strings.Replace(l, "2000-06-14T08:01:00+02:00", written, 1), "2000-06-14T08:00:00+02:00", written)
	}
	harvest := func(n int) string { return line(n, "harvest", "a", `{"kg":1}`) }
	entries := parse(
		t,
		line(1, "bed", "a", `{"length_m":4,"width_m":1}`),
		clock(2, "phone", "-400", "2000-06-10T00:00:00Z"),
		clock(3, "phone", "12", "2000-06-20T00:00:00Z"),
		clock(4, "desk", "299", "2000-06-10T00:00:00Z"),
		dev(harvest(5), "phone", "2000-06-14T08:01:00+02:00"),                                            // behind then
		dev(harvest(6), "phone", "2000-06-21T08:01:00+02:00"),                                            // put right since
		dev(harvest(7), "desk", "2000-06-14T08:01:00+02:00"),                                             // within five minutes
		dev(harvest(8), "shed", "2000-06-14T07:54:00+02:00"),                                             // written before it happened
		dev(harvest(9), "shed", "2000-06-14T07:56:00+02:00"),                                             // within five minutes
		dev(line(10, "planting", "a", `{"planting":"p","crop":"rose"}`), "shed", "2000-05-01T00:00:00Z"), // planned
	)
	g, err := Fold(entries, at("2000-07-01T00:00:00Z"))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, w := range g.Warnings {
		got = append(got, w.Code+" "+strings.Fields(w.Text)[2])
	}
	want := []string{"before-it-happened " + id(8), "device-clock " + id(5)}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("flagged (-want +got):\n%s", d)
	}
	if len(g.Harvests) != 5 {
		t.Errorf("%d harvests: what is flagged is still used", len(g.Harvests))
	}
	ahead := Clocks(entries, at("2000-06-14T07:55:00+02:00"))
	if len(ahead) != 5 {
		t.Errorf("at the receiver: %d flagged: %v", len(ahead), ahead)
	}
}

func TestMove(t *testing.T) {
	entries := parse(
		t,
		line(1, "bed", "tray", `{"length_m":1,"width_m":1,"role":"tray","order":1}`),
		line(2, "bed", "t1", `{"length_m":9,"width_m":1,"order":2}`),
		line(3, "planting", "tray", `{"planting":"starts","crop":"cucumber","plants":40,"planted":"2000-05-01"}`),
		line(4, "move", "tray", `{"planting":"starts","to":"t1","as":"cuke","plants":24}`),
		line(5, "move", "tray", `{"planting":"starts","to":"t1","as":"cuke","plants":2}`),
		line(6, "move", "t1", `{"planting":"starts","to":"tray","as":"x"}`),
		line(7, "move", "tray", `{"planting":"starts","to":"nowhere","as":"y"}`),
	)
	g, err := Fold(entries, at("2000-07-01T00:00:00Z"))
	if err != nil {
		t.Fatal(err)
	}
	day := garden.DayOf(at("2000-06-14T08:00:00+02:00"))
	planted, _ := garden.ParseDay("2000-05-01")
	want := []garden.Planting{
		{ID: "starts", Bed: "tray", Crop: "cucumber", Plants: 16, Planted: planted},
		{ID: "cuke", Bed: "t1", Crop: "cucumber", Plants: 24, Planted: planted, Since: day, From: "starts"},
	}
	if d := cmp.Diff(want, g.Plantings); d != "" {
		t.Error(d)
	}
	for _, code := range []string{"move-onto", "move-of-nothing", "unknown-bed"} {
		if !hasWarning(g, code) {
			t.Errorf("no warning %s in %v", code, g.Warnings)
		}
	}
}

// A grade is converted and kept beside: Horsfall & Barratt (1945), grade 5 is 12
// to 25 % (the project's table of scales; from memory of the paper).
func TestGradeIsKeptAndConverted(t *testing.T) {
	entries := parse(
		t,
		line(1, "bed", "a", `{"length_m":4,"width_m":1}`),
		line(2, "severity", "a", `{"age":"old","face":"lower","scale":"horsfall-barratt","grade":5}`),
		line(3, "eye-check", "", `{"leaves":[{"truth":0.1,"read":0.2}]}`, `"who":"me",`),
	)
	g, err := Fold(entries, at("2000-07-01T00:00:00Z"))
	if err != nil || len(g.Severities) != 1 || len(g.EyeChecks) != 1 {
		t.Fatalf("got %+v, %v", g, err)
	}
	s := g.Severities[0]
	if s.Scale != "horsfall-barratt" || s.Value != 5 || math.Abs(s.Low-0.12) > 1e-12 || math.Abs(s.High-0.25) > 1e-12 || s.Share <= s.Low || s.Share >= s.High {
		t.Errorf("got %+v", s)
	}
	want := garden.EyeCheck{Entry: g.EyeChecks[0].Entry, Time: g.EyeChecks[0].Time, Who: "me", Truth: []float64{0.1}, Read: []float64{0.2}}
	if d := cmp.Diff(want, g.EyeChecks[0]); d != "" {
		t.Error(d)
	}
}

// What somebody found the spots to be is kept with how sure they were.
func TestFoldDiagnosis(t *testing.T) {
	entries := parse(
		t,
		line(1, "bed", "a", `{"length_m":3,"width_m":1}`),
		line(2, "diagnosis", "a", `{"verdict":"cannot tell","sure":"cannot tell"}`),
		line(3, "diagnosis", "a", `{"verdict":"powdery mildew"}`),
	)
	g, err := Fold(entries, at("2000-06-30T06:00:00+02:00"))
	if err != nil {
		t.Fatal(err)
	}
	if len(g.Diagnoses) != 2 || g.Diagnoses[0].Sure != "cannot tell" || g.Diagnoses[1].Sure != "likely" || g.Diagnoses[1].Bed != "a" {
		t.Errorf("%+v", g.Diagnoses)
	}
}
