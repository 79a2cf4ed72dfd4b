package mixing

import (
	"fmt"

	"oidium/cite"
)

// Salt is a salt that is weighed by its moles.
type Salt string

// The salts.
const (
	SodiumBicarbonate    Salt = "sodium bicarbonate"
	PotassiumBicarbonate Salt = "potassium bicarbonate"
	MonopotassiumPhos    Salt = "monopotassium phosphate"
	DipotassiumPhos      Salt = "dipotassium phosphate"
	SilicaOfSilicate     Salt = "SiO2" // silicon counted as its oxide
	SiliconOfSilicate    Salt = "Si"
)

// molarMass returns g/mol by formula.
func molarMass(s Salt) (float64, error) {
	switch s {
	case SodiumBicarbonate:
		return atomNa.V + atomH.V + atomC.V + 3*atomO.V, nil
	case PotassiumBicarbonate:
		return atomK.V + atomH.V + atomC.V + 3*atomO.V, nil
	case MonopotassiumPhos:
		return atomK.V + 2*atomH.V + atomP.V + 4*atomO.V, nil
	case DipotassiumPhos:
		return 2*atomK.V + atomH.V + atomP.V + 4*atomO.V, nil
	case SilicaOfSilicate:
		return atomSi.V + 2*atomO.V, nil
	case SiliconOfSilicate:
		return atomSi.V, nil
	}
	return 0, fmt.Errorf("the molar mass of %q is not known here", s)
}

// Weighed returns what an amount or a molarity of a salt weighs: mol becomes g,
// mol/L becomes g/L. It is an error when q holds no moles.
func Weighed(q Quantity, s Salt) (Quantity, error) {
	m, err := molarMass(s)
	if err != nil {
		return Quantity{}, err
	}
	if q.dim.amount != 1 {
		return Quantity{}, fmt.Errorf("weighing moles of %s: the quantity is a %s", s, q.dim)
	}
	return q.Times(Quantity{m, dimension{mass: 1, amount: -1}}), nil
}

// Moles returns the moles in a mass of a salt: g becomes mol, g/L mol/L.
func Moles(q Quantity, s Salt) (Quantity, error) {
	m, err := molarMass(s)
	if err != nil {
		return Quantity{}, err
	}
	if q.dim.mass != 1 {
		return Quantity{}, fmt.Errorf("counting moles of %s: the quantity is a %s", s, q.dim)
	}
	return q.Per(Quantity{m, dimension{mass: 1, amount: -1}})
}

// Stock is a stock solution to be diluted later.
type Stock struct {
	Strength Quantity // mass or volume of material in a volume of stock
	Warning  string   // "" when nothing is wrong with it
}

// NewStock returns the stock solution of the given material in the given volume.
// Sodium bicarbonate stronger than what cold water dissolves gets a warning.
func NewStock(material, volume Quantity, s Salt) (Stock, error) {
	if volume.dim != dimVolume || (material.dim != dimMass && material.dim != dimVolume) {
		return Stock{}, fmt.Errorf("making a stock solution: it needs a mass or volume of material and a volume, not a %s and a %s", material.dim, volume.dim)
	}
	q, err := material.Per(volume)
	if err != nil {
		return Stock{}, fmt.Errorf("making a stock solution: %w", err)
	}
	st := Stock{Strength: q}
	if s == SodiumBicarbonate && q.value > solubleNaHCO3.V {
		st.Warning = say("stock.soda", "limit", short(solubleNaHCO3.V))
	}
	return st, nil
}

// For returns the volume of stock that gives the litres of mix the strength.
func (s Stock) For(strength, mix Quantity) (Quantity, error) {
	v, err := strength.Times(mix).Per(s.Strength)
	if err != nil {
		return Quantity{}, err
	}
	if v.dim != dimVolume {
		return Quantity{}, fmt.Errorf("diluting a stock solution: strength and stock are not of one kind")
	}
	if v.value > mix.value {
		return Quantity{}, fmt.Errorf("diluting a stock solution: the stock is weaker than the mix asked for")
	}
	return v, nil
}

// Product returns how much product holds the active ingredient. content is a
// share ("80 %") or a mass in a volume ("4 lb/gal"). A share of a liquid in a
// volume is turned by its density first: Times.
func Product(active, content Quantity) (Quantity, error) {
	q, err := active.Per(content)
	if err != nil {
		return Quantity{}, fmt.Errorf("product for an active ingredient: its content is zero")
	}
	if content.dim == (dimension{}) && content.value > 1 {
		return Quantity{}, fmt.Errorf("product for an active ingredient: a content above 100 %%")
	}
	return q, nil
}

// Silicon is a strength of silicon told in each way that papers and labels use.
type Silicon struct {
	MilliMolar float64 // mmol Si in a litre
	Si, SiO2   float64 // mg in a litre
	Caution    string
}

// SiliconOf tells a strength of silicon in every way. q is mol/L, or mass of Si
// or SiO2 in a volume as counted says.
func SiliconOf(q Quantity, counted Salt) (Silicon, error) {
	var err error
	if q.dim.mass == 1 {
		if counted != SiliconOfSilicate && counted != SilicaOfSilicate {
			return Silicon{}, fmt.Errorf("silicon: is the label's figure silicon or its oxide? Say Si or SiO2")
		}
		if q, err = Moles(q, counted); err != nil {
			return Silicon{}, err
		}
	}
	if q.dim != dimMolar {
		return Silicon{}, fmt.Errorf("silicon: a %s is no strength", q.dim)
	}
	si, err := Weighed(q, SiliconOfSilicate)
	if err != nil {
		return Silicon{}, err
	}
	ox, err := Weighed(q, SilicaOfSilicate)
	if err != nil {
		return Silicon{}, err
	}
	return Silicon{
		MilliMolar: 1000 * q.value, Si: 1000 * si.value, SiO2: 1000 * ox.value,
		Caution: say("silicon.caution"),
	}, nil
}

// densityOf returns the bulk density of a powder that is measured in spoons.
func densityOf(s Salt) (cite.Value, error) {
	if s == SodiumBicarbonate {
		return sodaDensity, nil
	}
	return cite.Value{}, fmt.Errorf("the bulk density of %s is not known: weigh it", s)
}
