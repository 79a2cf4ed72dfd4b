package command

import (
	"oidium/internal/print"
	"oidium/internal/work"
)

type clockCmd struct {
	asking
	Bed string `arg:"" optional:"" help:"The bed; all if not given."`
	At  string `help:"Another time than now, such as 2000-06-12T21:00 there." placeholder:"TIME"`
}

func (c *clockCmd) Run(s *streams) error {
	a, err := c.open(s)
	if err != nil {
		return err
	}
	ask := work.ClockAsk{Day: a.opt.Day, At: c.At}
	if c.Bed != "" {
		ask.Bed = a.bed(c.Bed)
	}
	// Without a date the question is about now, so that a treatment of this
	// morning counts.
	if c.Date == "" && !c.Demo {
		ask.Now = s.now()
	}
	r, err := work.Clocking(a.entries, ask)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s.out, r)
	}
	return print.Clocks(s.out, r)
}

type leavesCmd struct {
	asking
	facts
	Bed     string  `arg:"" help:"The bed."`
	CropKg  float64 `help:"Of grape: fruit on the vines of the bed, kg." placeholder:"KG"`
	Divided bool    `help:"Of grape: the canopy is divided."`
}

func (c *leavesCmd) Run(s *streams) error {
	a, err := c.open(s)
	if err != nil {
		return err
	}
	f, err := c.facts.read(a)
	if err != nil {
		return err
	}
	f.CropKg, f.Divided = c.CropKg, c.Divided
	r, err := work.Sparing(s.ctx, a.entries, a.opt, a.bed(c.Bed), f)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s.out, r)
	}
	return print.Leaves(s.out, r)
}

type actionsCmd struct {
	asking
	facts
	Bed       string `arg:"" help:"The bed."`
	Action    string `arg:"" optional:"" help:"One action, by its id, with every rule; all if not given."`
	Interlock bool   `help:"The lamps cut off when somebody comes near."`
}

func (c *actionsCmd) Run(s *streams) error {
	a, err := c.open(s)
	if err != nil {
		return err
	}
	f, err := c.facts.read(a)
	if err != nil {
		return err
	}
	f.Interlock = c.Interlock
	r, err := work.Acting(s.ctx, a.entries, a.opt, a.bed(c.Bed), c.Action, f)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s.out, r)
	}
	return print.Acts(s.out, r)
}
