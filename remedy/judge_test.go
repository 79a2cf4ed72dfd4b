package remedy

import (
	"testing"
	"time"

	"oidium/garden"
)

func p[T any](v T) *T { return &v }

var zone = func() *time.Location {
	l, err := time.LoadLocation("Europe/Amsterdam")
	if err != nil {
		return time.UTC
	}
	return l
}()

func day(s string) garden.Day {
	d, err := garden.ParseDay(s)
	if err != nil {
		return 0
	}
	return d
}

// fair is a bed of cucumber on a fair morning on which sulfur may be used: every
// rule says ok or caution. Each test changes one thing.
func fair() *Case {
	now := time.Date(2000, 6, 14, 6, 0, 0, 0, zone)
	c := &Case{
		Now: now, Loc: zone, Today: garden.DayOf(now),
		Site:     garden.Site{Latitude: 52, Longitude: 5, Zone: "Europe/Amsterdam", Country: "NL", Role: garden.Grower, Sprayer: garden.Sprayer{Kind: "knapsack", LPerM: 1, TankL: 10}},
		Bed:      garden.Bed{ID: "a1", Length: 12, Width: 0.75, Shelter: garden.Open},
		Planting: garden.Planting{ID: "p1", Bed: "a1", Crop: "cucumber", Cultivar: "Invented", Planted: day("2000-05-01"), FirstPick: day("2000-06-01"), LastPick: day("2000-09-01")},
		Family:   "cucurbit", Covered: 0.02, CoveredKnown: true, LeafArea: 18,
		Diagnosis: "sure", PickNext: day("2000-06-16"),
	}
	for i := range 96 {
		c.Hours = append(c.Hours, Hour{Time: now.Add(time.Duration(i) * time.Hour), T: 22, RH: 60, Wind: 2})
	}
	for _, m := range Materials() {
		c.Labels = append(c.Labels, garden.Label{
			Material: m.ID, Crop: "cucumber", Read: now.AddDate(0, -1, 0), Registration: "invented 1",
			RateLowGL: p(3.0), RateHighGL: p(5.0), HarvestDays: p(0.0), ReentryHours: p(4.0), IntervalDays: p(7.0), MaxSeason: p(6), Content: p(0.5),
		})
		// A test leaf of everything, three days ago.
		c.Treatments = append(c.Treatments, garden.Treatment{Bed: "a1", Material: m.ID, Start: now.AddDate(0, 0, -3), End: now.AddDate(0, 0, -3).Add(time.Minute), Test: true})
	}
	return c
}

func get(t *testing.T, id garden.MaterialID) *Material {
	t.Helper()
	m, ok := Get(id)
	if !ok {
		t.Fatalf("no material %q", id)
	}
	return m
}

// worst returns the worst outcome of a rule and its reason.
func worst(ks []Check, rule string) (outcome, reason string) {
	for _, k := range ks {
		if k.Rule == rule && (outcome == "" || rank(k.Outcome) > rank(outcome)) {
			outcome, reason = k.Outcome, k.Reason
		}
	}
	return outcome, reason
}

func TestFairCaseIsAllowed(t *testing.T) {
	for _, id := range []garden.MaterialID{"sulfur_wg", "khco3", "oil_mineral", "milk_10", "bacillus", "ksi_foliar", "azanaph"} {
		ks := Judge(fair(), get(t, id))
		for _, k := range ks {
			if blocks(k) {
				t.Errorf("%s: %s %s: %s", id, k.Rule, k.Outcome, k.Reason)
			}
		}
		if !Allowed(ks) {
			t.Errorf("%s is not allowed", id)
		}
	}
}
