package ledger

import (
	"strconv"
	"time"

	"oidium/garden"
)

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
	Holder    string   `json:"holder,omitempty" doc:"who keeps the garden, for records" rule:"len=200;personal"`
	Address   string   `json:"address,omitempty" doc:"address, for records" rule:"len=500;personal"`
	Licence   string   `json:"licence,omitempty" doc:"certificate or registration of the user, for records" rule:"len=100;personal"`
	Holding   string   `json:"holding,omitempty" doc:"number of the holding, for records" rule:"len=100"`
	Records   []string `json:"records,omitempty" doc:"ids of the record rules the user wants checked" rule:"items=20;word"`
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
	Parent  string   `json:"parent,omitempty" doc:"what it is part of, such as a house or a field" rule:"word"`
	Parcel  string   `json:"parcel,omitempty" doc:"land unit as the authority names it" rule:"len=200"`
	Outline []Corner `json:"outline,omitempty" doc:"corners in order, WGS 84" rule:"items=500"`
	Role    string   `json:"role,omitempty" doc:"a bed in the garden, a tray of young plants, or plants kept apart" rule:"enum=bed|tray|quarantine"`
}

// Corner is part of [Bed].
type Corner struct {
	Longitude float64 `json:"longitude" doc:"degrees east" rule:"required;min=-180;max=180"`
	Latitude  float64 `json:"latitude" doc:"degrees north" rule:"required;min=-90;max=90"`
}

func (b *Bed) check(*Entry) Problems {
	if n := len(b.Outline); n > 0 && n < 3 {
		return problem("outline", "has fewer than three corners", "give the corners in order, the first not again")
	}
	return nil
}

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
	CropEPPO   string     `json:"crop_eppo,omitempty" doc:"EPPO code of the crop, from the official list" rule:"word;len=8"`
	Cultivar   string     `json:"cultivar,omitempty" doc:"cultivar" rule:"len=200"`
	Resistance string     `json:"resistance,omitempty" doc:"rating in the seed list" rule:"enum=susceptible|intermediate|high"`
	Claim      string     `json:"claim,omitempty" doc:"rating as printed, with the races named" rule:"len=200"`
	Plants     *int       `json:"plants,omitempty" doc:"number of plants" rule:"min=0;max=1000000"`
	Planted    garden.Day `json:"planted,omitzero" doc:"date of planting; not stated: the date of the entry"`
	FirstPick  garden.Day `json:"first_pick,omitzero" doc:"first day of picking, expected or seen"`
	LastPick   garden.Day `json:"last_pick,omitzero" doc:"last day of picking, expected or seen"`
	Cleared    garden.Day `json:"cleared,omitzero" doc:"day the plants were cleared away"`
	Spacing    *float64   `json:"spacing_m,omitempty" doc:"between plants in the row, m" rule:"over=0;max=100"`
	Row        *float64   `json:"row_m,omitempty" doc:"between rows, m" rule:"over=0;max=100"`
	Training   string     `json:"training,omitempty" doc:"how the plants are led" rule:"enum=ground|string|trellis|cage|bush|espalier"`
	Source     string     `json:"source,omitempty" doc:"where the plants come from" rule:"enum=sown here|own starts|bought starts|standing"`
	PickEvery  *float64   `json:"pick_every_days,omitempty" doc:"days between two pickings" rule:"over=0;max=365"`
	PickOn     []string   `json:"pick_on,omitempty" doc:"weekdays of picking" rule:"items=7;enum=monday|tuesday|wednesday|thursday|friday|saturday|sunday"`
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

// Host is the body of kind "host".
type Host struct {
	Host     string     `json:"host" doc:"id of the plant or stand, made by the user" rule:"required;word"`
	Plant    string     `json:"plant,omitempty" doc:"what it is, as the user calls it" rule:"len=200"`
	Crop     string     `json:"crop,omitempty" doc:"the crop of the program it is, if one" rule:"vocab=crop"`
	As       string     `json:"as,omitempty" doc:"how it comes to be there" rule:"enum=volunteer|weed|ornamental|hedge|house plant|neighbour's crop|left from last year"`
	Near     string     `json:"near,omitempty" doc:"id of the nearest bed" rule:"word"`
	Distance *float64   `json:"distance_m,omitempty" doc:"distance to that bed, m" rule:"min=0;max=100000"`
	Mildewed string     `json:"mildewed,omitempty" doc:"whether it has mildew" rule:"enum=no|some|much|not looked"`
	Gone     garden.Day `json:"gone,omitzero" doc:"day it was taken away or died"`
}

func (*Host) check(*Entry) Problems { return nil }

// Move is the body of kind "move"; the bed of the entry is where the plants
// stood before.
type Move struct {
	Planting string `json:"planting" doc:"id of the planting that is moved" rule:"required;word"`
	To       string `json:"to" doc:"id of the bed they are moved to" rule:"required;word"`
	As       string `json:"as" doc:"id of the planting there, made by the user" rule:"required;word"`
	Plants   *int   `json:"plants,omitempty" doc:"how many are moved; not stated: all" rule:"min=1;max=1000000"`
}

func (m *Move) check(e *Entry) Problems {
	if m.To == string(e.Bed) {
		return problem("to", "is the bed the plants stand in", "name another bed")
	}
	if m.As == m.Planting {
		return problem("as", "is the id of the planting that is moved", "make a new id for the planting in the other bed")
	}
	return nil
}
