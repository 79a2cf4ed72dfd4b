package mixing

import (
	"fmt"
	"math"
	"strings"
)

// Spoons is a mass of powder printed in spoons. Weighing is better: a spoon is
// within about 20 % only.
type Spoons struct {
	Text    string  // such as "2 tbsp + 1/2 tsp"
	Grams   float64 // that those spoons hold at the density
	Density float64 // g/mL used
	Doubt   float64 // share by which it can be off
	Assumed bool    // the density is an assumption of this program
}

// SpoonsOf prints the mass in level spoons of the system. density is mass per
// volume; the zero Quantity takes the known one of the salt. Less than a quarter
// teaspoon is refused: it cannot be measured.
func SpoonsOf(mass, density Quantity, salt Salt, s System) (Spoons, error) {
	out := Spoons{Doubt: spoonDoubt.V}
	if mass.dim != dimMass {
		return Spoons{}, fmt.Errorf("printing spoons: a %s is not a mass", mass.dim)
	}
	if density == (Quantity{}) {
		d, err := densityOf(salt)
		if err != nil {
			return Spoons{}, fmt.Errorf("printing spoons: %w", err)
		}
		density, out.Assumed = Quantity{d.V * 1000, dimension{mass: 1, volume: -1}}, true
	}
	if density.dim != (dimension{mass: 1, volume: -1}) || density.value <= 0 {
		return Spoons{}, fmt.Errorf("printing spoons: the density has to be a mass in a volume")
	}
	out.Density = density.value / 1000
	table, err := unitOf("tbsp", s)
	if err != nil {
		return Spoons{}, fmt.Errorf("printing spoons: %w", err)
	}
	tea, err := unitOf("tsp", s)
	if err != nil {
		return Spoons{}, fmt.Errorf("printing spoons: %w", err)
	}
	quarters := int(math.Round(mass.value / density.value / tea.value * 4))
	if quarters < 1 {
		return Spoons{}, fmt.Errorf("printing spoons: %s g is less than a quarter teaspoon; weigh it, or make a stock solution", short(mass.value))
	}
	perTable := int(math.Round(table.value / tea.value * 4))
	n, rest := quarters/perTable, quarters%perTable
	var words []string
	if n > 0 {
		words = append(words, fmt.Sprintf("%d tbsp", n))
	}
	if rest > 0 {
		frac := []string{"", "1/4", "1/2", "3/4"}[rest%4]
		whole := ""
		if rest >= 4 {
			whole = fmt.Sprint(rest / 4)
		}
		words = append(words, strings.TrimSpace(whole+" "+frac)+" tsp")
	}
	out.Text = strings.Join(words, " + ")
	out.Grams = float64(quarters) / 4 * tea.value * density.value
	return out, nil
}
