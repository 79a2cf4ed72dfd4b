package ledger

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"oidium/garden"
	"oidium/scout"
)

// Fold returns the garden as known at asOf: the state that the entries known by
// then give, whatever their order, number of devices or repetition. What could
// not be used is in the warnings of the garden. Weather and forecasts are left
// to [Weather]. The error is that two entries with one id say different things.
func Fold(entries []Entry, asOf time.Time) (*garden.Garden, error) {
	if asOf.IsZero() {
		return nil, errors.New("folding the ledger: no date given")
	}
	held, warnings, err := standing(entries, asOf)
	if err != nil {
		return nil, err
	}
	f := &folder{
		g:         &garden.Garden{AsOf: asOf, Warnings: warnings},
		beds:      map[garden.BedID]*garden.Bed{},
		plantings: map[garden.PlantingID]*garden.Planting{},
		stock:     map[[2]string]*garden.Stock{},
		labels:    map[[2]string]garden.Label{},
		hosts:     map[string]*garden.Host{},
		clocks:    map[string][]Entry{},
	}
	for _, e := range held {
		if c, ok := e.Body.(*Clock); ok {
			f.clocks[c.Of] = append(f.clocks[c.Of], e)
		}
	}
	for _, e := range held {
		f.place(e)
	}
	for _, e := range held {
		f.happening(e)
	}
	f.finish()
	return f.g, nil
}

type folder struct {
	g         *garden.Garden
	beds      map[garden.BedID]*garden.Bed
	plantings map[garden.PlantingID]*garden.Planting
	stock     map[[2]string]*garden.Stock
	labels    map[[2]string]garden.Label
	hosts     map[string]*garden.Host
	clocks    map[string][]Entry // comparisons by device, in order of time
	newer     []string
}

func (f *folder) warn(code string, bed garden.BedID, format string, args ...any) {
	f.g.Warnings = append(f.g.Warnings, garden.Warning{Code: code, Bed: bed, Text: fmt.Sprintf(format, args...)})
}

// set gives the target the stated value, if there is one.
func set[T any](to *T, stated *T) {
	if stated != nil {
		*to = *stated
	}
}

// say gives the target the stated word, if there is one.
func say[T, S ~string](to *T, stated S) {
	if stated != "" {
		*to = T(stated)
	}
}

func sayDay(to *garden.Day, stated garden.Day) {
	if stated != 0 {
		*to = stated
	}
}

// place folds what later entries refer to: the site and the beds.
func (f *folder) place(e Entry) {
	switch b := e.Body.(type) {
	case *Site:
		s := &f.g.Site
		say(&s.Name, b.Name)
		set(&s.Seed, b.Seed)
		set(&s.Latitude, b.Latitude)
		set(&s.Longitude, b.Longitude)
		set(&s.Altitude, b.Altitude)
		say(&s.Zone, b.Zone)
		say(&s.Country, b.Country)
		say(&s.Role, b.Role)
		set(&s.Maritime, b.Maritime)
		say(&s.Units, b.Units)
		set(&s.Minutes, b.Minutes)
		set(&s.Hands, b.Hands)
		set(&s.WageHour, b.Wage)
		say(&s.Money, b.Money)
		set(&s.Invented, b.Invented)
		if b.Sprayer != nil {
			say(&s.Sprayer.Kind, b.Sprayer.Kind)
			set(&s.Sprayer.LPerM, b.Sprayer.LPerM)
			set(&s.Sprayer.TankL, b.Sprayer.TankL)
		}
	case *Bed:
		t := f.beds[e.Bed]
		if t == nil {
			t = &garden.Bed{ID: e.Bed, Name: string(e.Bed), Shelter: garden.Open, Role: "bed"}
			f.beds[e.Bed] = t
		}
		say(&t.Name, b.Name)
		set(&t.Order, b.Order)
		set(&t.Length, b.Length)
		set(&t.Width, b.Width)
		set(&t.X, b.X)
		set(&t.Y, b.Y)
		say(&t.Shelter, b.Shelter)
		say(&t.Soil, b.Soil)
		say(&t.Role, b.Role)
	}
}

// happening folds what happens at the place.
func (f *folder) happening(e Entry) {
	if e.newer() {
		f.newer = append(f.newer, fmt.Sprintf("%s (%s)", e.ID, e.Kind))
		return
	}
	if e.Bed != "" && f.beds[e.Bed] == nil {
		f.warn("unknown-bed", e.Bed, "the %s %s is of bed %q, which no entry describes by then: not used (%s)", e.Kind, e.ID, e.Bed, mean(string(e.Bed), f.bedNames()))
		return
	}
	f.times(e)
	g := f.g
	switch b := e.Body.(type) {
	case *Setting:
		f.setting(e, b)
	case *Planting:
		f.planting(e, b)
	case *Move:
		f.move(e, b)
	case *Host:
		f.host(e, b)
	case *Climate:
		c := garden.Climate{Entry: e.ID, Bed: e.Bed, Act: b.Act, Start: e.Time, PeakC: b.Peak}
		set(&c.End, b.End)
		set(&c.Shade, b.Shade)
		set(&c.WaterMM, b.WaterMM)
		set(&c.UVJM2, b.Dose)
		g.Climates = append(g.Climates, c)
	case *Stock:
		key := [2]string{b.Material, b.Batch}
		s := f.stock[key]
		if s == nil {
			s = &garden.Stock{Material: garden.MaterialID(b.Material), Batch: b.Batch}
			f.stock[key] = s
		}
		sayDay(&s.Opened, b.Opened)
		set(&s.Amount, b.Amount)
		set(&s.Price, b.Price)
	case *Label:
		f.label(e, b)
	case *Tally:
		t := garden.Tally{Entry: e.ID, Bed: e.Bed, Time: e.Time, Who: e.Who, Check: cmp.Or(b.Check, "eye"), Sure: cmp.Or(b.Sure, "likely")}
		for _, c := range b.Counts {
			t.Counts = append(t.Counts, garden.Count{Plant: c.Plant, Age: leafAge(c.Age), Face: face(c.Face), Inspected: c.Inspected, Infected: c.Infected})
		}
		g.Tallies = append(g.Tallies, t)
	case *Severity:
		g.Severities = append(g.Severities, severity(e, b))
	case *EyeCheck:
		c := garden.EyeCheck{Entry: e.ID, Time: e.Time, Who: e.Who}
		for _, l := range b.Leaves {
			c.Truth, c.Read = append(c.Truth, l.Truth), append(c.Read, l.Read)
		}
		g.EyeChecks = append(g.EyeChecks, c)
	case *Diagnosis:
		g.Diagnoses = append(g.Diagnoses, garden.Diagnosis{Entry: e.ID, Bed: e.Bed, Time: e.Time, Verdict: b.Verdict, Sure: cmp.Or(b.Sure, "likely")})
	case *Treatment:
		t := garden.Treatment{
			Entry: e.ID, Bed: e.Bed, Material: garden.MaterialID(b.Material), Start: e.Time,
			Below: b.Below, Test: b.Test, Untreat: b.Untreated,
		}
		set(&t.End, b.End)
		set(&t.Litres, b.Litres)
		set(&t.Grams, b.Grams)
		g.Treatments = append(g.Treatments, t)
	case *Removal:
		r := garden.Removal{Entry: e.ID, Bed: e.Bed, Time: e.Time, Share: b.Share}
		for _, a := range b.Ages {
			r.Ages[leafAge(a)] = true
		}
		g.Removals = append(g.Removals, r)
	case *Harvest:
		g.Harvests = append(g.Harvests, garden.Harvest{Entry: e.ID, Bed: e.Bed, Time: e.Time, Kg: b.Kg})
	}
}

// severity turns a grade into the share it stands for and keeps it beside.
func severity(e Entry, b *Severity) garden.Severity {
	s := garden.Severity{
		Entry: e.ID, Bed: e.Bed, Time: e.Time, Who: e.Who,
		Age: leafAge(b.Age), Whole: b.Age == "whole", Face: face(b.Face),
	}
	set(&s.Share, b.Share)
	if b.Grade != nil {
		if r, err := scout.ReadOn(b.Scale, *b.Grade); err == nil { // checked when it was read
			s.Scale, s.Value, s.Share, s.Low, s.High = r.Scale, r.Value, r.Share, r.Low, r.High
		}
	}
	return s
}

func leafAge(s string) garden.LeafAge {
	switch s {
	case "middle":
		return garden.Middle
	case "old":
		return garden.Old
	}
	return garden.Young
}

func face(s string) garden.Face {
	if s == "lower" {
		return garden.Lower
	}
	return garden.Upper
}

func (f *folder) setting(e Entry, b *Setting) {
	bed := f.beds[e.Bed]
	s := garden.Setting{}
	if n := len(bed.Settings); n > 0 {
		s = bed.Settings[n-1] // what is not stated again holds on
	}
	s.From = e.Time
	say(&s.Water, b.Water)
	say(&s.Vents, b.Vents)
	set(&s.Shade, b.Shade)
	set(&s.Light, b.Light)
	bed.Settings = append(bed.Settings, s)
}

func (f *folder) planting(e Entry, b *Planting) {
	id := garden.PlantingID(b.Planting)
	p := f.plantings[id]
	if p == nil {
		p = &garden.Planting{ID: id, Bed: e.Bed, Planted: garden.DayOf(e.Time)}
		f.plantings[id] = p
	}
	if p.Bed != e.Bed {
		f.warn("planting-elsewhere", e.Bed, "planting %q stands in bed %q, but %s says bed %q: not used", id, p.Bed, e.ID, e.Bed)
		return
	}
	say(&p.Crop, b.Crop)
	say(&p.Cultivar, b.Cultivar)
	say(&p.Resistance, b.Resistance)
	set(&p.Plants, b.Plants)
	sayDay(&p.Planted, b.Planted)
	sayDay(&p.FirstPick, b.FirstPick)
	sayDay(&p.LastPick, b.LastPick)
	sayDay(&p.Cleared, b.Cleared)
	set(&p.ValueM2Day, b.ValueM2Day)
	say(&p.Burden, b.Burden)
}

// Standing returns the entries of the given kinds that hold at asOf (of all
// kinds, if none is given): known by then, each once, corrected, in order of
// time, then writing, then id.
func Standing(entries []Entry, asOf time.Time, kinds ...string) ([]Entry, error) {
	held, _, err := standing(entries, asOf)
	if err != nil || len(kinds) == 0 {
		return held, err
	}
	return slices.DeleteFunc(held, func(e Entry) bool { return !slices.Contains(kinds, e.Kind) }), nil
}

// label adds a reading. What an earlier reading of the same label stated and
// this one does not state again holds on; another registration number is
// another label, of which nothing is known but what is stated.
func (f *folder) label(e Entry, b *Label) {
	key := [2]string{b.Material, b.Crop}
	l := f.labels[key]
	if b.Registration != "" && l.Registration != "" && b.Registration != l.Registration {
		l = garden.Label{}
	}
	l.Entry, l.Read = e.ID, e.Time
	l.Material, l.Crop = garden.MaterialID(b.Material), garden.CropID(b.Crop)
	say(&l.Registration, b.Registration)
	say(&l.Stages, b.Stages)
	for _, v := range []struct{ to, stated **float64 }{
		{&l.RateLowGL, &b.RateLow},
		{&l.RateHighGL, &b.RateHigh},
		{&l.HarvestDays, &b.HarvestDays},
		{&l.ReentryHours, &b.ReentryHours},
		{&l.IntervalDays, &b.IntervalDays},
		{&l.Content, &b.Content},
	} {
		if *v.stated != nil {
			*v.to = *v.stated
		}
	}
	if b.MaxSeason != nil {
		l.MaxSeason = b.MaxSeason
	}
	f.labels[key] = l
	f.g.Labels = append(f.g.Labels, l)
}

func (f *folder) bedNames() []string {
	var ids []string
	for id := range f.beds {
		ids = append(ids, string(id))
	}
	slices.Sort(ids)
	return ids
}

// finish puts the collected things in their order and looks at the whole.
func (f *folder) finish() {
	g := f.g
	for _, id := range f.bedNames() {
		b := f.beds[garden.BedID(id)]
		if b.Length == 0 || b.Width == 0 {
			f.warn("bed-without-size", b.ID, "bed %q has no length and width: enter them", b.ID)
		}
		g.Beds = append(g.Beds, *b)
	}
	slices.SortStableFunc(g.Beds, func(a, b garden.Bed) int { return cmp.Compare(a.Order, b.Order) })
	walk := map[garden.BedID]int{}
	for i, b := range g.Beds {
		walk[b.ID] = i
	}
	for _, p := range f.plantings {
		g.Plantings = append(g.Plantings, *p)
	}
	slices.SortFunc(g.Plantings, func(a, b garden.Planting) int {
		return cmp.Or(cmp.Compare(walk[a.Bed], walk[b.Bed]), cmp.Compare(a.Planted, b.Planted), cmp.Compare(a.ID, b.ID))
	})
	g.Plantings = slices.DeleteFunc(g.Plantings, func(p garden.Planting) bool {
		if p.Crop == "" {
			f.warn("planting-without-crop", p.Bed, "planting %q has no crop: not used until it is entered", p.ID)
		}
		return p.Crop == ""
	})
	for _, p := range g.Plantings {
		if p.Cleared != 0 && p.Cleared < p.Planted {
			f.warn("cleared-before-planted", p.Bed, "planting %q was cleared on %s, before it was planted on %s", p.ID, p.Cleared, p.Planted)
		}
	}
	for _, h := range f.hosts {
		g.Hosts = append(g.Hosts, *h)
	}
	slices.SortFunc(g.Hosts, func(a, b garden.Host) int { return cmp.Compare(a.ID, b.ID) })
	for _, s := range f.stock {
		g.Stock = append(g.Stock, *s)
	}
	slices.SortFunc(g.Stock, func(a, b garden.Stock) int {
		return cmp.Or(cmp.Compare(a.Material, b.Material), cmp.Compare(a.Batch, b.Batch))
	})
	if len(f.newer) > 0 {
		f.warn("newer-entries", "", "written by a newer program, kept and not used: %s", strings.Join(f.newer, ", "))
	}
	if len(g.Beds) == 0 {
		f.warn("no-beds", "", "no bed is known on that date")
	}
	slices.SortFunc(g.Warnings, func(a, b garden.Warning) int {
		return cmp.Or(cmp.Compare(a.Code, b.Code), cmp.Compare(a.Bed, b.Bed), cmp.Compare(a.Text, b.Text))
	})
}
