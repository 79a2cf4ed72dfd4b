package work

import (
	"context"
	"fmt"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"time"

	"oidium/belief"
	"oidium/cite"
	"oidium/garden"
	"oidium/host"
	"oidium/internal/ledger"
	"oidium/remedy"
)

// scene is a garden on a morning: what is known, the weather, the beds with a
// crop and what is believed of each.
type scene struct {
	opt   Options
	loc   *time.Location
	asOf  time.Time
	g     *garden.Garden
	s     *sky
	first garden.Day // first day simulated
	plots []*plot
	idle  []BedReport // of beds without a crop
}

// setScene opens the garden on the morning of opt.Day, gathers the weather and
// conditions every bed's ensemble on what was seen.
func setScene(ctx context.Context, entries []ledger.Entry, opt Options) (*scene, error) {
	sc, err := openScene(entries, opt)
	if err != nil {
		return nil, err
	}
	if sc.s, err = lookUp(entries, sc.g, sc.loc, sc.asOf, sc.first, aheadDays, aheadRuns); err != nil {
		return nil, err
	}
	for _, p := range sc.plots {
		p.prepare(sc.g, sc.s)
	}
	sc.s.heatNotes(sc.plots)
	return sc, believe(ctx, sc.plots, sc.s, sc.opt.Members, sc.opt.Workers)
}

// openScene folds the entries known on the morning of opt.Day. There is no
// weather in it and nothing is believed yet.
func openScene(entries []ledger.Entry, opt Options) (*scene, error) {
	if opt.Members <= 0 {
		opt.Members = 200
	}
	if opt.Workers <= 0 {
		opt.Workers = runtime.GOMAXPROCS(0)
	}
	if y := opt.Day.Year(); y < 1900 || y > 2200 {
		return nil, fmt.Errorf("the morning of %s: the year must lie between 1900 and 2200", opt.Day)
	}
	loc, asOf, err := instant(entries, opt.Day)
	if err != nil {
		return nil, err
	}
	if now := opt.Now; now.After(asOf) && garden.DayOf(now.In(loc)) == opt.Day {
		asOf = now.In(loc) // later the same day: what has been written since counts
	}
	g, err := ledger.Fold(entries, asOf)
	if err != nil {
		return nil, err
	}
	g.AsOf = asOf
	sc := &scene{opt: opt, loc: loc, asOf: asOf, g: g, first: opt.Day}
	sc.plots, sc.idle = plotsOf(g, opt.Day)
	for _, p := range sc.plots {
		sc.first = min(sc.first, p.start)
		p.gather(g, loc)
	}
	return sc, nil
}

// plot returns the plot of a bed. The error names the beds there are, or says why
// the bed has no crop to ask about.
func (sc *scene) plot(bed garden.BedID) (*plot, error) {
	for _, p := range sc.plots {
		if p.bed.ID == bed {
			return p, nil
		}
	}
	for _, b := range sc.idle {
		if b.Bed == bed {
			return nil, fmt.Errorf("bed %q on %s: %s", bed, sc.opt.Day, strings.TrimSuffix(b.Reason, "."))
		}
	}
	return nil, noSuchBed(sc.g, bed)
}

func noSuchBed(g *garden.Garden, bed garden.BedID) error {
	var have []string
	for _, b := range g.Beds {
		have = append(have, string(b.ID))
	}
	if len(have) == 0 {
		return fmt.Errorf("there is no bed %q: no bed has been entered by that morning", bed)
	}
	return fmt.Errorf("there is no bed %q; the beds are %s", bed, strings.Join(have, ", "))
}

// About says which garden, morning and bed a result is for.
type About struct {
	Date     string       `json:"date" format:"date" doc:"the morning it is for"`
	AsOf     string       `json:"as_of" format:"date-time" doc:"nothing later than this instant was used"`
	Garden   Place        `json:"garden"`
	Bed      garden.BedID `json:"bed,omitempty" doc:"absent: not of one bed"`
	BedName  string       `json:"bed_name,omitempty"`
	Crop     string       `json:"crop,omitempty"`
	Cultivar string       `json:"cultivar,omitempty"`
}

func (sc *scene) about(p *plot) About {
	a := About{Date: sc.opt.Day.String(), AsOf: sc.asOf.Format(time.RFC3339), Garden: placeOf(sc.g, sc.loc)}
	if p != nil {
		a.Bed, a.BedName, a.Crop, a.Cultivar = p.bed.ID, nameOf(p.bed), string(p.crop.ID), p.planting.Cultivar
	}
	return a
}

// Grounds are what a result rests on and what is to be minded with it.
type Grounds struct {
	Cautions []string         `json:"cautions" doc:"what to mind before anything is done"`
	Assumed  []Assumption     `json:"assumed" doc:"what was not stated and is taken as usual, and constants of no better grade"`
	Warnings []garden.Warning `json:"warnings" doc:"what limits the answer"`
	Sources  []cite.Source    `json:"sources" doc:"the sources named above"`
}

// assume adds constants that are shown as assumptions.
func (g *Grounds) assume(values ...cite.Value) {
	for _, v := range values {
		a := Assumption{What: v.What, Value: valueOf(v), Source: v.Source, Grade: v.Grade}
		if !slices.Contains(g.Assumed, a) {
			g.Assumed = append(g.Assumed, a)
		}
	}
}

// mind adds cautions that are not there yet.
func (g *Grounds) mind(texts ...string) {
	for _, t := range texts {
		if t != "" && !slices.Contains(g.Cautions, t) {
			g.Cautions = append(g.Cautions, t)
		}
	}
}

// complete finishes a result: no list is nil, as the schema promises, and the
// sources named anywhere in it are listed. result is a pointer to it.
func complete(result any, sources *[]cite.Source) {
	ids := make(map[string]bool)
	named(reflect.ValueOf(result).Elem(), ids)
	*sources = nil
	for _, s := range cite.All() {
		if ids[s.ID] {
			*sources = append(*sources, s)
		}
	}
	fillLists(reflect.ValueOf(result).Elem())
}

// named gathers the strings in fields called Source.
func named(v reflect.Value, ids map[string]bool) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			named(v.Elem(), ids)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			named(v.Index(i), ids)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Field(i)
			if v.Type().Field(i).Name == "Source" && f.Kind() == reflect.String {
				ids[f.String()] = true
			}
			named(f, ids)
		}
	}
}

// fillLists makes every nil list an empty one.
func fillLists(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			fillLists(v.Elem())
		}
	case reflect.Slice:
		if v.IsNil() && v.CanSet() {
			v.Set(reflect.MakeSlice(v.Type(), 0, 0))
		}
		for i := range v.Len() {
			fillLists(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				fillLists(v.Field(i))
			}
		}
	}
}

// Facts are what the entries do not say and whoever asks may add. The zero value
// adds nothing.
type Facts struct {
	Pick      garden.Day // next picking
	Stage     string     // growth stage, such as "BBCH 61"
	Stressed  bool       // the plants are short of water or otherwise suffering
	Also      []string   // other diseases about: "downy mildew", "late blight", "Botrytis"
	Interlock bool       // lamps of UV cut off when somebody comes near
	CropKg    float64    // fruit on the plants of the bed
	Divided   bool       // grape on a divided canopy
	Country   string     // of whoever is told what to do; "": the garden's
	Role      garden.Role
}

// caseOf is a plot as the rules see it, with what whoever asks adds.
func (sc *scene) caseOf(p *plot, f Facts) *remedy.Case {
	c := cloudOf(p)
	covered, area := 0.0, 0.0
	if len(c.draws) > 0 {
		covered = belief.BandOf(c.of(sc.opt.Day, severity), c.w).Mean
		area = belief.BandOf(c.of(sc.opt.Day, leafArea), c.w).Mid * p.bed.Area()
	}
	k := p.kase(sc.g, sc.s, covered, area)
	if f.Pick != 0 {
		k.PickNext = f.Pick
	}
	k.Stage, k.Stressed, k.Interlock, k.CropKg, k.Divided = f.Stage, f.Stressed, f.Interlock, f.CropKg, f.Divided
	k.OtherDisease = append(k.OtherDisease, f.Also...)
	return handed(k, sc.g.Site, f)
}

// materialOf finds a material by its id or another name that means it alone. The
// error names those that are near.
func materialOf(text string) (*remedy.Material, error) {
	if m, ok := remedy.Get(garden.MaterialID(text)); ok {
		return m, nil
	}
	near := meant("material", text)
	if len(near) == 1 {
		if m, ok := remedy.Get(garden.MaterialID(near[0])); ok {
			return m, nil
		}
	}
	part, _, _ := strings.Cut(strings.ToLower(text), "_")
	for _, m := range remedy.Materials() {
		if part != "" && !slices.Contains(near, string(m.ID)) &&
			(strings.Contains(strings.ToLower(m.Name), part) || strings.Contains(m.Active, part) || strings.Contains(string(m.ID), part)) {
			near = append(near, string(m.ID))
		}
	}
	if len(near) > 0 {
		return nil, fmt.Errorf("there is no material %q; is one of these meant: %s? oidium materials lists all", text, strings.Join(near, ", "))
	}
	return nil, fmt.Errorf("there is no material %q; oidium materials lists those there are", text)
}

// meant are the ids of crops or materials that another name may mean.
func meant(what, text string) []string {
	names, ids := otherNames(what)
	for _, n := range names {
		if strings.EqualFold(n, strings.TrimSpace(text)) {
			return slices.Clone(ids[n])
		}
	}
	return nil
}

// CropNamed finds a crop by its id, its name or another name; "" is none.
func CropNamed(text string) (garden.CropID, error) {
	if text == "" {
		return "", nil
	}
	for _, c := range host.All() {
		if strings.EqualFold(text, string(c.ID)) || strings.EqualFold(text, c.Name) {
			return c.ID, nil
		}
	}
	if near := meant("crop", text); len(near) == 1 {
		return garden.CropID(near[0]), nil
	} else if len(near) > 1 {
		return "", fmt.Errorf("%q is more than one crop here: %s", text, strings.Join(near, ", "))
	}
	return "", fmt.Errorf("there is no crop %q; oidium names crops lists those there are", text)
}

// isCucurbit tells whether the threshold for old leaves holds.
func isCucurbit(c *host.Crop) bool { return c.Family == "cucurbit" }
