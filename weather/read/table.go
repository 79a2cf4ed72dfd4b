package read

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"oidium/weather"
)

// Table reads a table of weather from any station or logger: comma, semicolon,
// tab, bar or blanks between the columns, decimal point or comma, one to three
// lines of names, times in one column or several, with or without a zone, any
// step up to a day. It finds out what it can from the names and the values, says
// in the report what it took for what, and returns an [*Ambiguous] error where a
// file can be read in two ways that matter.
//
// Steps shorter than an hour become means and sums of the hour; rain over
// several hours is spread over them. Rows with a lowest and a highest temperature
// a day become hours by weather.Hourly, for which o.Place is needed. Humidity
// comes from the dew point or the wet bulb where it is not given, radiation from
// sunshine or cloud where it is not given and the place is known; both are
// flagged as derived.
func Table(r io.Reader, o Options) (weather.Station, *weather.Series, Report, error) {
	t := &table{o: o}
	st, s, err := t.read(r)
	if err != nil {
		return weather.Station{}, nil, t.rep, fmt.Errorf("read weather table: %w", err)
	}
	return st, s, t.rep, nil
}

type table struct {
	o      Options
	rep    Report
	l      *layout
	sample []string
	n      int // lines given to row so far
	fields []string
	clock  *clock
	days   []weather.Daily

	wind     float64 // factor to 2 m
	height   float64
	first    string // station of the first row
	lastRain float64
	haveRain bool
}

func (t *table) read(r io.Reader) (weather.Station, *weather.Series, error) {
	var none weather.Station
	switch t.o.Stamp {
	case "", "start", "end":
	default:
		return none, nil, fmt.Errorf("option stamp: %q is neither start nor end", t.o.Stamp)
	}
	b, did, err := plain(r)
	if err != nil {
		return none, nil, err
	}
	if len(did) > 0 {
		t.rep.found("The file was unpacked from: %s.", strings.Join(did, ", "))
	}
	err = lines(b, func(_ int, line []byte) error {
		if t.l == nil {
			t.sample = append(t.sample, text(line))
			if len(t.sample) < sampleLines {
				return nil
			}
			return t.start()
		}
		t.row(text(line))
		return nil
	})
	if err == nil && t.l == nil {
		err = t.start()
	}
	if err != nil {
		return none, nil, err
	}
	if t.rep.Used == 0 {
		return none, nil, t.nothing()
	}
	return t.finish()
}

func (t *table) nothing() error {
	why := ""
	if len(t.rep.Bad) > 0 {
		why = fmt.Sprintf(" (line %d %s)", t.rep.Bad[0].Line, t.rep.Bad[0].Reason)
	}
	return fmt.Errorf("none of its %d rows could be used%s", t.rep.Rows, why)
}

// start decides the layout by the sample and works the sample off.
func (t *table) start() error {
	if len(t.sample) == 0 {
		return errors.New("the file is empty")
	}
	l, err := sniff(t.sample, t.o)
	if err != nil {
		return err
	}
	t.l = l
	if len(l.cols) == 0 || len(l.cols) == 1 && l.has(qStation) {
		return fmt.Errorf("no column of weather was recognised among %s; name them with the option column", l.names())
	}
	if err := t.chooseStation(); err != nil {
		return err
	}
	if err := t.chooseClock(); err != nil {
		return err
	}
	t.chooseWind()
	t.tell()
	t.n = l.skip
	for _, s := range t.sample[l.skip:] {
		t.row(s)
	}
	t.sample = nil
	return nil
}

func (l *layout) has(q quantity) bool { _, ok := l.cols[q]; return ok }

// chooseStation asks for a station where the sample holds several.
func (t *table) chooseStation() error {
	c, ok := t.l.cols[qStation]
	if !ok {
		return nil
	}
	seen := make(map[string]bool)
	var names []string
	for _, s := range t.sample[t.l.skip:] {
		f := t.l.sep.split(s, nil)
		if c < len(f) && f[c] != "" && !seen[f[c]] {
			seen[f[c]] = true
			names = append(names, f[c])
		}
	}
	switch {
	case t.o.Station != "" && !seen[t.o.Station]:
		return fmt.Errorf("option station: the file begins with %s, not %q", strings.Join(names[:min(len(names), 10)], ", "), t.o.Station)
	case t.o.Station == "" && len(names) > 1:
		return &Ambiguous{Option: "station", Choices: names[:min(len(names), 10)], Text: fmt.Sprintf("the column %q names several stations", t.l.heads[c].name)}
	case len(names) > 0:
		t.first = names[0]
	}
	if t.o.Station != "" {
		t.first = t.o.Station
	}
	return nil
}

// chooseClock settles the zone of the times.
func (t *table) chooseClock() error {
	zone := t.l.when.zone
	if zone == nil && t.stampsZoned() {
		zone = time.UTC // every row says its own
	}
	if zone == nil {
		zone = t.o.Zone
	}
	if zone == nil && !t.l.daily() {
		return &Ambiguous{Option: "zone", Text: "neither the head nor the times say whose clock the station keeps"}
	}
	if zone == nil {
		zone = time.UTC
	}
	t.clock = newClock(zone, t.l.step)
	return nil
}

func (t *table) stampsZoned() bool {
	w := t.l.when
	if w.stamp < 0 {
		return false
	}
	for _, s := range t.sample[t.l.skip:] {
		if f := t.l.sep.split(s, nil); w.stamp < len(f) {
			x, k := parseStamp(f[w.stamp], t.l.order)
			return k == dateAndTime && x.zoned
		}
	}
	return false
}

func (t *table) chooseWind() {
	t.height = t.o.WindHeight
	if c, ok := t.l.cols[qWind]; ok && t.height == 0 {
		t.height = t.l.heads[c].metre
	}
	if t.height == 0 {
		t.height = 2
	}
	t.wind = weather.WindAt2m(1, t.height)
}

// tell writes into the report how the file was understood.
func (t *table) tell() {
	l := t.l
	point := "point"
	if l.nums.comma {
		point = "comma"
	}
	t.rep.found("Columns cut by %s, decimal %s, a row every %s.", l.sep, point, stepWords(l.step))
	for _, q := range quantities {
		c, ok := l.cols[q]
		if !ok {
			continue
		}
		how := ""
		if u := l.units[q]; u.name != "" {
			how = " in " + u.print()
			if u.assumed {
				how += " (assumed; the head does not say)"
			}
		}
		if q == qRain && l.count {
			how += ", counting up"
		}
		t.rep.found("Column %q is the %s%s.", l.heads[c].name, q, how)
	}
	for _, c := range l.empty {
		t.rep.found("Column %q is left out: it holds no numbers.", l.heads[c].name)
	}
	t.tellRest()
	if l.order != orderUnknown {
		t.rep.found("Dates have the %s first.", map[dateOrder]string{dayFirst: "day", monthFirst: "month"}[l.order])
	}
	if !l.daily() {
		t.rep.found("Times are by the clock of %s and name the %s of each step.", t.clock.zone, t.stampEnd())
	}
	if l.has(qWind) && t.wind != 1 {
		t.rep.found("Wind brought from %g m to 2 m (factor %.3f).", t.height, t.wind)
	}
}

// unusedListed is how many columns that nobody asked for are named.
const unusedListed = 12

// tellRest names the columns that were not used, so that one which was not
// recognised is seen to be missing.
func (t *table) tellRest() {
	l := t.l
	taken := slices.Clone(l.empty)
	for _, c := range l.cols {
		taken = append(taken, c)
	}
	taken = append(taken, l.when.columns()...)
	var rest []string
	for c, h := range l.heads {
		if !slices.Contains(taken, c) && h.name != "" {
			rest = append(rest, strconv.Quote(h.name))
		}
	}
	more := ""
	if n := len(rest) - unusedListed; n > 0 {
		rest, more = rest[:unusedListed], fmt.Sprintf(" and %d more", n)
	}
	if len(rest) > 0 {
		t.rep.found("Not used: %s%s. Should one of them hold weather, say which with the option column.", strings.Join(rest, ", "), more)
	}
}

func (t *table) stampEnd() string {
	if t.o.Stamp == "start" {
		return "start"
	}
	return "end"
}

func stepWords(d time.Duration) string {
	switch {
	case d == 24*time.Hour:
		return "day"
	case d == time.Hour:
		return "hour"
	case d%time.Hour == 0:
		return fmt.Sprintf("%d h", d/time.Hour)
	}
	return fmt.Sprintf("%g min", d.Minutes())
}

func (t *table) row(line string) {
	t.n++
	if strings.TrimSpace(line) == "" || line[0] == '#' {
		return
	}
	t.rep.Rows++
	t.fields = t.l.sep.split(line, t.fields[:0])
	f := t.fields
	if c, ok := t.l.cols[qStation]; ok && t.first != "" && c < len(f) && f[c] != t.first {
		t.rep.bad(t.n, "is of station %q, not %q", f[c], t.first)
		return
	}
	w, ok := t.l.rowWall(f, t.o)
	if ok {
		_, ok = w.time()
	}
	if !ok {
		t.rep.bad(t.n, "its date or time cannot be read: %s", t.timeFields(f))
		return
	}
	var v [len(slots)]float64
	used := t.values(f, &v)
	if !used {
		t.rep.bad(t.n, "has no value")
		return
	}
	if t.l.daily() {
		t.day(w, &v)
		return
	}
	t.hour(w, &v)
}

// timeFields quotes the fields of a row that should have held its time.
func (t *table) timeFields(f []string) string {
	w := t.l.when
	var out []string
	for _, c := range w.columns() {
		if c < len(f) {
			out = append(out, clip([]byte(f[c])))
		}
	}
	if len(out) == 0 {
		return "the row is too short"
	}
	return strings.Join(out, " ")
}

func (t *table) finish() (weather.Station, *weather.Series, error) {
	lat, lon := t.o.Place.at()
	st := weather.Station{Name: t.first, Latitude: lat, Longitude: lon, Altitude: math.NaN(), WindHeight: 2}
	if st.Name == "" {
		st.Name = "station"
	}
	if t.o.Place != nil {
		st.Altitude = t.o.Place.Altitude
	}
	var s *weather.Series
	if t.l.daily() {
		var err error
		if s, err = t.hourly(); err != nil {
			return st, nil, err
		}
	} else {
		s = t.clock.series(&t.rep)
	}
	if s.Len() == 0 {
		return st, nil, t.nothing()
	}
	return st, t.rep.check(s, lat, lon), nil
}
