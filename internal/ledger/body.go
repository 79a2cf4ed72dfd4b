package ledger

import (
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"time"

	"oidium/garden"
)

// Body is what an entry says; its type goes with the kind.
type Body interface {
	// check returns what no single field shows: fields that contradict each other.
	check(h *Entry) Problems
}

// need says whether an envelope field must, may or must not be there.
type need uint8

const (
	may need = iota
	must
	mustNot
)

// kind is one kind of entry.
type kind struct {
	name, doc string
	bed       need
	replaces  need
	make      func() Body
}

// kinds lists every kind, in the order a season uses them.
var kinds = []kind{
	{"site", "the place and its standing facts; a field holds until it is stated again", mustNot, may, func() Body { return new(Site) }},
	{"bed", "a bed; a field holds until it is stated again", must, may, func() Body { return new(Bed) }},
	{"setting", "a standing fact of a bed from this time on: water, vents, shade, light", must, may, func() Body { return new(Setting) }},
	{"planting", "a crop in a bed; a field holds until it is stated again", must, may, func() Body { return new(Planting) }},
	{"stock", "a material in the shed; a field holds until it is stated again", mustNot, may, func() Body { return new(Stock) }},
	{"label", "what the user read on the label in force here; what is not stated is unknown", mustNot, may, func() Body { return new(Label) }},
	{"tally", "a look at a bed, leaf by leaf", must, may, func() Body { return new(Tally) }},
	{"severity", "a reading of the share of leaf area covered", must, may, func() Body { return new(Severity) }},
	{"treatment", "an application of a material; the time is when it began", must, may, func() Body { return new(Treatment) }},
	{"removal", "leaves taken off", must, may, func() Body { return new(Removal) }},
	{"harvest", "produce taken", must, may, func() Body { return new(Harvest) }},
	{"weather", "measured weather, hour by hour; with a bed, from a logger in that bed", may, may, func() Body { return new(Weather) }},
	{"forecast", "a forecast as it was issued, hour by hour", mustNot, may, func() Body { return new(Forecast) }},
	{"note", "a note", may, may, func() Body { return new(Note) }},
	{"withdrawal", "takes back the entry it replaces: that never happened", may, must, func() Body { return new(Withdrawal) }},
}

func kindOf(name string) (kind, bool) {
	i := slices.IndexFunc(kinds, func(k kind) bool { return k.name == name })
	if i < 0 {
		return kind{}, false
	}
	return kinds[i], true
}

// Kinds returns the kinds of entry, in the order a season uses them.
func Kinds() []string {
	out := make([]string, len(kinds))
	for i, k := range kinds {
		out[i] = k.name
	}
	return out
}

func problem(field, what, hint string) Problems {
	return Problems{{Field: "body." + field, What: what, Hint: hint}}
}

// Site is the body of kind "site".
type Site struct {
	Name      string   `json:"name,omitempty" doc:"name of the garden" rule:"len=200"`
	Seed      *uint64  `json:"seed,omitempty" doc:"seed of the garden's random streams" rule:"min=0"`
	Latitude  *float64 `json:"latitude,omitempty" doc:"degrees north" rule:"min=-90;max=90;hint=degrees north, south is negative"`
	Longitude *float64 `json:"longitude,omitempty" doc:"degrees east" rule:"min=-180;max=180;hint=degrees east, west is negative"`
	Altitude  *float64 `json:"altitude_m,omitempty" doc:"metres above the sea" rule:"min=-450;max=6000"`
	Zone      string   `json:"zone,omitempty" doc:"IANA time zone such as Europe/Amsterdam" rule:"word"`
	Country   string   `json:"country,omitempty" doc:"ISO 3166-1 code of two capitals" rule:"word;len=2"`
	Role      string   `json:"role,omitempty" doc:"in which capacity the user acts" rule:"enum=private|grower|adviser|hired-hand"`
	Maritime  *bool    `json:"maritime,omitempty" doc:"near a sea that tempers the year"`
	Units     string   `json:"units,omitempty" doc:"units shown to the user" rule:"enum=metric|us|imperial"`
	Minutes   *float64 `json:"minutes,omitempty" doc:"minutes each pair of hands has for a round" rule:"min=0;max=1440"`
	Hands     *int     `json:"hands,omitempty" doc:"how many people work" rule:"min=0;max=1000"`
	Wage      *float64 `json:"wage_per_hour,omitempty" doc:"value of an hour of work, in the user's money" rule:"min=0"`
	Money     string   `json:"money,omitempty" doc:"name of the user's money, such as EUR" rule:"word"`
	Sprayer   *Sprayer `json:"sprayer,omitempty" doc:"what liquids are applied with"`
	Invented  *bool    `json:"invented,omitempty" doc:"true for an example that does not exist"`
}

// Sprayer is part of [Site].
type Sprayer struct {
	Kind  string   `json:"kind,omitempty" doc:"kind of sprayer" rule:"enum=hand-lance|knapsack|boom|air-assisted"`
	LPerM *float64 `json:"l_per_min,omitempty" doc:"measured output, litres a minute" rule:"over=0;max=1000"`
	TankL *float64 `json:"tank_l,omitempty" doc:"size of the tank, litres" rule:"over=0;max=20000"`
}

func (s *Site) check(*Entry) Problems {
	if s.Country != "" && (len(s.Country) != 2 || s.Country[0] < 'A' || s.Country[0] > 'Z' || s.Country[1] < 'A' || s.Country[1] > 'Z') {
		return problem("country", strconv.Quote(s.Country)+" is not a country code", "two capitals such as NL, GB, US")
	}
	if s.Zone != "" {
		if _, err := time.LoadLocation(s.Zone); err != nil || s.Zone == "Local" {
			return problem("zone", strconv.Quote(s.Zone)+" is not a time zone", "an IANA name such as Europe/Amsterdam")
		}
	}
	return nil
}

// Bed is the body of kind "bed".
type Bed struct {
	Name    string   `json:"name,omitempty" doc:"what the user calls it" rule:"len=200"`
	Order   *int     `json:"order,omitempty" doc:"place in the walk" rule:"min=0;max=100000"`
	Length  *float64 `json:"length_m,omitempty" doc:"length, m" rule:"over=0;max=10000;hint=a length in metres"`
	Width   *float64 `json:"width_m,omitempty" doc:"width, m" rule:"over=0;max=10000;hint=a width in metres"`
	X       *float64 `json:"x_m,omitempty" doc:"centre, m east of the garden's corner" rule:"min=-100000;max=100000"`
	Y       *float64 `json:"y_m,omitempty" doc:"centre, m north of the garden's corner" rule:"min=-100000;max=100000"`
	Shelter string   `json:"shelter,omitempty" doc:"what stands over it" rule:"enum=open|tunnel"`
	Soil    string   `json:"soil,omitempty" doc:"soil or substrate" rule:"len=200"`
	Role    string   `json:"role,omitempty" doc:"a bed in the garden, a tray of young plants, or plants kept apart" rule:"enum=bed|tray|quarantine"`
}

func (*Bed) check(*Entry) Problems { return nil }

// Setting is the body of kind "setting".
type Setting struct {
	Water string   `json:"water,omitempty" doc:"how it is watered" rule:"enum=drip|overhead|hand"`
	Vents string   `json:"vents,omitempty" doc:"vents of the tunnel; day: open by day" rule:"enum=open|closed|day"`
	Shade *float64 `json:"shade,omitempty" doc:"share of light taken away by shading" rule:"min=0;max=1;hint=a share from 0 to 1"`
	Light *float64 `json:"light_h,omitempty" doc:"hours of lamp light a day" rule:"min=0;max=24"`
}

func (*Setting) check(*Entry) Problems { return nil }

// Planting is the body of kind "planting".
type Planting struct {
	Planting   string     `json:"planting" doc:"id of the planting, made by the user" rule:"required;word"`
	Crop       string     `json:"crop,omitempty" doc:"crop, by its id in the program" rule:"vocab=crop"`
	Cultivar   string     `json:"cultivar,omitempty" doc:"cultivar" rule:"len=200"`
	Resistance string     `json:"resistance,omitempty" doc:"rating in the seed list" rule:"enum=susceptible|intermediate|high"`
	Plants     *int       `json:"plants,omitempty" doc:"number of plants" rule:"min=0;max=1000000"`
	Planted    garden.Day `json:"planted,omitzero" doc:"date of planting; not stated: the date of the entry"`
	FirstPick  garden.Day `json:"first_pick,omitzero" doc:"first day of picking, expected or seen"`
	LastPick   garden.Day `json:"last_pick,omitzero" doc:"last day of picking, expected or seen"`
	Cleared    garden.Day `json:"cleared,omitzero" doc:"day the plants were cleared away"`
	ValueM2Day *float64   `json:"value_m2_day,omitempty" doc:"what a square metre brings on a day of picking or of looking well, in the user's money" rule:"min=0"`
	Burden     string     `json:"burden,omitempty" doc:"how heavily extra work weighs" rule:"enum=light|normal|heavy"`
}

func (p *Planting) check(*Entry) (ps Problems) {
	if p.Planted != 0 && p.Cleared != 0 && p.Cleared < p.Planted {
		ps = append(ps, problem("cleared", "is before the day of planting", "is the year right?")...)
	}
	if p.FirstPick != 0 && p.LastPick != 0 && p.LastPick < p.FirstPick {
		ps = append(ps, problem("last_pick", "is before the first day of picking", "is the year right?")...)
	}
	return ps
}

// Stock is the body of kind "stock".
type Stock struct {
	Material string     `json:"material" doc:"active ingredient and form, by its id in the program" rule:"required;vocab=material"`
	Batch    string     `json:"batch,omitempty" doc:"batch on the pack" rule:"len=100"`
	Opened   garden.Day `json:"opened,omitzero" doc:"day the pack was opened"`
	Amount   *float64   `json:"amount,omitempty" doc:"kg or L left" rule:"min=0"`
	Price    *float64   `json:"price,omitempty" doc:"price of a kilogram or litre, in the user's money" rule:"min=0"`
}

func (*Stock) check(*Entry) Problems { return nil }

// Label is the body of kind "label".
type Label struct {
	Material     string   `json:"material" doc:"active ingredient and form, by its id in the program" rule:"required;vocab=material"`
	Crop         string   `json:"crop,omitempty" doc:"the crop these values are for; not stated: every crop on the label" rule:"vocab=crop"`
	Registration string   `json:"registration,omitempty" doc:"registration or authorisation number as printed" rule:"len=100"`
	RateLow      *float64 `json:"rate_low_g_per_l,omitempty" doc:"lowest rate, grams (of a liquid: millilitres) of product in a litre of mix" rule:"min=0;max=1000"`
	RateHigh     *float64 `json:"rate_high_g_per_l,omitempty" doc:"highest rate, as above" rule:"min=0;max=1000"`
	HarvestDays  *float64 `json:"harvest_days,omitempty" doc:"days from the end of treatment to harvest" rule:"min=0;max=365"`
	ReentryHours *float64 `json:"reentry_hours,omitempty" doc:"hours from the end of treatment until people may enter" rule:"min=0;max=1000"`
	IntervalDays *float64 `json:"interval_days,omitempty" doc:"least days between two treatments" rule:"min=0;max=365"`
	MaxSeason    *int     `json:"max_season,omitempty" doc:"most treatments in a season" rule:"min=0;max=100"`
	Content      *float64 `json:"content,omitempty" doc:"active ingredient in the product, share of mass; of copper the metal" rule:"over=0;max=1;hint=a share from 0 to 1"`
	Stages       string   `json:"stages,omitempty" doc:"growth stages it is allowed at, as printed" rule:"len=500"`
}

func (l *Label) check(*Entry) Problems {
	if l.RateLow != nil && l.RateHigh != nil && *l.RateHigh < *l.RateLow {
		return problem("rate_high_g_per_l", "is below the lowest rate", "are the two exchanged?")
	}
	return nil
}

// Tally is the body of kind "tally".
type Tally struct {
	Check  string  `json:"check,omitempty" doc:"how it was checked" rule:"enum=eye|lens|wet-bag"`
	Sure   string  `json:"sure,omitempty" doc:"how sure that it is powdery mildew" rule:"enum=sure|likely|cannot tell"`
	Counts []Count `json:"counts" doc:"leaves of one plant, age and face" rule:"required;some"`
}

// Count is part of [Tally].
type Count struct {
	Plant     int    `json:"plant" doc:"number of the plant within the tally, from 1" rule:"required;min=1;max=1000000"`
	Age       string `json:"age" doc:"age of the leaves" rule:"required;enum=young|middle|old"`
	Face      string `json:"face" doc:"side of the leaf looked at" rule:"required;enum=upper|lower"`
	Inspected int    `json:"inspected" doc:"leaves looked at" rule:"required;min=0;max=100000"`
	Infected  int    `json:"infected" doc:"leaves with mildew among them" rule:"required;min=0"`
}

func (t *Tally) check(*Entry) (ps Problems) {
	for i, c := range t.Counts {
		if c.Infected > c.Inspected {
			ps = append(ps, problem("counts["+strconv.Itoa(i)+"].infected",
				strconv.Itoa(c.Infected)+" leaves with mildew among "+strconv.Itoa(c.Inspected)+" looked at",
				"infected counts leaves of those inspected")...)
		}
	}
	return ps
}

// Severity is the body of kind "severity".
type Severity struct {
	Age   string  `json:"age" doc:"age of the leaves, or the whole canopy" rule:"required;enum=young|middle|old|whole"`
	Face  string  `json:"face" doc:"side of the leaf" rule:"required;enum=upper|lower"`
	Share float64 `json:"share" doc:"share of leaf area covered" rule:"required;min=0;max=1;hint=a share from 0 to 1, so 0.12 for 12 %"`
}

func (*Severity) check(*Entry) Problems { return nil }

// Treatment is the body of kind "treatment".
type Treatment struct {
	Material  string     `json:"material" doc:"active ingredient and form, by its id in the program" rule:"required;vocab=material"`
	End       *time.Time `json:"end,omitempty" doc:"when it ended; not stated: counted as 23:59 of that day"`
	Litres    *float64   `json:"litres,omitempty" doc:"mix used, litres" rule:"min=0"`
	Grams     *float64   `json:"grams,omitempty" doc:"product used, grams (of a liquid: millilitres)" rule:"min=0"`
	Below     bool       `json:"below,omitempty" doc:"sprayed at the underside of the leaves too"`
	Test      bool       `json:"test,omitempty" doc:"on a test leaf only"`
	Untreated int        `json:"untreated_leaves,omitempty" doc:"marked leaves left untreated as a check" rule:"min=0;max=100000"`
}

func (t *Treatment) check(e *Entry) Problems {
	if t.End != nil && t.End.Before(e.Time) {
		return problem("end", "is before the time it began", "the time of the entry is when the treatment began")
	}
	return nil
}

// Removal is the body of kind "removal".
type Removal struct {
	Share float64  `json:"share" doc:"share of the leaf area of the bed taken off" rule:"required;over=0;max=1;hint=a share from 0 to 1"`
	Ages  []string `json:"ages" doc:"ages of the leaves taken" rule:"required;some;items=3;enum=young|middle|old"`
}

func (*Removal) check(*Entry) Problems { return nil }

// Harvest is the body of kind "harvest".
type Harvest struct {
	Kg float64 `json:"kg" doc:"produce taken, kg" rule:"required;min=0"`
}

func (*Harvest) check(*Entry) Problems { return nil }

// Note is the body of kind "note".
type Note struct {
	Text string `json:"text" doc:"the note" rule:"required;len=20000"`
}

func (*Note) check(*Entry) Problems { return nil }

// Withdrawal is the body of kind "withdrawal".
type Withdrawal struct {
	Reason string `json:"reason,omitempty" doc:"why"`
}

func (*Withdrawal) check(*Entry) Problems { return nil }

// Values are hourly values in a row; a missing one is NaN, in JSON null.
type Values []float64

// UnmarshalJSON reads null as a missing value.
func (v *Values) UnmarshalJSON(b []byte) error {
	var p []*float64
	if err := json.Unmarshal(b, &p); err != nil {
		return err
	}
	out := make(Values, len(p))
	for i, x := range p {
		out[i] = math.NaN()
		if x != nil {
			out[i] = *x
		}
	}
	*v = out
	return nil
}

// MarshalJSON writes a missing value as null.
func (v Values) MarshalJSON() ([]byte, error) {
	b := []byte{'['}
	for i, x := range v {
		if i > 0 {
			b = append(b, ',')
		}
		if math.IsNaN(x) {
			b = append(b, "null"...)
		} else {
			b = appendNumber(b, x)
		}
	}
	return append(b, ']'), nil
}

// Hours is weather in a row of hours: value i is of the hour that begins i hours
// after Start. Temperature and humidity are means, rain is the sum.
type Hours struct {
	Start time.Time `json:"start" doc:"when the first hour begins, with zone" rule:"required"`
	T     Values    `json:"t,omitempty" doc:"air temperature, degrees C" rule:"min=-60;max=60;holes;hint=degrees Celsius; null where it is missing"`
	RH    Values    `json:"rh,omitempty" doc:"relative humidity, %" rule:"min=0;max=100;holes;hint=per cent; null where it is missing"`
	Wind  Values    `json:"wind,omitempty" doc:"wind speed, m/s" rule:"min=0;max=80;holes;hint=metres a second; null where it is missing"`
	Rain  Values    `json:"rain,omitempty" doc:"rain, mm" rule:"min=0;max=400;holes;hint=millimetres in the hour; null where it is missing"`
	Rad   Values    `json:"rad,omitempty" doc:"global radiation, W/m2" rule:"min=0;max=1500;holes;hint=watts a square metre, not joules; null where it is missing"`
}

func (h *Hours) check() Problems {
	n := max(len(h.T), len(h.RH), len(h.Wind), len(h.Rain), len(h.Rad))
	if n == 0 {
		return problem("t", "there are no values", "at least one of t, rh, wind, rain, rad")
	}
	var ps Problems
	for _, s := range []struct {
		name string
		v    Values
	}{{"t", h.T}, {"rh", h.RH}, {"wind", h.Wind}, {"rain", h.Rain}, {"rad", h.Rad}} {
		if len(s.v) != 0 && len(s.v) != n {
			ps = append(ps, problem(s.name, "has "+strconv.Itoa(len(s.v))+" values where another has "+strconv.Itoa(n),
				"one value an hour in each, null where it is missing")...)
		}
	}
	return ps
}

// Weather is the body of kind "weather".
type Weather struct {
	Station    string   `json:"station,omitempty" doc:"name of the station or logger" rule:"word"`
	Latitude   *float64 `json:"latitude,omitempty" doc:"of the station, degrees north" rule:"min=-90;max=90"`
	Longitude  *float64 `json:"longitude,omitempty" doc:"of the station, degrees east" rule:"min=-180;max=180"`
	Altitude   *float64 `json:"altitude_m,omitempty" doc:"of the station, metres above the sea" rule:"min=-450;max=6000"`
	WindHeight *float64 `json:"wind_height_m,omitempty" doc:"height of the wind instrument, m" rule:"over=0;max=200"`
	Origin     string   `json:"origin,omitempty" doc:"who measured it" rule:"len=500"`
	Licence    string   `json:"licence,omitempty" doc:"on what terms the data may be used" rule:"len=200"`
	Hours
}

func (w *Weather) check(*Entry) Problems { return w.Hours.check() }

// Forecast is the body of kind "forecast".
type Forecast struct {
	Issued time.Time `json:"issued" doc:"when it was issued, with zone" rule:"required"`
	Member int       `json:"member,omitempty" doc:"number of the member, when the forecast is an ensemble" rule:"min=0;max=1000"`
	Origin string    `json:"origin,omitempty" doc:"who issued it, and on what terms it may be used" rule:"len=500"`
	Hours
}

func (f *Forecast) check(*Entry) Problems { return f.Hours.check() }
