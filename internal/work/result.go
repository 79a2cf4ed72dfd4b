package work

import (
	"oidium/cite"
	"oidium/garden"
)

// roundVersion names the shape of [Round]. It changes when a field changes its
// meaning or goes; new fields do not change it.
const roundVersion = "oidium-round-1"

// Round is the answer for one morning: jobs in one order, each with its number,
// reason, source and how sure it is, and beneath them all that led there.
type Round struct {
	Version  string           `json:"version" enum:"oidium-round-1" doc:"shape of this document"`
	Date     string           `json:"date" format:"date" doc:"the morning it is for"`
	AsOf     string           `json:"as_of" format:"date-time" doc:"nothing later than this instant was used"`
	Garden   Place            `json:"garden"`
	Headline string           `json:"headline" doc:"the morning in one sentence"`
	Jobs     []Job            `json:"jobs" doc:"what to do today, in this order, within the minutes and hands at hand"`
	Later    []Job            `json:"later" doc:"what can wait, with the day it can wait until"`
	Beds     []BedReport      `json:"beds" doc:"every bed in walking order"`
	Minutes  float64          `json:"minutes" doc:"minutes of work the jobs of today take"`
	Budget   float64          `json:"budget_minutes" doc:"minutes times hands the user has today"`
	Weather  WeatherReport    `json:"weather"`
	Warnings []garden.Warning `json:"warnings" doc:"what limits these answers"`
	Cautions []string         `json:"cautions" doc:"what to mind before anything is done"`
	Assumed  []Assumption     `json:"assumed" doc:"what was not stated and is taken as usual; say it and the answer may change"`
	Sources  []cite.Source    `json:"sources" doc:"the sources named above"`
	Members  int              `json:"members" doc:"size of the ensemble"`
}

// Place is the garden the round is for.
type Place struct {
	Name      string  `json:"name"`
	Invented  bool    `json:"invented" doc:"true for an example that does not exist"`
	Latitude  float64 `json:"latitude"`
	Longitude float64 `json:"longitude"`
	Zone      string  `json:"zone"`
	Money     string  `json:"money" doc:"the user's money; amounts of value are in it"`
}

// Job is one thing to do.
type Job struct {
	Bed      garden.BedID `json:"bed"`
	BedName  string       `json:"bed_name"`
	Kind     string       `json:"kind" enum:"look,remove,treat,wait,enter,clear" doc:"look at leaves, take leaves off, treat, leave alone, type in what is missing, clear the bed"`
	Title    string       `json:"title" doc:"the job in a few words"`
	Minutes  float64      `json:"minutes"`
	Until    string       `json:"until,omitempty" format:"date" doc:"the day by which it wants doing"`
	Leaves   int          `json:"leaves,omitempty" doc:"how many leaves to look at or to take off"`
	Which    string       `json:"which,omitempty" doc:"which leaves"`
	Material string       `json:"material,omitempty" doc:"active ingredient and form, by its id in the program, as a treatment entry names it"`
	Name     string       `json:"material_name,omitempty" doc:"the material for a reader"`
	Mix      *Mix         `json:"mix,omitempty"`
	Windows  []Window     `json:"windows,omitempty" doc:"hours in which it may be done"`
	Reason   string       `json:"reason" doc:"why, in one sentence"`
	Source   string       `json:"source" doc:"id of the source behind the reason"`
	Grade    cite.Grade   `json:"grade" doc:"how that number was come by: A read in the source, B secondary, C assumption, calc computed here"`
	Sure     string       `json:"sure" doc:"how sure, in words"`
	Flip     string       `json:"flip,omitempty" doc:"what would change it"`
	Net      Band         `json:"net" doc:"expected gain over leaving it alone, in the user's money, with 10 and 90 % bounds"`
	Notes    []string     `json:"notes,omitempty" doc:"how it fits with the other jobs of the day"`
	Cautions []string     `json:"cautions,omitempty"`
}

// Mix is how much to mix.
type Mix struct {
	Litres  float64    `json:"litres" doc:"of mix for the bed"`
	Grams   float64    `json:"grams" doc:"of product (millilitres for a liquid)"`
	Unit    string     `json:"unit" enum:"g,mL"`
	RateGL  float64    `json:"rate_g_per_l"`
	Tanks   float64    `json:"tanks,omitempty" doc:"tank loads, when the tank is known"`
	Source  string     `json:"source"`
	Grade   cite.Grade `json:"grade"`
	Comment string     `json:"comment,omitempty"`
}

// Window is a span of hours, local time.
type Window struct {
	From string `json:"from" format:"date-time"`
	To   string `json:"to" format:"date-time"`
}

// Band is a number with its uncertainty.
type Band struct {
	Low  float64 `json:"low" doc:"10 % bound"`
	Mid  float64 `json:"mid" doc:"median, or the mean where it is an expected value"`
	High float64 `json:"high" doc:"90 % bound"`
}

// BedReport is everything about one bed.
type BedReport struct {
	Bed       garden.BedID `json:"bed"`
	Name      string       `json:"name"`
	Order     int          `json:"order"`
	Crop      string       `json:"crop,omitempty"`
	Cultivar  string       `json:"cultivar,omitempty"`
	Shelter   string       `json:"shelter"`
	AreaM2    float64      `json:"area_m2"`
	LengthM   float64      `json:"length_m"`
	WidthM    float64      `json:"width_m"`
	XM        float64      `json:"x_m" doc:"centre, m east of the garden's corner"`
	YM        float64      `json:"y_m" doc:"centre, m north of the garden's corner"`
	LeafArea  Band         `json:"leaf_area_m2" doc:"one-sided leaf area in the bed"`
	LastLook  string       `json:"last_look,omitempty" format:"date" doc:"absent: nobody has looked"`
	Looked    string       `json:"looked" doc:"what the looks so far say, in one sentence"`
	Covered   Band         `json:"covered" doc:"share of leaf area visibly mildewed this morning, all mildews together"`
	Upper     Band         `json:"covered_upper"`
	Lower     Band         `json:"covered_lower"`
	Incidence Band         `json:"incidence_old_leaves" doc:"share of old leaves with any mildew on either face"`
	Doubling  *Band        `json:"doubling_days,omitempty" doc:"days in which the covered share doubles; absent when it does not grow"`
	Mildews   []Belief     `json:"mildews"`
	Alone     []FanDay     `json:"forecast_alone" doc:"covered share of the coming days when left alone"`
	Planned   []FanDay     `json:"forecast_planned" doc:"the same with today's plan"`
	Verdict   string       `json:"verdict" enum:"look,remove,treat,wait,nothing,cannot-tell,past-rescue,season-over,no-crop"`
	Reason    string       `json:"reason"`
	Tried     []Tried      `json:"tried" doc:"every candidate, best first"`
	Waiting   *Band        `json:"cost_of_waiting_3_days,omitempty" doc:"what three days of waiting would cost, in the user's money"`
	EnterFrom string       `json:"may_be_entered_from,omitempty" doc:"date and time before which nobody goes in, or unknown"`
	PickFrom  string       `json:"may_be_picked_from,omitempty" doc:"date and time, or unknown"`
}

// Belief is what the looks say about one mildew in one bed.
type Belief struct {
	Mildew      garden.MildewID `json:"mildew"`
	Name        string          `json:"name"`
	Probability float64         `json:"probability" doc:"that it is this one, among those that look alike"`
	Covered     Band            `json:"covered"`
	ESS         float64         `json:"effective_sample_size" doc:"after tempering"`
	RawESS      float64         `json:"raw_effective_sample_size" doc:"before tempering; below 50 the weights were tempered and the band is wider"`
	Temper      float64         `json:"temper" doc:"exponent put on the likelihood, 1 when not tempered"`
	Learned     []Learned       `json:"learned,omitempty" doc:"what the looks say about each parameter; absent: nobody has looked, or this mildew is hardly likely"`
}

// FanDay is one day of a forecast.
type FanDay struct {
	Date string `json:"date" format:"date"`
	Band
}

// Tried is one candidate of a bed.
type Tried struct {
	Name    string   `json:"name"`
	Kind    string   `json:"kind"`
	Run     bool     `json:"run" doc:"false: a rule forbids it, so it was not tried and net says nothing"`
	Net     Band     `json:"net" doc:"expected gain over leaving it alone"`
	Minutes float64  `json:"minutes"`
	Cost    float64  `json:"cost" doc:"material, in the user's money"`
	Refused []Check  `json:"refused,omitempty" doc:"rules that forbid it today or that want an answer first"`
	Checked []string `json:"checked,omitempty" doc:"rules looked at and met"`
}

// Check is one rule and its verdict.
type Check struct {
	Rule    string     `json:"rule"`
	Outcome string     `json:"outcome" enum:"ok,refused,ask,caution"`
	Reason  string     `json:"reason"`
	Source  string     `json:"source"`
	Grade   cite.Grade `json:"grade"`
}

// WeatherReport says what the weather behind the round is made of.
type WeatherReport struct {
	Measured  int     `json:"measured_hours" doc:"hours measured since the first planting"`
	Filled    int     `json:"filled_hours" doc:"hours filled from the hours around, from forecasts of that time or from the climate"`
	Until     string  `json:"measured_until,omitempty" format:"date-time"`
	Forecast  string  `json:"forecast" doc:"what the days ahead are made of"`
	TodayMax  Band    `json:"today_max_c"`
	RainToday Band    `json:"rain_today_mm" doc:"rain of today that is still to come"`
	Origin    string  `json:"origin,omitempty" doc:"origin and licence of measured data"`
	Mean7     float64 `json:"mean_7_days_c" doc:"mean temperature of the last seven days"`
}

// Assumption is a fact that was not stated.
type Assumption struct {
	What   string     `json:"what"`
	Yours  bool       `json:"yours" doc:"true: you can state it; false: a number inside the models"`
	Value  string     `json:"value"`
	Source string     `json:"source"`
	Grade  cite.Grade `json:"grade"`
}
