package remedy

import (
	"math"
	"testing"

	"oidium/garden"
)

// Facts of the trade; common practice, no source.
func TestFactsOfTheTrade(t *testing.T) {
	// Potassium bicarbonate: about 60 % fewer infections.
	if m := get(t, "khco3"); math.Abs(m.Protective.V-0.60) > m.ProtectiveSD {
		t.Errorf("potassium bicarbonate stops %v ± %v", m.Protective.V, m.ProtectiveSD)
	}
	// Sulfur, milk and potassium bicarbonate serve before and during an infection.
	for _, id := range []garden.MaterialID{"sulfur_wg", "milk_10", "khco3"} {
		for _, covered := range []float64{0, 0.01, 0.10, 0.19} {
			c := fair()
			c.Covered = covered
			if ks := Judge(c, get(t, id)); !Allowed(ks) {
				t.Errorf("%s at %v covered: %v", id, covered, firstBlock(ks))
			}
		}
	}
	// Neem and baking soda with soap are thought less dependable.
	for _, weak := range []garden.MaterialID{"oil_neem", "nahco3_soap"} {
		for _, strong := range []garden.MaterialID{"sulfur_wg", "khco3", "khco3_oil"} {
			if get(t, weak).Protective.V >= get(t, strong).Protective.V {
				t.Errorf("%s protects as well as %s", weak, strong)
			}
		}
	}
	// Not more than 30 % of the plant's leaf; the published row is shown as stricter.
	if b := RemovalBudget(fair()); b.Trade != 0.30 || b.Left >= b.Trade {
		t.Errorf("left %v, trade %v", b.Left, b.Trade)
	}
}

// McGrath et al. 1997: sulfur and copper did well on the upper and only
// moderately on the lower leaf surface of pumpkin, sprayed by boom.
func TestUpperFaceIsServedBetter(t *testing.T) {
	for _, id := range []garden.MaterialID{"sulfur_wg", "copper"} {
		e := Deposit(get(t, id), sprayed(false), nil, 1, false, garden.Sprayer{Kind: "boom"})[0]
		if r := e.Stop[garden.Lower] / e.Stop[garden.Upper]; r < 0.3 || r > 0.6 {
			t.Errorf("%s: the lower face gets %v of the upper", id, r)
		}
	}
}
