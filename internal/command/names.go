package command

import (
	"strings"

	"oidium/internal/work"
)

type namesCmd struct {
	What string `arg:"" optional:"" enum:"crops,materials,all" default:"all" help:"crops or materials; without it both."`
	JSON bool   `help:"Print JSON (its schema: oidium schema names)."`
}

func (c *namesCmd) Run(s *streams) error {
	n := work.AllNames()
	switch c.What {
	case "crops":
		n.Materials = nil
	case "materials":
		n.Crops = nil
	}
	if c.JSON {
		return writeJSON(s.out, n)
	}
	p := &plainText{out: s.out}
	list := func(title string, of []work.Named) {
		if len(of) == 0 {
			return
		}
		p.line("%s", title)
		for _, x := range of {
			text := x.Name
			if len(x.Other) > 0 {
				text += "; also " + strings.Join(x.Other, ", ")
			}
			p.list(x.ID, text)
		}
	}
	list("Crops, by the id that entries have:", n.Crops)
	list("Materials, by active ingredient and form:", n.Materials)
	if len(n.Materials) > 0 {
		p.para("", "That a material stands here does not say that it is allowed: label and local law first.")
	}
	return p.err
}

// list writes one thing of a list, its text under itself where it is long.
func (p *plainText) list(id, text string) {
	const wide = 18
	head := "  " + id + strings.Repeat(" ", max(1, wide-len([]rune(id))))
	p.para(head, text)
}
