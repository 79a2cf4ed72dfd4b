package print

import (
	"fmt"
	"math"
	"time"

	"oidium/cite"
	"oidium/garden"
	"oidium/internal/work"
)

// The rounds below are made by hand to see how mornings of every kind read. The
// garden is invented and so are its numbers; nothing here was computed.

func band(low, mid, high float64) work.Band { return work.Band{Low: low, Mid: mid, High: high} }

// course is a covered share that grows by rate a day from the band b.
func course(date string, b work.Band, rate float64, n int) []work.FanDay {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return nil
	}
	grow := func(y, r float64, d int) float64 {
		if y <= 0 {
			return 0
		}
		z := math.Log(y/(1-y)) + r*float64(d)
		return 1 / (1 + math.Exp(-z))
	}
	out := make([]work.FanDay, n)
	for d := range out {
		out[d] = work.FanDay{
			Date: t.AddDate(0, 0, d).Format(time.DateOnly),
			Band: band(grow(b.Low, 0.5*rate, d), grow(b.Mid, rate, d), grow(b.High, 1.4*rate, d)),
		}
	}
	return out
}

func place() work.Place {
	return work.Place{Name: "Four Beds at Example Farm", Invented: true, Latitude: 52.10, Longitude: 5.18, Zone: "Europe/Amsterdam", Money: "EUR"}
}

func base(date string) *work.Round {
	return &work.Round{
		Version: "oidium-round-1", Date: date, AsOf: date + "T06:00:00+02:00", Garden: place(),
		Budget: 60, Members: 200,
		Weather: work.WeatherReport{
			Measured: 1848, Filled: 3, Until: date + "T06:00:00+02:00",
			Forecast: "The 14 days ahead are 200 courses drawn from the weather so far.",
			TodayMax: band(17.1, 19.4, 22.3), RainToday: band(0, 0.4, 3.1), Mean7: 17.3,
			Origin: "De Bilt, hourly, KNMI, CC BY 4.0.",
		},
		Cautions: []string{
			"Advice for these beds from your entries.",
			"Keep children and pets out until the leaf is dry and the time on the label is over.",
			"Spray when bees are not flying: in the evening while anything is in bloom.",
		},
		Assumed: []work.Assumption{
			{Yours: true, What: "width of the path between two beds", Value: "0.6 m", Source: "assumption", Grade: cite.C},
			{Yours: true, What: "sprayer", Value: "hand lance from below, reaches 90 % above and 70 % beneath", Source: "assumption", Grade: cite.C},
		},
		Sources: []cite.Source{
			{ID: "mcgrath-1996", Text: "McGrath 1996, Plant Disease 80:910, first leaf in fifty as the start of treatment", DOI: "10.1094/PD-80-0910"},
			{ID: "awri-2021", Text: "AWRI eBulletin of 13 October 2021, sulfur and heat"},
			{ID: "exact-binomial", Text: "Clopper & Pearson 1934, Biometrika 26:404-413", DOI: "10.1093/biomet/26.4.404"},
		},
	}
}

func cucumber(date string) work.BedReport {
	now := band(0.011, 0.032, 0.078)
	return work.BedReport{
		Bed: "tunnel", Name: "Cucumber tunnel", Order: 1, Crop: "cucumber", Cultivar: "Example Green", Shelter: "tunnel",
		AreaM2: 18, LeafArea: band(38, 46, 55), LastLook: "2000-07-04",
		Looked:  "On 4 July 9 of 30 old leaves had mildew, most of it on the upper face.",
		Covered: now, Upper: band(0.014, 0.041, 0.09), Lower: band(0.006, 0.023, 0.07), Incidence: band(0.18, 0.29, 0.43),
		Doubling: &work.Band{Low: 4.1, Mid: 6.2, High: 11},
		Mildews: []work.Belief{
			{Mildew: "podosphaera-xanthii", Name: "Podosphaera xanthii", Probability: 0.58, Covered: now, ESS: 61, RawESS: 18, Temper: 0.44, Learned: []work.Learned{
				{Name: "arrival", What: "colonies from outside", Unit: "1/m2/d", Before: band(0.002, 0.04, 0.76), Now: band(0.4, 0.9, 3.1), Told: true, Strained: true},
				{Name: "cultivar", What: "how readily it is infected", Unit: "1", Before: band(0.7, 1, 1.3), Now: band(0.9, 1.1, 1.3), Told: true},
				{Name: "onset", Unit: "K d", Before: band(45, 225, 405), Now: band(60, 220, 390)},
				{Name: "heat", Unit: "1", Before: band(0.1, 0.5, 0.9), Now: band(0.1, 0.5, 0.9)},
			}},
			{Mildew: "golovinomyces", Name: "Golovinomyces", Probability: 0.42, Covered: band(0.009, 0.029, 0.07), ESS: 74, RawESS: 74, Temper: 1},
		},
		Alone: course(date, now, 0.115, 15), Planned: course(date, band(0.007, 0.02, 0.05), 0.06, 15),
		Verdict: "remove", Reason: "The old leaves carry most of the mildew, and the plants can spare them.",
		Tried: []work.Tried{
			{Run: true, Name: "take 14 old leaves off", Kind: "remove", Net: band(3.1, 12.4, 24.8), Minutes: 15, Checked: []string{"removal budget", "no young leaves"}},
			{Run: true, Name: "potassium bicarbonate, 4 g in a litre", Kind: "treat", Net: band(-1.2, 6.3, 15), Minutes: 20, Cost: 0.35, Checked: []string{"heat", "rain"}},
			{Run: true, Name: "wait", Kind: "wait", Minutes: 0},
			{Run: true, Name: "sulfur, wettable", Kind: "treat", Net: band(0.4, 8.8, 19), Minutes: 20, Cost: 0.22, Refused: []work.Check{
				{Rule: "days to harvest", Outcome: "ask", Reason: "The days to harvest on your label have not been entered.", Source: "common-practice", Grade: cite.C},
				{Rule: "test leaf", Outcome: "refused", Reason: "No leaf of this cultivar has been tried with it for 48 hours.", Source: "awri-2021", Grade: cite.B},
			}},
		},
		Waiting: &work.Band{Low: 0.8, Mid: 3.4, High: 8}, PickFrom: "2000-07-07T19:30:00+02:00",
	}
}

func pumpkin(date string) work.BedReport {
	now := band(0, 0.0004, 0.004)
	return work.BedReport{
		Bed: "pumpkin", Name: "Pumpkin", Order: 2, Crop: "pumpkin", Cultivar: "Example Round", Shelter: "open",
		AreaM2: 30, LeafArea: band(30, 44, 60), LastLook: "2000-06-28",
		Looked:  "On 28 June none of 50 leaves had mildew; up to 5.8 % may still have it.",
		Covered: now, Upper: now, Lower: now, Incidence: band(0, 0.01, 0.05),
		Doubling: &work.Band{Low: 3.6, Mid: 6, High: 13},
		Mildews: []work.Belief{
			{Mildew: "golovinomyces", Name: "Golovinomyces", Probability: 0.55, Covered: now, ESS: 180, RawESS: 180, Temper: 1},
			{Mildew: "podosphaera-xanthii", Name: "Podosphaera xanthii", Probability: 0.45, Covered: now, ESS: 176, RawESS: 176, Temper: 1},
		},
		Alone: course(date, now, 0.13, 15), Planned: course(date, now, 0.13, 15),
		Verdict: "look", Reason: "One look would settle more than any treatment now.",
		Tried: []work.Tried{{Run: true, Name: "look at 30 old leaves", Kind: "look", Net: band(0, 2.2, 6), Minutes: 12}, {Name: "wait", Kind: "wait"}},
	}
}

func rose(date string) work.BedReport {
	now := band(0.06, 0.114, 0.19)
	return work.BedReport{
		Bed: "rose", Name: "Rose border", Order: 3, Crop: "rose", Cultivar: "", Shelter: "open", AreaM2: 9,
		LeafArea: band(14, 19, 25), LastLook: "2000-07-04", Looked: "On 4 July 14 of 24 young leaves had mildew.",
		Covered: now, Upper: band(0.08, 0.14, 0.23), Lower: band(0.04, 0.088, 0.15), Incidence: band(0.4, 0.55, 0.7),
		Mildews: []work.Belief{{Mildew: "podosphaera-pannosa", Name: "Podosphaera pannosa", Probability: 1, Covered: now, ESS: 96, RawESS: 96, Temper: 1}},
		Alone:   course(date, now, 0.04, 15), Planned: course(date, band(0.04, 0.08, 0.14), 0.01, 15),
		Verdict: "treat", Reason: "A treatment this evening meets dry leaf, no wind and no bees.",
		Tried: []work.Tried{{Run: true, Name: "sulfur, wettable, 4 g in a litre", Kind: "treat", Net: band(1, 5.1, 11), Minutes: 14, Cost: 0.15, Checked: []string{"heat", "oil", "rain", "interval", "bees"}}, {Name: "wait", Kind: "wait"}},
	}
}

func lettuce() work.BedReport {
	return work.BedReport{Bed: "north", Name: "North bed", Order: 4, Shelter: "open", AreaM2: 12, Verdict: "no-crop", Reason: "Nothing stands in it."}
}

func juneDay() *work.Round {
	r := base("2000-07-06")
	r.Headline = "Take the old cucumber leaves off before the dew is gone, and spray the roses this evening."
	r.Jobs = []work.Job{
		{
			Bed: "tunnel", BedName: "Cucumber tunnel", Kind: "remove", Title: "take 14 leaves off", Minutes: 15, Until: "2000-07-07",
			Leaves: 14, Which: "the oldest and most covered; none younger than 14 days",
			Windows: []work.Window{{From: "2000-07-06T06:30:00+02:00", To: "2000-07-06T09:30:00+02:00"}},
			Reason:  "Those 14 leaves are 8 % of the leaf and carry 61 % of the mildew; the plants can spare 25 %.",
			Source:  "mcgrath-1996", Grade: cite.B, Sure: "Fairly sure: better than waiting in 84 of 100 courses.",
			Flip: "With mildew on fewer than 4 of 30 old leaves, waiting would be as good.", Net: band(3.1, 12.4, 24.8),
			Cautions: []string{"Bag the leaves at the plant; do not shake them."},
		},
		{
			Bed: "rose", BedName: "Rose border", Kind: "treat", Title: "spray sulfur", Minutes: 14, Until: "2000-07-07",
			Material: "sulfur_wg", Name: "sulfur, wettable",
			Mix: &work.Mix{Litres: 2.4, Grams: 9.6, Unit: "g", RateGL: 4, Tanks: 1, Source: "label", Grade: cite.A, Comment: "Your label gives 3 to 6 g in a litre."},
			Windows: []work.Window{
				{From: "2000-07-06T19:30:00+02:00", To: "2000-07-06T21:30:00+02:00"},
				{From: "2000-07-07T19:00:00+02:00", To: "2000-07-07T21:00:00+02:00"},
			},
			Reason: "Mildew covers 11 % and the buds of the second bloom are opening; sulfur protects the new leaves.",
			Source: "awri-2021", Grade: cite.C, Sure: "Not very sure: better than waiting in 70 of 100 courses.",
			Flip: "With more than 3 mm of rain in the forecast before midnight, wait for Saturday.", Net: band(1, 5.1, 11),
			Cautions: []string{"Goggles, dust mask, gloves, long sleeves while mixing.", "No oil within 14 days either side of sulfur."},
		},
	}
	r.Minutes = 29
	r.Later = []work.Job{{
		Bed: "pumpkin", BedName: "Pumpkin", Kind: "look", Title: "look at 30 old leaves, both faces", Minutes: 12, Until: "2000-07-08",
		Leaves: 30, Which: "old leaves near the middle, both faces", Reason: "None of 50 on 28 June still allows 5.8 %.",
		Source: "exact-binomial", Grade: cite.Calc, Sure: "Sure.",
	}}
	r.Beds = []work.BedReport{cucumber(r.Date), pumpkin(r.Date), rose(r.Date), lettuce()}
	r.Warnings = []garden.Warning{
		{Code: "tempered", Bed: "tunnel", Text: "Few of the simulated courses agree with what was seen; the band was made wider."},
		{Code: "label", Text: "For potassium bicarbonate the days to harvest have not been entered, so it is not offered."},
	}
	return r
}

func wetDay() *work.Round {
	r := juneDay()
	r.Headline = "Rain until evening: no treatment today. Look at the pumpkin when the leaf is dry."
	r.Weather.TodayMax, r.Weather.RainToday = band(13, 14.9, 17), band(4.2, 7.1, 14)
	r.Jobs, r.Later = r.Later, []work.Job{r.Jobs[1]}
	r.Jobs[0].Until = "2000-07-06"
	r.Later[0].Until, r.Later[0].Windows = "2000-07-09", nil
	r.Later[0].Reason = "Sulfur needs four dry hours; none are in sight before Saturday evening."
	r.Minutes = 12
	return r
}

func hotDay() *work.Round {
	r := juneDay()
	r.Date, r.AsOf = "2000-06-19", "2000-06-19T06:00:00+02:00"
	r.Headline = "35 °C this afternoon: nothing that burns leaves. Open the tunnel and wait for Thursday."
	r.Weather.TodayMax, r.Weather.RainToday = band(33.4, 35, 36.8), band(0, 0, 0.2)
	r.Jobs = []work.Job{{
		Bed: "tunnel", BedName: "Cucumber tunnel", Kind: "wait", Title: "leave alone until Thursday",
		Reason: "At 32 °C and above sulfur and oil burn the leaf, and the heat itself slows the mildew.",
		Source: "awri-2021", Grade: cite.B, Sure: "Sure.", Flip: "A day under 29 °C.",
	}}
	r.Later, r.Minutes = nil, 0
	for i := range r.Beds {
		if r.Beds[i].Crop != "" {
			r.Beds[i].Verdict, r.Beds[i].Planned, r.Beds[i].PickFrom = "wait", r.Beds[i].Alone, ""
			r.Beds[i].Reason = "Nothing may be sprayed at this heat, and the heat slows the mildew."
		}
	}
	r.Beds[2].PickFrom = "unknown"
	return r
}

func october() *work.Round {
	r := juneDay()
	r.Date, r.AsOf = "2000-10-05", "2000-10-05T06:00:00+02:00"
	r.Headline = "The pumpkin is past rescue and nearly ripe: pick, then clear the bed. Nothing to spray."
	r.Jobs = []work.Job{{
		Bed: "pumpkin", BedName: "Pumpkin", Kind: "clear", Title: "pick what is ripe and clear the bed", Minutes: 45, Until: "2000-10-12",
		Reason: "Seven leaves in ten are white and about nine days of growth are left; nothing pays any more.",
		Source: "common-practice", Grade: cite.C, Sure: "Sure.",
	}}
	r.Minutes, r.Later, r.Warnings = 45, nil, nil
	p := &r.Beds[1]
	p.Covered, p.Upper, p.Lower = band(0.58, 0.72, 0.84), band(0.6, 0.75, 0.88), band(0.5, 0.69, 0.8)
	p.Verdict, p.LastLook, p.Alone, p.Planned = "past-rescue", "2000-10-03", course(r.Date, band(0.58, 0.72, 0.84), 0.03, 10), nil
	c := &r.Beds[0]
	c.Verdict, c.Crop, c.Alone, c.Planned, c.PickFrom = "season-over", "", nil, nil, ""
	c.Reason, c.Looked, c.LastLook, c.Tried, c.Mildews = "The cucumbers were cleared on 20 September.", "", "", nil, nil
	p.Reason, p.Looked = "Nothing that can be done now saves leaf worth having.", "On 3 October mildew was read on 70 % of the leaf."
	r.Beds[2].Reason, r.Beds[2].Planned = "The bloom is over; the leaves may fall.", r.Beds[2].Alone
	r.Beds[2].Verdict = "nothing"
	return r
}

func february() *work.Round {
	r := base("2000-02-10")
	r.AsOf = "2000-02-10T06:00:00+01:00"
	r.Headline = "Winter: nothing stands, nothing to do. Look through the trays when you sow in April."
	r.Weather.TodayMax, r.Weather.RainToday, r.Weather.Filled = band(5, 7, 9), band(0, 1.1, 5), 0
	r.Beds = []work.BedReport{lettuce()}
	r.Beds[0].Order = 1
	return r
}

func nothing() *work.Round {
	r := juneDay()
	r.Headline = "Nothing today; look again on Thursday."
	r.Date, r.AsOf = "2000-07-10", "2000-07-10T06:00:00+02:00"
	r.Later = []work.Job{{
		Bed: "pumpkin", BedName: "Pumpkin", Kind: "look", Title: "look at 30 old leaves, both faces", Minutes: 12, Until: "2000-07-13",
		Leaves: 30, Which: "old leaves near the middle, both faces", Reason: "By then a mildew that arrived last week would show.",
		Source: "exact-binomial", Grade: cite.Calc, Sure: "Sure.",
	}}
	r.Jobs, r.Minutes, r.Warnings = nil, 0, nil
	for i := range r.Beds[:3] {
		r.Beds[i].Verdict, r.Beds[i].Planned, r.Beds[i].Doubling = "nothing", r.Beds[i].Alone, nil
		r.Beds[i].Reason = "Nothing tried is worth more than leaving it alone."
	}
	return r
}

func nobodyLooked() *work.Round {
	r := base("2000-06-20")
	r.AsOf = "2000-06-20T06:00:00+02:00"
	r.Headline = "Nobody has looked yet: look at 25 old cucumber leaves today, which takes ten minutes."
	r.Weather = work.WeatherReport{Forecast: "A coarse climate for 52° N near the sea."}
	c := cucumber(r.Date)
	c.LastLook, c.Looked, c.Verdict = "", "Nobody has looked at this bed.", "cannot-tell"
	c.Covered, c.Mildews, c.Tried, c.PickFrom, c.Waiting = band(0, 0.004, 0.21), c.Mildews[:1], nil, "", nil
	c.Planned = c.Alone
	r.Beds = []work.BedReport{c}
	r.Jobs = []work.Job{{
		Bed: "tunnel", BedName: "Cucumber tunnel", Kind: "look", Title: "look at 25 old leaves, both faces", Minutes: 10, Until: "2000-06-20",
		Leaves: 25, Which: "old leaves, 5 plants spread over the bed, both faces", Reason: "Between nothing and a fifth of the leaf may be covered; only a look can tell.",
		Source: "exact-binomial", Grade: cite.Calc, Sure: "Sure that a look is worth it.", Flip: "If none of the 25 is infected, leave the bed until Monday.",
	}}
	r.Minutes = 10
	r.Warnings = []garden.Warning{{Code: "no-weather", Text: "There is no measured weather, so nothing here is better than a guess with a wide band."}}
	return r
}

func emptyGarden() *work.Round {
	r := base("2000-05-01")
	r.Garden = work.Place{Name: "New garden", Latitude: 52.1, Longitude: 5.18, Zone: "Europe/Amsterdam"}
	r.Headline = "No beds yet: say where, what and planted when, and the first answer follows."
	r.Assumed, r.Sources, r.Budget = nil, nil, 0
	r.Weather = work.WeatherReport{}
	return r
}

// manyBeds is a garden of twelve beds whose covered shares run from none to all.
func manyBeds() *work.Round {
	r := nothing()
	r.Beds = nil
	for i, y := range []float64{0, 0.0004, 0.003, 0.01, 0.03, 0.1, 0.2, 0.35, 0.5, 0.65, 0.9, 1} {
		b := pumpkin(r.Date)
		b.Bed, b.Order = garden.BedID(fmt.Sprintf("bed-%02d", i+1)), i+1
		b.Name, b.AreaM2 = fmt.Sprintf("Bed %d", i+1), float64(4+3*i)
		b.Covered = band(y/2, y, math.Min(1, 2*y))
		r.Beds = append(r.Beds, b)
	}
	return r
}

// rounds are all fixtures by name.
func rounds() []struct {
	name string
	r    *work.Round
} {
	return []struct {
		name string
		r    *work.Round
	}{
		{"june-day", juneDay()},
		{"wet-day", wetDay()},
		{"hot-day", hotDay()},
		{"october", october()},
		{"february", february()},
		{"nothing", nothing()},
		{"nobody-looked", nobodyLooked()},
		{"empty-garden", emptyGarden()},
		{"many-beds", manyBeds()},
	}
}
