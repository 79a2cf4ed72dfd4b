package record

import (
	"fmt"
	"reflect"
	"strings"
	"time"

	"oidium/garden"
	"oidium/internal/ledger"
)

// Field is one field of a record.
type Field struct {
	Name  string `json:"field"`
	Value any    `json:"value"` // string, float64 or bool
	From  string `json:"from"`  // "entered", "label", "planting", "bed", "site", "computed", "built in"
}

// Record is a treatment with all that is known of it.
type Record struct {
	Entry   garden.EntryID
	Day     garden.Day // of use, in the garden's zone
	Written time.Time  // when the record was made
	Fields  []Field    // those that are known, in the order of [names]

	end                       time.Time
	zone                      *time.Location
	country                   string
	role                      garden.Role
	chosen                    []string
	restricted                bool
	spot                      bool
	hourLimited, stageLimited *bool
	reentry                   time.Time // zero: unknown
	reentryHours              *float64
}

// names are the fields a record may have, in the order of print.
var names = []string{
	"id", "written", "who", "licence", "supervisor", "holder", "holding", "customer", "customer_address",
	"bed", "bed_name", "parcel", "place", "area_m2", "spot", "use",
	"crop", "crop_eppo", "eppo_status", "cultivar", "bbch", "bbch_read", "planted",
	"date", "start", "end", "start_known",
	"material", "product", "registration", "actives", "frac", "batch", "dose", "amount", "litres", "g_per_l", "g_per_m2", "g_per_ha", "with", "adjuvant",
	"target", "target_eppo", "reason", "seen",
	"equipment", "nozzle", "pressure_bar", "air_c", "rh", "wind_m_s", "wind_from", "leaf_dry", "bloom", "bees",
	"ppe", "reentry", "harvest_from", "incident", "remarks",
}

func (r Record) get(name string) (any, bool) {
	for _, f := range r.Fields {
		if f.Name == name {
			return f.Value, true
		}
	}
	return nil, false
}

// collector puts the facts of a garden together, in the order of time.
type collector struct {
	site      ledger.Site
	beds      map[garden.BedID]ledger.Bed
	plantings []planting
	labels    map[[2]string][]label
	codes     Codes
}

type planting struct {
	bed garden.BedID
	ledger.Planting
}

type label struct {
	at time.Time
	ledger.Label
}

// overlay puts what is stated in src over dst: a field holds until it is stated
// again.
func overlay[T any](dst *T, src *T) {
	d, s := reflect.ValueOf(dst).Elem(), reflect.ValueOf(src).Elem()
	for i := range d.NumField() {
		if !s.Field(i).IsZero() {
			d.Field(i).Set(s.Field(i))
		}
	}
}

// Collect returns the treatments known at asOf as records, in order of time.
// Treatments of a test leaf are records too. What is not known is left out, and
// nothing is guessed; codes may be the zero value.
func Collect(entries []ledger.Entry, asOf time.Time, codes Codes) ([]Record, error) {
	held, err := ledger.Standing(entries, asOf)
	if err != nil {
		return nil, fmt.Errorf("collecting records: %w", err)
	}
	c := &collector{beds: map[garden.BedID]ledger.Bed{}, labels: map[[2]string][]label{}, codes: codes}
	for _, e := range held {
		c.fact(e)
	}
	var out []Record
	for _, e := range held {
		if t, ok := e.Body.(*ledger.Treatment); ok {
			out = append(out, c.record(e, t))
		}
	}
	return out, nil
}

func (c *collector) fact(e ledger.Entry) {
	switch b := e.Body.(type) {
	case *ledger.Site:
		overlay(&c.site, b)
	case *ledger.Bed:
		t := c.beds[e.Bed]
		overlay(&t, b)
		c.beds[e.Bed] = t
	case *ledger.Planting:
		for i := range c.plantings {
			if c.plantings[i].Planting.Planting == b.Planting {
				overlay(&c.plantings[i].Planting, b)
				return
			}
		}
		p := planting{e.Bed, *b}
		if p.Planted == 0 {
			p.Planted = garden.DayOf(e.Time)
		}
		c.plantings = append(c.plantings, p)
	case *ledger.Label:
		key := [2]string{b.Material, b.Crop}
		l := label{at: e.Time}
		if have := c.labels[key]; len(have) > 0 {
			last := have[len(have)-1]
			if b.Registration == "" || last.Registration == "" || b.Registration == last.Registration {
				l.Label = last.Label
			}
		}
		overlay(&l.Label, b)
		c.labels[key] = append(c.labels[key], l)
	}
}

// labelFor returns the label in force at the time: the last read by then, of the
// crop rather than of all crops. If all were read later, the first of these.
func (c *collector) labelFor(material, crop string, at time.Time) *ledger.Label {
	var later *ledger.Label
	for _, key := range [][2]string{{material, crop}, {material, ""}} {
		var last *ledger.Label
		for i, l := range c.labels[key] {
			if !l.at.After(at) {
				last = &c.labels[key][i].Label
			} else if later == nil {
				later = &c.labels[key][i].Label
			}
		}
		if last != nil {
			return last
		}
	}
	return later
}

// standing returns the planting treated: the one named, or the only one that
// stood in the bed on the day.
func (c *collector) standing(bed garden.BedID, id string, day garden.Day) *ledger.Planting {
	var found *ledger.Planting
	for i := range c.plantings {
		p := &c.plantings[i]
		switch {
		case id != "" && p.Planting.Planting == id:
			return &p.Planting
		case id == "" && p.bed == bed && p.Planted <= day && (p.Cleared == 0 || day <= p.Cleared):
			if found != nil {
				return nil // more than one: the record must say which
			}
			found = &p.Planting
		}
	}
	return found
}

// adder adds the fields that are known.
type adder struct{ r *Record }

func (a adder) text(name, v, from string) {
	if v != "" {
		a.r.Fields = append(a.r.Fields, Field{name, v, from})
	}
}

func (a adder) number(name string, v *float64, from string) {
	if v != nil {
		a.r.Fields = append(a.r.Fields, Field{name, *v, from})
	}
}

func (a adder) truth(name string, v *bool, from string) {
	if v != nil {
		a.r.Fields = append(a.r.Fields, Field{name, *v, from})
	}
}

// first adds the first of the texts that is known.
func (a adder) first(name string, texts ...[2]string) {
	for _, t := range texts {
		if t[0] != "" {
			a.text(name, t[0], t[1])
			return
		}
	}
}

func actives(list []ledger.Active) string {
	var out []string
	for _, x := range list {
		s := x.Name
		if x.Content != nil {
			s = strings.TrimSpace(fmt.Sprintf("%s %g %s", s, *x.Content, x.Unit))
		}
		out = append(out, s)
	}
	return strings.Join(out, "; ")
}
