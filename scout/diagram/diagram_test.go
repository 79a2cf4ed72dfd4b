package diagram

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"oidium/scout"
)

// drawn is what a reader of the SVG sees, read back from its text alone.
type drawn struct {
	polygons [][]point
	circles  []disc
	whole    bool
	title    string
}

func readBack(t *testing.T, svg []byte) drawn {
	t.Helper()
	var d drawn
	dec := xml.NewDecoder(bytes.NewReader(svg))
	inTitle := false
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			return d
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch tok := tok.(type) {
		case xml.CharData:
			if inTitle {
				d.title += string(tok)
			}
		case xml.EndElement:
			inTitle = false
		case xml.StartElement:
			inTitle = tok.Name.Local == "title"
			attr := make(map[string]string)
			for _, a := range tok.Attr {
				attr[a.Name.Local] = a.Value
			}
			number := func(s string) float64 {
				v, err := strconv.ParseFloat(s, 64)
				if err != nil {
					t.Fatal(err)
				}
				return v
			}
			switch {
			case tok.Name.Local == "path" && attr["class"] == "leaf":
				d.whole = attr["fill"] == white && attr["stroke"] == veinGreen
				for _, part := range strings.Split(strings.Trim(attr["d"], "MZ"), "ZM") {
					var p []point
					for _, xy := range strings.Split(part, "L") {
						x, y, _ := strings.Cut(xy, " ")
						p = append(p, point{number(x), number(y)})
					}
					d.polygons = append(d.polygons, p)
				}
			case tok.Name.Local == "circle":
				d.circles = append(d.circles, disc{number(attr["cx"]), number(attr["cy"]), number(attr["r"])})
			}
		}
	}
}

func inside(p []point, x, y float64) bool {
	in := false
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if (a.y <= y) != (b.y <= y) && x < a.x+(y-a.y)/(b.y-a.y)*(b.x-a.x) {
			in = !in
		}
	}
	return in
}

// count is the share of leaf under circles by counting points of a grid: another
// way than the one the drawing was made by.
func (d drawn) count(step float64) float64 {
	leaf, covered := 0, 0
	for y := step / 2; y < 200; y += step {
		for x := step / 2; x < 200; x += step {
			on := false
			for _, p := range d.polygons {
				on = on || inside(p, x, y)
			}
			if !on {
				continue
			}
			leaf++
			for _, c := range d.circles {
				if (x-c.x)*(x-c.x)+(y-c.y)*(y-c.y) <= c.r*c.r {
					covered++
					break
				}
			}
		}
	}
	return float64(covered) / float64(leaf)
}

func TestSharesAreExact(t *testing.T) {
	for _, shape := range Shapes() {
		for _, share := range []float64{0.005, 0.05, 0.3, 0.8} {
			d, err := Draw(Leaf{Shape: shape, Share: share, Seed: 3})
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(d.Share-share) > 5e-4 {
				t.Errorf("%s: drawn %v for %v", shape, d.Share, share)
			}
			if share != 0.05 && (share != 0.3 || testing.Short()) {
				continue
			}
			back := readBack(t, d.SVG)
			if got := back.count(0.5); math.Abs(got-share) > 0.002+0.01*share {
				t.Errorf("%s at %v: %v by counting points of the SVG", shape, share, got)
			}
			if len(back.circles) != pieces*d.Colonies {
				t.Errorf("%s: %d circles for %d colonies", shape, len(back.circles), d.Colonies)
			}
		}
	}
}

func TestDrawIsLawful(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		share := rapid.Float64Range(0, 0.15).Draw(rt, "share")
		l := Leaf{Shape: rapid.SampledFrom(Shapes()).Draw(rt, "shape"), Share: share, Seed: uint64(rapid.IntRange(0, 9).Draw(rt, "seed")), Print: rapid.Bool().Draw(rt, "print")}
		d, err := Draw(l)
		if err != nil {
			rt.Fatal(err)
		}
		if math.Abs(d.Share-share) > 5e-4 {
			rt.Fatalf("drawn %v for %v", d.Share, share)
		}
		again, err := Draw(l)
		if err != nil || !bytes.Equal(d.SVG, again.SVG) {
			rt.Fatalf("two drawings differ (%v)", err)
		}
	})
}

// Colonies are of natural size: none wider than the widest, and the middle one as
// wide as is usual.
func TestColoniesAreOfNaturalSize(t *testing.T) {
	d, err := Draw(Leaf{Shape: "cucurbit", Share: 0.1, Seed: 5})
	if err != nil {
		t.Fatal(err)
	}
	back := readBack(t, d.SVG)
	mean := 0.0
	for i := 0; i < len(back.circles); i += pieces {
		w := 2 * back.circles[i].r / 0.85
		if w > colonyMost.Hi {
			t.Errorf("a colony of %v mm", w)
		}
		mean += w / float64(d.Colonies)
	}
	if mean < colonyMM.Lo || mean > 2*colonyMM.V {
		t.Errorf("mean width %v mm", mean)
	}
	if d.Width < 100 || d.Width > 200 || !bytes.Contains(d.SVG, []byte("mm")) {
		t.Errorf("a leaf of %v mm", d.Width)
	}
}

func TestEnds(t *testing.T) {
	clean, err := Draw(Leaf{Shape: "grape"})
	if err != nil || clean.Share != 0 || clean.Colonies != 0 {
		t.Errorf("clean leaf: %v %v %v", clean.Share, clean.Colonies, err)
	}
	full, err := Draw(Leaf{Shape: "grape", Share: 1})
	if err != nil || full.Share != 1 || !readBack(t, full.SVG).whole {
		t.Errorf("full leaf: %v %v", full.Share, err)
	}
	for _, bad := range []Leaf{{Shape: "fern", Share: 0.1}, {Shape: "grape", Share: -0.1}, {Shape: "grape", Share: 1.1}, {Shape: "grape", Share: math.NaN()}} {
		if _, err := Draw(bad); err == nil {
			t.Errorf("%+v was drawn", bad)
		}
	}
}

// More mildew asked for is more mildew drawn, in the whole set.
func TestSetRises(t *testing.T) {
	set, err := Set("ovate", true)
	if err != nil {
		t.Fatal(err)
	}
	if len(set) != len(steps) {
		t.Fatalf("%d drawings", len(set))
	}
	for i := 1; i < len(set); i++ {
		if set[i].Share <= set[i-1].Share {
			t.Errorf("step %d: %v after %v", i, set[i].Share, set[i-1].Share)
		}
	}
	if !bytes.Contains(set[3].SVG, []byte("ovate leaf, 5 % covered")) {
		t.Error("the diagram does not name its share")
	}
}

func TestTraining(t *testing.T) {
	set, err := Training("rose", 8, false)
	if err != nil {
		t.Fatal(err)
	}
	if len(set) != trainingLeaves {
		t.Fatalf("%d leaves", len(set))
	}
	small, rising := 0, 0
	var truth, twice []float64
	for i, d := range set {
		if d.Share < 0.1 {
			small++
		}
		if i > 0 && d.Share > set[i-1].Share {
			rising++
		}
		title := readBack(t, d.SVG).title
		if strings.Contains(title, "%") {
			t.Errorf("the title %q gives the share away", title)
		}
		truth, twice = append(truth, d.Share), append(twice, math.Min(1, 1.5*d.Share))
	}
	if small < 6 || small > 14 || rising == 0 || rising == trainingLeaves-1 {
		t.Errorf("%d small leaves, %d steps up", small, rising)
	}
	// Somebody who reads half as much again is found out.
	r, err := scout.Rate(truth, twice)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(r.Times-1.5) > 0.05 || r.Near >= 1 {
		t.Errorf("%+v", r)
	}
	again, err := Training("rose", 8, false)
	if err != nil || !bytes.Equal(again[7].SVG, set[7].SVG) {
		t.Errorf("two sets of one seed differ (%v)", err)
	}
	other, err := Training("rose", 9, false)
	if err != nil || other[7].Share == set[7].Share {
		t.Errorf("two seeds give one set (%v)", err)
	}
}

func BenchmarkDraw(b *testing.B) {
	for b.Loop() {
		if _, err := Draw(Leaf{Shape: "cucurbit", Share: 0.3, Seed: 1}); err != nil {
			b.Fatal(err)
		}
	}
}
