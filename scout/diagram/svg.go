package diagram

import (
	"bytes"
	"fmt"
	"hash/fnv"
	"html"
	"strconv"
)

// Colours of the drawing; a page may override them by its own rules for the
// classes leaf, vein and mildew.
const (
	leafGreen = "#6f9a55"
	veinGreen = "#557a40"
	white     = "#ffffff"
	ink       = "#2b2b2b"
	pale      = "#9a9a9a"
)

func svg(o outline, discs []disc, whole bool, l Leaf) []byte {
	leaf, vein, mildew, edge := leafGreen, veinGreen, white, veinGreen
	if l.Print {
		leaf, vein, mildew, edge = white, pale, ink, ink
	}
	if whole {
		leaf = mildew
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" role="img">`, num(o.width), num(o.height), num(o.width), num(o.height))
	fmt.Fprintf(&b, "<title>%s</title>", html.EscapeString(l.Title))
	// Ids must differ between drawings on one page, or the first clip serves all;
	// and must not tell the share of a training leaf.
	h := fnv.New64a()
	fmt.Fprint(h, l)
	id := fmt.Sprintf("leaf-%x", h.Sum64())
	shape := ""
	for _, p := range o.parts {
		shape += path(p, true)
	}
	fmt.Fprintf(&b, `<clipPath id="%s"><path d="%s"/></clipPath>`, id, shape)
	fmt.Fprintf(&b, `<path class="leaf" fill="%s" stroke="%s" stroke-width="0.4" d="%s"/>`, leaf, edge, shape)
	veins := ""
	for _, p := range o.veins {
		veins += path(p, false)
	}
	fmt.Fprintf(&b, `<path class="vein" fill="none" stroke="%s" stroke-width="0.5" d="%s"/>`, vein, veins)
	if len(discs) > 0 {
		fmt.Fprintf(&b, `<g class="mildew" fill="%s" clip-path="url(#%s)">`, mildew, id)
		for _, d := range discs {
			fmt.Fprintf(&b, `<circle cx="%s" cy="%s" r="%s"/>`, num(d.x), num(d.y), num(d.r))
		}
		b.WriteString("</g>")
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

func path(p []point, closed bool) string {
	var b bytes.Buffer
	for i, q := range p {
		c := byte('L')
		if i == 0 {
			c = 'M'
		}
		b.WriteByte(c)
		b.WriteString(num(q.x))
		b.WriteByte(' ')
		b.WriteString(num(q.y))
	}
	if closed {
		b.WriteByte('Z')
	}
	return b.String()
}

func num(v float64) string { return strconv.FormatFloat(round(v), 'f', -1, 64) }
