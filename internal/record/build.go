package record

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"oidium/garden"
	"oidium/host"
	"oidium/internal/ledger"
)

const (
	entered  = "entered"
	ofLabel  = "label"
	ofCrop   = "planting"
	ofBed    = "bed"
	ofSite   = "site"
	computed = "computed"
)

func (c *collector) record(e ledger.Entry, t *ledger.Treatment) Record {
	zone, err := time.LoadLocation(c.site.Zone)
	if err != nil || c.site.Zone == "" {
		zone = e.Time.Location()
	}
	at := e.Time.In(zone)
	r := Record{
		Entry: e.ID, Day: garden.DayOf(at), Written: e.Written, zone: zone,
		country: c.site.Country, role: garden.Role(c.site.Role), chosen: c.site.Records, spot: t.Spot,
	}
	// The clocks count from the end; an end that was not recorded is the last
	// minute of the day.
	r.end = r.Day.At(23, zone).Add(59 * time.Minute)
	if t.End != nil {
		r.end = t.End.In(zone)
	}
	bed := c.beds[e.Bed]
	p := c.standing(e.Bed, t.Planting, r.Day)
	if p == nil {
		p = &ledger.Planting{}
	}
	l := c.labelFor(t.Material, p.Crop, e.Time)
	if l == nil {
		l = &ledger.Label{}
	}
	r.restricted = l.Restricted != nil && *l.Restricted
	r.hourLimited, r.stageLimited = l.HourLimited, l.StageLimited
	r.reentryHours = l.ReentryHours
	a := adder{&r}
	c.people(a, e, t)
	c.where(a, e, t, bed)
	c.what(a, t, p, l)
	when(a, t, at, r.end)
	amounts(a, t, l, area(t, bed))
	around(a, t)
	until(a, t, l)
	slices.SortStableFunc(r.Fields, func(x, y Field) int {
		return slices.Index(names, x.Name) - slices.Index(names, y.Name)
	})
	return r
}

func (c *collector) people(a adder, e ledger.Entry, t *ledger.Treatment) {
	a.text("id", string(e.ID), entered)
	a.text("written", e.Written.Format(time.RFC3339), entered)
	a.text("who", e.Who, entered)
	a.first("licence", [2]string{t.Licence, entered}, [2]string{c.site.Licence, ofSite})
	a.text("supervisor", t.Supervisor, entered)
	a.text("holder", c.site.Holder, ofSite)
	a.text("holding", c.site.Holding, ofSite)
	a.text("customer", t.Customer, entered)
	a.text("customer_address", t.Address, entered)
}

// area returns the ground treated in square metres, nil when it is not known.
func area(t *ledger.Treatment, b ledger.Bed) *float64 {
	if t.AreaM2 != nil {
		return t.AreaM2
	}
	if b.Length == nil || b.Width == nil || t.Spot || t.Plot != "" {
		return nil
	}
	v := *b.Length * *b.Width
	return &v
}

func (c *collector) where(a adder, e ledger.Entry, t *ledger.Treatment, b ledger.Bed) {
	a.text("bed", string(e.Bed), entered)
	a.text("bed_name", b.Name, ofBed)
	a.text("parcel", b.Parcel, ofBed)
	if len(b.Outline) > 0 {
		var corners []string
		for _, p := range append(slices.Clone(b.Outline), b.Outline[0]) {
			corners = append(corners, fmt.Sprintf("%g %g", p.Longitude, p.Latitude))
		}
		a.text("place", "POLYGON (("+strings.Join(corners, ", ")+"))", ofBed)
	} else if c.site.Latitude != nil && c.site.Longitude != nil {
		a.text("place", fmt.Sprintf("POINT (%g %g)", *c.site.Longitude, *c.site.Latitude), ofSite)
	}
	from := entered
	if t.AreaM2 == nil {
		from = ofBed
	}
	a.number("area_m2", area(t, b), from)
	if t.Spot {
		a.truth("spot", &t.Spot, entered)
	}
	use := [2]string{"", ofBed}
	if b.Shelter == "tunnel" {
		use[0] = "closed space"
	} else if b.Shelter == "open" {
		use[0] = "area"
	}
	a.first("use", [2]string{t.Use, entered}, use)
}

func (c *collector) what(a adder, t *ledger.Treatment, p *ledger.Planting, l *ledger.Label) {
	a.text("crop", p.Crop, ofCrop)
	eppo := [2]string{t.CropEPPO, entered}
	if eppo[0] == "" {
		eppo = [2]string{p.CropEPPO, ofCrop}
	}
	if eppo[0] == "" {
		eppo = [2]string{confirmedCrop[p.Crop], "built in"}
	}
	a.text("crop_eppo", eppo[0], eppo[1])
	if eppo[0] != "" {
		a.text("eppo_status", c.codes.status(eppo[0]), computed)
	}
	a.text("cultivar", p.Cultivar, ofCrop)
	a.text("bbch", t.BBCH, entered)
	if t.BBCH != "" {
		a.text("bbch_read", stagesFor(t.BBCH, garden.CropID(p.Crop)), computed)
	}
	if p.Planted != 0 {
		a.text("planted", p.Planted.String(), ofCrop)
	}
	a.text("material", t.Material, entered)
	a.first("product", [2]string{t.Product, entered}, [2]string{l.Product, ofLabel})
	a.first("registration", [2]string{t.Registration, entered}, [2]string{l.Registration, ofLabel})
	a.first("actives", [2]string{actives(t.Actives), entered}, [2]string{actives(l.Actives), ofLabel})
	a.first("frac", [2]string{t.FRAC, entered}, [2]string{l.FRAC, ofLabel})
	a.text("batch", t.Batch, entered)
	a.text("with", strings.Join(t.With, "; "), entered)
	a.text("adjuvant", t.Adjuvant, entered)
	a.text("target", t.Target, entered)
	a.text("target_eppo", t.TgtEPPO, entered)
	a.text("reason", t.Reason, entered)
	a.text("seen", strings.Join(t.Seen, "; "), entered)
}

// stagesFor reads a growth stage and says when the scale of the crop lacks it.
func stagesFor(printed string, id garden.CropID) string {
	s := parseStages(printed)
	if crop, ok := host.Get(id); ok && crop.Family == "cucurbit" && s.ok && !s.onCucurbits() {
		return s.String() + ", which the scale of cucurbits does not have"
	}
	return s.String()
}

func when(a adder, t *ledger.Treatment, at, end time.Time) {
	a.text("date", at.Format(time.DateOnly), entered)
	if t.Clock != "date only" {
		a.text("start", at.Format(time.RFC3339), entered)
	}
	a.text("start_known", t.Clock, entered)
	if t.End != nil {
		a.text("end", end.Format(time.RFC3339), entered)
	}
}

// squareMetresPerHectare is exact.
const squareMetresPerHectare = 10000

func amounts(a adder, t *ledger.Treatment, l *ledger.Label, area *float64) {
	a.number("litres", t.Litres, entered)
	if t.Grams != nil {
		unit := "g"
		if slices.ContainsFunc(append(slices.Clone(t.Actives), l.Actives...), func(x ledger.Active) bool { return x.Unit == "g/L" || x.Unit == "CFU/mL" }) {
			unit = "mL"
		}
		a.text("amount", fmt.Sprintf("%g %s", *t.Grams, unit), entered)
		if t.Litres != nil && *t.Litres > 0 {
			v := *t.Grams / *t.Litres
			a.number("g_per_l", &v, computed)
		}
		if area != nil && *area > 0 {
			v := *t.Grams / *area
			a.number("g_per_m2", &v, computed)
			ha := v * squareMetresPerHectare
			a.number("g_per_ha", &ha, computed)
		}
	}
	dose := [2]string{"", computed}
	switch {
	case t.Grams != nil && area != nil && *area > 0:
		dose[0] = fmt.Sprintf("%.4g g (mL) per m2", *t.Grams / *area)
	case t.Grams != nil && t.Litres != nil && *t.Litres > 0:
		dose[0] = fmt.Sprintf("%.4g g (mL) per L, %g L", *t.Grams / *t.Litres, *t.Litres)
	}
	a.first("dose", [2]string{t.Dose, entered}, dose)
}

func around(a adder, t *ledger.Treatment) {
	a.text("equipment", t.Equipment, entered)
	a.text("nozzle", t.Nozzle, entered)
	a.number("pressure_bar", t.Pressure, entered)
	a.number("air_c", t.AirT, entered)
	a.number("rh", t.AirRH, entered)
	a.number("wind_m_s", t.Wind, entered)
	a.text("wind_from", t.WindFrom, entered)
	a.truth("leaf_dry", t.LeafDry, entered)
	a.truth("bloom", t.Bloom, entered)
	a.truth("bees", t.Bees, entered)
	a.text("ppe", t.PPE, entered)
	a.text("incident", t.Incident, entered)
	a.text("remarks", t.Remarks, entered)
}

// until adds from when people may enter and the harvest may begin. Without the
// label value it stays unknown: no placeholder releases anything.
func until(a adder, t *ledger.Treatment, l *ledger.Label) {
	r := a.r
	switch {
	case t.Reentry != nil:
		r.reentry = t.Reentry.In(r.zone)
		a.text("reentry", r.reentry.Format(time.RFC3339), entered)
	case l.ReentryHours != nil:
		r.reentry = r.end.Add(time.Duration(*l.ReentryHours * float64(time.Hour)))
		a.text("reentry", r.reentry.Format(time.RFC3339), ofLabel)
	}
	switch {
	case t.HarvestFrom != nil:
		a.text("harvest_from", t.HarvestFrom.In(r.zone).Format(time.RFC3339), entered)
	case l.HarvestDays != nil:
		at := r.end.Add(time.Duration(*l.HarvestDays * 24 * float64(time.Hour)))
		a.text("harvest_from", at.Format(time.RFC3339), ofLabel)
	}
}
