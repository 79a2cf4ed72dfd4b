package ledger

import (
	"slices"
	"strings"
	"time"

	"oidium/garden"
)

// Removal is the body of kind "removal".
type Removal struct {
	Share   float64  `json:"share" doc:"share of the leaf area of the bed taken off" rule:"required;over=0;max=1;hint=a share from 0 to 1"`
	Ages    []string `json:"ages" doc:"ages of the leaves taken" rule:"required;items=3;enum=young|middle|old"`
	Leaves  int      `json:"leaves,omitempty" doc:"leaves taken, counted" rule:"min=0;max=1000000"`
	Plants  int      `json:"plants,omitempty" doc:"plants they were taken from" rule:"min=0;max=1000000"`
	Plot    string   `json:"plot,omitempty" doc:"plot of a trial" rule:"word"`
	To      string   `json:"to,omitempty" doc:"where the leaves went" rule:"enum=left|heap|bin|buried|burned|taken away"`
	Heap    string   `json:"heap,omitempty" doc:"id of the heap they went on" rule:"word"`
	Minutes *float64 `json:"minutes,omitempty" doc:"minutes it took" rule:"min=0;max=1440"`
}

func (*Removal) check(*Entry) Problems { return nil }

// Treatment is the body of kind "treatment": the application, and with it the
// record, the notice to workers and the clock to the harvest.
type Treatment struct {
	Material  string     `json:"material" doc:"active ingredient and form, by its id in the program" rule:"required;vocab=material"`
	End       *time.Time `json:"end,omitempty" doc:"when it ended; not stated: counted as 23:59 of that day"`
	Clock     string     `json:"clock,omitempty" doc:"how well the beginning is known" rule:"enum=exact|about|date only"`
	Litres    *float64   `json:"litres,omitempty" doc:"mix used, litres" rule:"min=0"`
	Grams     *float64   `json:"grams,omitempty" doc:"product used, grams (of a liquid: millilitres)" rule:"min=0"`
	Below     bool       `json:"below,omitempty" doc:"sprayed at the underside of the leaves too"`
	Test      bool       `json:"test,omitempty" doc:"on a test leaf only"`
	Untreated int        `json:"untreated_leaves,omitempty" doc:"marked leaves left untreated as a check" rule:"min=0;max=100000"`

	Planting string   `json:"planting,omitempty" doc:"the planting treated" rule:"word"`
	Plot     string   `json:"plot,omitempty" doc:"plot of a trial" rule:"word"`
	AreaM2   *float64 `json:"area_m2,omitempty" doc:"ground treated, m2; not stated: the whole bed" rule:"over=0"`
	Spot     bool     `json:"spot,omitempty" doc:"spots only"`
	Use      string   `json:"use,omitempty" doc:"type of use" rule:"enum=area|closed space|seed"`
	CropEPPO string   `json:"crop_eppo,omitempty" doc:"EPPO code of the crop" rule:"word;len=8"`
	BBCH     string   `json:"bbch,omitempty" doc:"growth stage as the user gives it" rule:"len=50"`
	Target   string   `json:"target,omitempty" doc:"what it is against" rule:"len=200"`
	TgtEPPO  string   `json:"target_eppo,omitempty" doc:"EPPO code of what it is against" rule:"word;len=8"`
	Reason   string   `json:"reason,omitempty" doc:"why, and what makes it necessary" rule:"len=2000"`
	Seen     []string `json:"seen,omitempty" doc:"ids of the looks that led to it" rule:"items=100;uuid"`

	Product      string   `json:"product,omitempty" doc:"name on the pack, for records only" rule:"len=200"`
	Registration string   `json:"registration,omitempty" doc:"registration or authorisation number as printed" rule:"len=100"`
	Actives      []Active `json:"actives,omitempty" doc:"active ingredients as printed" rule:"items=10"`
	Batch        string   `json:"batch,omitempty" doc:"batch on the pack" rule:"len=100"`
	FRAC         string   `json:"frac,omitempty" doc:"resistance group as printed" rule:"len=50"`
	Dose         string   `json:"dose,omitempty" doc:"dose as printed" rule:"len=200"`
	WaterSource  string   `json:"water_source,omitempty" doc:"where the water is from" rule:"len=100"`
	WaterPH      *float64 `json:"water_ph,omitempty" doc:"pH of the water" rule:"min=0;max=14"`
	WaterHard    *float64 `json:"water_hardness_mg_l,omitempty" doc:"hardness of the water, mg/L CaCO3" rule:"min=0;max=5000"`
	Adjuvant     string   `json:"adjuvant,omitempty" doc:"what was added" rule:"len=200"`
	With         []string `json:"with,omitempty" doc:"other materials in the tank" rule:"items=10;vocab=material"`

	Equipment string   `json:"equipment,omitempty" doc:"what it was applied with" rule:"len=200"`
	Nozzle    string   `json:"nozzle,omitempty" doc:"nozzle" rule:"len=100"`
	Pressure  *float64 `json:"pressure_bar,omitempty" doc:"pressure, bar" rule:"min=0;max=500"`
	Speed     *float64 `json:"speed_m_s,omitempty" doc:"speed over ground, m/s" rule:"min=0;max=20"`
	Output    *float64 `json:"output_l_min,omitempty" doc:"output, litres a minute" rule:"min=0;max=1000"`

	AirT     *float64 `json:"air_c,omitempty" doc:"air temperature, degrees C" rule:"min=-30;max=60"`
	AirRH    *float64 `json:"rh,omitempty" doc:"relative humidity, %" rule:"min=0;max=100;hint=per cent"`
	Wind     *float64 `json:"wind_m_s,omitempty" doc:"wind speed, m/s" rule:"min=0;max=50"`
	WindFrom string   `json:"wind_from,omitempty" doc:"where the wind comes from" rule:"enum=N|NE|E|SE|S|SW|W|NW|calm"`
	Cloud    *float64 `json:"cloud,omitempty" doc:"share of sky under cloud" rule:"min=0;max=1;hint=a share from 0 to 1"`
	LeafDry  *bool    `json:"leaf_dry,omitempty" doc:"the leaves were dry"`
	Bloom    *bool    `json:"bloom,omitempty" doc:"the crop or weeds under it were in flower"`
	Bees     *bool    `json:"bees,omitempty" doc:"bees were flying"`

	Licence     string     `json:"licence,omitempty" doc:"certificate of the applicator" rule:"len=100;personal"`
	Supervisor  string     `json:"supervisor,omitempty" doc:"who supervised" rule:"len=200;personal"`
	Customer    string     `json:"customer,omitempty" doc:"for whom it was done" rule:"len=200;personal"`
	Address     string     `json:"address,omitempty" doc:"address of the customer" rule:"len=500;personal"`
	PPE         string     `json:"ppe,omitempty" doc:"protective equipment worn" rule:"len=500"`
	Reentry     *time.Time `json:"reentry,omitempty" doc:"from when people may enter, as the user read it"`
	HarvestFrom *time.Time `json:"harvest_from,omitempty" doc:"from when it may be harvested, as the user read it"`
	Incident    string     `json:"incident,omitempty" doc:"drift, spill or other incident" rule:"len=2000"`
	CheckOn     garden.Day `json:"check_on,omitzero" doc:"when the result is to be looked at"`
	Remarks     string     `json:"remarks,omitempty" doc:"remarks" rule:"len=2000"`
}

func (t *Treatment) check(e *Entry) (ps Problems) {
	if t.End != nil && t.End.Before(e.Time) {
		ps = append(ps, problem("end", "is before the time it began", "the time of the entry is when the treatment began")...)
	}
	for name, at := range map[string]*time.Time{"reentry": t.Reentry, "harvest_from": t.HarvestFrom} {
		if at != nil && at.Before(e.Time) {
			ps = append(ps, problem(name, "is before the time the treatment began", "")...)
		}
	}
	slices.SortFunc(ps, func(a, b Problem) int { return strings.Compare(a.Field, b.Field) })
	return ps
}

// Climate is the body of kind "climate": one act on air, water or light; the
// time of the entry is when it began.
type Climate struct {
	Act     string     `json:"act" doc:"what was done" rule:"required;enum=vents opened|vents closed|shade put on|shade taken off|watered overhead|watered below|misted|heated|closed to heat|lamps|uv-c"`
	End     *time.Time `json:"end,omitempty" doc:"when it ended; not stated: it holds until the next act on the same thing"`
	Shade   *float64   `json:"shade,omitempty" doc:"share of light taken away" rule:"min=0;max=1;hint=a share from 0 to 1"`
	WaterMM *float64   `json:"water_mm,omitempty" doc:"water given, mm (L/m2)" rule:"min=0;max=500"`
	Dose    *float64   `json:"uv_j_m2,omitempty" doc:"UV-C dose at the leaf, J/m2" rule:"min=0;max=10000"`
	Dark    *bool      `json:"dark_after,omitempty" doc:"it was dark for four hours afterwards"`
	Peak    *float64   `json:"peak_c,omitempty" doc:"highest temperature at the leaf, degrees C" rule:"min=-30;max=80"`
}

func (c *Climate) check(e *Entry) Problems {
	if c.End != nil && c.End.Before(e.Time) {
		return problem("end", "is before the time it began", "the time of the entry is when it began")
	}
	return nil
}

// Harvest is the body of kind "harvest".
type Harvest struct {
	Kg       float64  `json:"kg" doc:"produce taken, kg" rule:"required;min=0"`
	Planting string   `json:"planting,omitempty" doc:"the planting it is from" rule:"word"`
	Plot     string   `json:"plot,omitempty" doc:"plot of a trial" rule:"word"`
	Pieces   int      `json:"pieces,omitempty" doc:"pieces, counted" rule:"min=0;max=1000000"`
	Saleable *float64 `json:"saleable,omitempty" doc:"share of it fit for sale" rule:"min=0;max=1;hint=a share from 0 to 1"`
	Lot      string   `json:"lot,omitempty" doc:"lot, for tracing" rule:"len=100"`
}

func (*Harvest) check(*Entry) Problems { return nil }
