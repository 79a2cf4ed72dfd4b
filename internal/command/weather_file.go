package command

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"oidium/garden"
	"oidium/internal/command/demo"
	"oidium/internal/ledger"
	"oidium/internal/print"
	"oidium/internal/work"
	"oidium/weather/read"
)

type weatherImportCmd struct {
	book
	Demo      bool              `help:"Read the file as if into the invented garden of the demo; nothing is written."`
	JSON      bool              `help:"Print JSON (its schema: oidium schema weather-import)."`
	File      string            `arg:"" help:"A file of weather; - for standard input."`
	Bed       string            `help:"The bed the logger is in; without it the file is of outdoors." placeholder:"BED"`
	Rehearse  bool              `help:"Say how the file is understood and write nothing."`
	Name      string            `help:"Name of the station or logger in the book." placeholder:"NAME"`
	Origin    string            `help:"Who measured it." placeholder:"TEXT"`
	Licence   string            `help:"On what terms the data may be used." placeholder:"TEXT"`
	Zone      string            `help:"Clock the file keeps: a zone such as Europe/Amsterdam, UTC, or an offset such as +01:00. Without it what the file says, else the clock of the garden." placeholder:"ZONE"`
	DateOrder string            `help:"Order of dates such as 03/04/2000: day or month first." enum:",day,month" default:"" placeholder:"day|month"`
	Stamp     string            `help:"Which end of its step a time names: start or end." enum:",start,end" default:"" placeholder:"start|end"`
	Year      int               `help:"Year of a file that gives only the day of the year." placeholder:"YEAR"`
	Column    map[string]string `help:"Which column is which: temperature, dew-point, wet-bulb, humidity, wind, rain, radiation, sunshine, cloud, lowest, highest or station, by name or number; none leaves it out." placeholder:"WHAT=COLUMN" mapsep:"none"`
	Unit      map[string]string `help:"Unit of a quantity, such as temperature=F." placeholder:"WHAT=UNIT" mapsep:"none"`
	Heads     []string          `help:"Names of the columns of a file without a head, in order." placeholder:"NAME"`
	Height    float64           `help:"Height of the wind instrument in m." placeholder:"M"`
	Station   string            `help:"Which station, where the file has several." placeholder:"STATION"`
	At        string            `help:"Where the station stands, if not in the garden." placeholder:"LAT,LON,ALT"`
}

func (c *weatherImportCmd) Run(s *streams) error {
	file, err := c.describe()
	if err != nil {
		return err
	}
	entries, err := c.known(s)
	if err != nil {
		return err
	}
	f, err := s.open(c.File)
	if err != nil {
		return err
	}
	defer f.Close()
	if size, ok := sizeOf(f); ok && size > work.WeatherFileLimit {
		return fmt.Errorf("%s: %w", c.File, work.ErrTooLarge)
	}
	r, made, err := work.ReadWeather(f, entries, s.now(), file)
	if err != nil {
		return c.explain(err)
	}
	w := whose{book: c.book, Demo: c.Demo}
	if r.Kept, r.Added, r.Same, err = w.put(s, made, c.Rehearse); err != nil {
		return fmt.Errorf("%s: nothing was brought in: %w", c.File, err)
	}
	return show(s, c.JSON, r, print.WeatherImport)
}

// known reads the book, which may not be there yet, or the demo.
func (c *weatherImportCmd) known(s *streams) ([]ledger.Entry, error) {
	switch {
	case c.Demo:
		return demo.Entries()
	case !c.there():
		return nil, nil
	}
	return c.entries(s)
}

// describe turns the flags into what is known of the file.
func (c *weatherImportCmd) describe() (work.WeatherFile, error) {
	f := work.WeatherFile{
		Name: c.File, Bed: garden.BedID(c.Bed), Station: c.Name, Origin: c.Origin, Licence: c.Licence,
		Answers: read.Options{
			DateOrder: c.DateOrder, Stamp: c.Stamp, Year: c.Year, Names: c.Heads,
			Columns: spaced(c.Column), Units: spaced(c.Unit), WindHeight: c.Height, Station: c.Station,
		},
	}
	if c.File != "-" {
		f.Name = filepath.Base(c.File)
	}
	if c.Height < 0 || c.Height > 200 {
		return f, fmt.Errorf("--height %g m is no height of a wind instrument", c.Height)
	}
	if c.Zone != "" {
		z, err := parseZone(c.Zone)
		if err != nil {
			return f, err
		}
		f.Answers.Zone = z
	}
	if c.At != "" {
		w, err := parseWhere(c.At)
		if err != nil {
			return f, err
		}
		f.Answers.Place = &read.Place{Latitude: w.Latitude, Longitude: w.Longitude, Altitude: w.Altitude}
	}
	return f, nil
}

// spaced turns the dashes in names of quantities into the spaces they stand for.
func spaced(m map[string]string) map[string]string {
	if len(m) == 0 {
		return nil
	}
	out := make(map[string]string, len(m))
	for _, k := range slices.Sorted(maps.Keys(m)) {
		out[strings.ReplaceAll(k, "-", " ")] = m[k]
	}
	return out
}

// parseZone reads a zone by name or as an offset.
func parseZone(text string) (*time.Location, error) {
	if t, err := time.Parse("-07:00", text); err == nil {
		_, off := t.Zone()
		return time.FixedZone(text, off), nil
	}
	z, err := time.LoadLocation(text)
	if err != nil || text == "Local" {
		return nil, fmt.Errorf("--zone %q is not known; give a zone such as Europe/Amsterdam, UTC, or an offset such as +01:00", text)
	}
	return z, nil
}

// answers are what may be said where a reader offers no choice.
var answers = map[string]string{
	"zone":  "--zone Europe/Amsterdam (the clock on the wall there), --zone UTC,\nor --zone +01:00 (that offset all year). A book with a site knows it.",
	"place": "--at=52.1,5.18,3 (latitude, longitude, altitude in m).\nA book with a site knows it.",
	"year":  "--year 2000",
	"names": "--heads time,temperature,humidity (the names of the columns, in order)",
}

// explain turns the error of a file into one with a way out.
func (c *weatherImportCmd) explain(err error) error {
	var ask *read.Ambiguous
	if !errors.As(err, &ask) {
		return fmt.Errorf("%s: %w", c.File, err)
	}
	such := suchAs(ask)
	return fmt.Errorf("%s can be read in more than one way, and only you can tell:\n%s.\nSay which: %s", c.File, ask.Text, such)
}

// suchAs shows how a question is answered: "--unit temperature=C or ...".
func suchAs(ask *read.Ambiguous) string {
	if len(ask.Choices) == 0 {
		if such, ok := answers[ask.Option]; ok {
			return such
		}
		return "--" + ask.Option
	}
	head := "--" + ask.Option + " "
	for _, of := range []string{"unit ", "column "} {
		if what, ok := strings.CutPrefix(ask.Option, of); ok {
			head = "--" + of + strings.ReplaceAll(what, " ", "-") + "="
		}
	}
	var ways []string
	for _, x := range ask.Choices {
		if strings.ContainsAny(x, " '\"()%") {
			x = strconv.Quote(x)
		}
		ways = append(ways, head+x)
	}
	return strings.Join(ways, "\nor ")
}

// sizeOf returns the size of a file that has one.
func sizeOf(r io.Reader) (int64, bool) {
	f, ok := r.(*os.File)
	if !ok {
		return 0, false
	}
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() {
		return 0, false
	}
	return info.Size(), true
}
