package work_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/internal/work"
	"oidium/weather"
)

// noWeather are the entries of the example without its weather.
func noWeather(t testing.TB) []ledger.Entry {
	return slices.DeleteFunc(entries(t), func(e ledger.Entry) bool { return e.Kind == "weather" })
}

// bring reads a file into a book and returns the book with it.
func bring(t testing.TB, book []ledger.Entry, file string, o work.WeatherFile) ([]ledger.Entry, *work.WeatherImport) {
	t.Helper()
	r, made, err := work.ReadWeather(strings.NewReader(file), book, time.Date(2002, 1, 1, 0, 0, 0, 0, time.UTC), o)
	if err != nil {
		t.Fatal(err)
	}
	return append(slices.Clone(book), made...), r
}

// table writes hours of the example as a logger would.
func table(s *weather.Series, head string, of func(i int) string) string {
	var b strings.Builder
	b.WriteString("time," + head + "\n")
	for i := range s.Len() {
		fmt.Fprintf(&b, "%s,%s\n", s.Time(i).Add(time.Hour).Format(time.RFC3339), of(i))
	}
	return b.String()
}

func at(s *weather.Series, v weather.Var, i int) float64 { return float64(s.V[v][i]) }

func span(t testing.TB, from, to string) *weather.Series {
	return truth(t).Slice(day(t, from).At(0, time.UTC), day(t, to).At(0, time.UTC))
}

// A garden without any weather is answered with a wider band than one with a
// diary, and that with a wider one than a station.
func TestNoWeatherDiaryStation(t *testing.T) {
	d := day(t, "2000-07-06")
	diary, imported := bring(t, noWeather(t), diaryOf(t, "2000-03-01", "2000-07-06"), work.WeatherFile{Name: "diary.csv"})
	if q := imported.Quantities[0]; q.Derived == 0 || q.Measured != 0 {
		t.Errorf("hours made of a diary are %+v, want them derived", q)
	}
	width := func(book []ledger.Entry) (behind, ahead float64) {
		r := must2(work.ShowWeather(book, work.WeatherOptions{Day: d}))(t)
		for _, x := range r.Ahead[1:] {
			ahead += (x.Out.Tmax.High - x.Out.Tmax.Low) / float64(len(r.Ahead)-1)
		}
		for _, x := range r.Behind {
			want := daysBy(t)[x.Date]
			behind += math.Abs(x.Out.Tmax.Mid-want.Tmax) / float64(len(r.Behind))
		}
		return behind, ahead
	}
	offNone, wideNone := width(noWeather(t))
	offDiary, wideDiary := width(diary)
	offStation, wideStation := width(entries(t))
	if !(wideNone > wideDiary && wideDiary > wideStation-0.5) {
		t.Errorf("bands of tomorrow's highest: %.1f K without weather, %.1f with a diary, %.1f with a station", wideNone, wideDiary, wideStation)
	}
	if !(offNone > 1 && offDiary < 0.6 && offStation < 0.06) {
		t.Errorf("the highest of last week is off by %.2f K without weather, %.2f with a diary, %.2f with a station", offNone, offDiary, offStation)
	}
	r := round(t, noWeather(t), work.Options{Day: d, Members: few})
	if !slices.ContainsFunc(r.Warnings, func(w garden.Warning) bool { return w.Code == "no-weather" }) {
		t.Error("the round does not say that there is no weather")
	}
	if r = round(t, diary, work.Options{Day: d, Members: few}); r.Weather.Measured == 0 || len(r.Jobs) == 0 {
		t.Errorf("the round with a diary: %+v, %d jobs", r.Weather, len(r.Jobs))
	}
}

// diaryOf is what somebody with a thermometer and a rain can writes down.
func diaryOf(t testing.TB, from, to string) string {
	var b strings.Builder
	b.WriteString("date,Tmin (°C),Tmax (°C),rain (mm)\n")
	for _, d := range weather.DaysOf(span(t, from, to), 5.18) {
		fmt.Fprintf(&b, "%s,%.1f,%.1f,%.1f\n", d.Date, d.Tmin, d.Tmax, d.Rain)
	}
	return b.String()
}

func daysBy(t testing.TB) map[string]weather.Daily {
	out := make(map[string]weather.Daily)
	for _, d := range weather.DaysOf(truth(t), 5.18) {
		out[d.Date.String()] = d
	}
	return out
}

// Hours made of a diary are as near to the measured ones as Parton & Logan 1981
// found theirs: 1.2 to 2.6 °C of mean absolute error (from their abstract).
func TestHoursOfADiary(t *testing.T) {
	_, made := diaryAndHours(t)
	real := truth(t)
	sum, n := 0.0, 0
	for i := range made.Len() {
		if k := real.Index(made.Time(i)); made.F[weather.Temp][i] == weather.Derived && k >= 0 && k < real.Len() {
			sum += math.Abs(at(made, weather.Temp, i) - at(real, weather.Temp, k))
			n++
		}
	}
	if mae := sum / float64(n); n < 24*80 || mae > 2.64 || mae < 0.3 {
		t.Errorf("mean absolute error of %d hours %.2f K", n, mae)
	}
}

func diaryAndHours(t testing.TB) ([]ledger.Entry, *weather.Series) {
	book, _ := bring(t, noWeather(t), diaryOf(t, "2000-04-01", "2000-07-01"), work.WeatherFile{Name: "diary.csv"})
	out := must2(ledger.WeatherAt(book, time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC)))(t)
	return book, out.Records[0].Series
}

// The same weather half a year later on the other half of the earth is the same
// weather; day length and what falls outside the air follow the sun there.
func TestSouthernMirror(t *testing.T) {
	north, south := mirrorBook(t, 52.1, 0), mirrorBook(t, -52.1, 184*24*time.Hour)
	d := day(t, "2000-07-06")
	n := must2(work.ShowWeather(north, work.WeatherOptions{Day: d}))(t)
	s := must2(work.ShowWeather(south, work.WeatherOptions{Day: d + 184}))(t)
	for i, a := range n.Behind {
		b := s.Behind[i]
		air := func(x work.AirOfDay) work.AirOfDay { x.LeafMax, x.DewHours = nil, nil; return x }
		if diff := cmp.Diff(air(a.Out), air(b.Out)) + cmp.Diff(a.Rain, b.Rain) + cmp.Diff(a.Radiation, b.Radiation); diff != "" {
			t.Errorf("%s and %s: %s", a.Date, b.Date, diff)
		}
		if math.Abs(a.DayLength-b.DayLength) > 0.15 || math.Abs(a.ET0.Mid-b.ET0.Mid) > 0.06*a.ET0.Mid+0.05 {
			t.Errorf("%s and %s: day %g and %g h, water use %g and %g mm", a.Date, b.Date, a.DayLength, b.DayLength, a.ET0.Mid, b.ET0.Mid)
		}
	}
	for i, a := range n.Ahead {
		if b := s.Ahead[i]; math.Abs(a.Out.Tmax.Mid-b.Out.Tmax.Mid) > 1.5 {
			t.Errorf("ahead on day %d the highest is %v and %v", i, a.Out.Tmax, b.Out.Tmax)
		}
	}
	// A season belongs to a planting: the round works there too.
	r := round(t, south, work.Options{Day: d + 184, Members: few})
	if len(r.Beds) != 1 || r.Beds[0].Crop != "cucumber" || r.Beds[0].LeafArea.Mid <= 0 {
		t.Errorf("%+v", r.Beds)
	}
	a := must2(work.DescribePlace(nil, d, &work.Where{Latitude: 35, Altitude: 100}, nil))(t)
	b := must2(work.DescribePlace(nil, d, &work.Where{Latitude: -35, Altitude: 100}, nil))(t)
	for k := range a.Months {
		x, y := a.Months[k], b.Months[(k+6)%12]
		if x.Tmax != y.Tmax || x.Tmin != y.Tmin || x.RHNoon != y.RHNoon || math.Abs(x.DayLength-y.DayLength) > 0.2 {
			t.Errorf("month %d of 35° north and %d of 35° south: %+v, %+v", x.Month, y.Month, x, y)
		}
	}
}

// mirrorBook is a garden with a bed of cucumbers and the example's weather moved.
func mirrorBook(t testing.TB, latitude float64, by time.Duration) []ledger.Entry {
	t.Helper()
	lon := 5.18
	start := day(t, "2000-04-01").At(8, time.UTC).Add(by)
	when := start.Format(time.RFC3339)
	length, width := 10.0, 1.2
	zone := "Etc/GMT-1"
	sea := true
	book := []ledger.Entry{
		line(t, 1, "site", "", when, when, &ledger.Site{Name: "Mirror", Latitude: &latitude, Longitude: &lon, Zone: zone, Maritime: &sea}),
		line(t, 2, "bed", "one", when, when, &ledger.Bed{Name: "Bed one", Length: &length, Width: &width, Shelter: "open"}),
	}
	planted := garden.DayOf(day(t, "2000-05-20").At(8, time.UTC).Add(by))
	at := planted.At(8, time.UTC).Format(time.RFC3339)
	plants := 20
	book = append(book, line(t, 3, "planting", "one", at, at, &ledger.Planting{Planting: "cu", Crop: "cucumber", Planted: planted, Plants: &plants}))
	s := truth(t).Clone()
	s.Start = s.Start.Add(by)
	made, err := work.WeatherEntries(weather.Station{Name: "s", Latitude: latitude, Longitude: lon, Altitude: 3, WindHeight: 2}, "", s)
	if err != nil {
		t.Fatal(err)
	}
	return append(book, made...)
}

// Polar days and nights: the months say so, and the days ahead are drawn.
func TestPolarDays(t *testing.T) {
	r := must2(work.DescribePlace(nil, day(t, "2000-06-21"), &work.Where{Latitude: 70, Longitude: 25, Maritime: true}, nil))(t)
	for m, want := range map[int]string{1: "day and night", 6: "polar day", 12: "polar night", 3: "day and night"} {
		if x := r.Months[m-1]; x.Light != want && !(m == 1 && x.Light == "polar night") {
			t.Errorf("month %d at 70° north is %q with %g h of light", m, x.Light, x.DayLength)
		}
	}
	if x := r.Months[5]; x.DayLength != 24 || x.Rise != "" {
		t.Errorf("%+v", x)
	}
	if x := r.Months[11]; x.DayLength != 0 || x.Radiation.Mid > 0.1 {
		t.Errorf("%+v", x)
	}
}

// A logger in a tunnel is the climate of its bed, and the hours ahead keep what it
// lately showed beyond the model.
func TestLoggerInATunnel(t *testing.T) {
	s := span(t, "2000-06-10", "2000-07-06")
	file := table(s, "temperature C,humidity %", func(i int) string {
		return fmt.Sprintf("%.1f,%.0f", at(s, weather.Temp, i)+6, math.Min(100, at(s, weather.RH, i)-5))
	})
	d := day(t, "2000-07-06")
	book, r := bring(t, entries(t), file, work.WeatherFile{Name: "logger.csv", Bed: "tunnel"})
	if r.Station != "logger" || r.Bed != "tunnel" || r.Quantities[0].Measured != s.Len() {
		t.Errorf("%+v", r)
	}
	model := must2(work.ShowWeather(entries(t), work.WeatherOptions{Day: d, Bed: "tunnel"}))(t)
	own := must2(work.ShowWeather(book, work.WeatherOptions{Day: d, Bed: "tunnel"}))(t)
	if model.Inside != "model" || own.Inside != "logger" {
		t.Errorf("inside by %q and %q", model.Inside, own.Inside)
	}
	for i, x := range own.Behind {
		if math.Abs(x.In.Tmin.Mid-x.Out.Tmin.Mid-6) > 0.06 || math.Abs(x.In.Tmax.Mid-x.Out.Tmax.Mid-6) > 0.06 {
			t.Errorf("%s: inside %v to %v, outdoors %v to %v", x.Date, x.In.Tmin, x.In.Tmax, x.Out.Tmin, x.Out.Tmax)
		}
		if cmp.Diff(x.Out, model.Behind[i].Out) != "" {
			t.Errorf("%s: a logger in a bed changed the weather outdoors", x.Date)
		}
	}
	// The model has the night about 1 K above outdoors, the logger 6.
	if a, b := own.Ahead[3].In.Tmin.Mid, model.Ahead[3].In.Tmin.Mid; a < b+3 || a > b+7 {
		t.Errorf("lowest in three days: %g with the logger, %g without", a, b)
	}
	for _, f := range must2(work.CheckWeather(book, d))(t).Records[1].Findings {
		if f.Kind == "sun-heated" {
			t.Errorf("a tunnel that is warm day and night is taken for a sensor in the sun: %+v", f)
		}
	}
	if _, _, err := work.ReadWeather(strings.NewReader(file), book, d.At(12, time.UTC), work.WeatherFile{Bed: "shed"}); err == nil || !strings.Contains(err.Error(), "tunnel") {
		t.Errorf("a bed that is not there: %v", err)
	}
}

// What is wrong with a record is found, said, and done something about.
func TestCheckFindsWhatIsWrong(t *testing.T) {
	d := day(t, "2000-07-06")
	s := span(t, "2000-05-01", "2000-07-06")
	full := func(temp func(i int) float64, shift time.Duration) string {
		moved := s.Clone()
		moved.Start = moved.Start.Add(shift)
		return table(moved, "temperature C,humidity %,rain mm,radiation W/m2", func(i int) string {
			return fmt.Sprintf("%.1f,%.0f,%.1f,%.0f", temp(i), at(s, weather.RH, i), at(s, weather.Rain, i), at(s, weather.Rad, i))
		})
	}
	plain := func(i int) float64 { return at(s, weather.Temp, i) }
	for _, c := range []struct {
		name, file string
		bed        garden.BedID
		kind, done string
		text       string
	}{
		{"stuck", full(func(i int) float64 {
			if i > 200 && i <= 270 {
				return 11.1
			}
			return plain(i)
		}, 0), "", "stuck", "set aside", "48 h"},
		{"spike", full(func(i int) float64 {
			if i == 300 {
				return plain(i) + 15
			}
			return plain(i)
		}, 0), "", "spike", "kept", "15"},
		{"an hour fast", full(plain, time.Hour), "", "clock", "nothing", "summer time"},
		{"three hours slow", full(plain, -3*time.Hour), "", "clock", "nothing", "Set the clock"},
		{"in the sun", full(func(i int) float64 { return plain(i) + 14*at(s, weather.Rad, i)/1000 }, 0), "courgette", "sun-heated", "nothing", "Shade it"},
	} {
		book := noWeather(t)
		if c.bed != "" {
			book = entries(t)
		}
		book, _ = bring(t, book, c.file, work.WeatherFile{Name: c.name, Bed: c.bed})
		r := must2(work.CheckWeather(book, d))(t)
		rec := r.Records[len(r.Records)-1]
		i := slices.IndexFunc(rec.Findings, func(f work.WeatherFinding) bool { return f.Kind == c.kind })
		if i < 0 {
			t.Errorf("%s: found %+v", c.name, rec.Findings)
			continue
		}
		if f := rec.Findings[i]; f.Done != c.done || !strings.Contains(f.Text, c.text) {
			t.Errorf("%s: %+v", c.name, f)
		}
		if c.kind == "spike" {
			continue
		}
		if w := round(t, book, work.Options{Day: d, Members: few}).Warnings; !slices.ContainsFunc(w, func(w garden.Warning) bool { return w.Code == "weather-"+c.kind && w.Bed == c.bed }) {
			t.Errorf("%s: the round does not say so: %+v", c.name, w)
		}
	}
	clean := must2(work.CheckWeather(entries(t), d))(t)
	if n := len(clean.Records[0].Findings); n != 0 {
		t.Errorf("%d findings in the example's weather", n)
	}
}

// A station with a sound value goes before one with a doubtful value, and what a
// stuck sensor says is not used.
func TestStuckSensorIsNotUsed(t *testing.T) {
	d := day(t, "2000-07-06")
	s := span(t, "2000-05-01", "2000-07-06")
	file := table(s, "temperature C", func(i int) string {
		if i > s.Len()-24*6 {
			return "25.0"
		}
		return fmt.Sprintf("%.1f", at(s, weather.Temp, i))
	})
	book, _ := bring(t, noWeather(t), file, work.WeatherFile{Name: "stuck.csv"})
	r := must2(work.ShowWeather(book, work.WeatherOptions{Day: d, Back: 3}))(t)
	for _, x := range r.Behind {
		if x.Measured != 0 || x.Made != "filled" || x.Out.Tmax.Mid == 25 {
			t.Errorf("%+v", x)
		}
	}
}

// The same file twice makes the same entries; a longer export of it adds days and
// the hours of its last one.
func TestImportIsIdempotent(t *testing.T) {
	s := span(t, "2000-05-01", "2000-05-04")
	short := table(s.Slice(s.Start, s.Start.Add(60*time.Hour)), "temperature C", func(i int) string { return fmt.Sprintf("%.1f", at(s, weather.Temp, i)) })
	long := table(s, "temperature C", func(i int) string { return fmt.Sprintf("%.1f", at(s, weather.Temp, i)) })
	ids := func(file string) (out []string) {
		book, _ := bring(t, nil, file, work.WeatherFile{Name: "x"})
		for _, e := range book {
			out = append(out, string(e.ID))
		}
		return out
	}
	a, b, c := ids(short), ids(short), ids(long)
	if diff := cmp.Diff(a, b); diff != "" || len(a) != 3 {
		t.Error(diff, a)
	}
	if len(c) != 3 || c[0] != a[0] || c[1] != a[1] || c[2] == a[2] {
		t.Errorf("%v, longer %v", a, c)
	}
}
