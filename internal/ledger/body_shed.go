package ledger

import "oidium/garden"

// Stock is the body of kind "stock".
type Stock struct {
	Material string     `json:"material" doc:"active ingredient and form, by its id in the program" rule:"required;vocab=material"`
	Product  string     `json:"product,omitempty" doc:"name on the pack, for records only" rule:"len=200"`
	Batch    string     `json:"batch,omitempty" doc:"batch on the pack" rule:"len=100"`
	Opened   garden.Day `json:"opened,omitzero" doc:"day the pack was opened"`
	Expires  garden.Day `json:"expires,omitzero" doc:"date on the pack after which it is not to be used"`
	Amount   *float64   `json:"amount,omitempty" doc:"kg or L left" rule:"min=0"`
	Unit     string     `json:"unit,omitempty" doc:"unit of amount and price" rule:"enum=kg|L"`
	Price    *float64   `json:"price,omitempty" doc:"price of a kilogram or litre, in the user's money" rule:"min=0"`
}

func (*Stock) check(*Entry) Problems { return nil }

// Label is the body of kind "label".
type Label struct {
	Material     string     `json:"material" doc:"active ingredient and form, by its id in the program" rule:"required;vocab=material"`
	Crop         string     `json:"crop,omitempty" doc:"the crop these values are for; not stated: every crop on the label" rule:"vocab=crop"`
	Product      string     `json:"product,omitempty" doc:"name on the label, for records only" rule:"len=200"`
	Actives      []Active   `json:"actives,omitempty" doc:"active ingredients as printed" rule:"items=10"`
	Registration string     `json:"registration,omitempty" doc:"registration or authorisation number as printed" rule:"len=100"`
	RateLow      *float64   `json:"rate_low_g_per_l,omitempty" doc:"lowest rate, grams (of a liquid: millilitres) of product in a litre of mix" rule:"min=0;max=1000"`
	RateHigh     *float64   `json:"rate_high_g_per_l,omitempty" doc:"highest rate, as above" rule:"min=0;max=1000"`
	HarvestDays  *float64   `json:"harvest_days,omitempty" doc:"days from the end of treatment to harvest" rule:"min=0;max=365"`
	ReentryHours *float64   `json:"reentry_hours,omitempty" doc:"hours from the end of treatment until people may enter" rule:"min=0;max=1000"`
	IntervalDays *float64   `json:"interval_days,omitempty" doc:"least days between two treatments" rule:"min=0;max=365"`
	MaxSeason    *int       `json:"max_season,omitempty" doc:"most treatments in a season" rule:"min=0;max=100"`
	Content      *float64   `json:"content,omitempty" doc:"active ingredient in the product, share of mass; of copper the metal" rule:"over=0;max=1;hint=a share from 0 to 1"`
	RateArea     *float64   `json:"rate_max_g_per_m2,omitempty" doc:"highest rate on ground, grams (of a liquid: millilitres) of product on a square metre" rule:"min=0;max=1000"`
	MaxWind      *float64   `json:"max_wind_m_s,omitempty" doc:"highest wind, m/s" rule:"min=0;max=50"`
	Buffer       *float64   `json:"buffer_m,omitempty" doc:"distance to keep from water, m" rule:"min=0;max=1000"`
	Bees         string     `json:"bees,omitempty" doc:"what is printed on bees" rule:"len=500"`
	PPE          string     `json:"ppe,omitempty" doc:"protective equipment as printed" rule:"len=1000"`
	FRAC         string     `json:"frac,omitempty" doc:"resistance group as printed" rule:"len=50"`
	HourLimited  *bool      `json:"hour_limited,omitempty" doc:"the authorisation allows it only at certain hours"`
	StageLimited *bool      `json:"stage_limited,omitempty" doc:"the authorisation allows it only at certain growth stages"`
	Restricted   *bool      `json:"restricted,omitempty" doc:"only a certified applicator may use it"`
	Organic      *bool      `json:"organic,omitempty" doc:"allowed in organic growing here"`
	ValidTo      garden.Day `json:"valid_to,omitzero" doc:"last day on which the authorisation allows its use"`
	Stages       string     `json:"stages,omitempty" doc:"growth stages it is allowed at, as printed" rule:"len=500"`
}

// Active is part of [Label] and [Treatment].
type Active struct {
	Name    string   `json:"name" doc:"active ingredient" rule:"required;len=200"`
	Content *float64 `json:"content,omitempty" doc:"content" rule:"min=0"`
	Unit    string   `json:"unit,omitempty" doc:"unit of the content" rule:"enum=g/L|g/kg|%|CFU/g|CFU/mL"`
}

func (l *Label) check(*Entry) Problems {
	if l.RateLow != nil && l.RateHigh != nil && *l.RateHigh < *l.RateLow {
		return problem("rate_high_g_per_l", "is below the lowest rate", "are the two exchanged?")
	}
	return nil
}
