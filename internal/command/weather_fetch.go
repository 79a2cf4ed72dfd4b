package command

import (
	"errors"
	"fmt"

	"oidium/garden"
	"oidium/internal/command/demo"
	"oidium/internal/fetch"
	"oidium/internal/ledger"
	"oidium/internal/print"
	"oidium/internal/work"
	"oidium/weather"
)

type weatherFetchCmd struct {
	whose
	Service  string `arg:"" optional:"" enum:"met-norway,us-nws" default:"met-norway" help:"met-norway for the whole world, us-nws for the United States. Neither has been tried live."`
	Contact  string `help:"How whoever runs the program can be reached, a mail address or a page: both services ask for it." env:"OIDIUM_CONTACT" placeholder:"CONTACT"`
	Rehearse bool   `help:"Fetch and print, and write nothing into the book."`
	Cache    string `help:"Directory for the answers; the service is not asked again before they expire." placeholder:"DIR"`
	Server   string `help:"Address to ask instead of the service." env:"OIDIUM_FORECAST_SERVER" hidden:""`
}

func (c *weatherFetchCmd) Run(s *streams) error {
	if c.Date != "" {
		return errors.New("a forecast is fetched now; --date has no meaning here")
	}
	if c.Contact == "" {
		return errors.New("the services want to know who asks: give a mail address or a page with --contact, or in OIDIUM_CONTACT")
	}
	entries, where, err := c.garden(s)
	if err != nil {
		return err
	}
	dir := c.Cache
	if dir == "" {
		if dir, err = answersDir(); err != nil {
			return err
		}
	}
	client := &fetch.Client{Dir: dir, Agent: "oidium/" + version() + " " + c.Contact, Norway: c.Server, US: c.Server, Now: s.now}
	var (
		o        weather.Outlook
		warnings []garden.Warning
	)
	if c.Service == "us-nws" {
		o, warnings, err = client.Gridpoint(s.ctx, where.Latitude, where.Longitude)
	} else {
		o, warnings, err = client.Locationforecast(s.ctx, where.Latitude, where.Longitude, where.Altitude)
	}
	if err != nil {
		return fmt.Errorf("%w\nThe round goes on without: it draws the days ahead from the climate and the last weeks measured", err)
	}
	r, e, err := work.KeepForecast(entries, s.now(), c.Service, o, warnings)
	if err != nil {
		return err
	}
	if r.Kept, r.Added, r.Same, err = c.put(s, []ledger.Entry{e}, c.Rehearse); err != nil {
		return err
	}
	return show(s, c.JSON, r, print.WeatherFetch)
}

// garden reads the book or the demo, and where the garden is.
func (c *weatherFetchCmd) garden(s *streams) ([]ledger.Entry, work.Where, error) {
	var (
		entries []ledger.Entry
		err     error
	)
	if c.Demo {
		entries, err = demo.Entries()
	} else {
		entries, err = c.entries(s)
	}
	if err != nil {
		return nil, work.Where{}, err
	}
	w, ok, err := work.ForecastPlace(entries, s.now())
	if err == nil && !ok {
		err = errors.New("the book does not say where the garden is; enter a site with latitude and longitude first")
	}
	return entries, w, err
}
