package work

import (
	"slices"
	"time"

	"oidium/garden"
	"oidium/tunnel"
	"oidium/weather"
)

// inBed is the weather at one bed.
type inBed struct {
	known *weather.Series
	ahead []*weather.Series
}

// bed returns the bed with the id.
func (s *sky) bed(id garden.BedID) (garden.Bed, bool) {
	i := slices.IndexFunc(s.beds, func(b garden.Bed) bool { return b.ID == id })
	if i < 0 {
		return garden.Bed{}, false
	}
	return s.beds[i], true
}

// at returns the weather at a bed: outdoors, the model of a tunnel, or the bed's
// own logger where it has one. The hours to come then keep what the logger was
// lately used to show beyond outdoors or model at that time of day.
func (s *sky) at(b garden.Bed, site garden.Site) inBed {
	w := inBed{known: s.known, ahead: s.ahead}
	if b.Shelter == garden.Tunnel {
		p := tunnelOf(b, s.asOf)
		inside := func(out *weather.Series) *weather.Series {
			return tunnel.Inside(out, site.Latitude, site.Longitude, p)
		}
		w.known = inside(s.known)
		w.ahead = make([]*weather.Series, len(s.ahead))
		for k, a := range s.ahead {
			w.ahead[k] = inside(a)
		}
	}
	own := s.ownLogger(b.ID)
	if own == nil {
		return w
	}
	if more, ok := habitOf(own, w.known); ok {
		ahead := make([]*weather.Series, len(w.ahead))
		for k, a := range w.ahead {
			ahead[k] = more.on(a, s.knownTo)
		}
		w.ahead = ahead
	}
	w.known = overlay(w.known, own).Slice(w.known.Start, w.known.End())
	for k, a := range w.ahead {
		w.ahead[k] = overlay(a, own.Slice(a.Start, s.asOf)).Slice(a.Start, a.End())
	}
	return w
}

// ownLogger returns what the loggers of a bed measured, nil where there are none.
func (s *sky) ownLogger(id garden.BedID) *weather.Series {
	var own *weather.Series
	for _, in := range s.loggers {
		switch {
		case in.bed != id || in.series.Len() == 0:
		case own == nil:
			own = in.series
		default:
			own = overlay(own, in.series)
		}
	}
	return own
}

// habit is how much more than outdoors or model a logger showed lately, by hour
// of the day (UTC); only temperature and humidity, the others stay 0.
type habit [weather.NVars][24]float32

// habitOf compares the last two weeks of a logger with the weather that the bed
// has without it; it is not ok where no hour of the day has five days to compare.
func habitOf(own, without *weather.Series) (h habit, ok bool) {
	from := max(0, own.Len()-int(habitDays.V)*24)
	for _, v := range []weather.Var{weather.Temp, weather.RH} {
		var n [24]float32
		for i := from; i < own.Len(); i++ {
			k := without.Index(own.Time(i))
			if k < 0 || k >= without.Len() || own.F[v][i] != weather.Measured {
				continue
			}
			hour := own.Time(i).Hour()
			n[hour]++
			h[v][hour] += own.V[v][i] - without.V[v][k]
		}
		for hour := range n {
			if n[hour] < 5 { // days
				h[v][hour] = 0
				continue
			}
			h[v][hour] /= n[hour]
			ok = true
		}
	}
	return h, ok
}

// on adds the habit to the hours from the instant on.
func (h habit) on(a *weather.Series, from time.Time) *weather.Series {
	out := a.Clone()
	for i := max(0, out.Index(from)); i < out.Len(); i++ {
		hour := out.Time(i).Hour()
		out.V[weather.Temp][i] += h[weather.Temp][hour]
		out.V[weather.RH][i] = min(max(out.V[weather.RH][i]+h[weather.RH][hour], 5), 100)
	}
	return out
}
