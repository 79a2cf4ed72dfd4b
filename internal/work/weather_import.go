package work

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"time"

	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/weather"
	"oidium/weather/read"
)

// weatherImportVersion names the shape of [WeatherImport].
const weatherImportVersion = "oidium-weather-import-1"

// WeatherImport says how a file of weather was understood and what became of it.
type WeatherImport struct {
	Version    string            `json:"version" enum:"oidium-weather-import-1" doc:"shape of this document"`
	File       string            `json:"file" doc:"name as it was given"`
	Format     string            `json:"format" enum:"table,hourly-observations,archive-hourly,forecast" doc:"a table of any station or logger, hourly observations of the Dutch weather service, a GHCNh archive file, or the saved answer of a forecast service"`
	Station    string            `json:"station" doc:"name of the station in the book; for a forecast who issued it"`
	Bed        garden.BedID      `json:"bed,omitempty" doc:"the bed the logger is in; absent outdoors"`
	From       string            `json:"from" format:"date-time" doc:"start of the first hour"`
	To         string            `json:"to" format:"date-time" doc:"end of the last hour"`
	Hours      int               `json:"hours" doc:"hours from the first to the last"`
	Rows       int               `json:"rows" doc:"rows of data met; 0 where the file has no rows"`
	Used       int               `json:"used" doc:"rows of which at least one value was used"`
	Quantities []WeatherQuantity `json:"quantities" doc:"what came out of it, hour by hour"`
	Understood []string          `json:"understood" doc:"how the file was understood, one sentence each"`
	Bad        []BadRow          `json:"bad" doc:"the first rows that were not used, or not wholly"`
	BadTotal   int               `json:"bad_total" doc:"how many such rows there were"`
	Warnings   []garden.Warning  `json:"warnings" doc:"what quality control found in the file"`
	Entries    int               `json:"entries" doc:"entries the file makes"`
	Kept       bool              `json:"kept" doc:"whether they were written into the book; false for a rehearsal"`
	Added      int               `json:"added" doc:"entries that were new to the book"`
	Same       int               `json:"same" doc:"entries that were there already"`
}

// BadRow is a row, or a value in it, that could not be used.
type BadRow struct {
	Line   int    `json:"line" doc:"counted from 1"`
	Reason string `json:"reason"`
}

// WeatherFile says what is known of a file before it is read.
type WeatherFile struct {
	Name    string       // of the file, as the user gave it
	Bed     garden.BedID // that the logger is in; "" outdoors
	Station string       // its name in the book; "" what the file says
	Origin  string       // who measured it; "" what the file says
	Licence string       // "" what the file says
	Answers read.Options // what the file does not say

	limit int64 // bytes read at most; 0 means WeatherFileLimit
	under bool  // the bed is in a tunnel
}

// WeatherFileLimit is how many bytes of a file are read: some twenty years of readings
// every minute. What is larger is no station's file, or wants cutting first.
const WeatherFileLimit = 1 << 30

// ErrTooLarge is the error of a file that is not read because of its size.
var ErrTooLarge = fmt.Errorf("it is larger than %d GiB; cut it by year and bring in the parts, they add up", WeatherFileLimit>>30)

// ReadWeather understands a file of weather and returns the entries it makes.
// entries are those of the book: where the file does not say whose clock it keeps
// or where it stands, the garden's zone and place are taken, and the report says
// so. now bounds what can have been measured and dates a forecast.
//
// The error is a [*read.Ambiguous] where only the user can tell; [ErrTooLarge]
// where the file is not read for its size; else that nothing could be made of it.
func ReadWeather(r io.Reader, entries []ledger.Entry, now time.Time, f WeatherFile) (*WeatherImport, []ledger.Entry, error) {
	g, err := ledger.Fold(entries, now)
	if err != nil {
		return nil, nil, err
	}
	loc, err := zoneOf(g.Site)
	if err != nil {
		return nil, nil, err
	}
	out := &WeatherImport{Version: weatherImportVersion, File: f.Name, Bed: f.Bed}
	f.settle(g.Site, loc, out)
	if f.Bed != "" {
		if err := bedThere(g, f.Bed); err != nil {
			return nil, nil, err
		}
		i := slices.IndexFunc(g.Beds, func(b garden.Bed) bool { return b.ID == f.Bed })
		f.under = g.Beds[i].Shelter == garden.Tunnel
	}
	if f.limit == 0 {
		f.limit = WeatherFileLimit
	}
	in, err := unpacked(r, f.limit)
	if err != nil {
		return nil, nil, err
	}
	var made []ledger.Entry
	switch kind := kindOfFile(in); kind {
	case "typical":
		return nil, nil, errors.New(remark("import.typical", "file", f.Name))
	case "locationforecast", "gridpoint":
		out.Format = "forecast"
		made, err = readForecast(in, kind, now, loc, out)
	default:
		made, err = readMeasured(in, kind, now, loc, f, out)
	}
	if err != nil {
		return nil, nil, err
	}
	out.Entries = len(made)
	full(&out.Quantities)
	full(&out.Understood)
	full(&out.Bad)
	full(&out.Warnings)
	return out, made, nil
}

// settle fills in from the book what the user did not say.
func (f *WeatherFile) settle(site garden.Site, loc *time.Location, out *WeatherImport) {
	o := &f.Answers
	if o.Zone == nil && site.Zone != "" {
		o.Zone = loc
	}
	if o.Place == nil && (site.Latitude != 0 || site.Longitude != 0) {
		o.Place = &read.Place{Latitude: site.Latitude, Longitude: site.Longitude, Altitude: site.Altitude, Maritime: site.Maritime}
	}
}

func bedThere(g *garden.Garden, id garden.BedID) error {
	var names []string
	for _, b := range g.Beds {
		if b.ID == id {
			return nil
		}
		names = append(names, string(b.ID))
	}
	if len(names) == 0 {
		return fmt.Errorf("there is no bed %q: the book has no beds yet", id)
	}
	return fmt.Errorf("there is no bed %q; the beds are %s", id, strings.Join(names, ", "))
}

// readMeasured reads a file of measured weather.
func readMeasured(in *bufio.Reader, kind string, now time.Time, loc *time.Location, f WeatherFile, out *WeatherImport) ([]ledger.Entry, error) {
	var (
		st  weather.Station
		s   *weather.Series
		rep read.Report
		err error
	)
	switch kind {
	case "knmi":
		out.Format = "hourly-observations"
		st, s, rep, err = read.KNMIHourly(in)
	case "ghcnh":
		out.Format = "archive-hourly"
		st, s, rep, err = read.GHCNh(in)
	default:
		out.Format = "table"
		st, s, rep, err = read.Table(in, f.Answers)
	}
	out.Rows, out.Used, out.BadTotal, out.Understood = rep.Rows, rep.Used, rep.BadTotal, rep.Found
	for _, b := range rep.Bad {
		out.Bad = append(out.Bad, BadRow(b))
	}
	if err != nil {
		return nil, err
	}
	if s.Start.After(now) {
		return nil, fmt.Errorf("its first hour is %s, which has not come yet; is the date order right (--date-order)?", s.Start.In(loc).Format("2006-01-02 15:04"))
	}
	if late := s.Len() - s.Cut(now).Len(); late > 0 {
		s = s.Cut(now)
		out.Understood = append(out.Understood, remark("import.future", "n", late))
	}
	f.name(&st)
	out.Station = stationID(st.Name)
	out.span(s, loc)
	if s.Count(weather.Temp)[weather.Missing] == s.Len() {
		out.Warnings = append(out.Warnings, garden.Warning{Code: "weather-no-temperature", Bed: f.Bed, Text: remark("import.cold")})
	}
	record := instrument{station: st, bed: f.Bed, series: s, quality: rep.Quality}
	for _, x := range findings(record, loc) {
		if f.under && x.Kind == string(weather.SunHeated) {
			continue // a tunnel is as warm at noon; the check holds it against the model
		}
		out.Warnings = append(out.Warnings, garden.Warning{Code: "weather-" + x.Kind, Bed: f.Bed, Text: x.Text})
	}
	return WeatherEntries(st, f.Bed, s)
}

// name gives a station the names the user gave, or plain ones.
func (f *WeatherFile) name(st *weather.Station) {
	if st.Name == "station" && f.Bed != "" {
		st.Name = "logger"
	}
	if f.Station != "" {
		st.Name = f.Station
	}
	if f.Origin != "" {
		st.Origin = f.Origin
	}
	if f.Licence != "" {
		st.Licence = f.Licence
	}
}

// span says what hours a series covers and how they came about.
func (out *WeatherImport) span(s *weather.Series, loc *time.Location) {
	out.From, out.To = s.Start.In(loc).Format(time.RFC3339), s.End().In(loc).Format(time.RFC3339)
	out.Hours = s.Len()
	for v := range weather.Var(weather.NVars) {
		n := s.Count(v)
		q := WeatherQuantity{What: v.String(), Measured: n[weather.Measured], Derived: n[weather.Derived], Doubtful: n[weather.Doubtful]}
		q.Missing = s.Len() - q.Measured - q.Derived - q.Doubtful - n[weather.Forecast]
		q.Forecast = n[weather.Forecast]
		out.Quantities = append(out.Quantities, q)
	}
}

// readForecast reads the saved answer of a forecast service.
func readForecast(in io.Reader, kind string, now time.Time, loc *time.Location, out *WeatherImport) ([]ledger.Entry, error) {
	var (
		o   weather.Outlook
		err error
	)
	if kind == "gridpoint" {
		o, err = read.Gridpoint(in)
	} else {
		o, err = read.Locationforecast(in)
	}
	if err != nil {
		return nil, err
	}
	if o.Issued.After(now) {
		return nil, fmt.Errorf("it was issued at %s, which has not come yet; is the clock of this machine right?", o.Issued.In(loc).Format("2006-01-02 15:04"))
	}
	out.Station = o.Origin
	out.Understood = append(out.Understood, remark("import.forecast", "when", o.Issued.In(loc).Format("2006-01-02 15:04"), "origin", termsOf(o.Origin, o.Licence)))
	out.span(o.Series, loc)
	e, err := forecastEntry(o)
	return []ledger.Entry{e}, err
}

// forecastEntry turns a forecast into an entry that counts from its time of issue
// on. The id follows from who issued it, when, and the values, so that the same
// forecast brought in twice adds nothing.
func forecastEntry(o weather.Outlook) (ledger.Entry, error) {
	issued := o.Issued.UTC().Truncate(time.Second)
	body := &ledger.Forecast{Issued: issued, Origin: termsOf(o.Origin, o.Licence), Hours: ledger.Hours{Start: o.Series.Start}}
	for v, dst := range [weather.NVars]*ledger.Values{
		weather.Temp: &body.T, weather.RH: &body.RH, weather.Wind: &body.Wind, weather.Rain: &body.Rain, weather.Rad: &body.Rad,
	} {
		row := make(ledger.Values, o.Series.Len())
		for i, x := range o.Series.V[v] {
			row[i] = math.Round(float64(x)*100) / 100
			switch weather.Var(v) { // a service may give 101 % or a ray less than none
			case weather.RH:
				row[i] = math.Min(row[i], 100)
			case weather.Rad, weather.Rain:
				row[i] = math.Max(row[i], 0)
			}
		}
		if o.Series.Count(weather.Var(v))[weather.Missing] < o.Series.Len() {
			*dst = row
		}
	}
	e, err := ledger.Compose(ledger.Head{
		ID: idFor(issued, "forecast/"+body.Origin, body.Hours), Kind: "forecast",
		Time: issued.Format(time.RFC3339), Written: issued.Format(time.RFC3339),
	}, body, ledger.Vocabulary{})
	if err != nil {
		return e, fmt.Errorf("forecast issued %s: %w", issued.Format(time.RFC3339), err)
	}
	return e, nil
}

// termsOf joins who made data and on what terms they may be used.
func termsOf(origin, licence string) string {
	if licence == "" {
		return origin
	}
	if origin == "" {
		return licence
	}
	return origin + "; " + licence
}

// unpacked undoes gzip and passes on so many bytes.
func unpacked(r io.Reader, limit int64) (*bufio.Reader, error) {
	b := bufio.NewReaderSize(&limited{r: r, left: limit}, headBytes)
	if head, _ := b.Peek(2); !bytes.Equal(head, []byte{0x1f, 0x8b}) {
		return b, nil
	}
	z, err := gzip.NewReader(b)
	if err != nil {
		return nil, fmt.Errorf("this begins like a gzip file but is none: %w", err)
	}
	// What is packed may be far larger than the file.
	return bufio.NewReaderSize(&limited{r: z, left: limit}, headBytes), nil
}

// headBytes is how much of a file is looked at to tell its format.
const headBytes = 1 << 16

// kindOfFile tells by its beginning what a file is; "table" where it is nothing
// with a name.
func kindOfFile(b *bufio.Reader) string {
	raw, _ := b.Peek(headBytes)
	head := string(raw)
	line, _, _ := strings.Cut(head, "\n")
	low := strings.ToLower(line)
	switch {
	case strings.HasPrefix(head, "LOCATION,"):
		return "typical"
	case strings.Contains(head, "STN,YYYYMMDD"):
		return "knmi"
	case strings.Contains(low, "temperature_quality_code") || strings.Contains(low, "temperature_source_code"):
		return "ghcnh"
	case strings.HasPrefix(strings.TrimSpace(head), "{") && strings.Contains(head, `"timeseries"`):
		return "locationforecast"
	case strings.HasPrefix(strings.TrimSpace(head), "{") && (strings.Contains(head, "gridpoints") || strings.Contains(head, `"validTime"`)):
		return "gridpoint"
	}
	return "table"
}

// limited passes on so many bytes and then fails with [ErrTooLarge].
type limited struct {
	r    io.Reader
	left int64
}

func (l *limited) Read(p []byte) (int, error) {
	if l.left <= 0 {
		return 0, ErrTooLarge
	}
	n, err := l.r.Read(p[:min(int64(len(p)), l.left)])
	l.left -= int64(n)
	return n, err
}
