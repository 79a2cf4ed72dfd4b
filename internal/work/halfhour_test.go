package work_test

import (
	"bytes"
	"math"
	"slices"
	"testing"
	"time"

	"oidium/internal/ledger"
	"oidium/internal/work"
)

// Places whose clocks are not whole hours from UTC, with a neighbour on either
// side whose clocks are (IANA time zone database). On Lord Howe Island summer time
// is half an hour.
var halfHours = []struct{ zone, before, after string }{
	{"Asia/Kolkata", "Etc/GMT-5", "Etc/GMT-6"},
	{"Asia/Kathmandu", "Etc/GMT-5", "Etc/GMT-6"},
	{"Australia/Adelaide", "Etc/GMT-9", "Etc/GMT-10"},
	{"Australia/Lord_Howe", "Etc/GMT-10", "Etc/GMT-11"},
	{"America/St_Johns", "Etc/GMT+3", "Etc/GMT+2"},
}

// bookIn is the garden of [mirrorBook] in another zone, its weather moved so that
// the sun is right there.
func bookIn(t *testing.T, zone string, east time.Duration) []ledger.Entry {
	t.Helper()
	book := mirrorBook(t, 40, -(east - time.Hour).Truncate(time.Hour))
	at := time.Date(2000, 4, 1, 0, 0, 0, 0, time.UTC).Format(time.RFC3339)
	lon := 15 * east.Hours()
	return append(book, line(t, 90, "site", "", "2000-04-03T00:00:00Z", at, &ledger.Site{Zone: zone, Longitude: &lon}))
}

func TestHalfHourZones(t *testing.T) {
	d := day(t, "2000-07-06")
	opt := work.Options{Day: d, Members: few}
	for _, z := range halfHours {
		t.Run(z.zone, func(t *testing.T) {
			loc, err := time.LoadLocation(z.zone)
			if err != nil {
				t.Fatal(err)
			}
			asOf := d.At(6, loc)
			_, offset := asOf.Zone()
			if offset%3600 == 0 {
				t.Fatalf("the clocks of %s are whole hours from UTC on %s; the test would prove nothing", z.zone, d)
			}
			east := time.Duration(offset) * time.Second
			book := bookIn(t, z.zone, east)
			r := round(t, book, opt)
			if got := r.AsOf; got != asOf.Format(time.RFC3339) {
				t.Errorf("as of %s, want %s", got, asOf.Format(time.RFC3339))
			}
			whole := bytesOf(t, r)

			// The hour that is under way at the morning is not used, whoever says it is known.
			h := asOf.UTC().Truncate(time.Hour)
			at := h.Format(time.RFC3339)
			hot := line(t, 91, "weather", "", at, at, &ledger.Weather{Station: "s", Hours: ledger.Hours{Start: h, T: ledger.Values{45}}})
			if got := bytesOf(t, round(t, append(slices.Clone(book), hot), opt)); !bytes.Equal(whole, got) {
				t.Error("an hour that was not over was used")
			}
			// The hour before is over and is used.
			h = h.Add(-time.Hour)
			at = asOf.Format(time.RFC3339)
			hot = line(t, 92, "weather", "", at, at, &ledger.Weather{Station: "s", Hours: ledger.Hours{Start: h, T: ledger.Values{45}}})
			if got := bytesOf(t, round(t, append(slices.Clone(book), hot), opt)); bytes.Equal(whole, got) {
				t.Error("the last hour that was over was not used")
			}
			known := slices.DeleteFunc(slices.Clone(book), func(e ledger.Entry) bool { return !e.Known(asOf) })
			if len(known) == len(book) {
				t.Fatal("nothing was cut off")
			}
			if got := bytesOf(t, round(t, known, opt)); !bytes.Equal(whole, got) {
				t.Error("later entries were used")
			}

			// The same weather under the clocks of the neighbours is nearly the same season.
			for _, n := range []string{z.before, z.after} {
				m := round(t, bookIn(t, n, east), opt)
				for _, x := range []struct {
					what string
					a, b float64
					part float64
				}{
					{"leaf area", r.Beds[0].LeafArea.Mid, m.Beds[0].LeafArea.Mid, 0.03},
					{"covered", r.Beds[0].Covered.High, m.Beds[0].Covered.High, 0.25},
				} {
					if math.Abs(x.a-x.b) > x.part*math.Max(x.a, x.b) {
						t.Errorf("%s is %g, under the clocks of %s %g", x.what, x.a, n, x.b)
					}
				}
			}
		})
	}
}
