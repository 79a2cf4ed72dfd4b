package work

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"time"

	"github.com/google/uuid"

	"oidium/garden"
	"oidium/host"
	"oidium/internal/ledger"
	"oidium/remedy"
	"oidium/weather"
)

// Vocabulary returns the crops and materials the program knows, for checking
// entries.
func Vocabulary() ledger.Vocabulary {
	var v ledger.Vocabulary
	for _, c := range host.All() {
		v.Crops = append(v.Crops, string(c.ID))
	}
	for _, m := range remedy.Materials() {
		v.Materials = append(v.Materials, string(m.ID))
	}
	v.CropNames = lowered("crop")
	v.MaterialNames = lowered("material")
	return v
}

// lowered returns the other names of crops or materials in lower case.
func lowered(what string) map[string][]string {
	out := map[string][]string{}
	_, ids := otherNames(what)
	for name, is := range ids {
		out[strings.ToLower(name)] = is
	}
	return out
}

// WeatherEntries turns a measured series into entries, one for each day (UTC),
// two where some of its hours were read and some derived. bed is that of a logger,
// "" outdoors. Hours that no instrument had a part in are left out. A day counts
// as written when its last hour was over, as a station writes it. Ids follow from
// the station, the day and the values, so that the same file brought in twice adds
// nothing.
func WeatherEntries(st weather.Station, bed garden.BedID, s *weather.Series) ([]ledger.Entry, error) {
	var out []ledger.Entry
	for from := s.Start; from.Before(s.End()); {
		to := from.Truncate(24 * time.Hour).Add(24 * time.Hour)
		if to.After(s.End()) {
			to = s.End()
		}
		for _, how := range []string{"", "derived"} {
			body := &ledger.Weather{
				Station: stationID(st.Name), Latitude: given(st.Latitude, -90, 90), Longitude: given(st.Longitude, -180, 180),
				Altitude: given(st.Altitude, -450, 6000), // metres, as the ledger takes them
				Origin:   st.Origin, Licence: st.Licence, How: how,
			}
			var any bool
			if body.Hours, any = hoursOf(s, from, to, how != ""); !any {
				continue
			}
			if st.WindHeight > 0 {
				body.WindHeight = &st.WindHeight
			}
			e, err := ledger.Compose(ledger.Head{
				ID: idFor(to, st.Name+"/"+string(bed)+"/"+how, body.Hours), Kind: "weather", Bed: string(bed),
				Time: from.Format(time.RFC3339), Written: to.Format(time.RFC3339),
			}, body, ledger.Vocabulary{})
			if err != nil {
				return nil, fmt.Errorf("weather of %s: %w", from.Format(time.DateOnly), err)
			}
			out = append(out, e)
		}
		from = to
	}
	return out, nil
}

// stationID is the station's name as an id: letters, digits and dashes.
func stationID(name string) string {
	b := []byte(name)
	for i, c := range b {
		letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
		if !letter {
			b[i] = '-'
		}
	}
	if len(b) == 0 {
		return "station"
	}
	return string(b[:min(len(b), 100)])
}

// given is nil for a number that is not known or cannot be one of its kind.
func given(x, low, high float64) *float64 {
	if !(x >= low && x <= high) {
		return nil
	}
	return &x
}

// hoursOf takes the hours that were derived, or those that were read, and tells
// whether there are any.
func hoursOf(s *weather.Series, from, to time.Time, derived bool) (h ledger.Hours, any bool) {
	h.Start = from
	part := s.Slice(from, to)
	for v, dst := range [weather.NVars]*ledger.Values{
		weather.Temp: &h.T, weather.RH: &h.RH, weather.Wind: &h.Wind, weather.Rain: &h.Rain, weather.Rad: &h.Rad,
	} {
		used := false
		row := make(ledger.Values, part.Len())
		for i, x := range part.V[v] {
			row[i] = math.NaN()
			if f := part.F[v][i]; f.Seen() && (f == weather.Derived) == derived {
				used, row[i] = true, math.Round(float64(x)*100)/100
			}
		}
		if used {
			*dst, any = row, true
		}
	}
	return h, any
}

// idFor makes a UUID of version 7 whose time is t and whose other bits follow
// from what it names.
func idFor(t time.Time, name string, h ledger.Hours) string {
	d := sha256.New()
	fmt.Fprintln(d, name, h.Start.Unix())
	for _, col := range []ledger.Values{h.T, h.RH, h.Wind, h.Rain, h.Rad} {
		for _, x := range col {
			_ = binary.Write(d, binary.LittleEndian, math.Float64bits(x))
		}
		fmt.Fprintln(d)
	}
	var u uuid.UUID
	copy(u[:], d.Sum(nil))
	ms := uint64(t.UnixMilli())
	for i := range 6 {
		u[i] = byte(ms >> (40 - 8*i))
	}
	u[6] = 0x70 | u[6]&0x0f
	u[8] = 0x80 | u[8]&0x3f
	return u.String()
}

// Today returns the date of now in the zone of the garden.
func Today(entries []ledger.Entry, now time.Time) (garden.Day, error) {
	g, err := ledger.Fold(entries, now)
	if err != nil {
		return 0, err
	}
	loc, err := zoneOf(g.Site)
	if err != nil {
		return 0, err
	}
	return garden.DayOf(now.In(loc)), nil
}

// zoneOf returns the zone of the site; a site without one is taken at UTC.
func zoneOf(s garden.Site) (*time.Location, error) {
	if s.Zone == "" {
		return time.UTC, nil
	}
	loc, err := time.LoadLocation(s.Zone)
	if err != nil {
		return nil, fmt.Errorf("zone %q of the site is not known; give an IANA name such as Europe/Amsterdam: %w", s.Zone, err)
	}
	return loc, nil
}
