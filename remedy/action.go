package remedy

import (
	"bytes"
	_ "embed" // the tables
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"sync"

	"oidium/cite"
	"oidium/garden"
)

// Action is something other than a material that is done against mildew: water,
// light, heat, air, hygiene. It is a row of the table of actions.
type Action struct {
	ID, Name   string
	On         string     // what the figure was measured on
	Effect     cite.Value // share by which that fell, 0 to 1
	SD         float64    // of Effect, from trial to trial
	Dose       string     // what makes one action
	Limit      string
	Conditions string
	Cautions   []string
	Sources    []string
	Grade      cite.Grade

	Season bool // works on the next season or a whole one; it has no daily effect
	Wets   bool // wets leaves

	acts     string  // "stops", "kills", "removes", "season"
	severity bool    // Effect is of severity at the end of a trial
	lower    float64 // share of it on the lower face
	days     int     // that one action lasts
	families []string
	roof     bool // under a roof only
	uv       bool
}

var (
	//go:embed data/actions.csv
	actionsCSV []byte
	//go:embed data/actiontraits.csv
	actionTraitsCSV []byte
)

type actionBook struct {
	list []*Action
	err  error
}

var actionLibrary = sync.OnceValue(func() actionBook {
	list, err := readActions(bytes.NewReader(actionsCSV), bytes.NewReader(actionTraitsCSV), bytes.NewReader(sourceCodesCSV))
	return actionBook{list, err}
})

// Actions returns all actions in the order of the table. The values are shared
// and must not be changed.
func Actions() []*Action { return actionLibrary().list }

// readActions reads the tables of actions, as strictly as readMaterials.
func readActions(actions, traits, codes io.Reader) ([]*Action, error) {
	code, err := readSourceCodes(codes)
	if err != nil {
		return nil, err
	}
	var list []*Action
	find := func(id string) *Action {
		i := slices.IndexFunc(list, func(a *Action) bool { return a.ID == id })
		if i < 0 {
			return nil
		}
		return list[i]
	}
	err = readTable(actions, "actions", func(f *fields) {
		a := &Action{
			ID: f.text("id"), Name: f.text("name"), On: f.text("effect_on"), Dose: f.text("unit_dose"), Limit: f.text("limit"),
			Conditions: f.text("conditions"), Grade: cite.Grade(f.oneOf("confidence", "A", "B", "C")),
		}
		for part := range strings.SplitSeq(f.text("cautions"), ";") {
			if s := strings.TrimSpace(part); s != "" && s != "none" {
				a.Cautions = append(a.Cautions, s)
			}
		}
		for _, c := range strings.Fields(f.text("source")) {
			if code[c] == "" {
				f.fail("source", fmt.Sprintf("%q is not in the table of source codes", c))
			}
			a.Sources = append(a.Sources, code[c])
		}
		if len(a.Sources) == 0 || find(a.ID) != nil {
			f.fail("id", "no source given, or the id stands there twice")
			return
		}
		v, sd := f.number("effect_mean_pct")/100, f.number("effect_sd_pct")/100
		if v < 0 || v > 1 || sd < 0 {
			f.fail("effect_mean_pct", "not between 0 and 100")
		}
		a.SD = sd
		a.Effect = cite.Value{V: v, Lo: max(0, v-2*sd), Hi: min(1, v+2*sd), Unit: "1", Source: a.Sources[0], Grade: a.Grade, What: "share by which " + a.On + " fell with: " + a.Name}
		list = append(list, a)
	})
	if err != nil {
		return nil, err
	}
	err = readTable(traits, "action traits", func(f *fields) {
		a := find(f.text("id"))
		if a == nil || a.acts != "" {
			f.fail("id", "no such action, or it stands there twice")
			return
		}
		a.acts = f.oneOf("acts", "stops", "kills", "removes", "season")
		a.severity = f.oneOf("measured", "direct", "severity") == "severity"
		a.lower, a.days, a.families = f.number("lower"), int(f.number("lasts_d")), strings.Fields(f.text("families"))
		a.roof, a.Wets, a.uv, a.Season = f.yes("roof"), f.yes("wets"), f.yes("uv"), a.acts == "season"
		if a.lower < 0 || a.lower > 1 || a.days < 1 {
			f.fail("lower", "not a share, or no days")
		}
	})
	if err != nil {
		return nil, err
	}
	for _, a := range list {
		if a.acts == "" {
			return nil, fmt.Errorf("reading table of action traits: action %q has no row", a.ID)
		}
	}
	return list, nil
}

// Effects returns what the action does when it is done once on the day, one
// effect for each day that it lasts. hours are the hours at the leaf on that day;
// only closing a tunnel needs them. An action of a season has no effects here,
// and leaf removal has its own, see RemovalEffect.
//
// A figure that was measured as severity at the end of a trial is turned into a
// share s of new infections stopped each day by
//
//	1 − R = (1 − s)^g
//
// with R the fall in severity and g the generations of mildew in such a trial
// (an assumption): while little leaf is covered, each generation is smaller by
// 1 − s.
func (a *Action) Effects(bed garden.BedID, day garden.Day, hours []Hour) []garden.Effect {
	share := a.Effect.V
	if a.severity {
		share = 1 - math.Pow(1-share, 1/trialGenerations.V)
	}
	var out []garden.Effect
	for d := range a.days {
		e := garden.Effect{Bed: bed, Day: day + garden.Day(d)}
		switch a.acts {
		case "stops":
			e.Stop = [garden.Faces]float64{share, share * a.lower}
		case "kills":
			k := share * min(1, heatDose(hours))
			if k == 0 {
				return nil
			}
			e.Kill = [garden.Faces]float64{k, k * a.lower}
		default:
			return nil
		}
		out = append(out, e)
	}
	return out
}

// heatDose returns how much of a lethal dose of heat the hours are, 1 for a
// whole one: Σ 1/h(T) with the lethal hours of grape mildew,
//
//	log10 h = 6.984 − 0.1607 T   (own fit to peduto-2013, 36 to 44 °C)
//
// Below 36 °C nothing counts, since 30 to 34 °C for a day is survived; above
// 44 °C the rate of 44 °C holds. No such series exists for cucurbit mildew.
func heatDose(hours []Hour) float64 {
	dose := 0.0
	for _, h := range hours {
		if h.T >= lethalFrom.V {
			dose += 1 / lethalHours(min(h.T, lethalTo.V))
		}
	}
	return dose
}

// lethalHours returns the hours at t °C that kill grape mildew.
func lethalHours(t float64) float64 { return math.Pow(10, lethalA.V-lethalB.V*t) }
