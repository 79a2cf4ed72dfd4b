package garden

import "time"

// Ids of things the user names. They are written by the user or made where the
// entry was written, and never change.
type (
	BedID      string
	PlantingID string
	EntryID    string
	MaterialID string // active ingredient and form, never a brand
	CropID     string
	MildewID   string // a pathosystem
)

// Face is a side of a leaf.
type Face uint8

// The two faces.
const (
	Upper Face = iota
	Lower
	Faces = 2
)

func (f Face) String() string { return [...]string{"upper", "lower"}[f] }

// LeafAge is the class of leaf that a person in the garden can tell apart.
type LeafAge uint8

// The three ages. Limits in days are with the crop.
const (
	Young LeafAge = iota
	Middle
	Old
	LeafAges = 3
)

func (a LeafAge) String() string { return [...]string{"young", "middle", "old"}[a] }

// Role is in which capacity the user acts; it decides what may be handed out.
type Role string

// The roles.
const (
	Private   Role = "private"    // own use on own ground
	Grower    Role = "grower"     // sells the harvest
	Adviser   Role = "adviser"    // tells others what to do
	HiredHand Role = "hired-hand" // works for somebody else for pay
)

// Site is the place and its standing facts, as last stated before the date.
type Site struct {
	Name      string
	Seed      uint64  // of the garden's random streams
	Latitude  float64 // degrees north
	Longitude float64 // degrees east
	Altitude  float64 // metres
	Zone      string  // IANA name
	Country   string  // ISO 3166-1 alpha-2, "" unknown
	Role      Role
	Maritime  bool    // near a sea that tempers the year
	Units     string  // "metric", "us", "imperial"
	Minutes   float64 // that each pair of hands has for the round today
	Hands     int
	WageHour  float64 // value of an hour of work, in the user's money; 0 not stated
	Money     string  // name of the user's money, for print only
	Sprayer   Sprayer
	Invented  bool // an example that does not exist
}

// Sprayer is what the user applies liquids with.
type Sprayer struct {
	Kind  string  // "hand-lance", "knapsack", "boom", "air-assisted", "" not stated
	LPerM float64 // measured output in litres a minute, 0 not measured
	TankL float64 // litres, 0 not stated
}

// Shelter is what stands over a bed.
type Shelter string

// The shelters.
const (
	Open   Shelter = "open"
	Tunnel Shelter = "tunnel"
)

// Bed is a piece of ground in walking order.
type Bed struct {
	ID       BedID
	Name     string
	Order    int     // place in the walk
	Length   float64 // m
	Width    float64 // m
	X, Y     float64 // centre, m east and north of the garden's corner
	Shelter  Shelter
	Soil     string
	Role     string // "bed", "tray", "quarantine"
	Settings []Setting
}

// Area returns the ground area in square metres.
func (b Bed) Area() float64 { return b.Length * b.Width }

// Setting is a standing fact of a bed from a date on, such as drip irrigation
// at seven or vents open by day.
type Setting struct {
	From  time.Time
	Water string // "drip", "overhead", "hand", "" not stated
	Vents string // "open", "closed", "day" (open by day), "" not stated
	Shade float64
	Light float64 // hours of light a day from lamps, 0 none
}

// Planting is a crop in a bed between two dates.
type Planting struct {
	ID         PlantingID
	Bed        BedID
	Crop       CropID
	Cultivar   string
	Resistance Resistance
	Plants     int
	Planted    Day
	Since      Day        // came to this bed from another on this day; 0: planted here
	From       PlantingID // the planting it was there
	FirstPick  Day        // 0 not stated
	LastPick   Day        // 0 not stated
	Cleared    Day        // 0 still standing
	// ValueM2Day is what a square metre brings on a day of picking or of
	// looking well, in the user's money; 0 not stated.
	ValueM2Day float64
	Burden     string // how heavy extra work weighs: "light", "normal", "heavy", "" normal
}

// Host is a living plant near the beds, other than the plantings, that may
// carry mildew over or bring it.
type Host struct {
	ID       string
	Plant    string
	Crop     CropID // "" not one of the program
	As       string // "volunteer", "weed", "hedge", ..., "" not stated
	Near     BedID  // "" not stated
	Distance float64
	Mildewed string // "no", "some", "much", "not looked", "" not stated
	Seen     time.Time
	Gone     Day // 0 still there
}

// Climate is one act on air, water or light.
type Climate struct {
	Entry   EntryID
	Bed     BedID
	Act     string // "vents opened", "watered overhead", "uv-c", ...
	Start   time.Time
	End     time.Time // zero: until the next act on the same thing
	Shade   float64
	WaterMM float64
	UVJM2   float64
	PeakC   *float64
}

// Resistance is the rating a seed list gives.
type Resistance string

// The ratings. Resistant is not immune.
const (
	Susceptible  Resistance = "susceptible"
	Intermediate Resistance = "intermediate"
	High         Resistance = "high"
	Unknown      Resistance = ""
)

// Count is one line of a tally: leaves of one plant, age and face.
type Count struct {
	Plant     int // number of the plant within the tally, from 1
	Age       LeafAge
	Face      Face
	Inspected int
	Infected  int
}

// Tally is a look at a bed, plant by plant.
type Tally struct {
	Entry  EntryID
	Bed    BedID
	Time   time.Time
	Who    string
	Check  string // "eye", "lens", "wet-bag"
	Sure   string // "sure", "likely", "cannot tell" that it is powdery mildew
	Counts []Count
}

// Severity is a reading of the share of leaf area covered.
type Severity struct {
	Entry EntryID
	Bed   BedID
	Time  time.Time
	Who   string
	Age   LeafAge
	Whole bool // of the whole canopy, Age is then without meaning
	Face  Face
	Share float64 // 0 to 1
	// Scale and Value are the reading as entered, when it was a grade of a scale:
	// Low and High are then the cuts of the grade. All are zero for a percentage.
	Scale     string
	Value     float64
	Low, High float64
}

// EyeCheck is how a person read leaves whose cover is known.
type EyeCheck struct {
	Entry EntryID
	Time  time.Time
	Who   string
	Truth []float64 // share covered, a leaf each
	Read  []float64 // what was read of it
}

// Diagnosis is what somebody found the spots in a bed to be.
type Diagnosis struct {
	Entry   EntryID
	Bed     BedID // "" not of one bed
	Time    time.Time
	Verdict string // "powdery mildew", "downy mildew", ..., "cannot tell"
	Sure    string // "sure", "likely", "cannot tell"
}

// Treatment is an application of a material.
type Treatment struct {
	Entry    EntryID
	Bed      BedID
	Material MaterialID
	Start    time.Time
	End      time.Time // zero: not recorded, counted as 23:59 of the start's day
	Litres   float64   // of mix, 0 not recorded
	Grams    float64   // of product, 0 not recorded
	Below    bool      // sprayed at the underside too
	Test     bool      // on a test leaf only
	Untreat  int       // marked leaves left untreated as a check
}

// Removal is leaves taken off.
type Removal struct {
	Entry EntryID
	Bed   BedID
	Time  time.Time
	Share float64 // of the leaf area of the bed, 0 to 1
	Ages  [LeafAges]bool
}

// Harvest is produce taken.
type Harvest struct {
	Entry EntryID
	Bed   BedID
	Time  time.Time
	Kg    float64
}

// Label is what the user read on the label in force here. A nil number has not
// been entered and is unknown: it blocks, it is never guessed.
type Label struct {
	Entry        EntryID
	Material     MaterialID
	Crop         CropID // "" all crops on the label
	Read         time.Time
	Registration string
	RateLowGL    *float64 // grams (or millilitres) of product in a litre of mix
	RateHighGL   *float64
	HarvestDays  *float64 // days from the end of the treatment to harvest
	ReentryHours *float64
	IntervalDays *float64 // least days between two treatments
	MaxSeason    *int
	Stages       string
	Content      *float64 // active ingredient in the product, share of mass; of copper the metal
}

// Stock is a material that stands in the shed.
type Stock struct {
	Material MaterialID
	Batch    string
	Opened   Day
	Amount   float64 // kg or L left, 0 not stated
	Price    float64 // in the user's money for a kilogram or litre, 0 not stated
}

// Garden is the state of things as known at one instant: a fold over the
// entries known by then. Lists are ordered by time, then entry id, so that the
// same entries in any order of arrival give the same value.
type Garden struct {
	AsOf       time.Time
	Site       Site
	Beds       []Bed      // in walking order
	Plantings  []Planting // by bed order, then date
	Hosts      []Host     // by id
	Climates   []Climate
	Labels     []Label
	Stock      []Stock
	Tallies    []Tally
	Severities []Severity
	EyeChecks  []EyeCheck
	Diagnoses  []Diagnosis
	Treatments []Treatment
	Removals   []Removal
	Harvests   []Harvest
	Warnings   []Warning
}

// Warning is something the user should know about a result; it travels with the
// result as data.
type Warning struct {
	Code string `json:"code" doc:"stable word that names the kind of warning"`
	Bed  BedID  `json:"bed,omitempty" doc:"the bed it concerns, if one"`
	Text string `json:"text" doc:"one sentence for the user"`
}
