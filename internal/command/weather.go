package command

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"oidium/garden"
	"oidium/internal/command/demo"
	"oidium/internal/ledger"
	"oidium/internal/print"
	"oidium/internal/work"
	"oidium/weather"
)

type weatherCmd struct {
	Import    weatherImportCmd    `cmd:"" help:"Bring a file of measured weather into the book: of a station, a logger in a bed, a diary of the day's lowest and highest, or a saved forecast."`
	Check     weatherCheckCmd     `cmd:"" help:"Say what is wrong or doubtful in the measured weather, and what was done about it."`
	Show      weatherShowCmd      `cmd:"" help:"Print the weather by day, behind and ahead, outdoors or in a bed."`
	Setpoints weatherSetpointsCmd `cmd:"" help:"Set pairs of temperature and humidity side by side: how fast mildew grows, and what the plant pays."`
	Fetch     weatherFetchCmd     `cmd:"" help:"Fetch a forecast of an open public service and keep it in the book."`
	Place     weatherPlaceCmd     `cmd:"" help:"Print what the months of a place are like and how well that is known, with or without records."`
	Score     weatherScoreCmd     `cmd:"" help:"Hold the forecasts that were kept against what was measured later."`
}

// whose says whose weather is asked for: that of a book, or of the invented
// garden of the demo.
type whose struct {
	book
	Demo bool   `help:"Use the invented garden of the demo instead of a book; nothing is written."`
	Date string `help:"Morning it is for, such as 2000-07-06: 06:00 there." placeholder:"DATE"`
	JSON bool   `help:"Print JSON (its schema: oidium schema weather-...)."`
}

// open reads the entries and the day asked for. A missing book is an empty one
// where missing is true.
func (w *whose) open(s *streams, missing bool) ([]ledger.Entry, garden.Day, error) {
	var (
		entries []ledger.Entry
		day     garden.Day
		err     error
	)
	switch {
	case w.Demo:
		entries, err = demo.Entries()
		day = demo.Day()
	case !missing || w.there():
		entries, err = w.entries(s)
	}
	if err != nil {
		return nil, 0, err
	}
	switch {
	case w.Date != "":
		day, err = garden.ParseDay(w.Date)
	case !w.Demo:
		day, err = work.Today(entries, s.now())
	}
	return entries, day, err
}

// there tells whether there is a book.
func (b *book) there() bool {
	_, err := os.Stat(b.Book)
	return !errors.Is(err, os.ErrNotExist)
}

// put appends entries to the book unless it is the demo or a rehearsal.
func (w *whose) put(s *streams, entries []ledger.Entry, rehearse bool) (kept bool, added, same int, err error) {
	if w.Demo || rehearse {
		return false, 0, 0, nil
	}
	db, err := w.anew(s.ctx)
	if err != nil {
		return false, 0, 0, err
	}
	defer db.Close()
	added, same, err = db.Append(s.ctx, entries)
	return err == nil, added, same, err
}

// show prints a result as JSON or as text.
func show[T any](s *streams, asJSON bool, r T, text func(io.Writer, T) error) error {
	if asJSON {
		return writeJSON(s.out, r)
	}
	return text(s.out, r)
}

type weatherCheckCmd struct {
	whose
}

func (c *weatherCheckCmd) Run(s *streams) error {
	entries, day, err := c.open(s, false)
	if err != nil {
		return err
	}
	r, err := work.CheckWeather(entries, day)
	if err != nil {
		return err
	}
	return show(s, c.JSON, r, print.WeatherCheck)
}

type weatherShowCmd struct {
	whose
	Bed   string  `arg:"" optional:"" help:"A bed; without it outdoors."`
	Back  int     `help:"Days behind." default:"7"`
	Ahead int     `help:"Days ahead, today included." default:"7"`
	WetRH float64 `help:"Humidity in % from which leaves count as wet; tuned to the site it errs least." default:"90" name:"wet-rh"`
	Calm  bool    `help:"Judge wetness in calm air by temperature, humidity and wind instead of humidity alone."`
}

func (c *weatherShowCmd) Run(s *streams) error {
	if c.Back < 1 || c.Back > 400 || c.Ahead < 1 || c.Ahead > 21 {
		return errors.New("--back is 1 to 400 days, --ahead 1 to 21")
	}
	if !(c.WetRH >= 60 && c.WetRH <= 100) {
		return fmt.Errorf("--wet-rh %g is no humidity from which leaves are wet; usual values are 83 to 95", c.WetRH)
	}
	entries, day, err := c.open(s, false)
	if err != nil {
		return err
	}
	r, err := work.ShowWeather(entries, work.WeatherOptions{
		Day: day, Bed: garden.BedID(c.Bed), Back: c.Back, Ahead: c.Ahead,
		Wetness: weather.Wetness{RH: c.WetRH, Calm: c.Calm},
	})
	if err != nil {
		return err
	}
	return show(s, c.JSON, r, print.WeatherShow)
}

type weatherSetpointsCmd struct {
	whose
	Bed  string `arg:"" optional:"" help:"The bed whose crop is asked about."`
	Crop string `help:"The crop, where no bed is named." placeholder:"CROP"`
}

func (c *weatherSetpointsCmd) Run(s *streams) error {
	if (c.Bed == "") == (c.Crop == "") {
		return errors.New("name a bed, or a crop with --crop")
	}
	entries, day, err := c.open(s, c.Crop != "")
	if err != nil {
		return err
	}
	r, err := work.CompareSetpoints(entries, day, garden.BedID(c.Bed), garden.CropID(c.Crop))
	if err != nil {
		return err
	}
	return show(s, c.JSON, r, print.WeatherSetpoints)
}

type weatherPlaceCmd struct {
	whose
	At       string `help:"A place instead of the book's: latitude, longitude and altitude in m, south and west negative." placeholder:"LAT,LON,ALT"`
	Maritime bool   `help:"With --at: a sea tempers the year there."`
	Typical  string `help:"A typical year (EPW file) of somewhere near; it is for planning and is not kept." placeholder:"FILE"`
}

func (c *weatherPlaceCmd) Run(s *streams) error {
	var where *work.Where
	if c.At != "" {
		w, err := parseWhere(c.At)
		if err != nil {
			return err
		}
		w.Maritime = c.Maritime
		where = &w
	}
	entries, day, err := c.open(s, where != nil)
	if err != nil {
		return err
	}
	var typical io.Reader
	if c.Typical != "" {
		f, err := s.open(c.Typical)
		if err != nil {
			return err
		}
		defer f.Close()
		typical = f
	}
	r, err := work.DescribePlace(entries, day, where, typical)
	if err != nil {
		return err
	}
	return show(s, c.JSON, r, print.WeatherPlace)
}

// parseWhere reads LAT,LON or LAT,LON,ALT.
func parseWhere(text string) (work.Where, error) {
	part := strings.Split(text, ",")
	var x [3]float64
	ok := len(part) == 2 || len(part) == 3
	for i := 0; ok && i < len(part); i++ {
		v, err := strconv.ParseFloat(strings.TrimSpace(part[i]), 64)
		x[i], ok = v, err == nil
	}
	if !ok {
		return work.Where{}, fmt.Errorf("--at %q is no place; give latitude, longitude and altitude in m, such as 52.1,5.18,3", text)
	}
	return work.Where{Latitude: x[0], Longitude: x[1], Altitude: x[2]}, nil
}

type weatherScoreCmd struct {
	whose
}

func (c *weatherScoreCmd) Run(s *streams) error {
	entries, day, err := c.open(s, false)
	if err != nil {
		return err
	}
	r, err := work.ScoreForecasts(entries, day)
	if err != nil {
		return err
	}
	return show(s, c.JSON, r, print.WeatherScore)
}

// answersDir is where answers of forecast services are kept.
func answersDir() (string, error) {
	d, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("no place to keep answers of the service (%w); name one with --cache DIR", err)
	}
	return filepath.Join(d, "oidium", "forecasts"), nil
}
