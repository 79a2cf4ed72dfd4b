package ledger

import (
	"cmp"
	"math"
	"slices"
	"time"

	"oidium/garden"
)

// Record is the measured weather of one station or logger as known at an
// instant, hour by hour without gaps in time; a missing value is NaN.
type Record struct {
	Station string
	Bed     garden.BedID // of a logger in a bed; "" outdoors
	Origin  string
	Hours
}

// Issue is a forecast that was issued by then.
type Issue struct {
	Issued time.Time
	Member int
	Origin string
	Hours
}

// Outlook is the weather in the ledger as known at one instant.
type Outlook struct {
	Records   []Record // by bed, then station
	Forecasts []Issue  // by time of issue, then member
}

// WeatherAt returns the weather known at asOf. An hour counts once it is over.
// Where two entries of one station speak of the same hour, the later written
// holds, ties by id. Values of a forecast are those of its issue.
func WeatherAt(entries []Entry, asOf time.Time) (Outlook, error) {
	held, _, err := standing(entries, asOf)
	if err != nil {
		return Outlook{}, err
	}
	slices.SortFunc(held, later) // so that a later word overwrites
	type place struct {
		bed     garden.BedID
		station string
	}
	parts := map[place][]*Weather{}
	origin := map[place]string{}
	var out Outlook
	for _, e := range held {
		switch b := e.Body.(type) {
		case *Weather:
			p := place{e.Bed, b.Station}
			parts[p] = append(parts[p], b)
			if b.Origin != "" {
				origin[p] = b.Origin
			}
		case *Forecast:
			out.Forecasts = append(out.Forecasts, Issue{Issued: b.Issued, Member: b.Member, Origin: b.Origin, Hours: b.Hours})
		}
	}
	for p, list := range parts {
		if h, ok := joinHours(list, asOf); ok {
			out.Records = append(out.Records, Record{Station: p.station, Bed: p.bed, Origin: origin[p], Hours: h})
		}
	}
	slices.SortFunc(out.Records, func(a, b Record) int {
		return cmp.Or(cmp.Compare(a.Bed, b.Bed), cmp.Compare(a.Station, b.Station))
	})
	slices.SortStableFunc(out.Forecasts, func(a, b Issue) int {
		return cmp.Or(a.Issued.Compare(b.Issued), cmp.Compare(a.Member, b.Member), a.Start.Compare(b.Start))
	})
	return out, nil
}

// joinHours lays the parts on one row of hours, the later ones on top.
func joinHours(parts []*Weather, asOf time.Time) (Hours, bool) {
	first, last := int64(math.MaxInt64), int64(math.MinInt64)
	over := make([]int, len(parts)) // how many hours of each are over
	for i, w := range parts {
		over[i] = min(w.length(), int(asOf.Sub(w.Start)/time.Hour))
		s := w.Start.Unix() / 3600
		first, last = min(first, s), max(last, s+int64(over[i]))
	}
	if last <= first {
		return Hours{}, false
	}
	n := int(last - first)
	h := Hours{Start: time.Unix(first*3600, 0).UTC()}
	for _, col := range []struct {
		to   *Values
		from func(*Weather) Values
	}{
		{&h.T, func(w *Weather) Values { return w.T }},
		{&h.RH, func(w *Weather) Values { return w.RH }},
		{&h.Wind, func(w *Weather) Values { return w.Wind }},
		{&h.Rain, func(w *Weather) Values { return w.Rain }},
		{&h.Rad, func(w *Weather) Values { return w.Rad }},
	} {
		v := make(Values, n)
		for i := range v {
			v[i] = math.NaN()
		}
		for k, w := range parts {
			at := int(w.Start.Unix()/3600 - first)
			for i, x := range col.from(w) {
				if i < over[k] && !math.IsNaN(x) {
					v[at+i] = x
				}
			}
		}
		*col.to = v
	}
	return h, true
}

func (h *Hours) length() int {
	return max(len(h.T), len(h.RH), len(h.Wind), len(h.Rain), len(h.Rad))
}
