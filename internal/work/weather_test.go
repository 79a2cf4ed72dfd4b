package work_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"oidium/chance"
	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/internal/work"
	"oidium/weather"
)

// line composes an entry; n tells entries of a test apart.
func line(t testing.TB, n int, kind, bed, when, written string, body ledger.Body) ledger.Entry {
	t.Helper()
	e, err := ledger.Compose(ledger.Head{
		ID: fmt.Sprintf("00de0000-0000-7000-8000-%012d", n), Kind: kind, Bed: bed, Time: when, Written: written,
	}, body, work.Vocabulary())
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// truth is all the weather measured in the example.
func truth(t testing.TB) *weather.Series {
	t.Helper()
	out, err := ledger.WeatherAt(entries(t), time.Date(2001, 1, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	return out.Records[0].Series
}

// forecastOf makes a forecast issued at an instant: what came, warmer by a bias
// and an error that grows with the day of lead.
func forecastOf(t testing.TB, n int, issued time.Time, bias, grows float64, origin string) ledger.Entry {
	t.Helper()
	s := truth(t).Slice(issued, issued.Add(10*24*time.Hour))
	r := chance.New(chance.Key{Member: int(issued.Unix() / 3600), Process: chance.Demo})
	body := &ledger.Forecast{Issued: issued, Origin: origin, Hours: ledger.Hours{Start: s.Start}}
	var off float64
	for i := range s.Len() {
		if i%24 == 0 {
			off = bias + grows*float64(i/24+1)*r.Normal()
		}
		body.T = append(body.T, math.Round(10*(float64(s.V[weather.Temp][i])+off))/10)
		body.RH = append(body.RH, float64(s.V[weather.RH][i]))
		body.Rain = append(body.Rain, float64(s.V[weather.Rain][i]))
		body.Wind = append(body.Wind, math.Round(10*float64(s.V[weather.Wind][i]))/10)
		body.Rad = append(body.Rad, math.Round(float64(s.V[weather.Rad][i])))
	}
	at := issued.UTC().Format(time.RFC3339)
	return line(t, n, "forecast", "", at, at, body)
}

// with puts entries beside those of the example.
func with(t testing.TB, more ...ledger.Entry) []ledger.Entry { return append(entries(t), more...) }

// A forecast counts by its time of issue: one issued a second after the morning
// must not be felt, one issued a second before must.
func TestAForecastCountsFromItsIssue(t *testing.T) {
	loc, err := time.LoadLocation("Europe/Amsterdam")
	if err != nil {
		t.Fatal(err)
	}
	d := day(t, "2000-07-06")
	opt := work.Options{Day: d, Members: few}
	morning := d.At(6, loc)
	hot := func(at time.Time) ledger.Entry { return forecastOf(t, 1, at, 9, 0, "an invented service") }
	bare := bytesOf(t, round(t, entries(t), opt))
	if got := bytesOf(t, round(t, with(t, hot(morning.Add(time.Second))), opt)); !bytes.Equal(bare, got) {
		t.Error("a forecast issued a second after the morning was used: ", cmp.Diff(string(bare), string(got)))
	}
	before := round(t, with(t, hot(morning.Add(-time.Second))), opt)
	plain := round(t, entries(t), opt)
	if before.Weather.TodayMax.Mid < plain.Weather.TodayMax.Mid+3 {
		t.Errorf("with a forecast 9 K too warm today's highest is %v, without %v", before.Weather.TodayMax, plain.Weather.TodayMax)
	}
	if !strings.Contains(before.Weather.Forecast, "an invented service") {
		t.Errorf("the round says %q", before.Weather.Forecast)
	}
	// Issued in time but brought into the book later by a clock that says so: its
	// written time holds it back.
	late := hot(morning.Add(-time.Hour)).Body.(*ledger.Forecast)
	at := late.Issued.UTC().Format(time.RFC3339)
	held := line(t, 2, "forecast", "", at, morning.Add(time.Minute).UTC().Format(time.RFC3339), late)
	if got := bytesOf(t, round(t, with(t, held), opt)); !bytes.Equal(bare, got) {
		t.Error("a forecast written after the morning was used")
	}
}

// With forecasts in the book too, cutting off all that is later gives the same
// bytes: the round, and every result on weather.
func TestNothingLaterCountsWithForecasts(t *testing.T) {
	loc, err := time.LoadLocation("Europe/Amsterdam")
	if err != nil {
		t.Fatal(err)
	}
	all := entries(t)
	for i := range 40 {
		issued := day(t, "2000-06-01").At(4, time.UTC).Add(time.Duration(i) * 36 * time.Hour)
		all = append(all, forecastOf(t, 100+i, issued, 1, 0.5, []string{"one service", "another service"}[i%2]))
	}
	for _, m := range []string{"2000-05-31", "2000-06-14", "2000-07-06"} {
		d := day(t, m)
		asOf := d.At(6, loc)
		known := slices.DeleteFunc(slices.Clone(all), func(e ledger.Entry) bool { return !e.Known(asOf) })
		if len(known) == len(all) {
			t.Fatalf("%s: nothing was cut off; the test would prove nothing", m)
		}
		for name, of := range map[string]func([]ledger.Entry) any{
			"round": func(e []ledger.Entry) any { return round(t, e, work.Options{Day: d, Members: few}) },
			"show": func(e []ledger.Entry) any {
				r, err := work.ShowWeather(e, work.WeatherOptions{Day: d, Bed: "tunnel"})
				return must(t, r, err)
			},
			"check": func(e []ledger.Entry) any { r, err := work.CheckWeather(e, d); return must(t, r, err) },
			"score": func(e []ledger.Entry) any { r, err := work.ScoreForecasts(e, d); return must(t, r, err) },
			"place": func(e []ledger.Entry) any { r, err := work.DescribePlace(e, d, nil, nil); return must(t, r, err) },
		} {
			if a, b := bytesOf(t, of(all)), bytesOf(t, of(known)); !bytes.Equal(a, b) {
				t.Errorf("%s %s: later entries changed it: %s", m, name, cmp.Diff(string(b), string(a)))
			}
		}
	}
}

func must[T any](t testing.TB, r T, err error) T {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A new forecast reshuffles nothing: what is drawn where no forecast reaches is
// what was drawn without it.
func TestAForecastReshufflesNothing(t *testing.T) {
	d := day(t, "2000-07-06")
	loc, err := time.LoadLocation("Europe/Amsterdam")
	if err != nil {
		t.Fatal(err)
	}
	f := forecastOf(t, 1, d.At(5, loc), 0, 0, "an invented service")
	opt := work.WeatherOptions{Day: d, Ahead: 16}
	without, err := work.ShowWeather(entries(t), opt)
	must(t, 0, err)
	had, err := work.ShowWeather(with(t, f), opt)
	must(t, 0, err)
	last := len(without.Ahead) - 1
	if diff := cmp.Diff(without.Ahead[last].Out, had.Ahead[last].Out); diff != "" {
		t.Error(diff)
	}
	if cmp.Equal(without.Ahead[1].Out, had.Ahead[1].Out) {
		t.Error("the forecast was not used")
	}
	if had.Ahead[1].Made != "forecast" || had.Ahead[last].Made != "drawn" || without.Ahead[1].Made != "drawn" {
		t.Errorf("made of %s, %s, %s", had.Ahead[1].Made, had.Ahead[last].Made, without.Ahead[1].Made)
	}
}

// Forecasts that are right but for a known bias and error are scored as what they
// are, and better than drawing without them.
func TestScore(t *testing.T) {
	all := entries(t)
	for i := range 25 {
		issued := day(t, "2000-06-01").At(0, time.UTC).Add(time.Duration(i)*24*time.Hour - time.Hour)
		all = append(all, forecastOf(t, 100+i, issued, 1, 0, "an invented service"))
	}
	r := must2(work.ScoreForecasts(all, day(t, "2000-07-10")))(t)
	if len(r.Origins) != 1 || r.Origins[0].Issues != 25 {
		t.Fatalf("%+v", r.Origins)
	}
	hours := 0
	for _, h := range r.Origins[0].Hours {
		if h.What != "temperature" {
			continue
		}
		hours++
		if math.Abs(h.Bias-1) > 0.005 || math.Abs(h.Error-1) > 0.005 {
			t.Errorf("a forecast 1 K too warm is scored %+v", h)
		}
	}
	if hours != 10 {
		t.Errorf("%d leads of temperature", hours)
	}
	for _, d := range r.Origins[0].Days {
		if d.What != "tmax" || d.Lead > 2 {
			continue
		}
		if !(d.CRPS < d.Without) || d.N < 20 {
			t.Errorf("%+v: scenarios around a good forecast are no better than without", d)
		}
		if d.Bias < 0.2 || d.Bias > 1.5 || d.Coverage < 0.6 {
			t.Errorf("%+v", d)
		}
	}
	early := must2(work.ScoreForecasts(all, day(t, "2000-05-30")))(t)
	if len(early.Origins) != 0 {
		t.Errorf("forecasts were scored before they were issued: %+v", early.Origins)
	}
}

func must2[T any](r T, err error) func(testing.TB) T {
	return func(t testing.TB) T { t.Helper(); return must(t, r, err) }
}

// Every result on weather obeys its published schema, of a full book, an empty
// one and one without weather.
func TestWeatherResultsObeyTheirSchemas(t *testing.T) {
	d := day(t, "2000-07-06")
	loc, err := time.LoadLocation("Europe/Amsterdam")
	if err != nil {
		t.Fatal(err)
	}
	full := with(t, forecastOf(t, 1, d.At(5, loc).Add(-72*time.Hour), 0, 1, "an invented service"), forecastOf(t, 2, d.At(5, loc), 0, 1, "an invented service"))
	bare := slices.DeleteFunc(entries(t), func(e ledger.Entry) bool { return e.Kind == "weather" })
	file := "time,temperature C,humidity,rain mm\n2000-07-01T00:00Z,15,80,0\n2000-07-01T01:00Z,99,81,0\n2000-07-01T02:00Z,14,82,x\n"
	check := func(name, what string, r any, err error) {
		t.Helper()
		if err != nil {
			t.Fatalf("%s of %s: %v", name, what, err)
		}
		schema(t, name, bytesOf(t, r))
	}
	for what, e := range map[string][]ledger.Entry{"a full book": full, "a book without weather": bare, "an empty book": nil} {
		check1 := func(name string) func(any, error) {
			return func(r any, err error) { t.Helper(); check(name, what, r, err) }
		}
		a, err := work.CheckWeather(e, d)
		check1("weather-check")(a, err)
		for _, bed := range []garden.BedID{"", "tunnel"} {
			if len(e) == 0 && bed != "" {
				continue
			}
			b, err := work.ShowWeather(e, work.WeatherOptions{Day: d, Bed: bed})
			check1("weather-show")(b, err)
		}
		c, err := work.CompareSetpoints(e, d, "", "rose")
		check1("weather-setpoints")(c, err)
		p, err := work.DescribePlace(e, d, &work.Where{Latitude: -77, Longitude: 166}, nil)
		check1("weather-place")(p, err)
		s, err := work.ScoreForecasts(e, d)
		check1("weather-score")(s, err)
		i, _, err := work.ReadWeather(strings.NewReader(file), e, d.At(12, loc), work.WeatherFile{Name: "x.csv"})
		check1("weather-import")(i, err)
		f, _, err := work.KeepForecast(e, d.At(12, loc), "us-nws", weather.Outlook{Issued: d.At(5, loc), Origin: "x", Series: truth(t).Slice(d.At(5, loc), d.At(9, loc))}, nil)
		check1("weather-fetch")(f, err)
	}
}

// schema holds a document to the published schema of its name.
func schema(t testing.TB, name string, doc []byte) {
	t.Helper()
	b, err := work.Schema(name)
	if err != nil {
		t.Fatal(err)
	}
	s, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("x.json", s); err != nil {
		t.Fatal(err)
	}
	compiled, err := c.Compile("x.json")
	if err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(doc))
	if err != nil {
		t.Fatal(err)
	}
	if err := compiled.Validate(v); err != nil {
		t.Errorf("%s: %v\n%s", name, err, doc)
	}
	var wrong map[string]any
	if err := json.Unmarshal(doc, &wrong); err != nil {
		t.Fatal(err)
	}
	delete(wrong, "version")
	w, err := jsonschema.UnmarshalJSON(bytes.NewReader(bytesOf(t, wrong)))
	if err != nil {
		t.Fatal(err)
	}
	if compiled.Validate(w) == nil {
		t.Errorf("the schema %s accepts a document without version", name)
	}
}
