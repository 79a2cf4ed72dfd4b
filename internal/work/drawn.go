package work

import (
	"fmt"
	"math"

	"oidium/cite"
	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/scout"
	"oidium/scout/diagram"
)

const (
	drawnVersion    = "oidium-drawn-1"
	practiceVersion = "oidium-practice-1"
)

// Drawn are leaves with a known share of mildew, as SVG.
type Drawn struct {
	Version string      `json:"version" enum:"oidium-drawn-1" doc:"shape of this document"`
	Shape   string      `json:"shape" doc:"shape of leaf"`
	Shapes  []string    `json:"shapes" doc:"that can be drawn"`
	Secret  bool        `json:"secret" doc:"a training set: the shares are left out"`
	Seed    uint64      `json:"seed"`
	Leaves  []DrawnLeaf `json:"leaves"`
	Grounds
}

// DrawnLeaf is one drawing.
type DrawnLeaf struct {
	Number   int     `json:"number" doc:"from 1"`
	Share    float64 `json:"share,omitempty" doc:"of leaf area under mildew as drawn; absent in a training set"`
	Colonies int     `json:"colonies,omitempty" doc:"absent in a training set"`
	Width    float64 `json:"width_mm"`
	Height   float64 `json:"height_mm"`
	File     string  `json:"file,omitempty" doc:"where it was written; absent: nowhere"`
	SVG      string  `json:"svg,omitempty" doc:"the drawing; absent when it was written to a file"`
}

// Drawing draws one leaf with a share of mildew, or the usual twelve steps when
// share is negative.
func Drawing(shape string, share float64, seed uint64, print bool) (*Drawn, error) {
	var drawings []diagram.Drawing
	var err error
	if share < 0 {
		drawings, err = diagram.Set(shape, print)
	} else {
		var d diagram.Drawing
		d, err = diagram.Draw(diagram.Leaf{Shape: shape, Share: share, Seed: seed, Print: print})
		drawings = []diagram.Drawing{d}
	}
	if err != nil {
		return nil, err
	}
	return drawnLeaves(shape, seed, drawings, false), nil
}

// Training draws twenty leaves to be read, without telling their shares.
func Training(shape string, seed uint64, print bool) (*Drawn, error) {
	drawings, err := diagram.Training(shape, seed, print)
	if err != nil {
		return nil, err
	}
	return drawnLeaves(shape, seed, drawings, true), nil
}

func drawnLeaves(shape string, seed uint64, drawings []diagram.Drawing, secret bool) *Drawn {
	out := &Drawn{Version: drawnVersion, Shape: shape, Shapes: diagram.Shapes(), Secret: secret, Seed: seed}
	for i, d := range drawings {
		l := DrawnLeaf{Number: i + 1, Width: d.Width, Height: d.Height, SVG: string(d.SVG)}
		if !secret {
			l.Share, l.Colonies = math.Round(d.Share*1e5)/1e5, d.Colonies
		}
		out.Leaves = append(out.Leaves, l)
	}
	for _, v := range diagram.Constants() {
		if v.Grade != cite.A {
			out.assume(v)
		}
	}
	complete(out, &out.Sources)
	return out
}

// Practice is how somebody reads leaves of known severity.
type Practice struct {
	Version string           `json:"version" enum:"oidium-practice-1" doc:"shape of this document"`
	Shape   string           `json:"shape"`
	Seed    uint64           `json:"seed" doc:"of the training set"`
	Scale   string           `json:"scale" doc:"the readings are on"`
	Leaves  []Practised      `json:"leaves"`
	Agree   float64          `json:"agreement" doc:"concordance with the truth, 1 perfect"`
	Precise float64          `json:"precision" doc:"its part from spread"`
	Near    float64          `json:"accuracy" doc:"its part from bias"`
	Over    float64          `json:"bias" doc:"mean of reading less truth, share of leaf"`
	Spread  float64          `json:"spread" doc:"standard deviation of reading less truth, share of leaf"`
	Times   float64          `json:"small_patches_times" doc:"by which shares below a tenth are read too high; 0: no such leaf"`
	Reader  ReaderSaid       `json:"reader" doc:"the same on the scale ln(-ln(1-share)), as readings are corrected by"`
	Means   []Corrected      `json:"means" doc:"what readings of this person most likely stand for"`
	Entry   *ledger.EyeCheck `json:"entry" doc:"body of an entry of kind eye-check, which makes the readings of this person count as corrected"`
	Others  Compared         `json:"others" doc:"how untrained readers did in print, for comparison"`
	Who     string           `json:"who,omitempty"`
	Kept    garden.EntryID   `json:"kept,omitempty" doc:"id of the entry it was written as; absent: not written"`
	Words   []string         `json:"words"`
	Grounds
}

// Compared is the concordance with the truth that untrained readers reached.
type Compared struct {
	Without float64    `json:"without" doc:"without diagrams"`
	With    float64    `json:"with" doc:"with diagrams beside the leaf"`
	Source  string     `json:"source"`
	Grade   cite.Grade `json:"grade"`
}

// Practised is one leaf of a training set.
type Practised struct {
	Number int     `json:"number"`
	Truth  float64 `json:"truth" doc:"share covered"`
	Read   float64 `json:"read" doc:"share read"`
	Low    float64 `json:"low,omitempty" doc:"lower cut of the grade it was read as"`
	High   float64 `json:"high,omitempty"`
}

// ReaderSaid is how a person reads: reading = bias + slope x truth, with spread,
// on the complementary log-log scale.
type ReaderSaid struct {
	Bias  float64 `json:"bias"`
	Slope float64 `json:"slope"`
	SD    float64 `json:"sd"`
}

// Corrected is what a reading stands for.
type Corrected struct {
	Read float64 `json:"read"`
	Band Band    `json:"stands_for" doc:"80 % band"`
}

// Practising compares readings, on a scale, with the truth of a training set.
func Practising(shape string, seed uint64, scale string, values []float64, who string) (*Practice, error) {
	drawings, err := diagram.Training(shape, seed, false)
	if err != nil {
		return nil, err
	}
	if len(values) != len(drawings) {
		return nil, fmt.Errorf("reading a training set: %d readings of %d leaves; one a leaf, in their order", len(values), len(drawings))
	}
	out := &Practice{Version: practiceVersion, Shape: shape, Seed: seed, Scale: scale, Who: who}
	if out.Scale == "" {
		out.Scale = "percent"
	}
	truth, read := make([]float64, len(values)), make([]float64, len(values))
	for i, v := range values {
		r, err := scout.ReadOn(scale, v)
		if err != nil {
			return nil, fmt.Errorf("leaf %d: %w", i+1, err)
		}
		truth[i], read[i] = math.Round(drawings[i].Share*1e5)/1e5, r.Share
		out.Leaves = append(out.Leaves, Practised{Number: i + 1, Truth: truth[i], Read: r.Share, Low: r.Low, High: r.High})
	}
	r, err := scout.Rate(truth, read)
	if err != nil {
		return nil, err
	}
	out.Agree, out.Precise, out.Near = round3(r.Agree), round3(r.Precise), round3(r.Near)
	out.Over, out.Spread, out.Times = round3(r.Over), round3(r.Spread), round3(r.Times)
	out.Reader = ReaderSaid{Bias: round3(r.Reader.Bias), Slope: round3(r.Reader.Slope), SD: round3(r.Reader.SD)}
	for _, x := range []float64{0.01, 0.05, 0.1, 0.25, 0.5} {
		s, b := r.Reader.Correct(x)
		out.Means = append(out.Means, Corrected{Read: x, Band: Band{Low: round3(b.Lo), Mid: round3(s), High: round3(b.Hi)}})
	}
	out.Words = r.Words()
	out.Others = Compared{Without: eyeBare.V, With: eyeAided.V, Source: eyeBare.Source, Grade: eyeBare.Grade}
	out.Entry = &ledger.EyeCheck{On: "drawings"}
	for i := range truth {
		out.Entry.Leaves = append(out.Entry.Leaves, ledger.RefLeaf{Truth: truth[i], Read: read[i]})
	}
	complete(out, &out.Sources)
	return out, nil
}
