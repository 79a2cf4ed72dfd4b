package remedy

import (
	"math"
	"strings"
	"testing"

	"oidium/garden"

	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// A cucumber leaf holds 6.6 µL/cm² (Frontiers in Plant Science 2023, 14:1175939):
// leaf area index 2 on 9 m² is 18 m² of leaf and 1.188 L, or 1320 L/ha.
func TestMixCeiling(t *testing.T) {
	c := fair()
	x := MixFor(c, get(t, "sulfur_wg"))
	near(t, "ceiling", x.Ceiling, 1.188)
	near(t, "litres", x.Litres, 1.188)
	near(t, "as a rate", x.Litres/c.Bed.Area()*10000, 1320)
	near(t, "grams at the label's 3 g/L", x.Amount, 3.564)
	near(t, "minutes at 1 L a minute", x.Minutes, 1.188)
	if x.Unit != "g" || x.Assumed || !x.RateKnown || len(x.Loads) != 1 {
		t.Errorf("%+v", x)
	}
}

func TestMixTankLoads(t *testing.T) {
	c := fair()
	c.LeafArea, c.Site.Sprayer.TankL = 400, 10 // 26.4 L
	x := MixFor(c, get(t, "sulfur_wg"))
	if len(x.Loads) != 3 {
		t.Fatalf("%d loads, want 3", len(x.Loads))
	}
	sumL, sumG := 0.0, 0.0
	for _, l := range x.Loads {
		sumL, sumG = sumL+l.Litres, sumG+l.Amount
		near(t, "strength of a load", l.Amount/l.Litres, 3)
	}
	near(t, "litres", sumL, 26.4)
	near(t, "grams", sumG, x.Amount)
	near(t, "last load", x.Loads[2].Litres, 6.4)
}

func TestMixWithoutLabelShowsTheTrialRate(t *testing.T) {
	c := fair()
	noLabel(c, "sulfur_wg")
	noLabel(c, "dmi")
	x := MixFor(c, get(t, "sulfur_wg"))
	if !x.Assumed || x.Rate.V != 3 || x.Rate.Hi != 6 || x.Rate.Source != "crisp-2006" || !warned(x, "mix-assumed") {
		t.Errorf("%+v", x.Rate)
	}
	if x := MixFor(c, get(t, "dmi")); x.RateKnown || x.Amount != 0 || !warned(x, "mix-no-rate") {
		t.Errorf("a strength was made up: %+v", x)
	}
}

func warned(x Mix, code string) bool {
	for _, w := range x.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

// Potassium bicarbonate: 5 g/L reaches its 5.6 kg/ha at 1120 L/ha (check M32).
func TestMixBicarbonateCap(t *testing.T) {
	c := fair()
	label(c, "khco3", func(l *garden.Label) { l.RateLowGL = p(5.0) })
	x := MixFor(c, get(t, "khco3"))
	near(t, "litres a hectare", x.Litres/c.Bed.Area()*10000, 1120)
	near(t, "kilograms a hectare", x.Amount/c.Bed.Area()*10, 5.6)
	if !warned(x, "mix-bicarbonate-cap") {
		t.Error("the cut is not said")
	}
}

func TestMixForms(t *testing.T) {
	c := fair()
	noLabel(c, "sulfur_dust")
	if x := MixFor(c, get(t, "sulfur_dust")); x.Litres != 0 || math.Abs(x.Amount-7.1*9) > 1e-9 {
		t.Errorf("dust: %+v", x)
	}
	if x := MixFor(c, get(t, "sulfur_vapor")); x.RateKnown || x.Amount != 0 || x.Litres != 0 {
		t.Errorf("heated sulfur is mixed: %+v", x)
	}
	noLabel(c, "nahco3_oil")
	x := MixFor(c, get(t, "nahco3_oil")) // Horst 1992: 0.063 M and 1 % oil
	if len(x.Extras) != 1 || math.Abs(x.Extras[0].ML-10*x.Litres) > 1e-9 || math.Abs(x.Rate.V-5.29) > 0.005 {
		t.Errorf("%+v", x)
	}
	c.LeafArea = 0
	near(t, "by ground: 748 L/ha on 9 m²", MixFor(c, get(t, "oil_mineral")).Litres, 0.6732)
	c.LeafArea, c.Site.Sprayer.Kind = 18, "boom"
	near(t, "a boom: 748 L/ha", MixFor(c, get(t, "oil_mineral")).Litres, 0.6732)
	c.LeafArea = 2
	near(t, "a boom on small plants: what they hold", MixFor(c, get(t, "oil_mineral")).Litres, 0.132)
	c.Site.Sprayer.LPerM = 0
	if x := MixFor(c, get(t, "oil_mineral")); x.Minutes != 0 || !warned(x, "mix-not-measured") {
		t.Errorf("minutes from an unmeasured sprayer: %+v", x)
	}
}

// Each mix carries its cautions: label first, and those of the material.
func TestMixCautions(t *testing.T) {
	c := fair()
	c.InFlower = true
	for _, k := range []struct {
		id   garden.MaterialID
		says string
	}{
		{"sulfur_wg", "goggles"},
		{"sulfur_dust", "explode"},
		{"sulfur_vapor", "sulfur dioxide"},
		{"oil_mineral", "14 days of sulfur"},
		{"copper", "soil"},
		{"nahco3_soap", "drainage"},
		{"milk_10", "allergen"},
		{"h2o2_paa", "concentrate into water"},
		{"bacillus", "sensitise"},
		{"khco3", "midnight"},
		{"khco3", "Children"},
	} {
		all := strings.Join(MixFor(c, get(t, k.id)).Cautions, " ")
		if !strings.Contains(all, k.says) || !strings.HasPrefix(all, "The label in force") {
			t.Errorf("%s: the cautions do not say %q", k.id, k.says)
		}
	}
}

// Laws: never above what the leaves hold, amount is strength times litres, loads
// add up.
func TestMixLaws(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := fair()
		c.LeafArea = rapid.Float64Range(0.01, 500).Draw(rt, "leaf")
		c.Bed.Length = rapid.Float64Range(0.5, 100).Draw(rt, "length")
		c.Site.Sprayer.TankL = rapid.Float64Range(0, 20).Draw(rt, "tank")
		c.Site.Sprayer.Kind = rapid.SampledFrom([]string{"", "boom", "knapsack"}).Draw(rt, "kind")
		m := rapid.SampledFrom(Materials()).Draw(rt, "material")
		x := MixFor(c, m)
		if x.Litres > x.Ceiling+1e-9 {
			rt.Fatalf("%v L on leaves that hold %v", x.Litres, x.Ceiling)
		}
		if m.Form != "dust" && m.Form != "root" && x.RateKnown && math.Abs(x.Amount-x.Litres*x.Rate.V) > 1e-9*x.Amount {
			rt.Fatalf("%v of product in %v L at %v", x.Amount, x.Litres, x.Rate.V)
		}
		sum := 0.0
		for _, l := range x.Loads {
			sum += l.Litres
			if t := c.Site.Sprayer.TankL; t > 0 && l.Litres > t+1e-9 && !warned(x, "mix-tank") {
				rt.Fatalf("a load of %v in a tank of %v", l.Litres, t)
			}
		}
		if math.Abs(sum-x.Litres) > 1e-6 {
			rt.Fatalf("loads of %v for %v", sum, x.Litres)
		}
	})
}
