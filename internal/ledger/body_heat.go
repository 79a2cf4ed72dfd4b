package ledger

import (
	"time"

	"oidium/garden"
)

// Heap is the body of kind "heap": a compost heap.
type Heap struct {
	Heap    string     `json:"heap" doc:"id of the heap, made by the user" rule:"required;word"`
	Kind    string     `json:"kind,omitempty" doc:"how it is built" rule:"enum=pile|bin|closed bin|windrow|vessel|aerated pile"`
	Volume  *float64   `json:"volume_m3,omitempty" doc:"volume, m3" rule:"over=0;max=10000"`
	Height  *float64   `json:"height_m,omitempty" doc:"height, m" rule:"over=0;max=20"`
	Started garden.Day `json:"started,omitzero" doc:"day it was begun"`
	Closed  garden.Day `json:"closed,omitzero" doc:"day the last went on"`
	Used    garden.Day `json:"used,omitzero" doc:"day it was spread"`
}

func (*Heap) check(*Entry) Problems { return nil }

// HeapFill is the body of kind "heap-fill": what went on a heap.
type HeapFill struct {
	Heap   string   `json:"heap" doc:"id of the heap" rule:"required;word"`
	What   string   `json:"what" doc:"what went on" rule:"required;enum=mildewed leaves|clean leaves|stems|grass|straw|wood chips|manure|kitchen|old compost|soil"`
	Litres *float64 `json:"litres,omitempty" doc:"how much, litres" rule:"min=0"`
	Kg     *float64 `json:"kg,omitempty" doc:"how much, kg" rule:"min=0"`
	Where  string   `json:"where,omitempty" doc:"where in the heap" rule:"enum=middle|mixed|edge|top"`
}

func (*HeapFill) check(*Entry) Problems { return nil }

// HeapTurn is the body of kind "heap-turn".
type HeapTurn struct {
	Heap    string   `json:"heap" doc:"id of the heap" rule:"required;word"`
	Watered *float64 `json:"watered_l,omitempty" doc:"water given, litres" rule:"min=0"`
	Squeeze string   `json:"squeeze,omitempty" doc:"a handful, squeezed" rule:"enum=dust|holds|drops|runs"`
}

func (*HeapTurn) check(*Entry) Problems { return nil }

// Reading is the body of kind "reading": temperatures read by hand.
type Reading struct {
	Place   string   `json:"place" doc:"in what" rule:"required;enum=heap|soil|air|leaf|mulch"`
	Heap    string   `json:"heap,omitempty" doc:"id of the heap" rule:"word"`
	Zone    string   `json:"zone,omitempty" doc:"where in the heap" rule:"enum=core|middle|edge|corner|top|bottom"`
	DepthM  *float64 `json:"depth_m,omitempty" doc:"depth below the surface, m" rule:"min=0;max=10"`
	Celsius *float64 `json:"t_c,omitempty" doc:"temperature, degrees C" rule:"min=-60;max=120"`
	Moist   *float64 `json:"moisture,omitempty" doc:"water, share of mass" rule:"min=0;max=1;hint=a share from 0 to 1"`
	Probe   string   `json:"probe,omitempty" doc:"which thermometer" rule:"len=100"`
}

func (r *Reading) check(e *Entry) Problems { return checkPlace(e, r.Place, r.Heap) }

// Log is the body of kind "log": the values of a logger.
type Log struct {
	Place  string    `json:"place" doc:"in what" rule:"required;enum=heap|soil|air|leaf|mulch"`
	Heap   string    `json:"heap,omitempty" doc:"id of the heap" rule:"word"`
	Zone   string    `json:"zone,omitempty" doc:"where in the heap" rule:"enum=core|middle|edge|corner|top|bottom"`
	DepthM *float64  `json:"depth_m,omitempty" doc:"depth below the surface, m" rule:"min=0;max=10"`
	Probe  string    `json:"probe,omitempty" doc:"which logger" rule:"len=100"`
	Start  time.Time `json:"start" doc:"time of the first value, with zone" rule:"required"`
	Step   float64   `json:"step_min" doc:"minutes between two values" rule:"required;over=0;max=1440"`
	T      Values    `json:"t" doc:"temperature, degrees C; null where it is missing" rule:"required;min=-60;max=120;holes"`
}

func (l *Log) check(e *Entry) Problems { return checkPlace(e, l.Place, l.Heap) }

func checkPlace(e *Entry, place, heap string) Problems {
	switch {
	case place == "heap" && heap == "":
		return problem("heap", "is missing", "say which heap")
	case place != "heap" && heap != "":
		return problem("heap", "does not belong to a value in "+place, "leave it out, or say that the place is the heap")
	case place != "heap" && e.Bed == "":
		return Problems{{Field: "bed", What: "is missing: a value in " + place + " needs it", Hint: "say which bed"}}
	}
	return nil
}

// Plastic is the body of kind "plastic": clear film on a bed.
type Plastic struct {
	Act       string   `json:"act" doc:"what was done" rule:"required;enum=laid|wetted|mended|lifted"`
	Film      string   `json:"film,omitempty" doc:"what film" rule:"enum=clear|clear, no drip|black|white|green"`
	Thickness *float64 `json:"thickness_um,omitempty" doc:"thickness, micrometres" rule:"over=0;max=1000"`
	Layers    int      `json:"layers,omitempty" doc:"layers with air between" rule:"min=1;max=3"`
	Share     *float64 `json:"share,omitempty" doc:"share of the bed covered" rule:"over=0;max=1;hint=a share from 0 to 1"`
	Edges     string   `json:"edges,omitempty" doc:"how the edges are held" rule:"enum=buried|weighted|loose"`
	Soil      string   `json:"soil,omitempty" doc:"soil beneath when it was laid" rule:"enum=dry|moist|wet"`
	WaterMM   *float64 `json:"water_mm,omitempty" doc:"water given, mm (L/m2)" rule:"min=0;max=500"`
}

func (*Plastic) check(*Entry) Problems { return nil }

// Mulch is the body of kind "mulch".
type Mulch struct {
	Act    string   `json:"act" doc:"what was done" rule:"required;enum=laid|topped up|turned|taken off"`
	What   string   `json:"what,omitempty" doc:"of what" rule:"enum=straw|hay|wood chips|bark|compost|leaves|grass|paper|plastic|living|gravel"`
	DepthM *float64 `json:"depth_m,omitempty" doc:"how deep, m" rule:"over=0;max=2;hint=in metres, so 0.05 for 5 cm"`
	Share  *float64 `json:"share,omitempty" doc:"share of the bed covered" rule:"over=0;max=1;hint=a share from 0 to 1"`
	Over   string   `json:"over,omitempty" doc:"what lies beneath" rule:"enum=bare soil|clean debris|mildewed debris"`
}

func (*Mulch) check(*Entry) Problems { return nil }

// Debris is the body of kind "debris": what was done with what the crop left.
type Debris struct {
	Act      string   `json:"act" doc:"what was done" rule:"required;enum=left|raked off|heaped|binned|buried|dug in|burned|taken away"`
	Heap     string   `json:"heap,omitempty" doc:"id of the heap it went on" rule:"word"`
	DepthM   *float64 `json:"depth_m,omitempty" doc:"how deep it was buried, m" rule:"min=0;max=3"`
	Share    *float64 `json:"share,omitempty" doc:"share of it" rule:"over=0;max=1;hint=a share from 0 to 1"`
	Mildewed string   `json:"mildewed,omitempty" doc:"whether it had mildew" rule:"enum=no|some|much|not looked"`
}

func (*Debris) check(*Entry) Problems { return nil }
