package command

import (
	"fmt"

	"oidium/internal/print"
	"oidium/internal/work"
)

type materialsCmd struct {
	asking
	facts
	Material string  `arg:"" optional:"" help:"One material, by its id; all if not given."`
	Bed      string  `help:"Judge each for this bed." placeholder:"BED"`
	Rain     float64 `help:"Tell what so many mm of rain take off." placeholder:"MM"`
	Rate     float64 `help:"Of rain, mm an hour." default:"5" placeholder:"MM/H"`
}

func (c *materialsCmd) Run(s *streams) error {
	a, err := c.open(s)
	if err != nil {
		return err
	}
	ask := work.MaterialsAsk{Material: c.Material, RainMM: c.Rain, RainRate: c.Rate}
	if c.Rain < 0 || c.Rate <= 0 {
		return fmt.Errorf("--rain and --rate: rain is not negative")
	}
	if ask.Facts, err = c.facts.read(a); err != nil {
		return err
	}
	if c.Bed != "" {
		ask.Bed = a.bed(c.Bed)
	}
	r, err := work.Listing(s.ctx, a.entries, a.opt, ask)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s.out, r)
	}
	return print.Materials(s.out, r)
}

type rulesCmd struct {
	asking
	facts
	Bed      string `arg:"" help:"The bed."`
	Material string `arg:"" help:"The material, by its id; oidium materials lists them."`
	All      bool   `help:"Print the rules that are met too, with their reasons and sources."`
}

func (c *rulesCmd) Run(s *streams) error {
	a, err := c.open(s)
	if err != nil {
		return err
	}
	f, err := c.facts.read(a)
	if err != nil {
		return err
	}
	r, err := work.Judging(s.ctx, a.entries, a.opt, a.bed(c.Bed), c.Material, f)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s.out, r)
	}
	return print.Rules(s.out, r, c.All)
}

type mixCmd struct {
	asking
	facts
	Bed      string `arg:"" help:"The bed."`
	Material string `arg:"" help:"The material, by its id; oidium materials lists them."`
	Above    bool   `help:"You spray from above only; without it the underside is sprayed too."`
}

func (c *mixCmd) Run(s *streams) error {
	a, err := c.open(s)
	if err != nil {
		return err
	}
	ask := work.MixAsk{Bed: a.bed(c.Bed), Material: c.Material, Above: c.Above}
	if ask.Facts, err = c.facts.read(a); err != nil {
		return err
	}
	r, err := work.Mixing(s.ctx, a.entries, a.opt, ask)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s.out, r)
	}
	return print.Mixed(s.out, r)
}

type hoursCmd struct {
	asking
	facts
	Bed      string `arg:"" help:"The bed."`
	Material string `arg:"" help:"The material, by its id; oidium materials lists them."`
}

func (c *hoursCmd) Run(s *streams) error {
	a, err := c.open(s)
	if err != nil {
		return err
	}
	f, err := c.facts.read(a)
	if err != nil {
		return err
	}
	r, err := work.Timing(s.ctx, a.entries, a.opt, a.bed(c.Bed), c.Material, f)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s.out, r)
	}
	return print.Hours(s.out, r)
}

// measureCmd works out what is weighed and measured, for any units.
type measureCmd struct {
	Convert convertCmd `cmd:"" help:"A quantity in other units: '1 lb/100 gal' g/L --units us."`
	Ratio   ratioCmd   `cmd:"" help:"Every way a ratio can be meant: 1:10, '1 part to 10 parts', '10 %', '10 L/hL'."`
	Weigh   weighCmd   `cmd:"" help:"A salt by its moles or its weight: '25 mM' KH2PO4 --mix '10 L'."`
	Spoons  spoonsCmd  `cmd:"" help:"A powder in level spoons: '37 g' --salt NaHCO3 --units us."`
	Stock   stockCmd   `cmd:"" help:"A stock solution: '1 kg' '10 L' --strength '5 g/L' --mix '10 L'."`
	Active  activeCmd  `cmd:"" help:"Product for an amount of active ingredient: '100 g' '80 %'."`
	Silicon siliconCmd `cmd:"" help:"A strength of silicon in every way: '1.7 mM', '100 mg/L' --as SiO2."`
	Area    areaCmd    `cmd:"" help:"Dust and other rates by area: '10 lb/acre' '400 sq ft' --units us."`
	Lamp    lampCmd    `cmd:"" help:"Dose of lamps passing over a bed: '1.8 m' '2.25 km/h' '169 J/m2'."`
	Share   shareCmd   `cmd:"" help:"What a count says about a share: 1 50."`
	Grade   gradeCmd   `cmd:"" help:"A reading on a scale of classes as a share, or a percentage as a grade."`
	Index   indexCmd   `cmd:"" help:"Severity index of counts by class, from class 0 up: 10 5 3 1 1."`
}

// shown says in which units quantities are, and how the answer is printed.
type shown struct {
	Units string `help:"Whose gallons, ounces and spoons: us, imperial, metric, au." enum:",us,imperial,metric,au" default:"" placeholder:"UNITS"`
	JSON  bool   `help:"Print JSON (its schema: oidium schema measured)."`
}

func (c *shown) show(s *streams, r *work.Measured, err error) error {
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s.out, r)
	}
	return print.Measured(s.out, r)
}

type convertCmd struct {
	shown
	Quantity string `arg:"" help:"Such as '2 1/2 pt/acre'."`
	To       string `arg:"" help:"The unit wanted, such as L/ha."`
}

func (c *convertCmd) Run(s *streams) error {
	r, err := work.Converting(c.Quantity, c.To, c.Units)
	return c.show(s, r, err)
}

type ratioCmd struct {
	shown
	Ratio string `arg:"" help:"Such as 1:10."`
	Mix   string `help:"Volume of finished mix." default:"1 L" placeholder:"VOLUME"`
}

func (c *ratioCmd) Run(s *streams) error {
	r, err := work.Parting(c.Ratio, c.Mix, c.Units)
	return c.show(s, r, err)
}

type weighCmd struct {
	shown
	Quantity string `arg:"" help:"Such as '25 mM', '0.063 M', '5.3 g/L'."`
	Salt     string `arg:"" help:"NaHCO3, KHCO3, KH2PO4, K2HPO4, Si or SiO2."`
	Mix      string `help:"Volume of finished mix." placeholder:"VOLUME"`
}

func (c *weighCmd) Run(s *streams) error {
	r, err := work.Weighing(c.Quantity, c.Salt, c.Mix, c.Units)
	return c.show(s, r, err)
}

type spoonsCmd struct {
	shown
	Mass    string `arg:"" help:"Such as '37 g'."`
	Salt    string `help:"NaHCO3, whose density is known." placeholder:"SALT"`
	Density string `help:"Of the powder, such as '0.9 g/mL'." placeholder:"DENSITY"`
}

func (c *spoonsCmd) Run(s *streams) error {
	r, err := work.Spooning(c.Mass, c.Salt, c.Density, c.Units)
	return c.show(s, r, err)
}

type stockCmd struct {
	shown
	Material string `arg:"" help:"What goes in, such as '1 kg'."`
	Volume   string `arg:"" help:"Of stock, such as '10 L'."`
	Salt     string `help:"NaHCO3 or another, for its solubility." placeholder:"SALT"`
	Strength string `help:"Strength of the mix that is wanted." placeholder:"STRENGTH"`
	Mix      string `help:"Volume of that mix." placeholder:"VOLUME"`
}

func (c *stockCmd) Run(s *streams) error {
	r, err := work.Stocking(c.Material, c.Volume, c.Salt, c.Strength, c.Mix, c.Units)
	return c.show(s, r, err)
}

type activeCmd struct {
	shown
	Amount  string `arg:"" help:"Of active ingredient, such as '100 g' or '30 g/ha'."`
	Content string `arg:"" help:"Of the product, such as '80 %' or '250 g/L'."`
}

func (c *activeCmd) Run(s *streams) error {
	r, err := work.Holding(c.Amount, c.Content, c.Units)
	return c.show(s, r, err)
}

type siliconCmd struct {
	shown
	Strength string `arg:"" help:"Such as '1.7 mM' or '100 mg/L'."`
	As       string `help:"What the figure counts: Si or SiO2." placeholder:"SALT"`
}

func (c *siliconCmd) Run(s *streams) error {
	r, err := work.Silicate(c.Strength, c.As, c.Units)
	return c.show(s, r, err)
}

type areaCmd struct {
	shown
	Rate string `arg:"" help:"Such as '7 g/m2', '10 lb/acre', '400 L/ha'."`
	Area string `arg:"" help:"Such as '20 m2', '400 sq ft'."`
}

func (c *areaCmd) Run(s *streams) error {
	r, err := work.Strewing(c.Rate, c.Area, c.Units)
	return c.show(s, r, err)
}

type lampCmd struct {
	shown
	Length   string `arg:"" help:"Of the array along the way, such as '1.8 m'."`
	Speed    string `arg:"" help:"Such as '2.25 km/h'."`
	Strength string `arg:"" help:"Dose or irradiance at the leaf: '169 J/m2' or '60 W/m2'."`
}

func (c *lampCmd) Run(s *streams) error {
	r, err := work.Lighting(c.Length, c.Speed, c.Strength, c.Units)
	return c.show(s, r, err)
}

type shareCmd struct {
	JSON     bool `help:"Print JSON (its schema: oidium schema measured)."`
	Mildewed int  `arg:"" help:"Leaves with mildew."`
	Looked   int  `arg:"" help:"Leaves looked at."`
	PerPlant int  `help:"Of them on each plant." placeholder:"N"`
}

func (c *shareCmd) Run(s *streams) error {
	r, err := work.Sharing(c.Mildewed, c.Looked, c.PerPlant)
	return (&shown{JSON: c.JSON}).show(s, r, err)
}

type gradeCmd struct {
	JSON  bool    `help:"Print JSON (its schema: oidium schema measured)."`
	Value float64 `arg:"" help:"Grade, or percent."`
	Scale string  `help:"The scale it is on: percent, horsfall-barratt, horsfall-barratt-elanco, cucumber-0-9." default:"percent"`
	To    string  `help:"The scale whose grade is wanted." placeholder:"SCALE"`
}

func (c *gradeCmd) Run(s *streams) error {
	r, err := work.Grading(c.Value, c.Scale, c.To)
	return (&shown{JSON: c.JSON}).show(s, r, err)
}

type indexCmd struct {
	JSON   bool  `help:"Print JSON (its schema: oidium schema measured)."`
	Counts []int `arg:"" help:"Leaves in each class."`
}

func (c *indexCmd) Run(s *streams) error {
	r, err := work.Indexing(c.Counts)
	return (&shown{JSON: c.JSON}).show(s, r, err)
}
