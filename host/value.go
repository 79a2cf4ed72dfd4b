package host

import (
	"math"

	"oidium/garden"
)

// View is a canopy as its value is judged.
type View struct {
	Mildewed [garden.LeafAges][garden.Faces]float64 // share of the face visibly mildewed
	Area     [garden.LeafAges]float64               // leaf area, m²/m²
	Free     float64                                // leaf area the canopy would have without mildew and removals, m²/m²
}

// Loss returns the share of a day's value lost, 0 to 1.
//
// Picking: light intercepted by working leaf against that of the free canopy,
// young leaf on top (Monteith; waggoner-berger-1987), less what the crop can
// spare. Share and Looks: a saturating curve through one half at Half, of all
// leaf and of the face seen from above. Clean: the same, steep, of either face.
func (c *Crop) Loss(v View) float64 {
	switch c.Currency {
	case Picking:
		free := 1 - math.Exp(-c.Light.V*v.Free)
		if free <= 0 {
			return 0
		}
		have := c.working(v) / free
		return clamp(1 - have/(1-c.Spare.V))
	case Looks:
		return saturate(v.mean(func(f [garden.Faces]float64) float64 { return f[garden.Upper] }), c.Half.V)
	case Clean:
		return saturate(v.mean(func(f [garden.Faces]float64) float64 { return max(f[garden.Upper], f[garden.Lower]) }), c.Half.V)
	}
	return saturate(v.mean(func(f [garden.Faces]float64) float64 { return (f[garden.Upper] + f[garden.Lower]) / 2 }), c.Half.V)
}

// working returns the share of the light over the canopy that is intercepted and
// used: Σ over ages, young on top, of the light each layer takes × (1-y)^Weak,
// where y is the share mildewed on either face.
func (c *Crop) working(v View) float64 {
	sum, above := 0.0, 0.0
	for a := range v.Area {
		take := math.Exp(-c.Light.V*above) - math.Exp(-c.Light.V*(above+v.Area[a]))
		y := 1 - (1-v.Mildewed[a][garden.Upper])*(1-v.Mildewed[a][garden.Lower])
		sum += take * math.Pow(1-clamp(y), c.Weak.V)
		above += v.Area[a]
	}
	return sum
}

// mean averages f over leaf area; a canopy without leaf has no mildew to see.
func (v View) mean(f func([garden.Faces]float64) float64) float64 {
	sum, area := 0.0, 0.0
	for a, x := range v.Area {
		sum += x * f(v.Mildewed[a])
		area += x
	}
	if area <= 0 {
		return 0
	}
	return sum / area
}

// saturate is x/(x+half) scaled to reach 1 at x = 1.
func saturate(x, half float64) float64 {
	x = clamp(x)
	return x * (1 + half) / (x + half)
}

func clamp(x float64) float64 { return min(1, max(0, x)) }
